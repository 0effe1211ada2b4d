"""Coverage intervals from the ordered results of a Monte Carlo, and a histogram of them."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from onedatum.foundation.numerics import Reals

TAIL = 0.001
"""Share of the results that a histogram leaves out at each end: single results far out would squeeze the rest."""


class Interval(NamedTuple):
    """The ends of an interval."""

    low: float
    high: float


def shortest_interval(ordered: Reals, probability: float) -> Interval:
    """The shortest interval that holds a share of the results.

    Formula
    -------
    y_(r + q) - y_(r) least over r, q the integer part of p*M + 1/2

    Parameters
    ----------
    ordered : array
        results in rising order, at least two [unit of the result]
    probability : float
        p, share that the interval holds, above 0 and below 1 [1]

    Returns
    -------
    Interval
        its ends [unit of the result]

    Validity
    --------
    Its ends spread some 3.6 times as much from run to run as those of the symmetric interval.

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 5.3.4 and 7.7.4 [from memory]

    Example
    -------
    >>> import numpy as np
    >>> tuple(map(float, shortest_interval(np.array([0.0, 5.0, 6.0, 7.0]), 0.5)))
    (5.0, 7.0)
    """
    inside = _inside(len(ordered), probability)
    first = int(np.argmin(ordered[inside:] - ordered[: len(ordered) - inside]))
    return Interval(float(ordered[first]), float(ordered[first + inside]))


def symmetric_interval(ordered: Reals, probability: float) -> Interval:
    """The interval that leaves out as many results below as above.

    Formula
    -------
    from y_(r) to y_(r + q), r = (M - q)/2, q the integer part of p*M + 1/2

    Parameters
    ----------
    ordered : array
        results in rising order, at least two [unit of the result]
    probability : float
        p, share that the interval holds, above 0 and below 1 [1]

    Returns
    -------
    Interval
        its ends [unit of the result]

    Validity
    --------
    any distribution

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 7.7.2 [from memory]

    Example
    -------
    >>> import numpy as np
    >>> tuple(map(float, symmetric_interval(np.arange(101.0), 0.9)))
    (4.0, 95.0)
    """
    first, last = symmetric_ranks(len(ordered), probability)
    return Interval(float(ordered[first]), float(ordered[last]))


def order_ends(values: Reals, probability: float) -> None:
    """Put results in order in place, as far as intervals of this share reach from both ends; the rest stays between."""
    inside = _inside(len(values), probability)
    left = len(values) - inside
    if 2 * left >= len(values):
        values.sort()
        return
    values.partition((left - 1, inside))
    values[:left].sort()
    values[inside:].sort()


def symmetric_ranks(count: int, probability: float) -> tuple[int, int]:
    """Where the ends of the symmetric interval stand in the order, counted from zero."""
    inside = _inside(count, probability)
    first = max((count - inside + 1) // 2 - 1, 0)
    return first, first + inside


class Histogram(NamedTuple):
    """Edges of the bins, and the share of the results per unit in each."""

    edges: Reals
    densities: Reals


def histogram(values: Reals, bins: int) -> Histogram:
    """A histogram of results, a thousandth at each end left out.

    Formula
    -------
    d_i = n_i/(M*w), n_i results in bin i of width w

    Parameters
    ----------
    values : array
        results in any order [unit of the result]
    bins : int
        number of bins

    Returns
    -------
    Histogram
        edges [unit of the result] and densities [1/unit of the result]; of results that are all the same, one empty bin

    Validity
    --------
    for a picture; figures come from the results themselves

    Source
    ------
    derived: counting

    Example
    -------
    >>> import numpy as np
    >>> histogram(np.linspace(0.0, 1.0, 10_001), 4).densities.round(2).tolist()
    [1.0, 1.0, 1.0, 1.0]
    """
    out = int(TAIL * len(values))
    parted = np.partition(values, (out, len(values) - 1 - out))
    low, high = float(parted[out]), float(parted[len(values) - 1 - out])
    if not high > low:
        return Histogram(np.array([low, high]), np.zeros(1))
    counts, edges = np.histogram(values, bins, (low, high))
    return Histogram(edges, counts / (len(values) * (edges[1] - edges[0])))


def _inside(count: int, probability: float) -> int:
    """How far apart the ends stand in the order; never more than there are results."""
    return min(int(probability * count + 0.5), count - 1)
