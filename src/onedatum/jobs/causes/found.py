"""The ranking of one question, held with what it rests on, and what of it every form shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from onedatum.foundation.numerics import Reals
from onedatum.foundation.units import show
from onedatum.jobs.causes.asked import Asked, instrument_in
from onedatum.proving.causes import (
    NOTHING,
    UNITS,
    Cause,
    Further,
    Group,
    Priors,
    Ranking,
    Row,
    rank,
    readings_of,
    size_words,
)
from onedatum.simulate import CHANNELS, Instrument
from onedatum.study.result import Study

NAMES = {
    "current_A": "current",
    "voltage_V": "voltage on the test resistor",
    "supply_V": "voltage at the transmitter",
    "shown_m": "level shown",
    "volume_m3": "volume shown",
}
"""What each channel is called."""
MOST_SHOWN = 3
"""Explanations of which is shown what they would read, and further measurements told."""
LEAST = 0.01
"""Probability from which an explanation is told with its size and what it would read."""
DIGITS = 5


@dataclass(frozen=True)
class Found:
    """A ranking with what it was made of."""

    study: Study
    instrument: Instrument
    asked: Asked
    priors: Priors
    ranking: Ranking

    @property
    def numbers(self) -> tuple[int, ...]:
        """The rows of which something beside dip and temperature was read, counted from 1: those that are predicted."""
        rows = enumerate(self.asked.rows, 1)
        return tuple(number for number, row in rows if any(getattr(row, name) is not None for name in CHANNELS))

    @property
    def channels(self) -> tuple[str, ...]:
        """What was read of the signal, and a sound instrument is known to read, the most first."""
        sound = self.cause(NOTHING).predicted
        counts = {name: _count(self.asked.rows, name) for name in CHANNELS}
        kept = [name for name in CHANNELS if counts[name] and any(isfinite(value) for value in sound[name])]
        return tuple(sorted(kept, key=lambda name: -counts[name]))

    @property
    def explanations(self) -> tuple[Group, ...]:
        """The groups that were ranked, the likeliest first."""
        return tuple(group for group in self.ranking.groups if group.keys)

    @property
    def shown(self) -> tuple[Group, ...]:
        """Of which is shown what they would read: the likeliest that read otherwise than a sound instrument."""
        own = [group for group in self.likely if self._predicts(group)]
        return tuple(own[:MOST_SHOWN])

    @property
    def likely(self) -> tuple[Group, ...]:
        """The explanations that are told one by one; the rest is told as unlikely."""
        return tuple(each for each in self.explanations if each.probability >= LEAST)

    @property
    def unlikely(self) -> tuple[str, ...]:
        """What every other cause is, in words."""
        told = {key for each in self.likely for key in each.left}
        return tuple(self.cause(key).words for each in self.explanations for key in each.keys if key not in told)

    def _predicts(self, group: Group) -> bool:
        return NOTHING not in group.keys and isfinite(self.cause(group.keys[0]).size)

    def sized(self, key: str) -> str:
        """How large a cause would be; empty where the readings could not show it."""
        return "" if key in self.ranking.unseen else size_words(self.cause(key))

    def cause(self, key: str) -> Cause:
        """A cause by its key."""
        return next(each for each in self.ranking.causes if each.key == key)

    def predicted(self, key: str, channel: str) -> Reals:
        """What a cause would make a channel read, by the rows of `numbers`."""
        return self.cause(key).predicted[channel]

    def why(self, each: Further) -> str:
        """Why a further measurement is asked for."""
        best = f"it is expected to tell {each.bits:.2f} bit of the {self.ranking.open_bits:.2f} bit that are open"
        effort = f"for {each.cost:g} of the effort of a dip with one reading"
        return f"{best}, {effort}{self._how(each)}"

    def _how(self, each: Further) -> str:
        what = next(one for one in self.priors.measurements if one.key == each.key)
        if what.kind == "tells":
            ranked = {one.key: one.words for one in self.ranking.causes}
            words = [ranked[key] for key in what.causes if key in ranked]
            return f"; it measures by itself whether {', or whether '.join(words)}" if words else ""
        at = f" at {show(each.level_m, 'mm', 4)}" if each.level_m is not None else ""
        return f"; there{at} the explanations would read most unlike one another"


def _count(rows: Sequence[Row], name: str) -> int:
    return sum(getattr(row, name) is not None for row in rows)


def ranked(study: Study, asked: Asked) -> Found:
    """Rank what may be wrong; raises CaseError, ProvingError with every fault."""
    instrument = instrument_in(study)
    priors = asked.held
    ranking = rank(instrument, readings_of(asked.rows), asked.change, priors)
    return Found(study, instrument, asked, priors, ranking)


def written(channel: str, value_si: float | None, unit: bool = True) -> str:
    """A reading in the unit of its column; a dash where there is none."""
    if value_si is None or not isfinite(value_si):
        return "–"
    text = show(value_si, UNITS[channel], DIGITS)
    return text if unit else text.partition(" ")[0]
