"""Mean number of samples until a chart alarms, by its integral equation (Nystroem, Gauss points).

The matrix of the equation is that of a chain whose rows, with the chance of an alarm, add up to one. States are taken
out one by one by additions alone (Grassmann, Taksar, Heyman), so that run lengths of any size keep their digits.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, inf

import numpy as np

from onedatum.foundation.numerics import Reals

_LEAST_POINTS = 16
_POINTS_PER_WIDTH = 2
"""Gauss points for each standard deviation of a step: the equation is then solved to some 1e-12 of the run length."""


@lru_cache(maxsize=64)
def _gauss(count: int) -> tuple[Reals, Reals]:
    points, weights = np.polynomial.legendre.leggauss(count)
    return points, weights


def _points(widths: float) -> tuple[Reals, Reals]:
    """Gauss points and weights on -1 to 1, enough for a range of so many standard deviations of a step."""
    return _gauss(_LEAST_POINTS + ceil(_POINTS_PER_WIDTH * widths))


def cusum_one_side(allowance: float, decision_interval: float, shift: float) -> float:
    """Mean run length of one cumulative sum that begins at zero; infinite where it is beyond all numbers."""
    from scipy.special import ndtr

    points, weights = _points(decision_interval)
    states = np.concatenate(([0.0], decision_interval * (points + 1.0) / 2.0))
    drift = shift - allowance
    moves = np.empty((len(states), len(states)))
    moves[:, 0] = ndtr(-states - drift)
    moves[:, 1:] = _normal(states[None, 1:] - states[:, None] - drift) * weights * (decision_interval / 2.0)
    return _mean_steps(moves, ndtr(states + drift - decision_interval))


def ewma_both_sides(weight: float, limit_factor: float, shift: float) -> float:
    """Mean run length of a moving average that begins at zero, with limits that stand still."""
    from scipy.special import ndtr

    limit = limit_factor * np.sqrt(weight / (2.0 - weight))
    points, weights = _points(2.0 * limit / weight)
    states = np.concatenate(([0.0], limit * points))
    centre = (1.0 - weight) * states / weight + shift
    moves = np.zeros((len(states), len(states)))
    moves[:, 1:] = _normal(states[None, 1:] / weight - centre[:, None]) * weights * (limit / weight)
    return _mean_steps(moves, ndtr(-limit / weight - centre) + ndtr(centre - limit / weight))


def _normal(at: Reals) -> Reals:
    density: Reals = np.exp(-0.5 * at**2) / np.sqrt(2.0 * np.pi)
    return density


def _mean_steps(moves: Reals, leaving: Reals) -> float:
    """Mean steps from the first state until the chain is left; what the diagonal holds follows from the rest."""
    times = np.ones(len(leaving))
    leaving = leaving.copy()
    with np.errstate(over="ignore", divide="ignore", under="ignore"):
        for last in range(len(leaving) - 1, 0, -1):
            share = moves[:last, last] / (leaving[last] + moves[last, :last].sum())
            moves[:last, :last] += np.outer(share, moves[last, :last])
            leaving[:last] += share * leaving[last]
            times[:last] += share * times[last]
        return float(times[0] / leaving[0]) if leaving[0] > 0.0 else inf
