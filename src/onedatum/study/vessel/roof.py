"""The floating roof at a level: how much deeper it lies than the table counts on, and where no figure serves."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.vessels import roof_density_correction_m3
from onedatum.study.desk import Desk
from onedatum.verdicts import Effect, Finding, Link


def roof_deeper_by(desk: Desk, name: str, level: Entry, density: Entry) -> Entry | None:
    """What the roof displaces beyond what the table takes off; None where there is no roof, or it does not float."""
    roof = desk.case.vessel.floating_roof
    if not roof.mass.known:
        return None
    lands, floats = desk.take(roof.lands_at, "mm"), desk.take(roof.floats_at, "mm")
    afloat = desk.sheet.decide(f"{name}.afloat", "h >= h_f", "the roof floats freely", h=level, h_f=floats)
    standing = desk.sheet.decide(f"{name}.standing", "h <= h_l", "the roof stands on its legs", h=level, h_l=lands)
    if afloat is False and standing is False:
        desk.findings.append(_landing(level, lands, floats))
    if not afloat:
        return None
    return desk.calc(
        name,
        roof_density_correction_m3,
        shown="m3",
        meaning="volume that the roof displaces beyond what the table takes off",
        roof_mass_kg=desk.take(roof.mass, "kg"),
        observed_density_kg_per_m3=density,
        table_density_kg_per_m3=desk.take(desk.case.vessel.strapping.table_density),
    )


def _landing(level: Entry, lands: Entry, floats: Entry) -> Finding:
    links = (
        Link("The level is", level.text, level.name),
        Link("The roof stands below", lands.text, lands.name),
        Link("It floats freely above", floats.text, floats.name),
    )
    ways = (Link("Fill or empty until the roof floats freely or stands, then read again"),)
    title = "The floating roof is landing: no figure for a quantity"
    return Finding("roof-lands", title, Effect.WARNING, links, ways, safety=False)
