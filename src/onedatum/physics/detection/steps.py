"""A step of unknown size at an unknown time, by the ratio of likelihoods."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import series_of, within


class StepSearch(NamedTuple):
    """For each sample as the last one: the statistic, the index of the first sample after the step, the step."""

    statistics: Reals
    starts: NDArray[Any]
    steps: Reals

    @property
    def last(self) -> tuple[float, int, float]:
        """Statistic, start and step with the whole series seen."""
        return float(self.statistics[-1]), int(self.starts[-1]), float(self.steps[-1])


def step_search(values: ArrayLike, standard: float, window: int) -> StepSearch:
    """Step by the greatest likelihood ratio over all starts in a window, after each sample.

    Formula
    -------
    g_n = max over j of (x_j + ... + x_n)**2/(2*s**2*(n - j + 1)), j from n - W + 1; step (x_j + ... + x_n)/(n - j + 1)

    Parameters
    ----------
    values : array
        x, residuals with mean zero before the step, in the order of time [any unit]
    standard : float
        s, their standard deviation, above 0 [unit of the values]
    window : int
        W, most samples that a step may lie back; 1 or more

    Returns
    -------
    StepSearch
        statistics [1], starts (index from 0), steps [unit of the values]; of equal likelihood the latest start

    Validity
    --------
    independent normal residuals of known mean and spread. The work grows with the window.

    Source
    ------
    Willsky and Jones 1976, IEEE Trans. Autom. Control 21; Basseville and Nikiforov 1993 [from memory]

    Example
    -------
    >>> step_search([0.0, 0.0, 2.0, 2.0], 1.0, 4).last
    (4.0, 2, 2.0)
    """
    kept = series_of(values, "step_search", "values")
    within(standard, 0.0, float("inf"), "step_search", "standard", "a residual without scatter needs no test")
    if window < 1:
        raise ValidityError("detection.step_search", "window", "1 or more", f"{window}", "a step lasts a sample")
    sums = np.concatenate(([0.0], np.cumsum(kept)))
    best, lags = np.full(len(kept), -1.0), np.ones(len(kept), dtype=np.int64)
    for lag in range(1, min(window, len(kept)) + 1):
        ratios = (sums[lag:] - sums[:-lag]) ** 2 / lag
        tail = best[lag - 1 :]
        better = ratios > tail
        np.copyto(tail, ratios, where=better)
        np.copyto(lags[lag - 1 :], lag, where=better)
    ends = np.arange(1, len(kept) + 1)
    steps = (sums[ends] - sums[ends - lags]) / lags
    return StepSearch(best / (2.0 * standard**2), ends - lags, steps)


@formula(
    method="the lesser of 1 and W*P(X > 2*g), X of chi-squared with one degree of freedom",
    gives=("p", "probability of such a statistic by chance at one time, at most"),
    where={
        "statistic": ("g", "greatest likelihood ratio", "[0, 1000000]"),
        "window": ("W", "starts that were tried", "[1, 1000000]"),
    },
    source="derived: sum of the probabilities of all starts",
)
def step_chance(statistic: Real, window: Real) -> Real:
    """Probability at most that chance alone shows such a step at one time; over many samples it comes anew each time.

    Example
    -------
    >>> round(float(step_chance(1.920729, 1.0)), 6)
    0.05
    """
    from scipy.special import chdtrc

    return same_kind(np.minimum(1.0, window * chdtrc(1.0, 2.0 * np.asarray(statistic))))
