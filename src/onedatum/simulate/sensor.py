"""The sensor of a study: what it feels at a level, in a liquid and at a temperature other than those it is set for.

It is the chain of the sheet worked again, so it cannot differ from the numbers of the study. The level told is that of
the straight line through the two points that the instrument is set at.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Sheet, beneath
from onedatum.foundation.working.replay import Workings
from onedatum.physics.bypass import magnet_height_m
from onedatum.study.result import Study
from onedatum.study.scales import sensed

STEM, CHAMBER, PROBE, LEGS = "stem", "chamber", "probe", "legs"
Factors = Mapping[str, Reals]
"""By the name of an entry: the factor on what the sheet has for it."""
Moves = Mapping[str, Reals]
"""By the name of an entry: what is added to it."""
KEPT, LONGEST = 16, 4096
"""What was felt is kept of the last so many questions, of no more numbers each: causes not felt ask the same again."""
Question = tuple[object, ...]


@dataclass(frozen=True)
class Sensor:
    """What is felt, by entries of the sheet."""

    kind: str
    sheet: Sheet
    targets: tuple[str, ...]
    needed: frozenset[str]
    """The entries beneath what is felt."""
    temperature: str
    """The entry of the temperature of the liquid; empty where nothing felt rests on it."""
    densities: tuple[str, ...]
    _workings: dict[tuple[str, ...], Workings] = field(default_factory=dict)
    _beneath: dict[str, frozenset[str]] = field(default_factory=dict)
    _known: OrderedDict[Question, Reals] = field(default_factory=OrderedDict)

    def felt(self, level_m: Reals, temperature_K: Reals, factors: Factors, moves: Moves) -> Reals:
        """What is felt; NaN where a formula of the chain does not hold, such as for a float that sinks."""
        given = [("level", level_m), ("temperature", temperature_K), *factors.items(), ("", np.ones(0)), *moves.items()]
        if max(np.size(numbers) for _, numbers in given) > LONGEST:
            return self._felt(level_m, temperature_K, factors, moves)
        asked = tuple((name, np.shape(numbers), np.asarray(numbers).tobytes()) for name, numbers in given)
        found = self._known.pop(asked, None)
        if found is None:
            found = self._felt(level_m, temperature_K, factors, moves)
        self._known[asked] = found
        if len(self._known) > KEPT:
            self._known.popitem(last=False)
        return found

    def _felt(self, level_m: Reals, temperature_K: Reals, factors: Factors, moves: Moves) -> Reals:
        values: dict[str, Reals] = {"level_now": level_m}
        if self.temperature:
            values[self.temperature] = temperature_K
        for name in [each for each in self.sheet.entries if each in factors or each in moves]:
            own = values[name] if name in values else self._own(name, values)
            values[name] = own * factors.get(name, np.ones(1)) + moves.get(name, np.zeros(1))
        felt = self._worked(self.targets, values)
        return felt[0] if self.kind != CHAMBER else np.asarray(magnet_height_m(felt[0], felt[1]))

    def _own(self, name: str, values: Mapping[str, Reals]) -> Reals:
        """What the sheet has for an entry, worked again where what lies beneath it has moved."""
        if name not in self._beneath:
            self._beneath[name] = frozenset(entry.name for entry in beneath([self.sheet[name]]))
        if self._beneath[name] & values.keys():
            return self._worked((name,), values)[0]
        return np.full(1, self.sheet[name].value)

    def _worked(self, names: tuple[str, ...], values: Mapping[str, Reals]) -> list[Reals]:
        if names not in self._workings:
            self._workings[names] = Workings(self.sheet, names)
        worked = self._workings[names].worked(values)
        shape = np.broadcast_shapes(*(np.shape(value) for value in values.values()))
        return [np.broadcast_to(np.asarray(worked[name], dtype=float), shape) for name in names]


def sensor_of(study: Study) -> Sensor | None:
    """The sensor of what measures; None while the study cannot tell what it feels."""
    found = _targets(study)
    if found is None:
        return None
    kind, targets = found
    sheet = study.sheet
    if any(name not in sheet or not sheet[name].known for name in (*targets, "level_now")):
        return None
    needed = frozenset(entry.name for entry in beneath(sheet[name] for name in targets))
    now = study.now.name
    temperature = _first(needed, "medium.temperature", f"medium.temperature[{now}]")
    return Sensor(kind, sheet, targets, needed, temperature, _densities(sheet, needed, now))


def _targets(study: Study) -> tuple[str, tuple[str, ...]] | None:
    """How the level is felt, and the entries that say so."""
    measuring, now = study.measuring, study.now.name
    if measuring.outside is not None:
        return CHAMBER, (f"chamber.level[{now}]", f"float.waterline_above_magnet[{now}]")
    if measuring.stem is not None:
        return STEM, ("waveguide.flight_now",)
    name = sensed(study) if measuring.levels is not None else None
    if name is None:
        return None
    return PROBE if name.startswith("probe.") else LEGS, (name,)


def _first(needed: frozenset[str], *names: str) -> str:
    return next((name for name in names if name in needed), "")


def _densities(sheet: Sheet, needed: frozenset[str], now: str) -> tuple[str, ...]:
    """The entries by which the density of the liquid comes in, none of them beneath another."""
    found: list[str] = []
    for name in ("medium.density", f"medium.density[{now}]", f"chamber.density[{now}]"):
        if name in needed and not any(entry.name in found for entry in beneath([sheet[name]])):
            found.append(name)
    return tuple(found)
