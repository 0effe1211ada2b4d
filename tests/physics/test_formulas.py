"""Every tagged formula of the house: what is printed is what is worked, and what is declared is what is kept."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import pkgutil
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from onedatum import physics
from onedatum.foundation.errors import ValidityError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import unit_of_name
from onedatum.foundation.working import Tag, apply, registry, tag_of
from onedatum.foundation.working.formula import Symbol
from onedatum.physics import loop, uncertainty
from tests.house.tree import PACKAGE, modules
from tests.physics.drawing import Arguments, arguments, holds, some
from tests.physics.rounding import term_size

Function = Callable[..., Any]

EXPLICIT_WITHIN = 1e-12
"""Of the largest term: code and printed equation differ by rounding alone."""
RESIDUAL_WITHIN = 1e-9
"""Of the largest term: a root is found, not written down."""

# Procedures: the text names the method, so a test with an independent case stands for each.
PROCEDURES = {
    "media.ethanol_water_density": "test_media_ethanol.py::test_density",
    "media.water_density": "test_media_water.py::test_printed_density",
    "vessels.torispherical_area": "test_vessels_heads.py::test_area_is_the_slope_of_the_volume",
    "vessels.torispherical_volume": "test_vessels_heads.py::test_full_volume",
    "vessels.torispherical_volume_below": "test_vessels_heads.py::test_volume_against_quadrature",
    "vessels.vertical_area": "test_vessels_vertical.py::test_volume_is_the_integral_of_the_area",
    "vessels.vertical_volume": "test_vessels_vertical.py::test_against_another_library",
}

# The words that stand for numbers without a unit.
DIMENSIONLESS = frozenset(
    "coverage_factor k limit mass_fraction shell_factor standard_share strength table_error tolerance value".split()
)
# The words for numbers in the unit of whatever result they belong to.
OF_ANY_UNIT = frozenset("contributions high low u".split())


def found() -> Iterator[Function]:
    """The tagged functions, where they are written."""
    for info in pkgutil.walk_packages(physics.__path__, "onedatum.physics."):
        module = importlib.import_module(info.name)
        for value in vars(module).values():
            if hasattr(value, "__formula__") and value.__module__ == module.__name__:
                yield value


FORMULAS = {tag_of(function).name: function for function in found()}


def of_kind(kind: str) -> list[Any]:
    return [pytest.param(f, id=name) for name, f in FORMULAS.items() if tag_of(f).kind == kind]


each = pytest.mark.parametrize("function", [pytest.param(f, id=name) for name, f in FORMULAS.items()])
drawing = settings(max_examples=25, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])


def test_no_name_is_given_twice() -> None:
    mine = {name: f for name, f in registry().items() if f.__module__.startswith("onedatum.physics.")}
    assert len(FORMULAS) > 30
    assert len(list(found())) == len(FORMULAS)
    assert mine == FORMULAS


# ---------------------------------------------------------------- what is printed is what is worked


@pytest.mark.parametrize("function", of_kind("explicit"))
@drawing
@given(data=st.data())
def test_the_equation_gives_what_the_function_gives(function: Function, data: st.DataObject) -> None:
    tag = tag_of(function)
    chosen = data.draw(arguments(tag))
    values = tag.by_symbol(chosen)
    assert tag.equation
    expected = float(tag.equation.right.evaluate(values))
    assert abs(float(function(**chosen)) - expected) <= EXPLICIT_WITHIN * term_size(tag.equation.right, values)


@pytest.mark.parametrize("function", of_kind("implicit"))
@drawing
@given(data=st.data())
def test_the_result_makes_the_residual_zero(function: Function, data: st.DataObject) -> None:
    tag = tag_of(function)
    chosen = data.draw(arguments(tag))
    values = tag.by_symbol(chosen) | {tag.result.symbol: float(function(**chosen))}
    assert tag.residual
    assert abs(float(tag.residual.evaluate(values))) <= RESIDUAL_WITHIN * term_size(tag.residual, values)


def test_every_procedure_has_an_independent_case() -> None:
    assert set(PROCEDURES) == {name for name, f in FORMULAS.items() if tag_of(f).kind == "procedure"}
    for name, place in PROCEDURES.items():
        file, _, test = place.partition("::")
        tree = ast.parse((Path(__file__).parent / file).read_text(encoding="utf-8"))
        tests = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
        used = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
        assert test in tests, name
        assert FORMULAS[name].__name__ in used, f"{file} does not call {name}"


# ---------------------------------------------------------------- floats and arrays


@each
def test_an_array_gives_what_its_elements_give(function: Function) -> None:
    tag = tag_of(function)
    sets = list(some(tag, 8))
    assert len(sets) == 8, "hardly anything lies within the validity"
    alone = [function(**chosen) for chosen in sets]
    assert all(isinstance(value, float) for value in alone)
    columns = {parameter: np.array([chosen[parameter] for chosen in sets]) for parameter in sets[0]}
    together = function(**columns)
    assert isinstance(together, np.ndarray)
    assert together.shape == (8,)
    assert function(**{parameter: column.reshape(4, 2) for parameter, column in columns.items()}).shape == (4, 2)
    assert np.all(np.abs(together - alone) <= [_rounding(tag, *pair) for pair in zip(sets, alone, strict=True)])


@each
def test_arguments_broadcast(function: Function) -> None:
    tag = tag_of(function)
    first, last = tag.symbols[0].parameter, tag.symbols[-1].parameter
    sets = list(some(tag, 4))
    down, along = np.array([[s[first]] for s in sets[:3]]), np.array([[s[last] for s in sets]])
    if first == last:
        assert function(**{first: down}).shape == (3, 1)
        return
    with np.errstate(all="ignore"):
        grid = function(**(sets[0] | {first: down, last: along}))
    assert grid.shape == (3, 4)
    for row, column in np.ndindex(3, 4):
        chosen = sets[0] | {first: float(down[row, 0]), last: float(along[0, column])}
        if holds(tag, tag.by_symbol(chosen)):
            value = float(function(**chosen))
            assert abs(grid[row, column] - value) <= _rounding(tag, chosen, value)


def _rounding(tag: Tag, chosen: Arguments, value: float) -> float:
    if tag.equation:
        return EXPLICIT_WITHIN * term_size(tag.equation.right, tag.by_symbol(chosen))
    return RESIDUAL_WITHIN * abs(value)


# ---------------------------------------------------------------- validity


def ends(symbol: Symbol) -> list[tuple[float, float]]:
    """For each end of an interval a number just inside and one just outside."""
    interval = symbol.interval
    assert interval is not None
    step = 1e-9 * (interval.high - interval.low)
    low = (interval.low + step, interval.low) if interval.open_low else (interval.low, interval.low - step)
    high = (interval.high - step, interval.high) if interval.open_high else (interval.high, interval.high + step)
    return [low, high]


@each
def test_a_scalar_just_outside_is_refused_by_name(function: Function) -> None:
    tag = tag_of(function)
    base = next(some(tag, 1))
    for symbol in tag.symbols:
        for _, outside in ends(symbol):
            with pytest.raises(ValidityError) as caught:
                apply(function, base | {symbol.parameter: outside})
            assert caught.value.parameter == symbol.parameter
            assert caught.value.formula == tag.name


@each
def test_a_scalar_just_inside_is_accepted_where_the_relations_allow(function: Function) -> None:
    tag = tag_of(function)
    accepted = 0
    for symbol in tag.symbols:
        for inside, _ in ends(symbol):
            for chosen in some(tag, 1, fixed={symbol.parameter: inside}, trials=100):
                applied = apply(function, chosen)
                assert np.isfinite(applied.value)
                assert applied.outside == 0
                accepted += 1
    assert accepted >= len(tag.symbols), "most ends of the intervals cannot be reached"


@each
def test_elements_outside_become_nan_and_are_counted(function: Function) -> None:
    tag = tag_of(function)
    base = next(some(tag, 1))
    for symbol in tag.symbols:
        outside = [number for _, number in ends(symbol)]
        column = np.array([base[symbol.parameter], *outside, np.nan])
        applied = apply(function, base | {symbol.parameter: column})
        assert applied.outside == 3
        assert np.isnan(applied.value).tolist() == [False, True, True, True]


@each
def test_a_broken_relation_is_refused_with_its_reason(function: Function) -> None:
    """Where the intervals alone admit something that a relation forbids, that relation is what refuses it."""
    tag = tag_of(function)
    for base in some(tag, 5):
        for symbol in tag.symbols:
            for inside, _ in ends(symbol):
                chosen = base | {symbol.parameter: inside}
                values = tag.by_symbol(chosen)
                broken = next((r for r in tag.requires if not r.relation.evaluate(values)), None)
                if broken:
                    with pytest.raises(ValidityError) as caught:
                        apply(function, chosen)
                    assert caught.value.why == broken.why


# ---------------------------------------------------------------- what a formula says about itself

SECTIONS = ["Formula", "Parameters", "Returns", "Validity", "Source", "Example"]


def sections(text: str) -> dict[str, str]:
    """A docstring by its headings; what stands before the first one under an empty name."""
    parts = re.split(r"^(\w+)\n-+\n", text, flags=re.MULTILINE)
    return {"": parts[0]} | dict(zip(parts[1::2], parts[2::2], strict=True))


# Functions without a tag that hand out numbers: they keep the same order by hand.
PLAIN = [
    loop.core_resistance,
    loop.copper_temperature_coefficient,
    uncertainty.contributions,
    uncertainty.combined_standard,
    uncertainty.shares,
    uncertainty.expanded,
]
all_that_show_numbers = pytest.mark.parametrize(
    "function",
    [*(pytest.param(f, id=name) for name, f in FORMULAS.items()), *(pytest.param(f, id=f.__name__) for f in PLAIN)],
)


@all_that_show_numbers
def test_the_docstring_has_its_sections_in_order(function: Function) -> None:
    parts = sections(inspect.getdoc(function) or "")
    assert list(parts) == ["", *SECTIONS]
    assert all(part.strip() for part in parts.values())
    assert parts[""].partition("\n")[0].endswith(".")


@each
def test_the_units_of_the_docstring_are_those_of_the_names(function: Function) -> None:
    parts = sections(inspect.getdoc(function) or "")
    described = re.findall(r"^(\w+) : .*\n    .*\[(\S+)\]$", parts["Parameters"], flags=re.MULTILINE)
    assert described == [(name, unit_of_name(name) or "1") for name in inspect.signature(function).parameters]
    assert re.findall(r"\[(\S+)\]$", parts["Returns"].strip()) == [unit_of_name(function.__name__) or "1"]


@all_that_show_numbers
def test_the_example_runs(function: Function) -> None:
    names = vars(sys.modules[function.__module__]) | {function.__name__: function}
    test = doctest.DocTestParser().get_doctest(function.__doc__ or "", names, function.__name__, None, 0)
    assert any(function.__name__ in example.source for example in test.examples)
    told: list[str] = []
    assert doctest.DocTestRunner().run(test, out=told.append).failed == 0, "".join(told)


@each
def test_every_symbol_means_something_and_is_used(function: Function) -> None:
    tag = tag_of(function)
    symbols = [*tag.symbols, tag.result]
    assert all(symbol.symbol.isidentifier() and symbol.meaning.strip() for symbol in symbols)
    assert len({symbol.symbol for symbol in tag.symbols}) == len(tag.symbols)
    assert all(requirement.why.strip() for requirement in tag.requires)
    if tag.equation:
        assert set(tag.equation.right.names) == {symbol.symbol for symbol in tag.symbols}
    if tag.residual:
        assert set(tag.residual.names) == {symbol.symbol for symbol in symbols}


@each
def test_the_source_is_in_the_register(function: Function) -> None:
    assert citation(tag_of(function).source).source.title


# ---------------------------------------------------------------- names carry their unit


def numbers_by_name() -> Iterator[tuple[str, str]]:
    """Every parameter and field of physics that is a number: where it stands, and its name."""
    for module in modules(PACKAGE / "physics"):
        for node in ast.walk(module.tree):
            named: list[tuple[str, ast.expr | None]] = []
            if isinstance(node, ast.FunctionDef):
                named = [
                    (a.arg, a.annotation) for a in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
                ]
            if isinstance(node, ast.ClassDef):
                named = [
                    (line.target.id, line.annotation)
                    for line in node.body
                    if isinstance(line, ast.AnnAssign) and isinstance(line.target, ast.Name)
                ]
            for name, annotation in named:
                if annotation and re.search(r"\b(float|Reals?|ArrayLike)\b", ast.unparse(annotation)):
                    yield f"{module.name}: {name}", name


def test_a_number_carries_its_unit_or_is_listed_as_having_none() -> None:
    names = list(numbers_by_name())
    assert len(names) > 100
    listed = DIMENSIONLESS | OF_ANY_UNIT
    assert [place for place, name in names if not unit_of_name(name) and name not in listed] == []
    assert {name for _, name in names} >= listed, "a word that is no longer used is taken off the list"
