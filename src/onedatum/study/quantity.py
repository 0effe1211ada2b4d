"""Chapter quantity: from the level as read to every quantity, and beside it what a simpler sheet would say."""

from __future__ import annotations

from dataclasses import dataclass, replace

from onedatum.foundation.working import Entry, Uncertainty
from onedatum.physics.overfill import margin_m
from onedatum.physics.quantity import (
    difference_m3,
    gross_standard_m3,
    pure_alcohol_uncorrected_m3,
)
from onedatum.study.chain import Amounts, Links, correction_to, links_of, surface_of, told_of
from onedatum.study.desk import Desk, Want
from onedatum.study.reach import Reach
from onedatum.study.reference import other_references
from onedatum.study.states import StatesChapter
from onedatum.study.vessel import VesselChapter, at_level_now, heels


@dataclass(frozen=True)
class QuantityChapter:
    """What the budget, the batch and the papers need of the quantity."""

    reading: Entry
    datum_error: Entry
    measured: tuple[Entry, ...]
    """Given numbers whose uncertainty belongs in every budget beside the table: level, datum, temperature, strength."""
    links: Links
    now: Amounts
    of: str
    """The word of the case for what it wants."""

    @property
    def wanted(self) -> Entry:
        """What the budget is made for."""
        return self.now.wanted(self.of)


def quantity_chapter(
    desk: Desk, vessel: VesselChapter, states: StatesChapter, reach: Reach | None, errors: tuple[Entry, ...] = ()
) -> QuantityChapter:
    """Work the quantity at the level as read; `errors` of what measures it, with their uncertainties."""
    reading = desk.take(desk.case.level_now, "mm")
    datum_error = desk.take(desk.case.datum_error, "mm", none=0.0)
    level = surface_of(desk, "level.surface", told_of(desk, reading, errors), datum_error)
    now = states.now
    links = links_of(desk, vessel, states.liquid, _table_error(desk), now.temperature, now.density)
    amounts = links.amounts(desk, "quantity", level, "level now")
    at_level_now(desk, vessel, level, desk.sheet["quantity.geometric_volume"])
    heels(desk, vessel)
    _at_other_references(desk, links, amounts)
    _uncorrected(desk, links, amounts)
    if reach is not None:
        _by_reach(desk, links, reach, amounts)
    measured = (reading, datum_error, now.temperature, *states.liquid.measured)
    chapter = QuantityChapter(reading, datum_error, measured, links, amounts, desk.case.wanted.of.word)
    if chapter.wanted.suffix != "kg":
        return chapter
    return replace(chapter, measured=(*measured, *states.liquid.measured_for_mass))


def _by_reach(desk: Desk, links: Links, reach: Reach, amounts: Amounts) -> None:
    """What lies below what can be measured, and what an instrument set in another liquid does not see."""
    meaning = "volume below the lowest measurable level now"
    links.vessel.volume(desk, "quantity.volume_below_measurable", reach.now_lowest, meaning)
    for state, low_by in reach.set_elsewhere:
        _set_elsewhere(desk, links, state, low_by, amounts)


def _table_error(desk: Desk) -> Entry:
    """The relative error of the table: zero as far as known, with the uncertainty stated for it."""
    stated, k = desk.case.table.U, desk.case.table.k
    desk.read.update((stated.path, k.path, desk.case.table.basis.path))
    uncertainty = None
    if stated.si is not None and k.si is not None:
        uncertainty = Uncertainty.expanded(stated.si, k.si, f"U {stated.text}, k = {k.text}")
    for leaf in (stated, k):
        if not leaf.known:
            desk.wants[leaf.path] = Want(leaf.title, leaf.side, "the uncertainty of the quantity")
    return desk.sheet.give(
        "table.error",
        0.0,
        "",
        "relative error of the tank table",
        shown="%value",
        path=stated.path,
        place=stated.place,
        note="no error is known; its uncertainty counts in the budget",
        uncertainty=uncertainty,
    )


def _at_other_references(desk: Desk, links: Links, amounts: Amounts) -> None:
    """The volume at the other reference temperatures of the trade, for whoever counts by them."""
    for at in other_references(desk, links.liquid, links.reference):
        factor = correction_to(desk, f"quantity.volume_correction[{at.text}]", links.density, at)
        desk.calc(
            f"quantity.volume_at[{at.text}]",
            gross_standard_m3,
            shown="m3",
            meaning=f"gross volume at {at.text}, level now",
            gross_observed_m3=amounts.observed,
            volume_correction=factor,
        )


def _uncorrected(desk: Desk, links: Links, amounts: Amounts) -> None:
    """Pure alcohol as a sheet that knows no temperature would give it."""
    if amounts.pure_alcohol is None or links.liquid.strength is None:
        return
    without = desk.calc(
        "comparison.pure_alcohol_uncorrected",
        pure_alcohol_uncorrected_m3,
        shown="L",
        table_volume_m3=amounts.table,
        strength=links.liquid.strength,
    )
    meaning = "pure alcohol left out without the temperature correction"
    _missed(desk, "comparison.pure_alcohol_left_out", meaning, amounts.pure_alcohol, without)


def _inside(desk: Desk, links: Links, part: str, level: Entry, low_by: Entry, shown: Entry) -> bool:
    """Whether the level that would be read lies inside the vessel, so that there is something to compare."""
    above = desk.sheet.decide(f"{part}.above_bottom", "e <= h", "it lies above the bottom", e=low_by, h=level)
    top = links.vessel.inside_height
    below = desk.sheet.decide(f"{part}.below_top", "h <= H", "it lies below the inside top", h=shown, H=top)
    return bool(above and below)


def _set_elsewhere(desk: Desk, links: Links, state: str, low_by: Entry, true: Amounts) -> None:
    """What the offset of an instrument set in another liquid costs at the level as read."""
    part = f"comparison[{state}]"
    shown = desk.calc(
        f"{part}.level",
        margin_m,
        shown="mm",
        meaning=f"level that would be read, {state}",
        limit_m=true.level,
        value_m=low_by,
    )
    if not _inside(desk, links, part, true.level, low_by, shown):
        return
    low = links.amounts(desk, part, shown, state)
    _missed(desk, f"{part}.volume_missed", f"volume not seen, {state}", true.table, low.table)
    if true.pure_alcohol is not None and low.pure_alcohol is not None:
        meaning = f"pure alcohol not seen, {state}"
        _missed(desk, f"{part}.pure_alcohol_missed", meaning, true.pure_alcohol, low.pure_alcohol)


def _missed(desk: Desk, name: str, meaning: str, true: Entry, seen: Entry) -> None:
    desk.calc(name, difference_m3, shown="L", meaning=meaning, first_m3=true, second_m3=seen)
