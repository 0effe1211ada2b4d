"""The circle cut by a level: segment, chord and wetted arc of a disc filled up to a distance from its centre."""

from __future__ import annotations

from typing import Any

import numpy as np

_SERIES_BELOW_RAD = 0.5
_INVERSE_ODD_FACTORIALS = tuple(1.0 / np.prod(np.arange(1.0, order + 1.0)) for order in range(3, 18, 2))


def half_angle_rad(radius_m: Any, above_centre_m: Any) -> Any:
    """Half the angle under which the wetted arc is seen from the centre: 0 for a dry disc, pi for a full one."""
    with np.errstate(invalid="ignore", divide="ignore"):
        share = (radius_m + above_centre_m) / np.asarray(2.0 * radius_m)
    share = np.where(np.asarray(radius_m) > 0.0, share, np.greater(above_centre_m, 0.0))
    return 2.0 * np.arcsin(np.sqrt(np.clip(share, 0.0, 1.0)))


def segment_m2(radius_m: Any, above_centre_m: Any) -> Any:
    """Area of a disc below a level; the level counts from the centre, upwards.

    r**2*(2*a - sin(2*a))/2 with the half angle a, by a series where the difference would cancel.
    """
    angle = half_angle_rad(radius_m, above_centre_m)
    return np.where(radius_m > 0.0, 0.5 * radius_m**2 * less_its_sine(2.0 * angle), 0.0)


def half_chord_m(radius_m: Any, above_centre_m: Any) -> Any:
    """Half the width of the liquid surface in a disc, 0 where the level does not cut it."""
    return np.sqrt(np.maximum((radius_m - above_centre_m) * (radius_m + above_centre_m), 0.0))


def less_its_sine(angle_rad: Any) -> Any:
    """x - sin(x), to the last digits for small angles as well."""
    angle = np.asarray(angle_rad)
    value = np.asarray(angle - np.sin(angle))
    small = angle < _SERIES_BELOW_RAD
    if small.any():
        few = angle[small]
        square = few * few
        value[small] = few * square * _series(square)
    return value


def _series(square: Any) -> Any:
    """1/3! - s/5! + s**2/7! - ..."""
    value = _INVERSE_ODD_FACTORIALS[-1] + 0.0 * square
    for factor in _INVERSE_ODD_FACTORIALS[-2::-1]:
        value = factor - square * value
    return value
