"""What the sheets share: outcomes in words, lines of comparisons, values as they are said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from onedatum.case.leaf import Leaf
from onedatum.case.model.case import US_CUSTOMARY
from onedatum.foundation.sources import citation
from onedatum.foundation.units import in_print, number
from onedatum.foundation.working import Entry
from onedatum.jobs.cut import NOT_KNOWN, cut
from onedatum.paper import model as paper
from onedatum.study.result import Study
from onedatum.verdicts import Check, Verdict

OUTCOMES = {
    Verdict.SUITS: "holds",
    Verdict.ON_CONDITIONS: "to be ordered so",
    Verdict.UNDECIDED: "not decided yet",
    Verdict.DOES_NOT_SUIT: "does not hold",
}
CHECKED = ("what is compared", "is", "must be", "limit", "outcome")
CHECKED_WEIGHTS = (4.2, 1.7, 1.0, 2.0, 1.6)


def outcome(check: Check) -> str:
    """The outcome of a comparison in words; one that is only not passed says so."""
    if check.verdict is Verdict.DOES_NOT_SUIT and check.reason:
        return "not passed"
    return OUTCOMES[check.verdict]


def checked(study: Study, keys: Iterable[str], title: str, note: str = "") -> paper.SheetTable | None:
    """The comparisons whose keys begin so, as a table; None where there is none."""
    starts = tuple(keys)
    found = [check for check in study.checks if check.key.startswith(starts)]
    if not found:
        return None
    failing = tuple(i for i, check in enumerate(found) if check.verdict is Verdict.DOES_NOT_SUIT)
    return paper.SheetTable(title, CHECKED, tuple(map(_line, found)), CHECKED_WEIGHTS, failing, note)


def _line(check: Check) -> tuple[str, ...]:
    limit = check.limit
    texts = (check.title[:1].upper() + check.title[1:], limit.value, limit.sense, limit.limit, outcome(check))
    return tuple(in_print(text) for text in texts)


def verdict_of(study: Study, keys: Iterable[str]) -> Verdict | None:
    """The gravest outcome of comparisons whose keys begin so; None where there is none."""
    starts = tuple(keys)
    found = [check.verdict for check in study.checks if check.key.startswith(starts)]
    return max(found, key=lambda verdict: verdict.gravity) if found else None


def said(leaf: Leaf) -> str:
    """What a leaf says, or that it is not known."""
    if leaf.known:
        return _plain(leaf.text)
    return "none" if leaf.state == "none" else NOT_KNOWN


def shown(entry: Entry | None) -> str:
    """A number as people read it."""
    return NOT_KNOWN if entry is None or not entry.known else _plain(entry.text)


def _plain(text: str) -> str:
    """A value in print; a share of a value is said in plain per cent."""
    return in_print(text).replace(" %value", " %")


def named(study: Study, name: str) -> str:
    """A number of the sheet by its name."""
    return shown(study.sheet.entries.get(name))


def two_columns(title: str, rows: Sequence[tuple[str, str]], note: str = "") -> paper.SheetTable:
    """A table of names and values, half a page wide where another one stands beside it."""
    return paper.SheetTable(title, ("", "as stated or worked"), tuple(rows), (1.0, 1.0), note=note, narrow=True)


def length(study: Study, entry: Entry | None) -> str:
    """A length of cable in whole metres, or feet in a US case, cut off; below zero no cable is short enough."""
    if entry is not None and entry.value is not None and entry.value < 0.0:
        return "none is short enough"
    us = study.statement.case.print_units.word == US_CUSTOMARY
    return cut(entry, "ft" if us else "m")


def probability(entry: Entry | None) -> str:
    """A probability with three digits."""
    return NOT_KNOWN if entry is None or entry.value is None else in_print(number(entry.value, 3))


def facts(rows: Iterable[tuple[str, str, str]]) -> tuple[paper.Note, ...]:
    """Sentences with their source and tag."""
    return tuple(paper.Note(in_print(text), f"{citation(source).text}; {tag}") for text, source, tag in rows)


def present(tables: Iterable[paper.SheetTable | None]) -> tuple[paper.SheetTable, ...]:
    """The tables that there are."""
    return tuple(table for table in tables if table is not None)
