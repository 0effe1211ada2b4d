"""Chapter loop: does the transmitter keep its voltage at every current it may draw, and up to which current?"""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.loop import (
    cable_resistance_ohm,
    copper_temperature_coefficient,
    core_resistance,
    largest_barrier_ohm,
    last_good_current_A,
    loop_resistance_ohm,
    source_voltage_V,
    terminal_voltage_V,
    voltage_margin_V,
)
from onedatum.study.desk import Desk
from onedatum.study.signal import SignalChapter

UPPER_SIGNAL_A = 0.020

WORST_CONDUCTOR = "class 5, tinned copper"
"""Counted on where the class of the conductor is not stated: the highest resistance of the table."""


CARRIES_WORST = "the loop carries the highest failure current", "The highest failure current cannot be reached"
CARRIES_RANGE = "the loop carries the whole range", "The loop ends inside the range"
CARRIES_LEVEL = "the loop carries the level now", "The loop does not carry the level now"
WITHSTANDS = "the transmitter withstands the highest supply", "The supply is too high for the transmitter"


@dataclass(frozen=True)
class Source:
    """The voltage that feeds the transmitter and the resistance between: through a barrier, or from an isolator."""

    low: Entry
    high: Entry
    highest: Entry
    """The highest voltage there can be without current: of an isolator its open-circuit voltage."""
    resistance: Entry
    barrier: Entry | None
    """The barrier's resistance, where there is one."""
    isolator: bool


@dataclass(frozen=True)
class LoopChapter:
    """What the findings need of the loop."""

    source: Source
    cable: Entry
    input_resistor: Entry
    worst: Entry
    """The highest failure current."""
    terminal_at_worst: Entry
    voltage_min: Entry
    margin: Entry
    last_current: Entry | None
    """The highest current at which the transmitter has its voltage; an isolator is not worked beyond its currents."""
    last_level: Entry | None
    """Its level, where the loop ends below the end of the measurement information."""

    def compare(
        self,
        desk: Desk,
        key: str,
        words: tuple[str, str],
        current: Entry,
        name: str,
        when: str,
        *,
        safety: bool = False,
        remark: bool = False,
    ) -> None:
        """Put the voltage left for the transmitter at a current beside the least it needs."""
        terminal = _terminal(desk, f"loop.terminal_voltage_at_{name}", self.source.low, current, self.source, when)
        margin = _margin(desk, f"loop.margin_at_{name}", terminal, self.voltage_min, when)
        desk.compare(key, words, terminal, "at least", self.voltage_min, margin, safety=safety, remark=remark)


def loop_chapter(desk: Desk, signal: SignalChapter) -> LoopChapter:
    """Work the supply of the loop at both ends of the current."""
    transmitter = desk.case.loop.transmitter
    cable = _cable(desk)
    input_resistor = desk.take(desk.case.loop.input_resistor, "ohm", none=0.0)
    source = _source(desk, cable, input_resistor)
    if source.isolator:
        desk.read.discard(input_resistor.path)
    worst = desk.take(transmitter.current_worst, "mA")
    voltage_min = desk.take(transmitter.voltage_min, "V")
    terminal = _terminal(
        desk, "loop.terminal_voltage_at_worst", source.low, worst, source, "at the highest failure current"
    )
    margin = _margin(desk, "loop.margin_at_worst", terminal, voltage_min, "above the lowest terminal voltage")
    desk.compare("worst-current", CARRIES_WORST, terminal, "at least", voltage_min, margin, safety=True, remark=True)
    _low_end(desk, source)
    last_current, last_level = _end(desk, source, voltage_min, signal)
    loop = LoopChapter(source, cable, input_resistor, worst, terminal, voltage_min, margin, last_current, last_level)
    largest_barrier_for(desk, "loop.largest_barrier_for_worst", loop, worst)
    _carries_range(desk, loop)
    return loop


def _carries_range(desk: Desk, loop: LoopChapter) -> None:
    """Whether the level can be read up to 20 mA, and whether the level now can."""
    upper = desk.sheet.give(
        "loop.upper_signal",
        UPPER_SIGNAL_A,
        "A",
        "current at the end of the range",
        state="constant",
        shown="mA",
        source="iec-60381-1",
    )
    loop.compare(desk, "carries-range", CARRIES_RANGE, upper, "range_end", "at 20 mA")
    if desk.case.level_now.known:
        now = desk.sheet["signal.current_shown"]
        loop.compare(desk, "carries-level", CARRIES_LEVEL, now, "level_now", "at the level now", remark=True)


def largest_barrier_for(desk: Desk, name: str, loop: LoopChapter, current: Entry) -> Entry | None:
    """The barrier at which a current is just reached; None where there is no barrier in the loop."""
    if loop.source.barrier is None:
        return None
    return desk.calc(
        name,
        largest_barrier_ohm,
        shown="ohm",
        source_voltage_V=loop.source.low,
        voltage_min_V=loop.voltage_min,
        current_A=current,
        input_resistance_ohm=loop.input_resistor,
        cable_resistance_ohm=loop.cable,
    )


def _source(desk: Desk, cable: Entry, input_resistor: Entry) -> Source:
    loop = desk.case.loop
    kind = desk.word(loop.barrier.kind, "what stands between the supply and the transmitter")
    if kind == "isolator":
        voltage = desk.take(loop.barrier.voltage_at_its_terminals, "V")
        open_circuit = desk.take(loop.barrier.voltage_open_circuit, "V")
        return Source(voltage, voltage, open_circuit, cable, None, True)
    supply, tolerance = desk.take(loop.supply, "V"), loop.supply_tolerance
    low, high = _supply(desk, supply, "low", tolerance.low), _supply(desk, supply, "high", tolerance.high)
    without = kind == "none" or loop.barrier.kind.state == "none"
    barrier = _no_barrier(desk) if without else desk.take(loop.barrier.resistance, "ohm")
    total = desk.calc(
        "loop.resistance",
        loop_resistance_ohm,
        shown="ohm",
        input_resistance_ohm=input_resistor,
        barrier_resistance_ohm=barrier,
        cable_resistance_ohm=cable,
    )
    return Source(low, high, high, total, None if without else barrier, False)


def _supply(desk: Desk, supply: Entry, which: str, tolerance: Value) -> Entry:
    return desk.calc(
        f"loop.supply_{which}",
        source_voltage_V,
        shown="V",
        meaning=f"{'lowest' if which == 'low' else 'highest'} supply voltage",
        supply_V=supply,
        tolerance=desk.take(tolerance, "%value"),
    )


def _no_barrier(desk: Desk) -> Entry:
    stated = desk.case.loop.barrier.kind
    return desk.sheet.give(
        stated.path, 0.0, "ohm", "no barrier in the loop", state="none", path=stated.path, place=stated.place
    )


def _cable(desk: Desk) -> Entry:
    cable = desk.case.loop.cable
    alpha = copper_temperature_coefficient()
    return desk.calc(
        "loop.cable_resistance",
        cable_resistance_ohm,
        shown="ohm",
        length_m=desk.take(cable.length, "m"),
        core_resistance_ohm_per_m=_core(desk),
        temperature_K=desk.take(cable.temperature_max),
        alpha_per_K=desk.sheet.give(
            "loop.cable.alpha",
            alpha.alpha_per_K,
            "per_K",
            "temperature coefficient of copper",
            state="constant",
            source=alpha.source,
        ),
    )


def _core(desk: Desk) -> Entry:
    """The resistance of a core: as stated, else by the table for the conductor as stated, else for the worst one."""
    cable = desk.case.loop.cable
    if cable.core_resistance_20degC.known:
        return desk.take(cable.core_resistance_20degC, "ohm/km")
    if cable.area.si is None:
        return _unknown_core(desk)
    desk.read.add(cable.area.path)
    conductor = desk.word(cable.conductor, "the resistance of the cable") or WORST_CONDUCTOR
    try:
        row = core_resistance(cable.area.si, conductor)
    except QuantityError as error:
        desk.sheet.faults.append(
            Fault(
                cable.area.path, error.allowed, cable.area.text, error.why, cable.area.place, error.remedy, "validity"
            )
        )
        return _unknown_core(desk)
    return desk.sheet.give(
        "loop.cable.core_resistance",
        row.resistance_ohm_per_m,
        "ohm_per_m",
        f"resistance of one core at 20 degC, {conductor}, {cable.area.text}",
        state=cable.conductor.state if cable.conductor.known else "assumed",
        shown="ohm/km",
        path=cable.conductor.path,
        place=cable.conductor.place or cable.area.place,
        note="" if cable.conductor.known else "class not stated: the highest resistance of the table is counted on",
        source=row.source,
    )


def _unknown_core(desk: Desk) -> Entry:
    area = desk.case.loop.cable.area
    meaning = "resistance of one core at 20 degC"
    return desk.sheet.give("loop.cable.core_resistance", None, "ohm_per_m", meaning, path=area.path, place=area.place)


def _terminal(desk: Desk, name: str, voltage: Entry, current: Entry, source: Source, when: str) -> Entry:
    return desk.calc(
        name,
        terminal_voltage_V,
        shown="V",
        meaning=f"voltage at the transmitter {when}",
        source_voltage_V=voltage,
        current_A=current,
        resistance_ohm=source.resistance,
    )


def _margin(desk: Desk, name: str, terminal: Entry, limit: Entry, where: str) -> Entry:
    return desk.calc(
        name,
        voltage_margin_V,
        shown="V",
        meaning=f"margin {where}",
        terminal_voltage_V=terminal,
        voltage_min_V=limit,
    )


def _low_end(desk: Desk, source: Source) -> None:
    """The other end: the low failure current at the highest supply must not exceed what the transmitter stands."""
    transmitter = desk.case.loop.transmitter
    low = desk.take(transmitter.current_failure_low, "mA")
    highest = desk.take(transmitter.voltage_max, "V")
    name = "loop.terminal_voltage_at_failure_low"
    terminal = _terminal(desk, name, source.high, low, source, "at the low failure current and the highest supply")
    _margin(desk, "loop.margin_at_failure_low", highest, terminal, "below the highest terminal voltage")
    margin = _margin(desk, "loop.margin_without_current", highest, source.highest, "below it, while no current flows")
    desk.compare("withstands-supply", WITHSTANDS, source.highest, "at most", highest, margin, safety=True)


def _end(desk: Desk, source: Source, voltage_min: Entry, signal: SignalChapter) -> tuple[Entry | None, Entry | None]:
    """Where the loop ends, and the level there if it ends below the end of the measurement information."""
    if source.isolator or source.resistance.value == 0.0:
        return None, None
    current = desk.calc(
        "loop.last_good_current",
        last_good_current_A,
        shown="mA",
        source_voltage_V=source.low,
        voltage_min_V=voltage_min,
        resistance_ohm=source.resistance,
    )
    ends = desk.sheet.decide(
        "loop.ends_below_information",
        "I_end < I_high",
        "the loop ends below the end of the measurement information",
        I_end=current,
        I_high=signal.saturation_high,
    )
    if not ends:
        return current, None
    return current, signal.level(desk, "loop.last_good_level", current, "level at the last good current")
