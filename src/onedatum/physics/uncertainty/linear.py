"""First-order budget, in the unit of the result.

Each input is moved up and down by its standard uncertainty and the result is worked again; half of the difference is
what this input contributes.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.numerics import Real, Reals


def contributions(high: ArrayLike, low: ArrayLike) -> Reals:
    """What each input contributes to the result, with its sign.

    Formula
    -------
    c_i = (f(x_i + u_i) - f(x_i - u_i))/2

    Parameters
    ----------
    high : array, one element per input
        results with one input raised by its standard uncertainty [unit of the result]
    low : array of the same shape
        results with the same input lowered by it [unit of the result]

    Returns
    -------
    array of the same shape
        contributions, negative where the result falls as the input rises [unit of the result]

    Validity
    --------
    the result is close to straight over plus and minus one standard uncertainty; NaN where a result is NaN

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.1.3 note 2 [from memory]

    Example
    -------
    >>> contributions([10.5, 10.0], [9.5, 10.4]).round(3).tolist()
    [0.5, -0.2]
    """
    raised, lowered = np.asarray(high, dtype=np.float64), np.asarray(low, dtype=np.float64)
    return np.asarray((raised - lowered) / 2)


def combined_standard(contributions: ArrayLike, correlation: ArrayLike | None = None) -> float:
    """Combined standard uncertainty.

    Formula
    -------
    u_c = sqrt(c R c), R the correlation matrix of the inputs; sqrt(c_1**2 + ... + c_n**2) for independent ones

    Parameters
    ----------
    contributions : array, one element per input
        contributions as `contributions` gives them [unit of the result]
    correlation : array, inputs x inputs, or None
        R, correlation coefficients of the inputs; None: they are independent [1]

    Returns
    -------
    float
        combined standard uncertainty, 0 without inputs [unit of the result]

    Validity
    --------
    NaN if a contribution is NaN

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.1.2 and 5.2.2 [from memory]

    Example
    -------
    >>> combined_standard([3.0, -4.0])
    5.0
    >>> round(combined_standard([3.0, -4.0], [[1.0, 0.5], [0.5, 1.0]]), 4)
    3.6056
    """
    return float(combined_standard_of_each(contributions, correlation))


def combined_standard_of_each(contributions: ArrayLike, correlation: ArrayLike | None = None) -> Reals:
    """Combined standard uncertainty of many results of the same inputs.

    Formula
    -------
    u_c = sqrt(c R c) for each result, as `combined_standard` for one

    Parameters
    ----------
    contributions : array, one row per input and one column per result
        contributions as `contributions` gives them [unit of the result]
    correlation : array, inputs x inputs, or None
        R, correlation coefficients of the inputs; None: they are independent [1]

    Returns
    -------
    array, one element per result
        combined standard uncertainties, 0 without inputs [unit of the result]

    Validity
    --------
    NaN where a contribution is NaN

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.1.2 and 5.2.2 [from memory]

    Example
    -------
    >>> combined_standard_of_each([[3.0, 5.0], [-4.0, 12.0]]).tolist()
    [5.0, 13.0]
    """
    parts = np.asarray(contributions, dtype=np.float64)
    variance = np.einsum("i...,i...->...", parts, _with(parts, correlation))
    return np.asarray(np.sqrt(np.maximum(variance, 0.0)))


def shares(contributions: ArrayLike, correlation: ArrayLike | None = None) -> Reals:
    """Share of each input in the combined variance.

    Formula
    -------
    s_i = c_i*(R c)_i/(c R c); c_i**2/(c_1**2 + ... + c_n**2) for independent inputs

    Parameters
    ----------
    contributions : array, one element per input
        contributions as `contributions` gives them [unit of the result]
    correlation : array, inputs x inputs, or None
        R, correlation coefficients of the inputs; None: they are independent [1]

    Returns
    -------
    array of the same shape
        shares, which sum to 1; negative for an input that cancels others [1]

    Validity
    --------
    NaN where nothing contributes: there is nothing to share

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.1.2 and 5.2.2 [from memory]

    Example
    -------
    >>> shares([3.0, -4.0]).round(2).tolist()
    [0.36, 0.64]
    """
    parts = np.asarray(contributions, dtype=np.float64)
    each = parts * _with(parts, correlation)
    with np.errstate(invalid="ignore"):
        return np.asarray(each / np.sum(each))


def _with(parts: Reals, correlation: ArrayLike | None) -> Reals:
    """Each contribution with all that go with it."""
    return parts if correlation is None else np.asarray(correlation, dtype=np.float64) @ parts


def expanded(u: Real, k: Real) -> Real:
    """Expanded uncertainty.

    Formula
    -------
    U = k*u

    Parameters
    ----------
    u : float or array
        standard uncertainty [unit of the result]
    k : float or array
        coverage factor [1]

    Returns
    -------
    float or array, shape by broadcasting
        expanded uncertainty [unit of the result]

    Validity
    --------
    k says how much is covered only where the form of the distribution is known

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 6.2.1 [from memory]

    Example
    -------
    >>> expanded(1.19, 2.0)
    2.38
    """
    return k * u


def relative(u: Real, value: Real) -> float:
    """An uncertainty as a share of the value it belongs to.

    Formula
    -------
    r = u/|y|

    Parameters
    ----------
    u : float
        standard or expanded uncertainty [unit of the result]
    value : float
        y, value of the result [unit of the result]

    Returns
    -------
    float
        share [1]

    Validity
    --------
    y other than zero

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.1.6 [from memory]

    Example
    -------
    >>> relative(0.5, -200.0)
    0.0025
    """
    return float(u / np.abs(value))
