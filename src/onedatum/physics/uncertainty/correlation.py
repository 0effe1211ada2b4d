"""Correlations of the inputs of a budget: the matrix, and whether errors can go together like that."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.numerics import Reals

LEAST_EIGENVALUE = 1e-9
"""Below this a matrix counts as singular: one error would follow from the others without doubt."""


def correlation_matrix(size: int, pairs: Iterable[tuple[int, int, float]]) -> Reals:
    """The matrix of inputs that are independent but for some pairs.

    Formula
    -------
    R_ii = 1, R_ij = R_ji = r

    Parameters
    ----------
    size : int
        number of inputs
    pairs : (i, j, r), one per pair
        the two inputs, counted from zero, and their correlation coefficient [1]

    Returns
    -------
    array, inputs x inputs
        correlation coefficients [1]

    Validity
    --------
    any; whether errors can go together like that is told by `is_correlation`

    Source
    ------
    JCGM 100:2008 Guide to the expression of uncertainty in measurement, 5.2.2 [from memory]

    Example
    -------
    >>> correlation_matrix(2, [(0, 1, 0.5)]).tolist()
    [[1.0, 0.5], [0.5, 1.0]]
    """
    matrix = np.eye(size)
    for one, other, r in pairs:
        matrix[one, other] = matrix[other, one] = r
    return matrix


def least_eigenvalue(matrix: ArrayLike) -> float:
    """How far a matrix of correlations is from one that no errors can have.

    Formula
    -------
    least lambda of R x = lambda*x

    Parameters
    ----------
    matrix : array, inputs x inputs
        correlation coefficients, symmetric [1]

    Returns
    -------
    float
        least eigenvalue: 1 for independent inputs, 0 or less where errors cannot go together like that [1]

    Validity
    --------
    finite coefficients

    Source
    ------
    derived: the least variance that a combination of the inputs with unit weight can have

    Example
    -------
    >>> round(least_eigenvalue([[1.0, -0.9], [-0.9, 1.0]]), 3)
    0.1
    """
    return float(np.linalg.eigvalsh(np.asarray(matrix, dtype=np.float64))[0])


def is_correlation(matrix: ArrayLike) -> bool:
    """Whether errors can go together like that.

    Formula
    -------
    R symmetric, R_ii = 1, least eigenvalue of R above 1e-9

    Parameters
    ----------
    matrix : array, inputs x inputs
        correlation coefficients [1]

    Returns
    -------
    bool
        whether the matrix is positive definite

    Validity
    --------
    any; a pair that goes together without doubt (r = 1 or -1) is one input, not two

    Source
    ------
    derived: a variance is positive for every combination of the inputs

    Example
    -------
    >>> is_correlation([[1.0, 0.5], [0.5, 1.0]]), is_correlation([[1.0, 1.0], [1.0, 1.0]])
    (True, False)
    """
    found = np.asarray(matrix, dtype=np.float64)
    if not np.all(np.isfinite(found)) or not np.array_equal(found, found.T) or not np.all(np.diag(found) == 1.0):
        return False
    return least_eigenvalue(found) > LEAST_EIGENVALUE
