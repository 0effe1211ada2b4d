"""Drawing inputs for a Monte Carlo, at random or evenly spread."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, isinf, pi, sqrt
from typing import Literal

import numpy as np

from onedatum.foundation.numerics import Reals

Form = Literal["normal", "rectangular", "triangular", "arcsine"]
_HALF_WIDTHS: Mapping[Form, float] = {"rectangular": sqrt(3.0), "triangular": sqrt(6.0), "arcsine": sqrt(2.0)}
"""Half-widths of distributions of unit standard deviation (JCGM 100, 4.3.7 and 4.3.9; JCGM 101, 6.4)."""
SOBOL_BITS = 30
"""Binary digits of an evenly spread point."""


@dataclass(frozen=True)
class Distribution:
    """What an input may be: its value, its standard uncertainty, the form of the distribution.

    A normal one of few degrees of freedom is drawn as Student's, shifted and scaled (JCGM 101, 6.4.9): its tails are
    heavier, and its standard deviation is larger than the standard uncertainty.
    """

    value: float
    standard: float
    form: Form = "normal"
    degrees_of_freedom: float = inf


def draws(
    distributions: Sequence[Distribution], count: int, random: np.random.Generator, correlation: Reals | None = None
) -> Reals:
    """Draw every input `count` times.

    Formula
    -------
    x_i = value + standard*e_i, e_i drawn from the form; correlated ones through normal variates of a correlation chosen
    such that the stated one comes out

    Parameters
    ----------
    distributions : Distribution, one per input
        what each input may be [unit of the input]
    count : int
        number of draws
    random : numpy Generator
        where randomness comes from; its state is moved on
    correlation : array, inputs x inputs, or None
        correlation coefficients; None: the inputs are independent [1]

    Returns
    -------
    array, inputs x draws
        the draws, a row for each input [unit of the input]

    Validity
    --------
    The stated correlation is met by normal inputs and by rectangular ones among themselves. Between other forms it
    comes out nearer to zero, by at most 0.03, with an arcsine by at most 0.05; heavy tails of few degrees of freedom
    bring it nearer, too. Rectangular inputs that together could hardly go like that are drawn as the others are, at
    most 0.02 nearer to zero.

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 6.4 [from memory]

    Example
    -------
    >>> draws([Distribution(5.0, 0.0)], 3, np.random.default_rng(1)).tolist()
    [[5.0, 5.0, 5.0]]
    """
    if correlation is not None:
        normal = _lower(distributions, correlation) @ random.standard_normal((len(distributions), count))
        return np.stack([_from_normal(each, row) for each, row in zip(distributions, normal, strict=True)])
    found = np.empty((len(distributions), count))
    for each, row in zip(distributions, found, strict=True):
        _DRAWN[each.form](each, random, row)
        row *= each.standard
        row += each.value
    return found


def sobol_draws(
    distributions: Sequence[Distribution], power: int, seed: int, correlation: Reals | None = None
) -> Reals:
    """Spread 2**power points evenly over what the inputs may be.

    Formula
    -------
    scrambled Sobol points u in the unit cube; x_i by the inverse distribution of u_i

    Parameters
    ----------
    distributions : Distribution, one per input
        what each input may be [unit of the input]
    power : int
        their number is two to this power
    seed : int
        of the scrambling
    correlation : array, inputs x inputs, or None
        as for `draws` [1]

    Returns
    -------
    array, inputs x points
        the points, a row for each input [unit of the input]

    Validity
    --------
    For means, standard deviations and the symmetric interval of smooth chains; the shortest interval gains next to
    nothing.

    Source
    ------
    scipy.stats.qmc.Sobol, scrambled after Owen [read]

    Example
    -------
    >>> sobol_draws([Distribution(5.0, 0.0)], 1, 1).tolist()
    [[5.0, 5.0]]
    """
    from scipy.special import ndtri
    from scipy.stats import qmc

    even = qmc.Sobol(len(distributions), bits=SOBOL_BITS, rng=np.random.default_rng(seed)).random_base2(power).T
    # The points are lower ends of their cells; the middles keep away from 0, where the inverse of a normal has no end.
    normal: Reals = ndtri(even + 0.5**SOBOL_BITS / 2.0)
    if correlation is not None:
        normal = _lower(distributions, correlation) @ normal
    return np.stack([_from_normal(each, row) for each, row in zip(distributions, normal, strict=True)])


def _lower(distributions: Sequence[Distribution], correlation: Reals) -> Reals:
    """What makes normal variates of independent ones: for a pair of rectangular inputs their 2 sin(pi r/6) gives r.

    That moves correlations away from zero, at times so far that no normal variates have them: then they stay as stated.
    """
    flat = np.array([each.form == "rectangular" for each in distributions])
    moved = np.where(flat[:, None] & flat[None, :], 2.0 * np.sin(pi * correlation / 6.0), correlation)
    np.fill_diagonal(moved, 1.0)
    try:
        return np.asarray(np.linalg.cholesky(moved), dtype=np.float64)
    except np.linalg.LinAlgError:
        return np.asarray(np.linalg.cholesky(correlation), dtype=np.float64)


def _from_normal(each: Distribution, normal: Reals) -> Reals:
    """The input of a normal variate: the same share of its distribution lies below."""
    from scipy.special import ndtr

    if each.form == "normal":
        return np.asarray(each.value + each.standard * _student(each.degrees_of_freedom, normal))
    below = ndtr(normal)
    if each.form == "rectangular":
        unit = 2.0 * below - 1.0
    elif each.form == "triangular":
        half = np.sqrt(2.0 * np.minimum(below, 1.0 - below))
        unit = np.where(below < 0.5, half - 1.0, 1.0 - half)
    else:
        unit = -np.cos(pi * below)
    return np.asarray(each.value + each.standard * _HALF_WIDTHS[each.form] * unit)


def _student(degrees_of_freedom: float, normal: Reals) -> Reals:
    """Student's variate of a normal one; worked in the lower tail, where no digits are lost."""
    from scipy.special import ndtr, stdtrit

    if isinf(degrees_of_freedom):
        return normal
    return np.asarray(np.copysign(stdtrit(degrees_of_freedom, ndtr(-np.abs(normal))), normal))


def _normal(each: Distribution, random: np.random.Generator, row: Reals) -> None:
    if isinf(each.degrees_of_freedom):
        random.standard_normal(out=row)
    else:
        row[:] = random.standard_t(each.degrees_of_freedom, len(row))


def _rectangular(each: Distribution, random: np.random.Generator, row: Reals) -> None:
    random.random(out=row)
    row -= 0.5
    row *= 2.0 * _HALF_WIDTHS["rectangular"]


def _triangular(each: Distribution, random: np.random.Generator, row: Reals) -> None:
    random.random(out=row)
    row += random.random(len(row))
    row -= 1.0
    row *= _HALF_WIDTHS["triangular"]


def _arcsine(each: Distribution, random: np.random.Generator, row: Reals) -> None:
    random.random(out=row)
    np.cos(pi * row, out=row)
    row *= _HALF_WIDTHS["arcsine"]


_DRAWN: Mapping[Form, Callable[[Distribution, np.random.Generator, Reals], None]] = {
    "normal": _normal,
    "rectangular": _rectangular,
    "triangular": _triangular,
    "arcsine": _arcsine,
}
