"""Curves fitted once: roots at the breaks, powers at the ends, halving where a series does not settle."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from onedatum.foundation.numerics import Curve
from tests.closeness import close

AT = np.linspace(0.0, 3.0, 1001)


def root_like(x: Any) -> Any:
    """Smooth but for roots at 0, 1 and 3; vanishes like x**1.5 at 0."""
    x = np.asarray(x)
    return x**1.5 * (2 + np.cos(x)) + np.where(x > 1, np.abs(x - 1) ** 2.5, 0.0)


def test_a_function_with_roots_at_its_breaks() -> None:
    curve = Curve.of(root_like, [0.0, 1.0, 3.0], (3, 0))
    close(curve(AT[1:]), root_like(AT[1:]), 1e-10, "1e-11 of the largest value")
    close(curve(1e-8), root_like(1e-8), 1e-10 * 3e-12, "small values keep their digits")
    assert np.shape(curve(np.ones((4, 2)))) == (4, 2)


def test_a_steep_function_is_halved_until_it_settles() -> None:
    curve = Curve.of(lambda x: 1 / (0.02 + (x - 1.234) ** 2), [0.0, 3.0], (0, 0))
    assert len(curve.parts) > 2
    close(curve(AT), 1 / (0.02 + (AT - 1.234) ** 2), 1e-9 * 50, "1e-9 of the peak")


def test_near_breaks_count_as_one_and_the_ends_are_kept() -> None:
    curve = Curve.of(np.sin, [3.0, 1.0, 0.0, 1.0 + 1e-12], (1, 0), 1e-9)
    assert [part.low for part in curve.parts] == [0.0, 1.0]
    close(curve(AT[1:]), np.sin(AT[1:]), 1e-11, "1e-11")
    close([curve(-5.0) + 1, curve(9.0)], [1.0, np.sin(3.0)], 1e-11, "beyond its ends it keeps the values there")


def test_the_mirror_image_has_the_same_values_on_the_other_side() -> None:
    curve = Curve.of(root_like, [0.0, 1.0, 3.0], (3, 0))
    mirror = curve.mirrored(3.0)
    close(mirror(6.0 - AT[1:]), curve(AT[1:]), 1e-13 * 30, "rounding")


@pytest.mark.parametrize("power", [1, 3, 5])
def test_both_ends_may_vanish(power: int) -> None:
    def hump(x: Any) -> Any:
        return (np.asarray(x) * (3.0 - np.asarray(x))) ** (power / 2)

    curve = Curve.of(hump, [0.0, 3.0], (power, power))
    close(curve(AT[1:-1]), hump(AT[1:-1]), 1e-10 * 10, "1e-10 of the largest value")


def test_what_is_no_number_stays_none() -> None:
    curve = Curve.of(np.sin, [0.0, 3.0], (1, 0))
    assert np.isnan(curve(np.array([np.nan, 1.0]))).tolist() == [True, False]
