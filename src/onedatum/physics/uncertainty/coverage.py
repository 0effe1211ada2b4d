"""Degrees of freedom of a result, and the factor that covers a share of its distribution."""

from __future__ import annotations

from math import inf, isinf

import numpy as np
from numpy.typing import ArrayLike


def effective_degrees_of_freedom(contributions: ArrayLike, degrees_of_freedom: ArrayLike) -> float:
    """Effective degrees of freedom of a result of independent inputs.

    Formula
    -------
    nu_eff = u_c**4/(c_1**4/nu_1 + ... + c_n**4/nu_n)

    Parameters
    ----------
    contributions : array, one element per input
        c_i, contributions of the inputs [unit of the result]
    degrees_of_freedom : array of the same shape
        nu_i, degrees of freedom of their standard uncertainties; infinite where known beyond doubt [1]

    Returns
    -------
    float
        nu_eff, not rounded; infinite where every input is known beyond doubt [1]

    Validity
    --------
    independent inputs; NaN if a contribution is NaN; the printed examples of the source truncate to a whole number

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, G.4.1 [from memory]

    Example
    -------
    >>> round(effective_degrees_of_freedom([0.25, 0.57, 0.82], [9, 4, 14]), 2)
    19.0
    """
    fourth = np.asarray(contributions, dtype=np.float64) ** 4
    below = float(np.sum(fourth / np.asarray(degrees_of_freedom, dtype=np.float64)))
    return inf if below == 0.0 else float(np.sum(np.sqrt(fourth)) ** 2 / below)


def coverage_factor(degrees_of_freedom: float, probability: float) -> float:
    """Factor on a standard uncertainty that covers a share of the distribution, on both sides alike.

    Formula
    -------
    k = t_((1 + p)/2)(nu), Student's distribution; the normal one for infinite degrees of freedom

    Parameters
    ----------
    degrees_of_freedom : float
        nu, degrees of freedom of the standard uncertainty [1]
    probability : float
        p, share to be covered, above 0 and below 1 [1]

    Returns
    -------
    float
        k [1]

    Validity
    --------
    A result that is close to normal. The usual k = 2 covers 0.954 499 7 of a normal distribution; p = 0.9545, written
    for it, is rounded and gives 2.000 002.

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, G.3 and table G.2 [from memory]

    Example
    -------
    >>> round(coverage_factor(9.0, 0.9545), 2), round(coverage_factor(float("inf"), 0.95), 2)
    (2.32, 1.96)
    """
    from scipy.special import ndtri, stdtrit

    upper = 0.5 * (1.0 + probability)
    return float(ndtri(upper) if isinf(degrees_of_freedom) else stdtrit(degrees_of_freedom, upper))
