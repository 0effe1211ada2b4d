"""Balance of quantities over a tank or a net of tanks: what does not add up, and which measurement it may be.

A balance that closes is no proof of tightness, and one that does not names no cause: a leak, a meter, a table, a
temperature and a clock can all open it. Where a leak is suspected the local rules say who is told and how soon; they
come before any statistic.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import series_of

_VOLUME = "[-1000000000, 1000000000]"
_VOLUME_U = "[0, 1000000000]"


@formula(
    equation="r = V_i - V_o - dV",
    gives=("r", "what came in and neither went out nor stayed"),
    where={
        "in_m3": ("V_i", "quantity in", _VOLUME),
        "out_m3": ("V_o", "quantity out", _VOLUME),
        "stock_change_m3": ("dV", "stock after less stock before", _VOLUME),
    },
    source="derived: conservation of mass, at one density",
)
def balance_residual_m3(in_m3: Real, out_m3: Real, stock_change_m3: Real) -> Real:
    """What a balance leaves over; volumes at one reference temperature, or a change of it counts as a loss.

    Example
    -------
    >>> balance_residual_m3(30.0, 12.0, 17.5)
    0.5
    """
    return in_m3 - out_m3 - stock_change_m3


@formula(
    equation="u = sqrt(u_i**2 + u_o**2 + u_V**2)",
    gives=("u", "standard uncertainty of what is left over"),
    where={
        "in_u_m3": ("u_i", "standard uncertainty of the quantity in", _VOLUME_U),
        "out_u_m3": ("u_o", "standard uncertainty of the quantity out", _VOLUME_U),
        "stock_change_u_m3": ("u_V", "standard uncertainty of the change of the stock", _VOLUME_U),
    },
    source="jcgm-100: 5.1.2",
)
def balance_u_m3(in_u_m3: Real, out_u_m3: Real, stock_change_u_m3: Real) -> Real:
    """Standard uncertainty of what a balance leaves over, for independent quantities.

    Example
    -------
    >>> round(float(balance_u_m3(0.3, 0.4, 0.0)), 9)
    0.5
    """
    result: Real = np.sqrt(in_u_m3**2 + out_u_m3**2 + stock_change_u_m3**2)
    return result


@formula(
    equation="c = r**2/u**2",
    gives=("c", "chi-squared of the balance, of one degree of freedom"),
    where={
        "residual_m3": ("r", "what the balance leaves over", _VOLUME),
        "u_m3": ("u", "its standard uncertainty", "[0.000000001, 1000000000]"),
    },
    source="crowe-1983: global test",
)
def balance_statistic(residual_m3: Real, u_m3: Real) -> Real:
    """What one balance leaves over, against its uncertainty.

    Example
    -------
    >>> balance_statistic(1.0, 0.5)
    4.0
    """
    return residual_m3**2 / u_m3**2


@formula(
    equation="V_l = f*V_t + V_c",
    gives=("V_l", "most that the month's book and stick may differ by"),
    where={
        "throughput_m3": ("V_t", "quantity that went through in the month", "[0, 10000000]"),
        "share": ("f", "share of the throughput", "[0, 0.1]"),
        "constant_m3": ("V_c", "constant part", "[0, 100]"),
    },
    source="cfr-40-280-inventory",
)
def inventory_limit_m3(throughput_m3: Real, share: Real, constant_m3: Real) -> Real:
    """Limit of a month's inventory control; which share and constant hold, and what to do beyond, the local rules say.

    40 CFR 280.43(a): a share of 0.01 and a constant of 130 US gallons (0.4921 m3).

    Example
    -------
    >>> round(inventory_limit_m3(100.0, 0.01, 0.5), 9)
    1.5
    """
    return share * throughput_m3 + constant_m3


class Reconciled(NamedTuple):
    """Quantities that close all balances, how they were moved to it, and the tests on that."""

    values: Reals
    corrections: Reals
    covariance: Reals
    """Of the reconciled values."""
    imbalances: Reals
    chi_squared: float
    degrees_of_freedom: int
    tests: Reals
    """Size of each correction over its standard deviation; NaN where no balance tests that measurement."""


def reconciled(results: ArrayLike, covariance: ArrayLike, balances: ArrayLike) -> Reconciled:
    """Measured quantities moved as little as their uncertainties let, until all balances close.

    Formula
    -------
    x = y - V*A'*(A*V*A')**-1*A*y; chi-squared = (A*y)'*(A*V*A')**-1*A*y; test abs(x_i - y_i)/sqrt(W_ii),
    W = V*A'*(A*V*A')**-1*A*V

    Parameters
    ----------
    results : array
        y, measured quantities [any unit]
    covariance : array, square
        V, their covariance, symmetric [square of the unit]
    balances : array, balances by quantities
        A, one row for each balance: 1 in, -1 out or stored, 0 elsewhere [1]

    Returns
    -------
    Reconciled
        values, corrections, imbalances [unit], covariance [square of the unit], chi-squared and tests [1]

    Validity
    --------
    balances independent of each other, every balance with a quantity that is uncertain; normal errors for the tests.
    Two quantities that stand in the same balances alone have the same test: it cannot tell which of them it is.

    Source
    ------
    Crowe, Garcia Campos and Hrymak 1983; Narasimhan and Jordache 2000 [from memory]

    Example
    -------
    >>> found = reconciled([10.0, 4.0, 5.0], np.diag([1.0, 1.0, 1.0]), [[1.0, -1.0, -1.0]])
    >>> found.values.round(6).tolist(), round(found.chi_squared, 6)
    ([9.666667, 4.333333, 5.333333], 0.333333)
    """
    y = series_of(results, "reconciled", "results")
    a, v = _matrix(balances, "balances", len(y)), _matrix(covariance, "covariance", len(y))
    _refuse_no_covariance(v)
    imbalances = a @ y
    of_balances = a @ v @ a.T
    scale = np.sqrt(np.diag(of_balances))
    if not np.all(scale > 0.0):
        raise _dependent("one without a quantity that is uncertain")
    evened = of_balances / np.outer(scale, scale)
    if np.linalg.eigvalsh(evened)[0] < 1e-12 * len(scale):
        raise _dependent("one that follows from the others")
    gain = np.linalg.solve(evened, a @ v / scale[:, None]).T / scale
    corrections = -gain @ imbalances
    taken = gain @ of_balances @ gain.T
    deviations = np.sqrt(np.maximum(np.diag(taken), 0.0))
    tested = deviations > 1e-9 * np.sqrt(np.diag(v))
    tests = np.where(tested, np.abs(corrections) / np.where(tested, deviations, 1.0), np.nan)
    reduced = imbalances / scale
    chi_squared = float(reduced @ np.linalg.solve(evened, reduced))
    return Reconciled(y + corrections, corrections, v - taken, imbalances, chi_squared, len(a), tests)


def _matrix(rows: ArrayLike, parameter: str, columns: int) -> Reals:
    """A matrix of so many columns, all numbers; raises ValidityError for another."""
    try:
        matrix = np.asarray(rows, dtype=np.float64)
    except (TypeError, ValueError) as error:
        why = "each row has a number for each quantity"
        raise ValidityError("detection.reconciled", parameter, "rows of numbers", "another", why) from error
    if matrix.ndim != 2 or matrix.shape[1] != columns or not np.all(np.isfinite(matrix)) or not len(matrix):
        shown = " by ".join(map(str, matrix.shape)) or "a number"
        got = shown if np.all(np.isfinite(matrix)) else "one that is not finite"
        allowed = f"rows of {columns} finite numbers"
        raise ValidityError("detection.reconciled", parameter, allowed, got, "one number for each quantity")
    return matrix


def _refuse_no_covariance(matrix: Reals) -> None:
    if not _is_covariance(matrix):
        raise ValidityError(
            "detection.reconciled",
            "covariance",
            "square, symmetric, without a negative variance",
            "another",
            "no set of errors has such a covariance",
        )


def _is_covariance(matrix: Reals) -> bool:
    """Whether errors can have it: symmetric, and no combination of them with a variance below zero."""
    if matrix.shape[0] != matrix.shape[1] or np.any(np.diag(matrix) < 0.0):
        return False
    sizes = np.sqrt(np.diag(matrix))
    scale = np.outer(sizes, sizes)
    if np.any(np.abs(matrix - matrix.T) > 1e-9 * scale) or np.any(matrix[scale == 0.0]):
        return False
    evened = np.divide(matrix, scale, out=np.zeros_like(matrix), where=scale > 0.0)
    return bool(np.linalg.eigvalsh(evened)[0] > -1e-9)


def _dependent(got: str) -> ValidityError:
    why = "each balance must tell something of its own"
    return ValidityError("detection.reconciled", "balances", "balances independent of each other", got, why)
