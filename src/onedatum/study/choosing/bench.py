"""What the numbers of the rules are worked at: entries that are known, and their place under the name of the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal

from onedatum.case.leaf import Leaf, Value
from onedatum.foundation.working import Entry, tag_of
from onedatum.physics.screening import error_share
from onedatum.study.apart import Apart
from onedatum.study.desk import NONE, Desk
from onedatum.study.measuring import Measuring
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.stem import StemDetail
from onedatum.verdicts.rules import quantities

End = Literal["", "low", "high"]
Which = Literal["least", "greatest"]
LEAST: Final = "least"
GREATEST: Final = "greatest"
_ENDS = {"low": LEAST, "high": GREATEST}


@dataclass(frozen=True)
class Number:
    """A number that rules read, as entries of the sheet: one, or one for each condition of the state."""

    name: str
    entries: tuple[Entry, ...]
    principles: tuple[str, ...] = ()
    """For which it holds; all of them where none is named."""


@dataclass(frozen=True)
class Bench:
    """One state of the medium, and all that the chapters have worked."""

    desk: Desk
    states: StatesChapter
    conditions: Sequence[Condition]
    """The state as it is, at its coldest and at its hottest."""
    measuring: Measuring
    detail: StemDetail | None
    principle: str
    """That of the case, by the name of the rules; empty where none is stated."""
    answers: Mapping[str, Leaf]
    """The section of conditions, by the names of the rules."""

    @property
    def state(self) -> str:
        """The name of the state."""
        return self.conditions[0].name

    # ------------------------------------------------------------ what is known

    def taken(self, leaf: Value, end: End = "") -> Entry | None:
        """A stated value, or an end of its range; None where there is none or it is not known."""
        if not leaf.known or leaf.si is None:
            return None
        if end and (leaf.low if end == "low" else leaf.high) is not None:
            return self.desk.end(leaf, end, _ENDS[end])
        return self.desk.take(leaf)

    def answer(self, name: str, end: End = "") -> Entry | None:
        """A number of the section of conditions; where its absence is stated, zero, if it can be zero at all."""
        leaf = self.answers[name]
        if not isinstance(leaf, Value):
            return None
        if leaf.state == NONE:
            return self.desk.take(leaf, none=0.0) if quantities()[name].least <= 0.0 else None
        return self.taken(leaf, end)

    def at_hand(self, name: str) -> Entry | None:
        """What a chapter has put down, where it is known."""
        entry = self.desk.sheet.entries.get(name)
        return entry if entry is not None and entry.known else None

    def by_condition(self, name: str) -> tuple[Entry, ...]:
        """What a chapter has put down for each condition of the state; nothing where one of them is not known."""
        return every(self.at_hand(f"{name}[{each.name}]") for each in self.conditions)

    @property
    def allowed(self) -> Entry | None:
        """The error allowed of the level."""
        return self.taken(self.desk.case.wanted.error_allowed_of_level)

    # ------------------------------------------------------------ what is worked

    def work(
        self, name: str, function: Callable[..., Any], at: str = "", meaning: str = "", /, **inputs: Entry | None
    ) -> Entry | None:
        """A number under the name of the rules, at a condition or for every state; None where an input is missing."""
        known = {key: entry for key, entry in inputs.items() if entry is not None and entry.known}
        if len(known) < len(inputs):
            return None
        quantity = quantities().get(name)
        meaning = meaning or (quantity.title if quantity else "")
        shown = quantity.unit if quantity else "mm" if tag_of(function).result.suffix == "m" else ""
        placed = f"choosing.{name}[{at}]" if at else f"choosing.{name}"
        entry = self.desk.once(placed, function, shown=shown, meaning=f"{meaning}, {at}" if at else meaning, **known)
        return entry if entry.known else None

    def number(
        self,
        name: str,
        function: Callable[..., Any],
        principles: tuple[str, ...] = (),
        at: str = "",
        /,
        **inputs: Entry | None,
    ) -> Iterator[Number]:
        """The same as a number that rules read; nothing where an input is missing."""
        entry = self.work(name, function, at, **inputs)
        if entry is not None:
            yield Number(name, (entry,), principles)

    def share(self, name: str, error: Entry | None, principles: tuple[str, ...] = (), at: str = "") -> Iterator[Number]:
        """An error over the error allowed."""
        return self.number(name, error_share, principles, at, error_m=error, allowed_m=self.allowed)

    def apart(
        self,
        name: str,
        by: Apart,
        upper: Entry | None,
        lower: Entry | None,
        principles: tuple[str, ...] = (),
        at: str = "",
    ) -> Iterator[Number]:
        """How far one number lies above another."""
        return self.number(name, by.margin, principles, at, **{by.upper: upper, by.lower: lower})

    def end_of(self, name: str, which: Which, meaning: str, entries: Sequence[Entry]) -> Entry | None:
        """The least or greatest of entries, for every state; None where there is none or one is not known."""
        placed = f"choosing.{name}"
        if placed in self.desk.sheet:
            return self.desk.sheet[placed]
        if not entries or not all(entry.known for entry in entries):
            return None
        if len({entry.name for entry in entries}) == 1:
            return entries[0]
        return self.desk.sheet.select(placed, which, meaning, entries)


def given(name: str, entries: Sequence[Entry], principles: tuple[str, ...] = ()) -> Iterator[Number]:
    """Entries of a chapter as a number that rules read; nothing where there is none or one is not known."""
    if entries and all(entry.known for entry in entries):
        yield Number(name, tuple(entries), principles)


def every(entries: Iterable[Entry | None]) -> tuple[Entry, ...]:
    """Entries that are all at hand; empty where one is missing: what is left would look better than the whole."""
    found = tuple(entries)
    known = tuple(entry for entry in found if entry is not None)
    return known if len(known) == len(found) else ()


def one(entry: Entry | None) -> tuple[Entry, ...]:
    """An entry as a row of one; empty where there is none."""
    return () if entry is None else (entry,)
