"""Drift of an instrument between its calibrations: how far it went while nobody touched it, and how well that is known.

Each change runs from an error as left to the next error as found. The line goes through zero, for at the moment it was
left the instrument had gone nowhere; the weights are those of the uncertainties.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import Where, Whole, formula


@dataclass(frozen=True, eq=False)
class Changes(Whole):
    """Changes of an error over their times, each with its standard uncertainty; refuses what is no change."""

    called: ClassVar[str] = "changes"
    own_axis: ClassVar[frozenset[str]] = frozenset({"times_s", "changes_m", "u_m"})

    times_s: Reals
    changes_m: Reals
    u_m: Reals

    def __post_init__(self) -> None:
        sizes = {len(self.times_s), len(self.changes_m), len(self.u_m)}
        if len(sizes) != 1 or 0 in sizes:
            raise _refusal("one change or more, each with time and uncertainty", "none", "no drift without a change")
        if not (np.all(self.times_s > 0.0) and np.all(self.u_m > 0.0)):
            raise _refusal(
                "above 0 in time and in uncertainty", "another", "time runs on, and nothing is known exactly"
            )

    def told(self, shown: str = "") -> str:
        """How many changes there are, over how long a time."""
        return f"{len(self.times_s)} changes over {float(np.sum(self.times_s)) / 86400.0:.4g} d"


def _refusal(allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError("calibration.drift", "changes", allowed, got, why)


_CHANGES: Where = {"changes": ("c", "changes from as left to as found", Changes)}


@formula(
    method="the weighted line through zero: the sum of w*t*c over the sum of w*t**2, w = 1/u**2",
    gives=("d", "drift"),
    where=_CHANGES,
    source="derived",
)
def drift_m_per_s(changes: Changes) -> Real:
    """Drift by the weighted line through zero.

    Example
    -------
    >>> float(drift_m_per_s(Changes(np.array([1e7, 2e7]), np.array([0.001, 0.002]), np.array([0.001, 0.001]))))
    1e-10
    """
    weights = 1.0 / changes.u_m**2
    return same_kind(np.sum(weights * changes.times_s * changes.changes_m) / np.sum(weights * changes.times_s**2))


@formula(
    method="the root of 1 over the sum of w*t**2, times the scatter where that is above 1",
    gives=("u_d", "standard uncertainty of the drift"),
    where=_CHANGES,
    source="derived",
)
def drift_standard_m_per_s(changes: Changes) -> Real:
    """Standard uncertainty of the drift; changes that scatter more than they should know it less well.

    The uncertainties count as independent of each other; a reference used for all of them is counted too much, not
    too little.

    Example
    -------
    >>> round(float(drift_standard_m_per_s(Changes(np.array([1e7]), np.array([0.001]), np.array([0.001])))), 14)
    1e-10
    """
    plain = 1.0 / np.sqrt(np.sum((changes.times_s / changes.u_m) ** 2))
    return same_kind(plain * np.maximum(drift_scatter(changes), 1.0))


@formula(
    method="the root of the weighted squares left over by the line, over the number of changes less one; 0 for one",
    gives=("B", "scatter of the changes over what their uncertainties allow"),
    where=_CHANGES,
    source="derived",
)
def drift_scatter(changes: Changes) -> Real:
    """Scatter of the changes about the line, as a multiple of what their uncertainties let expect.

    Example
    -------
    >>> float(drift_scatter(Changes(np.array([1e7, 1e7]), np.array([0.001, 0.001]), np.array([0.001, 0.001]))))
    0.0
    """
    count = len(changes.times_s)
    if count < 2:
        return 0.0
    left = (changes.changes_m - drift_m_per_s(changes) * changes.times_s) / changes.u_m
    return same_kind(np.sqrt(np.sum(left**2) / (count - 1)))


@formula(
    equation="c = e_f - e_l",
    gives=("c", "change of the error"),
    where={
        "found_m": ("e_f", "error as found", "[-1000, 1000]"),
        "left_m": ("e_l", "error as it was left before", "[-1000, 1000]"),
    },
    source="derived",
)
def change_m(found_m: Real, left_m: Real) -> Real:
    """Change of an error from as left to the next as found.

    Example
    -------
    >>> round(change_m(0.0021, 0.0008), 9)
    0.0013
    """
    return found_m - left_m


@formula(
    equation="u_c = sqrt(u_f**2 + u_l**2)",
    gives=("u_c", "standard uncertainty of the change"),
    where={
        "found_u_m": ("u_f", "standard uncertainty of the error as found", "[0, 100]"),
        "left_u_m": ("u_l", "standard uncertainty of the error as left", "[0, 100]"),
    },
    source="jcgm-100: 5.1.2",
)
def change_u_m(found_u_m: Real, left_u_m: Real) -> Real:
    """Standard uncertainty of a change; what both calibrations have in common is counted, though it cancels.

    Example
    -------
    >>> round(float(change_u_m(0.003, 0.004)), 9)
    0.005
    """
    result: Real = np.sqrt(found_u_m**2 + left_u_m**2)
    return result


@formula(
    equation="d_b = abs(d) + k*u_d",
    gives=("d_b", "size of the drift, at most"),
    where={
        "rate_m_per_s": ("d", "drift", "[-0.001, 0.001]"),
        "coverage_factor": ("k", "coverage factor", "[0, 5]"),
        "rate_u_m_per_s": ("u_d", "standard uncertainty of the drift", "[0, 0.001]"),
    },
    source="derived",
)
def drift_bound_m_per_s(rate_m_per_s: Real, coverage_factor: Real, rate_u_m_per_s: Real) -> Real:
    """Size of a drift with what may be missing of it: the interval shall not rest on a drift known badly.

    Example
    -------
    >>> float(drift_bound_m_per_s(-1e-10, 2.0, 5e-11))
    2e-10
    """
    result: Real = np.abs(rate_m_per_s) + coverage_factor * rate_u_m_per_s
    return result
