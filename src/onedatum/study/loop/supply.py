"""The supply of the loop: does the transmitter keep its voltage at every current, and up to which current?"""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.loop import (
    Bands,
    largest_barrier_ohm,
    largest_input_resistor_ohm,
    last_good_current_A,
    longest_cable_m,
    resistance_without_cable_ohm,
    terminal_voltage_V,
    voltage_margin_V,
)
from onedatum.study.desk import Desk
from onedatum.study.loop.bands import bands_of
from onedatum.study.loop.cable import cable_resistance, conductor
from onedatum.study.loop.source import Source, source_of
from onedatum.study.signal import SignalChapter

UPPER_SIGNAL_A = 0.020

CARRIES_WORST = "the loop carries the highest failure current", "The highest failure current cannot be reached"
CARRIES_RANGE = "the loop carries the whole range", "The loop ends inside the range"
CARRIES_LEVEL = "the loop carries the level now", "The loop does not carry the level now"
WITHSTANDS = "the transmitter withstands the highest supply", "The supply is too high for the transmitter"


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
    longest_cable: Entry
    """The length at which the highest failure current is just reached."""
    bands: Bands
    """What the current tells."""
    receiver_standard: Entry | None = None
    """Standard uncertainty that the receiver adds to the level; None where nothing of it is stated."""
    hart_longest_cable: Entry | None = None
    """The longest cable for HART, where it is used."""

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
        terminal = terminal_at(desk, self.source, current, name, when)
        margin = _margin(desk, f"loop.margin_at_{name}", terminal, self.voltage_min, when)
        desk.compare(key, words, terminal, "at least", self.voltage_min, margin, safety=safety, remark=remark)


def supply(desk: Desk, signal: SignalChapter) -> LoopChapter:
    """Work the supply of the loop at both ends of the current."""
    transmitter = desk.case.loop.transmitter
    cable = cable_resistance(desk)
    input_resistor = desk.take(desk.case.loop.input_resistor, "ohm", none=0.0)
    source = source_of(desk, cable, input_resistor)
    worst, voltage_min = desk.take(transmitter.current_worst, "mA"), desk.take(transmitter.voltage_min, "V")
    terminal = terminal_at(desk, source, worst, "worst", "at the highest failure current")
    margin = _margin(desk, "loop.margin_at_worst", terminal, voltage_min, "above the lowest terminal voltage")
    desk.compare("worst-current", CARRIES_WORST, terminal, "at least", voltage_min, margin, safety=True, remark=True)
    _low_end(desk, source)
    last_current, last_level = _end(desk, source, voltage_min, signal)
    longest = _longest(desk, source, cable, voltage_min, worst)
    loop = LoopChapter(
        source,
        cable,
        input_resistor,
        worst,
        terminal,
        voltage_min,
        margin,
        last_current,
        last_level,
        longest,
        bands_of(desk),
    )
    largest_barrier_for(desk, "loop.largest_barrier_for_worst", loop, worst)
    _carries_range(desk, loop)
    return loop


def terminal_at(desk: Desk, source: Source, current: Entry, name: str, when: str) -> Entry:
    """The voltage left for the transmitter at a current and the lowest supply."""
    return _terminal(desk, f"loop.terminal_voltage_at_{name}", source.low, current, source, when)


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
        other_resistance_ohm=loop.source.other,
    )


def largest_input_resistor_for(desk: Desk, name: str, loop: LoopChapter, current: Entry) -> Entry | None:
    """The input resistor at which a current is just reached; None behind an isolator, which drives it apart."""
    if loop.source.in_line is None:
        return None
    return desk.calc(
        name,
        largest_input_resistor_ohm,
        shown="ohm",
        source_voltage_V=loop.source.low,
        voltage_min_V=loop.voltage_min,
        current_A=current,
        barrier_resistance_ohm=loop.source.in_line,
        cable_resistance_ohm=loop.cable,
        other_resistance_ohm=loop.source.other,
    )


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


def _longest(desk: Desk, source: Source, cable: Entry, voltage_min: Entry, worst: Entry) -> Entry:
    """The longest cable at which the highest failure current is reached; negative where none is short enough."""
    rest = desk.calc(
        "loop.resistance_without_cable",
        resistance_without_cable_ohm,
        shown="ohm",
        resistance_ohm=source.resistance,
        cable_resistance_ohm=cable,
    )
    return desk.worked(
        "loop.longest_cable",
        longest_cable_m,
        {
            "source_voltage_V": source.low,
            "voltage_min_V": voltage_min,
            "current_A": worst,
            "rest_resistance_ohm": rest,
            **conductor(desk),
        },
        shown="m",
        meaning="longest cable by the voltage left at the highest failure current",
    )
