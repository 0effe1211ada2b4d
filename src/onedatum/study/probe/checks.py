"""What a probe is judged by: whether it feels the level, whether its circuit closes, when its alarm comes."""

from __future__ import annotations

from onedatum.case.model.probe import YES
from onedatum.case.model.vessel import LOWEST
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import level_when_read_m
from onedatum.study.desk import Desk
from onedatum.study.probe.chapter import ProbeChapter, is_lined
from onedatum.study.probe.judged import by_capacitance
from onedatum.study.probe.media_findings import reference_checks

FEELS = "the probe feels the level", "The probe does not feel the level"
CLOSES = "the circuit of the probe closes through what conducts", "The circuit of the probe closes through no earth"
LENGTH = (
    "the length of what is coated is confirmed by the drawing",
    "The length of what is coated is not confirmed by the drawing",
)
BELOW_ROOF = "the active length ends below the roof", "The active length reaches beyond the roof"
LATE = "HH comes below CH with the liquid at its worst", "HH comes above CH with the liquid at its worst"


def probe_checks(desk: Desk, probe: ProbeChapter) -> None:
    """Put down every judgement of the probe; as an alternative beside another principle it is a remark."""
    remark = not by_capacitance(desk)
    slope, earth, wall = probe.slope, desk.case.probe.earth.kind, desk.case.probe.wall.kind
    slope = next((change.slope for change in probe.changes if not change.feels), slope)
    feels = None if slope.value is None else slope.value > 0.0
    desk.judge("probe-feels", FEELS, slope.text, "above", "0 pF/m", feels, waits_for=slope.waits_for, remark=remark)
    said = f"{earth.word or 'not known'}, wall {wall.word or 'not known'}{', lined' if is_lined(desk) else ''}"
    waits = tuple(leaf.path for leaf in (earth, wall) if not leaf.known) or slope.waits_for
    desk.judge(
        "probe-circuit", CLOSES, said, "is", "an earth that conducts", probe.closes, waits_for=waits, remark=remark
    )
    _length(desk, probe, remark)
    _roof(desk, probe, remark)
    _late(desk, probe, remark)
    reference_checks(desk, probe.reference, remark)


def late_alarm(desk: Desk, probe: ProbeChapter) -> tuple[Entry, Entry, str] | None:
    """Where the level stands when HH, as set, is read with the liquid that makes the probe read lowest; CH; which."""
    changes = [
        change
        for change in probe.changes
        if change.slope.value is not None and change.error.value is not None and not change.settled
    ]
    if not changes or "overfill.high_high" not in desk.sheet or not desk.case.overfill.CH.known:
        return None
    worst = min(changes, key=lambda change: change.error.value or 0.0)
    if (worst.error.value or 0.0) >= 0.0 or (worst.slope.value or 0.0) <= 0.0:
        return None
    as_set = desk.case.overfill.set_points.HH
    alarm = desk.take(as_set, "mm") if as_set.known else desk.sheet["overfill.high_high"]
    stands = desk.once(
        "probe.level_at_alarm",
        level_when_read_m,
        shown="mm",
        meaning=f"level at which HH is read, {worst.text}",
        read_m=alarm,
        lower_m=probe.lower,
        now_F_per_m=worst.slope,
        set_F_per_m=probe.slope,
    )
    return stands, desk.take(desk.case.overfill.CH, "mm"), worst.text


def _late(desk: Desk, probe: ProbeChapter, remark: bool) -> None:
    late = late_alarm(desk, probe)
    if late is None:
        return
    stands, critical, _ = late
    name, meaning = "probe.alarm_margin", "from the level at which HH is read to CH"
    desk.compare_apart("probe-late", LATE, stands, "at most", critical, name, meaning, safety=not remark, remark=remark)


def _length(desk: Desk, probe: ProbeChapter, remark: bool) -> None:
    """What is coated can never be shortened; of a coated part above a bare tip it is a remark: the tip can be cut."""
    leaf, section = desk.case.probe.length_confirmed, probe.section
    if not (section.coated or section.sleeved):
        return
    holds = leaf.word == YES if leaf.known else None
    desk.read.add(leaf.path)
    if holds is None:
        desk.want(leaf, "whether the rod fits: its coating cannot be cut")
    said, beside = leaf.word or "not said", remark or section.sleeved
    desk.judge("probe-length", LENGTH, said, "is", YES, holds, waits_for=(leaf.path,), remark=beside)


def _roof(desk: Desk, probe: ProbeChapter, remark: bool) -> None:
    if desk.case.vessel.datum.word != LOWEST or "vessel.inside_height" not in desk.sheet:
        return
    top, meaning = desk.sheet["vessel.inside_height"], "from the end of the active length to the inside top"
    desk.compare_apart(
        "probe-roof", BELOW_ROOF, probe.upper, "at most", top, "probe.roof_margin", meaning, remark=remark
    )
