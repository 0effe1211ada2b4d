"""Wrong, missing and absurd statements: each named with field, allowed range, value, reason; the rest still stands."""

from __future__ import annotations

import pytest

from onedatum.study.result import Study
from tests.study.variants import WITH_ISOLATOR, study_with

MEDIUM = "{value: 14.0 degC, within: 0.5 K, min: 5 degC, max: 35 degC}"


def only_fault(study: Study) -> str:
    """The one fault, with its place."""
    assert len(study.faults) == 1, [str(fault) for fault in study.faults]
    return str(study.faults[0])


@pytest.mark.parametrize(
    ("change", "said", "still"),
    [
        (
            ("20 mA: 2800 mm", "20 mA: 100 mm"),
            "spirit_receiver.yaml:135:10: range.20 mA must be other than the level at 4 mA, 100 mm; got 100 mm.",
            "quantity.pure_alcohol",
        ),
        (
            ("{value: 1850 mm", "{value: 3850 mm"),
            "spirit_receiver.yaml:138:20: level_now must be such that level.surface is at most 3020.078 mm; "
            "got level.surface = 3850 mm. "
            "The level lies inside the vessel.",
            "stem.length",
        ),
        (
            ("mass: 72.0 g", "mass: 120 g"),
            "spirit_receiver.yaml:111:11: instrument.float.mass must be below",
            "quantity.pure_alcohol",
        ),
        (
            ("68.0 %vol", "120 %vol"),
            "spirit_receiver.yaml:42:21: medium.strength must be from 0 %vol to 100 %vol; got 120 %vol.",
            "stem.length",
        ),
        (
            ("knuckle_radius: 160 mm", "knuckle_radius: 1700 mm"),
            "spirit_receiver.yaml:24:21: vessel.bottom_head.knuckle_radius must be at most 1600 mm; got 1700 mm. "
            "A knuckle larger than the crown is no torispherical head.",
            "loop.last_good_current",
        ),
        (
            (MEDIUM, "55 degC"),
            "spirit_receiver.yaml:43:16: medium.temperature must be −20 degC to 40 degC; got 55 degC. "
            "Validity of media.ethanol_water_density: OIML R 22",
            "loop.last_good_current",
        ),
        (
            ("nozzle_margin: {value: 0 mm", 'nozzle_margin: {value: "7,5 mm"'),
            "spirit_receiver.yaml:113:28: instrument.float.nozzle_margin.value must be a length with its unit, for "
            "example 1850 mm; got '7,5 mm'. The decimal sign is a point. Write 7.5 mm.",
            "quantity.pure_alcohol",
        ),
        (
            ("operating: 0 bar(g)", "operating: 12 bar"),
            "spirit_receiver.yaml:57:14: pressure.operating must be a gauge or absolute pressure with its unit",
            "overfill.high_high",
        ),
    ],
    ids=["no span", "level outside", "float sinks", "120 %vol", "knuckle", "too hot", "comma", "bare bar"],
)
def test_each_is_named_and_the_healthy_rest_stands(change: tuple[str, str], said: str, still: str) -> None:
    study = study_with(change)
    assert said in only_fault(study)
    assert study.order == "blocked"
    assert "1 input to correct" in study.blocking
    assert study.sheet[still].known


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("inside_diameter: 1600 mm", "inside_diameter: unknown"), "vessel.inside_diameter"),
        (("  response: 15 min\n", ""), "overfill.response"),
        (("  fill_rate_max: 1.2 m3/h\n", ""), "overfill.fill_rate_max"),
        (("scan: 0 s", "scan: unknown"), "instrument.scan"),
        (("  supply: 24 V\n", "  supply: unknown\n"), "loop.supply"),
        (("strength: {value: 68.0 %vol, at: 20 degC, within: 0.1 %vol}", "strength: unknown"), "medium.strength"),
        (("area: 0.75 mm2", "area: unknown"), "loop.cable.area"),
    ],
)
def test_what_only_the_customer_knows_is_asked_for_by_name(change: tuple[str, str], path: str) -> None:
    study = study_with(change, example=WITH_ISOLATOR) if "supply" not in path else study_with(change)
    assert [question.path for question in study.questions] == [path]
    assert study.questions[0].decides
    assert study.faults == ()


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("dead_zone_low: 60 mm ", "dead_zone_low: unknown "), "instrument.stem.dead_zone_low"),
        (("mass: 72.0 g", "mass: unknown"), "instrument.float.mass"),
        (("voltage_min: 12.0 V", "voltage_min: unknown"), "loop.transmitter.voltage_min"),
    ],
)
def test_what_is_ours_to_choose_becomes_a_requirement_never_a_question(change: tuple[str, str], path: str) -> None:
    study = study_with(change, example=WITH_ISOLATOR)
    assert study.questions == ()
    assert path in [requirement.path for requirement in study.requirements]
    assert study.order == "not blocked"
    assert study.checks_verdict.value == "suits on conditions"


def test_foam_of_unknown_height_leaves_the_alarm_open() -> None:
    study = study_with(("  foam: none\n  least_gap", "  foam: unknown\n  least_gap"), example=WITH_ISOLATOR)
    assert study.order == "waits for answers"
    assert not study.sheet["overfill.high_high"].known
    assert [question.path for question in study.questions] == ["overfill.foam"]


def test_a_critical_level_above_the_vessel_blocks() -> None:
    study = study_with(("CH: {value: 2900 mm", "CH: {value: 3900 mm"), example=WITH_ISOLATOR)
    assert "overfill.CH must be at most 3020.078 mm; got 3900 mm" in only_fault(study)


def test_an_alarm_above_what_can_be_measured_blocks() -> None:
    changes = (("dead_zone_high: 110 mm", "dead_zone_high: 600 mm"),)
    study = study_with(*changes, example=WITH_ISOLATOR)
    assert study.order == "blocked"
    assert "HH lies above what can be measured" in [finding.title for finding in study.findings]


def test_reverse_acting_is_legal_and_judged_at_its_own_ends() -> None:
    """LRV above URV: the current falls as the level rises (IEC 60381-1, ullage output)."""
    changes = (("4 mA: 100 mm", "4 mA: 2800 mm"), ("20 mA: 2800 mm", "20 mA: 100 mm"))
    study = study_with(*changes, example=WITH_ISOLATOR)
    assert study.faults == ()
    assert study.order == "not blocked"
    assert "critical-high-not-visible" in {finding.key for finding in study.findings}
    current = study.sheet["overfill.high_high_current"].value
    assert current is not None
    assert 0.0038 < current < 0.0050


@pytest.mark.parametrize("none", ["barrier: {kind: none}", "barrier: none"])
def test_no_barrier_at_all_is_stated_as_none(none: str) -> None:
    barrier = "barrier: {kind: shunt-diode barrier, resistance: 300 ohm}"
    study = study_with((barrier, none))
    assert study.faults == ()
    assert "loop-passes" in {finding.key for finding in study.findings}
    assert "loop.largest_barrier_for_worst" not in study.sheet


def test_an_unknown_conductor_is_counted_with_the_worst_of_the_table_and_said_so() -> None:
    """IEC 60228, tinned class 5, 0.75 mm2: 26.7 ohm/km (three concordant reproductions)."""
    study = study_with(("    conductor: class 1 or 2, plain copper\n", ""))
    entry = study.sheet["loop.cable.core_resistance"]
    assert entry.text == "26.70 ohm/km"
    assert entry.state == "assumed"
    assert "loop.cable.conductor" in [assumption.path for assumption in study.assumptions]
    assert [question.path for question in study.questions] == ["loop.cable.conductor"]
    assert study.sheet["overfill.high_high_current"].known


def test_a_core_of_odd_section_is_refused_with_the_sections_there_are() -> None:
    study = study_with(("area: 0.75 mm2", "area: 0.8 mm2"))
    assert "loop.cable.area must be one of" in only_fault(study)


def test_a_removed_instrument_sets_no_limits() -> None:
    """The water fill test would sink no float: the instrument is removed in it."""
    study = study_with()
    assert "float.immersion[water fill test of the vessel]" not in study.sheet
    assert "float.immersion[set on water in the works]" in study.sheet


def test_a_liquid_of_stated_density_is_studied_without_strength() -> None:
    changes = (
        (
            "kind: ethanol-water\n  strength: {value: 68.0 %vol, at: 20 degC, within: 0.1 %vol}",
            "kind: liquid of stated density\n  density: {value: 895 kg/m3, within: 2 kg/m3}",
        ),
        ("of: litres of pure alcohol", "of: mass"),
    )
    study = study_with(*changes, example=WITH_ISOLATOR)
    assert study.faults == ()
    assert "quantity.pure_alcohol" not in study.sheet
    assert study.budget is not None
    assert study.budget.of.name == "quantity.mass"
