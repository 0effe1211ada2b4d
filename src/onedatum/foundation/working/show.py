"""One entry of a sheet in words: formula, numbers put in, result, inputs, source."""

from __future__ import annotations

from collections.abc import Mapping

from onedatum.foundation.working.formula import Tag
from onedatum.foundation.working.render import Plain, Style
from onedatum.foundation.working.sheet import Entry
from onedatum.foundation.working.spell import spell_si


def formula_line(entry: Entry, style: Style) -> str:
    """The formula, "" for a number that was given and for a procedure."""
    if entry.relation is not None:
        return entry.relation.written(style)
    return tag_line(entry.tag, style) if entry.tag else ""


def tag_line(tag: Tag, style: Style, values: Mapping[str, str] | None = None) -> str:
    """The text of a formula, with numbers in place of its symbols where there are `values`; "" for a procedure."""
    if tag.equation:
        return tag.equation.written(style, values)
    return style.equal(tag.residual.written(style, values), style.number("0")) if tag.residual else ""


def numbers_line(entry: Entry, style: Style) -> str:
    """The formula with the numbers put in, in SI units; "" where there is no formula or a number is unknown."""
    if any(not below.known for below in entry.inputs.values()) or not entry.known:
        return ""
    if entry.relation is not None:
        return entry.relation.written(style, {s: spell_si(e.value, e.suffix) for s, e in entry.inputs.items()})
    if (tag := entry.tag) is None:
        return ""
    symbols = {symbol.parameter: symbol.symbol for symbol in tag.symbols}
    numbers = {p: e for p, e in entry.inputs.items() if e.whole is None}
    values = {symbols[p]: spell_si(e.value, e.suffix) for p, e in numbers.items()}
    if tag.residual:
        values[tag.result.symbol] = spell_si(entry.value, entry.suffix)
    return tag_line(tag, style, values)


def entry_text(entry: Entry) -> str:
    """An entry as people read it in a terminal: value, formula, numbers put in, inputs, source."""
    style = Plain()
    lines = [f"{entry.name} = {entry.text}", f"  {entry.meaning}"]
    lines += [f"  {line}" for line in (formula_line(entry, style), numbers_line(entry, style)) if line]
    if method := entry_method(entry):
        lines.append(f"  by: {method}")
    lines += [f"  from {below.name} = {below.text}  ({below.state})" for below in entry.inputs.values()]
    if entry.place:
        lines.append(f"  {entry.state} at {entry.place}" + (f", {entry.uncertainty.text}" if entry.uncertainty else ""))
    if entry.note:
        lines.append(f"  note: {entry.note}")
    if entry.source:
        lines.append(f"  source: {entry.source}")
    if entry.waits_for:
        lines.append(f"  waits for: {', '.join(entry.waits_for)}")
    if entry.state == "computed" and entry.rests_on_assumed:
        lines.append("  rests on an assumed value")
    return "\n".join(lines)


def entry_method(entry: Entry) -> str:
    """The method of an entry that no formula gives: a procedure, a selection, a working of the sheet itself."""
    if entry.method:
        return entry.method
    if entry.selects:
        return f"the {entry.selects} of the inputs"
    return entry.tag.text if entry.tag and entry.tag.kind == "procedure" else ""
