"""The liquid of a case: how its density follows its temperature, by the law or the table of its kind."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from onedatum.case.model.liquid import (
    BOILING_WATER,
    ETHANOL_WATER,
    OWN_EXPANSION,
    PETROLEUM,
    STATED_DENSITY,
    TABLED,
    WATER,
    OperatingState,
)
from onedatum.foundation.working import Entry
from onedatum.physics.media import (
    DensityTable,
    ethanol_fraction_of_density,
    ethanol_mass_fraction,
    ethanol_water_density_kg_per_m3,
    expanded_density_kg_per_m3,
    mass_fraction_of_proof,
    own_expansion_base_density_kg_per_m3,
    own_expansion_density_kg_per_m3,
    petroleum_base_density_kg_per_m3,
    petroleum_density_kg_per_m3,
    petroleum_group,
    pressed_water_density_kg_per_m3,
    saturated_water_density_kg_per_m3,
    strength_of_mass_fraction,
    tabled_density_kg_per_m3,
    water_density_kg_per_m3,
)
from onedatum.study.desk import Desk
from onedatum.study.pressure import absolute_pressure, gauge_pressure

ATMOSPHERIC_WATER_K = 373.05
"""The highest temperature of water under the pressure of the atmosphere."""


@dataclass(frozen=True)
class Liquid:
    """The medium: the formula of its density, and what that takes beside the temperature."""

    function: Callable[..., Any] | None
    """None where nothing is known but one density, or nothing at all."""
    inputs: Mapping[str, Entry]
    stated: Entry | None = None
    """The one density that is known, whatever the temperature."""
    mass_fraction: Entry | None = None
    strength: Entry | None = None
    """Of a mixture of ethanol and water: by volume, at 20 degC."""
    measured: tuple[Entry, ...] = ()
    """What was measured of it, and whose uncertainty therefore belongs into every budget."""
    measured_for_mass: tuple[Entry, ...] = ()
    """What counts in a mass only: a volume brought to another temperature does not ask how heavy it is."""

    def density(self, desk: Desk, name: str, meaning: str, temperature: Entry) -> Entry:
        """The density at a temperature, as an entry of the sheet."""
        if self.function is not None:
            return desk.worked(name, self.function, {**self.inputs, "temperature_K": temperature}, meaning=meaning)
        if self.stated is not None:
            return self.stated
        kind = desk.case.medium.kind
        return desk.sheet.give(name, None, "kg_per_m3", meaning, path=kind.path, place=kind.place)


def liquid_of(desk: Desk) -> Liquid:
    """The medium of the case."""
    kind = desk.word(desk.case.medium.kind, "the density of the liquid")
    return _KINDS[kind](desk) if kind in _KINDS else Liquid(None, {})


def stand_in_density(desk: Desk, name: str, meaning: str, state: OperatingState, temperature: Entry) -> Entry:
    """The density of what stands in for the medium in one state: water, or one density as stated."""
    kind = state.medium.kind
    if kind.word == WATER:
        return desk.calc(name, water_density_kg_per_m3, meaning=meaning, temperature_K=temperature)
    if kind.word == STATED_DENSITY:
        return desk.take(state.medium.density)
    return desk.sheet.give(name, None, "kg_per_m3", meaning, path=kind.path, place=kind.place)


def _ethanol_water(desk: Desk) -> Liquid:
    measured, fraction, strength = _strengths(desk)
    return Liquid(
        ethanol_water_density_kg_per_m3,
        {"mass_fraction": fraction},
        mass_fraction=fraction,
        strength=strength,
        measured=measured,
    )


def _strengths(desk: Desk) -> tuple[tuple[Entry, ...], Entry, Entry]:
    """What was measured, the strength by mass, the strength by volume: stated in one way, worked in the others."""
    medium, name = desk.case.medium, "medium.mass_fraction"
    if medium.strength_by_mass.known:
        fraction = desk.take(medium.strength_by_mass, "%mass")
        return (fraction,), fraction, _by_volume(desk, fraction)
    if medium.us_proof.known:
        proof = desk.take(medium.us_proof)
        fraction = desk.calc(name, mass_fraction_of_proof, shown="%mass", proof=proof)
        return (proof,), fraction, _by_volume(desk, fraction)
    if medium.density.known and not medium.strength.known:
        density, at = desk.take(medium.density), desk.take(medium.density_at)
        inputs = {"density_kg_per_m3": density, "temperature_K": at}
        fraction = desk.worked(name, ethanol_fraction_of_density, inputs, shown="%mass")
        return (density,), fraction, _by_volume(desk, fraction)
    strength = desk.take(medium.strength, "%vol")
    return (strength,), desk.calc(name, ethanol_mass_fraction, strength=strength), strength


def _by_volume(desk: Desk, fraction: Entry) -> Entry:
    return desk.calc("medium.strength_by_volume", strength_of_mass_fraction, shown="%vol", mass_fraction=fraction)


def _water(desk: Desk) -> Liquid:
    """Water under the atmosphere by its polynomial; under pressure, or hotter, by the steam formulation."""
    hot = (desk.case.medium.temperature.si or 0.0) > ATMOSPHERIC_WATER_K
    if not hot and not desk.case.pressure.operating.si:
        return Liquid(water_density_kg_per_m3, {})
    return Liquid(pressed_water_density_kg_per_m3, {"pressure_Pa_abs": absolute_pressure(desk)})


def _boiling_water(desk: Desk) -> Liquid:
    return Liquid(saturated_water_density_kg_per_m3, {})


def _stated(desk: Desk) -> Liquid:
    """The density as stated, brought to other temperatures where its expansion is known."""
    medium = desk.case.medium
    density = desk.take(medium.density)
    if not medium.expansion.known:
        return Liquid(None, {}, stated=density, measured_for_mass=(density,))
    inputs = {
        "reference_density_kg_per_m3": density,
        "expansion_per_K": desk.take(medium.expansion),
        "reference_temperature_K": desk.take(medium.density_at),
    }
    return Liquid(expanded_density_kg_per_m3, inputs, measured_for_mass=(density,))


def _tabled(desk: Desk) -> Liquid:
    rows, keys = desk.case.medium.density_table, ("temperature", "density")
    table = desk.held(rows, DensityTable, keys, "densities by temperature")
    return Liquid(tabled_density_kg_per_m3, {"table": table})


def _petroleum(desk: Desk) -> Liquid:
    """By the density as observed: it is brought to 60 degF and from there to every other temperature."""
    medium = desk.case.medium
    word = desk.word(medium.group, "how the product expands")
    density = desk.take(medium.density)
    observed = {"density_kg_per_m3": density, "temperature_K": desk.take(medium.density_at)}
    if word == OWN_EXPANSION:
        expansion = {"expansion_per_K": desk.take(medium.expansion)}
        base = desk.worked(_BASE, own_expansion_base_density_kg_per_m3, {**observed, **expansion})
        inputs = {"base_density_kg_per_m3": base, **expansion}
        return Liquid(own_expansion_density_kg_per_m3, inputs, measured=(density,))
    group = desk.sheet.hold(
        medium.group.path,
        petroleum_group(word) if word else None,
        medium.group.title,
        path=medium.group.path,
        place=medium.group.place,
    )
    open_to_air = desk.sheet.give(
        "medium.density_pressure",
        0.0,
        "Pa_gauge",
        "pressure at which the density was observed",
        state="constant",
        note="a density is observed in an open vessel",
        source="common-practice",
    )
    observed |= {"pressure_Pa_gauge": open_to_air, "group": group}
    base = desk.worked(_BASE, petroleum_base_density_kg_per_m3, observed)
    inputs = {"base_density_kg_per_m3": base, "pressure_Pa_gauge": gauge_pressure(desk), "group": group}
    return Liquid(petroleum_density_kg_per_m3, inputs, measured=(density,))


_BASE = "medium.base_density"

_KINDS: Mapping[str, Callable[[Desk], Liquid]] = {
    ETHANOL_WATER: _ethanol_water,
    WATER: _water,
    BOILING_WATER: _boiling_water,
    STATED_DENSITY: _stated,
    TABLED: _tabled,
    PETROLEUM: _petroleum,
}
