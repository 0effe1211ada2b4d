"""What bears on safety: loop, alarms, hazardous area, filling, safety function, worked one after the other."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.study.filling import FillingChapter, filling_chapter
from onedatum.study.ignition import IgnitionChapter, ignition_chapter
from onedatum.study.loop import LoopChapter, loop_chapter
from onedatum.study.overfill import OverfillChapter, Rooms, overfill_chapter
from onedatum.study.safety import SafetyChapter, safety_chapter
from onedatum.study.signal import SignalChapter
from onedatum.study.stem import StemChapter
from onedatum.study.vessel import VesselChapter


@dataclass(frozen=True)
class Safe:
    """The chapters that the sheets of the papers are made from."""

    loop: LoopChapter
    overfill: OverfillChapter
    ignition: IgnitionChapter | None
    """None where there is no zone."""
    filling: FillingChapter | None
    safety: SafetyChapter | None


def safe_chapters(
    desk: Desk,
    vessel: VesselChapter,
    stem: StemChapter,
    signal: SignalChapter,
    level: Entry,
    level_u: Entry,
) -> Safe:
    """Work them; the alarms rest on the loop, the filling on the hazardous area."""
    loop = loop_chapter(desk, signal)
    overfill = overfill_chapter(desk, Rooms(vessel, stem, signal, loop), level, level_u)
    ignition = ignition_chapter(desk)
    return Safe(loop, overfill, ignition, filling_chapter(desk, ignition), safety_chapter(desk))
