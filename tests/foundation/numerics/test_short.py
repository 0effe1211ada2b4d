"""Numbers with fewer digits, against the rounding of fractions."""

from __future__ import annotations

from fractions import Fraction
from math import frexp

import numpy as np
import pytest

from onedatum.foundation.numerics import shortened
from tests.closeness import exact


@pytest.mark.parametrize("digits", [2, 10, 30, 51])
def test_each_is_the_nearest_of_so_many_digits(digits: int) -> None:
    """Exact arithmetic of fractions: the significand, scaled to so many binary digits, is rounded to a whole number."""
    random = np.random.default_rng(7)
    values = random.choice([-1.0, 1.0], 300) * 10.0 ** random.uniform(-200.0, 200.0, 300)
    for value, found in zip(values.tolist(), shortened(values, digits).tolist(), strict=True):
        significand, power = frexp(value)
        scaled = Fraction(significand) * 2**digits
        assert Fraction(found) == round(scaled) * Fraction(2) ** (power - digits)
        assert abs(Fraction(found) - Fraction(value)) <= abs(Fraction(value)) / 2**digits


def test_what_is_short_stays_and_what_is_none_stays_none() -> None:
    short = np.array([0.0, 1.0, -1.5, 768.0, np.nan])
    exact(shortened(short, 10), short)
    some = np.random.default_rng(8).normal(0.0, 1.0, 50)
    exact(shortened(shortened(some, 10), 10), shortened(some, 10))
