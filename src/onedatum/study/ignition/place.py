"""What zone and substance ask of the instrument: protection level, group, temperature class."""

from __future__ import annotations

from dataclasses import dataclass, replace

from onedatum.case.leaf import Word
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import (
    Figures,
    Substance,
    ZoneNeeds,
    class_required,
    class_serves,
    group_serves,
    substance,
    zone_needs,
)
from onedatum.study.desk import NONE, Desk
from onedatum.study.sensitivity import half_width_under
from onedatum.verdicts import Effect, Finding, Link


@dataclass(frozen=True)
class Needs:
    """What is asked, inside the vessel and at the head."""

    inside: ZoneNeeds | None
    """None where there is no zone, or it is not known."""
    at_head: ZoneNeeds | None
    group: str
    """The group stated; "" where it is not known."""
    temperature_class: str
    """The harder of the class stated and the one the substance asks; "" where neither is known."""
    substance: Substance | None

    @property
    def any_zone(self) -> bool:
        """Whether there is a zone at all."""
        return self.inside is not None or self.at_head is not None

    @property
    def dust(self) -> bool:
        """Whether one of the zones is one of dust."""
        return any(each is not None and each.kind == "dust" for each in (self.inside, self.at_head))

    @property
    def gas(self) -> bool:
        """Whether one of the zones is one of gas."""
        return any(each is not None and each.kind == "gas" for each in (self.inside, self.at_head))


def needs_of(desk: Desk) -> Needs:
    """Read zones, group, class and substance; what is missing is asked by name."""
    zone = desk.case.zone
    inside = _zone(desk, zone.inside, "which protection the part inside the vessel needs")
    at_head = _zone(desk, zone.at_head, "which protection the head needs")
    if inside is None and at_head is None:
        desk.read.update(leaf.path for leaf in zone.leaves())
        return Needs(None, None, "", "", None)
    group = desk.word(zone.group, "whether instrument and circuit serve the gas or dust of the zone")
    kept = _substance(desk)
    found = Needs(inside, at_head, group, "", kept)
    if found.gas:
        found = replace(found, temperature_class=_class(desk, kept))
    _compare_with_substance(desk, found)
    return found


def _zone(desk: Desk, stated: Word, decides: str) -> ZoneNeeds | None:
    word = desk.word(stated, decides)
    return zone_needs(word) if word not in ("", NONE) else None


def _substance(desk: Desk) -> Substance | None:
    stated = desk.case.zone.substance
    desk.read.add(stated.path)
    if not stated.known:
        return None
    try:
        return substance(stated.text)
    except QuantityError as error:
        if desk.case.zone.ignition_temperature.known and desk.case.zone.group.known:
            return None
        desk.faults.append(stated.fault(error.allowed, f"{error.why}. {error.remedy}".strip(". ")))
        return None


def _class(desk: Desk, kept: Substance | None) -> str:
    """The class by the ignition temperature, or the one stated where that is harder."""
    stated = desk.case.zone.temperature_class
    least = _least_ignition_temperature(desk, kept)
    if least is None or least.value is None:
        word = desk.word(stated, "how hot the instrument may get")
        return "" if word == NONE else word
    desk.read.add(stated.path)
    needed = class_required(least.value - half_width_under(least))
    if not needed:
        desk.findings.append(_no_class(least))
        return ""
    word = "" if stated.word == NONE else stated.word
    if word and not class_serves(word, needed):
        desk.findings.append(_class_too_low(word, needed, least))
    return word if word and class_serves(word, needed) else needed


def _least_ignition_temperature(desk: Desk, kept: Substance | None) -> Entry | None:
    """The lowest of the ignition temperatures at hand, each put down with its source."""
    stated = desk.case.zone.ignition_temperature
    found = [desk.take(stated)] if stated.known else []
    desk.read.update((stated.path, desk.case.zone.flash_point.path))
    for key, meaning, figures in _tables(kept):
        found.append(
            desk.sheet.give(
                f"zone.ignition_temperature_{key}",
                figures.ignition_temperature_K,
                "K",
                f"ignition temperature, {meaning}",
                state="constant",
                shown="degC",
                source=figures.source,
            )
        )
    if not found:
        return None
    return desk.sheet.select("zone.ignition_temperature_least", "least", "lowest ignition temperature at hand", found)


def _tables(kept: Substance | None) -> tuple[tuple[str, str, Figures], ...]:
    """What the tables say of the substance, each with what it is."""
    if kept is None:
        return ()
    iec = ("iec", f"{kept.name} by IEC 60079-20-1", kept.iec)
    return (iec,) if kept.nfpa is None else (iec, ("nfpa", f"{kept.name} by NFPA 497", kept.nfpa))


def _compare_with_substance(desk: Desk, needs: Needs) -> None:
    """The group stated against the one of the substance; a less demanding one is told, never taken silently."""
    kept = needs.substance
    if kept is None or not kept.group:
        return
    if needs.group and not group_serves(needs.group, kept.group):
        desk.findings.append(
            Finding(
                "group-too-low",
                f"The group stated is less demanding than that of {kept.name}",
                Effect.BLOCKS,
                (
                    Link("Stated", needs.group),
                    Link(f"{kept.name} ({kept.group_tag})", kept.group),
                ),
                (Link("State the group of the area classification, and the substance that decides it"),),
                safety=True,
            )
        )


def _no_class(least: Entry) -> Finding:
    return Finding(
        "no-class-serves",
        "No temperature class lies below the ignition temperature",
        Effect.BLOCKS,
        (Link("Lowest ignition temperature at hand", least.text, least.name),),
        (Link("A specialist decides; no equipment of a temperature class serves"),),
        safety=True,
    )


def _class_too_low(stated: str, needed: str, least: Entry) -> Finding:
    return Finding(
        "class-too-low",
        "The temperature class stated allows hotter surfaces than the substance does",
        Effect.BLOCKS,
        (
            Link("Lowest ignition temperature at hand", least.text, least.name),
            Link("The class whose limit lies below it", needed),
            Link("Stated", stated),
        ),
        (Link("State the class of the area classification, and the ignition temperature it rests on"),),
        safety=True,
    )
