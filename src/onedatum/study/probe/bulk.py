"""Grain: the density stated of its bulk against packing, solid and moisture, which tell it once more."""

from __future__ import annotations

from itertools import product

from onedatum.case.leaf import Value
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.physics.media import bulk_density_kg_per_m3
from onedatum.study.desk import Desk
from onedatum.study.sensitivity import standard_of
from onedatum.verdicts import COVERAGE

OF_PACKING = 0.10
"""What one value of the packing may be off by, for want of a range; common practice, no source."""
OF_DENSITY = 0.05
"""The same of a density stated without uncertainty."""
WHY = "the bulk weighs what its grains weigh; one value alone counts within 10 % of packing, 5 % of density"


def bulk_contradiction(desk: Desk, water: Entry) -> None:
    """Put down a fault where the two cannot both be so, each over all that is stated or usual of it."""
    medium = desk.case.medium
    bulk, stated = medium.bulk, medium.density
    parts = (_ends(desk, bulk.packing, OF_PACKING, 1.0), _ends(desk, bulk.moisture, 0.0, 1.0))
    solid, densities = _ends(desk, bulk.solid_density, 0.0), _ends(desk, stated, OF_DENSITY)
    if not (all(parts) and solid and densities) or min(solid) <= 0.0 or water.value is None:
        return
    corners = [float(bulk_density_kg_per_m3(*corner, water.value)) for corner in product(*parts, solid)]
    if max(densities) >= min(corners) and min(densities) <= max(corners):
        return
    allowed = f"from {show(min(corners), 'kg/m3')} to {show(max(corners), 'kg/m3')}, as {_told(bulk.packing)} "
    allowed += f"of {_told(bulk.solid_density)} with {_told(bulk.moisture)} weighs"
    desk.faults.append(Fault(stated.path, allowed, stated.text, WHY, stated.place))


def _told(leaf: Value) -> str:
    return f"{leaf.path} {leaf.text}"


def _ends(desk: Desk, stated: Value, usual: float, most: float = float("inf")) -> list[float]:
    """Everything that it may be: its range and its uncertainty, or what is usual where neither is stated."""
    known = [si for si in (stated.low, stated.si, stated.high) if si is not None]
    around = COVERAGE * float(standard_of(desk.take(stated)))
    if around == 0.0 and len(known) == 1:
        around = usual * known[0]
    return [min(max(si + sign * around, 0.0), most) for si in known for sign in (-1.0, 1.0)]
