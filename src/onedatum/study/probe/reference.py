"""The reference section of a probe: a part that stays wetted, tells what the liquid is, and so takes changes off."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.reference_section import EVEN
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    active_length_m,
    by_reference_section_m,
    left_by_reference_m,
    probe_capacitance_F,
    reference_gain_ratio,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.full import Full

COVERED = (
    "the reference section stays below the lowest level of the range",
    "The reference section comes out of the liquid within the range",
)
ONE_LIQUID = (
    "the reference section stands in the liquid whose level is measured",
    "The reference section stands in another liquid than the one whose level is measured",
)


@dataclass(frozen=True)
class Reference:
    """The section, and whether it can be counted on."""

    lower: Entry
    upper: Entry
    length: Entry
    lowest: Entry
    """The lowest level of the range."""
    gain: Entry
    """How many times what is wrong of it counts in the level."""
    covered: bool | None
    """Whether it stays wetted over the whole range; None while that is not known."""
    one_liquid: bool | None
    """Whether it stands in the liquid whose level is measured, and that is even; None while that is not known."""

    @property
    def sound(self) -> bool:
        """Whether it takes changes of the liquid off."""
        return bool(self.covered and self.one_liquid)


def reference_of(desk: Desk, full: Full) -> Reference | None:
    """Work the reference section; None where the case speaks of none."""
    stated = desk.case.probe.reference_section
    if not any(leaf.known for leaf in stated.leaves()):
        desk.skip(*stated.leaves())
        return None
    lower, upper = desk.take(stated.from_, "mm"), desk.take(stated.to, "mm")
    length = desk.calc(
        "probe.reference_length",
        active_length_m,
        shown="mm",
        meaning="length of the reference section",
        upper_m=upper,
        lower_m=lower,
    )
    ends = [desk.take(leaf, "mm") for leaf in (desk.case.range.lower, desk.case.range.upper)]
    lowest = desk.sheet.select("probe.lowest_level", "least", "lowest level of the range", ends)
    gain = desk.calc("probe.reference_gain", reference_gain_ratio, wetted_m=full.wetted, reference_length_m=length)
    covered = None if upper.value is None or lowest.value is None else upper.value <= lowest.value
    return Reference(lower, upper, length, lowest, gain, covered, _one_liquid(desk, lower))


def drowned(desk: Desk, lower: Entry) -> bool:
    """Whether water at the bottom or a heavier liquid reaches into the section."""
    water = desk.case.quantity.free_water_level.si
    reaches = water is not None and lower.value is not None and water > lower.value
    return reaches or desk.case.interface.lower_density.known


def _one_liquid(desk: Desk, lower: Entry) -> bool | None:
    even = desk.case.probe.reference_section.even
    word = desk.word(even, "whether the reference section takes changes of the liquid off")
    if drowned(desk, lower):
        return False
    return word == EVEN if word else None


def left_by(desk: Desk, name: str, text: str, reference: Reference, wet: Entry, full: Full) -> Entry:
    """What is left of a change at the highest level of the range, read by the reference section."""
    none = desk.constant("probe.none_wetted", 0.0, "m", "wetted length of a dry probe")
    apart = desk.constant("probe.reference_constant", 0.0, "F", "what the reference section holds beside its length")
    lengths = {"wet_F_per_m": wet, "dry_F_per_m": full.dry}
    whole = {"constant_F": full.constant, **lengths, "active_m": full.active}
    part = {"constant_F": apart, **lengths, "active_m": reference.length}
    held = {}
    for parameter, key, about, wetted in (
        ("capacitance_F", "held", whole, full.wetted),
        ("dry_F", "held_dry", whole, none),
        ("reference_F", "reference", part, reference.length),
        ("reference_dry_F", "reference_dry", part, none),
    ):
        called = f"capacitance of the {'probe' if about is whole else 'reference section'}"
        meaning = f"{called}, {'dry' if wetted is none else 'highest level of the range'}, {text}"
        held[parameter] = desk.worked(
            f"{name}.{key}", probe_capacitance_F, {**about, "wetted_m": wetted}, shown="pF", meaning=meaning
        )
    read = desk.worked(
        f"{name}.by_reference",
        by_reference_section_m,
        {"reference_length_m": reference.length, **held},
        shown="mm",
        meaning=f"wetted length read by the reference section, {text}",
    )
    inputs = {"read_m": read, "wetted_m": full.wetted}
    return desk.worked(f"{name}.left", left_by_reference_m, inputs, shown="mm", meaning=f"left of the error, {text}")
