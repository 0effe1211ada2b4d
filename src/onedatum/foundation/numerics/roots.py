"""Where a monotone function takes a given value: Newton's steps, held between brackets, for whole arrays at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from onedatum.foundation.numerics.kinds import Real, Reals, same_kind

ITERATIONS = 120
"""No element takes more: at the latest every second step halves the bracket."""

_SETTLED = 4 * float(np.finfo(np.float64).eps)

Function = Callable[[Reals], Any]


def monotone_root(
    function: Function,
    slope: Function,
    target: Real,
    low: Real,
    high: Real,
    start: Real | None = None,
    within: float = 0.0,
) -> Any:
    """The x between `low` and `high` with function(x) = target; arrays broadcast, each element has its own bracket.

    function: rising or falling all along the bracket; takes and gives arrays of the broadcast shape.
    slope: its derivative; where that is zero or wrong the bracket is halved instead.
    start: a first guess; the middle of the bracket if there is none.
    within: an element whose last step was no longer is done. A function that rounds more coarsely than its argument
        needs it: its last digits would send Newton's steps to and fro.

    An end of the bracket that meets the target is given exactly. NaN where an input is NaN, and where the target is
    not reached between the ends.
    """
    given = (target, low, high) if start is None else (target, low, high, start)
    with np.errstate(all="ignore"):
        wanted, left, right, *guess = (np.array(part, dtype=np.float64) for part in np.broadcast_arrays(*given))
        at_left, at_right = function(left), function(right)
        sense = np.where(at_right >= at_left, 1.0, -1.0)
        reached = (sense * (at_left - wanted) <= 0) & (sense * (at_right - wanted) >= 0)
        x = np.clip(guess[0], left, right) if guess else 0.5 * (left + right)
        rising, steep = lambda at: sense * (function(at) - wanted), lambda at: sense * slope(at)
        met_left, met_right = at_left == wanted, at_right == wanted
        x = _narrowed(rising, steep, x, left, right, reached & ~(met_left | met_right), within)
    x = np.where(met_left, left, np.where(met_right, right, x))
    return same_kind(np.where(reached, x, np.nan))


def _narrowed(
    rising: Function, slope: Function, x: Reals, left: Reals, right: Reals, wanted: Any, within: float
) -> Reals:
    """The zero of a rising function: Newton's step where it stays inside and shrinks, half the bracket elsewhere.

    Only where `wanted`: an end that meets the target is no zero to look for, and often one that Newton's steps are slow
    at, as the tip of a cap.
    """
    settled = ~np.asarray(wanted)
    last = right - left
    for _ in range(ITERATIONS):
        if settled.all():
            break
        gap = rising(x)
        left, right = np.where(gap <= 0, x, left), np.where(gap >= 0, x, right)
        following = x - gap / slope(x)
        good = (following >= left) & (following <= right) & (np.abs(following - x) <= 0.5 * last)
        following = np.where(good, following, 0.5 * (left + right))
        following = np.where(settled | (gap == 0), x, following)
        last = np.abs(following - x)
        settled = settled | (last <= within + _SETTLED * np.abs(x))
        x = following
    return x
