"""What moves an estimate though no noise does: a threshold on a weaker pulse, coarse samples, a reflection near by."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, Reals, monotone_root, same_kind
from onedatum.foundation.working import formula

_WIDTH = ("sigma", "standard width of the pulse", "[1e-9, 0.001]")
_SPEED = ("v", "speed of the pulse", "[500, 10000]")


def ricker_autocorrelation(time_s: Reals, width_s: Real) -> Reals:
    """What the matched filter makes of a Ricker pulse, 1 in its middle.

    Formula
    -------
    R = (1 - w^2 + w^4/12)*exp(-w^2/4), w = t/sigma

    Parameters
    ----------
    time_s : array of float
        t, time from the middle [s]
    width_s : float or array of float
        sigma, standard width of the pulse [s]

    Returns
    -------
    array of float
        R [1]

    Validity
    --------
    any time

    Source
    ------
    Derived from geometry or first principles, integral of the product of two pulses [derived and checked]

    Example
    -------
    >>> float(ricker_autocorrelation(np.array([0.0]), 1.5e-6)[0])
    1.0
    """
    share = (np.asarray(time_s) / width_s) ** 2
    return np.asarray((1 - share + share**2 / 12) * np.exp(-share / 4))


@formula(
    residual="(1 - u**2)*exp(-u**2/2) - a",
    gives=("u", "widths before the middle at which the leading edge reaches a threshold"),
    where={"threshold": ("a", "threshold over the height of the pulse", "[0.001, 0.999]")},
    source="derived: leading edge of the Ricker pulse",
)
def leading_edge(threshold: Real) -> Real:
    """Where the leading edge of a Ricker pulse reaches a threshold, in widths before its middle.

    Example
    -------
    >>> float(round(leading_edge(0.5), 4))
    0.6259
    """
    return same_kind(
        monotone_root(
            lambda at: (1 - at**2) * np.exp(-(at**2) / 2),
            lambda at: (at**3 - 3 * at) * np.exp(-(at**2) / 2),
            threshold,
            0.0,
            1.0,
        )
    )


@formula(
    residual="q*(1 - (u(a) - x/(v*sigma))**2)*exp(-(u(a) - x/(v*sigma))**2/2) - a",
    gives=("x", "by how much the weaker pulse reads long"),
    where={
        "speed_m_per_s": _SPEED,
        "width_s": _WIDTH,
        "threshold": ("a", "threshold over the height of the strong pulse", "[0.05, 0.9]"),
        "amplitude_share": ("q", "height of the weaker pulse over that of the strong one", "[0.1, 1]"),
    },
    calls={"u": leading_edge},
    requires=(("a < 0.98*q", "the weaker pulse reaches the threshold"),),
    source="derived: leading edge of the pulse",
)
def time_walk_m(speed_m_per_s: Real, width_s: Real, threshold: Real, amplitude_share: Real) -> Real:
    """By how much a fixed threshold reads a weaker pulse long.

    Example
    -------
    >>> float(round(time_walk_m(2800.0, 1.5e-6, 0.5, 0.8) * 1e6, 2))
    403.36
    """
    late = np.subtract(leading_edge(threshold), leading_edge(np.divide(threshold, amplitude_share)))
    return same_kind(np.asarray(speed_m_per_s * np.asarray(width_s) * late))


@formula(
    method=(
        "three samples of the autocorrelation about its peak, the parabola through them, its top less the true offset"
    ),
    gives=("b", "bias of the distance"),
    where={
        "speed_m_per_s": _SPEED,
        "width_s": _WIDTH,
        "interval_s": ("d", "time between two samples", "[1e-10, 0.001]"),
        "offset": ("o", "true place of the peak, in samples from the nearest one", "[-0.5, 0.5]"),
    },
    requires=(("d <= 1.2*sigma", "three samples lie on the top of the peak"),),
    source="derived: autocorrelation of the Ricker pulse",
)
def parabola_bias_m(speed_m_per_s: Real, width_s: Real, interval_s: Real, offset: Real) -> Real:
    """Bias of a peak that is found by a parabola through three samples; it goes with the cube of their distance.

    Example
    -------
    >>> float(round(parabola_bias_m(2800.0, 1.5e-6, 1e-6, 0.25) * 1e6, 3))
    -70.222
    """
    shift = np.asarray(offset, dtype=np.float64)
    before, at, after = (ricker_autocorrelation((step - shift) * interval_s, width_s) for step in (-1.0, 0.0, 1.0))
    top = 0.5 * (after - before) / (2 * at - before - after)
    return same_kind(np.asarray(speed_m_per_s * np.asarray((top - shift) * interval_s)))


@formula(
    method="the peak of R(t) + r*R(t - gap) nearest to the pulse itself, by Newton's steps from t = 0",
    gives=("b", "shift of the distance, positive away from the head"),
    where={
        "speed_m_per_s": _SPEED,
        "width_s": _WIDTH,
        "reflection": ("r", "share of the pulse that comes again", "[-0.2, 0.2]"),
        "gap_s": ("g", "how much later it comes", "[1e-9, 0.01]"),
    },
    source="derived: matched filter of a pulse and its reflection",
)
def reflection_bias_m(speed_m_per_s: Real, width_s: Real, reflection: Real, gap_s: Real) -> Real:
    """Shift of the peak of the matched filter by a reflection that comes soon after the pulse.

    Example
    -------
    >>> float(round(reflection_bias_m(2800.0, 1.5e-6, 0.1, 3e-6) * 1e6, 3))
    -21.829
    """
    share, late = np.asarray(reflection, dtype=np.float64), np.divide(gap_s, width_s)
    near = np.zeros(np.broadcast_shapes(share.shape, np.shape(late)))
    for _ in range(STEPS):
        slope = _slope(near) + share * _slope(near - late)
        bend = _bend(near) + share * _bend(near - late)
        near = near - slope / bend
    return same_kind(np.asarray(speed_m_per_s * np.asarray(width_s) * near))


STEPS = 30
"""Newton's steps; the peak moves by less than half a width for the reflections allowed."""


def _slope(share: Reals) -> Reals:
    """Slope of the autocorrelation over widths."""
    return np.asarray((-2.5 * share + 5 * share**3 / 6 - share**5 / 24) * np.exp(-(share**2) / 4))


def _bend(share: Reals) -> Reals:
    """Bend of the autocorrelation over widths."""
    inner = -2.5 + 3.75 * share**2 - 0.625 * share**4 + share**6 / 48
    return np.asarray(inner * np.exp(-(share**2) / 4))
