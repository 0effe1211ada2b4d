"""A case whose principle is open: nothing of an instrument is worked or asked, and the verdicts are the same."""

from __future__ import annotations

import re
from functools import cache

import pytest

from onedatum.case.reading import read_case_text
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import Judgement
from tests.study.variants import EXAMPLES

NAMES = sorted(path.name for path in EXAMPLES.glob("*.yaml"))
OF_INSTRUMENTS = re.compile(
    r"(instrument\.)?(stem|float|interface_float|magnet|waveguide|accuracy|build|echo|probe|chamber|legs|circuit)\b"
    r"|level\.(measurable|highest_by)|loop\.(supply|terminal|last|transmitter|barrier|cable)|nozzle\b"
)
OF_INSTRUMENT_NAMED = {"range.uncovered", "alarm.high_to_range", "alarm.low_to_range"} | {
    "alarm.high_current_margin",
    "alarm.fail_current_margin",
    "ex.epl_margin_wetted",
    "ex.epl_margin_head",
    "ex.group_margin",
    "ex.class_margin",
    "build.temperature_margin",
    "build.ambient_margin",
    "build.pressure_margin",
}
"""Worked for the instrument of the case alone: what it covers, what its loop carries, what its certificate says.

While no principle is named there is no instrument they could be said of; they pass to the order.
"""


@cache
def example(name: str, principle: str = "unknown") -> Study:
    """An example with its principle, or another; conditions are stated, so that the principles are judged."""
    text = (EXAMPLES / name).read_text(encoding="utf-8")
    if principle:
        text, count = re.subn(r"(?m)^  principle:.*$", f"  principle: {principle}", text, count=1)
        assert count == 1
    if "\nconditions:" not in text:
        text += "\nconditions:\n  flow: {kind: runs off}\n"
    return study(read_case_text(text, name))


@pytest.mark.parametrize("name", NAMES)
def test_nothing_of_an_instrument_is_worked_or_asked(name: str) -> None:
    found = example(name)
    assert not found.has_instrument
    assert [entry for entry in found.entries if OF_INSTRUMENTS.match(entry)] == []
    assert [each.path for each in found.questions if OF_INSTRUMENTS.match(each.path)] == []
    assert found.requirements == ()
    assert [finding.key for finding in found.findings if "loop" in finding.key or "circuit" in finding.key] == []
    assert found.order == "waits for answers"
    assert found.answer.startswith("No instrument is chosen")
    assert found.detail is None
    assert found.safe.loop is None


@pytest.mark.parametrize("name", NAMES)
def test_the_verdicts_are_those_of_the_case_with_its_principle(name: str) -> None:
    """Rule by rule; apart may only be what rests on numbers of the instrument named."""
    open_, named = example(name).choosing, example(name, "").choosing
    assert open_ is not None
    assert named is not None
    assert open_.stated == ""
    assert list(open_.verdicts) == list(named.verdicts)
    for principle, verdict in named.verdicts.items():
        other = open_.verdicts[principle]
        apart = [
            each.rule.name
            for each, one in zip(verdict.judgements, other.judgements, strict=True)
            if told(each) != told(one) and not reads_instrument(each, named.stated, principle)
        ]
        assert apart == [], principle
        if principle != named.stated:
            assert verdict.verdict is other.verdict, principle


def told(judgement: Judgement) -> tuple[str, Verdict, list[str]]:
    return judgement.rule.name, judgement.verdict, [f"{atom}: {fact.text}" for atom, fact in judgement.because]


def reads_instrument(judgement: Judgement, stated: str, principle: str) -> bool:
    """Whether a rule reads a number that is worked for the instrument named alone."""
    text = repr(judgement.rule)
    return principle == stated and any(f"'{name}'" in text for name in OF_INSTRUMENT_NAMED)


def test_alarms_are_placed_by_vessel_and_filling_and_that_is_said() -> None:
    """Nothing is taken off for an instrument but what is stated, so HH may stand no lower than with it; it is told."""
    open_, named = example("caustic_tank.yaml"), example("caustic_tank.yaml", "")
    high, with_it = open_.value("overfill.high_high"), named.value("overfill.high_high")
    assert high is not None
    assert with_it is not None
    assert high >= with_it
    told_of = [finding for finding in open_.findings if finding.key == "no-instrument"]
    assert len(told_of) == 1
    assert told_of[0].safety
    assert open_.sheet["overfill.high_high"].rests_on_assumed


def test_an_uncertainty_that_is_stated_comes_off_the_alarm_without_an_instrument_too() -> None:
    """It must not be kinder to leave the principle open than to name it."""
    open_, named = example("spirit_receiver.yaml"), example("spirit_receiver.yaml", "")
    uncertainty = open_.value("level.uncertainty")
    assert uncertainty is not None
    assert uncertainty > 0.0
    assert open_.safe.alarms.uncertainty.value == pytest.approx(uncertainty, rel=1e-12)
    assert open_.value("overfill.high_high") == pytest.approx(named.value("overfill.high_high"), abs=1e-3)


@pytest.mark.parametrize("name", ["spirit_receiver.yaml", "lying_spirit_tank.yaml"])
def test_the_quantity_at_a_stated_level_needs_no_instrument(name: str) -> None:
    open_, named = example(name), example(name, "")
    for entry in ("vessel.full_volume", "quantity.table_volume", "quantity.mass"):
        assert open_.value(entry) == pytest.approx(named.value(entry), rel=1e-12), entry


def test_without_a_level_no_reading_is_asked_for() -> None:
    """An enquiry has no gauge that could be read."""
    found = study(read_case_text("onedatum: 1\ninvented: yes\n", "case.yaml"))
    assert "level_now" not in {each.path for each in found.questions}
    assert found.quantity is None


def test_a_principle_that_is_not_known_here_is_a_fault_and_works_no_stem() -> None:
    """The tool judges radar and sizes none: the fault says so, and the verdicts stand."""
    found = example("spirit_receiver.yaml", "radar")
    assert [fault.path for fault in found.faults] == ["instrument.principle"]
    assert [entry for entry in found.entries if OF_INSTRUMENTS.match(entry)] == []
    assert found.order == "blocked"
    assert found.choosing is not None
    assert found.choosing.verdicts["radar"].verdict is Verdict.ON_CONDITIONS


def test_what_the_verdicts_rest_on_can_be_shown() -> None:
    """The numbers of the rules are worked apart, and each still tells its working."""
    found = example("steam_drum.yaml")
    assert found.choosing is not None
    names = [name for name in found.choosing.entries if name.startswith("choosing.")]
    assert names
    for name in names:
        assert name in found.shown
        assert found.show(name)


def test_a_wrong_value_of_an_instrument_is_told_all_the_same() -> None:
    """What is stated wrong is wrong, whether an instrument is chosen or not."""
    text = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^  principle:.*$", "  principle: unknown", text)
    text = re.sub(r"tip_above_datum: .*", "tip_above_datum: -3 furlong", text, count=1)
    found = study(read_case_text(text, "case.yaml"))
    assert "instrument.stem.tip_above_datum" in [fault.path for fault in found.faults]
