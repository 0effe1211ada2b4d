"""A steam drum with a bypass chamber: scenario C, and what each statement of the chamber makes of it.

Expected numbers: `tests/reference/scenarios_drum.json`, worked independently with IAPWS-95 against IF97, the pressure
balance solved numerically, and the magnet by quadrature of its pole faces.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.model.instrument import IN_CHAMBER
from onedatum.case.reading import read_case_text
from onedatum.physics.bypass import chamber_level_m
from onedatum.study.chamber import pressure_rows
from onedatum.study.legs import level_of, pressure_rows_of_legs
from onedatum.study.result import Study
from onedatum.study.study import study
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


def titles(found: Study) -> list[str]:
    """The titles of its findings."""
    return [finding.title for finding in found.findings]


def verdict(found: Study, key: str) -> Verdict:
    """The outcome of a comparison."""
    return next(check.verdict for check in found.checks if check.key == key)


# ---------------------------------------------------------------- scenario C


@pytest.mark.parametrize("result", NUMBERS)
def test_numbers_of_the_scenario(result: str) -> None:
    name, scale = NUMBERS[result]
    value = drum().value(name)
    assert value is not None
    SCENARIO.check(value * scale, result)


@pytest.mark.parametrize("mm", [250, 450])
def test_the_chamber_at_other_levels(mm: int) -> None:
    found = at_level(mm)
    for result, name in (
        (f"chamber_reads_at_{mm}_mm", "chamber.level[normal]"),
        (f"error_at_{mm}_mm", "chamber.error[normal]"),
    ):
        SCENARIO.check((found.value(name) or 0.0) * 1e3, result)


def test_a_hotter_chamber_stands_higher() -> None:
    found = drum(("value: 150 degC, u: 5 K", "value: 200 degC, u: 5 K"))
    SCENARIO.check((found.value("chamber.error[normal]") or 0.0) * 1e3, "error_at_350_chamber_200degC_mm")


def test_the_field_of_a_cold_magnet() -> None:
    found = drum(("value: 150 degC, u: 5 K", "value: 20 degC, u: 5 K"))
    SCENARIO.check((found.value("magnet.strength[normal]") or 0.0) * 1e3, "field_at_stem_20degC_mT")


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
    found = drum()
    assert found.order == "not blocked"
    assert found.questions == ()
    assert found.quantity is None
    assert found.vessel is None
    assert found.safe.overfill is None
    assert IN_CHAMBER in found.statement.case.instrument.principle.word


# ---------------------------------------------------------------- pressures from start-up on


def test_from_start_up_to_the_set_pressure() -> None:
    """Fixed points: nothing at the set pressure; the start-up of the scenario for the legs, 397.1 mm at 5 bar."""
    found = drum()
    chamber, legs = found.measuring.chamber, found.measuring.legs
    assert chamber is not None
    assert legs is not None
    by_chamber, by_legs = pressure_rows(found.sheet, chamber), pressure_rows_of_legs(found.sheet, legs)
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
    found = drum(
        ("    pressure: 41 bar(a)", "    pressure: 100 bar(a)"),
        (CHAMBER_MEAN, "bottom: 120 degC\n      surface: 290 degC"),
        (NOW, "level_now: {value: 450 mm, within: 1 mm}"),
        ("pressure_rating: 63 bar(g)", "pressure_rating: 160 bar(g)"),
    )
    given_.check((found.value("chamber.level[normal]") or 0.0) * 1e3)


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
    found = drum(("connections: two, at the taps", line))
    level, plain = found.value("chamber.level[normal]"), drum().value("chamber.level[normal]")
    shift, factor = found.value("chamber.line_shift[normal]"), found.value("chamber.factor[normal]")
    assert None not in (level, plain, shift, factor)
    close(level, chamber_level_m(0.350, factor or 1.0, shift or 0.0), 1e-12, "the formula")
    assert (level or 0.0) < (plain or 0.0), "the line is colder than the chamber"


@settings(max_examples=15, deadline=None)
@given(st.integers(20, 251))
def test_never_above_the_vessel_while_it_is_the_cooler(degC: int) -> None:
    found = drum(("value: 150 degC, u: 5 K", f"value: {degC} degC, u: 5 K"))
    assert (found.value("chamber.error[normal]") or 0.0) < 0.0
    assert found.faults == ()


# ---------------------------------------------------------------- traps


def test_two_liquids_on_two_taps_block() -> None:
    """0.4 m of water under 0.5 m of oil: the chamber with water alone shows 801 mm (worked by hand)."""
    found = study_with(
        (BOILING, "kind: liquid of stated density\n  density: 800 kg/m3\n  temperature: 20 degC"),
        ("pressure:\n  kind", f"{LAYERS}\n\npressure:\n  kind"),
        (NOW, "level_now: {value: 900 mm, within: 1 mm}"),
        ("  particles: free of particles", "  particles: free of particles\n  gas_above: {density: 0 kg/m3}"),
        ("taps_apart: 700 mm\n  inside", "taps_apart: 1000 mm\n  inside"),
        example=DRUM,
    )  # fmt: skip
    assert (found.value("chamber.one_liquid_level") or 0.0) * 1e3 == printed("801")
    assert any(finding.key == "chamber-layers" and finding.effect is Effect.BLOCKS for finding in found.findings)
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
    found = drum(change)
    assert verdict(found, key) is Verdict.DOES_NOT_SUIT
    assert found.order == "blocked"


def test_a_float_that_floats_cold_is_looked_at_hot() -> None:
    """It stands at 0.850 in water as hot as the drum: just above the usual 0.85."""
    found = drum()
    assert (found.value("float.density_ratio") or 0.0) == printed("0.8504")
    assert "The float has little reserve before it sinks" in titles(found)


def test_the_lag_of_a_viscous_liquid_is_that_of_a_pipe() -> None:
    """C13: 0.5 Pa.s of 900 kg/m3 through 0.6 m of 25 mm into 54.8 mm: 8.36 s."""
    given_ = case("floats-C13")
    found = drum(
        (BOILING, "kind: liquid of stated density\n  density: 900 kg/m3\n  temperature: 20 degC"),
        (THIN, "viscosity: 0.5 Pa.s\n  gas_above: {density: 1.2 kg/m3}"),
    )  # fmt: skip
    given_.check(found.value("chamber.lag_time"))
    assert verdict(found, "chamber-lag") is Verdict.DOES_NOT_SUIT, "5 mm/s times 8.4 s is 42 mm"


# ---------------------------------------------------------------- what is not known


def test_an_unknown_temperature_is_asked_for() -> None:
    found = drum((CHAMBER_MEAN, "mean: unknown"))
    assert "states.0.chamber_temperature.mean" in {q.path for q in found.questions} or any(
        "mean temperature of the column" in q.title for q in found.questions
    )
    assert found.value("medium.density[normal]") is not None
    assert found.value("legs.range[4 mA]") is not None


def test_what_is_ours_becomes_a_requirement() -> None:
    found = drum(("stem_distance: 45 mm", "stem_distance: unknown"))
    assert "chamber.stem_distance" in {requirement.path for requirement in found.requirements}
    assert found.order == "not blocked"


# ---------------------------------------------------------------- what a reviewer found once


def shifted(text: str, mm: int) -> str:
    """The drum with every height over another datum, so much lower."""
    for old, key in (("lower_tap: 0 mm", "lower_tap: {} mm"), ("tip_above_datum: -180 mm", "tip_above_datum: {} mm"),
                     ("4 mA: 50 mm", "4 mA: {} mm"), ("20 mA: 650 mm", "20 mA: {} mm"),
                     ("value: 350 mm", "value: {} mm"),
                     ("lower: 0 mm", "lower: {} mm"), ("upper: 700 mm", "upper: {} mm")):  # fmt: skip
        height = int(old.rsplit(" ", 2)[-2])
        assert old in text
        text = text.replace(old, key.format(height + mm))
    return text.replace("  datum: lower tap", "  datum: unknown")


def test_another_datum_moves_no_distance() -> None:
    """All heights 2 m up: levels over the tap, errors, pressures and lengths stay, heights over the datum move."""
    text = DRUM.read_text(encoding="utf-8")
    moved = study(read_case_text(shifted(text, 2000), DRUM.name, EXAMPLES))
    plain = drum()
    for name in (
        "chamber.level[normal]", "chamber.set[4 mA]", "chamber.set[20 mA]", "chamber.shown_with_float[start-up]",
        "chamber.shown_error[start-up]", "stem.length_needed", "chamber.standard", "legs.range[4 mA]",
        "legs.difference[normal]",
        "chamber.room_below", "float.immersion[normal]",
    ):  # fmt: skip
        close(moved.value(name), plain.value(name), 1e-9 * abs(plain.value(name) or 1.0), "a difference of heights")
    for name in ("stem.tip_needed", "stem.top_needed", "level.measurable_low", "level.measurable_high"):
        close(moved.value(name), (plain.value(name) or 0.0) + 2.0, 1e-9, "a height over the datum")
    assert {c.key: c.verdict for c in moved.checks} == {c.key: c.verdict for c in plain.checks}
    chambers = [found.measuring.chamber for found in (moved, plain)]
    tables = [
        pressure_rows(found.sheet, chamber) for found, chamber in zip((moved, plain), chambers, strict=True) if chamber
    ]
    for one, other in zip(*tables, strict=True):
        close(1.0 + one.error_m, 1.0 + other.error_m, 1e-9, "the same table")


def test_a_chamber_that_is_the_warmer_spills_at_its_upper_tap() -> None:
    """Liquid at -40 degC beside a chamber at 15 degC: it stands 11 % higher, and no higher than the upper tap."""
    cold = (
        "kind: liquid of stated density\n  density: 580 kg/m3\n  density_at: 15 degC\n  expansion: 1.8e-3 1/K\n"
        "  temperature: -40 degC\n  gas_above: {density: 2 kg/m3}"
    )
    found = drum(
        (BOILING, cold), ("value: 150 degC, u: 5 K", "value: 15 degC, u: 5 K"),
        ("chamber_temperature: {mean: 90 degC}", "chamber_temperature: {mean: 15 degC}"),
        ("below_lower_tap: 250 mm", "below_lower_tap: 600 mm"), ("above_upper_tap: 150 mm", "above_upper_tap: 600 mm"),
        ("mass: 320 g", "mass: 200 g"),
    )  # fmt: skip
    factor = found.value("chamber.factor[normal]") or 0.0
    assert factor > 1.05
    close(found.value("level.measurable_high"), 0.7 / factor, 1e-9, "the upper tap in the chamber")
    assert verdict(found, "range-high") is Verdict.DOES_NOT_SUIT


def test_a_chamber_cannot_drain_below_its_rising_line() -> None:
    line = "connections: two, at the taps\n  lower_line_rise: 100 mm\n  lower_line_temperature: 60 degC"
    found = drum(("connections: two, at the taps", line))
    shift, factor = found.value("chamber.line_shift[normal]") or 0.0, found.value("chamber.factor[normal]") or 1.0
    close(found.value("level.measurable_low[normal]"), (0.1 - shift) / factor, 1e-9, "100 mm in the chamber")
    assert verdict(found, "range-low") is Verdict.DOES_NOT_SUIT


def test_more_viscous_never_lags_less_where_the_flow_turns() -> None:
    lags = []
    for viscosity in ("5.8 mPa.s", "5.5 mPa.s"):
        found = drum(
            (THIN, f"viscosity: {viscosity}"), ("connection_bore: 25 mm", "connection_bore: 12 mm"),
            ("level_rate: 5 mm/s", "level_rate: 50 mm/s"),
            ("error_allowed_of_level: 15 mm", "error_allowed_of_level: 120 mm"),
        )  # fmt: skip
        lags.append(found.value("chamber.lag") or 0.0)
        assert verdict(found, "chamber-lag") is Verdict.DOES_NOT_SUIT
    assert 0.8 < lags[0] / lags[1] < 1.0, "the losses count either way; the friction factor of the pipe jumps there"


SLOPING = (
    "along: [{height: 0 mm, temperature: {value: 120 degC, u: 20 K}}, "
    "{height: 700 mm, temperature: {value: 180 degC, u: 20 K}}]"
)


def test_thermometers_tell_the_build_how_hot_it_is_and_how_well_it_is_known() -> None:
    found = drum((CHAMBER_MEAN, SLOPING))
    surface = found.value("chamber.temperature[normal]") or 0.0
    assert 393.15 < surface < 453.15
    assert verdict(found, "build-hot[normal]") is Verdict.SUITS
    assert (found.value("chamber.standard") or 0.0) > (drum().value("chamber.standard") or 0.0)
    chamber = found.measuring.chamber
    assert chamber is not None
    assert len(pressure_rows(found.sheet, chamber)) > 2
    bent = found.value("chamber.setting_error") or 0.0
    close(pressure_rows(found.sheet, chamber)[-1].error_m, bent, 1e-9, "a straight line through a bent column")
    assert drum().value("chamber.setting_error") is None


def test_one_thermometer_moves_the_level_by_its_share() -> None:
    """Both at one temperature, moved together, are the mean moved: u by each, added in squares, is less."""
    even = SLOPING.replace("120 degC", "150 degC").replace("180 degC", "150 degC").replace("u: 20 K", "u: 5 K")
    found, plain = drum((CHAMBER_MEAN, even)), drum()
    by_two, by_mean = found.value("chamber.standard") or 0.0, plain.value("chamber.standard") or 0.0
    assert 0.6 * by_mean < by_two < by_mean


def test_the_operating_pressure_counts_where_no_state_has_one() -> None:
    states = "states:\n  - name: normal\n    instrument: fitted\n    chamber_temperature: {mean: 150 degC}\n\nzone:"
    text = DRUM.read_text(encoding="utf-8")
    start, end = text.index("states:"), text.index("zone:")
    text = text[:start] + states + text[end + len("zone:") :]
    weak = text.replace("pressure_rating: 63 bar(g)", "pressure_rating: 10 bar(g)")
    found = study(read_case_text(weak, DRUM.name, EXAMPLES))
    assert verdict(found, "chamber-pressure.operation_1") is Verdict.DOES_NOT_SUIT
    assert found.order == "blocked"
    assert verdict(study(read_case_text(text, DRUM.name, EXAMPLES)), "chamber-pressure.operation_1") is Verdict.SUITS


def test_an_unknown_wall_is_no_wall_that_holds() -> None:
    found = drum(("relative_permeability: 1.02", "relative_permeability: unknown"))
    assert verdict(found, "magnet-field[normal]") is Verdict.ON_CONDITIONS
    assert "chamber.relative_permeability" in {requirement.path for requirement in found.requirements}


@pytest.mark.parametrize("name", ["operation", "normal, chamber as hot as the vessel", "4 mA", "pressure test (2)"])
def test_a_state_may_bear_any_name(name: str) -> None:
    found = drum(("name: start-up", f"name: {name!r}"))
    assert found.faults == ()
    assert found.value(f"chamber.level[{name}]") is not None


def test_a_level_below_the_tap_is_told_and_no_fault() -> None:
    found = at_level(-50)
    assert found.faults == ()
    assert verdict(found, "level-low") is Verdict.DOES_NOT_SUIT
