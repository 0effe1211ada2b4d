"""What an error goes with: a pump that runs, another series that comes later, a hum that the sampling folds down.

What goes with something is not thereby caused by it; the finding names the candidates, the plant decides.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import same_length, series_of, within

_AT_REST = 1e-12
"""Share of the whole sum of squares below which what overlaps does not move."""


class OnAndOff(NamedTuple):
    """How a residual differs between on and off: the difference, its standard uncertainty, correlation, t and p."""

    difference: float
    difference_standard: float
    correlation: float
    t: float
    probability: float


def on_and_off(values: ArrayLike, running: ArrayLike) -> OnAndOff:
    """Residual while something runs against residual while it stands (point-biserial correlation).

    Formula
    -------
    r = (m_1 - m_0)*sqrt(n_1*n_0)/(n*s_n), s_n with n below; t = r*sqrt((n - 2)/(1 - r**2))

    Parameters
    ----------
    values : array
        residuals, at least 4 [any unit]
    running : array
        1 where it runs, 0 where it stands; both must be there

    Returns
    -------
    OnAndOff
        mean on less mean off and its standard uncertainty [unit of the values], r, t and p [1]

    Validity
    --------
    independent residuals of one spread; t is infinite where nothing is left over

    Source
    ------
    Derived from geometry or first principles, correlation with a variable of two values [derived and checked]

    Example
    -------
    >>> round(on_and_off([0.0, 2.0, 3.0, 5.0], [0, 0, 1, 1]).difference, 9)
    3.0
    """
    from scipy.special import stdtr

    x, on = series_of(values, "on_and_off", "values", 4), series_of(running, "on_and_off", "running", 4)
    same_length("on_and_off", "running", x, on)
    states = np.unique(on)
    if states.tolist() != [0.0, 1.0]:
        got = " and ".join(f"{state:g}" for state in states[:3])
        raise ValidityError("detection.on_and_off", "running", "0 and 1, both there", got, "one is held to the other")
    above = x - x[0]
    ones, noughts = above[on == 1.0], above[on == 0.0]
    difference = float(np.mean(ones) - np.mean(noughts))
    square = float(np.sum((ones - np.mean(ones)) ** 2) + np.sum((noughts - np.mean(noughts)) ** 2))
    shared = 1.0 / len(ones) + 1.0 / len(noughts)
    standard = float(np.sqrt(square / (len(x) - 2) * shared))
    between = difference**2 / shared
    if square + between == 0.0:
        return OnAndOff(0.0, 0.0, 0.0, 0.0, 1.0)
    correlation = float(np.sign(difference) * np.sqrt(between / (square + between)))
    t = difference / standard if standard > 0.0 else float(np.copysign(np.inf, difference))
    return OnAndOff(difference, standard, correlation, t, float(2.0 * stdtr(len(x) - 2, -abs(t))))


class Lag(NamedTuple):
    """By how many samples the second series comes later, the correlation there, and that of every lag tried."""

    lag_samples: float
    """With a parabola through the three highest; below 0 the second comes first."""
    correlation: float
    tried_samples: Reals
    correlations: Reals


def lag_between(first: ArrayLike, second: ArrayLike, most: int) -> Lag:
    """By how many samples one series follows another, by the highest correlation of what overlaps.

    Formula
    -------
    r(m) = correlation of x_i with y_(i + m) over all i that have both; the m of the highest r, by a parabola

    Parameters
    ----------
    first, second : array
        x, y, at the same even times [any units]
    most : int
        longest lag looked at, either way; from 1 to a quarter of the length

    Returns
    -------
    Lag
        lag [samples], below 0 where the second comes first; correlation [1], at the whole lags tried

    Validity
    --------
    Both must move; series that only drift go together at any lag: take differences first. A peak at the longest lag is
    no peak, and gives that lag.

    Source
    ------
    Derived from geometry or first principles, correlation [derived and checked]

    Example
    -------
    >>> x = [0.0, 1.0, 0.0, -2.0, 3.0, 1.0, -1.0, 0.0, 2.0]
    >>> round(lag_between(x, [5.0, *x[:-1]], 2).correlation, 9)
    1.0
    """
    x, y = series_of(first, "lag_between", "first", 8), series_of(second, "lag_between", "second", 8)
    same_length("lag_between", "second", x, y)
    if not 1 <= most <= len(x) // 4:
        allowed = f"1 to {len(x) // 4}"
        raise ValidityError("detection.lag_between", "most", allowed, f"{most}", "enough must overlap")
    lags = np.arange(-most, most + 1)
    correlations = _correlations(_about_mean(x), _about_mean(y), lags.tolist())
    if not np.any(np.isfinite(correlations)):
        why = "a series that never changes follows nothing"
        raise ValidityError("detection.lag_between", "first", "a series that moves", "one value throughout", why)
    peak = int(np.nanargmax(correlations))
    shifted = 0.0
    if 0 < peak < len(lags) - 1:
        left, middle, right = correlations[peak - 1 : peak + 2]
        bend = 2.0 * middle - left - right
        shifted = 0.5 * float(right - left) / float(bend) if bend > 0.0 else 0.0
    return Lag(float(lags[peak]) + shifted, float(correlations[peak]), lags.astype(np.float64), correlations)


def _about_mean(values: Reals) -> Reals:
    """The values less their mean; of one value throughout nothing is left."""
    above = values - values[0]
    left: Reals = above - np.mean(above)
    return left


def _correlations(x: Reals, other: Reals, lags: list[int]) -> Reals:
    """Correlation of x with y so many samples later, over what overlaps; NaN where one does not move."""
    sums = [np.concatenate(([0.0], np.cumsum(each))) for each in (x, other, x**2, other**2)]
    count, found = len(x), np.full(len(lags), np.nan)
    for number, lag in enumerate(lags):
        ahead, behind = slice(max(-lag, 0), count - max(lag, 0)), slice(max(lag, 0), count - max(-lag, 0))
        of_x, of_y, squares_x, squares_y = (
            total[part.stop] - total[part.start] for total, part in zip(sums, (ahead, behind) * 2, strict=True)
        )
        overlap = count - abs(lag)
        spread_x, spread_y = squares_x - of_x**2 / overlap, squares_y - of_y**2 / overlap
        if spread_x > _AT_REST * sums[2][-1] and spread_y > _AT_REST * sums[3][-1]:
            found[number] = (x[ahead] @ other[behind] - of_x * of_y / overlap) / np.sqrt(spread_x * spread_y)
    return found


@formula(
    method="the distance of f from the nearest whole multiple of f_s",
    gives=("f_a", "frequency at which the samples show it"),
    where={
        "frequency_Hz": ("f", "frequency of the hum", "[0, 1000000]"),
        "rate_Hz": ("f_s", "samples in a second", "[0.000001, 1000000]"),
    },
    source="derived: sampling theorem",
)
def alias_Hz(frequency_Hz: Real, rate_Hz: Real) -> Real:
    """Frequency at which a hum shows in a sampled series; at 0 it looks like a bias, and only a filter before helps.

    Example
    -------
    >>> round(float(alias_Hz(50.0, 0.97)), 9)
    0.44
    """
    return same_kind(np.abs(frequency_Hz - np.round(frequency_Hz / rate_Hz) * rate_Hz))


def line_amplitude(values: ArrayLike, sampling_s: float, frequency_Hz: float) -> float:
    """Amplitude of a hum in a series, at the frequency at which it shows.

    Formula
    -------
    2/n*abs(sum of (x_i - m)*exp(-2*pi*j*f*i*dt))

    Parameters
    ----------
    values : array
        readings at even times, at least 8 [any unit]
    sampling_s : float
        dt, above 0 [s]
    frequency_Hz : float
        f, above 0 and below half of 1/dt [Hz]

    Returns
    -------
    float
        amplitude [unit of the values]

    Validity
    --------
    a whole number of periods, or many; noise alone gives about s*sqrt(pi/n)

    Source
    ------
    Derived from geometry or first principles, Fourier sum [derived and checked]

    Example
    -------
    >>> round(line_amplitude([1.0, 3.0, 1.0, -1.0] * 4, 1.0, 0.25), 9)
    2.0
    """
    x = series_of(values, "line_amplitude", "values", 8)
    if not sampling_s > 0.0:
        raise ValidityError("detection.line_amplitude", "sampling_s", "above 0 s", f"{sampling_s:g} s")
    if not 0.0 < frequency_Hz < 0.5 / sampling_s:
        allowed, got = f"above 0 Hz and below {0.5 / sampling_s:g} Hz", f"{frequency_Hz:g} Hz"
        why = "the samples show no other; fold it first"
        raise ValidityError("detection.line_amplitude", "frequency_Hz", allowed, got, why)
    turned = np.exp(-2j * np.pi * frequency_Hz * sampling_s * np.arange(len(x)))
    return float(2.0 / len(x) * abs(np.sum((x - np.mean(x)) * turned)))


def middle_of_change_s(means: ArrayLike, length_s: float) -> float:
    """When half of a change is over, in the mean, from the means of even blocks around it.

    Formula
    -------
    t = T*sum_i (x_n - x_i)/(x_n - x_1), from the begin of the first block on

    Parameters
    ----------
    means : array
        x, means over blocks that follow one another; in the first and the last nothing changes [any]
    length_s : float
        T, length of a block [s], above 0

    Returns
    -------
    float
        time from the begin of the first block to the centre of the change [s]

    Validity
    --------
    First and last must differ. Of an even flow the centre is the middle; the mean of a block must be that over its
    time, not of its first rows alone.

    Source
    ------
    Derived from geometry or first principles, integration by parts: the integral of t*dx over that of dx
    [derived and checked]

    Example
    -------
    >>> middle_of_change_s([0.0, 0.5, 1.0], 60.0)
    90.0
    """
    x = series_of(means, "middle_of_change_s", "means", 3)
    within(length_s, 1e-9, 1e12, "middle_of_change_s", "length_s", "a block lasts")
    change = x[-1] - x[0]
    if change == 0.0:
        why = "what ends where it began has no middle"
        raise ValidityError("detection.middle_of_change_s", "means", "a first other than the last", "the same", why)
    return float(length_s * np.sum((x[-1] - x) / change))
