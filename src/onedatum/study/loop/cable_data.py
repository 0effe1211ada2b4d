"""Capacitance and inductance of the cable: as stated, else the usual figures for cable of unknown data."""

from __future__ import annotations

from onedatum.case.leaf import Value
from onedatum.case.model.circuit import CONVENTIONAL
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import cable_defaults
from onedatum.physics.loop import capacitance_with_screen_F_per_m
from onedatum.study.desk import NOT_SPOKEN_OF, Desk

OF_UNKNOWN = "not stated: the figure for conventional cable of unknown data; certificate or measurement goes before it"


def capacitance_per_length(desk: Desk) -> Entry:
    """Capacitance between the cores, with that to the screen added where it is stated."""
    cable = desk.case.loop.cable
    name = "loop.cable.capacitance_counted"
    if name in desk.sheet:
        return desk.sheet[name]
    cores = _stated_or_usual(desk, cable.capacitance, cable_defaults().capacitance_F_per_m, "pF/m")
    if not cable.capacitance.known:
        desk.read.add(cable.capacitance_to_screen.path)
        return cores
    to_screen = desk.absent(cable.capacitance_to_screen, NOT_SPOKEN_OF, "pF/m")
    if to_screen.value == 0.0:
        return cores
    return desk.calc(
        name,
        capacitance_with_screen_F_per_m,
        shown="pF/m",
        meaning="capacitance of the cable with that to its screen",
        between_cores_F_per_m=cores,
        to_screen_F_per_m=to_screen,
    )


def inductance_per_length(desk: Desk) -> Entry:
    """Inductance of the cable per length."""
    return _stated_or_usual(desk, desk.case.loop.cable.inductance, cable_defaults().inductance_H_per_m, "uH/m")


def inductance_per_resistance(desk: Desk) -> Entry | None:
    """Inductance of the cable per resistance; None where it is not stated and the usual figure does not hold."""
    stated, usual = desk.case.loop.cable.inductance_per_resistance, cable_defaults()
    current_A = desk.case.circuit.source.Io.si
    if not stated.known and (
        desk.case.loop.cable.inductance.known
        or current_A is None
        or current_A > usual.ratio_current_max_A
        or not _conventional(desk)
    ):
        return None
    return _stated_or_usual(desk, stated, usual.ratio_H_per_ohm, "uH/ohm")


def _conventional(desk: Desk) -> bool:
    construction = desk.case.loop.cable.construction
    return desk.word(construction, "whether the figures for cable of unknown data hold") == CONVENTIONAL


def _stated_or_usual(desk: Desk, leaf: Value, usual: float, shown: str) -> Entry:
    """The value as stated; the usual figure for cable of two or three cores; unknown for any other construction."""
    if leaf.known or leaf.path in desk.sheet or not _conventional(desk):
        return desk.take(leaf, shown)
    return desk.usual(leaf, usual, OF_UNKNOWN, shown=shown, source=cable_defaults().source)
