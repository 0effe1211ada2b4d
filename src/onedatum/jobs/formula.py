"""Every formula of the tool by name, usable alone."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from onedatum import physics
from onedatum.case.reading import read_case
from onedatum.foundation.errors import Fault, Place, QuantityError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import dimension_of_unit, nearest, read_quantity
from onedatum.foundation.working import Entry, Sheet, Tag, registry, spell_limit, tag_of
from onedatum.foundation.working.formula import Symbol, interval_text
from onedatum.study.study import study


@dataclass(frozen=True)
class Worked:
    """A formula worked alone: its entry, and what was wrong with the inputs."""

    entry: Entry | None
    faults: tuple[Fault, ...]


def formulas() -> Mapping[str, Tag]:
    """The tags of all formulas, by name."""
    for module in pkgutil.walk_packages(physics.__path__, f"{physics.__name__}."):
        import_module(module.name)
    return {name: tag_of(function) for name, function in sorted(registry().items())}


def describe(tag: Tag) -> str:
    """A formula in words: text, symbols with units and validity, source."""
    lines = [tag.name, f"  {tag.what}", f"  {tag.text}{' = 0' if tag.kind == 'implicit' else ''}"]
    lines.append(f"  gives {tag.result.symbol}, {tag.result.meaning} [{tag.result.unit or '1'}]")
    for symbol in tag.symbols:
        lines.append(
            f"  {symbol.key} : {symbol.symbol}, {symbol.meaning} [{symbol.unit or '1'}]; {interval_text(symbol)}"
        )
    lines += [f"  needs {need.relation.text}: {need.why}" for need in tag.requires]
    return "\n".join([*lines, f"  source: {citation(tag.source)}"])


def work(name: str, inputs: Sequence[str], case: Path | None = None) -> Worked:
    """Work one formula with inputs written `key=quantity`; what is left away is taken from a case's sheet by its entry.

    With a case, an input may also name an entry of its sheet: `level=@level_now`.
    """
    tag = formulas().get(name)
    if tag is None:
        hint = nearest(name, registry())
        remedy = f"Nearest: {hint}" if hint else "`onedatum formula --list` shows them all"
        return Worked(None, (Fault("the formula", "a name from the list", repr(name), remedy=remedy),))
    sheet, faults = Sheet(), []
    known = study(read_case(case)).entries if case else {}
    given, unknown_keys = _split(inputs, tag)
    faults += unknown_keys
    entries: dict[str, Entry] = {}
    for symbol in tag.symbols:
        outcome = _entry(sheet, symbol, given.get(symbol.key), known)
        if isinstance(outcome, Fault):
            faults.append(outcome)
        else:
            entries[symbol.parameter] = outcome
    if faults:
        return Worked(None, tuple(faults))
    entry = sheet.calc(name, registry()[name], **entries)
    return Worked(entry, tuple(sheet.faults))


def _split(inputs: Sequence[str], tag: Tag) -> tuple[dict[str, str], list[Fault]]:
    keys = [symbol.key for symbol in tag.symbols]
    given: dict[str, str] = {}
    faults = []
    for text in inputs:
        key, equals, value = text.partition("=")
        if not equals or key not in keys:
            hint = nearest(key, keys)
            remedy = f"Nearest: {hint}" if hint else f"Known: {', '.join(keys)}"
            faults.append(Fault(text, "written as key=quantity with a key of the formula", repr(key), remedy=remedy))
        elif key in given:
            faults.append(Fault(key, "given once", "two values"))
        else:
            given[key] = value
    return given, faults


def _entry(sheet: Sheet, symbol: Symbol, text: str | None, known: Mapping[str, Entry]) -> Entry | Fault:
    if text is None:
        return Fault(symbol.key, f"given: {symbol.meaning}, {interval_text(symbol)}", "nothing")
    if text.startswith("@"):
        return _from_case(sheet, symbol, text[1:], known)
    try:
        value = _read(symbol, text)
    except QuantityError as error:
        return Fault(symbol.key, error.allowed, error.got, error.why, remedy=error.remedy)
    return sheet.give(
        symbol.key, value, symbol.suffix, symbol.meaning, as_stated=text, place=Place("command line", 1, 1)
    )


def _from_case(sheet: Sheet, symbol: Symbol, name: str, known: Mapping[str, Entry]) -> Entry | Fault:
    entry = known.get(name)
    if entry is None:
        hint = nearest(name, known)
        remedy = f"Nearest: {hint}" if hint else "Give a case with --case"
        return Fault(symbol.key, "an entry of the case's sheet", repr(name), remedy=remedy)
    if entry.suffix != symbol.suffix or entry.value is None:
        unit = symbol.unit or "no unit"
        return Fault(symbol.key, f"a known entry in {unit}", f"{name} = {entry.text}")
    return sheet.give(symbol.key, entry.value, symbol.suffix, symbol.meaning, as_stated=entry.text, note=f"from {name}")


def _read(symbol: Symbol, text: str) -> float:
    """A value on the command line; dimensionless ones may also be per cents of any kind."""
    if symbol.unit:
        dimension = dimension_of_unit(symbol.unit)
        if dimension is None:
            raise QuantityError(f"in {symbol.unit}", text, "this unit cannot be read yet")
        return read_quantity(text, dimension.word)
    for kind in ("number", *_SHARES):
        try:
            return read_quantity(text, kind)
        except QuantityError as error:
            refused = error
    raise QuantityError("a number, or a per cent with its kind such as 68 %vol", text, refused.why)


_SHARES = ("volume fraction", "mass fraction", "share of span", "share of value")


def worked_json(worked: Worked) -> dict[str, Any]:
    """A worked formula in its JSON form."""
    from onedatum.study.form import entry_json, fault_json

    entry = worked.entry
    inputs = [entry_json(below) for below in entry.inputs.values()] if entry else []
    return {
        "result": entry_json(entry) if entry else None,
        "inputs": inputs,
        "faults": [fault_json(fault) for fault in worked.faults],
    }


__all__ = ["Worked", "describe", "formulas", "spell_limit", "work", "worked_json"]
