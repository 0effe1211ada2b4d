"""Stem and float in depth: build, walls, accuracy, wire, magnet, mechanics, search; faults by their state."""

from __future__ import annotations

import pytest

from onedatum.case.reading import read_case_text
from onedatum.physics.floats import flat_end_factor
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.study.stems import STEM, with_lines

MM, BAR = 1e-3, 1e5


def worked(text: str = STEM, **changes: str) -> Study:
    return study(read_case_text(with_lines(text, changes), "stem.yaml"))


def number(found: Study, name: str) -> float:
    value = found.value(name)
    assert value is not None, name
    return value


def told(found: Study, effect: Effect = Effect.BLOCKS) -> dict[str, str]:
    """Titles of the findings of an effect, by key."""
    return {finding.key: finding.title for finding in found.findings if finding.effect is effect}


def with_state(state: str, text: str = STEM) -> str:
    """One more state."""
    return text.replace("instrument:\n  principle", f"{state}instrument:\n  principle", 1)


PLAIN = worked()


# ---------------------------------------------------------------- floats in every state


def test_a_float_that_sinks_in_one_state_is_named_with_it() -> None:
    light = with_state("  - name: cleaning\n    instrument: fitted\n    medium: {kind: liquid of stated density, density: 600 kg/m3, temperature: 20 degC}\n")  # fmt: skip # noqa: E501
    titles = told(worked(light))
    assert any("cleaning" in title and "sink" in title for title in titles.values())


def test_a_float_larger_than_the_nozzle_blocks() -> None:
    found = worked(bore="45 mm")
    assert "check:float-in-nozzle" in told(found)


def test_the_clear_height_holds_the_stem_and_hands() -> None:
    """2.6 m of stem and 200 mm (common practice): 2.75 m are not enough."""
    assert "check:headroom" in told(worked(headroom_above_face="2.75 m"))
    assert "check:headroom" not in told(worked(headroom_above_face="2.85 m"))


@pytest.mark.parametrize(
    ("form", "changes"),
    [
        ("disc", {"form": "disc"}),
        ("ring", {"form": "ring", "outside_diameter": "84 mm", "height": "24 mm", "mass": "55 g", "bore": "36 mm"}),
        ("sphere with a bore", {"form": "sphere with a bore", "height": "none", "mass": "45 g"}),
    ],
)
def test_every_form_rides(form: str, changes: dict[str, str]) -> None:
    text = with_lines(STEM, {"bore": "120 mm"})
    start = text.index("  float:\n    form")
    found = study(read_case_text(text[:start] + with_lines(text[start:], changes), "form.yaml"))
    assert found.statement.case.instrument.float_.form.word == form
    assert 0.0 < number(found, "float.immersion[normal]") < 0.06
    assert number(found, "float.per_density[normal]") < 0.0


def test_a_ring_rides_as_the_reference_says() -> None:
    """floats-H08: 17.03 mm from its bottom in 850 kg/m3."""
    start = STEM.index("  float:\n    form")
    changes = {"form": "ring", "outside_diameter": "84 mm", "height": "24 mm", "mass": "55 g", "bore": "36 mm"}
    found = study(read_case_text(STEM[:start] + with_lines(STEM[start:], changes), "ring.yaml"))
    close(number(found, "float.immersion[normal]") / MM, 17.029787, 1e-4, "tolerance of the case")


def test_friction_deposit_soaking_wetting_and_drag_by_their_formulas() -> None:
    more = "    friction: 20 mN\n    deposit: 2 g\n    soaking: 3 %value\n"
    text = STEM.replace("    nozzle_margin: none\n", f"    nozzle_margin: none\n{more}")
    text = text.replace("  viscosity: 2 mPa.s\n", "  viscosity: 5 Pa.s\n  surface_tension: 72 mN/m\n")
    found = worked(text, density="870 kg/m3")
    close(number(found, "float.friction_band[normal]") / MM, 2.5908824, 1e-5, "floats-H12")
    section = 3.141592653589793 / 4 * (0.05**2 - 0.014**2)
    close(number(found, "float.reads_low_fouled[normal]"), 0.002 / (870 * section), 1e-9, "2 g over the section")
    close(number(found, "float.reads_low_soaked[normal]"), 0.03 * 0.075 / (870 * section), 1e-9, "3 % of its mass")
    close(
        number(found, "float.wetting_shift[normal]") / MM,
        4 * 0.072 / (870 * 9.80665 * 0.05) * 1e3,
        1e-6,
        "4 gamma/(rho g D)",
    )
    close(number(found, "float.settling_time[normal]"), 2.01259779 * 950 / 870, 1e-3, "floats-H17a, density scaled")


# ---------------------------------------------------------------- pressure


def test_a_float_under_too_much_pressure_is_named_with_its_state() -> None:
    pressed = with_state("  - name: steaming\n    instrument: fitted\n    pressure: 12 bar(g)\n")
    titles = told(worked(pressed))
    assert "steaming" in titles["check:float-pressure[steaming]"]
    assert "check:float-pressure[operation]" not in titles


def test_a_test_pressure_above_the_rating_counts_until_a_state_removes_the_float() -> None:
    tested = STEM.replace("pressure: {operating: 0 bar(g)}", "pressure: {operating: 0 bar(g), test: 15 bar(g)}")
    found = worked(tested)
    assert "pressure test" in told(found)["check:float-pressure[pressure test]"]
    assert "states.pressure_test" in {question.path for question in found.questions}
    removed = with_state("  - name: pressure test\n    instrument: removed\n    pressure: 15 bar(g)\n", tested)
    assert not any(key.startswith("check:float-pressure") for key in told(worked(removed)))
    fitted = removed.replace("instrument: removed", "instrument: fitted")
    assert "check:float-pressure[pressure test]" in told(worked(fitted))


def test_a_smaller_pressure_in_a_removed_state_is_not_the_test() -> None:
    tested = STEM.replace("pressure: {operating: 0 bar(g)}", "pressure: {operating: 0 bar(g), test: 15 bar(g)}")
    state = with_state("  - name: cleaning\n    instrument: removed\n    pressure: 3 bar(g)\n", tested)
    assert "check:float-pressure[pressure test]" in told(worked(state))


def test_walls_bear_what_the_rule_leaves_them() -> None:
    """Flat ends of 0.5 mm from 7.5 to 24.5 mm, 170 MPa, factor 1.5 (a choice of the design): the weakest part."""
    walls = STEM.replace("    pressure_rating: 10 bar(g)\n", "    wall: 0.5 mm\n    end_wall: 0.5 mm\n")
    found = worked(walls)
    ends = 170e6 / float(flat_end_factor(0.0245, 0.0075)) * (0.5 / 24.5) ** 2 / 1.5
    close(number(found, "float.allowed_pressure"), ends, 1e-3, "plate held at both rims, yield over factor")
    assert number(found, "float.allowed_pressure") == number(found, "float.end_allowed_by_yield")
    assert number(found, "float.allowed_pressure") < 2 * BAR
    assert "instrument.float.pressure_rating" in {each.path for each in found.requirements}


def test_a_rating_above_the_walls_is_told() -> None:
    walls = STEM.replace("    metal: austenitic stainless steel\n    pressure_rating", "    metal: austenitic stainless steel\n    wall: 0.5 mm\n    end_wall: 0.5 mm\n    pressure_rating")  # fmt: skip # noqa: E501
    assert "check:float-rating" in told(worked(walls), Effect.WARNING)


def test_a_rating_from_vacuum_is_turned_into_one_above_the_atmosphere() -> None:
    found = worked(
        with_state("  - name: steaming\n    instrument: fitted\n    pressure: 9.5 bar(g)\n"),
        pressure_rating="10 bar(a)",
    )
    close(number(found, "float.pressure[rating]") / BAR, 8.987, 1e-9, "10 - 1.013")
    assert "check:float-pressure[steaming]" in told(found)


# ---------------------------------------------------------------- build


def test_the_plain_build_with_a_plastic_float_ends_at_90_degc() -> None:
    """Common practice, no source: 90 degC (194 degF)."""
    plastic = STEM.replace("    float: metal\n", "    float: plastic\n")
    assert "check:build-hot[normal]" in told(worked(plastic, temperature="91 degC"))
    assert "check:build-hot[normal]" not in told(worked(plastic, temperature="{value: 89.5 degC, within: 0.1 K}"))
    close(number(worked(plastic), "instrument.build.temperature_max"), 363.15, 1e-9, "90 degC")
    note = worked(plastic).sheet["instrument.build.temperature_max"].note
    assert "common practice, no source" in note


def test_a_limit_that_is_stated_comes_before_the_usual_one() -> None:
    plastic = STEM.replace("    float: metal\n", "    float: plastic\n    temperature_max: 120 degC\n")
    assert "check:build-hot[normal]" not in told(worked(plastic, temperature="100 degC"))


def test_states_without_the_instrument_do_not_count() -> None:
    plastic = STEM.replace("    float: metal\n", "    float: plastic\n")
    hot = "  - name: cleaning\n    instrument: {word}\n    medium: {{temperature: 121 degC}}\n"
    assert "check:build-hot[cleaning]" in told(worked(with_state(hot.format(word="fitted"), plastic)))
    assert not any("build-hot" in key for key in told(worked(with_state(hot.format(word="removed"), plastic))))


def test_a_rigid_stem_is_at_most_4_m_or_6_m_where_it_is_guided() -> None:
    long = STEM.replace("shell_length: 2500 mm", "shell_length: 4500 mm").replace(
        "headroom_above_face: 4 m", "headroom_above_face: 6 m"
    )
    assert "check:stem-length" in told(worked(long))
    guided = long.replace("    tip_above_datum", "    guided: yes\n    tip_above_datum")
    assert "check:stem-length" not in told(worked(guided))


def test_the_version_for_small_tanks_is_at_most_1_m() -> None:
    assert "check:stem-length" in told(worked(dead_zones="shortened"))


@pytest.mark.parametrize(("word", "key"), [("not magnetic", "particles"), ("magnetic", "particles")])
def test_particles_are_told(word: str, key: str) -> None:
    """Magnetostrictive gauges need a medium free of particles (common practice, no source)."""
    assert key in told(worked(particles=word), Effect.WARNING)


def test_particles_not_spoken_of_are_asked() -> None:
    found = worked(STEM.replace("  particles: free of particles\n", ""))
    assert "medium.particles" in {question.path for question in found.questions}


def test_a_float_in_a_pipe_needs_10_mm() -> None:
    pipe = STEM.replace("place: in the tank", "place: inside a guide or still pipe\n    pipe_bore: 58 mm")
    assert "check:float-in-pipe" in told(worked(pipe))
    assert "check:float-in-pipe" not in told(worked(pipe.replace("58 mm", "62 mm")))


# ---------------------------------------------------------------- accuracy


def test_the_usual_budget_of_three_metres() -> None:
    """Common practice, no source: 0.1 mm of resolution goes with about 0.5 mm of accuracy (k = 2)."""
    start = STEM.index("  float:\n    form")
    ball = {"form": "sphere with a bore", "outside_diameter": "52 mm", "bore": "13 mm", "mass": "43 g"}
    text = with_lines(STEM[:start], {"shell_length": "2930 mm", "density": "1000 kg/m3"})
    found = study(read_case_text(text + with_lines(STEM[start:], ball), "ball.yaml"))
    assert 0.45 * MM < number(found, "accuracy.expanded") < 0.55 * MM
    close(number(found, "instrument.accuracy.display_step"), 0.1 * MM, 1e-12, "resolution of the display")
    assert number(found, "accuracy.timing") < number(found, "accuracy.standard") / 20


def test_the_parts_of_the_budget_by_hand() -> None:
    found = worked()
    distance = 2.6 - 0.08
    close(number(found, "accuracy.clock"), 2800 / 1e8 / 12**0.5, 1e-12, "one tick of 100 MHz")
    close(number(found, "accuracy.display"), 1e-4 / 12**0.5, 1e-12, "step of 0.1 mm")
    close(
        number(found, "accuracy.nonlinearity"),
        1e-4 * (distance - 0.11) / 3**0.5,
        1e-12,
        "0.01 % of the measuring length",
    )
    close(number(found, "accuracy.speed"), 11.4e-6 * 3 * distance / 3**0.5, 1e-12, "11.4 ppm/K, 3 K")
    steep = 0.075 / (850 * (3.141592653589793 / 4 * (0.05**2 - 0.014**2))) / 850
    close(number(found, "accuracy.density"), 5 * steep / 3**0.5, 1e-10, "immersion over density, 5 kg/m3")
    parts = [number(found, f"accuracy.{part}") for part in ("timing", "clock", "display", "nonlinearity", "speed", "density", "stiction", "plumb")]  # fmt: skip # noqa: E501
    close(number(found, "accuracy.standard"), sum(part**2 for part in parts) ** 0.5, 1e-12, "in quadrature")


def test_the_datum_is_no_part_of_the_accuracy() -> None:
    far = worked(datum_error="{value: 0 mm, within: 20 mm}")
    assert number(far, "accuracy.expanded") == number(PLAIN, "accuracy.expanded")


def test_an_error_that_the_reading_cannot_keep_blocks() -> None:
    wanted = STEM + "wanted: {error_allowed_of_level: 0.2 mm}\n"
    assert "check:reading-accuracy" in told(worked(wanted))


def test_what_the_instrument_states_is_not_assumed() -> None:
    stated = STEM.replace("  stem:\n", "  waveguide: {slowness: 357.142857 us/m}\n  stem:\n", 1)
    found = worked(stated)
    close(number(found, "waveguide.speed"), 2800.0, 1e-3, "inverse of the figure")
    assert "instrument.waveguide.speed" not in {each.path for each in found.assumptions}


def test_a_speed_by_modulus_and_density() -> None:
    stated = STEM.replace("  stem:\n", "  waveguide: {shear_modulus: 65.5 GPa, density: 8050 kg/m3}\n  stem:\n", 1)
    close(number(worked(stated), "waveguide.speed"), 2852.48067, 1e-4, "floats-F01")


# ---------------------------------------------------------------- the wire


def test_warmth_along_the_stem_reads_long() -> None:
    """floats-F04a scaled to the distance here: 4.80769 mm at 4 m, -40 ppm/K, 20 to 80 degC."""
    wire = "  waveguide: {speed_coefficient: -40 ppm/K, speed_temperature: 20 degC, "
    wire += "head_temperature: 20 degC, corrected: no}\n"
    found = worked(STEM.replace("  stem:\n", f"{wire}  stem:\n", 1), temperature="80 degC")
    close(
        number(found, "waveguide.gradient_error[normal]") / MM,
        4.80769385 * 2.52 / 4,
        1e-6,
        "proportional to the distance",
    )


def test_a_warm_wall_lifts_the_head_and_the_level_reads_low() -> None:
    found = worked(temperature="50 degC")
    close(number(found, "waveguide.head_rise_error[normal]") / MM, -12e-6 * 30 * 2650, 1e-6, "alpha dT H_face")


def test_dead_zones_smaller_than_their_parts_block() -> None:
    parts = STEM.replace("    dead_zone_low", "    damper: 60 mm\n    stop_low: 20 mm\n    dead_zone_low")
    parts = parts.replace(
        "  stem:\n", "  echo: {pulse_duration: 10 us, ring_down_ratio: 1000, ring_down_decay: 10 us}\n  stem:\n", 1
    )
    found = worked(parts)
    close(number(found, "stem.dead_zone_low"), 0.06 + 0.02 + 0.03, 1e-12, "damper, stop, half the float")
    close(number(found, "stem.dead_zone_high") / MM, 193.4171, 1e-3, "v tau ln(1000), floats-F14 with 10 us")
    assert {"check:dead-zone-low", "check:dead-zone-high"} <= set(told(found))


# ---------------------------------------------------------------- magnet


RING = "  magnet: {form: ring, inside_diameter: 16 mm, outside_diameter: 31 mm, length: 10 mm, remanence: 400 mT, least_field: LEAST, material: ferrite}\n"  # fmt: skip # noqa: E501


def test_the_field_at_the_wire_of_the_reference_ring() -> None:
    found = worked(STEM.replace("  stem:\n", RING.replace("LEAST", "5 mT") + "  stem:\n", 1))
    close(number(found, "magnet.strength[normal]") * 1e3, 89.198464, 1e-4, "floats-M01 at 20 degC")
    close(number(found, "magnet.lobe_width") / MM, 10.46, 0.01, "worked by a root of the field of another library")


def test_a_hot_ferrite_is_weaker() -> None:
    found = worked(STEM.replace("  stem:\n", RING.replace("LEAST", "5 mT") + "  stem:\n", 1), temperature="70 degC")
    close(number(found, "magnet.strength[normal]") * 1e3, 89.198464 * 0.9, 1e-4, "-0.2 %/K over 50 K (from memory)")


def of_material(material: str, temperature: str) -> Study:
    ring = RING.replace("LEAST", "5 mT").replace("ferrite", material)
    return worked(STEM.replace("  stem:\n", ring + "  stem:\n", 1), temperature=temperature)


def magnet_findings(found: Study) -> dict[str, Effect]:
    return {each.key: each.effect for each in found.findings if each.key in ("magnet-too-hot", "magnet-material")}


def test_the_grade_decides_up_to_what_any_grade_bears() -> None:
    """NdFeB: 80 degC for the most delicate grade, 200 degC for the hardiest (from memory)."""
    assert magnet_findings(of_material("NdFeB", "75 degC")) == {}
    assert magnet_findings(of_material("NdFeB", "85 degC")) == {"magnet-too-hot": Effect.WARNING}
    assert magnet_findings(of_material("NdFeB", "205 degC")) == {"magnet-too-hot": Effect.BLOCKS}


def test_a_material_without_figures_is_told() -> None:
    found = of_material("cobalt steel", "85 degC")
    assert magnet_findings(found) == {"magnet-material": Effect.WARNING}
    assert "SmCo" in str(next(each for each in found.findings if each.key == "magnet-material").ways_out)


def test_a_material_not_known_is_asked() -> None:
    found = of_material("unknown", "70 degC")
    assert "instrument.magnet.material" in {each.path for each in found.requirements}


def test_a_field_too_weak_is_named_with_its_state() -> None:
    found = worked(STEM.replace("  stem:\n", RING.replace("LEAST", "100 mT") + "  stem:\n", 1))
    assert "normal" in told(found)["check:magnet-field[normal]"]


def test_the_least_field_is_asked_of_the_maker() -> None:
    found = worked(STEM.replace("  stem:\n", RING.replace(", least_field: LEAST", "") + "  stem:\n", 1))
    assert "instrument.magnet.least_field" in {each.path for each in found.requirements}


def test_magnetic_particles_block_where_there_is_a_magnet() -> None:
    found = worked(STEM.replace("  stem:\n", RING.replace("LEAST", "5 mT") + "  stem:\n", 1), particles="magnetic")
    assert "magnetic-particles" in told(found)


# ---------------------------------------------------------------- mechanics


def flowing(velocity: str, **changes: str) -> Study:
    text = STEM.replace("    tip_above_datum", "    inside_diameter: 10 mm\n    guided: no\n    tip_above_datum")
    return worked(text.replace("  particles", f"  velocity_at_stem: {velocity}\n  particles"), **changes)


def test_flow_bends_a_free_stem() -> None:
    """q L^4/(8 E I), 2.6 m of 12 x 1 mm steel at 0.3 m/s in 850 kg/m3 (worked by hand)."""
    found = flowing("0.3 m/s")
    load = 0.5 * 850 * 1.2 * 0.012 * 0.09
    stiff = 193e9 * 3.141592653589793 / 64 * (0.012**4 - 0.010**4)
    close(number(found, "stem.deflection"), load * 2.6**4 / (8 * stiff), 1e-9, "cantilever")
    assert "check:stem-swing" in told(found)


def test_a_stem_that_the_flow_would_break_blocks() -> None:
    assert "check:stem-stress" in told(flowing("3 m/s"))


def test_a_slow_flow_is_borne() -> None:
    found = flowing("0.01 m/s")
    assert not {"check:stem-stress"} & set(told(found))
    assert "check:stem-swing" not in told(found)


def test_growth_and_sludge_need_their_clearance() -> None:
    sludge = STEM.replace("    tip_above_datum", "    least_clearance: 60 mm\n    tip_above_datum")
    assert "check:tip-clearance" in told(worked(sludge))
    grown = worked(temperature="80 degC")
    close(number(grown, "stem.growth[normal]") / MM, 16e-6 * 60 * 2600, 1e-9, "alpha dT L")


def test_a_flexible_stem_sags() -> None:
    """floats-L02: 1.8 N/m, 100 N: the arc of a parabola; here the load of 0.5 m/s in 850 kg/m3 over 2.6 m."""
    flexible = STEM.replace("on a rigid stem", "on a flexible stem").replace(
        "    tip_above_datum", "    pull: 100 N\n    tip_above_datum"
    )
    flexible = flexible.replace("    hot_neck: no\n", "    hot_neck: no\n    bend_radius: 400 mm\n")
    found = worked(flexible.replace("  particles", "  velocity_at_stem: 0.5 m/s\n  particles"))
    load = 0.5 * 850 * 1.2 * 0.012 * 0.25
    close(number(found, "stem.sag"), load * 2.6**2 / 800, 1e-9, "q L^2/(8 T)")


# ---------------------------------------------------------------- search


SEARCH = STEM.replace(
    "    pressure_rating: 10 bar(g)\n",
    "    pressure_rating: unknown\n    wall: 0.5 mm\n    end_wall: 1 mm\n    friction: 2 mN\n",
).replace("  stem:\n", "  magnet: {mass: 15 g}\n  stem:\n", 1)


def test_the_search_finds_a_float_that_keeps_every_limit() -> None:
    found = worked(SEARCH + "wanted: {error_allowed_of_level: 3 mm}\n")
    search = found.detail.search
    assert search is not None and search.chosen.best is not None
    best = search.chosen.best
    assert best.diameter_m <= 0.075 + 1e-9
    assert best.error_m <= 3 * MM
    assert not any("float-search" in told(found, effect) for effect in Effect)


def test_where_no_float_serves_the_limit_is_named() -> None:
    found = worked(SEARCH + "wanted: {error_allowed_of_level: 0.01 mm}\n")
    assert "float-search" in told(found, Effect.WARNING)
    assert found.detail.search is not None and found.detail.search.chosen.best is None


def test_without_an_error_allowed_nothing_is_searched() -> None:
    assert PLAIN.detail.search is None


# ---------------------------------------------------------------- nothing stated


def test_a_nearly_empty_case_has_its_sheet_and_no_fault() -> None:
    bare = study(
        read_case_text("onedatum: 1\ninstrument: {principle: magnetostrictive float on a rigid stem}\n", "bare.yaml")
    )
    assert bare.detail.accuracy.expanded.value is None
    assert bare.faults == ()
    assert all(check.verdict is not Verdict.DOES_NOT_SUIT for check in bare.checks)


# ---------------------------------------------------------------- never kinder


def questions(found: Study) -> set[str]:
    return {question.path for question in found.questions}


def test_gauge_and_absolute_pressures_are_not_mixed_up() -> None:
    """60.5 bar from vacuum are 59.5 above the atmosphere: less than a test of 60."""
    tested = STEM.replace("pressure: {operating: 0 bar(g)}", "pressure: {operating: 0 bar(g), test: 60 bar(g)}")
    state = with_state("  - name: test\n    instrument: removed\n    pressure: 60.5 bar(a)\n", tested)
    assert "check:float-pressure[pressure test]" in told(worked(state))
    covered = state.replace("60.5 bar(a)", "61.1 bar(a)")
    assert not any(key.startswith("check:float-pressure") for key in told(worked(covered)))


@pytest.mark.parametrize(
    ("text", "path"),
    [
        (STEM.replace("{operating: 0 bar(g)}", "{operating: 0 bar(g), test: unknown}"), "pressure.test"),
        (STEM.replace("{operating: 0 bar(g)}", "{operating: unknown}"), "pressure.operating"),
        (STEM.replace("pressure: {operating: 0 bar(g)}\n", ""), "pressure.operating"),
        (with_state("  - name: steaming\n    instrument: fitted\n    pressure: unknown\n"), "states[1].pressure"),
        (STEM.replace("  particles", "  agitator: turbine\n  particles"), "medium.velocity_at_stem"),
        (STEM.replace("place: in the tank", "place: outside on a chamber"), "chamber.lower_tap"),
    ],
)
def test_what_is_not_known_is_asked_by_name(text: str, path: str) -> None:
    found = worked(text)
    assert path in questions(found)
    assert found.order != "not blocked"


def test_a_deposit_that_would_sink_the_float_blocks() -> None:
    heavy = STEM.replace("    nozzle_margin: none\n", "    nozzle_margin: none\n    deposit: 14 g\n")
    assert "check:float-floats[normal]" in told(worked(heavy))
    assert "check:float-floats[normal]" not in told(PLAIN)


def test_a_float_that_passes_the_nozzle_only_just_is_told() -> None:
    """5 mm of gap, or fitted from inside (common practice)."""
    start = STEM.index("nozzle:")
    tight = STEM[:start] + with_lines(STEM[start:], {"bore": "52 mm"})
    assert "check:float-gap" in told(worked(tight), Effect.WARNING)
    assert "check:float-in-nozzle" not in told(worked(tight))


def test_a_material_has_a_highest_temperature_too() -> None:
    """Austenitic steel 250 degC, polypropylene 80 degC (from memory), whatever the word of the build says."""
    assert "check:build-hot[normal]" in told(worked(temperature="260 degC"))
    plastic = STEM.replace("    float: metal\n", "    float: plastic\n").replace("metal: austenitic stainless steel\n    pressure_rating", "metal: polypropylene\n    pressure_rating")  # fmt: skip # noqa: E501
    assert "check:build-hot[normal]" in told(worked(plastic, temperature="85 degC"))


def test_a_sleeve_without_a_limit_is_to_be_ordered() -> None:
    coated = worked(surface="coated or sleeved")
    assert "instrument.build.temperature_max" in {each.path for each in coated.requirements}
    keys = {check.key: check.verdict for check in coated.checks}
    assert keys["build-hot[normal]"] is not Verdict.SUITS


def test_hot_walls_ask_for_their_strength_at_temperature() -> None:
    walls = STEM.replace("    pressure_rating: 10 bar(g)\n", "    wall: 0.5 mm\n    end_wall: 2 mm\n")
    hot = worked(walls, temperature="150 degC")
    assert {"instrument.float.yield_strength", "instrument.float.elastic_modulus"} <= {r.path for r in hot.requirements}
    assert hot.value("float.allowed_pressure") is None


def test_without_process_connection_no_pressure_is_held() -> None:
    loose = STEM.replace("fixing: flange or thread", "fixing: without process connection")
    assert not any("build-connection" in key for key in told(worked(loose)))
    pressed = loose.replace("operating: 0 bar(g)", "operating: 2 bar(g)")
    assert "check:build-connection[operation]" in told(worked(pressed))


def test_sludge_counts_whatever_the_stem_is_made_of() -> None:
    sludge = STEM.replace("    metal: austenitic stainless steel\n    tip_above_datum", "    least_clearance: 60 mm\n    tip_above_datum")  # fmt: skip # noqa: E501
    assert "check:tip-clearance" in told(worked(sludge))


def test_known_errors_beyond_the_error_allowed_block() -> None:
    soaked = STEM.replace("    nozzle_margin: none\n", "    nozzle_margin: none\n    soaking: 10 %value\n")
    assert "check:reading-soaking[normal]" in told(worked(soaked + "wanted: {error_allowed_of_level: 3 mm}\n"))
    assert "check:reading-soaking[normal]" not in told(worked(soaked + "wanted: {error_allowed_of_level: 10 mm}\n"))


def test_a_speed_that_no_wire_has_is_told() -> None:
    """2600 to 3050 m/s are met with (common practice)."""
    strange = STEM.replace("  stem:\n", "  waveguide: {slowness: 660 us/m}\n  stem:\n", 1)
    assert "speed-unusual" in told(worked(strange), Effect.WARNING)


def test_margins_of_temperature_are_differences_in_print() -> None:
    assert PLAIN.sheet["build.hot_margin[normal]"].text.endswith(" K")
    assert worked(temperature="50 degC").sheet["waveguide.warmer[normal]"].text == "30 K"
