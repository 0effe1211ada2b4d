"""The numbers of the study that the rules read, under the names of the rules: chapter by chapter, state by state.

A number whose inputs are not known is left out: the rules then ask for what is missing, or leave it to the order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import inf, isfinite

from onedatum.foundation.units import show
from onedatum.foundation.working import Entry, beneath
from onedatum.study.choosing.alarm_numbers import alarm_numbers
from onedatum.study.choosing.bench import Bench, Number
from onedatum.study.choosing.chamber_numbers import chamber_numbers
from onedatum.study.choosing.hazard_numbers import hazard_numbers
from onedatum.study.choosing.legs_numbers import legs_numbers
from onedatum.study.choosing.medium_numbers import medium_numbers
from onedatum.study.choosing.place_numbers import place_numbers
from onedatum.study.choosing.pressures import pressure_numbers
from onedatum.study.choosing.probe_numbers import probe_numbers
from onedatum.study.choosing.stem_numbers import stem_numbers
from onedatum.study.choosing.still import still_numbers
from onedatum.study.choosing.words import words_of
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk
from onedatum.study.sensitivity import spread_of, standard_of
from onedatum.verdicts import COVERAGE
from onedatum.verdicts.rules import Fact, Facts

CHAPTERS: tuple[Callable[[Bench], Iterator[Number]], ...] = (
    medium_numbers,
    pressure_numbers,
    place_numbers,
    stem_numbers,
    chamber_numbers,
    legs_numbers,
    probe_numbers,
    hazard_numbers,
    alarm_numbers,
    still_numbers,
)


def with_numbers(desk: Desk, told: Sequence[tuple[Bench, Facts]]) -> list[tuple[Bench, Facts]]:
    """The facts of every state with every number that the study can give for it."""
    found = [(bench, facts, [number for part in CHAPTERS for number in part(bench)]) for bench, facts in told]
    halves = half_widths(desk, (entry for _, _, numbers in found for each in numbers for entry in each.entries))
    return [(bench, _joined(bench, facts, numbers, halves)) for bench, facts, numbers in found]


def half_widths(desk: Desk, entries: Iterable[Entry]) -> Mapping[str, float]:
    """Twice the standard uncertainty of each entry, by what is uncertain beneath it; all of them in one working."""
    targets = {entry.name: entry for entry in entries}
    looked = _Looked()
    moved = [name for name, target in targets.items() if looked.into(target) == (True, True)]
    uncertain = [e for e in beneath((targets[name] for name in moved), uncertain=True) if standard_of(e) > 0.0]
    if not moved:
        return {}
    spread = spread_of(desk.sheet, moved, uncertain, correlation_of(desk, uncertain))
    return {name: _half(float(spread.standard(name))) for name in moved}


def _half(standard: float) -> float:
    """Twice the standard uncertainty; beyond all bounds where moving an input leaves what its formulas hold for."""
    return COVERAGE * standard if isfinite(standard) else inf


class _Looked:
    """What lies beneath entries, each looked at once."""

    def __init__(self) -> None:
        self._found: dict[str, tuple[bool, bool]] = {}

    def into(self, entry: Entry) -> tuple[bool, bool]:
        """Whether it is uncertain or rests on what is, and whether all of it is known and can be worked again."""
        found = self._found.get(entry.name)
        if found is None:
            below = [self.into(each) for each in entry.inputs.values()]
            uncertain = standard_of(entry) > 0.0 or any(part for part, _ in below)
            found = uncertain, entry.known and all(part for _, part in below)
            self._found[entry.name] = found
        return found


def _joined(bench: Bench, facts: Facts, numbers: Sequence[Number], halves: Mapping[str, float]) -> Facts:
    """Numbers beside what is stated; what is stated stays."""
    stated = dict(facts.stated)
    own: dict[str, dict[str, Fact]] = {principle: dict(told) for principle, told in facts.of_principle.items()}
    for number in numbers:
        fact = fact_of_entries(number.entries, halves)
        if not number.principles:
            stated.setdefault(number.name, fact)
        for principle in number.principles:
            own.setdefault(principle, {}).setdefault(number.name, fact)
    for said in words_of(bench):
        if said.name not in stated:
            fact = Fact(word=said.word, text=said.word, entry=said.path)
            own.setdefault(said.principle, {}).setdefault(said.name, fact)
    return replace(facts, stated=stated, of_principle=own)


def fact_of_entries(entries: Sequence[Entry], halves: Mapping[str, float] | None = None) -> Fact:
    """One number, or the range over several, each end with what is uncertain of it."""
    known = sorted(((entry.value or 0.0, entry) for entry in entries), key=lambda pair: pair[0])
    (low, first), (high, last) = known[0], known[-1]
    below, above = ((halves or {}).get(entry.name, 0.0) for entry in (first, last))
    if low == high:
        return Fact(low=low, high=high, half=max(below, above), text=first.text, entry=first.name)
    half = min(below, above)
    text = " to ".join(dict.fromkeys(show(value, first.shown or "") for value in (low, high)))
    return Fact(low=low - (below - half), high=high + (above - half), half=half, text=text, entry=last.name)
