"""What the worked caustic tank has beside its probe: mass, films elsewhere, a gauge of pressure, the wall.

Every expected number of the scenario has its test: those that the shipped example gives, by its study; the others by
the physics, with the inputs as printed.
"""

from __future__ import annotations

import pytest

from onedatum.physics.pressure import level_of_head_m, one_side_head_Pa
from onedatum.physics.quantity import shell_factor
from tests.closeness import close
from tests.reference import case
from tests.study.test_probe import CONDUCTIVITY, NAMES, PERMITTIVITY, number, probe

SCENARIO = case("scenarios-B")
AT_1000 = ("level_now: {value: 1600 mm", "level_now: {value: 1000 mm")
AT_1_MHZ = ("frequency: 100 kHz", "frequency: 1 MHz")

MORE: dict[str, tuple[tuple[tuple[str, str], ...], str, float]] = {
    "area_m2": ((), "overfill.surface", 1.0),
    "mass_t": ((), "quantity.mass", 1e-3),
    "film_error_at_1000_mm": ((AT_1000,), "probe.film_extra[now]", 1e3),
    "film_error_at_1000_after_phase_compensation_mm": ((AT_1000,), "probe.film_left[now]", 1e3),
    "Leq_100kHz_mm": ((), "probe.film_depth", 0.5e3),
    "Leq_1MHz_mm": ((AT_1_MHZ,), "probe.film_depth", 0.5e3),
    "regime_G_over_wC": (((PERMITTIVITY, "37.5"),), "probe.loss_tangent", 1.0),
}
"""By the study: changes of the example, the entry, and its factor; a long film counts as half its depth."""
BY_PHYSICS = ("NaOH_t", "head_kPa", "set_on_water_reads_m", "wall_growth_20K_mm")


@pytest.mark.parametrize("result", MORE)
def test_what_the_example_gives(result: str) -> None:
    changes, name, factor = MORE[result]
    SCENARIO.check(number(probe(*changes), name) * factor, result)


def test_mass_of_the_dry_caustic() -> None:
    SCENARIO.check(number(probe(), "quantity.mass") * SCENARIO.value("strength_mass") / 1e3, "NaOH_t")


def test_a_gauge_of_pressure_at_the_floor() -> None:
    """What it feels, and what it reads once it was set on water."""
    caustic, water, g = (SCENARIO.value(key) for key in ("density_kg_per_m3", "water_kg_per_m3", "g_m_per_s2"))
    head = one_side_head_Pa(SCENARIO.value("level_m"), 0.0, caustic, caustic, g)
    SCENARIO.check(head / 1e3, "head_kPa")
    SCENARIO.check(level_of_head_m(head, 0.0, water, water, g), "set_on_water_reads_m")


def test_the_example_as_a_gauge_of_pressure_feels_the_same() -> None:
    """The same tank and liquid by another principle: the head by the study of the example itself."""
    legs = 'legs: {kind: "one tap, against the atmosphere", lower_tap: 0 mm, transmitter: lower tap, unit: kPa}'
    found = probe(
        ("principle: capacitive probe", "principle: hydrostatic pressure"), ("range:\n", f"{legs}\n\nrange:\n")
    )
    SCENARIO.check(number(found, "legs.difference[normal]") / 1e3, "head_kPa")


def test_the_wall_grows_with_the_liquid() -> None:
    """The shell's area factor (1 + alpha dT)^2 back to a length: why the datum is the floor, not the lid."""
    warmer = shell_factor(293.15 + SCENARIO.value("warmer_K"), 293.15, SCENARIO.value("wall_expansion_per_K"))
    SCENARIO.check((warmer**0.5 - 1.0) * SCENARIO.value("wall_height_m") * 1e3, "wall_growth_20K_mm")


def test_no_expected_number_is_without_its_test() -> None:
    assert set(SCENARIO.expected) == {*NAMES, *MORE, *BY_PHYSICS}


def test_conductivity_does_not_move_the_level() -> None:
    """In the conductive regime a tenth of it changes the capacitance by less than a thousandth."""
    tenth = probe((CONDUCTIVITY, "2 S/m"))
    close(number(tenth, "probe.wet") * 1e12, SCENARIO.expected["Cs_pF_m"], 0.35, "a thousandth")
