"""Chapter quantity: from the level as read to table volume, mass, volume at 20 degC and litres of pure alcohol."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.liquid import MASS, REFERENCE_VOLUME, STATED_DENSITY
from onedatum.case.model.vessel import AS_LIQUID, BY_TABLE, STRAPPED, UPRIGHT
from onedatum.foundation.working import Entry, Uncertainty
from onedatum.physics.media import ethanol_water_density_kg_per_m3
from onedatum.physics.overfill import margin_m
from onedatum.physics.quantity import (
    difference_m3,
    free_shell_factor,
    mass_in_air_kg,
    mass_kg,
    pure_alcohol_m3,
    pure_alcohol_uncorrected_m3,
    shell_factor,
    surface_level_m,
    table_volume_m3,
    volume_at_20degC_m3,
    volume_at_reference_m3,
    volume_at_temperature_m3,
)
from onedatum.study.desk import Desk, Want
from onedatum.study.states import StatesChapter
from onedatum.study.stem import StemChapter
from onedatum.study.vessel import VesselChapter, at_level_now, heels

REFERENCE_TEMPERATURE_K = 293.15
"""20 degC: strength by volume and litres of pure alcohol are stated at it."""


@dataclass(frozen=True)
class QuantityChapter:
    """What the budget and the papers need of the quantity."""

    reading: Entry
    datum_error: Entry
    measured: tuple[Entry, ...]
    """Given numbers whose uncertainty belongs in every budget beside the table: level, datum, temperature, strength."""
    mass: Entry
    pure_alcohol: Entry | None
    reference_volume: Entry | None
    of: str
    """The word of the case for what it wants."""

    @property
    def wanted(self) -> Entry:
        """What the budget is made for: what the case wants, else pure alcohol where there is some, else the mass."""
        if self.of == REFERENCE_VOLUME and self.reference_volume is not None:
            return self.reference_volume
        return self.mass if self.of == MASS or self.pure_alcohol is None else self.pure_alcohol


@dataclass(frozen=True)
class Chain:
    """The links between a level and its quantities, that do not change with the level."""

    vessel: VesselChapter
    table_error: Entry
    shell: Entry
    density: Entry
    density_20: Entry | None
    strength: Entry | None

    def mass(self, desk: Desk, part: str, level: Entry, where: str) -> tuple[Entry, Entry]:
        """Table volume and mass at a level, under names that start with `part`."""
        geometric = self.vessel.volume(desk, f"{part}.geometric_volume", level, f"inside volume below {where}")
        table = desk.calc(
            f"{part}.table_volume",
            table_volume_m3,
            shown="m3",
            meaning=f"volume by the tank table, {where}",
            geometric_volume_m3=geometric,
            table_error=self.table_error,
        )
        volume = desk.calc(
            f"{part}.volume_at_temperature",
            volume_at_temperature_m3,
            shown="m3",
            meaning=f"volume at the temperature of the liquid, {where}",
            table_volume_m3=table,
            shell_factor=self.shell,
        )
        mass = desk.calc(
            f"{part}.mass",
            mass_kg,
            meaning=f"mass in vacuum, {where}",
            volume_m3=volume,
            density_kg_per_m3=self.density,
        )
        return table, mass

    def pure_alcohol(self, desk: Desk, part: str, mass: Entry, where: str) -> Entry | None:
        """Litres of pure alcohol at a level; None for a liquid without."""
        if self.density_20 is None or self.strength is None:
            return None
        volume_20 = desk.calc(
            f"{part}.volume_at_20degC",
            volume_at_20degC_m3,
            shown="m3",
            meaning=f"volume at 20 degC, {where}",
            mass_kg=mass,
            density_20degC_kg_per_m3=self.density_20,
        )
        return desk.calc(
            f"{part}.pure_alcohol",
            pure_alcohol_m3,
            shown="L",
            meaning=f"pure alcohol at 20 degC, {where}",
            volume_20degC_m3=volume_20,
            strength=self.strength,
        )


def quantity_chapter(desk: Desk, vessel: VesselChapter, states: StatesChapter, stem: StemChapter) -> QuantityChapter:
    """Work the quantity at the level as read, with the traps a simpler sheet would fall into beside it."""
    reading = desk.take(desk.case.level_now, "mm")
    datum_error = desk.take(desk.case.datum_error, "mm", none=0.0)
    level = desk.calc("level.surface", surface_level_m, shown="mm", reading_m=reading, datum_error_m=datum_error)
    chain = _chain(desk, vessel, states)
    table, mass = chain.mass(desk, "quantity", level, "level now")
    at_level_now(desk, vessel, level, desk.sheet["quantity.geometric_volume"])
    heels(desk, vessel)
    _in_air(desk, mass, states.now.density)
    alcohol = chain.pure_alcohol(desk, "quantity", mass, "level now")
    if alcohol is not None and chain.strength is not None:
        _uncorrected(desk, table, alcohol, chain.strength)
    vessel.volume(
        desk, "quantity.volume_below_measurable", stem.now.lowest, "volume below the lowest measurable level now"
    )
    for state, low_by in stem.set_elsewhere:
        _set_elsewhere(desk, chain, state, level, low_by, table, alcohol)
    measured = (reading, datum_error, states.now.temperature, *filter(None, [chain.strength]))
    reference = _at_reference(desk, mass)
    return QuantityChapter(reading, datum_error, measured, mass, alcohol, reference, desk.case.wanted.of.word)


def _at_reference(desk: Desk, mass: Entry) -> Entry | None:
    """The volume at the reference temperature of a liquid whose density is stated for one."""
    medium = desk.case.medium
    if medium.kind.word != STATED_DENSITY or medium.density_at.state == "unknown":
        return None
    desk.take(medium.density_at)
    return desk.calc(
        "quantity.volume_at_reference",
        volume_at_reference_m3,
        shown="m3",
        mass_kg=mass,
        reference_density_kg_per_m3=desk.take(medium.density),
    )


def _chain(desk: Desk, vessel: VesselChapter, states: StatesChapter) -> Chain:
    strength = desk.take(desk.case.medium.strength, "%vol") if states.mass_fraction else None
    return Chain(
        vessel, _table_error(desk), _shell(desk, states), states.now.density, _density_20(desk, states), strength
    )


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


def _shell(desk: Desk, states: StatesChapter) -> Entry:
    stated = desk.case.vessel.shell_temperature
    desk.read.add(stated.path)
    own = stated.word != AS_LIQUID
    upright = desk.case.vessel.shape.word in (UPRIGHT, STRAPPED, BY_TABLE, "")
    return desk.calc(
        "vessel.shell_factor",
        shell_factor if upright else free_shell_factor,
        shell_temperature_K=desk.take(stated) if own else states.now.temperature,
        table_temperature_K=desk.take(desk.case.vessel.table_temperature),
        expansion_per_K=desk.take(desk.case.vessel.shell_expansion),
    )


def _density_20(desk: Desk, states: StatesChapter) -> Entry | None:
    if states.mass_fraction is None:
        return None
    reference = desk.sheet.give(
        "quantity.reference_temperature",
        REFERENCE_TEMPERATURE_K,
        "K",
        "reference temperature of strength and pure alcohol",
        state="constant",
        source="oiml-r22",
    )
    return desk.calc(
        "medium.density_20degC",
        ethanol_water_density_kg_per_m3,
        meaning="density of the liquid at 20 degC",
        mass_fraction=states.mass_fraction,
        temperature_K=reference,
    )


def _in_air(desk: Desk, mass: Entry, density: Entry) -> None:
    """The value of a weighing, where the case speaks of one."""
    weighing = desk.case.weighing
    if weighing.air_density.state == "unknown" and weighing.weights_density.state == "unknown":
        return
    desk.calc(
        "quantity.mass_in_air",
        mass_in_air_kg,
        mass_kg=mass,
        density_kg_per_m3=density,
        air_density_kg_per_m3=desk.take(weighing.air_density),
        weights_density_kg_per_m3=desk.take(weighing.weights_density),
    )


def _uncorrected(desk: Desk, table: Entry, alcohol: Entry, strength: Entry) -> None:
    without = desk.calc(
        "comparison.pure_alcohol_uncorrected",
        pure_alcohol_uncorrected_m3,
        shown="L",
        table_volume_m3=table,
        strength=strength,
    )
    desk.calc(
        "comparison.pure_alcohol_left_out",
        difference_m3,
        shown="L",
        meaning="pure alcohol left out without the temperature correction",
        first_m3=alcohol,
        second_m3=without,
    )


def _inside(desk: Desk, chain: Chain, part: str, level: Entry, low_by: Entry, shown: Entry) -> bool:
    """Whether the level that would be read lies inside the vessel, so that there is something to compare."""
    above = desk.sheet.decide(f"{part}.above_bottom", "e <= h", "it lies above the bottom", e=low_by, h=level)
    top = chain.vessel.inside_height
    below = desk.sheet.decide(f"{part}.below_top", "h <= H", "it lies below the inside top", h=shown, H=top)
    return bool(above and below)


def _set_elsewhere(
    desk: Desk, chain: Chain, state: str, level: Entry, low_by: Entry, table: Entry, alcohol: Entry | None
) -> None:
    """What the offset of an instrument set in another liquid costs at the level as read."""
    part = f"comparison[{state}]"
    shown = desk.calc(
        f"{part}.level",
        margin_m,
        shown="mm",
        meaning=f"level that would be read, {state}",
        limit_m=level,
        value_m=low_by,
    )
    if not _inside(desk, chain, part, level, low_by, shown):
        return
    low_table, low_mass = chain.mass(desk, part, shown, state)
    desk.calc(
        f"{part}.volume_missed",
        difference_m3,
        shown="L",
        meaning=f"volume not seen, {state}",
        first_m3=table,
        second_m3=low_table,
    )
    low_alcohol = chain.pure_alcohol(desk, part, low_mass, state)
    if alcohol is not None and low_alcohol is not None:
        desk.calc(
            f"{part}.pure_alcohol_missed",
            difference_m3,
            shown="L",
            meaning=f"pure alcohol not seen, {state}",
            first_m3=alcohol,
            second_m3=low_alcohol,
        )
