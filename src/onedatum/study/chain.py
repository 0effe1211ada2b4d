"""The chain from a level to its quantities, for one temperature of the liquid.

reading -> level -> volume by the table -> less free water, in the warm or cold shell -> volume at the reference
temperature -> less sediment and water; beside it mass, value of a weighing, pure alcohol.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from onedatum.case.model.liquid import (
    MASS,
    MASS_IN_AIR,
    NET_STANDARD,
    PETROLEUM,
    PURE_ALCOHOL,
    REFERENCE_VOLUME,
)
from onedatum.case.model.statement import ROUNDED
from onedatum.case.model.vessel import AS_LIQUID, BETWEEN, BY_TABLE, STRAPPED, UPRIGHT
from onedatum.foundation.working import Entry
from onedatum.physics.media import rounded_factor
from onedatum.physics.quantity import (
    difference_m3,
    free_shell_factor,
    gross_observed_m3,
    gross_standard_m3,
    mass_in_air_kg,
    mass_kg,
    net_standard_m3,
    pure_alcohol_m3,
    scaled_level_m,
    shell_factor,
    shell_temperature_K,
    surface_level_m,
    table_volume_m3,
    told_level_m,
    volume_at_temperature_m3,
    volume_correction,
)
from onedatum.study.desk import Desk
from onedatum.study.liquid import Liquid
from onedatum.study.reference import At, standard_temperature
from onedatum.study.rounded import entered
from onedatum.study.vessel import VesselChapter
from onedatum.study.vessel.roof import roof_deeper_by


@dataclass(frozen=True)
class Amounts:
    """The quantities at one level; None for what this liquid or this case does not have."""

    level: Entry
    table: Entry
    observed: Entry
    mass: Entry
    free_water: Entry | None = None
    standard: Entry | None = None
    net: Entry | None = None
    net_mass: Entry | None = None
    in_air: Entry | None = None
    pure_alcohol: Entry | None = None

    def of(self, word: str) -> Entry | None:
        """The quantity that a case calls by this word."""
        return {
            MASS: self.mass,
            MASS_IN_AIR: self.in_air,
            REFERENCE_VOLUME: self.standard,
            NET_STANDARD: self.net or self.standard,
            PURE_ALCOHOL: self.pure_alcohol,
        }.get(word)

    def wanted(self, word: str) -> Entry:
        """What a case wants by this word; else pure alcohol where there is some, else the mass."""
        return self.of(word) or self.pure_alcohol or self.mass

    @property
    def stated(self) -> tuple[Entry, ...]:
        """Those there are, in the order of a statement."""
        every = (self.table, self.free_water, self.observed, self.standard, self.net)
        return tuple(e for e in (*every, self.mass, self.net_mass, self.in_air, self.pure_alcohol) if e is not None)


@dataclass(frozen=True)
class Links:
    """What the chain takes beside the level, at one temperature of the liquid."""

    vessel: VesselChapter
    liquid: Liquid
    table_error: Entry
    temperature: Entry
    density: Entry
    shell: Entry
    reference: At | None
    """The reference temperature of standard volumes, with the density at it."""
    correction: Entry | None
    """The factor on the volume from this temperature to the reference temperature."""
    alcohol: At | None
    """The same at 20 degC, for a mixture of ethanol and water."""

    def at(self, desk: Desk, part: str, temperature: Entry, where: str) -> Links:
        """The same chain at another temperature, under names that start with `part`."""
        density = self.liquid.density(desk, f"{part}.density", f"density of the liquid, {where}", temperature)
        moved = replace(
            self, temperature=temperature, density=density, shell=_shell(desk, f"{part}.shell_factor", temperature)
        )
        return replace(moved, correction=_correction(desk, f"{part}.volume_correction", moved))

    def amounts(self, desk: Desk, part: str, level: Entry, where: str) -> Amounts:
        """The quantities at a level, under names that start with `part`."""
        table = self._table(desk, part, level, where)
        water = _free_water(desk, self)
        observed = self._observed(desk, part, level, table, water, where)
        standard = self._standard(desk, part, observed, where)
        mass = self._mass(desk, part, observed, standard, where)
        net = _net(desk, part, standard, where)
        net_mass = None
        if net is not None and self.reference is not None:
            net_mass = _mass_of(
                desk, f"{part}.net_mass", net, self.reference.density, f"mass of the net volume, {where}"
            )
        alcohol = self._pure_alcohol(desk, part, observed, standard, where)
        in_air = _in_air(desk, part, mass, self.density, where)
        return Amounts(level, table, observed, mass, water, standard, net, net_mass, in_air, alcohol)

    def _table(self, desk: Desk, part: str, level: Entry, where: str) -> Entry:
        geometric = self.vessel.volume(desk, f"{part}.geometric_volume", level, f"inside volume below {where}")
        return self.by_table(desk, f"{part}.table_volume", geometric, f"volume by the tank table, {where}")

    def by_table(self, desk: Desk, name: str, geometric: Entry, meaning: str) -> Entry:
        """An inside volume as the tank table has it."""
        inputs = {"geometric_volume_m3": geometric, "table_error": self.table_error}
        return desk.worked(name, table_volume_m3, inputs, shown="m3", meaning=meaning)

    def _observed(self, desk: Desk, part: str, level: Entry, table: Entry, water: Entry | None, where: str) -> Entry:
        """Gross observed: less the free water, in the shell as warm as it is, with the roof as deep as it lies."""
        name, meaning = f"{part}.gross_observed_volume", f"gross observed volume, {where}"
        deeper = roof_deeper_by(desk, f"{part}.roof_lies_deeper", level, self.density)
        within = f"{part}.volume_under_roof" if deeper is not None else name
        if water is None:
            inputs = {"table_volume_m3": table, "shell_factor": self.shell}
            held = desk.calc(within, volume_at_temperature_m3, shown="m3", meaning=meaning, **inputs)
        else:
            inputs = {"total_observed_m3": table, "free_water_m3": water, "shell_factor": self.shell}
            held = desk.calc(within, gross_observed_m3, shown="m3", meaning=meaning, **inputs)
        if deeper is None:
            return held
        return desk.calc(name, difference_m3, shown="m3", meaning=meaning, first_m3=held, second_m3=deeper)

    def _standard(self, desk: Desk, part: str, observed: Entry, where: str) -> Entry | None:
        if self.reference is None or self.correction is None:
            return None
        return _at_reference(desk, f"{part}.gross_standard_volume", observed, self.correction, self.reference, where)

    def _mass(self, desk: Desk, part: str, observed: Entry, standard: Entry | None, where: str) -> Entry:
        """Volume times density as it stands; with rounded factors at the reference, which the parties agreed on."""
        meaning = f"mass in vacuum, {where}"
        if standard is not None and self.reference is not None and _rounded(desk):
            return _mass_of(desk, f"{part}.mass", standard, self.reference.density, meaning)
        return _mass_of(desk, f"{part}.mass", observed, self.density, meaning)

    def _pure_alcohol(self, desk: Desk, part: str, observed: Entry, standard: Entry | None, where: str) -> Entry | None:
        """Litres of pure alcohol at a level; None for a liquid without."""
        if self.alcohol is None or self.liquid.strength is None:
            return None
        at_20 = standard
        if self.reference is not self.alcohol or at_20 is None:
            factor = correction_to(desk, f"{part}.volume_correction[20 degC]", self.density, self.alcohol)
            at_20 = _at_reference(desk, f"{part}.volume_at_20degC", observed, factor, self.alcohol, where)
        return desk.calc(
            f"{part}.pure_alcohol",
            pure_alcohol_m3,
            shown="L",
            meaning=f"pure alcohol at 20 degC, {where}",
            volume_20degC_m3=at_20,
            strength=self.liquid.strength,
        )


def links_of(
    desk: Desk, vessel: VesselChapter, liquid: Liquid, table_error: Entry, temperature: Entry, density: Entry
) -> Links:
    """The chain at the temperature that quantities are stated for."""
    reference, alcohol = standard_temperature(desk, liquid)
    shell = _shell(desk, "vessel.shell_factor", temperature)
    links = Links(vessel, liquid, table_error, temperature, density, shell, reference, None, alcohol)
    return replace(links, correction=_correction(desk, "quantity.volume_correction", links))


def surface_of(desk: Desk, name: str, reading: Entry, datum_error: Entry, where: str = "") -> Entry:
    """The level above the datum of the table: the reading, with the errors of the gauge's scale and datum."""
    scale = desk.case.gauge_scale_error
    if scale.state != "unknown":
        error = desk.take(scale, "%value", none=0.0)
        reading = desk.calc(
            f"{name}.scaled",
            scaled_level_m,
            shown="mm",
            meaning=f"reading with the error of the scale{where}",
            reading_m=reading,
            scale_error=error,
        )
    meaning = f"level above the datum of the table{where}"
    return desk.calc(name, surface_level_m, shown="mm", meaning=meaning, reading_m=reading, datum_error_m=datum_error)


def told_of(desk: Desk, reading: Entry, errors: tuple[Entry, ...]) -> Entry:
    """A reading with the errors of what measures it, one after the other."""
    for error in errors:
        name, meaning = f"level.told[{error.name}]", f"level as read, with the {error.meaning}"
        reading = desk.calc(name, told_level_m, shown="mm", meaning=meaning, reading_m=reading, error_m=error)
    return reading


def _rounded(desk: Desk) -> bool:
    chosen = desk.case.quantity.arithmetic
    desk.read.add(chosen.path)
    return chosen.word == ROUNDED and desk.case.medium.kind.word == PETROLEUM


def _shell(desk: Desk, name: str, liquid_temperature: Entry) -> Entry:
    stated = desk.case.vessel.shell_temperature
    desk.read.add(stated.path)
    upright = desk.case.vessel.shape.word in (UPRIGHT, STRAPPED, BY_TABLE, "")
    if stated.word == BETWEEN:
        temperature = desk.calc(
            f"{name}.temperature",
            shell_temperature_K,
            liquid_temperature_K=liquid_temperature,
            ambient_temperature_K=desk.take(desk.case.site.ambient_temperature),
        )
    else:
        temperature = liquid_temperature if stated.word == AS_LIQUID else desk.take(stated)
    return desk.calc(
        name,
        shell_factor if upright else free_shell_factor,
        shell_temperature_K=temperature,
        table_temperature_K=desk.take(desk.case.vessel.table_temperature),
        expansion_per_K=desk.take(desk.case.vessel.shell_expansion),
    )


def _correction(desk: Desk, name: str, links: Links) -> Entry | None:
    """The factor to the reference temperature, rounded where the case asks for the rounding of the standard."""
    if links.reference is None:
        return None
    if not _rounded(desk):
        return correction_to(desk, name, links.density, links.reference)
    density, at = entered(desk, name, links.liquid, links.temperature, links.reference)
    exact = correction_to(desk, f"{name}.unrounded", density, at)
    return desk.calc(name, rounded_factor, meaning=f"factor to {links.reference.text}, rounded", factor=exact)


def correction_to(desk: Desk, name: str, density: Entry, at: At) -> Entry:
    """The factor on a volume of this density to a reference temperature."""
    return desk.calc(
        name,
        volume_correction,
        meaning=f"factor on the volume to {at.text}",
        density_kg_per_m3=density,
        reference_density_kg_per_m3=at.density,
    )


def _at_reference(desk: Desk, name: str, observed: Entry, factor: Entry, at: At, where: str) -> Entry:
    return desk.calc(
        name,
        gross_standard_m3,
        shown="m3",
        meaning=f"gross standard volume at {at.text}, {where}",
        gross_observed_m3=observed,
        volume_correction=factor,
    )


def _mass_of(desk: Desk, name: str, volume: Entry, density: Entry, meaning: str) -> Entry:
    return desk.calc(name, mass_kg, meaning=meaning, volume_m3=volume, density_kg_per_m3=density)


def _free_water(desk: Desk, links: Links) -> Entry | None:
    """What lies below the product, by its level or its volume; of a petroleum tank it is asked."""
    stated = desk.case.quantity
    name = "quantity.free_water"
    if name in desk.sheet:
        return desk.sheet[name]
    if stated.free_water_level.state not in ("unknown", "none"):
        level = desk.take(stated.free_water_level, "mm")
        inside = links.vessel.volume(desk, f"{name}.geometric_volume", level, "inside volume below the free water")
        return links.by_table(desk, name, inside, "free water and bottom sediment")
    if stated.free_water.state != "unknown":
        return desk.take(stated.free_water, "m3", none=0.0)
    if stated.free_water_level.state == "none":
        desk.read.add(stated.free_water_level.path)
        return None
    if desk.case.medium.kind.word != PETROLEUM:
        return None
    desk.want(stated.free_water_level, "what of the volume is product")
    return desk.absent(stated.free_water, "nobody has dipped for free water", "m3")


def _net(desk: Desk, part: str, standard: Entry | None, where: str) -> Entry | None:
    """Less sediment and water, where some is stated; of a petroleum product it is asked."""
    stated = desk.case.quantity.sediment_and_water
    if standard is None or (stated.state == "unknown" and desk.case.medium.kind.word != PETROLEUM):
        return None
    if stated.state == "unknown":
        desk.want(stated, "the net standard volume")
    return desk.calc(
        f"{part}.net_standard_volume",
        net_standard_m3,
        shown="m3",
        meaning=f"net standard volume, {where}",
        gross_standard_m3=standard,
        sediment_and_water=desk.take(stated, "%vol", none=0.0),
    )


def _in_air(desk: Desk, part: str, mass: Entry, density: Entry, where: str) -> Entry | None:
    """The value of a weighing at the temperature of the tank, where the case speaks of one."""
    weighing = desk.case.weighing
    if weighing.air_density.state == "unknown" and weighing.weights_density.state == "unknown":
        return None
    return desk.calc(
        f"{part}.mass_in_air",
        mass_in_air_kg,
        meaning=f"value of a weighing in air, {where}",
        mass_kg=mass,
        density_kg_per_m3=density,
        air_density_kg_per_m3=desk.take(weighing.air_density),
        weights_density_kg_per_m3=desk.take(weighing.weights_density),
    )
