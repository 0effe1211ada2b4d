"""How numbers of the sheet follow their uncertain inputs, each put in at plus and minus its standard uncertainty."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, Sheet, beneath, replay
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


def uncertain_under(target: Entry) -> list[Entry]:
    """Every given entry beneath the target that carries an uncertainty, in the order of the chain, each once."""
    return [entry for entry in beneath([target], uncertain=True) if standard_of(entry) > 0.0]


def spread_of(
    sheet: Sheet,
    targets: Sequence[str],
    uncertain: Sequence[Entry],
    correlation: Reals | None = None,
    share: float = 1.0,
) -> Spread:
    """Work the targets again with each input moved up and down by its standard uncertainty, in one replay.

    `share`: how much of its uncertainty each input is moved by.
    """
    number = len(uncertain)
    values: dict[str, Reals] = {}
    for row, entry in enumerate(uncertain):
        column = np.full(2 * number, entry.value, dtype=float)
        step = share * standard_of(entry)
        column[row] += step
        column[number + row] -= step
        values[entry.name] = column
    again = replay(sheet, targets, values)
    halves = {name: result.reshape(2, number) for name, result in again.results.items()}
    moved = {name: contributions(high, low) for name, (high, low) in halves.items()}
    return Spread(moved, correlation, again.branched_otherwise)


def half_width_under(target: Entry) -> float:
    """What a comparison keeps off for uncertainty (k = 2), by the sum of what is stated beneath; never too little."""
    return float(expanded(sum(map(standard_of, uncertain_under(target))), COVERAGE))


def standard_of(entry: Entry) -> float:
    """The standard uncertainty of an entry, 0 where it carries none."""
    return entry.uncertainty.standard if entry.uncertainty else 0.0
