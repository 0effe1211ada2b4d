"""Daily differences of a tank's book and stick: leak, meter and table told apart by what each goes with.

A leak goes with time, an error of the meter with what was dispensed, an error of the table with where the levels stood.
They can be told apart only where these vary each in its own way: over full and empty, over busy and quiet days. A table
that is wrong by a constant share looks like a meter that is wrong by that share; only its waviness along the level is
its own. What the fit finds is a candidate; where a leak is suspected the local rules come first.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection.series import same_length, series_of
from onedatum.physics.detection.trend import regression


class InventoryFit(NamedTuple):
    """Leak, meter error and table error, what is left over, and how well they are told apart."""

    leak_m3_per_s: float
    leak_u_m3_per_s: float
    leak_t: float
    meter_error: float
    """Share by which the meter counts too little: above 0 more left the tank than it counted."""
    meter_error_u: float
    meter_t: float
    table_amplitude_m3: float
    table_amplitude_u_m3: float
    """Of the wave in the table, of the period that was given."""
    standard_m3: float
    degrees_of_freedom: int
    most_correlation: float
    """Greatest correlation, by size, between leak, meter and table: near 1 they are not told apart."""


def inventory_fit(
    missing_m3: ArrayLike,
    durations_s: ArrayLike,
    dispensed_m3: ArrayLike,
    levels_before_m: ArrayLike,
    levels_after_m: ArrayLike,
    period_m: float,
) -> InventoryFit:
    """Leak, meter error and a wave in the table, by least squares over the days.

    Formula
    -------
    d = q*t + m*V_d - (e(L_2) - e(L_1)), e(L) = a*sin(2*pi*L/P) + b*cos(2*pi*L/P); amplitude sqrt(a**2 + b**2)

    Parameters
    ----------
    missing_m3 : array
        d, book less stick of each day by itself, not summed: above 0 where liquid is missing [m3]
    durations_s : array
        t, length of each of them, not all 0 [s]
    dispensed_m3 : array
        V_d, what the meter counted [m3]
    levels_before_m, levels_after_m : array
        L_1, L_2, levels at the begin and the end [m]
    period_m : float
        P, period of the wave looked for in the table, such as the height of a course; above 0 [m]

    Returns
    -------
    InventoryFit
        leak [m3/s], meter error [1], amplitude of the wave [m3], with standard uncertainties

    Validity
    --------
    6 days or more, 30 for anything to be said; deliveries right, volumes at one temperature, days independent. The
    uncertainty of the amplitude is that along the direction found, and means little below twice itself.

    Source
    ------
    EPA/530/UST-90/007 (1990), statistical inventory reconciliation, its idea alone [from memory]

    Example
    -------
    >>> days = np.arange(8.0)
    >>> before, after = 1.5 - 0.1 * days, 1.4 - 0.1 * days - 0.01 * days**2
    >>> out_m3 = 2.0 + days % 3
    >>> fit = inventory_fit(0.02 + 0.01 * out_m3, np.full(8, 86400.0), out_m3, before, after, 0.5)
    >>> round(fit.leak_m3_per_s * 86400, 6), round(fit.meter_error, 6)
    (0.02, 0.01)
    """
    d = series_of(missing_m3, "inventory_fit", "missing_m3", 6)
    given = {
        "durations_s": durations_s,
        "dispensed_m3": dispensed_m3,
        "levels_before_m": levels_before_m,
        "levels_after_m": levels_after_m,
    }
    t, out_m3, before, after = (series_of(each, "inventory_fit", name, 6) for name, each in given.items())
    for name, each in zip(given, (t, out_m3, before, after), strict=True):
        same_length("inventory_fit", name, d, each)
    if not period_m > 0.0 or not np.isfinite(period_m):
        raise ValidityError(
            "detection.inventory_fit", "period_m", "above 0 m", f"{period_m:g} m", "a wave has a length"
        )
    waves = [_change(wave, before, after, period_m) for wave in (np.sin, np.cos)]
    fit = regression(d, np.array([t, out_m3, *waves]))
    leak, meter, *table = fit.coefficients.tolist()
    apart = np.abs(fit.correlations[:2] - np.eye(4)[:2])
    amplitude, amplitude_u = _amplitude(np.array(table), fit.correlations[2, 3], fit.standards[2:])
    return InventoryFit(
        leak,
        float(fit.standards[0]),
        _t(leak, float(fit.standards[0])),
        meter,
        float(fit.standards[1]),
        _t(meter, float(fit.standards[1])),
        amplitude,
        amplitude_u,
        fit.standard,
        fit.degrees_of_freedom,
        float(np.max(apart)),
    )


def _change(wave: np.ufunc, before_m: Reals, after_m: Reals, period_m: float) -> Reals:
    """What a wave in the table makes of a day: the stock after it counted too high is liquid that is not missing."""
    turn = 2.0 * np.pi / period_m
    changed: Reals = wave(turn * before_m) - wave(turn * after_m)
    return changed


def _amplitude(waves_m3: Reals, correlation: float, u_m3: Reals) -> tuple[float, float]:
    """Amplitude of sine and cosine together, and its standard uncertainty along the direction found."""
    size = float(np.hypot(*waves_m3))
    toward = waves_m3 / size if size > 0.0 else np.array([1.0, 0.0])
    shares = toward * u_m3
    return size, float(np.sqrt(max(float(shares @ shares + 2.0 * correlation * shares[0] * shares[1]), 0.0)))


def _t(value: float, standard: float) -> float:
    """A value over its standard uncertainty; infinite where that is nothing."""
    return value / standard if standard > 0.0 else float(np.copysign(np.inf, value)) if value else 0.0
