"""Lengths at both ends of a stem, and between two floats, in which a magnet cannot be told.

Dead zones are distances of the magnet plane: the lower one from the tip, the upper one from the flange face.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SPEED = ("v", "speed of the pulse", "[100, 10000]")
_DURATION = ("T_p", "time that a pulse takes to pass", "[0, 0.01]")
_STOP = ("l_s", "stop of the float", "[0, 10]")
_LENGTH = "[0, 10]"


@formula(
    equation="x_u = v*tau*ln(A_r)",
    gives=("x_u", "distance from the head within which the drive pulse hides the echo"),
    where={
        "speed_m_per_s": _SPEED,
        "decay_s": ("tau", "time constant in which the drive pulse dies down at the pick-up", "[0, 0.01]"),
        "amplitude_ratio": ("A_r", "drive pulse at the pick-up over the detection threshold", "[1, 1e9]"),
    },
    source="derived: exponential decay to the threshold",
)
def ring_down_length_m(speed_m_per_s: Real, decay_s: Real, amplitude_ratio: Real) -> Real:
    """Length below the head that is lost to the ring-down of the drive pulse.

    Example
    -------
    >>> round(float(ring_down_length_m(2800.0, 4e-6, 1000.0)) * 1000, 2)
    77.37
    """
    result: Real = speed_m_per_s * decay_s * np.log(amplitude_ratio)
    return result


@formula(
    equation="l_p = v*T_p/2",
    gives=("l_p", "distance from the end of the wire within which echo and end reflection overlap"),
    where={"speed_m_per_s": _SPEED, "pulse_duration_s": _DURATION},
    source="derived: the reflection runs twice the distance to the end",
)
def pulse_length_m(speed_m_per_s: Real, pulse_duration_s: Real) -> Real:
    """Length above the end of the wire that is lost to the reflection from it.

    Example
    -------
    >>> round(pulse_length_m(2800.0, 10e-6) * 1000, 3)
    14.0
    """
    return speed_m_per_s * pulse_duration_s / 2


@formula(
    equation="d_low = max(l_d + l_s + h_b, l_p)",
    gives=("d_low", "lower dead zone, from the stem tip to the magnet plane"),
    where={
        "damper_m": ("l_d", "damper at the end of the wire, and what lies below it", _LENGTH),
        "stop_m": _STOP,
        "float_below_magnet_m": ("h_b", "part of the float below its magnet plane", _LENGTH),
        "pulse_length_m": ("l_p", "distance from the end within which echo and end reflection overlap", _LENGTH),
    },
    source="derived: the longer of two lengths",
)
def dead_zone_low_m(damper_m: Real, stop_m: Real, float_below_magnet_m: Real, pulse_length_m: Real) -> Real:
    """Lower dead zone of a stem, by what stands there and by what the pulse can tell apart.

    Example
    -------
    >>> round(float(dead_zone_low_m(0.040, 0.010, 0.030, 0.014)), 4)
    0.08
    """
    result: Real = np.maximum(damper_m + stop_m + float_below_magnet_m, pulse_length_m)
    return result


@formula(
    equation="d_high = max(l_s + h_a, x_u)",
    gives=("d_high", "upper dead zone, from the flange face to the magnet plane"),
    where={
        "stop_m": _STOP,
        "float_above_magnet_m": ("h_a", "part of the float above its magnet plane", _LENGTH),
        "ring_down_m": ("x_u", "distance within which the drive pulse hides the echo", _LENGTH),
    },
    source="derived: the longer of two lengths",
)
def dead_zone_high_m(stop_m: Real, float_above_magnet_m: Real, ring_down_m: Real) -> Real:
    """Upper dead zone of a stem, by what stands there and by the ring-down of the drive pulse.

    The ring-down counts from the pick-up; a pick-up above the flange face leaves less of it below the face.

    Example
    -------
    >>> round(float(dead_zone_high_m(0.010, 0.030, 0.0774)), 4)
    0.0774
    """
    result: Real = np.maximum(stop_m + float_above_magnet_m, ring_down_m)
    return result


@formula(
    equation="s_min = max((h_1 + h_2)/2, max(v*T_p, s_c))",
    gives=("s_min", "least distance between the magnet planes of two floats"),
    where={
        "float_1_height_m": ("h_1", "height of one float, its magnet half way up", "[0, 2]"),
        "float_2_height_m": ("h_2", "height of the other float, its magnet half way up", "[0, 2]"),
        "speed_m_per_s": _SPEED,
        "pulse_duration_s": _DURATION,
        "coupling_m": ("s_c", "distance within which the magnets pull each other too much", _LENGTH),
    },
    source="derived: the longest of contact, pulse and pull of the magnets",
)
def least_spacing_m(
    float_1_height_m: Real, float_2_height_m: Real, speed_m_per_s: Real, pulse_duration_s: Real, coupling_m: Real
) -> Real:
    """Least distance of two floats on one stem.

    Example
    -------
    >>> round(float(least_spacing_m(0.060, 0.052, 2800.0, 12e-6, 0.150)), 4)
    0.15
    """
    touching_m = (np.asarray(float_1_height_m) + float_2_height_m) / 2
    result: Real = np.maximum(touching_m, np.maximum(speed_m_per_s * pulse_duration_s, coupling_m))
    return result


@formula(
    equation="q = (d_low + d_high)/H",
    gives=("q", "both dead zones together as a share of the height"),
    where={
        "dead_zone_low_m": ("d_low", "lower dead zone", _LENGTH),
        "dead_zone_high_m": ("d_high", "upper dead zone", _LENGTH),
        "height_m": ("H", "height that is to be measured", "[0.01, 100]"),
    },
    source="derived: sum over the height",
)
def dead_share(dead_zone_low_m: Real, dead_zone_high_m: Real, height_m: Real) -> Real:
    """Share of a height that is lost to both dead zones.

    Example
    -------
    >>> round(dead_share(0.080, 0.110, 1.0), 3)
    0.19
    """
    return (dead_zone_low_m + dead_zone_high_m) / height_m
