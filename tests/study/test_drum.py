"""A steam drum with a bypass chamber: scenario C, and what each statement of the chamber makes of it.

Expected numbers: `tests/reference/scenarios_drum.json`, worked independently with IAPWS-95 against IF97, the pressure
balance solved numerically, and the magnet by quadrature of its pole faces.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.model.instrument import IN_CHAMBER
from onedatum.physics.bypass import chamber_level_m
from onedatum.study.chamber import pressure_rows
from onedatum.study.legs import level_of, pressure_rows_of_legs
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close, printed
from tests.reference import case
from tests.study.variants import EXAMPLES, study_with

DRUM = EXAMPLES / "steam_drum.yaml"
SCENARIO = case("scenarios-C")
NOW = "level_now: {value: 350 mm, within: 1 mm}"
CHAMBER_MEAN = "mean: {value: 150 degC, u: 5 K, basis: assumed, by: case writer, note: to be measured}"

BOILING = "kind: water at its boiling point"
LAYERS = "interface: {lower_density: 998 kg/m3, upper_layer_least: 500 mm, emulsion: none}"
THIN = "viscosity: {value: 0.18 mPa.s, basis: assumed, by: case writer, note: water at 150 degC, source: from memory}"

NUMBERS = {
    "rho_kg_m3": ("medium.density[normal]", 1.0),
    "rho_vapour_kg_m3": ("medium.gas_density[normal]", 1.0),
    "rho_chamber_kg_m3": ("chamber.density[normal]", 1.0),
    "k": ("chamber.factor[normal]", 1.0),
    "chamber_reads_at_350_mm": ("chamber.level[normal]", 1e3),
    "error_at_350_mm": ("chamber.error[normal]", 1e3),
    "mA_uncorrected_at_350": ("chamber.current_uncorrected", 1e3),
    "LRV_corrected_mm": ("chamber.set[4 mA]", 1e3),
    "URV_corrected_mm": ("chamber.set[20 mA]", 1e3),
    "u_from_chamber_temperature_at_350_mm": ("chamber.standard", 1e3),
    "float_immersion_operating_mm": ("float.immersion[normal]", 1e3),
    "float_immersion_cold_mm": ("float.immersion[cold check with water]", 1e3),
    "float_immersion_startup_mm": ("float.immersion[start-up]", 1e3),
    "float_mean_density_kg_m3": ("float.mean_density", 1.0),
    "startup_reads_mm": ("chamber.shown[start-up]", 1e3),
    "startup_reads_with_float_mm": ("chamber.shown_with_float[start-up]", 1e3),
    "rho_leg_kg_m3": ("legs.upper_density[normal]", 1.0),
    "DP_at_0_kPa": ("legs.range[4 mA]", 1e-3),
    "DP_at_350_kPa": ("legs.difference[normal]", 1e-3),
    "DP_at_700_kPa": ("legs.range[20 mA]", 1e-3),
    "DP_reads_at_5bar_mm": ("legs.shown[start-up]", 1e3),
    "field_at_stem_150degC_mT": ("magnet.strength[normal]", 1e3),
    "float_side_clearance_mm": ("chamber.side_clearance", 1e3),
}


def drum(*changes: tuple[str, str]) -> Study:
    """The drum with changes."""
    return study_with(*changes, example=DRUM)


def at_level(mm: int) -> Study:
    """The drum at another level."""
    return drum((NOW, f"level_now: {{value: {mm} mm, within: 1 mm}}"))


def titles(study: Study) -> list[str]:
    """The titles of its findings."""
    return [finding.title for finding in study.findings]


def verdict(study: Study, key: str) -> Verdict:
    """The outcome of a comparison."""
    return next(check.verdict for check in study.checks if check.key == key)


# ---------------------------------------------------------------- scenario C


@pytest.mark.parametrize("result", NUMBERS)
def test_numbers_of_the_scenario(result: str) -> None:
    name, scale = NUMBERS[result]
    value = drum().value(name)
    assert value is not None
    SCENARIO.check(value * scale, result)


@pytest.mark.parametrize("mm", [250, 450])
def test_the_chamber_at_other_levels(mm: int) -> None:
    study = at_level(mm)
    for result, name in (
        (f"chamber_reads_at_{mm}_mm", "chamber.level[normal]"),
        (f"error_at_{mm}_mm", "chamber.error[normal]"),
    ):
        SCENARIO.check((study.value(name) or 0.0) * 1e3, result)


def test_a_hotter_chamber_stands_higher() -> None:
    study = drum(("value: 150 degC, u: 5 K", "value: 200 degC, u: 5 K"))
    SCENARIO.check((study.value("chamber.error[normal]") or 0.0) * 1e3, "error_at_350_chamber_200degC_mm")


def test_the_field_of_a_cold_magnet() -> None:
    study = drum(("value: 150 degC, u: 5 K", "value: 20 degC, u: 5 K"))
    SCENARIO.check((study.value("magnet.strength[normal]") or 0.0) * 1e3, "field_at_stem_20degC_mT")


def test_the_findings_of_the_scenario() -> None:
    found = {finding.key: finding for finding in drum().findings}
    stands = found["chamber-stands-otherwise"]
    values = [link.value for link in stands.chain]
    assert "10.723 mA" in values
    assert "12.000 mA" in values
    assert found["boiler-gauge"].safety
    assert found["chamber-other-state[start-up]"].effect is Effect.WARNING
    assert all(finding.effect is not Effect.BLOCKS for finding in found.values())


def test_level_alone_asks_for_no_vessel() -> None:
    study = drum()
    assert study.order == "not blocked"
    assert study.questions == ()
    assert study.quantity is None
    assert study.vessel is None
    assert study.safe.overfill is None
    assert IN_CHAMBER in study.statement.case.instrument.principle.word


# ---------------------------------------------------------------- pressures from start-up on


def test_from_start_up_to_the_set_pressure() -> None:
    """Fixed points: nothing at the set pressure; the start-up of the scenario for the legs, 397.1 mm at 5 bar."""
    study = drum()
    chamber, legs = study.measuring.chamber, study.measuring.legs
    assert chamber is not None
    assert legs is not None
    by_chamber, by_legs = pressure_rows(study.sheet, chamber), pressure_rows_of_legs(study.sheet, legs)
    for rows in (by_chamber, by_legs):
        errors = [row.error_m for row in rows]
        assert errors == sorted(errors, reverse=True)
        assert rows[-1].pressure_Pa_abs == 41e5
        assert rows[-1].error_m == 0.0
    at_5_bar = next(row for row in by_legs if row.pressure_Pa_abs == 5e5)
    SCENARIO.check(at_5_bar.shown_m * 1e3, "DP_reads_at_5bar_mm")
    assert min(row.pressure_Pa_abs for row in by_chamber) == 5e5, "at 2 bar a chamber of 150 degC boils"


def test_the_level_from_the_difference_of_pressures() -> None:
    legs = drum().measuring.legs
    assert legs is not None
    level = level_of(legs, legs.now.value or 0.0)
    assert level is not None
    close(level, 0.350, 1e-12, "there and back")


# ---------------------------------------------------------------- how warm the chamber is


def test_ends_in_place_of_the_mean() -> None:
    """C07: 100 bar, 120 to 290 degC, 450 mm stand at 354.95 mm."""
    given_ = case("floats-C07")
    study = drum(
        ("    pressure: 41 bar(a)", "    pressure: 100 bar(a)"),
        (CHAMBER_MEAN, "bottom: 120 degC\n      surface: 290 degC"),
        (NOW, "level_now: {value: 450 mm, within: 1 mm}"),
        ("pressure_rating: 63 bar(g)", "pressure_rating: 160 bar(g)"),
    )
    given_.check((study.value("chamber.level[normal]") or 0.0) * 1e3)


def test_thermometers_in_place_of_the_mean() -> None:
    """Two thermometers at the same temperature are the mean; the finer the listing, the same level."""
    rows = "along: [{height: 0 mm, temperature: 150 degC}, {height: 700 mm, temperature: 150 degC}]"
    even = drum((CHAMBER_MEAN, rows))
    close(even.value("chamber.level[normal]"), drum().value("chamber.level[normal]"), 1e-9, "the same column")
    sloping = "along: [{height: 0 mm, temperature: 120 degC}, {height: 350 mm, temperature: 180 degC}]"
    levels = [
        drum((CHAMBER_MEAN, said)).value("chamber.level[normal]")
        for said in ("mean: 120 degC", sloping, "mean: 180 degC")
    ]
    assert None not in levels
    assert levels == sorted(levels)  # type: ignore[type-var]


def test_a_lower_line_that_rises_moves_the_chamber() -> None:
    line = "connections: two, at the taps\n  lower_line_rise: 100 mm\n  lower_line_temperature: 60 degC"
    study = drum(("connections: two, at the taps", line))
    level, plain = study.value("chamber.level[normal]"), drum().value("chamber.level[normal]")
    shift, factor = study.value("chamber.line_shift[normal]"), study.value("chamber.factor[normal]")
    assert None not in (level, plain, shift, factor)
    close(level, chamber_level_m(0.350, factor or 1.0, shift or 0.0), 1e-12, "the formula")
    assert (level or 0.0) < (plain or 0.0), "the line is colder than the chamber"


@settings(max_examples=15, deadline=None)
@given(st.integers(20, 251))
def test_never_above_the_vessel_while_it_is_the_cooler(degC: int) -> None:
    study = drum(("value: 150 degC, u: 5 K", f"value: {degC} degC, u: 5 K"))
    assert (study.value("chamber.error[normal]") or 0.0) < 0.0
    assert study.faults == ()


# ---------------------------------------------------------------- traps


def test_two_liquids_on_two_taps_block() -> None:
    """0.4 m of water under 0.5 m of oil: the chamber with water alone shows 801 mm (worked by hand)."""
    study = study_with(
        (BOILING, "kind: liquid of stated density\n  density: 800 kg/m3\n  temperature: 20 degC"),
        ("pressure:\n  kind", f"{LAYERS}\n\npressure:\n  kind"),
        (NOW, "level_now: {value: 900 mm, within: 1 mm}"),
        ("  particles: free of particles", "  particles: free of particles\n  gas_above: {density: 0 kg/m3}"),
        ("taps_apart: 700 mm\n  inside", "taps_apart: 1000 mm\n  inside"),
        example=DRUM,
    )  # fmt: skip
    assert (study.value("chamber.one_liquid_level") or 0.0) * 1e3 == printed("801")
    assert any(finding.key == "chamber-layers" and finding.effect is Effect.BLOCKS for finding in study.findings)
    in_each = [("connections: two, at the taps", "connections: one in each layer")]
    assert "chamber-layers" not in {finding.key for finding in drum(*in_each).findings}


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (
            ("insulation: around chamber and stem together", "insulation: between chamber and stem"),
            "chamber-insulation",
        ),
        (("vent: yes", "vent: no"), "chamber-vent"),
        (("drain: yes", "drain: no"), "chamber-drain"),
    ],
)
def test_traps_are_told(change: tuple[str, str], key: str) -> None:
    assert key in {finding.key for finding in drum(change).findings}
    assert key not in {finding.key for finding in drum().findings}


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("outside_diameter: 48 mm", "outside_diameter: 56 mm"), "chamber-float"),
        (("below_lower_tap: 250 mm", "below_lower_tap: 200 mm"), "chamber-room-below"),
        (("above_upper_tap: 150 mm", "above_upper_tap: 90 mm"), "chamber-room-above"),
        (("tip_above_datum: -180 mm", "tip_above_datum: -60 mm"), "chamber-stem-low"),
        (("length: 950 mm", "length: 800 mm"), "chamber-stem-high"),
        (("pressure_rating: 63 bar(g)", "pressure_rating: 40 bar(g)"), "chamber-pressure[pressure test]"),
        (("rating_temperature: 300 degC", "rating_temperature: 200 degC"), "chamber-hot[normal]"),
        (("stem_distance: 45 mm", "stem_distance: 80 mm"), "magnet-field[normal]"),
        (("relative_permeability: 1.02", "relative_permeability: 200"), "magnet-field[normal]"),
    ],
)
def test_what_does_not_fit_blocks(change: tuple[str, str], key: str) -> None:
    assert verdict(drum(), key) is Verdict.SUITS
    study = drum(change)
    assert verdict(study, key) is Verdict.DOES_NOT_SUIT
    assert study.order == "blocked"


def test_a_float_that_floats_cold_is_looked_at_hot() -> None:
    """It stands at 0.850 in water as hot as the drum: just above the usual 0.85."""
    study = drum()
    assert (study.value("float.density_ratio") or 0.0) == printed("0.8504")
    assert "The float has little reserve before it sinks" in titles(study)


def test_the_lag_of_a_viscous_liquid_is_that_of_a_pipe() -> None:
    """C13: 0.5 Pa.s of 900 kg/m3 through 0.6 m of 25 mm into 54.8 mm: 8.36 s."""
    given_ = case("floats-C13")
    study = drum(
        (BOILING, "kind: liquid of stated density\n  density: 900 kg/m3\n  temperature: 20 degC"),
        (THIN, "viscosity: 0.5 Pa.s\n  gas_above: {density: 1.2 kg/m3}"),
    )  # fmt: skip
    given_.check(study.value("chamber.lag_time"))
    assert verdict(study, "chamber-lag") is Verdict.DOES_NOT_SUIT, "5 mm/s times 8.4 s is 42 mm"


# ---------------------------------------------------------------- what is not known


def test_an_unknown_temperature_is_asked_for() -> None:
    study = drum((CHAMBER_MEAN, "mean: unknown"))
    assert "states.0.chamber_temperature.mean" in {q.path for q in study.questions} or any(
        "mean temperature of the column" in q.title for q in study.questions
    )
    assert study.value("medium.density[normal]") is not None
    assert study.value("legs.range[4 mA]") is not None


def test_what_is_ours_becomes_a_requirement() -> None:
    study = drum(("stem_distance: 45 mm", "stem_distance: unknown"))
    assert "chamber.stem_distance" in {requirement.path for requirement in study.requirements}
    assert study.order == "not blocked"
