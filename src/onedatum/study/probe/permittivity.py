"""The permittivity of the medium: as stated, or by the law of its kind where there is one."""

from __future__ import annotations

from onedatum.case.model.liquid import BOILING_WATER, PETROLEUM, WATER
from onedatum.foundation.working import Entry
from onedatum.physics.media import petroleum_permittivity, water_permittivity
from onedatum.study.desk import Desk
from onedatum.study.states import Condition


def permittivity_of(desk: Desk, now: Condition) -> Entry:
    """Stated before worked; a mixture, a solution or an unknown liquid is asked for."""
    stated, kind = desk.case.medium.permittivity, desk.case.medium.kind.word
    name, meaning = "medium.permittivity_worked", f"relative permittivity of the liquid, {now.name}"
    if stated.state == "unknown" and kind in (WATER, BOILING_WATER):
        desk.skip(stated)
        inputs = {"temperature_K": now.temperature, "density_kg_per_m3": now.density}
        return desk.worked(name, water_permittivity, inputs, meaning=meaning)
    if stated.state == "unknown" and kind == PETROLEUM:
        desk.skip(stated)
        return desk.worked(name, petroleum_permittivity, {"density_kg_per_m3": now.density}, meaning=meaning)
    return desk.take(stated)
