"""The second-order terms of a budget: what the curvature of a chain adds to its variance."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.numerics import Reals


def displacements(number: int) -> Reals:
    """By how many standard uncertainties each input is displaced in each working that the second-order terms need.

    Formula
    -------
    none moved; each at +1, -1, +2, -2; each pair at (+1, +1), (+1, -1), (-1, +1), (-1, -1)

    Parameters
    ----------
    number : int
        number of inputs

    Returns
    -------
    array, workings x inputs
        multiples of the standard uncertainty [1]

    Validity
    --------
    any number; 1 + 4*n + 2*n*(n - 1) workings

    Source
    ------
    derived: central differences

    Example
    -------
    >>> displacements(1).ravel().tolist()
    [0.0, 1.0, -1.0, 2.0, -2.0]
    """
    unit = np.eye(number)
    rows = [np.zeros(number)]
    rows += [step * unit[i] for i in range(number) for step in (1.0, -1.0, 2.0, -2.0)]
    for i, j in combinations(range(number), 2):
        rows += [a * unit[i] + b * unit[j] for a in (1.0, -1.0) for b in (1.0, -1.0)]
    return np.array(rows)


def second_order_standard(results: ArrayLike, number: int) -> float:
    """Combined standard uncertainty of independent inputs, with the terms of second order.

    Formula
    -------
    u**2 = sum c_i**2 + sum over i, j of c_ij**2/2 + c_i*c_ijj, c_ij and c_ijj the second and third differences

    Parameters
    ----------
    results : array, one element per working
        results of the workings that `displacements` names, in their order [unit of the result]
    number : int
        number of inputs

    Returns
    -------
    float
        combined standard uncertainty; NaN where a working left a validity [unit of the result]

    Validity
    --------
    independent inputs, symmetric about their values, close to normal; terms of higher order are left out

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.1.2 note [from memory]

    Example
    -------
    >>> x, y = (1.0 + 0.1 * displacements(2)).T
    >>> round(second_order_standard(x * y, 2) ** 2, 6)
    0.0201
    """
    y = np.asarray(results, dtype=np.float64)
    single = y[1 : 1 + 4 * number].reshape(number, 4).T
    pairs = y[1 + 4 * number :].reshape(-1, 4)
    first = (single[0] - single[1]) / 2
    variance = float(np.sum(first**2 + (single[0] - 2 * y[0] + single[1]) ** 2 / 2))
    variance += float(np.sum(first * (single[2] - 2 * single[0] + 2 * single[1] - single[3]) / 2))
    for (i, j), (both, up, down, neither) in zip(combinations(range(number), 2), pairs, strict=True):
        variance += float((both - up - down + neither) / 4) ** 2
        variance += first[i] * ((both + up - down - neither) / 2 - 2 * first[i])
        variance += first[j] * ((both - up + down - neither) / 2 - 2 * first[j])
    return float(np.sqrt(max(variance, 0.0))) if np.isfinite(variance) else float("nan")
