"""Lengths and limits of a stem against the book-keeping of heights in the vessel."""

from __future__ import annotations

import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.floats import cylinder_immersion_m, cylinder_section_m2, waterline_above_magnet_m
from onedatum.physics.magnetostrictive import (
    flange_face_height_m,
    highest_level_by_dead_zone_m,
    highest_level_by_float_m,
    highest_level_m,
    lowest_level_m,
    reads_low_by_m,
    stem_length_m,
)
from tests.closeness import close, exact
from tests.reference import case

MM = 1e-3
ROUNDING = "rounding of a few additions"

# An invented vessel: heights above its lowest inside point.
CROWN_M, NOZZLE_M, TIP_M = 3.020, 0.150, 0.020
DEAD_LOW_M, DEAD_HIGH_M, FLOAT_M, MAGNET_M, IMMERSION_M = 0.060, 0.110, 0.060, 0.030, 0.0409


def test_stem_from_flange_face_to_tip() -> None:
    stated = case("floats-L04")
    face = flange_face_height_m(stated.value("H_tank") * MM, stated.value("H_nozzle") * MM)
    stated.check(stem_length_m(face, stated.value("clearance") * MM) / MM)


def test_lowest_level_over_the_lower_dead_zone() -> None:
    stated = case("floats-L05")
    tip = (stated.value("H_face") - stated.value("L_stem")) * MM
    stated.check(lowest_level_m(tip, stated.value("DZ_low") * MM, stated.value("z_w") * MM) / MM)


def test_at_the_lowest_level_the_magnet_stands_at_the_end_of_the_dead_zone() -> None:
    level = lowest_level_m(TIP_M, DEAD_LOW_M, waterline_above_magnet_m(IMMERSION_M, MAGNET_M))
    bottom_of_float = level - IMMERSION_M
    close(bottom_of_float + MAGNET_M - TIP_M, DEAD_LOW_M, 1e-15, ROUNDING)


def test_at_the_highest_level_by_dead_zone_the_magnet_stands_below_the_face_by_it() -> None:
    face = flange_face_height_m(CROWN_M, NOZZLE_M)
    level = highest_level_by_dead_zone_m(face, DEAD_HIGH_M, waterline_above_magnet_m(IMMERSION_M, MAGNET_M))
    bottom_of_float = level - IMMERSION_M
    close(face - (bottom_of_float + MAGNET_M), DEAD_HIGH_M, 1e-14, ROUNDING)


@pytest.mark.parametrize("margin_m", [0.0, 0.005, 0.050])
def test_at_the_highest_level_by_float_its_top_keeps_the_margin(margin_m: float) -> None:
    level = highest_level_by_float_m(CROWN_M, FLOAT_M, IMMERSION_M, margin_m)
    top_of_float = level - IMMERSION_M + FLOAT_M
    close(CROWN_M - margin_m, top_of_float, 1e-14, ROUNDING)


def test_the_nearer_limit_governs() -> None:
    exact(highest_level_m(3.071, 3.001), 3.001)
    exact(highest_level_m(2.950, 3.001), 2.950)


def test_stem_spans_dead_zones_and_range() -> None:
    """Travel of the magnet plane plus both dead zones is the whole stem."""
    face = flange_face_height_m(CROWN_M, NOZZLE_M)
    waterline = waterline_above_magnet_m(IMMERSION_M, MAGNET_M)
    low = lowest_level_m(TIP_M, DEAD_LOW_M, waterline)
    high = highest_level_by_dead_zone_m(face, DEAD_HIGH_M, waterline)
    close(high - low + DEAD_LOW_M + DEAD_HIGH_M, stem_length_m(face, TIP_M), 1e-14, ROUNDING)


def test_instrument_set_on_water_reads_low_on_spirit() -> None:
    stated = case("floats-A01")
    section = cylinder_section_m2(stated.value("D"), stated.value("d_hole"))
    spirit, water = (
        cylinder_immersion_m(
            stated.value("m"), section, stated.value("H"), stated.value(f"rho_{liquid}"), stated.value("rho_g")
        )
        for liquid in ("spirit", "water")
    )
    stated.check(reads_low_by_m(spirit, water) / MM, "reads_low")


def test_the_error_of_setting_is_true_level_less_reading() -> None:
    """The instrument adds the waterline it was set with to the magnet plane; the liquid stands at its own."""
    level, magnet = 1.850, 1.850 - waterline_above_magnet_m(0.0409, MAGNET_M)
    reading = magnet + waterline_above_magnet_m(0.0367, MAGNET_M)
    close(reads_low_by_m(0.0409, 0.0367), level - reading, 1e-14, ROUNDING)


def test_tip_above_the_face_is_refused() -> None:
    with pytest.raises(ValidityError, match="tip_height_m must be below"):
        apply(stem_length_m, {"flange_face_height_m": 2.0, "tip_height_m": 2.5})
