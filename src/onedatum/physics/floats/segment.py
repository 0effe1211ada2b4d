"""The segment of a circle that lies below a chord, to the last digits also where it is next to nothing."""

from __future__ import annotations

from math import factorial

import numpy as np

from onedatum.foundation.numerics import Real, Reals

_SERIES_BELOW = 0.25
_COEFFICIENTS = tuple((-1.0) ** k * 2.0 ** (2 * k + 2) / factorial(2 * k + 3) for k in range(7))


def half_angle_rad(depth_m: Real, radius_m: Real) -> Reals:
    """Half the angle under which the chord is seen from the centre: 0 at no depth, pi at the full diameter."""
    return np.asarray(2 * np.arcsin(np.sqrt(np.clip(depth_m / (2 * np.asarray(radius_m)), 0.0, 1.0))))


def segment_share(half_rad: Real) -> Reals:
    """Area of the segment over the square of the radius: a - sin(a)*cos(a), by its series where that cancels.

    The series is that of (2*a - sin(2*a))/2: a^3 times a sum over even powers.
    """
    angle = np.asarray(half_rad, dtype=np.float64)
    small = np.minimum(angle, _SERIES_BELOW) ** 2
    series = np.zeros_like(small)
    for coefficient in reversed(_COEFFICIENTS):
        series = series * small + coefficient
    return np.asarray(np.where(angle < _SERIES_BELOW, angle**3 * series, angle - np.sin(angle) * np.cos(angle)))
