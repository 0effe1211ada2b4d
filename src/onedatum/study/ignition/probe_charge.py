"""Static charge on a capacitive probe in a zone: the way of its core to earth, and what its coating may hold.

It does not hold where the core is isolated or every limit of the coating is exceeded; it holds where every limit is
kept and the way to earth is stated. In between the certificate decides, and what is missing is named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Leaf
from onedatum.case.model.instrument import CAPACITIVE
from onedatum.case.model.probe import BARE, BARE_TIP, COATED, NO, YES
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import coating_thickness_m
from onedatum.physics.ignition import SurfaceLimits, bonding_limit, breakdown_limits
from onedatum.study.desk import NONE, Desk
from onedatum.study.ignition.surface import AGAINST, Layer, Within, layer_on, surface_chain, within
from onedatum.study.sensitivity import half_width_under
from onedatum.verdicts import Effect, Finding, Link

WORDS = (
    "static charge on rod and coating keeps to the limits for the zone",
    "Static charge on rod or coating can ignite",
)
MUST = "a core bled to earth, and every limit kept"
DECIDES = "whether static charge on the probe can ignite"
BLEED = Link("A way from the core to earth of at most 1 Mohm, that stays with the head removed (from memory)")
STRONG = Link("The limit of thickness holds without strong charging only")
CERTIFICATE = Link("What is kept in part only is cleared by the certificate, with its special conditions")


@dataclass(frozen=True)
class ProbeCharge:
    """What was found, for the chapter."""

    area: Entry | None = None
    findings: tuple[Finding, ...] = ()
    missing: tuple[Leaf, ...] = ()


@dataclass(frozen=True)
class _Part:
    """What one part of the judgement says: None while something is missing, or the certificate decides."""

    holds: bool | None
    told: str
    chain: tuple[Link, ...]
    ways: tuple[Link, ...] = ()
    missing: tuple[Leaf, ...] = ()


def probe_charge(desk: Desk, limits: SurfaceLimits | None) -> ProbeCharge:
    """Judge the probe of the case; nothing where there is none."""
    if "probe.active_length" not in desk.sheet:
        return ProbeCharge()
    layer = _coating(desk)
    parts = (_core(desk), _surface(desk, limits, layer))
    found = [part.holds for part in parts]
    holds = False if False in found else None if None in found else True
    missing = tuple(leaf for part in parts for leaf in part.missing)
    for leaf in missing:
        desk.want(leaf, DECIDES)
    said = "; ".join(part.told for part in parts if part.told)
    remark = desk.case.instrument.principle.word != CAPACITIVE
    desk.judge("probe-charge", WORDS, said, "is", MUST, holds, remark=remark)
    desk.explained.add("probe-charge")
    return ProbeCharge(layer.area if layer else None, tuple(_finding(parts, holds, remark)), missing)


def _finding(parts: tuple[_Part, ...], holds: bool | None, remark: bool) -> Iterator[Finding]:
    """What stands against it, or is open, with the ways out; nothing where it holds."""
    if holds:
        return
    against = [part for part in parts if part.holds is False] if holds is False else [*parts]
    title = WORDS[1] if holds is False else "Static charge on rod and coating is not cleared for the zone"
    open_ = [Link("Not known", leaf.title) for part in against for leaf in part.missing]
    chain = (*(link for part in against for link in part.chain), *open_)
    ways = dict.fromkeys(link for part in against for link in part.ways)
    effect = Effect.BLOCKS if holds is False and not remark else Effect.WARNING
    yield Finding("probe-charged", title, effect, chain, tuple(ways) or (CERTIFICATE,), safety=True)


# ---------------------------------------------------------------- the core


def _core(desk: Desk) -> _Part:
    """A core in an insulating gland is isolated metal unless it has a way to earth, with the head removed as well."""
    bleed, limit = desk.case.probe.bleed, bonding_limit()
    most = desk.constant(
        "charge.bonding_limit",
        limit.resistance_ohm,
        "ohm",
        "largest resistance to earth that counts as bonded",
        shown="Mohm",
        source=limit.source,
        note=limit.tag,
    )
    resistance = desk.take(bleed.resistance, "kohm")
    stays = bleed.head_removed.word
    chain = (
        Link(f"Core to earth, at most {most.text} ({limit.tag})", resistance.text, resistance.name),
        Link("That stays with the head removed", stays or "not said"),
    )
    isolated = NONE in (bleed.resistance.state, bleed.head_removed.state) or stays == NO
    if isolated or (resistance.value is not None and not _at_most(resistance, most)):
        return _Part(False, "the core is isolated", chain, (BLEED,))
    missing = tuple(leaf for leaf in bleed.leaves() if not leaf.known)
    if missing:
        return _Part(None, "how the core is earthed is not known", chain, (BLEED,), missing)
    return _Part(True, "the core is bled to earth", chain)


def _at_most(value: Entry, limit: Entry) -> bool:
    """Whether a value keeps a limit of safety, its uncertainty counted against it."""
    if value.value is None or limit.value is None:
        return False
    return value.value + half_width_under(value) <= limit.value


# ---------------------------------------------------------------- the coating


def _coating(desk: Desk) -> Layer | None:
    """The coating: over the active length, or of a rod with a bare tip over its inactive part; None for a bare rod."""
    probe = desk.case.probe
    if probe.rod.word not in (COATED, BARE_TIP):
        return None
    diameter = desk.take(probe.coating_diameter, "mm")
    both = {"coating_diameter_m": diameter, "core_diameter_m": desk.take(probe.core_diameter, "mm")}
    thickness = desk.worked("probe.coating_thickness", coating_thickness_m, both, shown="mm")
    length = desk.sheet["probe.active_length"]
    if probe.rod.word == BARE_TIP:
        length = desk.take(probe.inactive_length, "mm")
    return layer_on(desk, "probe.projected_area", thickness, diameter, length)


def _surface(desk: Desk, limits: SurfaceLimits | None, layer: Layer | None) -> _Part:
    """The coating against area, width and thickness; the last counts without strong charging only."""
    charge, rod = desk.case.charge, desk.case.probe.rod
    if layer is None:
        _beside_the_point(desk, charge.layer_breakdown)
        bare = rod.word == BARE
        return _Part(True, "", ()) if bare else _Part(None, "the rod is not known", (), (), (rod,))
    if limits is None or limits.area_m2 is None:
        missing: tuple[Leaf, ...] = () if desk.case.zone.group.known else (desk.case.zone.group,)
        told = Link("Thickness of the coating", layer.thickness.text, layer.thickness.name)
        none = Link("No limit is known here for it")
        return _Part(None, "no limit is known here for the coating", (told, none), AGAINST, missing)
    chain = (*surface_chain(desk, limits, layer), STRONG)
    unknown = _unknown(desk, layer)
    kept = within(desk, limits, layer)
    strong = charge.strong_charging.word
    if not unknown and _exceeded(desk, kept, strong):
        return _Part(False, "the coating exceeds its limits", (*chain, *_brush(desk, strong)), AGAINST)
    if not strong:
        unknown = (*unknown, charge.strong_charging)
    if not unknown and strong == NO and kept == Within(True, True, True):
        return _Part(True, "the coating keeps its limits", chain)
    said = "the coating is not known" if unknown else "the coating keeps its limits in part: the certificate decides"
    return _Part(None, said, (*chain, *_brush(desk, strong)), (*AGAINST, CERTIFICATE), unknown)


def _exceeded(desk: Desk, kept: Within, strong: str) -> bool:
    """Whether no limit keeps the coating, or strong charging meets a layer that holds its voltage."""
    breakdown = desk.case.charge.layer_breakdown.si
    propagates = strong == YES and breakdown is not None and breakdown > breakdown_limits().sheet_V
    by_layer = kept.layer and strong != YES
    return propagates or not (kept.area or kept.width or by_layer)


def _brush(desk: Desk, strong: str) -> tuple[Link, ...]:
    """With strong charging a coating on metal can carry a propagating brush discharge."""
    if strong != YES:
        _beside_the_point(desk, desk.case.charge.layer_breakdown)
        return ()
    stated, limit = desk.case.charge.layer_breakdown, breakdown_limits()
    most = f"{limit.sheet_V / 1e3:g} kV"
    text = f"Strong charging: propagating brush discharge, but for a breakdown voltage of at most {most}"
    return (Link(text, stated.text if stated.known else "not known"),)


def _beside_the_point(desk: Desk, leaf: Leaf) -> None:
    """What means nothing of the probe; beside another instrument it is left to that."""
    if desk.case.instrument.principle.word == CAPACITIVE:
        desk.skip(leaf)


def _unknown(desk: Desk, layer: Layer) -> tuple[Leaf, ...]:
    """The leaves that the numbers of the coating wait for."""
    waits = {path for entry in (layer.area, layer.diameter, layer.thickness) for path in entry.waits_for}
    return tuple(leaf for leaf in desk.case.probe.leaves() if leaf.path in waits)
