"""Equation texts: evaluated as Python evaluates arithmetic, printed so that the print says the same."""

from __future__ import annotations

import ast
import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ExpressionError
from onedatum.foundation.working import Equation, Expression, Plain, Typst
from tests.closeness import close, exact

PLAIN, TYPST = Plain(), Typst()
FUNCTIONS: dict[str, Callable[..., Any]] = {
    "sqrt": math.sqrt, "exp": math.exp, "ln": math.log, "sin": math.sin, "cos": math.cos, "asin": math.asin,
    "acos": math.acos, "abs": abs, "min": min, "max": max,
}  # fmt: skip


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2 + 3*4", 14.0),
        ("(2 + 3)*4", 20.0),
        ("2**3**2", 512.0),
        ("-2**2", -4.0),
        ("1 - 2 - 3", -4.0),
        ("12/2/3", 2.0),
        ("pi", math.pi),
        ("min(max(1, 5), 3)", 3.0),
        ("abs(-7)", 7.0),
    ],
)
def test_the_language_is_that_of_arithmetic(text: str, value: float) -> None:
    exact(Expression(text).evaluate({}), value)


@pytest.mark.parametrize("name", [name for name in FUNCTIONS if name not in ("min", "max")])
def test_each_function_is_the_one_it_is_called(name: str) -> None:
    """Checked against the standard library's functions of one number."""
    close(Expression(f"{name}(x)").evaluate({"x": 0.3}), FUNCTIONS[name](0.3), 1e-15, "rounding of one function")


def test_arrays_broadcast() -> None:
    value = Expression("a*b + 1").evaluate({"a": np.array([[1.0], [2.0]]), "b": np.array([10.0, 20.0, 30.0])})
    exact(value, [[11.0, 21.0, 31.0], [21.0, 41.0, 61.0]])


@pytest.mark.parametrize(
    ("text", "holds"), [("a < b", True), ("a <= a", True), ("a > b", False), ("b >= a", True), ("a != a", False)]
)
def test_comparisons_give_truth(text: str, holds: bool) -> None:
    assert bool(Expression(text).evaluate({"a": 1.0, "b": 2.0})) is holds


OUTSIDE = (
    "a.real", "a[0]", "(lambda: 1)()", "(a := 1)", "'a'", "True", "None", "1j", "a if b else c", "a and b", "not a",
    "[a]", "(a, b)", "{a: b}", "f(a)", "sqrt(x=a)", "sqrt(*a)", "open('x')", "__import__('os')", "a < b < c", "a == b",
    "a // b", "a % b", "a @ b", "a << b", "+a", "~a", "a is b", "a in b", "f'{a}'", "...", "await a",
)  # fmt: skip


@pytest.mark.parametrize("text", OUTSIDE)
def test_whatever_is_outside_the_language_is_refused(text: str) -> None:
    with pytest.raises(ExpressionError):
        _ = Expression(text).tree


@pytest.mark.parametrize("text", ["", "a +", "a b", "(a", "a = b", "1a"])
def test_what_is_no_expression_is_refused(text: str) -> None:
    with pytest.raises(ExpressionError):
        _ = Expression(text).tree


def test_names_stand_in_the_order_of_the_text() -> None:
    assert Expression("z + pi*a - max(m, z)/b").names == ("z", "a", "m", "b")
    assert Expression("(zzzzz +\n a)").names == ("zzzzz", "a")


@pytest.mark.parametrize("text", ["a*b", "x == a*b", "= a*b", "2x = a", "x.y = a"])
def test_an_equation_has_one_symbol_on_its_left(text: str) -> None:
    with pytest.raises(ExpressionError):
        Equation.read(text)


def test_an_equation_is_written_with_both_sides() -> None:
    assert Equation.read("x = a + b").written(PLAIN) == "x = a + b"


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("a*(b + c)", "a * (b + c)"),
        ("a*b + c", "a * b + c"),
        ("a - (b - c)", "a - (b - c)"),
        ("(a - b) - c", "a - b - c"),
        ("a/(b*c)", "a / (b * c)"),
        ("a/b*c", "a / b * c"),
        ("a/(b/c)", "a / (b / c)"),
        ("(a + b)**2", "(a + b)^2"),
        ("(a**b)**c", "(a^b)^c"),
        ("a**b**c", "a^(b^c)"),
        ("a**-1", "a^(-1)"),
        ("(-a)**2", "(-a)^2"),
        ("-a**2", "-a^2"),
        ("-(a + b)", "-(a + b)"),
        ("sqrt((a + b))", "sqrt(a + b)"),
        ("a + b <= c", "a + b <= c"),
    ],
)
def test_brackets_stand_where_they_are_needed_and_nowhere_else(text: str, plain: str) -> None:
    assert Expression(text).written(PLAIN) == plain


@pytest.mark.parametrize(
    ("text", "typst"),
    [
        ("a/(b + c)", "frac(a, b + c)"),
        ("rho_l*g", 'rho_"l" dot g'),
        ("d_in_1", 'd_"in,1"'),
        ("URV - LRV", '"URV" - "LRV"'),
        ("(a + b)**2", "(a + b)^(2)"),
        ("asin(x)", "arcsin(x)"),
        ("pi*D**2/4", "frac(pi dot D^(2), 4)"),
    ],
)
def test_paper_gets_typst_maths(text: str, typst: str) -> None:
    assert Expression(text).written(TYPST) == typst


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("x + a", "x + (−5 m)"),
        ("x - a", "x - (−5 m)"),
        ("x*a", "x * (−5 m)"),
        ("a**2", "(−5 m)^2"),
        ("a - x", "−5 m - x"),
        ("-a", "-(−5 m)"),
        ("b**2", "(0.8 m)^2"),
        ("x/b", "x / (0.8 m)"),
        ("x*b", "x * 0.8 m"),
        ("n**2", "3^2"),
        ("e**2", "(1.2 × 10⁻⁵)^2"),
        ("sqrt(a)", "sqrt(−5 m)"),
    ],
)
def test_numbers_put_in_are_bracketed_so_that_the_line_can_be_worked_again(text: str, plain: str) -> None:
    """0.8 m^2 would be an area; (0.8 m)^2 is the square of a length."""
    values = {"a": "−5 m", "b": "0.8 m", "n": "3", "e": "1.2 × 10⁻⁵"}
    assert Expression(text).written(PLAIN, values) == plain


@pytest.mark.parametrize(
    ("text", "typst"),
    [
        ("x + a", 'x + ("−5 m")'),
        ("a**2", '("−5 m")^(2)'),
        ("x**a", 'x^(("−5 m"))'),
        ("a/b", 'frac("−5 m", "0.8 m")'),
        ("(a/b)**2", '(frac("−5 m", "0.8 m"))^(2)'),
        ("e*x", '"1.2" times 10^(-5) "1/K" dot x'),
        ("e**2", '("1.2" times 10^(-5) "1/K")^(2)'),
        ("x/e", 'frac(x, "1.2" times 10^(-5) "1/K")'),
        ("max(a, k)", 'max("−5 m", "3" times 10^(12))'),
        ("a - k < b", '"−5 m" - "3" times 10^(12) < "0.8 m"'),
    ],
)
def test_numbers_are_put_into_the_maths_of_the_paper(text: str, typst: str) -> None:
    """A fraction needs no brackets of its own; a power of ten is set as one."""
    values = {"a": "−5 m", "b": "0.8 m", "e": "1.2 × 10⁻⁵ 1/K", "k": "3 × 10¹²"}
    assert Expression(text).written(TYPST, values) == typst


def test_a_quote_in_a_value_does_not_end_the_text_of_the_paper() -> None:
    assert Expression("a").written(TYPST, {"a": 'x" #read("y") \\'}).count('"') == 2


SYMBOLS = {"a": 1.75, "b": 0.6, "c": 2.3, "rho_l": 0.9}
LEAVES = st.one_of(st.sampled_from(sorted(SYMBOLS)), st.integers(1, 9).map(str), st.sampled_from(["0.5", "pi"]))


def joined(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    """Larger expressions out of smaller ones, every one bracketed."""
    two = st.tuples(inner, st.sampled_from(["+", "-", "*", "/"]), inner).map(lambda p: f"({p[0]}) {p[1]} ({p[2]})")
    power = st.tuples(inner, st.sampled_from(["2", "-1", "0.5"])).map(lambda p: f"(abs({p[0]}) + 1)**({p[1]})")
    call = st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda p: f"{p[0]}({p[1]}, {p[2]})")
    return st.one_of(two, power, call, inner.map(lambda text: f"-({text})"))


EXPRESSIONS = st.recursive(LEAVES, joined, max_leaves=8)


def by_python(text: str, values: dict[str, float]) -> float:
    """A printed line worked by Python itself: only the sign of a power is another."""
    code = compile(ast.parse(text.replace("^", "**"), mode="eval"), "<printed>", "eval")
    try:
        return float(eval(code, {"__builtins__": {}}, {**FUNCTIONS, "pi": math.pi, **values}))
    except ZeroDivisionError:
        return math.nan


@given(EXPRESSIONS)
def test_the_printed_line_worked_by_python_gives_the_number(text: str) -> None:
    """However an expression is bracketed, its shortest print means the same."""
    expression = Expression(text)
    with np.errstate(all="ignore"):
        value = float(expression.evaluate({name: np.float64(number) for name, number in SYMBOLS.items()}))
    printed = by_python(expression.written(PLAIN), SYMBOLS)
    if math.isfinite(value) and math.isfinite(printed) and printed != 0.0:
        close(value, printed, 1e-9 * abs(printed), "rounding of a few operations, another pow")
    else:
        assert not math.isfinite(printed) or value == printed


@given(EXPRESSIONS, st.floats(-9, 9, allow_nan=False).map(lambda x: round(x, 3)))
def test_the_line_with_numbers_put_in_gives_the_number_too(text: str, number: float) -> None:
    expression = Expression(text)
    values = {**SYMBOLS, "a": number}
    line = expression.written(PLAIN, {name: repr(value) for name, value in values.items()})
    again, direct = by_python(line, {}), by_python(text.replace("^", "**"), values)
    if math.isfinite(direct) and direct != 0.0:
        close(again, direct, 1e-9 * abs(direct), "products without their brackets are worked in another order")
    else:
        assert again == direct or (math.isnan(again) and math.isnan(direct))
