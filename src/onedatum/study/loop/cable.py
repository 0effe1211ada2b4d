"""The cable of the loop: the resistance of its cores, and how long it may be."""

from __future__ import annotations

from collections.abc import Mapping

from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.loop import cable_resistance_ohm, copper_temperature_coefficient, core_resistance
from onedatum.study.desk import Desk

WORST_CONDUCTOR = "class 5, tinned copper"
"""Counted on where the class of the conductor is not stated: the highest resistance of the table."""


def cable_resistance(desk: Desk) -> Entry:
    """The resistance of both cores at the highest temperature of the cable."""
    return desk.worked(
        "loop.cable_resistance",
        cable_resistance_ohm,
        {"length_m": desk.take(desk.case.loop.cable.length, "m"), **conductor(desk)},
        shown="ohm",
    )


def conductor(desk: Desk) -> Mapping[str, Entry]:
    """What the resistance of a cable of any length follows from."""
    cable, alpha = desk.case.loop.cable, copper_temperature_coefficient()
    meaning = "temperature coefficient of copper"
    copper = desk.constant("loop.cable.alpha", alpha.alpha_per_K, "per_K", meaning, source=alpha.source)
    return {
        "core_resistance_ohm_per_m": _core(desk),
        "temperature_K": desk.take(cable.temperature_max),
        "alpha_per_K": copper,
    }


def _core(desk: Desk) -> Entry:
    """The resistance of a core: as stated, else by the table for the conductor as stated, else for the worst one."""
    cable = desk.case.loop.cable
    if cable.core_resistance_20degC.known:
        return desk.take(cable.core_resistance_20degC, "ohm/km")
    if "loop.cable.core_resistance" in desk.sheet:
        return desk.sheet["loop.cable.core_resistance"]
    if cable.area.si is None:
        return _unknown_core(desk)
    desk.read.add(cable.area.path)
    name = desk.word(cable.conductor, "the resistance of the cable") or WORST_CONDUCTOR
    try:
        row = core_resistance(cable.area.si, name)
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
        f"resistance of one core at 20 degC, {name}, {cable.area.text}",
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
