"""The loop of a study as the paper room draws it: its elements and the voltages at every current."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.circuit import ISOLATOR, SHUNT_DIODE
from onedatum.foundation.numerics import Reals
from onedatum.foundation.units import in_print, show
from onedatum.jobs.cut import NOT_KNOWN
from onedatum.jobs.safety_sheets.words import length, said
from onedatum.paper.loop.model import Border, Column, LoopDrawing, Part, Row
from onedatum.study.loop_table import LoopTable, loop_table
from onedatum.study.result import Study


def drawing_of(study: Study) -> LoopDrawing:
    """The loop with its table of voltages."""
    table = loop_table(study)
    failing = _failing(table)
    return LoopDrawing(
        title=f"Loop {study.statement.case.tag.text}".strip(),
        parts=tuple(_parts(study)),
        columns=tuple(_columns(table, failing)),
        rows=tuple(_rows(study, table, failing)),
        border=_border(study),
        earth=_earth(study),
        longest=_longest(study),
        note=("all voltages at the lowest supply; the cable at its highest temperature",),
    )


def _parts(study: Study) -> Iterator[Part]:
    loop = study.statement.case.loop
    tolerance = loop.supply_tolerance
    yield Part(
        "supply", "supply", (said(loop.supply), f"{said(tolerance.low)} / {said(tolerance.high)}"), loop.supply.known
    )
    yield Part("input resistor", "receiver", (said(loop.input_resistor),), loop.input_resistor.known)
    if loop.test_resistor.known:
        yield Part("test resistor", "test resistor", (said(loop.test_resistor),))
    kind = loop.barrier.kind.word
    if kind == SHUNT_DIODE:
        yield Part("barrier", "barrier", (said(loop.barrier.resistance),), loop.barrier.resistance.known)
    if kind == ISOLATOR:
        voltage = loop.barrier.voltage_at_its_terminals
        yield Part("isolator", "isolator", (f"{said(voltage)} at its terminals",), voltage.known)
    if loop.other_resistance.known:
        yield Part("other", "other", (said(loop.other_resistance),))
    cable = study.sheet.entries.get("loop.cable_resistance")
    both = f"{in_print(cable.text)} both cores" if cable is not None and cable.known else NOT_KNOWN
    section = said(loop.cable.area if loop.cable.area.known else loop.cable.core_resistance_20degC)
    lines = (said(loop.cable.length), section, both)
    yield Part("cable", "cable", lines, cable is not None and cable.known)
    transmitter = loop.transmitter
    least = f"{said(transmitter.voltage_min)} to {said(transmitter.voltage_max)}"
    yield Part("transmitter", study.statement.case.tag.text or "transmitter", (least,), transmitter.voltage_min.known)


def _failing(table: LoopTable) -> tuple[int, ...]:
    """The columns in which the transmitter has less than its least voltage."""
    if table.margin_V is None:
        return ()
    return tuple(place for place, margin in enumerate(table.margin_V.tolist()) if margin < 0.0)


def _columns(table: LoopTable, failing: tuple[int, ...]) -> Iterator[Column]:
    for place, (name, current) in enumerate(zip(table.names, table.currents_A.tolist(), strict=True)):
        worst = name == "highest failure current"
        words = {"4 mA": "begin of the range", "12 mA": "middle", "20 mA": "end of the range"}.get(name, name)
        yield Column(in_print(show(current, "mA")), words, worst, place in failing)


def _rows(study: Study, table: LoopTable, failing: tuple[int, ...]) -> Iterator[Row]:
    count = len(table.names)
    isolated = study.safe.wired.source.isolator
    first = "isolator gives" if isolated else "supply, lowest"
    if study.statement.case.loop.barrier.diode_drop.known:
        first = "supply, lowest, less diodes"
    yield Row(first, _same(table.source_V, count))
    for name, drop in table.drops_V:
        yield Row(f"{name} takes", _each(drop, count))
    yield Row("at the transmitter", _each(table.terminal_V, count), strong=True, failing=failing)
    yield Row("it needs at least", _same(table.least_V, count))
    yield Row("left", _each(table.margin_V, count), failing=failing)


def _same(value: float | None, count: int) -> tuple[str, ...]:
    return (NOT_KNOWN if value is None else in_print(show(value, "V")),) * count


def _each(values: Reals | None, count: int) -> tuple[str, ...]:
    if values is None:
        return (NOT_KNOWN,) * count
    return tuple(in_print(show(value, "V")) for value in values.tolist())


def _border(study: Study) -> Border | None:
    zone = study.statement.case.zone
    if study.safe.ignition is None:
        return None
    inside, head = (leaf.word or NOT_KNOWN for leaf in (zone.inside, zone.at_head))
    return Border("not hazardous", f"zone {head} at the head, zone {inside} inside")


def _earth(study: Study) -> str:
    circuit = study.statement.case.circuit
    if study.statement.case.loop.barrier.kind.word != SHUNT_DIODE or study.safe.ignition is None:
        return ""
    return f"equipotential earth {said(circuit.earth_resistance)}"


def _longest(study: Study) -> str:
    entry = study.safe.wired.longest_cable
    if entry.value is None:
        return ""
    return f"longest cable by the voltage left at the highest failure current: {length(study, entry)}"
