"""Chapter vessel: heads, heights and volumes of the vessel as stated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from onedatum.case.model.place import Head
from onedatum.foundation.working import Entry
from onedatum.physics.vessels import (
    inside_height_m,
    shell_area_m2,
    torispherical_depth_m,
    torispherical_volume_m3,
    vertical_level_m,
    vertical_volume_m3,
)
from onedatum.study.desk import Desk


@dataclass(frozen=True)
class VesselChapter:
    """What the other chapters need of the vessel."""

    measures: Mapping[str, Entry]
    inside_height: Entry
    shell_area: Entry

    def volume(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """The volume below a level, as an entry of the sheet."""
        return desk.calc(name, vertical_volume_m3, shown="m3", meaning=meaning, level_m=level, **self.measures)

    def level(self, desk: Desk, name: str, volume: Entry, meaning: str) -> Entry:
        """The level at which a volume stands below."""
        return desk.calc(name, vertical_level_m, shown="mm", meaning=meaning, volume_m3=volume, **self.measures)


def vessel_chapter(desk: Desk) -> VesselChapter:
    """Work the vessel."""
    vessel = desk.case.vessel
    desk.word(vessel.shape, "how level and volume follow from each other")
    desk.word(vessel.datum, "what every height is measured from")
    diameter = desk.take(vessel.inside_diameter, "mm")
    length = desk.take(vessel.shell_length, "mm")
    bottom, bottom_depth = _head(desk, "bottom", vessel.bottom_head, diameter)
    top, top_depth = _head(desk, "top", vessel.top_head, diameter)
    height = desk.calc(
        "vessel.inside_height",
        inside_height_m,
        shown="mm",
        bottom_depth_m=bottom_depth,
        shell_length_m=length,
        top_depth_m=top_depth,
    )
    measures = {
        "diameter_m": diameter,
        "shell_length_m": length,
        "bottom_crown_radius_m": bottom["crown_radius_m"],
        "bottom_knuckle_radius_m": bottom["knuckle_radius_m"],
        "top_crown_radius_m": top["crown_radius_m"],
        "top_knuckle_radius_m": top["knuckle_radius_m"],
    }
    desk.calc(
        "vessel.full_volume",
        vertical_volume_m3,
        shown="m3",
        meaning="inside volume of the whole vessel",
        level_m=height,
        **measures,
    )
    area = desk.calc("vessel.shell_area", shell_area_m2, shown="m2", diameter_m=diameter)
    return VesselChapter(measures, height, area)


def _head(desk: Desk, which: str, head: Head, diameter: Entry) -> tuple[dict[str, Entry], Entry]:
    desk.word(head.form, f"depth and volume of the {which} head")
    desk.word(head.on, f"which diameter the radii of the {which} head belong to")
    radii = {
        "crown_radius_m": desk.take(head.crown_radius, "mm"),
        "knuckle_radius_m": desk.take(head.knuckle_radius, "mm"),
    }
    name = f"vessel.{which}_head"
    depth = desk.calc(
        f"{name}.depth",
        torispherical_depth_m,
        shown="mm",
        meaning=f"inside depth of the {which} head",
        diameter_m=diameter,
        **radii,
    )
    desk.calc(
        f"{name}.volume",
        torispherical_volume_m3,
        shown="m3",
        meaning=f"inside volume of the {which} head",
        diameter_m=diameter,
        **radii,
    )
    return radii, depth
