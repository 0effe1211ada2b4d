"""Time of flight and error of the distance along a wire that is warmer here and colder there.

Distances count along the stem, from the pick-up in the head to the plane of the magnet. An error is what is read less
what is true: a distance that is read long is a level that is read low.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import formula

_WHERE = {
    "distance_m": ("x", "distance of the magnet plane from the head", "[0, 100]"),
    "speed_coefficient_per_K": ("k_v", "change of the speed as a share per kelvin", "[-0.001, 0.001]"),
    "head_temperature_K": ("T_h", "temperature of the wire at the head", "[50, 900]"),
    "float_temperature_K": ("T_f", "temperature of the wire at the float", "[50, 900]"),
    "reference_temperature_K": ("T_r", "temperature at which the speed holds", "[50, 900]"),
}
_ERROR = ("e", "distance read less true distance, positive where it is read long and the level low")
_WHY = "The temperature of the wire is known from the head to the float or the error is not known"


@formula(
    method="x/v*ln(b/a)/(b - a), a = 1 + k_v*(T_h - T_r), b = 1 + k_v*(T_f - T_r), x/(v*a) where a = b: "
    "integral of dx/v(T), T running evenly from head to float",
    gives=("t", "time of flight"),
    where={
        "distance_m": _WHERE["distance_m"],
        "speed_m_per_s": ("v", "speed of the pulse at T_r", "[100, 10000]"),
        **{name: said for name, said in _WHERE.items() if name != "distance_m"},
    },
    source="derived: integral along the wire",
)
def flight_time_through_gradient_s(
    distance_m: Real,
    speed_m_per_s: Real,
    speed_coefficient_per_K: Real,
    head_temperature_K: Real,
    float_temperature_K: Real,
    reference_temperature_K: Real,
) -> Real:
    """Time of flight along a wire whose temperature runs evenly from the head to the float.

    Example
    -------
    >>> round(float(flight_time_through_gradient_s(4.0, 2800.0, -40e-6, 293.15, 353.15, 293.15)), 10)
    0.0014302885
    """
    at_head = 1 + speed_coefficient_per_K * (np.asarray(head_temperature_K) - reference_temperature_K)
    at_float = 1 + speed_coefficient_per_K * (np.asarray(float_temperature_K) - reference_temperature_K)
    return distance_m / speed_m_per_s * (1.0 + _mean_inverse_excess(at_head, at_float))


@formula(
    method="x*(ln(b/a)/(b - a) - 1), a = 1 + k_v*(T_h - T_r), b = 1 + k_v*(T_f - T_r), x*(1/a - 1) where a = b: "
    "speed at T_r times the integral of dx/v(T), less x, T running evenly from head to float",
    gives=_ERROR,
    where=_WHERE,
    source="derived: integral along the wire",
)
def gradient_error_m(
    distance_m: Real,
    speed_coefficient_per_K: Real,
    head_temperature_K: Real,
    float_temperature_K: Real,
    reference_temperature_K: Real,
) -> Real:
    """Error of the distance where the speed is taken at one temperature and the wire has others.

    The temperature runs evenly from the head to the float; the same at both is a wire of one temperature.

    Example
    -------
    >>> round(float(gradient_error_m(4.0, -40e-6, 293.15, 353.15, 293.15)) * 1000, 4)
    4.8077
    """
    at_head = 1 + speed_coefficient_per_K * (np.asarray(head_temperature_K) - reference_temperature_K)
    at_float = 1 + speed_coefficient_per_K * (np.asarray(float_temperature_K) - reference_temperature_K)
    return distance_m * _mean_inverse_excess(at_head, at_float)


@formula(
    equation="e = -k_v*((T_h + T_f)/2 - T_r)*x",
    gives=_ERROR,
    where=_WHERE,
    source="derived: first order, the mean temperature decides",
)
def mean_temperature_error_m(
    distance_m: Real,
    speed_coefficient_per_K: Real,
    head_temperature_K: Real,
    float_temperature_K: Real,
    reference_temperature_K: Real,
) -> Real:
    """Error of the distance by the mean temperature of the wire, for small changes of the speed.

    Example
    -------
    >>> round(mean_temperature_error_m(4.0, -40e-6, 293.15, 353.15, 293.15) * 1000, 4)
    4.8
    """
    mean_K = (head_temperature_K + float_temperature_K) / 2
    return -speed_coefficient_per_K * (mean_K - reference_temperature_K) * distance_m


def profile_error_m(
    distances_m: ArrayLike,
    temperatures_K: ArrayLike,
    distance_m: Real,
    speed_coefficient_per_K: float,
    reference_temperature_K: float,
) -> Real:
    """Error of the distance along a wire whose temperature is straight between the places where it is known.

    Formula
    -------
    e = sum of dx*(ln(b/a)/(b - a) - 1) over the pieces from the head to the float, a and b at the ends of a piece being
    1 + k_v*(T - T_r); dx*(1/a - 1) where a = b

    Parameters
    ----------
    distances_m : array
        distances of the places from the head, rising from 0 [m]
    temperatures_K : array of the same length
        T, temperature of the wire at each [K]
    distance_m : float or array
        x, distance of the magnet plane from the head, within the places [m]
    speed_coefficient_per_K : float
        k_v, change of the speed as a share per kelvin [1/K]
    reference_temperature_K : float
        T_r, temperature at which the speed holds [K]

    Returns
    -------
    float or array, shape of distance_m
        e, distance read less true distance, positive where it is read long and the level low [m]

    Validity
    --------
    at least two places, the first at the head, the last at or beyond the magnet, or it is refused; 1 + k_v*(T - T_r)
    above nothing

    Source
    ------
    Derived from geometry or first principles, integral along the wire [derived and checked]

    Example
    -------
    >>> round(float(profile_error_m([0.0, 1.0, 4.0], [293.15, 353.15, 353.15], 4.0, -40e-6, 293.15)) * 1000, 3)
    8.419
    """
    places_m = np.asarray(distances_m, dtype=np.float64)
    at_places = 1 + speed_coefficient_per_K * (np.asarray(temperatures_K, dtype=np.float64) - reference_temperature_K)
    _refuse(places_m, at_places, np.asarray(distance_m))
    pieces_m = np.diff(places_m) * _mean_inverse_excess(at_places[:-1], at_places[1:])
    before_m = np.concatenate([[0.0], np.cumsum(pieces_m)])
    piece = np.clip(np.searchsorted(places_m, distance_m, side="right") - 1, 0, len(places_m) - 2)
    at_magnet = np.interp(distance_m, places_m, at_places)
    rest_m = distance_m - places_m[piece]
    return same_kind(before_m[piece] + rest_m * _mean_inverse_excess(at_places[piece], at_magnet))


def _mean_inverse_excess(low: Real, high: Real) -> Real:
    """Mean of 1/y less 1, y running evenly from `low` to `high`, both above nothing; the two may be equal.

    ln(high/low)/(high - low) - 1, by the logarithm of what one is above the other, which keeps its digits.
    """
    rise = np.asarray((np.asarray(high) - low) / low)
    even = rise == 0.0
    steep = np.where(even, 1.0, rise)
    result: Real = (np.where(even, 1.0, np.log1p(steep) / steep) / low - 1.0)[()]
    return result


def _refuse(places_m: Reals, values: Reals, distance_m: Reals) -> None:
    """What is no profile from the head to the magnet is refused."""
    if places_m.ndim != 1 or len(places_m) < 2 or places_m.shape != values.shape:
        raise QuantityError(
            "two or more places with one temperature each",
            f"{places_m.size} places, {values.size} temperatures",
            _WHY,
        )
    if places_m[0] != 0.0 or not np.all(np.diff(places_m) > 0.0):
        raise QuantityError("rising distances from 0 m", f"{', '.join(f'{at:g} m' for at in places_m)}", _WHY)
    if not np.all((distance_m >= 0.0) & (distance_m <= places_m[-1])):
        raise QuantityError(
            f"a magnet from 0 m to {places_m[-1]:g} m",
            f"{float(np.min(distance_m)):g} m to {float(np.max(distance_m)):g} m",
            _WHY,
        )
    if not np.all(values > 0.0):
        raise QuantityError(
            "temperatures at which a pulse still runs", f"a speed of {float(np.min(values)):g} times that stated"
        )
