"""Lengths of a probe: from the sealing face down, the inactive part, what a rope adds, how far its earth reaches."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.build import COMPACT
from onedatum.case.model.probe import BY_ROD, BY_TUBE, YES
from onedatum.case.model.probe_build import ROPE
from onedatum.case.model.vessel import LOWEST
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    below_rope_m,
    inactive_end_m,
    inactive_needed_m,
    insertion_length_m,
    sealing_face_m,
)
from onedatum.study.desk import NONE, Desk
from onedatum.study.probe.judged import apart, by_capacitance, wanted
from onedatum.study.probe.level import AtLevel

LENGTH = "the probe is not longer than its build allows", "The probe is longer than its build allows"
INACTIVE = "the inactive part covers nozzle and splash", "The inactive part does not cover nozzle and splash"
BELOW_INACTIVE = (
    "the active length ends below the inactive part",
    "The active length overlaps the inactive part",
)
ANCHOR = (
    "weight or anchor of the rope has its room above the bottom",
    "Weight or anchor of the rope has no room above the bottom",
)
REACHES = (
    "the earthed rod reaches down to the end of the active length",
    "The earthed rod ends above the end of the active length: below it the level is not measured",
)
TUBE = (
    "the earthed tube is vented above and drains below",
    "The level in the earthed tube is not that of the vessel: it is not vented above, or does not drain",
)
HEAD = "the head reads the capacitance of the full probe", "The full probe holds more than its head reads"


@dataclass(frozen=True)
class Lengths:
    """What is measured down from the sealing face."""

    whole: Entry | None
    """From the sealing face to the lower end; None where no sealing face can be worked."""
    inactive: Entry | None
    """None where none is stated or needed."""
    needed: Entry | None


def lengths_of(desk: Desk, sleeved: bool, lower: Entry, upper: Entry) -> Lengths:
    """Work them and compare what covers with what must be covered."""
    below = _rope(desk, lower)
    face = _face(desk)
    whole = None
    if face is not None:
        inputs = {"face_m": face, "lower_m": lower, "dead_m": below}
        whole = desk.worked("probe.insertion_length", insertion_length_m, inputs, shown="mm")
    inactive, needed = _inactive(desk, sleeved, face, upper)
    return Lengths(whole, inactive, needed)


def length_within(desk: Desk, lengths: Lengths, active: Entry, limit: Entry) -> None:
    """Against the longest that the build allows; without a sealing face the active length alone."""
    apart(desk, "rod-length", LENGTH, lengths.whole or active, "at most", limit, "length left to the limit")


def earth_reaches(desk: Desk, lower: Entry) -> None:
    """An earthed rod down to the lower end of the probe; a tube in which the level is that of the vessel."""
    earth = desk.case.probe.earth
    if earth.kind.word != BY_ROD:
        desk.skip(earth.reaches_to)
    elif wanted(desk, earth.reaches_to):
        reaches = desk.take(earth.reaches_to, "mm")
        apart(desk, "rod-earth-reach", REACHES, reaches, "at most", lower, "how much lower the earthed rod reaches")
    if earth.kind.word != BY_TUBE:
        desk.skip(earth.vented, earth.drained)
    elif wanted(desk, earth.vented, earth.drained):
        _tube(desk)


def _tube(desk: Desk) -> None:
    earth = desk.case.probe.earth
    decides = "whether the level in the tube is that of the vessel"
    words = {leaf.path: desk.said(leaf, decides) for leaf in (earth.vented, earth.drained)}
    waits = tuple(path for path, word in words.items() if not word)
    holds = False if set(words.values()) - {"", YES} else None if waits else True
    told = f"vented: {earth.vented.word or 'not said'}, drains: {earth.drained.word or 'not said'}"
    remark = not by_capacitance(desk)
    desk.judge("rod-tube", TUBE, told, "is", "vented and drained", holds, waits_for=waits, remark=remark)


def head_reads(desk: Desk, rows: tuple[AtLevel, ...]) -> None:
    """The greatest capacitance over the range against what the head reads."""
    build = desk.case.probe.build
    stated = build.capacitance_max
    if not stated.known and build.head.word != COMPACT:
        desk.read.add(stated.path)
        return
    held = [row.capacitance for row in rows]
    most = desk.sheet.select("probe.capacitance_greatest", "greatest", "greatest capacitance over the range", held)
    limit = desk.take(stated, "pF")
    holds = None if most.value is None or limit.value is None else most.value <= limit.value
    waits = tuple(dict.fromkeys((*most.waits_for, *limit.waits_for)))
    remark = not by_capacitance(desk)
    desk.judge("rod-head", HEAD, most.text, "at most", limit.text, holds, waits_for=waits, remark=remark)


# ---------------------------------------------------------------- from the face down


def _face(desk: Desk) -> Entry | None:
    """Height of the sealing face; None where heights do not count from the inside bottom, or no vessel is stated."""
    if desk.case.vessel.datum.word != LOWEST or "vessel.inside_height" not in desk.sheet or not by_capacitance(desk):
        return None
    inputs = {
        "inside_height_m": desk.sheet["vessel.inside_height"],
        "nozzle_m": desk.take(desk.case.nozzle.flange_face, "mm"),
    }
    return desk.worked("probe.sealing_face", sealing_face_m, inputs, shown="mm")


def _rope(desk: Desk, lower: Entry) -> Entry:
    """What hangs below the active length; of a rod nothing does."""
    build = desk.case.probe.build
    if build.form.word != ROPE:
        desk.skip(build.anchor_length, build.rope_stretch)
        note = "a rod has no weight below it; its active length ends with it"
        return desk.constant("probe.below_active", 0.0, "m", "dead length below the active one", shown="mm", note=note)
    inputs = {"anchor_m": desk.take(build.anchor_length, "mm"), "stretch_m": desk.take(build.rope_stretch, "mm")}
    below = desk.worked("probe.below_active", below_rope_m, inputs, shown="mm")
    if desk.case.vessel.datum.word == LOWEST:
        apart(desk, "rod-anchor", ANCHOR, lower, "at least", below, "room below the lower end of the rope")
    return below


def _inactive(desk: Desk, sleeved: bool, face: Entry | None, upper: Entry) -> tuple[Entry | None, Entry | None]:
    """The inactive part against nozzle and splash, and against the active length it must leave free."""
    probe = desk.case.probe
    asked = by_capacitance(desk) and (sleeved or YES in (probe.build.guard_section.word, probe.gland.bridge.word))
    if not (probe.inactive_length.known or (asked and probe.inactive_length.state != NONE)):
        desk.skip(probe.splash)
        desk.read.add(probe.inactive_length.path)
        return None, None
    inactive = desk.take(probe.inactive_length, "mm")
    if face is None:
        desk.skip(probe.splash)
        return inactive, None
    inputs = {
        "nozzle_m": desk.take(desk.case.nozzle.flange_face, "mm"),
        "splash_m": desk.take(probe.splash, "mm", none=0.0),
    }
    needed = desk.worked("probe.inactive_needed", inactive_needed_m, inputs, shown="mm")
    apart(desk, "rod-inactive", INACTIVE, inactive, "at least", needed, "inactive length beyond nozzle and splash")
    inputs = {"face_m": face, "inactive_m": inactive}
    end = desk.worked("probe.inactive_end", inactive_end_m, inputs, shown="mm")
    meaning = "from the end of the active length to the inactive part"
    apart(desk, "rod-active-end", BELOW_INACTIVE, upper, "at most", end, meaning)
    return inactive, needed
