"""A great many trials: steps that are read from a table give what the steps themselves give, and are told apart."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
import pytest

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import Sheet, Trials, formula, registry, replay, tag_of
from tests.closeness import close, exact
from tests.foundation.working.sample import rectangle_m2, side_m, sum_m

CALLS: list[int] = []


@formula(
    method="cubic root by the library",
    gives=("a", "edge of a cube"),
    where={"volume_m3": ("V", "volume of the cube", "[0, 1000]")},
    source="derived",
)
def edge_m(volume_m3: Real) -> Real:
    """Edge of a cube; it counts how many elements it is asked for.

    Example
    -------
    >>> float(edge_m(8.0))
    2.0
    """
    CALLS.append(int(np.size(volume_m3)))
    return np.cbrt(volume_m3) if np.ndim(volume_m3) else float(np.cbrt(volume_m3))


@formula(
    method="Pythagoras by the library",
    gives=("d", "diagonal of a rectangle"),
    where={"length_m": ("a", "length", "[0, 100]"), "width_m": ("b", "width", "[0, 100]")},
    source="derived",
)
def diagonal_m(length_m: Real, width_m: Real) -> Real:
    """Diagonal of a rectangle.

    Example
    -------
    >>> float(diagonal_m(3.0, 4.0))
    5.0
    """
    return np.hypot(length_m, width_m)


cast(dict[str, Any], registry()).pop(tag_of(diagonal_m).name)
cast(dict[str, Any], registry()).pop(tag_of(edge_m).name)  # a test of all formulas does not meet it


def sheet_of(volume: float = 8.0) -> Sheet:
    sheet = Sheet()
    given = sheet.give("V", volume, "m3", "volume")
    b = sheet.give("b", 1.5, "m", "width")
    edge = sheet.calc("edge", edge_m, volume_m3=given)
    area = sheet.calc("area", rectangle_m2, length_m=edge, width_m=b)
    sheet.calc("side", side_m, area_m2=area)
    sheet.calc("total", sum_m, one_m=edge, other_m=sheet["side"])
    return sheet


def drawn(count: int, seed: int, low: float = 7.0, high: float = 9.0) -> dict[str, np.ndarray]:
    random = np.random.default_rng(seed)
    return {"V": random.uniform(low, high, count), "b": random.uniform(1.4, 1.6, count)}


def test_the_table_stands_in_and_gives_the_same() -> None:
    sheet = sheet_of()
    trials = Trials(sheet, ["total"], drawn(1000, 1))
    assert set(trials.tables) == {"edge", "side"}
    CALLS.clear()
    more = drawn(5000, 2)
    found = trials.again(more).results["total"]
    assert CALLS == [], "the step itself was worked again"
    plain = replay(sheet, ["total"], more).results["total"]
    close(found, plain, 2.0 * trials.off("edge") + trials.off("side"), "edge, the side after it, and the table of that")
    assert 0.0 < trials.off("edge") < 2e-8


def test_a_plain_equation_is_worked() -> None:
    """The area is quicker worked than looked up, and follows two numbers that vary."""
    assert "area" not in Trials(sheet_of(), ["side"], drawn(1000, 1)).tables


def test_a_step_of_two_varied_numbers_is_a_short_polynomial() -> None:
    sheet = Sheet()
    length, width = (sheet.give(name, value, "m", name) for name, value in (("a", 8.0), ("b", 2.0)))
    sheet.calc("diagonal", diagonal_m, length_m=length, width_m=width)
    random = np.random.default_rng(3)
    first, more = (
        {"a": random.uniform(7.9, 8.1, count), "b": random.uniform(1.9, 2.1, count)} for count in (500, 5000)
    )
    trials = Trials(sheet, ["diagonal"], first)
    assert set(trials.tables) == {"diagonal"}
    plain = replay(sheet, ["diagonal"], more).results["diagonal"]
    close(trials.again(more).results["diagonal"], plain, 1.5 * trials.off("diagonal"), "between the points checked")
    assert 0.0 < trials.off("diagonal") < 1e-4


def test_beyond_the_table_the_step_is_worked_as_it_stands() -> None:
    sheet = sheet_of()
    trials = Trials(sheet, ["total"], drawn(1000, 1))
    far = drawn(10, 3, 20.0, 30.0)
    exact(trials.again(far).results["total"], replay(sheet, ["total"], far).results["total"])


def test_without_spread_there_is_no_table() -> None:
    first = {"V": np.full(10, 8.0), "b": np.linspace(1.4, 1.6, 10)}
    assert set(Trials(sheet_of(), ["total"], first).tables) == {"side"}


def test_a_span_that_leaves_the_validity_is_not_tabled() -> None:
    trials = Trials(sheet_of(0.5), ["edge"], {"V": drawn(1000, 1, 0.0, 1.0)["V"]})
    assert trials.tables == {}


def test_a_table_that_is_too_far_off_is_not_used() -> None:
    """From next to nothing the edge rises without end: straight lines cannot follow it."""
    sheet = sheet_of(1e-3)
    random = np.random.default_rng(4)
    assert Trials(sheet, ["edge"], {"V": 10.0 ** random.uniform(-12.0, 0.0, 1000)}).tables == {}


def test_a_step_without_a_table_has_no_error_of_one() -> None:
    with pytest.raises(KeyError):
        Trials(sheet_of(), ["total"], drawn(1000, 1)).off("area")
