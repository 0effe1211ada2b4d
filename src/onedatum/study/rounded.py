"""The petroleum tables as the standard enters them: temperature, density and pressure rounded before the factor is."""

from __future__ import annotations

from onedatum.case.model.statement import AT_60_DEGF
from onedatum.foundation.working import Entry
from onedatum.physics.media import (
    own_expansion_base_density_kg_per_m3,
    petroleum_base_density_kg_per_m3,
    rounded_density_kg_per_m3,
    rounded_pressure_kPa_Pa_gauge,
    rounded_pressure_psi_Pa_gauge,
    rounded_temperature_degC_K,
    rounded_temperature_degF_K,
)
from onedatum.study.desk import Desk
from onedatum.study.liquid import Liquid
from onedatum.study.reference import At, temperature_at


def entered(desk: Desk, name: str, liquid: Liquid, temperature: Entry, reference: At) -> tuple[Entry, At]:
    """The density at a temperature and the one at the reference, both from what the tables are entered with."""
    customary = reference.text == AT_60_DEGF
    at_reference = desk.calc(
        f"{name}.reference_density",
        rounded_density_kg_per_m3,
        meaning=f"density at {reference.text}, rounded",
        density_kg_per_m3=reference.density,
    )
    rounded = desk.calc(
        f"{name}.temperature",
        rounded_temperature_degF_K if customary else rounded_temperature_degC_K,
        meaning="temperature of the liquid, rounded",
        temperature_K=temperature,
    )
    inputs = {**liquid.inputs, "base_density_kg_per_m3": _base(desk, name, liquid, at_reference, reference)}
    if "pressure_Pa_gauge" in inputs:
        inputs["pressure_Pa_gauge"] = desk.calc(
            f"{name}.pressure",
            rounded_pressure_psi_Pa_gauge if customary else rounded_pressure_kPa_Pa_gauge,
            meaning="operating pressure, rounded",
            pressure_Pa_gauge=inputs["pressure_Pa_gauge"],
        )
    density = Liquid(liquid.function, inputs).density(
        desk, f"{name}.density", "density of the liquid, by the tables as entered", rounded
    )
    return density, At(reference.text, at_reference)


def _base(desk: Desk, name: str, liquid: Liquid, density: Entry, reference: At) -> Entry:
    """The density at 60 degF that belongs to the rounded one at the reference temperature."""
    given = {"density_kg_per_m3": density, "temperature_K": temperature_at(desk, reference.text)}
    full, meaning = f"{name}.base_density", "density at 60 degF, of the rounded one"
    if "expansion_per_K" in liquid.inputs:
        given["expansion_per_K"] = liquid.inputs["expansion_per_K"]
        return desk.worked(full, own_expansion_base_density_kg_per_m3, given, meaning=meaning)
    given |= {"pressure_Pa_gauge": desk.sheet["medium.density_pressure"], "group": liquid.inputs["group"]}
    return desk.worked(full, petroleum_base_density_kg_per_m3, given, meaning=meaning)
