"""Values of certificates that contradict each other or look mistyped: asked, never judged.

The bounds are from memory or estimates; they serve to catch a wrong unit, not to design a circuit.
"""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import (
    circuit_group,
    inductance_estimate_H,
    permitted_ratio_H_per_ohm,
    plausible_capacitance_F,
    source_resistance_ohm,
)
from onedatum.study.desk import Desk, Want
from onedatum.verdicts import Effect, Finding, Link

IMPLAUSIBLE, CONFIRMED = "implausible:", "confirmed:"
POWER_LOW, POWER_HIGH = 0.99, 1.2
"""Of Uo*Io/4, the largest power of a linear source: less than that but for rounding is not its largest power."""
CAPACITANCE_LOW, CAPACITANCE_HIGH = 1.0 / 50.0, 1.25
"""Of the greatest permitted capacitance at that voltage: below and above it a wrong unit is likely."""
INDUCTANCE_LOW, INDUCTANCE_HIGH = 1.0 / 50.0, 4.0
RESISTANCE_SHARE = 0.05
"""Share by which a barrier may be stated below Uo/Io: both are rounded."""


def implausible(desk: Desk) -> None:
    """Ask about every value of the source that does not go with the others."""
    desk.findings.extend(_power(desk))
    desk.findings.extend(_capacitance(desk))
    desk.findings.extend(_inductance(desk))
    desk.findings.extend(_resistance(desk))
    desk.findings.extend(_ratio(desk))
    desk.findings.extend(_against_the_loop(desk))


def _against_the_loop(desk: Desk) -> Iterator[Finding]:
    """What the loop takes from the source against what its certificate says that it gives at most."""
    source, barrier = desk.case.circuit.source, desk.case.loop.barrier
    for leaf, words in (
        (barrier.voltage_open_circuit, "its open-circuit voltage"),
        (barrier.voltage_at_its_terminals, "the voltage at its terminals"),
    ):
        if leaf.si is not None and source.Uo.si is not None and leaf.si > source.Uo.si:
            title = f"Uo of the source is less than {words} in the loop"
            yield _asked(desk, source.Uo, title, desk.take(leaf, "V"), "In the loop it gives")
    worst = desk.case.loop.transmitter.current_worst
    if worst.si is not None and source.Io.si is not None and worst.si > source.Io.si:
        title = "Io of the source is less than the highest failure current of the loop"
        yield _asked(desk, source.Io, title, desk.take(worst, "mA"), "The loop needs")


def _ratio(desk: Desk) -> Iterator[Finding]:
    source = desk.case.circuit.source
    values = (source.Lo_per_Ro.si, source.Uo.si, source.Io.si)
    if None in values or not source.for_group.word:
        return
    energy = desk.sheet.entries.get("circuit.ignition_energy") or _energy(desk)
    none = desk.sheet.give("circuit.source_inductance", 0.0, "H", "inductance within the source", state="none")
    entry = desk.calc(
        "circuit.ratio_estimate",
        permitted_ratio_H_per_ohm,
        shown="uH/ohm",
        meaning="inductance per resistance by the ignition energy, for plausibility only",
        open_circuit_voltage_V=desk.take(source.Uo, "V"),
        source_resistance_ohm=_source_resistance(desk),
        ignition_energy_J=energy,
        source_inductance_H=none,
    )
    stated = source.Lo_per_Ro.si or 0.0
    if entry.value is not None and not _near(stated, entry.value, INDUCTANCE_LOW, INDUCTANCE_HIGH):
        yield _asked(desk, source.Lo_per_Ro, "Lo/Ro looks mistyped", entry, "By the ignition energy it is about")


def _power(desk: Desk) -> Iterator[Finding]:
    stated, expected = desk.case.circuit.source.Po, desk.sheet["circuit.matched_power"]
    if stated.si is None or expected.value is None or _near(stated.si, expected.value, POWER_LOW, POWER_HIGH):
        return
    words = "The largest power of a linear source, Uo Io / 4, is"
    below = (Link("The larger of both is compared with Pi"),) if stated.si < expected.value else ()
    yield _asked(desk, stated, "Po does not go with Uo and Io of a linear source", expected, words, *below)


def _capacitance(desk: Desk) -> Iterator[Finding]:
    source = desk.case.circuit.source
    if source.Co.si is None or source.Uo.si is None or not source.for_group.word:
        return
    bound = plausible_capacitance_F(source.Uo.si, source.for_group.word)
    if bound is None or _near(source.Co.si, bound.capacitance_F, CAPACITANCE_LOW, CAPACITANCE_HIGH):
        return
    entry = desk.sheet.give(
        "circuit.plausible_capacitance",
        bound.capacitance_F,
        "F",
        f"greatest permitted capacitance of group {bound.group} at {bound.voltage_V:g} V, for plausibility only",
        state="constant",
        shown="nF",
        source=bound.source,
    )
    yield _asked(desk, source.Co, "Co looks mistyped: nF or uF?", entry, "The table of capacitances has at most")


def _inductance(desk: Desk) -> Iterator[Finding]:
    source = desk.case.circuit.source
    if source.Lo.si is None or source.Io.si is None or not source.for_group.word:
        return
    energy = _energy(desk)
    expected = desk.calc(
        "circuit.inductance_estimate",
        inductance_estimate_H,
        shown="mH",
        meaning="inductance by the ignition energy, for plausibility only",
        short_circuit_current_A=desk.take(source.Io, "mA"),
        ignition_energy_J=energy,
    )
    if expected.value is not None and not _near(source.Lo.si, expected.value, INDUCTANCE_LOW, INDUCTANCE_HIGH):
        yield _asked(desk, source.Lo, "Lo looks mistyped: uH or mH?", expected, "By the ignition energy it is about")


def _resistance(desk: Desk) -> Iterator[Finding]:
    source, barrier = desk.case.circuit.source, desk.case.loop.barrier.resistance
    if barrier.si is None or source.Uo.si is None or source.Io.si is None:
        return
    least = _source_resistance(desk)
    if least.value is not None and barrier.si < least.value * (1 - RESISTANCE_SHARE):
        title = "The barrier is stated with less resistance than Uo and Io leave it"
        yield _asked(desk, barrier, title, least, "Uo / Io is")


def _energy(desk: Desk) -> Entry:
    group = circuit_group(desk.case.circuit.source.for_group.word)
    return desk.sheet.give(
        "circuit.ignition_energy",
        group.ignition_energy_J,
        "J",
        f"ignition energy of group {group.group}, for plausibility only",
        state="constant",
        shown="uJ",
        source=group.energy_source,
    )


def _source_resistance(desk: Desk) -> Entry:
    source = desk.case.circuit.source
    return desk.once(
        "circuit.source_resistance",
        source_resistance_ohm,
        shown="ohm",
        open_circuit_voltage_V=desk.take(source.Uo, "V"),
        short_circuit_current_A=desk.take(source.Io, "mA"),
    )


def _near(value: float, expected: float, low: float, high: float) -> bool:
    return expected * low <= value <= expected * high


def _asked(desk: Desk, leaf: Value, title: str, expected: Entry, words: str, *beside: Link) -> Finding:
    """A warning, with the question that settles it; a note or a source beside the value is the answer."""
    confirmed = bool(leaf.note or leaf.source)
    path = f"{leaf.path} (by the certificate)"
    if not confirmed:
        desk.wants.setdefault(path, Want(f"{leaf.title}, once more by its certificate", "process", "the circuit check"))
    return Finding(
        f"{CONFIRMED if confirmed else IMPLAUSIBLE}{leaf.path}",
        title,
        Effect.WARNING,
        (
            Link("Stated", leaf.text, leaf.path if leaf.path in desk.sheet else ""),
            Link(words, expected.text, expected.name),
            *beside,
        ),
        (Link("Read value and unit off the certificate again; a note beside the value confirms it"),),
        safety=True,
    )
