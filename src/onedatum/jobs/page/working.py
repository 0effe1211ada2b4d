"""The working of one number as the page shows it: every number in it is a door to its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from onedatum.foundation.errors import Fault, OnedatumError, Place
from onedatum.foundation.sources import Citation
from onedatum.foundation.units import hint, in_print
from onedatum.foundation.working import (
    Entry,
    State,
    Tag,
    beneath,
    entry_method,
    formula_line,
    interval_text,
    numbers_line,
    spell,
)
from onedatum.jobs.page.maths import NO_MATHS, Maths, maths, symbol
from onedatum.study.result import Study

FIRST_ABOVE = 10
"""So many of the numbers that rest on a number are named."""
STATE_WORDS: dict[State, str] = {
    "stated": "stated",
    "assumed": "assumed",
    "computed": "computed",
    "constant": "from a table or standard",
    "unknown": "unknown",
    "none": "stated as none",
    "faulty": "to be corrected",
}
"""How a number is known, in the words of the page."""


class UnknownEntry(OnedatumError):
    """A number that does not stand on the sheet of the case; `fault` says so and names the nearest."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.sentence())
        self.fault = fault


@dataclass(frozen=True)
class Door:
    """A number named within a working, with where it leads."""

    entry: str
    meaning: str
    value: str
    state: State
    state_word: str
    path: str
    """Of a number of the case: the path of its field; "" for one that was worked out."""
    rests_on_assumed: bool
    symbol: Maths = NO_MATHS


@dataclass(frozen=True)
class Source:
    """A source with how far its text was seen."""

    text: str
    tag: str
    note: str


@dataclass(frozen=True)
class Validity:
    """For what a formula holds: the range of a symbol, or a relation with its reason."""

    of: Maths
    allowed: str
    why: str


@dataclass(frozen=True)
class Waiting:
    """A field that an unknown number waits for."""

    path: str
    title: str


@dataclass(frozen=True)
class WorkingView:
    """One number with all that stands behind it."""

    name: str
    meaning: str
    value: str
    state: State
    state_word: str
    shape: str
    """In place of a number, what it is: "inside of a vessel"."""
    formula_name: str
    formula: Maths
    numbers: Maths
    method: str
    """In words, where no formula gives it."""
    inputs: tuple[Door, ...]
    above: tuple[Door, ...]
    """What rests on it, the first of them."""
    above_count: int
    source: Source | None
    validity: tuple[Validity, ...]
    assumed: tuple[Door, ...]
    """The assumed numbers it rests on."""
    uncertainty: str
    standard_uncertainty: str
    note: str
    path: str
    place: str
    waits_for: tuple[Waiting, ...]

    @property
    def rests_on_assumed(self) -> bool:
        """Whether an assumed value stands somewhere beneath it, or it is one."""
        return self.state == "assumed" or bool(self.assumed)


def working_view(study: Study, name: str) -> WorkingView:
    """The working of one number of the case; `UnknownEntry` where the sheet has no such number."""
    entry = study.entries.get(name)
    if entry is None:
        remedy = hint(name, study.entries, "The working of the case lists them all")
        raise UnknownEntry(Fault("the number", "a name on the sheet of the case", repr(name[:80]), remedy=remedy))
    return _Desk({leaf.path: leaf.title for leaf in study.statement.case.leaves()}).view(study, entry)


def validity_view(tag: Tag) -> tuple[Validity, ...]:
    """The range of every symbol of a formula, then the relations it needs."""
    ranges = [Validity(symbol(s.symbol), in_print(interval_text(s)), "") for s in tag.symbols if s.interval]
    needs = [Validity(maths(need.relation.written), "", in_print(need.why)) for need in tag.requires]
    return (*ranges, *needs)


def source_view(citation: Citation | None) -> Source | None:
    """A source as it is printed: title and place, tag, note."""
    if citation is None:
        return None
    return Source(in_print(citation.text), citation.source.tag, in_print(citation.source.note))


def place_text(place: Place | None) -> str:
    """The file by its name and the line; "" where there is none."""
    return f"{place.by_name.file}:{place.line}" if place else ""


def _standard(entry: Entry) -> str:
    """The standard uncertainty in the unit of the number, but of no temperature scale: a difference is in kelvin."""
    if entry.uncertainty is None:
        return ""
    return in_print(spell(entry.uncertainty.standard, entry.suffix, "K" if entry.suffix == "K" else entry.shown))


@dataclass(frozen=True)
class _Desk:
    """Puts a view together; the fields of the case, path with title, are where its numbers lead to."""

    fields: Mapping[str, str]

    def view(self, study: Study, entry: Entry) -> WorkingView:
        above = [each for each in study.entries.values() if any(below is entry for below in each.inputs.values())]
        tag = entry.tag
        return WorkingView(
            name=entry.name,
            meaning=in_print(entry.meaning),
            value=in_print(entry.text),
            state=entry.state,
            state_word=STATE_WORDS[entry.state],
            shape=entry.whole.called if entry.whole else "",
            formula_name=tag.name if tag else "",
            formula=maths(lambda style: formula_line(entry, style)),
            numbers=maths(lambda style: numbers_line(entry, style)),
            method=in_print(entry_method(entry)),
            inputs=tuple(self._inputs(entry)),
            above=tuple(map(self._door, above[:FIRST_ABOVE])),
            above_count=len(above),
            source=source_view(entry.source),
            validity=validity_view(tag) if tag else (),
            assumed=tuple(self._door(each) for each in beneath([entry]) if _assumed(each) and each is not entry),
            uncertainty=in_print(entry.uncertainty.text) if entry.uncertainty else "",
            standard_uncertainty=_standard(entry),
            note=in_print(entry.note),
            path=self._path(entry),
            place=place_text(entry.place),
            waits_for=tuple(Waiting(path, in_print(self.fields.get(path, path))) for path in entry.waits_for),
        )

    def _inputs(self, entry: Entry) -> Iterator[Door]:
        symbols = {each.parameter: each.symbol for each in entry.tag.symbols} if entry.tag else {}
        for key, below in entry.inputs.items():
            yield self._door(below, symbols.get(key, key if entry.relation is not None else ""))

    def _door(self, entry: Entry, letter: str = "") -> Door:
        return Door(
            entry=entry.name,
            meaning=in_print(entry.meaning),
            value=in_print(entry.text),
            state=entry.state,
            state_word=STATE_WORDS[entry.state],
            path=self._path(entry),
            rests_on_assumed=any(map(_assumed, beneath([entry]))),
            symbol=symbol(letter),
        )

    def _path(self, entry: Entry) -> str:
        """The path of the field that a number was read from; a constant of the tool has none."""
        return entry.path if entry.path and (entry.place or entry.path in self.fields) else ""


def _assumed(entry: Entry) -> bool:
    return entry.state == "assumed"
