"""Drift of a series over time, and errors that go with several causes at once.

Readings at the ends of the signal are no numbers for a drift: leave them out before (see `censored`).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection.series import not_too_many, same_length, series_of


class Regression(NamedTuple):
    """A fit by least squares: coefficients, their standard uncertainties and correlations, what is left over."""

    coefficients: Reals
    standards: Reals
    correlations: Reals
    standard: float
    """Standard deviation of what is left over, in the unit of the results."""
    degrees_of_freedom: int


_LEAST_INDEPENDENT = 1e-9
"""Share of a column, made of length one, that the others must leave unexplained."""


def regression(results: ArrayLike, columns: ArrayLike) -> Regression:
    """Least squares over several causes, such as e = a + b*t + c*L with columns of 1, t and L.

    Formula
    -------
    c = (X'*X)**-1*X'*y; its covariance s**2*(X'*X)**-1, s**2 the sum of squares left over, n - m below

    Parameters
    ----------
    results : array
        y, one for each time [any unit]
    columns : array, causes by times
        X, one row for each cause; a constant is a row of ones [any unit]

    Returns
    -------
    Regression
        coefficients and standards [unit of the results over that of the cause], correlations of the coefficients [1]

    Validity
    --------
    more times than causes; what is left over independent, of one spread. Causes that go together cannot be told apart:
    the correlations show it, and causes that are the same are refused.

    Source
    ------
    Gauss, method of least squares [from memory]

    Example
    -------
    >>> fit = regression([1.0, 3.0, 5.0, 7.0], [[1.0, 1.0, 1.0, 1.0], [0.0, 1.0, 2.0, 3.0]])
    >>> fit.coefficients.round(9).tolist(), fit.degrees_of_freedom
    ([1.0, 2.0], 2)
    """
    y = series_of(results, "regression", "results", 2)
    causes = _causes(columns)
    same_length("regression", "columns", y, causes[0])
    count, free = len(causes), len(y) - len(causes)
    if free < 1:
        why = "what is left over tells how well the fit is known"
        raise ValidityError("detection.regression", "results", f"more than {count} values", f"{len(y)}", why)
    sizes = np.sqrt(np.sum(causes**2, axis=1))
    if not np.all(sizes > 0.0):
        raise _not_apart("one that is always 0")
    left, singular, right = np.linalg.svd((causes / sizes[:, None]).T, full_matrices=False)
    if singular[-1] < _LEAST_INDEPENDENT:
        raise _not_apart("one that follows from the others")
    inverse = right.T / singular
    scaled = inverse @ (left.T @ y)
    rest = y - (scaled / sizes) @ causes
    standard = float(np.sqrt(rest @ rest / free))
    covariance = inverse @ inverse.T
    spread = np.sqrt(np.diag(covariance))
    return Regression(scaled / sizes, standard * spread / sizes, covariance / np.outer(spread, spread), standard, free)


def _causes(columns: ArrayLike) -> Reals:
    """The causes as rows of numbers; raises ValidityError for what are none."""
    try:
        rows = np.atleast_2d(np.asarray(columns, dtype=np.float64))
    except (TypeError, ValueError) as error:
        why = "each cause has a number at each time"
        raise ValidityError("detection.regression", "columns", "rows of numbers", "another", why) from error
    return np.array([series_of(row, "regression", "columns", 2) for row in rows])


def _not_apart(got: str) -> ValidityError:
    why = "causes that always go together cannot be told apart"
    return ValidityError("detection.regression", "columns", "causes that vary each in its own way", got, why)


class Line(NamedTuple):
    """A straight line over time: value at time zero, slope, their standard uncertainties, what is left over."""

    intercept: float
    slope: float
    intercept_standard: float
    slope_standard: float
    standard: float
    degrees_of_freedom: int


def line(times_s: ArrayLike, values: ArrayLike) -> Line:
    """Drift by least squares.

    Formula
    -------
    b = sum of (t - m_t)*(x - m_x) over sum of (t - m_t)**2; u_b = s over the root of the latter, s with n - 2 below

    Parameters
    ----------
    times_s : array
        t, at least 3, not all the same [s]
    values : array
        x [any unit]

    Returns
    -------
    Line
        intercept [unit of the values] and slope [unit of the values over s] with standard uncertainties

    Validity
    --------
    residuals independent, of one spread, without spikes

    Source
    ------
    Gauss, method of least squares [from memory]

    Example
    -------
    >>> line([0.0, 1.0, 2.0, 3.0], [0.0, 2.0, 4.0, 6.0]).slope
    2.0
    """
    t, x = series_of(times_s, "line", "times_s", 3), series_of(values, "line", "values", 3)
    same_length("line", "values", t, x)
    apart = t - np.mean(t)
    square = float(apart @ apart)
    if np.ptp(t) == 0.0:
        raise ValidityError("detection.line", "times_s", "times that differ", "one time", "a drift takes time")
    above = x - x[0]
    middle = float(np.mean(above))
    slope = float(apart @ (above - middle)) / square
    rest = above - middle - slope * apart
    standard = float(np.sqrt(rest @ rest / (len(t) - 2)))
    start = float(np.mean(t))
    return Line(
        intercept=float(x[0]) + middle - slope * start,
        slope=slope,
        intercept_standard=standard * float(np.sqrt(1.0 / len(t) + start**2 / square)),
        slope_standard=standard / float(np.sqrt(square)),
        standard=standard,
        degrees_of_freedom=len(t) - 2,
    )


class MedianSlope(NamedTuple):
    """The median of all slopes, and the interval that covers the true one with the probability asked for."""

    slope: float
    low: float
    high: float


def median_slope(times_s: ArrayLike, values: ArrayLike, probability: float) -> MedianSlope:
    """Drift as the median of the slopes between all pairs: wild values do not move it.

    Formula
    -------
    median of (x_j - x_i)/(t_j - t_i), i < j; the interval between the slopes of ranks (N - z*sqrt(var S))/2 and
    (N + z*sqrt(var S))/2 + 1 among N, to the next whole rank outward

    Parameters
    ----------
    times_s : array
        t, at least 4, in rising order; those of one time make no pair [s]
    values : array
        x [any unit]
    probability : float
        that the interval covers, above 0 and below 1 [1]

    Returns
    -------
    MedianSlope
        slope and interval [unit of the values over s]

    Validity
    --------
    independent values, at most 3000 of them; nearly 3 in 10 may be wild. Interval for large n, rather wide for small.

    Source
    ------
    Theil 1950; Sen 1968, J. Am. Stat. Assoc. 63 [from memory]

    Example
    -------
    >>> median_slope([0.0, 1.0, 2.0, 3.0, 4.0], [0.0, 1.0, 2.0, 99.0, 4.0], 0.9).slope
    1.0
    """
    from scipy.special import ndtri

    t, x = series_of(times_s, "median_slope", "times_s", 4), series_of(values, "median_slope", "values", 4)
    same_length("median_slope", "values", t, x)
    not_too_many(t, "median_slope", "times_s")
    if not 0.0 < probability < 1.0:
        raise ValidityError("detection.median_slope", "probability", "above 0 and below 1", f"{probability:g}")
    _refuse_disorder(t, "median_slope")
    earlier, later = np.triu_indices(len(t), 1)
    lasts = t[later] - t[earlier]
    if not np.any(lasts > 0.0):
        raise ValidityError("detection.median_slope", "times_s", "times that differ", "one time", "a drift takes time")
    apart = lasts > 0.0
    slopes = np.sort((x[later] - x[earlier])[apart] / lasts[apart])
    wide = float(ndtri(0.5 + 0.5 * probability) * np.sqrt(_variance(x)))
    below = max(int(np.floor((len(slopes) - wide) / 2.0)) - 1, 0)
    above = min(int(np.ceil((len(slopes) + wide) / 2.0)), len(slopes) - 1)
    return MedianSlope(float(np.median(slopes)), float(slopes[below]), float(slopes[above]))


class RankTrend(NamedTuple):
    """The count of rising pairs less falling ones, its variance without a trend, z and the probability by chance."""

    score: float
    variance: float
    z: float
    probability: float


def rank_trend(values: ArrayLike) -> RankTrend:
    """Whether a series rises or falls at all, whatever the shape and the scatter.

    Formula
    -------
    S = sum of sign(x_j - x_i), i < j; var = (n*(n - 1)*(2*n + 5) - sum of t*(t - 1)*(2*t + 5) over ties)/18;
    z = (S -+ 1)/sqrt(var), S towards zero; p = 2*P(Z > abs(z))

    Parameters
    ----------
    values : array
        x in the order of time, at least 4 [any unit]

    Returns
    -------
    RankTrend
        S, its variance, z and p [1]

    Validity
    --------
    independent values, at most 3000 of them; p from the normal distribution, good from about 10 values. Correlated
    values show trends that are none: thin them. A series that never changes has z = 0 and p = 1.

    Source
    ------
    Mann 1945, Econometrica 13; Kendall, Rank Correlation Methods [from memory]

    Example
    -------
    >>> rank_trend([0.1, 0.6, 0.9, 1.6, 1.9, 2.6, 2.9]).score
    21.0
    """
    from scipy.special import ndtr

    x = series_of(values, "rank_trend", "values", 4)
    not_too_many(x, "rank_trend", "values")
    s = float(sum(int(np.sum(np.sign(x[i + 1 :] - x[i]))) for i in range(len(x) - 1)))
    variance = _variance(x)
    z = float(np.sign(s) * (abs(s) - 1.0) / np.sqrt(variance)) if s else 0.0
    return RankTrend(s, variance, z, float(2.0 * ndtr(-abs(z))))


def _variance(values: Reals) -> float:
    """Variance of the count of pairs without a trend, less what equal values take from it."""
    _, ties = np.unique(values, return_counts=True)
    sizes = np.concatenate(([len(values)], ties)).astype(np.float64)
    terms = sizes * (sizes - 1.0) * (2.0 * sizes + 5.0)
    return float(terms[0] - np.sum(terms[1:])) / 18.0


def _refuse_disorder(times_s: Reals, function: str) -> None:
    if np.any(np.diff(times_s) < 0.0):
        why = "each value after the one before it"
        raise ValidityError(f"detection.{function}", "times_s", "in rising order", "times out of order", why)
