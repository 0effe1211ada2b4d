"""Ticks: steps of 1-2-5, placed by the inverse of the scale, never too many, never a crash."""

from itertools import pairwise
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.paper.model import Scale
from onedatum.paper.ruler.tables import heights_of, usable, value_at
from onedatum.paper.ruler.ticks import MOST_TICKS, decimal, nice_step, scale_ticks, step_decimals, steps
from tests.closeness import close

MM = Scale("mm", "", (0.0, 3.0), (0.0, 3000.0), 0)
anything = st.floats(allow_nan=True, allow_infinity=True)


@given(st.floats(1e-12, 1e12))
def test_a_step_is_the_smallest_of_1_2_5_that_is_large_enough(least: float) -> None:
    step = nice_step(least)
    assert f"{step:.0e}"[0] in "125"
    assert least * (1 - 1e-8) <= step <= least * 2.5 * (1 + 1e-8)


@given(st.floats(1e-6, 1e6))
def test_labels_and_ticks_keep_their_distance_on_the_sheet(px_per_unit: float) -> None:
    labelled, minor = steps(px_per_unit)
    assert labelled * px_per_unit >= 27 * (1 - 1e-8)
    assert minor == labelled or minor * px_per_unit >= 3.6
    assert close(labelled / minor, round(labelled / minor), 1e-9, "a whole number of minor ticks to a labelled one")


def test_a_linear_scale_reads_its_labels_where_they_stand() -> None:
    labels = {t.label: t.height_m for t in scale_ticks(MM, 0, 3, 200) if t.label}
    assert list(labels) == [str(v) for v in range(0, 3001, 200)]
    assert close(labels["1800"], 1.8, 1e-12, "rounding")


def test_ticks_of_a_curved_scale_stand_at_the_inverse_of_its_law() -> None:
    """A cone with its tip down, V = pi h^3 / 3 at 45 degrees: the height of a volume is known in closed form."""
    heights = tuple(i / 2000 for i in range(2001))
    cone = Scale("m3", "", heights, tuple(pi * h**3 / 3 for h in heights), 3)
    ticks = scale_ticks(cone, 0, 1, 400)
    assert len(ticks) > 10
    for tick in ticks[1:]:
        assert close(tick.height_m, (3 * tick.value / pi) ** (1 / 3), 1e-5, "straight lines over half a millimetre")
    gaps = [b.height_m - a.height_m for a, b in pairwise(ticks)]
    assert gaps[0] > 3 * gaps[-1], "in the tip the ticks spread by themselves"


def test_a_falling_scale_is_read_both_ways() -> None:
    falling = Scale("us", "", (0.0, 3.0), (1200.0, 30.0), 1)
    assert value_at(falling, 1.5) == 615
    assert close(heights_of(falling, np.array([615.0]))[0], 1.5, 1e-12, "rounding")
    assert [t.label for t in scale_ticks(falling, 0, 3, 200) if t.label][:2] == ["100", "200"]


@given(st.lists(anything, max_size=6), st.lists(anything, max_size=6), anything, anything, anything)
def test_no_table_and_no_span_hangs_or_crashes(
    heights: list[float], values: list[float], low: float, high: float, k: float
) -> None:
    scale = Scale("x", "", tuple(heights), tuple(values), 1)
    if usable(scale):
        assert len(scale_ticks(scale, low, high, k)) <= MOST_TICKS + 1


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [(-0.3, 1, "−0.3"), (-0.001, 1, "0.0"), (1850.0, 0, "1850"), (float("nan"), 1, "–"), (3e9, 0, "3e+09")],
)
def test_numbers_have_a_true_minus_and_no_minus_zero(value: float, decimals: int, shown: str) -> None:
    assert decimal(value, decimals) == shown


def test_a_step_beyond_all_numbers_needs_no_decimals() -> None:
    """From a chart up to 7.5e306, whose step is none that a number holds."""
    assert step_decimals(nice_step(1.5e308)) == 0
