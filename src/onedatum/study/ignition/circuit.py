"""The intrinsically safe circuit: one linear source, its apparatus and the cable, by the values of the certificates.

Whatever is not such a circuit is refused: several sources, another characteristic, another atmosphere.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from onedatum.case.leaf import Word
from onedatum.case.model.hazard import LINEAR, ONE, CircuitDevice
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import (
    cable_capacitance_F,
    cable_inductance_H,
    capacitance_left_F,
    circuit_capacitance_F,
    circuit_group,
    circuit_inductance_H,
    current_left_A,
    group_serves,
    half_rule_capacitance_F,
    half_rule_inductance_H,
    inductance_left_H,
    joint_capacitance_F,
    joint_inductance_H,
    least_group,
    level_serves,
    longest_by_capacitance_m,
    longest_by_inductance_m,
    lowest_level,
    matched_power_W,
    power_left_W,
    ratio_left_H_per_ohm,
    voltage_left_V,
)
from onedatum.study.desk import NONE, Desk, Sense, Want, descending
from onedatum.study.ignition.kinds import ranked
from onedatum.study.ignition.place import Needs
from onedatum.study.loop.cable_data import capacitance_per_length, inductance_per_length, inductance_per_resistance
from onedatum.verdicts import Link

CIRCUIT_KEYS = ("circuit-", "earth-")
"""What the keys of the checks of a circuit begin with."""
ONE_SOURCE = "one source feeds the circuit", "Several sources feed the circuit"
LINEAR_SOURCE = "the source is linear", "The source is not linear"
SEVERAL_SOURCES = (
    "Several sources feed the circuit: it needs the procedure for several sources, and counts as ib at most"
)
NOT_LINEAR = "The source is not linear: its power, capacitance and inductance do not follow from Uo and Io"
ENTITY: tuple[tuple[str, str, Callable[..., Any], tuple[str, str]], ...] = (
    ("voltage", "Uo <= Ui", voltage_left_V, ("input_voltage_V", "open_circuit_voltage_V")),
    ("current", "Io <= Ii", current_left_A, ("input_current_A", "short_circuit_current_A")),
    ("power", "Po <= Pi", power_left_W, ("input_power_W", "source_power_W")),
)
"""What is compared of source and apparatus: name, inequality, margin, and the margin's parameters."""
ROUNDED = 0.99
"""Down to what share of Uo*Io/4 a stated Po is its rounding."""
MATCHED = "Uo Io / 4"
"""In place of Po where that is stated lower."""
CAPACITANCE_HOLDS = "the capacitance of the circuit is permitted", "The capacitance of the circuit is not permitted"
INDUCTANCE_HOLDS = "the inductance of the circuit is permitted", "The inductance of the circuit is not permitted"
RATIO_HOLDS = (
    "the inductance of the cable per resistance is permitted",
    "Neither the inductance of the circuit nor that per resistance is permitted",
)
LEVEL_SERVES = (
    "the circuit's level of protection serves zone {0}",
    "The circuit's level of protection is too low for zone {0}",
)
LISTED = "the apparatus of the circuit are listed", "No apparatus of the circuit is listed"
GROUP_OF_SOURCE = "Co and Lo are stated for the group of the zone", "Co and Lo are stated for another group"
GROUP_SERVES = "{0} serves the group of the zone", "{0} does not serve the group of the zone"


@dataclass(frozen=True)
class Inequality:
    """One line of the comparison: what is, what is permitted, what is left."""

    text: str
    value: Entry
    sense: Sense
    limit: Entry
    margin: Entry


@dataclass(frozen=True)
class Halving:
    """The rule of one half: whether each of its two tests triggered it, and what is usable then."""

    over_capacitance: bool | None
    over_inductance: bool | None
    capacitance: Entry
    inductance: Entry

    @property
    def applies(self) -> bool | None:
        """Both must hold."""
        tests = (self.over_capacitance, self.over_inductance)
        return None if None in tests else all(tests)


@dataclass(frozen=True)
class CircuitChapter:
    """The circuit as worked, for its findings and its sheet."""

    refused: tuple[Link, ...]
    """Why no simple check is made; empty where one is."""
    devices: tuple[str, ...]
    inequalities: tuple[Inequality, ...] = ()
    halving: Halving | None = None
    level: str = ""
    group: str = ""
    longest_by_capacitance: Entry | None = None
    longest_by_inductance: Entry | None = None
    """None where the inductance per resistance holds: then no length is too long by it."""


def circuit_chapter(desk: Desk, needs: Needs, atmosphere: tuple[Link, ...]) -> CircuitChapter:
    """Compare the circuit, or say why no simple check is made."""
    stated = desk.case.circuit
    desk.read.add(stated.devices.path)
    reasons = (*_refusals(desk), *atmosphere)
    names = tuple(_name(number, each) for number, each in enumerate(stated.devices.items, start=1))
    if reasons:
        desk.skip(*stated.leaves())
        return CircuitChapter(reasons, names)
    if not names:
        _listed(desk)
    _simple(desk)
    level, group = _level(desk, needs), _group(desk, needs, names)
    lines = _entity(desk, names)
    if not names:
        return CircuitChapter((), (), level=level, group=group)
    return _reactive(desk, CircuitChapter((), names, lines, level=level, group=group))


def _listed(desk: Desk) -> None:
    """Ask for the apparatus where none is listed; an empty list is no answer, for the instrument itself is one."""
    stated = desk.case.circuit.devices
    path = stated.path if stated.state != "stated" else f"{stated.path} (one at least)"
    if stated.state == "stated":
        desk.wants.setdefault(path, Want(stated.title, "process", "the check of the circuit"))
    elif stated.state != "faulty":
        desk.want(stated, "the check of the circuit")
    desk.judge("circuit-apparatus", LISTED, "none", "at least", "one", None, waits_for=(path,))


def _name(number: int, device: CircuitDevice) -> str:
    return device.name.text if device.name.known else f"apparatus {number}"


def _refusals(desk: Desk) -> tuple[Link, ...]:
    """What the simple check is not made for."""
    found = []
    for _, leaf, wanted, _, refused in _conditions(desk):
        word = desk.said(leaf, "whether the simple check holds: one linear source only")
        if word not in ("", wanted):
            found.append(Link(refused if word != NONE else f"{leaf.title}: none"))
    return tuple(found)


def _simple(desk: Desk) -> None:
    """Whether the circuit is one that the simple check is made for; open while that is not known."""
    for key, leaf, wanted, words, _ in _conditions(desk):
        holds = leaf.word == wanted if leaf.word else None
        desk.judge(key, words, leaf.word or "unknown", "", wanted, holds, waits_for=(leaf.path,))


def _conditions(desk: Desk) -> tuple[tuple[str, Word, str, tuple[str, str], str], ...]:
    """What the simple check asks of the source: key, leaf, word, what holds and fails, why it is refused."""
    source = desk.case.circuit.source
    return (
        ("circuit-sources", source.sources, ONE, ONE_SOURCE, SEVERAL_SOURCES),
        ("circuit-characteristic", source.characteristic, LINEAR, LINEAR_SOURCE, NOT_LINEAR),
    )


def _level(desk: Desk, needs: Needs) -> str:
    """The level of protection of the circuit is the lowest of its parts."""
    stated = desk.case.circuit
    leaves = [stated.source.level, *(each.level for each in stated.devices.items)]
    words = [desk.said(leaf, "the level of protection of the circuit") for leaf in leaves]
    level = NONE if NONE in words else lowest_level(words) if all(words) else ""
    for zone in (needs.inside, needs.at_head):
        if zone is None:
            continue
        waits_for = tuple(leaf.path for leaf, word in zip(leaves, words, strict=True) if not word)
        holds = level != NONE and level_serves(level, zone.zone) if level else None
        where = "inside" if zone is needs.inside else "head"
        desk.judge(
            f"circuit-level-{where}",
            (LEVEL_SERVES[0].format(zone.zone), LEVEL_SERVES[1].format(zone.zone)),
            level or "unknown",
            "at least",
            f"{zone.least_level} for zone {zone.zone}",
            holds,
            waits_for=waits_for,
        )
    return level


def _group(desk: Desk, needs: Needs, names: Sequence[str]) -> str:
    """The group of the circuit is the least demanding one that its parts are certified for."""
    stated = desk.case.circuit
    parts = [
        ("source", "The source", GROUP_OF_SOURCE, stated.source.for_group),
        *(
            (f"device[{number}]", name, (GROUP_SERVES[0].format(name), GROUP_SERVES[1].format(name)), each.group)
            for number, (name, each) in enumerate(zip(names, stated.devices.items, strict=True), start=1)
        ),
    ]
    words = []
    for key, who, said, leaf in parts:
        word = desk.said(leaf, "whether the circuit serves the group of the zone")
        holds = word != NONE and group_serves(word, needs.group) if word and needs.group else None
        waits_for = tuple(path for path, known in ((leaf.path, word), ("zone.group", needs.group)) if not known)
        limit = needs.group or "unknown"
        told, sense = ranked(who, said, word, needs.group)
        desk.judge(f"circuit-group-{key}", told, word or "unknown", sense, limit, holds, waits_for=waits_for)
        words.append(word)
    kinds = {word.startswith("III") for word in words}
    return least_group(words) if all(words) and NONE not in words and len(kinds) == 1 else ""


def _entity(desk: Desk, names: Sequence[str]) -> tuple[Inequality, ...]:
    """Voltage, current and power of the source against those of every apparatus."""
    source = desk.case.circuit.source
    given = desk.take(source.Uo, "V"), desk.take(source.Io, "mA"), _power(desk)
    lower = given[2].value is not None and given[2].value != source.Po.si
    lines = []
    for number, (name, device) in enumerate(zip(names, desk.case.circuit.devices.items, strict=True), start=1):
        desk.read.update((device.name.path, device.certificate.path))
        limits = desk.take(device.Ui, "V"), desk.take(device.Ii, "mA"), desk.take(device.Pi, "W")
        for (what, symbols, function, keys), value, limit in zip(ENTITY, given, limits, strict=True):
            margin = desk.worked(
                f"circuit.device[{number}].{what}_left",
                function,
                dict(zip(keys, (limit, value), strict=True)),
                shown=limit.shown,
                meaning=f"{what} left, {name}",
            )
            words = f"{name} stands the {what} of the source", f"The {what} of the source is too high for {name}"
            desk.compare(f"circuit-{what}[{number}]", words, value, "at most", limit, margin, safety=True)
            text = symbols.replace("Po", MATCHED) if lower else symbols
            lines.append(Inequality(f"{text}, {name}", value, "at most", limit, margin))
    return tuple(lines)


def _power(desk: Desk) -> Entry:
    """The power that counts: Po, unless that is less than a linear source gives into the load that matches it.

    A Po that differs from Uo*Io/4 by the rounding of a certificate stands as it is stated.
    """
    source = desk.case.circuit.source
    matched = desk.calc(
        "circuit.matched_power",
        matched_power_W,
        shown="W",
        meaning="largest power of a linear source with this voltage and current",
        open_circuit_voltage_V=desk.take(source.Uo, "V"),
        short_circuit_current_A=desk.take(source.Io, "mA"),
    )
    if source.Po.si is not None and matched.value is not None and source.Po.si >= ROUNDED * matched.value:
        return desk.take(source.Po, "W")
    meaning = "power of the source that counts, the larger of Po as stated and Uo Io / 4"
    return desk.sheet.select("circuit.source_power", "greatest", meaning, [desk.take(source.Po, "W"), matched])


def _reactive(desk: Desk, chapter: CircuitChapter) -> CircuitChapter:
    """Capacitance and inductance, halved where both of the apparatus count, and the longest cable by them."""
    stated = desk.case.circuit
    permitted = desk.take(stated.source.Co, "nF"), desk.take(stated.source.Lo, "mH")
    internal = (
        _sum(
            desk,
            "capacitance",
            joint_capacitance_F,
            [desk.take(each.Ci, "nF", none=0.0) for each in stated.devices.items],
        ),
        _sum(
            desk,
            "inductance",
            joint_inductance_H,
            [desk.take(each.Li, "mH", none=0.0) for each in stated.devices.items],
        ),
    )
    halving = _halving(desk, permitted, internal)
    capacitance, by_capacitance = _capacitance(desk, halving.capacitance, internal[0])
    inductance, by_inductance = _inductance(desk, halving, permitted[1], internal[1])
    return replace(
        chapter,
        inequalities=(*chapter.inequalities, capacitance, inductance),
        halving=halving,
        longest_by_capacitance=by_capacitance,
        longest_by_inductance=by_inductance,
    )


def _sum(desk: Desk, what: str, function: Callable[..., Any], parts: Sequence[Entry]) -> Entry:
    total = parts[0]
    for number, part in enumerate(parts[1:], start=2):
        keys = ("first_F", "second_F") if what == "capacitance" else ("first_H", "second_H")
        meaning = f"internal {what} of {number} apparatus together"
        inputs = dict(zip(keys, (total, part), strict=True))
        name = f"circuit.internal_{what}[{number}]"
        total = desk.worked(name, function, inputs, shown=part.shown, meaning=meaning)
    return total


def _halving(desk: Desk, permitted: tuple[Entry, Entry], internal: tuple[Entry, Entry]) -> Halving:
    """The rule of one half: both internal capacitance and internal inductance above 1 % of what is permitted."""
    over = [
        desk.sheet.decide(
            f"circuit.{what}_over_one_per_cent",
            f"{letter}_i > 0.01*{letter}_o",
            f"internal {what} above 1 % of the permitted one",
            **{f"{letter}_i": inside, f"{letter}_o": limit},
        )
        for what, letter, inside, limit in zip(
            ("capacitance", "inductance"), ("C", "L"), internal, permitted, strict=True
        )
    ]
    if False in over:
        return Halving(over[0], over[1], *permitted)
    if None in over:
        return Halving(over[0], over[1], *(_not_yet(desk, entry, permitted, internal) for entry in permitted))
    group = desk.case.circuit.source.for_group.word
    found = circuit_group(group) if group else None
    cap = desk.sheet.give(
        "circuit.capacitance_cap",
        found.cap_F if found else None,
        "F",
        f"highest capacitance under the rule of one half, {group or 'group not known'}",
        state="constant" if found else "unknown",
        shown="nF",
        path=desk.case.circuit.source.for_group.path if not found else "",
        source=found.cap_source if found else None,
    )
    return Halving(
        over[0],
        over[1],
        desk.calc(
            "circuit.usable_capacitance",
            half_rule_capacitance_F,
            shown="nF",
            permitted_capacitance_F=permitted[0],
            cap_F=cap,
        ),
        desk.calc("circuit.usable_inductance", half_rule_inductance_H, shown="mH", permitted_inductance_H=permitted[1]),
    )


def _not_yet(desk: Desk, of: Entry, permitted: Sequence[Entry], internal: Sequence[Entry]) -> Entry:
    """What may be used, while it is open whether it is halved."""
    what, unit = ("capacitance", "nF") if of.suffix == "F" else ("inductance", "mH")
    return desk.sheet.record(
        f"circuit.usable_{what}",
        None,
        of.suffix,
        f"{what} that may be used",
        method="open while it is not known whether the rule of one half applies",
        source="iec-60079-14-memory",
        rests_on=[*permitted, *internal],
        shown=unit,
    )


def _capacitance(desk: Desk, usable: Entry, internal: Entry) -> tuple[Inequality, Entry]:
    length, per_length = desk.take(desk.case.loop.cable.length, "m"), capacitance_per_length(desk)
    cable = desk.calc(
        "circuit.cable_capacitance",
        cable_capacitance_F,
        shown="nF",
        length_m=length,
        capacitance_F_per_m=per_length,
    )
    total = desk.calc(
        "circuit.capacitance",
        circuit_capacitance_F,
        shown="nF",
        device_capacitance_F=internal,
        cable_capacitance_F=cable,
    )
    left = desk.calc(
        "circuit.capacitance_left",
        capacitance_left_F,
        shown="nF",
        usable_capacitance_F=usable,
        circuit_capacitance_F=total,
    )
    desk.compare("circuit-capacitance", CAPACITANCE_HOLDS, total, "at most", usable, left, safety=True)
    longest = desk.calc(
        "circuit.longest_by_capacitance",
        longest_by_capacitance_m,
        shown="m",
        usable_capacitance_F=usable,
        device_capacitance_F=internal,
        capacitance_F_per_m=per_length,
    )
    return Inequality("Ci + Cc <= C usable", total, "at most", usable, left), longest


def _inductance(desk: Desk, halving: Halving, permitted: Entry, internal: Entry) -> tuple[Inequality, Entry | None]:
    """By the sum; where that is too much, by Lo/Ro, which may be used while the apparatus has hardly any."""
    length, per_length = desk.take(desk.case.loop.cable.length, "m"), inductance_per_length(desk)
    cable = desk.calc(
        "circuit.cable_inductance", cable_inductance_H, shown="mH", length_m=length, inductance_H_per_m=per_length
    )
    total = desk.calc(
        "circuit.inductance",
        circuit_inductance_H,
        shown="mH",
        device_inductance_H=internal,
        cable_inductance_H=cable,
    )
    left = desk.calc(
        "circuit.inductance_left",
        inductance_left_H,
        shown="mH",
        usable_inductance_H=halving.inductance,
        circuit_inductance_H=total,
    )
    longest = desk.calc(
        "circuit.longest_by_inductance",
        longest_by_inductance_m,
        shown="m",
        usable_inductance_H=halving.inductance,
        device_inductance_H=internal,
        inductance_H_per_m=per_length,
    )
    by_ratio = _ratio(desk, halving, left)
    if by_ratio is not None:
        holds = by_ratio.margin.value is not None and by_ratio.margin.value >= 0.0
        return by_ratio, None if holds else longest
    desk.compare("circuit-inductance", INDUCTANCE_HOLDS, total, "at most", halving.inductance, left, safety=True)
    return Inequality("Li + Lc <= L usable", total, "at most", halving.inductance, left), longest


def _ratio(desk: Desk, halving: Halving, left: Entry) -> Inequality | None:
    """The comparison by inductance per resistance, where it may be used and is needed."""
    stated = desk.case.circuit.source.Lo_per_Ro
    if not stated.known or halving.over_inductance is not False or left.value is None or left.value >= 0.0:
        desk.skip(stated)
        return None
    permitted, cable = desk.take(stated, "uH/ohm"), inductance_per_resistance(desk)
    if cable is None:
        return None
    upper, lower = descending(cable, "at most", permitted)
    margin = desk.calc(
        "circuit.ratio_left",
        ratio_left_H_per_ohm,
        shown="uH/ohm",
        permitted_ratio_H_per_ohm=upper,
        cable_ratio_H_per_ohm=lower,
    )
    desk.compare("circuit-ratio", RATIO_HOLDS, cable, "at most", permitted, margin, safety=True)
    return Inequality("Lc/Rc <= Lo/Ro", cable, "at most", permitted, margin)
