"""The page of formulas: all of them by room, one with its symbols, and one worked alone with numbers that are typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from onedatum.foundation.errors import Fault, OnedatumError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import SHOWN, hint, in_print
from onedatum.foundation.working import Symbol, Tag, interval_text, numbers_line, tag_line
from onedatum.jobs.formula import FROM_CASE, formulas, work
from onedatum.jobs.page.maths import NO_MATHS, Maths, maths, symbol
from onedatum.jobs.page.working import Source, Validity, source_view, validity_view

LONGEST = 200
"""Characters of a number that is typed; of a search word as well."""
_SHOWN_IN = "--unit"
"""The path of a fault of the unit that the result is shown in."""


class UnknownFormula(OnedatumError):
    """A name that no formula has; `fault` says so and names the nearest."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.sentence())
        self.fault = fault


@dataclass(frozen=True)
class FormulaLine:
    """A formula in the list."""

    name: str
    what: str
    formula: Maths
    method: str
    source_tag: str


@dataclass(frozen=True)
class Room:
    """The formulas of one room."""

    name: str
    lines: tuple[FormulaLine, ...]


@dataclass(frozen=True)
class FormulasView:
    """The list of formulas, all or those that hold every word looked for."""

    search: str
    rooms: tuple[Room, ...]
    count: int
    of: int


@dataclass(frozen=True)
class FormulaField:
    """One number that the formula takes, as typed, with what is wrong with it."""

    key: str
    symbol: Maths
    meaning: str
    unit: str
    allowed: str
    text: str = ""
    fault: str = ""


@dataclass(frozen=True)
class FormulaView:
    """One formula, and its result where numbers are given."""

    name: str
    what: str
    formula: Maths
    method: str
    gives: FormulaField
    fields: tuple[FormulaField, ...]
    needs: tuple[Validity, ...]
    source: Source | None
    not_alone: str
    """Why it cannot be worked with typed numbers; "" where it can."""
    unit: str
    unit_fault: str
    faults: tuple[str, ...]
    """What is wrong and stands at no field."""
    value: str
    numbers: Maths


def formulas_view(search: str = "") -> FormulasView:
    """The formulas whose name, description, symbols or source hold every word of the search; case does not matter."""
    search = search.strip()[:LONGEST]
    words = search.lower().split()
    rooms: dict[str, list[FormulaLine]] = {}
    for name, tag in formulas().items():
        if all(word in _searched(tag) for word in words):
            rooms.setdefault(name.partition(".")[0], []).append(_line(tag))
    found = tuple(Room(name, tuple(lines)) for name, lines in rooms.items())
    return FormulasView(search, found, sum(len(room.lines) for room in found), len(formulas()))


def formula_view(name: str, typed: Mapping[str, str] | None = None, unit: str = "") -> FormulaView:
    """One formula; with `typed`, text by the key of the symbol, its result or what is wrong beside each field.

    `unit`: what the result is shown in, where it is not the usual unit of its kind.
    """
    tag = formulas().get(name)
    if tag is None:
        remedy = hint(name, formulas(), "The list shows them all")
        raise UnknownFormula(Fault("the formula", "a name from the list", repr(name[:80]), remedy=remedy))
    not_alone = _not_alone(tag)
    if typed is None or not_alone:
        return _view(tag, {}, "", {}, not_alone)
    given = {each.key: typed.get(each.key, "").strip() for each in tag.symbols}
    faults = {key: fault for key, text in given.items() if (fault := _refused(key, text))}
    if (unit := unit.strip()) not in SHOWN and len(unit) > LONGEST:
        faults[_SHOWN_IN] = Fault("the unit", f"of at most {LONGEST} characters", f"{len(unit)}")
    if faults:
        return _view(tag, given, unit[:LONGEST], faults, "")
    worked = work(name, [f"{key}={text}" for key, text in given.items() if text], unit=unit)
    entry = worked.entry
    value = in_print(entry.text) if entry is not None and entry.known else ""
    numbers = maths(lambda style: numbers_line(entry, style)) if entry is not None else NO_MATHS
    by_path: dict[str, Fault] = {}
    for fault in worked.faults:
        by_path.setdefault(fault.path, fault)
    return _view(tag, given, unit, by_path, "", value, numbers)


def _view(
    tag: Tag,
    given: Mapping[str, str],
    unit: str,
    faults: Mapping[str, Fault],
    not_alone: str,
    value: str = "",
    numbers: Maths = NO_MATHS,
) -> FormulaView:
    keys = {each.key for each in tag.symbols}
    unit_fault = faults.get(_SHOWN_IN)
    return FormulaView(
        name=tag.name,
        what=in_print(tag.what),
        formula=maths(lambda style: tag_line(tag, style)),
        method=in_print(tag.text) if tag.kind == "procedure" else "",
        gives=_field(tag.result),
        fields=tuple(_field(each, given.get(each.key, ""), faults.get(each.key)) for each in tag.symbols),
        needs=tuple(each for each in validity_view(tag) if each.why),
        source=source_view(citation(tag.source)),
        not_alone=not_alone,
        unit=unit,
        unit_fault=in_print(_said(unit_fault, "the unit")) if unit_fault else "",
        faults=tuple(in_print(each.sentence()) for path, each in faults.items() if path not in {*keys, _SHOWN_IN}),
        value=value,
        numbers=numbers,
    )


def _field(each: Symbol, text: str = "", fault: Fault | None = None) -> FormulaField:
    sentence = in_print(_said(fault, each.meaning)) if fault else ""
    allowed = in_print(interval_text(each))
    return FormulaField(
        each.key, symbol(each.symbol), in_print(each.meaning), in_print(each.measured_in), allowed, text, sentence
    )


def _said(fault: Fault, label: str) -> str:
    """The sentence of a fault with the words of its field in place of its key."""
    return Fault(label, fault.allowed, fault.got, fault.why, remedy=fault.remedy).sentence()


def _refused(key: str, text: str) -> Fault | None:
    """What this page does not take, whatever the formula says."""
    if len(text) > LONGEST:
        return Fault(key, f"of at most {LONGEST} characters", f"{len(text)}")
    if text.startswith(FROM_CASE):
        return Fault(key, "a number with its unit", repr(text), "A formula worked alone has no case to take it from")
    return None


def _not_alone(tag: Tag) -> str:
    kinds = dict.fromkeys(each.whole.called for each in tag.symbols if each.whole)
    if not kinds:
        return ""
    return f"It takes a {' and a '.join(kinds)}, which only a case can give: it is worked on the sheet of a case."


def _line(tag: Tag) -> FormulaLine:
    method = in_print(tag.text) if tag.kind == "procedure" else ""
    shown = maths(lambda style: tag_line(tag, style))
    return FormulaLine(tag.name, in_print(tag.what), shown, method, citation(tag.source).source.tag)


def _searched(tag: Tag) -> str:
    symbols = " ".join(f"{each.symbol} {each.meaning}" for each in (tag.result, *tag.symbols))
    return f"{tag.name} {tag.what} {tag.text} {symbols} {citation(tag.source)}".lower()
