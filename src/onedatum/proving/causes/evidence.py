"""How likely the readings are under a cause, its size taken over its prior.

Between two neighbouring sizes the pattern is taken as straight and the scatter as that of the middle; the integral over
the size is then in closed form, and exact for a cause whose pattern is proportional to its size, however close the
sizes lie.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import log_ndtr, logsumexp

from onedatum.foundation.numerics import Reals
from onedatum.proving.causes.model import Predicted

_FLAT = 1e-10
"""A gap over which the readings move by less than this many standard deviations, squared, is flat."""

_STEEP = 100.0
"""A density at the end of a gap beyond exp of this is all at that end."""


@dataclass(frozen=True)
class Evidence:
    """What the readings say of one cause."""

    log_likelihood: float
    size: float
    """Expected size, were it this cause."""
    size_u: float
    """Its standard uncertainty."""


def of_point(values: Reals, predicted: Predicted, number: int = 0) -> float:
    """Log likelihood at one size."""
    return float(_log_normal(values - predicted.mean[number], predicted.covariance[number]))


def _log_normal(residual: Reals, covariance: Reals) -> Reals:
    lower = np.linalg.cholesky(covariance)
    white = np.linalg.solve(lower, residual[..., None])[..., 0]
    log_det = 2.0 * np.log(np.diagonal(lower, axis1=-2, axis2=-1)).sum(axis=-1)
    count = residual.shape[-1]
    return np.asarray(-0.5 * ((white**2).sum(axis=-1) + log_det + count * np.log(2.0 * np.pi)))


def over_sizes(values: Reals, nodes: Reals, masses: Reals, predicted: Predicted) -> Evidence:
    """The likelihood over all sizes, and what the size then is."""
    sound = np.asarray(np.isfinite(predicted.mean).all(axis=1))
    kept = sound[:-1] & sound[1:] & (masses > 0.0)
    if not kept.any():
        return Evidence(-np.inf, float("nan"), float("nan"))
    width = np.diff(nodes)[kept]
    first = predicted.mean[:-1][kept]
    slope = (predicted.mean[1:][kept] - first) / width[:, None]
    covariance = 0.5 * (predicted.covariance[:-1] + predicted.covariance[1:])[kept]
    lower = np.linalg.cholesky(covariance)
    white = np.linalg.solve(lower, np.stack([values - first, slope], axis=-1))
    residual, along = white[..., 0], white[..., 1]
    a, b = (along**2).sum(axis=-1), (along * residual).sum(axis=-1)
    log_det = np.log(np.diagonal(lower, axis1=-2, axis2=-1)).sum(axis=-1)
    fixed = -0.5 * ((residual**2).sum(axis=-1) + len(values) * np.log(2.0 * np.pi)) - log_det
    log_area, mean, variance = _along(a, b, width)
    log_each = fixed + log_area + np.log(masses[kept] / width)
    log_whole = float(logsumexp(log_each))
    share = np.exp(log_each - log_whole)
    size = nodes[:-1][kept] + mean
    expected = float(share @ size)
    spread = float(share @ (variance + (size - expected) ** 2))
    return Evidence(log_whole, expected, float(np.sqrt(spread)))


def _along(a: Reals, b: Reals, width: Reals) -> tuple[Reals, Reals, Reals]:
    """Of exp(-a t**2/2 + b t) from 0 to the width: the log of its integral, its mean and its variance."""
    flat = a * width**2 < _FLAT
    a_safe = np.where(flat, 1.0, a)
    middle, sigma = b / a_safe, 1.0 / np.sqrt(a_safe)
    low, high = -middle / sigma, (width - middle) / sigma
    log_inside = _log_between(low, high)
    log_area = 0.5 * b**2 / a_safe + np.log(np.sqrt(2.0 * np.pi) * sigma) + log_inside
    at_low, at_high = (np.exp(np.minimum(-0.5 * x**2 - log_inside, _STEEP)) / np.sqrt(2.0 * np.pi) for x in (low, high))
    mean = np.clip(middle + sigma * (at_low - at_high), 0.0, width)
    variance = sigma**2 * (1.0 + low * at_low - high * at_high - (at_low - at_high) ** 2)
    variance = np.clip(np.nan_to_num(variance), 0.0, width**2 / 12.0)
    return (
        np.where(flat, np.log(width), log_area),
        np.where(flat, 0.5 * width, np.nan_to_num(mean)),
        np.where(flat, width**2 / 12.0, variance),
    )


def _log_between(low: Reals, high: Reals) -> Reals:
    """Log of the normal probability between two ends, without loss in the tails."""
    flip = low > 0.0
    first, second = np.where(flip, -high, low), np.where(flip, -low, high)
    top = log_ndtr(second)
    return np.asarray(top + np.log1p(-np.exp(np.minimum(log_ndtr(first) - top, -1e-16))))
