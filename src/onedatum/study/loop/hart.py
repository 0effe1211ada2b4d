"""Digital communication on the loop: enough resistance for the modem, and not too much capacitance.

The limits are second hand or from memory, so what exceeds them is remarked and does not stand against the order.
"""

from __future__ import annotations

from onedatum.case.model.circuit import YES
from onedatum.foundation.working import Entry
from onedatum.physics.loop import (
    Limit,
    both_cores_ohm_per_m,
    hart_limits,
    hart_longest_cable_m,
    hart_time_constant_s,
    length_margin_m,
    loop_resistance_ohm,
    resistance_margin_ohm,
    resistance_without_cable_ohm,
    total_capacitance_F,
)
from onedatum.study.desk import Desk, Sense, descending
from onedatum.study.loop.cable import conductor
from onedatum.study.loop.cable_data import capacitance_per_length
from onedatum.study.loop.supply import LoopChapter

ENOUGH = "the loop has resistance enough for HART", "The loop has too little resistance for HART"
NOT_TOO_MUCH = "the loop has not too much resistance for HART", "The loop has too much resistance for HART"
ROOM = "the devices leave room for a cable with HART", "The devices leave no room for a cable with HART"
PASSES = "the isolator passes HART", "HART does not work: the isolator does not pass it"
SHORT_ENOUGH = "the cable is short enough for HART", "The cable is too long for HART"


def hart(desk: Desk, loop: LoopChapter) -> Entry | None:
    """Check the loop for HART where it is used; gives the longest cable by it."""
    stated = desk.case.loop.hart
    desk.read.add(stated.used.path)
    passes = desk.case.loop.barrier.passes_hart
    if stated.used.word != YES:
        desk.skip(stated.device_capacitance, passes)
        return None
    if not loop.source.isolator:
        desk.skip(passes)
    elif _stopped(desk):
        desk.skip(stated.device_capacitance, stated.other_capacitance)
        return None
    resistance = _resistance(desk, loop)
    _between(desk, resistance)
    longest = _longest(desk, loop, resistance)
    if longest is None:
        return None
    length = desk.take(desk.case.loop.cable.length, "m")
    margin = desk.calc("loop.hart_cable_margin", length_margin_m, shown="m", limit_m=longest, value_m=length)
    desk.compare("hart-cable", SHORT_ENOUGH, length, "at most", longest, margin, remark=True)
    return longest


def _stopped(desk: Desk) -> bool:
    """Whether the isolator is stated not to pass the digital communication; not known, the order has to ask for it."""
    stated = desk.case.loop.barrier.passes_hart
    word = desk.said(stated, "whether HART works through the isolator")
    holds = word == YES if word else None
    desk.judge("hart-isolator", PASSES, word or "unknown", "", YES, holds, waits_for=(stated.path,), remark=True)
    return holds is False


def _resistance(desk: Desk, loop: LoopChapter) -> Entry:
    """The resistance the modem sees; an isolator that passes it joins both sides of the loop for the modem."""
    if not loop.source.isolator:
        return loop.source.resistance
    passed = desk.sheet.give(
        "loop.hart_isolator", 0.0, "ohm", "an isolator in the path of the modem", state="constant", source="derived"
    )
    return desk.calc(
        "loop.hart_resistance",
        loop_resistance_ohm,
        shown="ohm",
        meaning="resistance in the path of the modem",
        input_resistance_ohm=desk.take(desk.case.loop.input_resistor, "ohm", none=0.0),
        barrier_resistance_ohm=passed,
        cable_resistance_ohm=loop.cable,
        other_resistance_ohm=loop.source.other,
    )


def _between(desk: Desk, resistance: Entry) -> None:
    limits = hart_limits()
    ends: tuple[tuple[str, tuple[str, str], Sense, Limit], ...] = (
        ("hart-least", ENOUGH, "at least", limits.least_resistance_ohm),
        ("hart-most", NOT_TOO_MUCH, "at most", limits.largest_resistance_ohm),
    )
    for key, words, sense, limit in ends:
        edge = desk.sheet.give(
            f"loop.{key}", limit.value, "ohm", words[0], state="constant", shown="ohm", source=limit.source
        )
        upper, lower = descending(resistance, sense, edge)
        margin = desk.calc(f"loop.{key}_margin", resistance_margin_ohm, shown="ohm", limit_ohm=upper, value_ohm=lower)
        desk.compare(key, words, resistance, sense, edge, margin, remark=True)


def _longest(desk: Desk, loop: LoopChapter, resistance: Entry) -> Entry | None:
    """The longest cable; None where resistance and capacitance leave none, or there is no resistance."""
    rest = desk.calc(
        "loop.hart_rest_resistance",
        resistance_without_cable_ohm,
        shown="ohm",
        resistance_ohm=resistance,
        cable_resistance_ohm=loop.cable,
    )
    capacitance, most = _capacitance(desk), _most(desk)
    if not _room(desk, rest, capacitance, most):
        return None
    return desk.calc(
        "loop.hart_longest_cable",
        hart_longest_cable_m,
        shown="m",
        meaning="longest cable by resistance and capacitance for HART",
        time_constant_s=most,
        rest_resistance_ohm=rest,
        rest_capacitance_F=capacitance,
        cable_resistance_ohm_per_m=desk.worked(
            "loop.cable_resistance_per_length", both_cores_ohm_per_m, conductor(desk), shown="ohm/km"
        ),
        cable_capacitance_F_per_m=capacitance_per_length(desk),
    )


def _capacitance(desk: Desk) -> Entry:
    stated = desk.case.loop.hart
    return desk.calc(
        "loop.hart_rest_capacitance",
        total_capacitance_F,
        shown="nF",
        device_capacitance_F=desk.take(stated.device_capacitance, "nF"),
        other_capacitance_F=desk.take(stated.other_capacitance, "nF", none=0.0),
    )


def _most(desk: Desk) -> Entry:
    limit = hart_limits().time_constant_s
    return desk.sheet.give(
        "loop.hart_time_constant",
        limit.value,
        "s",
        "largest product of resistance and capacitance",
        state="constant",
        shown="us",
        source=limit.source,
    )


def _room(desk: Desk, rest: Entry, capacitance: Entry, most: Entry) -> bool:
    """Whether the devices leave anything for a cable; where it is not known, they may."""
    without = desk.calc(
        "loop.hart_rest_time_constant",
        hart_time_constant_s,
        shown="us",
        meaning="product of resistance and capacitance without the cable",
        resistance_ohm=rest,
        capacitance_F=capacitance,
    )
    none = rest.value == 0.0 or (without.value is not None and without.value >= (most.value or 0.0))
    if none:
        desk.judge("hart-room", ROOM, without.text, "below", most.text, False, remark=True)
    return not none
