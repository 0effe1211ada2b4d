"""Chapter vessel: the vessel as stated, what it holds, and how a tilt shows at the gauge."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.vessels import capacity_m3, level_m, lowest_m, surface_m2, volume_m3
from onedatum.study.desk import Desk
from onedatum.study.vessel.fittings import fitted_out
from onedatum.study.vessel.shapes import shaped


@dataclass(frozen=True)
class VesselChapter:
    """What the other chapters need of the vessel."""

    body: Entry
    """The inside of the vessel, less what stands in it."""
    inside_height: Entry
    """Level of the inside top, plumb above the datum at the gauge."""
    shell_area: Entry | None
    level_twin: Entry | None
    """Of a tilted vessel, the same vessel as a table without the tilt would have it."""

    def volume(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """The volume below a level, as an entry of the sheet."""
        return desk.calc(name, volume_m3, shown="m3", meaning=meaning, level_m=level, vessel=self.body)

    def level(self, desk: Desk, name: str, volume: Entry, meaning: str) -> Entry:
        """The level at which a volume stands below."""
        return desk.calc(name, level_m, shown="mm", meaning=meaning, volume_m3=volume, vessel=self.body)

    def surface(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """The area of the surface at a level."""
        return desk.calc(name, surface_m2, shown="m2", meaning=meaning, level_m=level, vessel=self.body)


def vessel_chapter(desk: Desk) -> VesselChapter:
    """Work the vessel."""
    vessel = desk.case.vessel
    made = shaped(desk)
    desk.word(vessel.datum, "what every height is measured from")
    body = fitted_out(desk, made.body)
    desk.calc("vessel.full_volume", capacity_m3, shown="m3", vessel=body)
    if made.level_twin is not None:
        desk.calc("vessel.lowest_point", lowest_m, shown="mm", vessel=body)
    return VesselChapter(body, made.roof, made.shell_area, made.level_twin)
