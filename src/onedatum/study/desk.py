"""The desk the chapters work at: the case on one side, the sheet on the other."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal

import numpy as np

from onedatum.case.leaf import Leaf, Rows, Side, Value, Word
from onedatum.case.model import Case
from onedatum.case.table_file import TableFile
from onedatum.foundation.errors import Fault, ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.sources import Citation, Source
from onedatum.foundation.working import Entry, Sheet, State, Whole
from onedatum.study.apart import HEIGHTS, Apart
from onedatum.verdicts import Check, Finding, Knowledge, Limit, Verdict, of_unknown

Sense = Literal["at most", "at least"]
NONE = "none"
NOT_SPOKEN_OF = "not spoken of: counted as none"
"""What the sheet says of a value that was left out and counts as zero."""


@dataclass(frozen=True)
class Comparison:
    """A number of the sheet beside its limit; their margin is zero or more where it holds."""

    key: str
    holds: str
    fails: str
    value: Entry
    sense: Sense
    limit: Entry
    margin: Entry
    safety: bool
    remark: bool


@dataclass(frozen=True)
class Want:
    """Something that must be known: its title, who can know it, what it decides."""

    title: str
    side: Side
    decides: str


@dataclass
class Desk:
    """What the chapters share."""

    case: Case
    table: TableFile | None = None
    """The tank table the case brings along."""
    sheet: Sheet = field(default_factory=Sheet)
    comparisons: list[Comparison] = field(default_factory=list)
    checks: list[Check] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    """What is wrong with what the case brings along, beside what the sheet refuses."""
    wants: dict[str, Want] = field(default_factory=dict)
    """What must be known beside the numbers that wait, by path."""
    beside_the_point: set[str] = field(default_factory=set)
    """Paths of leaves that mean nothing in this case; unknown, they are no requirement of the order."""
    explained: set[str] = field(default_factory=set)
    """Keys of checks that a finding of their chapter tells of: where one fails, it makes no second finding."""
    read: set[str] = field(default_factory=set)
    """Paths of the leaves that a chapter has read."""

    def take(self, value: Value, shown: str = "", none: float | None = None) -> Entry:
        """A stated value as an entry of the sheet, under its path; `none` is what stated absence means as a number."""
        self.read.add(value.path)
        if value.path in self.sheet:
            return self.sheet[value.path]
        si = none if value.state == "none" else value.si
        return self.sheet.give(
            value.path,
            si,
            value.suffix,
            value.title,
            state=value.state,
            shown=shown,
            as_stated=value.text,
            path=value.path,
            place=value.place,
            note=_note(value),
            source=_stated_source(value),
            uncertainty=value.uncertainty,
        )

    def word(self, leaf: Word, decides: str) -> str:
        """A stated word; where it is not known it is wanted, and the chapter goes on with the one reading it has."""
        self.read.add(leaf.path)
        if not leaf.known and leaf.state != "none":
            self.wants.setdefault(leaf.path, Want(leaf.title, leaf.side, decides))
        return leaf.word

    def said(self, leaf: Word, decides: str) -> str:
        """A stated word, `none` where its absence is stated; "" where it is not known, and then it is wanted."""
        return NONE if leaf.state == NONE else self.word(leaf, decides)

    def skip(self, *leaves: Leaf) -> None:
        """Note that leaves mean nothing in this case: neither unread nor, where they are unknown, to be ordered."""
        paths = [leaf.path for leaf in leaves]
        self.read.update(paths)
        self.beside_the_point.update(paths)

    def want(self, leaf: Leaf, decides: str) -> None:
        """Ask for a value that is not known."""
        self.read.add(leaf.path)
        self.wants.setdefault(leaf.path, Want(leaf.title, leaf.side, decides))

    def want_uncertainty(self, entry: Entry, decides: str) -> str:
        """Ask how well a given number is known; gives the path under which it is asked."""
        path = f"{entry.path}.within"
        self.wants.setdefault(path, Want(f"uncertainty of: {entry.meaning}", "process", decides))
        return path

    def points(self, stated: Rows, *keys: str) -> tuple[Reals, ...] | None:
        """The numbers of a list by key, a column each; None where one of them is not known or there is none."""
        self.read.add(stated.path)
        leaves: list[list[Value]] = [[getattr(item, key) for item in stated.items] for key in keys]
        self.read.update(leaf.path for column in leaves for leaf in column)
        numbers = [[leaf.si for leaf in column] for column in leaves]
        if not stated.items or any(number is None for column in numbers for number in column):
            return None
        return tuple(np.array(column, dtype=np.float64) for column in numbers)

    def held(
        self, stated: Rows, kind: Callable[..., Whole], keys: tuple[str, ...], meaning: str, shown: str = ""
    ) -> Entry:
        """A list as one whole, its numbers by key; unknown while one of them is, a fault where they make none."""
        points, whole = self.points(stated, *keys), None
        if points is not None:
            try:
                whole = kind(*points)
            except ValidityError as error:
                self.faults.append(Fault(stated.path, error.allowed, error.got, error.why, stated.place))
        return self.sheet.hold(
            stated.path, whole, meaning, shown=shown, path=stated.path, place=stated.place, note=stated.note
        )

    def absent(self, value: Value, note: str, shown: str = "") -> Entry:
        """A value that counts as zero where it is not spoken of; the sheet says so."""
        if value.state != "unknown":
            return self.take(value, shown, none=0.0)
        return self.usual(value, 0.0, note, shown=shown)

    def usual(
        self,
        value: Value,
        figure: float,
        note: str,
        *,
        shown: str = "",
        meaning: str = "",
        source: str | Citation | None = None,
    ) -> Entry:
        """A figure in the place of a value that is not stated, under its path and marked as assumed."""
        self.read.add(value.path)
        return self.constant(
            value.path,
            figure,
            value.suffix,
            meaning or value.title,
            state="assumed",
            shown=shown,
            note=note,
            source=source,
        )

    def constant(
        self,
        name: str,
        value: float,
        suffix: str,
        meaning: str,
        *,
        state: State = "constant",
        shown: str = "",
        note: str = "",
        source: str | Citation | None = None,
    ) -> Entry:
        """A figure that the case does not state, or what stands under that name already."""
        if name in self.sheet:
            return self.sheet[name]
        return self.sheet.give(name, value, suffix, meaning, state=state, shown=shown, note=note, source=source)

    def end(self, value: Value, which: str, state: str, shown: str = "") -> Entry:
        """The low or high end of a stated range as an entry of its own, for the state named; once for each."""
        name, si = f"{value.path}[{state}]", value.low if which == "low" else value.high
        if name in self.sheet:
            return self.sheet[name]
        return self.sheet.give(
            name,
            si,
            value.suffix,
            f"{value.title}, {state}",
            state=value.state,
            shown=shown,
            path=f"{value.path}.{'min' if which == 'low' else 'max'}",
            place=value.place,
            source=_stated_source(value),
        )

    def calc(
        self, name: str, function: Callable[..., Any], *, shown: str = "", meaning: str = "", **inputs: Entry
    ) -> Entry:
        """`Sheet.calc`, at hand."""
        return self.sheet.calc(name, function, shown=shown, meaning=meaning, **inputs)

    def once(
        self, name: str, function: Callable[..., Any], *, shown: str = "", meaning: str = "", **inputs: Entry
    ) -> Entry:
        """`calc`, or what stands under that name already: the same for every state."""
        return (
            self.sheet[name]
            if name in self.sheet
            else self.sheet.calc(name, function, shown=shown, meaning=meaning, **inputs)
        )

    def worked(
        self,
        name: str,
        function: Callable[..., Any],
        inputs: Mapping[str, Entry],
        *,
        shown: str = "",
        meaning: str = "",
    ) -> Entry:
        """`calc` of inputs that stand in a mapping."""
        return self.sheet.calc(name, function, shown=shown, meaning=meaning, **inputs)

    def body(self, name: str, function: Callable[..., Any], inputs: Mapping[str, Entry], meaning: str = "") -> Entry:
        """`calc` of a formula that gives a whole, its lengths told in millimetres."""
        return self.worked(name, function, inputs, shown="mm", meaning=meaning)

    def compare(
        self,
        key: str,
        words: tuple[str, str],
        value: Entry,
        sense: Sense,
        limit: Entry,
        margin: Entry,
        *,
        safety: bool = False,
        remark: bool = False,
    ) -> None:
        """Put a number beside its limit, to be judged by their margin when the sheet is worked.

        `words` say what holds and what is so where it fails; a `remark` does not stand against the order.
        """
        self.comparisons.append(Comparison(key, *words, value, sense, limit, margin, safety, remark))

    def compare_apart(
        self,
        key: str,
        words: tuple[str, str],
        value: Entry,
        sense: Sense,
        limit: Entry,
        name: str,
        meaning: str = "",
        *,
        by: Apart = HEIGHTS,
        safety: bool = False,
        remark: bool = False,
    ) -> None:
        """The same with their distance as the margin, under `name`: of heights, or of what `by` says."""
        inputs = by.inputs(*descending(value, sense, limit))
        margin = self.worked(name, by.margin, inputs, shown=by.shown, meaning=meaning)
        self.compare(key, words, value, sense, limit, margin, safety=safety, remark=remark)

    def judge(
        self,
        key: str,
        words: tuple[str, str],
        value: str,
        sense: str,
        limit: str,
        holds: bool | None,
        *,
        waits_for: tuple[str, ...] = (),
        remark: bool = False,
    ) -> None:
        """Put a word beside what it must be, such as a group or a class; None waits for what is named."""
        if holds is None:
            knowledge = self.knowledge(waits_for)
            verdict = of_unknown(Knowledge.ASK if knowledge is Knowledge.KNOWN else knowledge)
        else:
            verdict = Verdict.SUITS if holds else Verdict.DOES_NOT_SUIT
        self.checks.append(
            Check(
                words[0],
                verdict,
                Limit(value, "", limit, "", sense),
                True,
                True,
                "a word is missing" if holds is None else "",
                waits_for if holds is None else (),
                key,
                remark,
                words[1],
            )
        )

    def verdict_of(self, key: str) -> Check:
        """The check of a comparison, once judged."""
        return next(check for check in self.checks if check.key == key)

    def knowledge(self, paths: tuple[str, ...]) -> Knowledge:
        """Who can know what is waited for: one question to the customer is enough to ask."""
        if not paths:
            return Knowledge.KNOWN
        ours = all(self._sides.get(path, "process") == "instrument" for path in paths)
        return Knowledge.OURS if ours else Knowledge.ASK

    @cached_property
    def _sides(self) -> Mapping[str, Side]:
        """Who can know each leaf of the case, by path."""
        return {leaf.path: leaf.side for leaf in self.case.leaves()}


def descending(value: Entry, sense: Sense, limit: Entry) -> tuple[Entry, Entry]:
    """The two numbers of a comparison, first the one that is not the smaller where it holds."""
    return (limit, value) if sense == "at most" else (value, limit)


def _note(leaf: Leaf) -> str:
    parts = [f"assumed by {leaf.by}" if leaf.by else "", leaf.note]
    return "; ".join(part for part in parts if part)


def _stated_source(leaf: Leaf) -> Citation | None:
    """The source the case names for a value; its own words, whatever they are worth."""
    if not leaf.source:
        return None
    return Citation(Source("stated", leaf.source, "named in the case"))
