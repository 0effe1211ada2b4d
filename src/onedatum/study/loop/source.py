"""What feeds the transmitter: the supply through a barrier, or an isolator; and what lies in series with it."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.circuit import ISOLATOR, NO_BARRIER, SHUNT_DIODE
from onedatum.foundation.working import Entry
from onedatum.physics.loop import (
    behind_isolator_ohm,
    loop_resistance_ohm,
    resistance_margin_ohm,
    source_voltage_V,
    voltage_after_drop_V,
    voltage_margin_V,
)
from onedatum.study.desk import NOT_SPOKEN_OF, Desk

WORKING_VOLTAGE = (
    "the supply keeps below the working voltage of the barrier",
    "The supply exceeds the working voltage of the barrier",
)
DRIVES_RECEIVER = "the isolator drives the receiver", "The receiver is too much load for the isolator"


@dataclass(frozen=True)
class Source:
    """The voltage that feeds the transmitter and the resistance between: through a barrier, or from an isolator."""

    low: Entry
    high: Entry
    highest: Entry
    """The highest voltage there can be without current: of an isolator its open-circuit voltage."""
    resistance: Entry
    other: Entry
    """Other resistances in series."""
    barrier: Entry | None
    """The barrier's resistance, where there is one."""
    isolator: bool
    in_line: Entry | None = None
    """What the barrier has in line with the receiver, zero without one; None of an isolator, which has its own side."""


def source_of(desk: Desk, cable: Entry, input_resistor: Entry) -> Source:
    """The source of the loop as stated."""
    barrier = desk.case.loop.barrier
    kind = desk.said(barrier.kind, "what stands between the supply and the transmitter")
    other = desk.absent(desk.case.loop.other_resistance, NOT_SPOKEN_OF, "ohm")
    if kind == ISOLATOR:
        desk.skip(barrier.working_voltage_max)
        return _isolator(desk, cable, other, input_resistor)
    desk.skip(barrier.load_max)
    without = kind == NO_BARRIER
    if without:
        desk.skip(barrier.working_voltage_max)
    resistance = _no_barrier(desk) if without else desk.take(barrier.resistance, "ohm")
    total = desk.calc(
        "loop.resistance",
        loop_resistance_ohm,
        shown="ohm",
        input_resistance_ohm=input_resistor,
        barrier_resistance_ohm=resistance,
        cable_resistance_ohm=cable,
        other_resistance_ohm=other,
    )
    low, high = _supplies(desk)
    return Source(
        _after_drop(desk, low) if kind == SHUNT_DIODE else low,
        high,
        high,
        total,
        other,
        None if without else resistance,
        False,
        resistance,
    )


def _isolator(desk: Desk, cable: Entry, other: Entry, input_resistor: Entry) -> Source:
    barrier = desk.case.loop.barrier
    voltage = desk.take(barrier.voltage_at_its_terminals, "V")
    open_circuit = desk.take(barrier.voltage_open_circuit, "V")
    if barrier.load_max.known:
        most = desk.take(barrier.load_max, "ohm")
        margin = desk.calc(
            "loop.isolator_load_margin",
            resistance_margin_ohm,
            shown="ohm",
            meaning="load left on the side of the receiver",
            limit_ohm=most,
            value_ohm=input_resistor,
        )
        desk.compare("isolator-load", DRIVES_RECEIVER, input_resistor, "at most", most, margin, safety=True)
    else:
        desk.want(barrier.load_max, "whether the isolator drives the receiver")
        desk.read.discard(input_resistor.path)
    total = desk.calc(
        "loop.resistance",
        behind_isolator_ohm,
        shown="ohm",
        cable_resistance_ohm=cable,
        other_resistance_ohm=other,
    )
    return Source(voltage, voltage, open_circuit, total, other, None, True)


def _supplies(desk: Desk) -> tuple[Entry, Entry]:
    """The lowest and the highest supply; a shunt-diode barrier must stand the highest."""
    loop = desk.case.loop
    supply = desk.take(loop.supply, "V")
    low = _supply(desk, supply, "low", loop.supply_tolerance.low)
    high = _supply(desk, supply, "high", loop.supply_tolerance.high)
    if loop.barrier.kind.word == SHUNT_DIODE:
        _working_voltage(desk, high)
    return low, high


def _working_voltage(desk: Desk, high: Entry) -> None:
    """The highest supply against the working voltage of the barrier; where that is not known, against its Uo."""
    stated, open_circuit = desk.case.loop.barrier.working_voltage_max, desk.case.circuit.source.Uo
    if not stated.known:
        desk.want(stated, "whether the supply is too high for the barrier")
    limit = stated if stated.known or not open_circuit.known else open_circuit
    if not limit.known:
        return
    most = desk.take(limit, "V")
    margin = desk.calc(
        "loop.working_voltage_margin",
        voltage_margin_V,
        shown="V",
        meaning="voltage the barrier stands less the highest supply",
        terminal_voltage_V=most,
        voltage_min_V=high,
    )
    desk.compare("working-voltage", WORKING_VOLTAGE, high, "at most", most, margin, safety=True)


def _supply(desk: Desk, supply: Entry, which: str, tolerance: Value) -> Entry:
    return desk.calc(
        f"loop.supply_{which}",
        source_voltage_V,
        shown="V",
        meaning=f"{'lowest' if which == 'low' else 'highest'} supply voltage",
        supply_V=supply,
        tolerance=desk.take(tolerance, "%value"),
    )


def _after_drop(desk: Desk, low: Entry) -> Entry:
    """The lowest supply less what the diodes of the barrier take."""
    drop = desk.absent(desk.case.loop.barrier.diode_drop, NOT_SPOKEN_OF, "V")
    if drop.value == 0.0:
        return low
    return desk.calc(
        "loop.supply_after_diodes",
        voltage_after_drop_V,
        shown="V",
        meaning="lowest supply less the diodes of the barrier",
        source_voltage_V=low,
        drop_V=drop,
    )


def _no_barrier(desk: Desk) -> Entry:
    stated = desk.case.loop.barrier.kind
    return desk.sheet.give(
        stated.path, 0.0, "ohm", "no barrier in the loop", state="none", path=stated.path, place=stated.place
    )
