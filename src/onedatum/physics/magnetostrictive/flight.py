"""From the time of flight to the distance of the magnet, at one temperature of the wire.

Distances count along the stem, from the pick-up in the head to the plane of the magnet.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_DISTANCE = ("x", "distance of the magnet plane from the head", "[0, 100]")
_SPEED = ("v", "speed of the pulse", "[100, 10000]")
_TIME = ("t", "time of flight", "[0, 1]")


@formula(
    equation="t = x/v",
    gives=("t", "time of flight"),
    where={"distance_m": _DISTANCE, "speed_m_per_s": _SPEED},
    source="derived: distance over speed",
)
def flight_time_s(distance_m: Real, speed_m_per_s: Real) -> Real:
    """Time that the pulse takes from the magnet to the head.

    Example
    -------
    >>> round(flight_time_s(2.5, 2800.0), 9)
    0.000892857
    """
    return distance_m / speed_m_per_s


@formula(
    equation="x = H_f - h + z_w",
    gives=("x", "distance of the magnet plane from the flange face"),
    where={
        "flange_face_height_m": ("H_f", "height of the flange face", "(0, 120]"),
        "level_m": ("h", "level", "[-20, 120]"),
        "waterline_above_magnet_m": ("z_w", "surface above the magnet plane", "[-2, 2]"),
    },
    source="derived: heights in the vessel",
)
def distance_of_level_m(flange_face_height_m: Real, level_m: Real, waterline_above_magnet_m: Real) -> Real:
    """Distance of the magnet plane from the flange face while the float rides on a level.

    Example
    -------
    >>> round(distance_of_level_m(3.170, 1.850, 0.0109), 4)
    1.3309
    """
    return flange_face_height_m - level_m + waterline_above_magnet_m


@formula(
    equation="x = v*t",
    gives=("x", "distance of the magnet plane from the head"),
    where={"time_s": _TIME, "speed_m_per_s": _SPEED},
    source="derived: speed times time",
)
def distance_of_flight_m(time_s: Real, speed_m_per_s: Real) -> Real:
    """Distance that a time of flight stands for.

    Example
    -------
    >>> round(distance_of_flight_m(0.000892857, 2800.0), 6)
    2.5
    """
    return speed_m_per_s * time_s


@formula(
    equation="x = x_r*t/t_r",
    gives=("x", "distance of the magnet plane from the head"),
    where={
        "time_s": _TIME,
        "reference_time_s": ("t_r", "time of flight of the reference magnet", "[1e-6, 1]"),
        "reference_distance_m": ("x_r", "distance of the reference magnet from the head", "(0, 100]"),
    },
    source="derived: one speed for both",
)
def reference_magnet_distance_m(time_s: Real, reference_time_s: Real, reference_distance_m: Real) -> Real:
    """Distance by comparison with a magnet that is fixed at a known distance.

    The speed drops out where the wire has one temperature. What is left is the expansion of what holds the reference.

    Example
    -------
    >>> round(reference_magnet_distance_m(0.0009, 0.0011, 3.0), 4)
    2.4545
    """
    return reference_distance_m * time_s / reference_time_s
