"""Arguments for a tagged formula, drawn from its own intervals and relations.

A parameter that stands alone on the left of a relation ("d < D") is drawn after those on the right, from what the
relation leaves of its interval. Whatever other relations remain is checked at the end.
"""

from __future__ import annotations

import ast
import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import islice
from typing import Any

import numpy as np
from hypothesis import assume
from hypothesis import strategies as st

from onedatum.foundation.working import Expression, Interval, Tag, registry, tag_of
from tests.physics.wholes import samples_of

Arguments = dict[str, Any]
"""Values by parameter; what is no number stands as one of its samples."""
Pick = Callable[[Interval], float]

STEPS = 1000


def within(interval: Interval, step: int, even: bool) -> float:
    """A number of an interval: evenly spread, or crowded towards the lower end as small things are."""
    width = interval.high - interval.low
    share = step / STEPS if even else 10.0 ** (-8 * (1 - step / STEPS))
    least, most = (1e-6 if interval.open_low else 0.0), (1 - 1e-6 if interval.open_high else 1.0)
    return min(interval.low + width * min(max(share, least), most), interval.high)


@st.composite
def arguments(draw: st.DrawFn, tag: Tag) -> Arguments:
    """Arguments within the validity of a formula."""
    found = drawn(tag, lambda interval: within(interval, draw(st.integers(0, STEPS)), draw(st.booleans())))
    assume(found is not None)
    return found or {}


def some(
    tag: Tag, count: int, fixed: Mapping[str, Any] | None = None, trials: int = 400, *, ends: bool = False
) -> Iterator[Arguments]:
    """Up to `count` sets of arguments within the validity, the same ones every time; `fixed` stay as they are.

    With `ends` every fourth number stands at an end of what is left for it, where equations part from the code first.
    """
    chance = random.Random(tag.name)

    def step() -> int:
        return chance.choice((0, STEPS)) if ends and chance.random() < 0.25 else chance.randint(0, STEPS)

    tried = (
        drawn(tag, lambda i: within(i, step(), chance.random() < 0.7), fixed or {})
        for _ in range(max(trials, 40 * count))
    )
    yield from islice((found for found in tried if found is not None), count)


def drawn(tag: Tag, pick: Pick, fixed: Mapping[str, Any] | None = None) -> Arguments | None:
    """Arguments by parameter, each picked from what is left for it; None where nothing is left."""
    values: dict[str, Any] = {}
    waiting = list(tag.symbols)
    while waiting:
        symbol = next((s for s in waiting if _bounds(tag.name, s.symbol).issubset(values)), waiting[0])
        waiting.remove(symbol)
        if symbol.whole is not None:
            samples = samples_of(symbol.parameter, symbol.whole)
            number = min(int(pick(Interval(0.0, float(len(samples))))), len(samples) - 1)
            values[symbol.symbol] = (fixed or {}).get(symbol.parameter, samples[number])
            continue
        left = _left(tag, symbol.symbol, symbol.interval, values)
        if fixed and symbol.parameter in fixed:
            values[symbol.symbol] = fixed[symbol.parameter]
        elif left is None:
            return None
        else:
            values[symbol.symbol] = pick(left)
    if not holds(tag, values):
        return None
    return {symbol.parameter: values[symbol.symbol] for symbol in tag.symbols}


def holds(tag: Tag, values: Mapping[str, Any]) -> bool:
    """Whether every relation of a formula holds for values by symbol."""
    return all(bool(requirement.relation.evaluate(values)) for requirement in tag.requires)


@cache
def _sides(formula: str, symbol: str) -> tuple[tuple[ast.cmpop, Expression], ...]:
    """The relations that bound a symbol: the sign and the right side, read once for all draws."""
    found = []
    for requirement in tag_of(registry()[formula]).requires:
        match requirement.relation.tree:
            case ast.Compare(left=ast.Name(id=name), ops=[sign], comparators=[right]) if name == symbol:
                found.append((sign, Expression(ast.unparse(right), requirement.relation.calls)))
    return tuple(found)


@cache
def _bounds(formula: str, symbol: str) -> frozenset[str]:
    return frozenset(name for _, right in _sides(formula, symbol) for name in right.names)


def _left(tag: Tag, symbol: str, interval: Interval | None, values: Mapping[str, Any]) -> Interval | None:
    """What the relations leave of an interval, None if nothing."""
    if interval is None:
        raise AssertionError(f"{tag.name}: {symbol} has no interval")
    for sign, right in _sides(tag.name, symbol):
        if not set(right.names) <= set(values):
            continue
        with np.errstate(invalid="ignore"):
            limit = float(right.evaluate(values))
        match sign:
            case ast.Lt() | ast.LtE() if limit <= interval.high:
                interval = replace(interval, high=limit, open_high=isinstance(sign, ast.Lt))
            case ast.Gt() | ast.GtE() if limit >= interval.low:
                interval = replace(interval, low=limit, open_low=isinstance(sign, ast.Gt))
    return interval if interval.low < interval.high else None
