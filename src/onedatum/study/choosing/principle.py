"""The principle of a case by the name that the rules know it by, and that of a probe stated beside it."""

from __future__ import annotations

from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD, CAPACITIVE, IN_CHAMBER
from onedatum.case.model.probe import BARE, BARE_TIP, BY_ROD, BY_TUBE
from onedatum.study.desk import Desk
from onedatum.study.measuring import on_chamber

MAGNETOSTRICTIVE, BYPASS = "magnetostrictive", "bypass"
HYDROSTATIC, DIFFERENTIAL = "hydrostatic", "differential-pressure"
BARE_ROD, COATED_ROD, PART_COATED = "capacitive-bare", "capacitive-coated", "capacitive-part-coated"
REFERENCE_ROD, HOT_ROD = "capacitive-reference", "capacitive-high-temperature"
CAPACITIVES = (BARE_ROD, COATED_ROD, PART_COATED, REFERENCE_ROD, HOT_ROD)
BY_HEAD_OF_LIQUID = (HYDROSTATIC, DIFFERENTIAL, "displacer")
"""Principles that read the density of the liquid as level."""


def principle_of(desk: Desk) -> str:
    """The principle of the case; empty where none is stated."""
    word = desk.case.instrument.principle.word
    if word == CAPACITIVE:
        return probe_principle(desk)
    if word and on_chamber(desk):
        return BYPASS
    found = {IN_CHAMBER: BYPASS, BY_DIFFERENCE: DIFFERENTIAL, BY_HEAD: HYDROSTATIC}
    return found.get(word, MAGNETOSTRICTIVE if word else "")


def probe_principle(desk: Desk) -> str:
    """A probe by what it meets: its own earth before its coating, and what the medium asks of it."""
    probe = desk.case.probe
    if probe.earth.kind.word in (BY_ROD, BY_TUBE):
        return REFERENCE_ROD
    return {BARE: BARE_ROD, BARE_TIP: PART_COATED}.get(probe.rod.word, COATED_ROD)
