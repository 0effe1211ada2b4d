"""Formulas for the page: well-formed, of few elements, saying what the line of the terminal says.

MathML Core, W3C, names the elements that browsers lay out; which of them are used here is the choice of the house.
"""

from __future__ import annotations

import ast
import re
from xml.etree import ElementTree

import pytest

from onedatum.foundation.units import in_print
from onedatum.foundation.working import (
    Equation,
    Expression,
    MathML,
    Plain,
    Sheet,
    formula_line,
    math_element,
    numbers_line,
    symbol_element,
    tag_line,
)
from onedatum.jobs.formula import formulas
from tests.foundation.working.sample import rectangle_m2, side_m, sum_m

ALLOWED = {"math", "mrow", "mi", "mn", "mo", "mtext", "mspace", "mfrac", "msqrt", "msup", "msub"}
ATTRIBUTES = {"form", "fence", "width", "displaystyle", "mathvariant"}
CHILDREN = {"mfrac": 2, "msup": 2, "msub": 2, "msqrt": 1}
"""How many children MathML Core lays out; any other number is set as an error."""
STYLE = MathML()
LOWERED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")


def parsed(markup: str) -> list[ElementTree.Element]:
    """The elements of the page, their names without the namespace."""
    root = ElementTree.fromstring(f"<page>{markup}</page>")
    for node in root.iter():
        node.tag = node.tag.rpartition("}")[2]
    return list(root)


def refused(markup: str) -> list[str]:
    """What of an element of the page does not belong there."""
    found = []
    for node in (each for top in parsed(markup) for each in top.iter()):
        if node.tag not in ALLOWED or set(node.attrib) - ATTRIBUTES:
            found.append(f"{node.tag} {node.attrib}")
        if len(node) != CHILDREN.get(node.tag, len(node)):
            found.append(f"{node.tag} of {len(node)}")
    return found


def said(markup: str) -> str:
    """All text of an element."""
    return "".join(map(said_by, parsed(markup)))


def said_by(node: ElementTree.Element) -> str:
    return "".join(node.itertext())


def spaced(markup: str) -> str:
    """All text of an element, its parts kept apart."""
    return " ".join(text for top in parsed(markup) for text in top.itertext())


def numbers(line: str) -> list[str]:
    """The numbers of a line in their order; a power of ten as a number of its own, raised digits of units not."""
    line = re.sub("(?<=× 10)[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+", lambda found: " " + found[0].translate(LOWERED), in_print(line))
    line = re.sub(r"(?<=\d)e([-+]\d+)", lambda found: f" 10 {int(found[1])}", line)
    return re.findall(r"\d+(?:\.\d+)?", line)


TYPESET = [tag for tag in formulas().values() if tag.kind != "procedure"]


def test_every_formula_is_well_formed_and_of_allowed_elements() -> None:
    for tag in TYPESET:
        markup = math_element(tag_line(tag, STYLE))
        assert markup.startswith("<math") and refused(markup) == [], tag.name
        for need in tag.requires:
            assert refused(math_element(need.relation.written(STYLE))) == [], tag.name


def test_every_symbol_and_sign_of_a_formula_stands_in_it() -> None:
    """Counted in the tree that Python itself reads from the text."""
    for tag in TYPESET:
        markup = math_element(tag_line(tag, STYLE))
        nodes = [top for each in parsed(markup) for top in each.iter()]
        tree = ast.parse(tag.text.replace(" = ", " - ", 1) if tag.equation else tag.text)
        kinds = [type(node) for node in ast.walk(tree)]
        named = [n for n in ast.walk(tree) if isinstance(n, ast.Name)]
        roots = [n.func for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)]
        assert sum(node.tag == "msqrt" for node in nodes) == sum(n.id == "sqrt" for n in roots), tag.name
        assert sum(node.tag == "mfrac" for node in nodes) == kinds.count(ast.Div), tag.name
        assert sum(node.tag == "mi" for node in nodes) == sum(n.id not in ("sqrt", "abs") for n in named), tag.name
        assert sum(node.text == "⋅" for node in nodes) == kinds.count(ast.Mult), tag.name


def test_a_formula_that_is_no_equation_leaves_its_line_empty() -> None:
    procedures = [tag for tag in formulas().values() if tag.kind == "procedure"]
    assert procedures and {math_element(tag_line(tag, STYLE)) for tag in procedures} == {""}


def test_a_level_over_a_density_is_written_as_one_writes_it_by_hand() -> None:
    markup = math_element(Equation.read("x = -m**2/(rho_l*sqrt(A))").written(STYLE))
    assert said(markup) == "x=−m2ρl⋅A"
    first, second, *rest = parsed(markup)
    assert (said_by(first), said_by(second), rest) == ("x", "=−m2ρl⋅A", [])
    (fraction,) = second.iter("mfrac")
    assert [said_by(part) for part in fraction] == ["−m2", "ρl⋅A"]


@pytest.mark.parametrize(
    ("text", "reads"),
    [
        ("a - (b - c)", "a−(b−c)"),
        ("(a + b)*c", "(a+b)⋅c"),
        ("(a*b)**2", "(a⋅b)2"),
        ("a**(b + 1)", "ab+1"),
        ("abs(a)", "|a|"),
        ("asin(a)", "arcsin\N{FUNCTION APPLICATION}(a)"),
        ("min(a, b)", "min\N{FUNCTION APPLICATION}(a,b)"),
        ("a <= b", "a≤b"),
        ("a < b", "a<b"),
        ("a != b", "a≠b"),
        ("1e-12*a", "1×10−12⋅a"),
        ("1.5e+20*a", "1.5×1020⋅a"),
        ("2*pi", "2⋅π"),
        ("V_CH", "VCH"),
        ("e_1_0", "e1,0"),
    ],
)
def test_brackets_signs_and_letters(text: str, reads: str) -> None:
    markup = math_element(Expression(text).written(STYLE))
    assert said(markup) == reads
    assert refused(markup) == []


def test_the_numbers_put_in_are_those_of_the_plain_line() -> None:
    sheet = Sheet()
    a, b = sheet.give("a", 3.0, "m", "length"), sheet.give("b", 0.5, "m", "width")
    area = sheet.calc("area", rectangle_m2, length_m=a, width_m=b)
    entries = [
        area,
        sheet.calc("side", side_m, area_m2=area),
        sheet.calc("sum", sum_m, one_m=a, other_m=sheet.give("c", -2.5, "m", "c")),
    ]
    sheet.decide("longer", "x > y", "longer", x=a, y=b)
    for entry in [*entries, sheet["longer"]]:
        for line in (formula_line, numbers_line):
            assert numbers(spaced(math_element(line(entry, STYLE)))) == numbers(line(entry, Plain()))


def test_a_unit_is_text_in_the_form_of_print_and_a_minus_a_true_one() -> None:
    markup = math_element(Expression("a*b").written(STYLE, {"a": "−2.5 × 10⁻³ m3", "b": "20 ohm"}))
    assert said(markup) == "(−2.5×10−3m³)⋅20Ω"
    assert [node.text for top in parsed(markup) for node in top.iter("mtext")] == ["m³", "Ω"]
    assert "-" not in said(markup)


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "3 <b>m</b>", '4 "&amp;', "\ue000", "nan", "inf m"])
def test_text_never_becomes_markup(text: str) -> None:
    markup = math_element(Expression("a/b").written(STYLE, {"a": text, "b": "2 m"}))
    assert refused(markup) == [] and len(parsed(markup)) == 1


def test_a_line_may_be_broken_outside_of_brackets_alone() -> None:
    markup = math_element(Equation.read("h = a + (b - c)*d - sqrt(e + f)/g").written(STYLE))
    assert [said_by(top) for top in parsed(markup)] == [
        "h", "=a", "+(b−c)", "⋅d", "−e+fg",
    ]  # fmt: skip
    assert math_element("") == symbol_element("") == ""
    assert said(symbol_element("rho_l")) == "ρl"
