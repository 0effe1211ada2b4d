"""Monte Carlo by JCGM 101: trials in blocks until the figures settle, and what comes of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import floor, isfinite, log10, nan, sqrt

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.uncertainty.interval import (
    order_ends,
    shortest_interval,
    symmetric_interval,
    symmetric_ranks,
)

BLOCK_TRIALS = 40_000
"""Trials worked at once: few enough to stay near the processor. The source asks for 10 000 for an interval of 95 %."""
MOST_TRIALS = 10_000_000
"""Where trials end that do not settle."""
LEAST_BLOCKS = 10
"""Fewer say too little about how far the figures still wander: the source would stop at two."""
CHECKED_EACH = 2
"""Blocks between two looks at whether the figures have settled."""

Block = Callable[[int], Reals]
"""Works so many trials and gives their results; what left a validity is not a number."""


@dataclass(frozen=True)
class Outcome:
    """What a Monte Carlo gave, in the unit of the result."""

    mean: float
    standard: float
    low: float
    high: float
    """Ends of the shortest interval."""
    symmetric_low: float
    symmetric_high: float
    trials: int
    outside: float
    """Share of the trials that left a validity; the figures are those of the others."""
    tolerance: float
    """What the second digit of the standard uncertainty allows the figures to be off by."""
    settled: bool | None
    """Whether the figures are known to that tolerance; None where the number of trials was chosen."""
    values: Reals
    """The results that are numbers; in rising order where the intervals end, as they came between."""


@dataclass(frozen=True)
class Validation:
    """A linear interval beside that of a Monte Carlo."""

    low: float
    high: float
    """Ends of the linear interval."""
    off_low: float
    off_high: float
    """How far its ends lie from those of the Monte Carlo."""
    accepted: bool
    """Whether both lie within the numerical tolerance."""


def numerical_tolerance(standard: float, digits: int = 2) -> float:
    """What a standard uncertainty of so many meaningful digits may be off by.

    Formula
    -------
    u = c*10**l, c a whole number of `digits` digits; delta = 10**l/2

    Parameters
    ----------
    standard : float
        u, standard uncertainty [unit of the result]
    digits : int
        digits of it that count, 1 or 2

    Returns
    -------
    float
        delta, 0 for u = 0, NaN where u is no number [unit of the result]

    Validity
    --------
    u of zero or more

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 7.9.2 [from memory]

    Example
    -------
    >>> numerical_tolerance(0.0754), numerical_tolerance(35.0, 1)
    (0.0005, 5.0)
    """
    if not isfinite(standard):
        return nan
    if standard <= 0.0:
        return 0.0
    exponent = floor(log10(standard)) - digits + 1
    if round(standard / 10.0**exponent) >= 10**digits:
        exponent += 1
    return 0.5 * 10.0**exponent


def outcome_of(values: Reals, probability: float, digits: int = 2, settled: bool | None = None) -> Outcome:
    """What the results of trials come to.

    Formula
    -------
    mean, standard deviation, shortest and symmetric interval of the results that are numbers

    Parameters
    ----------
    values : array
        results, in any order [unit of the result]
    probability : float
        p, share that the intervals hold [1]
    digits : int
        digits of the standard uncertainty that count
    settled : bool or None
        whether the figures are known to those digits

    Returns
    -------
    Outcome
        the figures [unit of the result]; not numbers where fewer than two results are

    Validity
    --------
    any results

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 7.6 and 7.7 [from memory]

    Example
    -------
    >>> import numpy as np
    >>> outcome_of(np.array([1.0, 2.0, 3.0, np.nan]), 0.95).mean
    2.0
    """
    return _outcome(np.array(values, dtype=np.float64), probability, digits, settled)


def monte_carlo(
    block: Block,
    probability: float = 0.95,
    digits: int = 2,
    *,
    trials: int | None = None,
    most_trials: int = MOST_TRIALS,
    block_trials: int = BLOCK_TRIALS,
) -> Outcome:
    """Work trials in blocks: as many as chosen, or until the figures have settled.

    Formula
    -------
    after h blocks 2*s <= delta for the mean, the standard deviation and both ends of the symmetric interval, s the
    standard deviation of the figures of the blocks over sqrt(h)

    Parameters
    ----------
    block : function
        works so many trials and gives their results [unit of the result]
    probability : float
        p, share that the intervals hold [1]
    digits : int
        digits of the standard uncertainty that count
    trials : int or None
        number of trials; None: until the figures settle
    most_trials : int
        where they end in any case
    block_trials : int
        trials worked at once

    Returns
    -------
    Outcome
        the figures, `settled` saying whether they are known to their digits [unit of the result]

    Validity
    --------
    The ends of the shortest interval wander more than those looked at; at least 10 blocks where none are chosen; blocks
    that left a validity as a whole never settle.

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 7.9.4 [from memory]

    Example
    -------
    >>> import numpy as np
    >>> random = np.random.default_rng(1)
    >>> round(monte_carlo(random.standard_normal, 0.95, trials=100_000).standard, 2)
    1.0
    """
    if trials is not None:
        held = np.empty(trials)
        for start in range(0, trials, block_trials):
            size = min(block_trials, trials - start)
            held[start : start + size] = block(size)
        return _outcome(held, probability, digits, None)
    found: list[Reals] = []
    figures: list[Reals] = []
    most = max(most_trials // block_trials, 1)
    settled = False
    while len(found) < most and not settled:
        found.append(block(block_trials))
        figures.append(_figures(found[-1], probability))
        if len(found) >= LEAST_BLOCKS and len(found) % CHECKED_EACH == 0:
            settled = _settled(np.array(figures), digits)
    held = np.concatenate(found)
    found.clear()
    return _outcome(held, probability, digits, settled)


def validated(value: float, expanded: float, outcome: Outcome) -> Validation:
    """A linear interval held against that of a Monte Carlo of the same coverage.

    Formula
    -------
    |y - U - y_low| <= delta and |y + U - y_high| <= delta, the symmetric interval

    Parameters
    ----------
    value : float
        y, the result [unit of the result]
    expanded : float
        U, its linear expanded uncertainty [unit of the result]
    outcome : Outcome
        the Monte Carlo [unit of the result]

    Returns
    -------
    Validation
        the linear interval, how far its ends are off, and whether that is within the tolerance [unit of the result]

    Validity
    --------
    trials enough that the ends are themselves known to the tolerance

    Source
    ------
    JCGM 101:2008 Propagation of distributions using a Monte Carlo method, 8.1 [from memory]

    Example
    -------
    >>> import numpy as np
    >>> validated(0.0, 1.9, outcome_of(np.linspace(-2.0, 2.0, 10_001), 0.95)).accepted
    True
    """
    low, high = value - expanded, value + expanded
    off_low, off_high = abs(low - outcome.symmetric_low), abs(high - outcome.symmetric_high)
    return Validation(low, high, off_low, off_high, max(off_low, off_high) <= outcome.tolerance)


def _outcome(results: Reals, probability: float, digits: int, settled: bool | None) -> Outcome:
    """The figures of results; their array is put in order where the intervals end."""
    numbers = results[~np.isnan(results)] if np.isnan(np.sum(results)) else results
    outside = 1.0 - len(numbers) / max(len(results), 1)
    if len(numbers) < 2:
        return Outcome(nan, nan, nan, nan, nan, nan, len(results), outside, nan, settled, numbers)
    order_ends(numbers, probability)
    mean = float(np.mean(numbers))
    standard = _spread(numbers, mean)
    return Outcome(
        mean,
        standard,
        *shortest_interval(numbers, probability),
        *symmetric_interval(numbers, probability),
        len(results),
        outside,
        numerical_tolerance(standard, digits),
        settled,
        numbers,
    )


def _spread(numbers: Reals, mean: float) -> float:
    """Standard deviation, block by block; none where the least and the greatest are the same, whatever the mean is."""
    if numbers[0] == numbers[-1]:
        return 0.0
    off = (numbers[start : start + BLOCK_TRIALS] - mean for start in range(0, len(numbers), BLOCK_TRIALS))
    return sqrt(sum(float(part @ part) for part in off) / (len(numbers) - 1))


def _figures(results: Reals, probability: float) -> Reals:
    """Mean, standard deviation and both ends of the symmetric interval of one block; only the ends are put in order."""
    numbers = results[~np.isnan(results)]
    if len(numbers) < 2:
        return np.full(4, nan)
    first, last = symmetric_ranks(len(numbers), probability)
    numbers.partition((first, last))
    return np.array([numbers.mean(), numbers.std(ddof=1), numbers[first], numbers[last]])


def _settled(figures: Reals, digits: int) -> bool:
    """Whether every figure is known to the tolerance; blocks that are no numbers never settle."""
    spread = np.std(figures, axis=0, ddof=1) / np.sqrt(len(figures))
    rounding = 4.0 * np.finfo(np.float64).eps * np.abs(figures[0])  # results that are all the same still round
    return bool(np.all(2.0 * spread <= numerical_tolerance(float(np.mean(figures[:, 1])), digits) + rounding))
