"""Static charge at the instrument: what exceeds a limit, or is not known. A reason to warn, never to pass."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Leaf, Value
from onedatum.case.model.circuit import NO, YES
from onedatum.case.model.hazard import PLASTIC
from onedatum.case.model.instrument import CAPACITIVE
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import (
    SurfaceLimits,
    bonding_limit,
    breakdown_limits,
    isolated_metal_limit,
    surface_limits,
)
from onedatum.study.desk import Desk
from onedatum.study.ignition.place import Needs
from onedatum.study.ignition.probe_charge import probe_charge
from onedatum.study.ignition.surface import AGAINST, Layer, layer_on, surface_chain, within
from onedatum.verdicts import Effect, Finding, Link

DECIDES = "whether static charge can ignite (the study warns, it never passes)"
BOND = Link("Bond it, at most 1 Mohm to earth, also with the head removed (read second-hand)")


@dataclass(frozen=True)
class ChargeChapter:
    """What was looked at, for the sheet."""

    limits: SurfaceLimits | None
    area: Entry | None
    warnings: tuple[Finding, ...]
    open: tuple[str, ...]
    """What is not known yet, by its title."""


def charge_chapter(desk: Desk, needs: Needs) -> ChargeChapter:
    """Warn of static charge in the zone inside the vessel."""
    charge = desk.case.charge
    zone = needs.inside
    desk.read.update(leaf.path for leaf in charge.leaves())
    if not _on_probe(desk):
        _skip(desk)
    if zone is None:
        desk.skip(*charge.leaves(), *desk.case.probe.bleed.leaves())
        return ChargeChapter(None, None, (), ())
    limits = surface_limits(zone.least_epl, needs.group) if _of_one_kind(needs) else None
    doubted = any(finding.key == "group-too-low" for finding in desk.findings)
    probe = probe_charge(desk, None if doubted else limits)
    if _on_probe(desk):
        _no_stem(desk)
        desk.findings.extend(probe.findings)
        return ChargeChapter(limits, probe.area, probe.findings, tuple(leaf.title for leaf in probe.missing))
    layer = _stated_layer(desk) if _layered(charge.layer) else None
    warnings = (*_layer(desk, limits, layer), *_float(desk, needs))
    desk.findings.extend((*warnings, *probe.findings))
    open_ = tuple(leaf.title for leaf in _asked(desk))
    return ChargeChapter(limits, layer.area if layer else None, warnings, open_)


def _on_probe(desk: Desk) -> bool:
    """Whether a capacitive probe measures: its rod is judged, and there is no float."""
    return desk.case.instrument.principle.word == CAPACITIVE


def _skip(desk: Desk) -> None:
    """What only a layer, or only a float that is not bonded, has."""
    charge = desk.case.charge
    if charge.layer.state == "none" or charge.layer.si == 0.0:
        desk.skip(charge.layer_diameter, charge.layer_length, charge.layer_breakdown, charge.core_earthed)
    elif charge.strong_charging.word == NO:
        desk.skip(charge.layer_breakdown)
    if charge.float_surface.word == PLASTIC or charge.float_bonded.word == YES:
        desk.skip(charge.float_capacitance)
    if charge.float_surface.word == PLASTIC:
        desk.skip(charge.float_bonded)


def _no_stem(desk: Desk) -> None:
    """What a probe has no use for: what is stated of a layer on a stem, and of a float."""
    charge = desk.case.charge
    desk.skip(charge.layer, charge.layer_diameter, charge.layer_length, charge.core_earthed)
    desk.skip(charge.float_surface, charge.float_bonded, charge.float_capacitance)


def _of_one_kind(needs: Needs) -> bool:
    return (
        bool(needs.group)
        and needs.inside is not None
        and needs.group.startswith("III") == (needs.inside.kind == "dust")
    )


def _layered(layer: Value) -> bool:
    return layer.state in ("stated", "assumed") and bool(layer.si)


def _asked(desk: Desk) -> list[Leaf]:
    """What must be known and is not, each asked."""
    charge = desk.case.charge
    needed: list[Leaf] = [charge.layer, charge.float_surface, charge.strong_charging]
    if _layered(charge.layer):
        needed += [charge.layer_diameter, charge.layer_length, charge.core_earthed]
    if charge.float_surface.word != PLASTIC:
        needed.append(charge.float_bonded)
    found = [leaf for leaf in needed if not leaf.known and leaf.state != "none"]
    for leaf in found:
        desk.want(leaf, DECIDES)
    return found


def _stated_layer(desk: Desk) -> Layer:
    charge = desk.case.charge
    diameter, length = desk.take(charge.layer_diameter, "mm"), desk.take(charge.layer_length, "m")
    return layer_on(desk, "charge.projected_area", desk.take(charge.layer, "mm"), diameter, length)


def _layer(desk: Desk, limits: SurfaceLimits | None, layer: Layer | None) -> Iterator[Finding]:
    charge = desk.case.charge
    if layer is None:
        return
    thickness = layer.thickness
    if charge.core_earthed.word == NO:
        yield _warning(
            "core-isolated",
            "The core under the insulating layer is not bonded",
            (Link("An isolated conductor is the worst source of sparks"),),
            (BOND,),
        )
    if charge.strong_charging.word == YES:
        yield from _strong(desk, thickness)
    if limits is None or limits.area_m2 is None:
        told = (Link("Thickness of the layer", thickness.text, thickness.name), Link("No limit is known here for it"))
        yield _warning("layer-charges", "The insulating layer can hold charge enough to ignite", told, AGAINST)
        return
    passed = within(desk, limits, layer)
    by_layer = charge.core_earthed.word == YES and charge.strong_charging.word == NO
    chain = surface_chain(desk, limits, layer)
    if not passed.area and not passed.width and not (passed.layer and by_layer):
        yield _warning("layer-charges", "The insulating layer can hold charge enough to ignite", chain, AGAINST)
    elif not passed.area and not passed.width:
        yield _warning(
            "layer-by-thickness",
            "The insulating layer is kept by its thickness alone",
            (*chain, Link("That holds against brush discharge only: bonded core, and no strong charging")),
            AGAINST,
        )


def _strong(desk: Desk, layer: Entry) -> Iterator[Finding]:
    """With strong charging a layer on metal can carry a propagating brush discharge."""
    limit, stated = breakdown_limits(), desk.case.charge.layer_breakdown
    if stated.si is not None and stated.si <= limit.sheet_V:
        return
    chain = [Link("Thickness of the layer on metal", layer.text, layer.name)]
    if stated.known:
        voltage = desk.take(stated, "kV")
        chain.append(Link(f"Its breakdown voltage, safe up to {limit.sheet_V / 1000:g} kV", voltage.text, voltage.name))
    yield _warning(
        "propagating-brush",
        "Strong charging on a layer on metal: propagating brush discharge",
        (*chain, Link("The rule for thin layers does not hold with strong charging")),
        (Link("No spray, no fast flow of two phases, no pneumatic filling at the instrument"),),
    )


def _float(desk: Desk, needs: Needs) -> Iterator[Finding]:
    charge = desk.case.charge
    if charge.float_surface.word == PLASTIC:
        title = "A plastic float holds charge and cannot be bonded"
        yield _warning("float-plastic", title, (Link("Its surface is judged by its certificate"),), (_METAL,))
    if charge.float_bonded.word == NO:
        yield from _isolated(desk, needs)


_METAL = Link("A metal float that is bonded to the stem")


def _isolated(desk: Desk, needs: Needs) -> Iterator[Finding]:
    zone, stated = needs.inside, desk.case.charge.float_capacitance
    chain = [Link("Metal that is not bonded", stated.text if stated.known else "capacitance not known")]
    known = zone is not None and _of_one_kind(needs)
    limit = isolated_metal_limit(zone.least_epl, needs.group) if zone is not None and known else None
    if limit is None or limit.capacitance_F is None:
        chain.append(Link("No limit is known here for it"))
    elif limit.deciding is not None:
        entry = desk.sheet.give(
            "charge.largest_capacitance",
            limit.capacitance_F,
            "F",
            "largest capacitance of metal that is not bonded",
            state="constant",
            shown="pF",
            source=limit.deciding.source,
        )
        chain.append(Link(f"At most ({limit.deciding.tag})", entry.text, entry.name))
        within = stated.si is not None and stated.si <= limit.capacitance_F
        chain.append(Link("Within it" if within else "Not within it, or not known"))
    bonding = bonding_limit()
    chain.append(Link(f"Counted as bonded up to ({bonding.tag})", f"{bonding.resistance_ohm / 1e6:g} Mohm"))
    yield _warning("float-isolated", "The float is metal and not bonded", tuple(chain), (BOND, _METAL))


def _warning(key: str, title: str, chain: tuple[Link, ...], ways_out: tuple[Link, ...]) -> Finding:
    return Finding(f"charge:{key}", title, Effect.WARNING, chain, ways_out, safety=True)
