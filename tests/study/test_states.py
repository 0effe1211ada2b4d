"""Operating conditions: their ends, their names, what is done with the instrument, other liquids in them."""

from __future__ import annotations

from tests.closeness import printed
from tests.study.variants import WITH_BARRIER, study_with

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
