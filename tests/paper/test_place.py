"""Placing labels: order and gap kept, least sum of squared moves against another solver and against brute force."""

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from onedatum.paper.ruler.place import isotonic, place_labels
from tests.closeness import close

heights = st.lists(st.floats(1, 700), min_size=1, max_size=25)


def moves(places: list[float], wanted: list[float]) -> float:
    return sum((a - b) ** 2 for a, b in zip(places, wanted, strict=True))


@given(heights)
def test_isotonic_is_the_optimum_of_an_independent_solver(values: list[float]) -> None:
    assert close(isotonic(values), isotonic_regression(values).x, 1e-9, "rounding of sums of a few hundred")


@given(heights)
def test_labels_keep_their_order_and_their_gap(values: list[float]) -> None:
    places = place_labels(sorted(values), 15.5, 42, 700)
    assert all(b - a >= 15.5 - 1e-9 for a, b in pairwise(places))
    assert min(places) >= 42 - 1e-9
    assert max(places) <= 700 + 1e-9


def test_no_placing_on_a_fine_grid_moves_less() -> None:
    wanted = [100.0, 104.0, 108.0, 140.0]
    placed = place_labels(wanted, 15.5, 0, 700)
    assert moves(placed, wanted) <= least_on_grid(wanted) + 1e-9
    assert close(placed[1], 104.0, 1e-9, "the middle of three neighbours at equal distances stays where it is")


def least_on_grid(wanted: list[float]) -> float:
    """Brute force over every half px near the wanted places: the least cost for each place of the label before."""
    grid = np.arange(80, 161, 0.5)
    costs = [(grid - w) ** 2 for w in wanted]
    best = costs[0]
    for cost in costs[1:]:
        reachable = np.minimum.accumulate(best)
        before = np.searchsorted(grid, grid - 15.5, side="right") - 1
        best = cost + np.where(before >= 0, reachable[np.maximum(before, 0)], np.inf)
    return float(best.min())


def test_labels_far_apart_stay_where_their_marks_are() -> None:
    assert place_labels([100.0, 200.0, 300.0], 15.5, 0, 700) == [100.0, 200.0, 300.0]
