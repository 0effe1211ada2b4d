"""Cylindrical floats against the balance of forces and cases worked by numerical volume."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.floats import (
    cylinder_immersion_m,
    cylinder_section_m2,
    cylinder_volume_m3,
    freeboard_m,
    mean_density_kg_per_m3,
    waterline_above_magnet_m,
)
from tests.closeness import close, exact
from tests.reference import Case, case

MM = 1e-3


def immersion_m(stated: Case, liquid: str, gas_kg_per_m3: float) -> float:
    """The immersion of the float of a case."""
    section = cylinder_section_m2(stated.value("D"), stated.value("d_hole"))
    return float(
        cylinder_immersion_m(stated.value("m"), section, stated.value("H"), stated.value(liquid), gas_kg_per_m3)
    )


def test_immersion_under_dense_gas() -> None:
    stated = case("floats-H06")
    stated.check(immersion_m(stated, "rho_l", stated.value("rho_g")) / MM)


def test_change_of_immersion_with_density() -> None:
    stated = case("floats-H07")
    section = cylinder_section_m2(stated.value("D"), stated.value("d_hole"))
    up, down = (
        cylinder_immersion_m(stated.value("m"), section, stated.value("H"), stated.value("rho_l") + step, 0.0)
        for step in (0.5, -0.5)
    )
    stated.check((up - down) / MM)


def test_interface_float_is_a_float_under_a_heavy_gas() -> None:
    stated = case("floats-H09")
    stated.check(immersion_m(stated, "rho_lower", stated.value("rho_upper")) / MM)


def test_float_of_the_spirit_receiver() -> None:
    stated = case("floats-A01")
    volume = cylinder_volume_m3(cylinder_section_m2(stated.value("D"), stated.value("d_hole")), stated.value("H"))
    stated.check(mean_density_kg_per_m3(stated.value("m"), volume), "mean_density")
    for liquid in ("water", "spirit"):
        stated.check(immersion_m(stated, f"rho_{liquid}", stated.value("rho_g")) / MM, liquid)


@pytest.mark.parametrize("gas_kg_per_m3", [0.0, 1.2, 20.6, 300.0])
def test_weight_is_borne_by_liquid_and_gas(gas_kg_per_m3: float) -> None:
    """Archimedes' principle, slice by slice over the height of the float."""
    mass_kg, section_m2, height_m = 0.072, 0.0019637, 0.060
    immersion = cylinder_immersion_m(mass_kg, section_m2, height_m, 895.39, gas_kg_per_m3)
    edges = np.linspace(0.0, height_m, 6001)
    wet = np.clip((immersion - edges[:-1]) / np.diff(edges), 0.0, 1.0)
    borne_kg = np.sum(section_m2 * np.diff(edges) * (wet * 895.39 + (1 - wet) * gas_kg_per_m3))
    close(borne_kg, mass_kg, 1e-12, "rounding of 6000 slices")


def test_bore_of_the_float_is_a_smaller_float_taken_away() -> None:
    whole, bore = cylinder_section_m2(0.0525, 0.0), cylinder_section_m2(0.016, 0.0)
    close(cylinder_section_m2(0.0525, 0.016), whole - bore, 1e-17, "rounding of one subtraction")


def test_float_as_dense_as_the_liquid_is_just_covered() -> None:
    """Limit: at the mean density of the float the immersion is its height and no freeboard is left."""
    section = cylinder_section_m2(0.0525, 0.016)
    density = mean_density_kg_per_m3(0.072, cylinder_volume_m3(section, 0.060))
    immersion = cylinder_immersion_m(0.072, section, 0.060, density, 1.2)
    close(immersion, 0.060, 1e-15, "rounding")
    exact(freeboard_m(0.060, 0.060), 0.0)


@pytest.mark.parametrize(
    ("liquid", "gas", "why"),
    [(600.0, 1.2, "sinks"), (300.0, 400.0, "denser liquid"), (900.0, 650.0, "does not rest on the liquid")],
)
def test_float_that_cannot_float_is_refused(liquid: float, gas: float, why: str) -> None:
    given = {
        "mass_kg": 0.072,
        "section_m2": cylinder_section_m2(0.0525, 0.016),
        "height_m": 0.060,
        "liquid_density_kg_per_m3": liquid,
        "gas_density_kg_per_m3": gas,
    }
    with pytest.raises(ValidityError, match=why):
        apply(cylinder_immersion_m, given)


def test_a_float_too_heavy_names_the_mass_it_may_have() -> None:
    """600 kg/m3 times the ring of 52.5 over 16 mm, 60 mm high: 70.69 g."""
    with pytest.raises(ValidityError, match=r"mass_kg must be below 0\.0706929 kg; got 0\.072 kg"):
        apply(
            cylinder_immersion_m,
            {
                "mass_kg": 0.072,
                "section_m2": cylinder_section_m2(0.0525, 0.016),
                "height_m": 0.060,
                "liquid_density_kg_per_m3": 600.0,
                "gas_density_kg_per_m3": 1.2,
            },
        )


def test_waterline_lies_below_the_plane_of_a_magnet_at_the_top() -> None:
    close(waterline_above_magnet_m(0.0409, 0.0300), 0.0109, 1e-15, "rounding of one subtraction")
    close(waterline_above_magnet_m(0.0409, 0.0550), -0.0141, 1e-15, "rounding of one subtraction")
