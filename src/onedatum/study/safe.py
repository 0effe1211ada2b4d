"""What bears on safety: loop, alarms, hazardous area, filling, safety function, worked one after the other."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.loop import Bands
from onedatum.study.desk import Desk
from onedatum.study.filling import FillingChapter, filling_chapter
from onedatum.study.ignition import IgnitionChapter, ignition_chapter
from onedatum.study.loop import LoopChapter, bands_of, loop_chapter
from onedatum.study.overfill import OverfillChapter, Rooms, overfill_chapter, set_points_chapter, without_overfill
from onedatum.study.reach import Reach
from onedatum.study.safety import SafetyChapter, safety_chapter
from onedatum.study.signal import SignalChapter
from onedatum.study.vessel import VesselChapter


@dataclass(frozen=True)
class Safe:
    """The chapters that the sheets of the papers are made from."""

    bands: Bands
    """What a current tells the receiver."""
    overfill: OverfillChapter | None
    """None where the case states that there is none."""
    loop: LoopChapter | None = None
    """None where no instrument is chosen."""
    ignition: IgnitionChapter | None = None
    """None where there is no zone, or no instrument to be in it."""
    filling: FillingChapter | None = None
    safety: SafetyChapter | None = None

    @property
    def wired(self) -> LoopChapter:
        """The loop, for whoever has made sure that an instrument is in it."""
        if self.loop is None:
            raise ValueError("no instrument is in a loop")
        return self.loop

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
    return Safe(loop.bands, overfill, loop, ignition, filling_chapter(desk, ignition), safety_chapter(desk))


def safe_without_instrument(
    desk: Desk, vessel: VesselChapter | None, signal: SignalChapter, level: Entry, level_u: Entry | None
) -> Safe:
    """What vessel and filling alone say: how high the alarms may stand before an instrument takes its part."""
    overfill = None
    if vessel is not None and not without_overfill(desk):
        overfill = set_points_chapter(desk, vessel, signal, level, level_u)
    return Safe(bands_of(desk), overfill)
