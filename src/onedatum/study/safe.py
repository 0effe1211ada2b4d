"""What bears on safety: loop, alarms, hazardous area, filling, safety function, worked one after the other."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.study.filling import FillingChapter, filling_chapter
from onedatum.study.ignition import IgnitionChapter, ignition_chapter
from onedatum.study.loop import LoopChapter, loop_chapter
from onedatum.study.overfill import OverfillChapter, Rooms, overfill_chapter, without_overfill
from onedatum.study.reach import Reach
from onedatum.study.safety import SafetyChapter, safety_chapter
from onedatum.study.signal import SignalChapter
from onedatum.study.vessel import VesselChapter


@dataclass(frozen=True)
class Safe:
    """The chapters that the sheets of the papers are made from."""

    loop: LoopChapter
    overfill: OverfillChapter | None
    """None where the case states that there is none."""
    ignition: IgnitionChapter | None
    """None where there is no zone."""
    filling: FillingChapter | None
    safety: SafetyChapter | None

    @property
    def alarms(self) -> OverfillChapter:
        """The alarms, for whoever has made sure that there are some."""
        if self.overfill is None:
            raise ValueError("nothing is held against overfilling")
        return self.overfill


def safe_chapters(
    desk: Desk,
    vessel: VesselChapter | None,
    reach: Reach,
    signal: SignalChapter,
    level: Entry,
    level_u: Entry,
) -> Safe:
    """Work them; the alarms rest on the loop, the filling on the hazardous area."""
    loop = loop_chapter(desk, signal)
    overfill = None
    if vessel is not None and not without_overfill(desk):
        overfill = overfill_chapter(desk, Rooms(vessel, reach, signal, loop), level, level_u)
    ignition = ignition_chapter(desk)
    return Safe(loop, overfill, ignition, filling_chapter(desk, ignition), safety_chapter(desk))
