"""Values of fitted polynomials, for floats and arrays alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from onedatum.foundation.numerics.kinds import Real


def polynomial(coefficients: Sequence[Any], x: Real) -> Any:
    """c0 + c1 x + c2 x^2 + ..., by Horner's scheme; the coefficients may be arrays of one shape, broadcast with x."""
    value = coefficients[-1] + 0.0 * x
    for coefficient in reversed(coefficients[:-1]):
        value *= x
        value += coefficient
    return value
