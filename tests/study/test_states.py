"""Operating conditions: their ends, their names, what is done with the instrument, other liquids in them."""

from __future__ import annotations

import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Effect
from tests.closeness import close, printed
from tests.study.variants import EXAMPLES, WITH_BARRIER, study_with

WORKS = "  - name: set on water in the works\n    instrument: fitted\n    medium: {kind: water, temperature: 20 degC}\n"


def test_the_coldest_and_the_hottest_follow_from_the_range_of_the_temperature() -> None:
    study = study_with()
    assert study.states[:3] == ("normal", "coldest", "hottest")
    assert study.sheet["medium.temperature[coldest]"].path == "medium.temperature.min"


def test_a_state_may_have_its_own_temperature() -> None:
    """OIML R 22 for 68.0 %vol at 8 degC by the same formula as the rest; the float rides by that density."""
    study = study_with(
        (WORKS, f"{WORKS}  - name: cold start\n    instrument: fitted\n    medium: {{temperature: 8 degC}}\n")
    )
    assert "cold start" in study.states
    cold, normal = study.sheet["medium.density[cold start]"].value, study.sheet["medium.density[normal]"].value
    assert cold is not None
    assert normal is not None
    assert cold > normal
    assert "level.measurable_low[cold start]" in study.sheet


def test_a_state_that_does_not_say_what_is_done_with_the_instrument_is_asked_and_kept_strict() -> None:
    study = study_with((WORKS, f"{WORKS}  - name: cleaning\n    medium: {{temperature: 30 degC}}\n"))
    assert [question.path for question in study.questions] == ["states[2].instrument"]
    assert "level.measurable_low[cleaning]" in study.sheet


def test_an_isolated_instrument_sets_no_limits() -> None:
    study = study_with(
        (WORKS, f"{WORKS}  - name: cleaning\n    instrument: isolated\n    medium: {{temperature: 30 degC}}\n")
    )
    assert "cleaning" in study.states
    assert "level.measurable_low[cleaning]" not in study.sheet


def test_without_states_the_medium_as_stated_is_the_one_condition() -> None:
    study = study_with((study_text_of_states(), ""))
    assert study.states == ("normal", "coldest", "hottest")


def study_text_of_states() -> str:
    """The whole section of states as it stands in the example."""
    text = WITH_BARRIER.read_text(encoding="utf-8")
    return text[text.index("states:\n") : text.index("zone:\n")]


def test_water_in_the_works_is_water() -> None:
    """IAPWS-95 at 20 degC and 101.325 kPa: 998.207 kg/m3."""
    assert study_with().sheet["medium.density[set on water in the works]"].value == printed("998.207")


# ---------------------------------------------------------------- a density that is a range

SOLVENT = EXAMPLES / "solvent_tank.yaml"
ONE, NO_EXPANSION = "  density: 867 kg/m3\n", ("  expansion: 1.07e-3 1/K\n", "")


def ranged(least: str, greatest: str, *changes: tuple[str, str]) -> Study:
    density = f"  density: {{min: {least}, value: 867 kg/m3, max: {greatest}}}\n"
    return study_with((ONE, density), NO_EXPANSION, *changes, example=SOLVENT)


def test_a_range_of_the_density_makes_a_lightest_and_a_densest() -> None:
    """Warm liquid is light: the lightest stands at the highest temperature stated."""
    study = ranged("850 kg/m3", "880 kg/m3")
    assert study.faults == ()
    assert study.states[:3] == ("normal", "densest", "lightest")
    assert study.sheet["medium.density[lightest]"].value == printed("850")
    assert study.sheet["medium.density[lightest]"].path == "medium.density.min"
    assert study.sheet["medium.temperature[hottest]"].value == printed("308.15")
    asked = [question.path for question in study.questions]
    assert "medium.density.range" not in asked
    alone = study_with(NO_EXPANSION, example=SOLVENT)
    assert "medium.density.range" in [question.path for question in alone.questions]


def test_the_float_rides_by_the_law_of_archimedes_in_both() -> None:
    """What a float displaces weighs what it weighs, each less the gas above, of 1.2 kg/m3: its share, at each end."""
    study = ranged("850 kg/m3", "880 kg/m3")
    light, dense = (study.sheet[f"float.density_ratio[{end}]"].value for end in ("lightest", "densest"))
    assert light is not None
    assert dense is not None
    close(light * (850.0 - 1.2), dense * (880.0 - 1.2), 1e-6, "one float, one mass, one volume")


def test_a_float_that_sinks_in_the_lightest_blocks_the_order() -> None:
    """Its mean density is about 611 kg/m3: it floats at 867 and sinks at 600 kg/m3."""
    found = ranged("600 kg/m3", "880 kg/m3")
    kept = {finding.key for finding in ranged("850 kg/m3", "880 kg/m3").findings if finding.effect is Effect.BLOCKS}
    blocked = {finding.key for finding in found.findings if finding.effect is Effect.BLOCKS}
    assert any("lightest" in key for key in blocked - kept)
    ratio = found.sheet["float.density_ratio[lightest]"].value
    assert ratio is not None
    assert ratio > 1.0


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (((ONE, "  density: {min: 850 kg/m3, value: 867 kg/m3}\n"),), "medium.expansion"),
        (
            (
                ("kind: liquid of stated density", "kind: water"),
                (ONE, "  density: {value: 867 kg/m3, max: 900 kg/m3}\n"),
            ),
            "density of water follows",
        ),
        ((NO_EXPANSION, (ONE, "  density: {min: 900 kg/m3, value: 867 kg/m3}\n")), "min"),
        ((NO_EXPANSION, (ONE, "  density: {min: -3 kg/m3, value: 867 kg/m3}\n")), "30"),
    ],
)
def test_a_range_that_cannot_be_carried_is_refused_by_name(changes: tuple[tuple[str, str], ...], said: str) -> None:
    faults = [str(fault) for fault in study_with(*changes, example=SOLVENT).faults if "medium.density" in fault.path]
    assert faults
    assert any(said in fault for fault in faults), faults
