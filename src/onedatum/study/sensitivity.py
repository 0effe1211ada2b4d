"""How numbers of the sheet follow their uncertain inputs, each put in at plus and minus its standard uncertainty."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, Replay, Sheet, beneath, replay
from onedatum.physics.uncertainty import combined_standard, contributions, expanded
from onedatum.verdicts import COVERAGE


@dataclass(frozen=True)
class Spread:
    """Per target the contribution of every input, in their order, and the share of workings that branched otherwise."""

    contributions: Mapping[str, Reals]
    correlation: Reals | None
    """Of the inputs; None where they are independent."""
    branched_otherwise: float

    def standard(self, target: str) -> float:
        """The combined standard uncertainty of a target."""
        return combined_standard(self.contributions[target], self.correlation)


def uncertain_under(*targets: Entry) -> list[Entry]:
    """Every given entry beneath the targets that carries an uncertainty: target by target in the order of the chain.

    Each stands once.
    """
    seen: set[str] = set()
    return [
        entry
        for target in targets
        for entry in beneath([target], uncertain=True, seen=seen)
        if standard_of(entry) > 0.0
    ]


def spread_of(
    sheet: Sheet, targets: Sequence[str], uncertain: Sequence[Entry], correlation: Reals | None = None
) -> Spread:
    """Work the targets again with each input moved up and down by its standard uncertainty, in one replay."""
    (again,) = moved_by(sheet, targets, uncertain, both_ways(len(uncertain)))
    return spread_in(again, correlation)


def both_ways(number: int, share: float = 1.0) -> Reals:
    """Each input in turn moved up, then each in turn moved down, by a share of its standard uncertainty.

    One row for each working, one column for each input, in standard uncertainties.
    """
    up = share * np.eye(number)
    return np.concatenate([up, -up])


def moved_by(sheet: Sheet, targets: Sequence[str], uncertain: Sequence[Entry], *moves: Reals) -> list[Replay]:
    """Work the targets again, the inputs moved as many standard uncertainties as each of `moves` says.

    All of them go through one replay; each has its own in what is given.
    """
    rows = np.concatenate(moves)
    values = {e.name: (e.value or 0.0) + standard_of(e) * rows[:, column] for column, e in enumerate(uncertain)}
    again = replay(sheet, targets, values)
    ends = accumulate(map(len, moves))
    return [again.part(slice(end - len(each), end)) for end, each in zip(ends, moves, strict=True)]


def spread_in(again: Replay, correlation: Reals | None) -> Spread:
    """The spread that a working with the inputs moved `both_ways` tells."""
    halves = {name: result.reshape(2, -1) for name, result in again.results.items()}
    moved = {name: contributions(high, low) for name, (high, low) in halves.items()}
    return Spread(moved, correlation, again.branched_otherwise)


def half_width_under(target: Entry) -> float:
    """What a comparison keeps off for uncertainty (k = 2), by the sum of what is stated beneath; never too little."""
    return float(expanded(sum(map(standard_of, uncertain_under(target))), COVERAGE))


def standard_of(entry: Entry) -> float:
    """The standard uncertainty of an entry, 0 where it carries none."""
    return entry.uncertainty.standard if entry.uncertainty else 0.0
