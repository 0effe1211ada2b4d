"""Level by pressure: ranges of named cases from a whole case file, what legs do, and what they must not be.

Expected numbers: `tests/reference/pressure.json`, the columns summed one by one.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.reading import read_case_text
from onedatum.foundation.units import read_quantity
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.reference import case
from tests.study.variants import EXAMPLES, study_with

WET = EXAMPLES / "wet_leg_tank.yaml"

TANK = """
onedatum: 1
invented: yes
tag: LT-2 (invented)
site: {g: 9.80665 m/s2, atmospheric_pressure: 1.013 bar(a)}
vessel: {datum: lower tap}
medium:
  kind: liquid of stated density
  density: 850 kg/m3
  expansion: none
  temperature: 20 degC
  gas_above: {kind: nitrogen, density: 5 kg/m3}
pressure: {operating: 0.5 bar(g)}
wanted: {of: level}
states:
  - {name: normal, instrument: fitted}
zone: none
instrument: {principle: differential pressure}
legs:
  kind: difference between two taps
  taps_apart: 2 m
  below_lower_tap: 0.5 m
  high_side: lower tap
  lower_leg: {filling: the liquid itself}
  upper_leg: {filling: liquid of stated density, density: 1100 kg/m3}
range: {4 mA: 0 m, 20 mA: 2 m}
level_now: {value: 1 m, within: 1 mm}
datum_error: {value: 0 mm, within: 1 mm}
overfill: none
"""
UPPER = "upper_leg: {filling: liquid of stated density, density: 1100 kg/m3}"
LOWER = "lower_leg: {filling: the liquid itself}"


def tank(*changes: tuple[str, str]) -> Study:
    """The tank with changes."""
    text = TANK
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return study(read_case_text(text, "tank.yaml", EXAMPLES))


def kPa(found: Study, *names: str) -> list[float]:
    """Pressures of the sheet."""
    return [(found.value(name) or 0.0) / 1e3 for name in names]


ENDS = ("legs.range[4 mA]", "legs.range[20 mA]")
QUARTERS = ("legs.range[4 mA]", "legs.range[12 mA]", "legs.range[20 mA]")
CASES: Mapping[str, tuple[tuple[tuple[str, str], ...], tuple[str, ...]]] = {
    "PR01": (
        (
            ("principle: differential pressure", "principle: hydrostatic pressure"),
            ("kind: difference between two taps", "kind: one tap, against the atmosphere"),
            ("  taps_apart: 2 m\n", ""), ("  high_side: lower tap\n", ""), (f"  {UPPER}\n", ""),
            ("density: 850 kg/m3", "density: 998.2 kg/m3"), ("below_lower_tap: 0.5 m", "below_lower_tap: 3 m"),
            ("20 mA: 2 m", "20 mA: 12 m"),
        ),
        ENDS,
    ),
    "PR02": (
        (
            ("density: 5 kg/m3", "density: 1.2 kg/m3"), ("below_lower_tap: 0.5 m", "transmitter: lower tap"),
            (UPPER, "upper_leg: {filling: the gas above}"),
        ),
        QUARTERS,
    ),
    "PR03": ((), ENDS),
    "PR04": (
        (
            (LOWER, "lower_leg: {filling: liquid of stated density, density: 960 kg/m3, capillary: yes}"),
            (UPPER, "upper_leg: {filling: liquid of stated density, density: 960 kg/m3, capillary: yes}"),
        ),
        ENDS,
    ),
    "PR07": (
        (
            ("density: 850 kg/m3", "density: 830 kg/m3"), ("below_lower_tap: 0.5 m", "transmitter: lower tap"),
            ("taps_apart: 2 m", "taps_apart: 1.2 m\n  measures: interface"), ("20 mA: 2 m", "20 mA: 1.2 m"),
            ("pressure: {op", "interface: {lower_density: 998 kg/m3, emulsion: none}\npressure: {op"),
            (UPPER, "upper_leg: {filling: liquid of stated density, density: 830 kg/m3}"),
        ),
        ENDS,
    ),
}  # fmt: skip


@pytest.mark.parametrize("number", CASES)
def test_ranges_of_named_cases(number: str) -> None:
    changes, names = CASES[number]
    case(f"pressure-{number}").check(kPa(tank(*changes), *names))


def test_the_question_that_is_asked_most() -> None:
    """A wet leg in inches and inches of water: the columns summed by hand in those units."""
    found = study_with(example=WET)
    water = read_quantity("1 inH2O(60 degF)", "pressure difference")
    rho = {name: found.value(name) or 0.0 for name in ("medium.density[normal]", "legs.upper_density")}
    liquid, leg, inch, g = rho["medium.density[normal]"], rho["legs.upper_density"], 0.0254, 9.80665
    low = (liquid * 50 + 2.9 * 100 - leg * 150) * inch * g / water
    high = (liquid * 150 - leg * 150) * inch * g / water
    for name, expected in (("legs.range[4 mA]", low), ("legs.range[20 mA]", high)):
        close((found.value(name) or 0.0) / water, expected, 1e-9 * abs(expected), "the same sum")
        assert found.sheet[name].text.endswith("inH2O(60 degF)")


# ---------------------------------------------------------------- laws


def test_exchanged_sides_turn_the_sign() -> None:
    straight = kPa(tank(), *QUARTERS)
    crossed = kPa(tank(("high_side: lower tap", "high_side: upper tap")), *QUARTERS)
    assert crossed == [-value for value in straight]


@settings(max_examples=12, deadline=None)
@given(st.integers(-3000, 3000))
def test_equal_capillaries_forget_the_height_of_the_transmitter(mm: int) -> None:
    changes = CASES["PR04"][0]
    found = kPa(tank(*changes, ("below_lower_tap: 0.5 m", f"below_lower_tap: {mm} mm")), *ENDS)
    case("pressure-PR04").check(found)


def test_the_pressure_of_the_gas_cancels() -> None:
    assert kPa(tank(("0.5 bar(g)", "6 bar(g)")), *ENDS) == kPa(tank(), *ENDS)


def test_a_denser_state_reads_high() -> None:
    """PR06: set for 850, 900 kg/m3 at 1.0 m shows 1058.9 mm."""
    heavier = (
        ("density: 5 kg/m3", "density: 1.2 kg/m3"), ("below_lower_tap: 0.5 m", "transmitter: lower tap"),
        (UPPER, "upper_leg: {filling: the gas above}"),
        ("instrument: fitted}", "instrument: fitted}\n  - name: heavy\n    instrument: fitted\n"
         "    medium: {kind: liquid of stated density, temperature: 20 degC, density: 900 kg/m3}"),
    )  # fmt: skip
    found = tank(*heavier)
    case("pressure-PR06").check((found.value("legs.shown[heavy]") or 0.0) * 1e3)
    assert "Pressure legs set for the state normal read high in the state heavy" in {f.title for f in found.findings}


def test_a_wet_leg_that_warms() -> None:
    """PR05: from 1100 to 1060 kg/m3 the level at 1 m moves by 118.3 mm."""
    warm = "density: 1100 kg/m3, density_at: 20 degC, expansion: 9.090909090909091e-4 1/K, "
    leg = f"upper_leg: {{filling: liquid of stated density, {warm}temperature: {{value: 20 degC, max: 60 degC}}}}"
    found = tank((UPPER, leg))
    case("pressure-PR05").check((found.value("legs.shift[upper, hottest]") or 0.0) * 1e3)


# ---------------------------------------------------------------- what legs do


def test_legs_that_change_are_told_by_the_metre_and_whole() -> None:
    wet = tank()
    close(wet.value("legs.shift_by_part"), 1095.0 / 845.0, 1e-12, "rho g per metre over rho g of the level")
    close(wet.value("legs.shift_by_whole"), 2.5 * 1095.0 / 845.0, 1e-12, "the whole of it")
    dry = tank((UPPER, "upper_leg: {filling: the gas above}"))
    close(dry.value("legs.shift_by_part"), -1.0, 1e-12, "a metre of the liquid for a metre of the gas")
    assert "A wet leg that boils off or runs out reads high" in {finding.title for finding in wet.findings}
    assert "A dry leg that slowly fills reads low" in {finding.title for finding in dry.findings}


def test_a_single_sensor_feels_the_blanket() -> None:
    found = tank(*CASES["PR01"][0])
    close(found.value("legs.shift_by_gas"), 50000.0 / (998.2 * 9.80665), 1e-9, "p/(rho g)")
    assert "legs-gas" in {finding.key for finding in found.findings}


def test_water_in_a_leg_boils_off_in_a_vacuum() -> None:
    leg = "upper_leg: {filling: water, temperature: 60 degC}"
    assert "legs-upper-boils[normal]" not in {finding.key for finding in tank((UPPER, leg)).findings}
    found = {f.key: f for f in tank((UPPER, leg), ("0.5 bar(g)", "0.15 bar(a)")).findings}
    assert found["legs-upper-boils[normal]"].effect is Effect.BLOCKS


def test_a_vacuum_pulls_on_a_capillary() -> None:
    assert "legs-vacuum[normal]" in {f.key for f in tank(*CASES["PR04"][0], ("0.5 bar(g)", "0.2 bar(a)")).findings}
    assert "legs-vacuum[normal]" not in {f.key for f in tank(*CASES["PR04"][0]).findings}


def test_a_leg_of_the_liquid_above_its_tap_blocks() -> None:
    found = {f.key: f for f in tank(("below_lower_tap: 0.5 m", "below_lower_tap: -0.5 m")).findings}
    assert found["legs-lower-above-tap"].effect is Effect.BLOCKS


def test_both_ends_negative_is_no_fault() -> None:
    found = {f.key: f for f in tank().findings}
    assert found["legs-zero"].effect is Effect.HOLDS
    assert "elevated zero" in found["legs-zero"].title
    below = {f.key: f for f in tank(*CASES["PR01"][0]).findings}
    assert "suppressed zero" in below["legs-zero"].title


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("smallest_span: 25 inH2O(60 degF)", "smallest_span: 120 inH2O(60 degF)"), "legs-span"),
        (("sensor_low: -250 inH2O(60 degF)", "sensor_low: -100 inH2O(60 degF)"), "legs-sensor-low[at 4 mA]"),
        (("20 mA: 100 in", "20 mA: 120 in"), "range-high"),
    ],
)
def test_what_the_transmitter_cannot_measure_blocks(change: tuple[str, str], key: str) -> None:
    def of(found: Study) -> Verdict:
        return next(check.verdict for check in found.checks if check.key == key)

    assert of(study_with(example=WET)) is Verdict.SUITS
    found = study_with(change, example=WET)
    assert of(found) is Verdict.DOES_NOT_SUIT
    assert found.order == "blocked"


def test_the_uncertainty_of_the_density_is_one_of_the_level() -> None:
    """A half-width of 10 in 1020 kg/m3: u = 10/sqrt(3), the column of level and lower leg over the head."""
    found = study_with(example=WET)
    rho, gas = found.value("medium.density[normal]") or 0.0, 2.9
    stated, inch = 10 / 3**0.5 * rho / 1020.0, 0.0254
    expected = stated * (62 + 50) * inch / (rho - gas)
    close(found.value("legs.standard"), expected, 1e-6 * expected, "first order")


def test_what_is_not_said_is_asked_or_ordered() -> None:
    """The customer knows the legs, we the transmitter."""
    found = tank((f"  {UPPER}\n", "  upper_leg: unknown\n"), ("  high_side: lower tap\n", ""))
    asked = {question.path for question in found.questions}
    assert {"legs.upper_leg.filling", "legs.high_side"} <= asked
    ordered = {requirement.path for requirement in found.requirements}
    assert "legs.smallest_span" in ordered
    assert found.order == "waits for answers"


# ---------------------------------------------------------------- what a reviewer found once


INTERFACE = (
    ("taps_apart: 2 m", "taps_apart: 2 m\n  measures: interface"),
    ("pressure: {op", "interface: {lower_density: 1020 kg/m3, emulsion: none}\npressure: {op"),
)
WATER_TANK = (
    ("kind: liquid of stated density\n  density: 850 kg/m3\n  expansion: none\n  temperature: 20 degC",
     "kind: water\n  temperature: 20 degC"),
)  # fmt: skip


def keys(found: Study) -> dict[str, Effect]:
    """The findings by key."""
    return {finding.key: finding.effect for finding in found.findings}


def test_at_an_interface_the_lower_leg_holds_the_lower_liquid() -> None:
    """1020 below 850: level 1 m, the rest of 2 m, half a metre of lower leg, 2.5 m of 1100 in the upper one."""
    found = tank(*INTERFACE)
    expected = 9.80665e-3 * (1020 * 1.0 + 850 * 1.0 + 1020 * 0.5 - 1100 * 2.5)
    close(kPa(found, "legs.difference[normal]")[0], expected, 1e-9, "the columns by hand")


def test_a_blanket_counts_at_the_cell_of_a_single_sensor() -> None:
    """50 kPa over 29.4 to 146.8 kPa of head: 79.4 to 196.8 at the cell."""
    cell = (
        "high_side: lower tap",
        "sensor_high: 150 kPa\n  sensor_low: 0 kPa\n  smallest_span: 10 kPa\n  high_side: lower tap",
    )
    changes = [cell, *(each for each in CASES["PR01"][0] if "high_side" not in each[0])]
    found = tank(*changes, ("  high_side: lower tap\n", ""))
    key = "legs-sensor-high[at 20 mA, under the pressure of the gas]"
    assert next(check.verdict for check in found.checks if check.key == key) is Verdict.DOES_NOT_SUIT
    close(kPa(found, "legs.felt[at 20 mA, under the pressure of the gas]")[0], 196.83497045, 1e-6, "by hand")
    assert keys(found)["legs-gas"] is Effect.BLOCKS
    close(found.value("legs.per_metre"), 998.2 * 9.80665, 1e-9, "the slope of the range")


def test_alike_capillaries_are_judged_together() -> None:
    """-H d(rho)/(rho - rho_v): the height of the transmitter drops out of the warmth of both as well."""
    leg = (
        "{filling: liquid of stated density, density: 960 kg/m3, density_at: 20 degC, expansion: 1.0e-3 1/K, "
        "temperature: {value: 20 degC, min: 0 degC, max: 50 degC}, capillary: yes}"
    )
    found = tank(
        (LOWER, f"lower_leg: {leg}"), (UPPER, f"upper_leg: {leg}"), ("below_lower_tap: 0.5 m", "below_lower_tap: 5 m"),
        ("wanted: {of: level}", "wanted: {of: level, error_allowed_of_level: 100 mm}"),
    )  # fmt: skip
    close(found.value("legs.shift[both, coldest]"), -2.0 * 960 * 0.02 / 845.0, 1e-9, "by hand")
    judged = {check.key for check in found.checks if check.key.startswith("legs-error")}
    assert judged == {"legs-error_leg[both, coldest]", "legs-error_leg[both, hottest]"}


def test_the_range_of_pressure_is_that_of_the_loop() -> None:
    found = tank(("below_lower_tap: 0.5 m", "below_lower_tap: 0.5 m\n  lower: 0.2 m"))
    assert any("legs.lower must be left away, or the level of the range, 0 m" in str(fault) for fault in found.faults)


def test_the_ends_of_a_range_boil_freeze_and_draw() -> None:
    """What the middle bears, the ends need not."""
    hot = "upper_leg: {filling: water, temperature: {value: 60 degC, min: 40 degC, max: 160 degC}}"
    assert "legs-upper-boils[normal]" in keys(tank((UPPER, hot)))
    icy = "upper_leg: {filling: water, temperature: {value: 20 degC, min: -20 degC}}"
    found = tank((UPPER, icy))
    assert keys(found)["legs-upper-freezes"] is Effect.BLOCKS
    assert found.faults == ()
    drawn = ("0.5 bar(g)", "{value: 0.5 bar(g), min: -0.8 bar(g)}")
    assert "legs-vacuum[normal]" in keys(tank(*CASES["PR04"][0], drawn))
    high = (("atmospheric_pressure: 1.013 bar(a)", "atmospheric_pressure: 0.84 bar(a)"), ("0.5 bar(g)", "0 bar(g)"))
    assert "legs-vacuum[normal]" not in keys(tank(*CASES["PR04"][0], *high))


def test_frozen_all_the_time_leaves_the_range_unknown() -> None:
    found = tank((UPPER, "upper_leg: {filling: water, temperature: -20 degC}"))
    assert "legs-upper-freezes" in keys(found)
    assert found.value("legs.range[4 mA]") is None
    assert found.order == "blocked"


def test_a_wet_leg_of_the_liquid_itself_is_wet() -> None:
    itself = "upper_leg: {filling: the liquid itself, temperature: 160 degC}"
    found = tank(*WATER_TANK, (UPPER, itself))
    assert {"legs-refilled", "legs-upper-boils[normal]"} <= set(keys(found))
    asked = tank(*WATER_TANK, (UPPER, "upper_leg: {filling: the liquid itself}"))
    assert "legs.upper_leg.temperature" in {question.path for question in asked.questions}
    assert asked.order == "waits for answers"


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        (((LOWER, "lower_leg: {filling: the gas above}"),), "legs-lower-of-gas"),
        (((LOWER, "lower_leg: {filling: liquid of stated density, density: 900 kg/m3}"),
          ("below_lower_tap: 0.5 m", "below_lower_tap: -0.5 m")), "legs-lower-above-tap"),
        ((("below_lower_tap: 0.5 m", "below_lower_tap: -3 m"),), "legs-upper-above-tap"),
    ],
)  # fmt: skip
def test_fillings_that_do_not_stay_block(changes: tuple[tuple[str, str], ...], key: str) -> None:
    found = tank(*changes)
    assert keys(found)[key] is Effect.BLOCKS
    assert found.faults == ()


def test_a_warm_leg_without_its_expansion_is_asked_for_it() -> None:
    leg = (
        "upper_leg: {filling: liquid of stated density, density: 1100 kg/m3, density_at: 20 degC, temperature: 60 degC}"
    )
    assert "legs.upper_leg.expansion" in {question.path for question in tank((UPPER, leg)).questions}


def test_exchanged_sides_and_a_reversed_range_are_told_apart() -> None:
    def sense(found: Study) -> str:
        return next(finding for finding in found.findings if finding.key == "legs-zero").chain[-1].text

    turned = ("range: {4 mA: 0 m, 20 mA: 2 m}", "range: {4 mA: 2 m, 20 mA: 0 m}")
    crossed = ("high_side: lower tap", "high_side: upper tap")
    assert "direct acting" in sense(tank())
    assert "reverse acting" in sense(tank(turned))
    assert "falls as the level rises" in sense(tank(crossed))
    assert "falls as the level rises" in sense(tank(crossed, turned))


def test_the_alternative_is_held_against_its_taps() -> None:
    """Legs beside a float: taps from 0.3 to 2.5 m, the range from 0.1 to 2.8 m."""
    legs = (
        "legs: {kind: difference between two taps, lower_tap: 0.3 m, upper_tap: 2.5 m, transmitter: lower tap, "
        "high_side: lower tap, upper_leg: {filling: the gas above}}\n\nlevel_now:"
    )
    found = study_with(("level_now:", legs))
    outcomes = {check.key: (check.verdict, check.remark) for check in found.checks}
    assert outcomes["legs-range-lower"] == (Verdict.DOES_NOT_SUIT, True)
    assert outcomes["legs-range-upper"] == (Verdict.DOES_NOT_SUIT, True)
    assert found.measuring.stem is not None


def test_states_may_bear_any_name() -> None:
    states = "".join(
        f"  - {{name: {name!r}, instrument: fitted, pressure: {number} bar(g)}}\n"
        for number, name in enumerate(("leg coldest", "operation", "4 mA", "at 4 mA"), start=1)
    )
    leg = "temperature: {value: 77 degF, min: 30 degF, max: 110 degF}"
    found = study_with(("  - name: normal\n    instrument: fitted\n", states), example=WET)
    assert leg in WET.read_text(encoding="utf-8")
    assert found.faults == ()
    assert found.value("legs.range[4 mA]") is not None


def test_legs_that_are_not_there_are_said_so() -> None:
    drum = study_with(example=EXAMPLES / "steam_drum.yaml")
    text = (EXAMPLES / "steam_drum.yaml").read_text(encoding="utf-8")
    start, end = text.index("legs: "), text.index("overfill: none")
    without = study(read_case_text(text[:start] + "legs: none\n\n" + text[end:], "drum.yaml", EXAMPLES))
    assert without.faults == ()
    assert without.measuring.legs is None
    assert without.value("chamber.level[normal]") == drum.value("chamber.level[normal]")
