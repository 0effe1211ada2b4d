"""Every formula of the tool by name, usable alone."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from onedatum import physics
from onedatum.case.reading import read_case
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import SHOWN, dimension_of_unit, hint, read_quantity
from onedatum.foundation.working import Entry, Sheet, Symbol, Tag, interval_text, registry, tag_of
from onedatum.study.form import entry_json, fault_json
from onedatum.study.study import study

FROM_CASE = "@"
"""Before the name of an entry of the case's sheet, in place of a quantity."""
_KINDS = {"strength": "volume fraction", "mass_fraction": "mass fraction"}
"""The kind of per cent of a dimensionless input, by its name; any other is a share of its value."""


@dataclass(frozen=True)
class Worked:
    """A formula worked alone: its entry, and what was wrong with the inputs."""

    entry: Entry | None
    faults: tuple[Fault, ...]


@cache
def formulas() -> Mapping[str, Tag]:
    """The tags of all formulas, by name."""
    for module in pkgutil.walk_packages(physics.__path__, f"{physics.__name__}."):
        import_module(module.name)
    ours = f"{physics.__name__}."
    return {name: tag_of(f) for name, f in sorted(registry().items()) if f.__module__.startswith(ours)}


def describe(tag: Tag) -> str:
    """A formula in words: text, symbols with units and validity, source."""
    lines = [tag.name, f"  {tag.what}", f"  {tag.text}{' = 0' if tag.kind == 'implicit' else ''}"]
    lines.append(f"  gives {tag.result.symbol}, {tag.result.meaning} [{tag.result.measured_in}]")
    for symbol in tag.symbols:
        unit = symbol.measured_in
        lines.append(f"  {symbol.key}: {symbol.symbol}, {symbol.meaning} [{unit}]; {interval_text(symbol)}")
    lines += [f"  needs {need.relation.text}: {need.why}" for need in tag.requires]
    return "\n".join([*lines, f"  source: {citation(tag.source)}"])


def work(name: str, inputs: Sequence[str], case: Path | None = None, unit: str = "") -> Worked:
    """Work one formula with inputs written `key=quantity`, or `key=@entry` to take a number of the case's sheet.

    `unit`: what the result is shown in, where it is not the usual unit of its kind.
    """
    tag = formulas().get(name)
    if tag is None:
        remedy = hint(name, registry(), "`onedatum formula --list` shows them all")
        return Worked(None, (Fault("the formula", "a name from the list", repr(name), remedy=remedy),))
    given, faults = _split(inputs, tag)
    faults += _strange_unit(tag, unit)
    found = study(read_case(case)) if case else None
    faults += found.faults if found else ()
    desk = _Desk(Sheet(), found.entries if found else {})
    entries = {symbol.parameter: desk.entry(symbol, given.get(symbol.key), faults) for symbol in tag.symbols}
    known = {parameter: entry for parameter, entry in entries.items() if entry is not None}
    if faults:
        return Worked(None, tuple(faults))
    return Worked(desk.sheet.calc(name, registry()[name], shown=unit, meaning="", **known), tuple(desk.sheet.faults))


def _strange_unit(tag: Tag, unit: str) -> list[Fault]:
    """A unit that results are not shown in, or that measures something else."""
    if not unit:
        return []
    if unit not in SHOWN:
        return [Fault("--unit", "a unit that results are shown in", repr(unit), remedy=hint(unit, SHOWN))]
    kind = None if tag.result.whole else dimension_of_unit(tag.result.unit)
    try:
        if kind is not None:
            read_quantity(f"1 {unit}", kind.word)
    except QuantityError as error:
        return [Fault("--unit", error.allowed, repr(unit), error.why)]
    return [] if kind is not None else [Fault("--unit", "left away for this result", repr(unit))]


def worked_json(worked: Worked) -> dict[str, Any]:
    """A worked formula in its JSON form."""
    entry = worked.entry
    return {
        "result": entry_json(entry) if entry else None,
        "inputs": [entry_json(below) for below in entry.inputs.values()] if entry else [],
        "faults": [fault_json(fault) for fault in worked.faults],
    }


def _split(inputs: Sequence[str], tag: Tag) -> tuple[dict[str, str], list[Fault]]:
    """The inputs by key, and what is wrong with their form."""
    keys = [symbol.key for symbol in tag.symbols]
    given: dict[str, str] = {}
    faults = []
    for text in inputs:
        key, equals, value = text.partition("=")
        if not equals or key not in keys:
            remedy = hint(key, keys, f"Known: {', '.join(keys)}")
            faults.append(Fault(text, "written as key=quantity with a key of the formula", repr(key), remedy=remedy))
        elif key in given:
            faults.append(Fault(key, "given once", "two values"))
        else:
            given[key] = value
    return given, faults


@dataclass(frozen=True)
class _Desk:
    """A sheet of its own for one formula, and the numbers of a case beside it."""

    sheet: Sheet
    known: Mapping[str, Entry]

    def entry(self, symbol: Symbol, text: str | None, faults: list[Fault]) -> Entry | None:
        """The input of one symbol as an entry; what is wrong with it joins the faults."""
        if text is None:
            faults.append(Fault(symbol.key, f"given: {symbol.meaning}, {interval_text(symbol)}", "nothing"))
            return None
        if text.startswith(FROM_CASE):
            return self._from_case(symbol, text.removeprefix(FROM_CASE), faults)
        if symbol.whole:
            allowed = f"a {symbol.whole.called} of a case, written {symbol.key}={FROM_CASE}NAME with --case"
            faults.append(Fault(symbol.key, allowed, repr(text)))
            return None
        try:
            value = _read(symbol, text)
        except QuantityError as error:
            faults.append(Fault(symbol.key, error.allowed, error.got, error.why, remedy=error.remedy))
            return None
        return self.sheet.give(symbol.key, value, symbol.suffix, symbol.meaning, as_stated=text)

    def _from_case(self, symbol: Symbol, name: str, faults: list[Fault]) -> Entry | None:
        entry = self.known.get(name)
        if entry is None:
            remedy = hint(name, self.known, "Give a case with --case")
            faults.append(Fault(symbol.key, "an entry of the case's sheet", repr(name), remedy=remedy))
            return None
        if entry.suffix != symbol.suffix or not isinstance(entry.content, symbol.whole or float):
            wanted = f"a {symbol.whole.called}" if symbol.whole else f"a known entry in {symbol.unit or 'no unit'}"
            faults.append(Fault(symbol.key, wanted, f"{name} = {entry.text}"))
            return None
        if entry.whole is not None:
            return self.sheet.hold(symbol.key, entry.whole, symbol.meaning, note=name)
        return self.sheet.give(symbol.key, entry.value, symbol.suffix, symbol.meaning, as_stated=entry.text, note=name)


def _read(symbol: Symbol, text: str) -> float:
    """A value on the command line; one without a unit is a number or a per cent of its own kind."""
    if symbol.unit:
        dimension = dimension_of_unit(symbol.unit)
        if dimension is None:
            raise QuantityError(f"in {symbol.unit}", text, "This unit cannot be read")
        return read_quantity(text, dimension.word)
    why = ""
    for kind in ("number", _KINDS.get(symbol.key, "share of value")):
        try:
            return read_quantity(text, kind)
        except QuantityError as error:
            why = why or error.why
    raise QuantityError("a number, or a per cent with its kind such as 68 %vol", text, why)
