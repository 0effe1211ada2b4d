"""Functional safety in a whole case: PFD by the equations and by the chain, what a SIL asks beside it, no SIL named.

Expected numbers: the equations of IEC 61508-6 Annex B (read second-hand) written out in hours beside each test.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from onedatum.jobs.safety_sheets import safety_sheets
from onedatum.study.result import Study
from onedatum.verdicts import Check, Effect, Finding, Verdict
from tests.closeness import close, exact
from tests.study.tanks import number
from tests.study.variants import EXAMPLES, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
ROUNDING = "rounding of a dozen steps"
SENSOR = "      place: sensor\n      architecture: 1oo1\n"
SENSOR_RATE, VALVE_RATE = "value: 4e-7 1/h", "value: 8e-7 1/h"
T1, T2, MRT, MTTR = 8760.0, 87600.0, 8.0, 8.0
SIL = 'SIL: "1"'
REACHED = re.compile(
    r"SIL ?\d[^.;]*\b(is|was|are) (reached|met|achieved|fulfilled|attained|claimed)\b|"
    r"\b(reaches|meets|achieves|fulfils|attains|has|suits) (a |the )?SIL",
    re.IGNORECASE,
)


def solvent(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


def grouped(architecture: str, *lines: str) -> Study:
    """The solvent tank with its sensors in a group."""
    more = "".join(f"      {line}\n" for line in lines)
    return solvent((SENSOR, f"      place: sensor\n      architecture: {architecture}\n{more}"))


def without(name: str) -> Study:
    """The solvent tank without the subsystem of this name."""
    text = SOLVENT.read_text(encoding="utf-8")
    begin = text.index(f"    - name: {name}\n      place:")
    ends = [at for at in (text.find("    - name:", begin + 1), text.index("weighing:")) if at > 0]
    return solvent((text[begin : min(ends)], "\n" if min(ends) == text.index("weighing:") else ""))


def blocking(study: Study) -> set[str]:
    """The keys of the findings that block."""
    return {finding.key for finding in study.findings if finding.effect is Effect.BLOCKS}


def finding_of(study: Study, key: str) -> Finding:
    """The finding with this key."""
    return next(finding for finding in study.findings if finding.key == key)


def check_of(study: Study, key: str) -> Check:
    """The check with this key."""
    return next(check for check in study.checks if check.key == key)


def asked(study: Study) -> set[str]:
    """The paths that are asked for."""
    return {question.path for question in study.questions}


def hidden_h(coverage: float, part: float) -> float:
    """Mean down time of an undetected failure: a half of the intervals for a channel, a third for a group."""
    return coverage * (T1 / part + MRT) + (1.0 - coverage) * (T2 / part + MRT)


def down_h(diagnostic: float, coverage: float, part: float) -> float:
    """Equivalent mean down time."""
    return (1.0 - diagnostic) * hidden_h(coverage, part) + diagnostic * MTTR


SENSOR_PFD = 4e-7 * down_h(0.6, 0.8, 2.0)
LOGIC_PFD = 2e-8 * down_h(0.9, 1.0, 2.0)
VALVE_PFD = 8e-7 * down_h(0.0, 0.9, 2.0)


# ---------------------------------------------------------------- the numbers


def test_every_subsystem_and_their_sum_by_the_equations() -> None:
    study = solvent()
    for place, expected in enumerate((SENSOR_PFD, LOGIC_PFD, VALVE_PFD), start=1):
        close(number(study, f"safety.subsystem[{place}].pfd"), expected, 1e-12, ROUNDING)
    total = SENSOR_PFD + LOGIC_PFD + VALVE_PFD
    close(number(study, "safety.pfd"), total, 1e-12, ROUNDING)
    close(number(study, "safety.risk_reduction"), 1.0 / total, 1e-6, ROUNDING)


@pytest.mark.parametrize(("architecture", "count"), [("1oo2", 2.0), ("2oo3", 6.0)])
def test_groups_with_failures_of_common_cause(architecture: str, count: float) -> None:
    study = grouped(architecture, "beta: 10 %value", "beta_detected: 5 %value")
    detected, undetected = 4e-7 * 0.6, 4e-7 * 0.4
    alone = 0.95 * detected + 0.90 * undetected
    common = 0.05 * detected * MTTR + 0.10 * undetected * hidden_h(0.8, 2.0)
    expected = count * alone**2 * down_h(0.6, 0.8, 2.0) * down_h(0.6, 0.8, 3.0) + common
    close(number(study, "safety.subsystem[1].pfd"), expected, 1e-14, ROUNDING)
    assert number(study, "safety.subsystem[1].pfd") < SENSOR_PFD


def test_two_channels_that_must_both_act_fail_twice_as_often() -> None:
    study = grouped("2oo2")
    close(number(study, "safety.subsystem[1].pfd"), 2.0 * SENSOR_PFD, 1e-12, ROUNDING)


@pytest.mark.parametrize("architecture", ["1oo1", "1oo2", "2oo2", "2oo3"])
def test_the_chain_stands_beside_the_equations_and_never_above_them(architecture: str) -> None:
    """An independent model: it agrees within 2 % where failures are rare, and the equations are on the safe side."""
    shares = () if architecture == "1oo1" else ("beta: 10 %value", "beta_detected: 5 %value")
    study = grouped(architecture, *shares)
    by_equations = number(study, "safety.subsystem[1].pfd")
    by_markov = number(study, "safety.subsystem[1].pfd_by_markov")
    close(by_markov, by_equations, 0.02 * by_equations, "failures are rare: 0.0014 per interval")
    assert by_markov <= by_equations


def test_the_equations_warn_where_failures_are_not_rare() -> None:
    """2e-5 1/h over 8760 h are 0.175 undetected failures: above 0.1 both numbers are shown."""
    study = solvent((VALVE_RATE, "value: 2e-5 1/h"))
    finding = finding_of(study, "pfd-often[filling valve]")
    assert finding.effect is Effect.WARNING
    shown = {link.entry: link.value for link in finding.chain}
    assert shown["safety.subsystem[3].pfd"] == study.sheet["safety.subsystem[3].pfd"].text
    assert shown["safety.subsystem[3].pfd_by_markov"] == study.sheet["safety.subsystem[3].pfd_by_markov"].text
    close(number(study, "safety.subsystem[3].failures_per_interval"), 2e-5 * T1, 1e-12, ROUNDING)
    assert not any(each.key.startswith("pfd-often") for each in solvent().findings)


@pytest.mark.parametrize(("rate", "warns"), [("1.14e-5", False), ("1.15e-5", True)])
def test_the_warning_begins_at_a_tenth_of_a_failure(rate: str, warns: bool) -> None:
    """1.1416e-5 1/h over 8760 h are 0.1."""
    study = solvent((VALVE_RATE, f"value: {rate} 1/h"))
    assert ("pfd-often[filling valve]" in {each.key for each in study.findings}) is warns


# ---------------------------------------------------------------- what is asked for


def test_a_failure_rate_without_its_source_is_asked_for_it() -> None:
    study = solvent((f"{{{VALVE_RATE}, source: invented data}}", "8e-7 1/h"))
    assert asked(study) == {"safety.subsystems[2].dangerous_failure_rate.source"}
    assert study.order == "waits for answers"


@pytest.mark.parametrize(
    ("name", "place"), [("level transmitter", "sensor"), ("logic", "logic"), ("filling valve", "final element")]
)
def test_a_place_of_the_function_that_is_missing_is_asked_for(name: str, place: str) -> None:
    study = without(name)
    assert asked(study) == {f"safety.subsystems ({place})"}
    assert study.order == "waits for answers"


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ((SENSOR, "      place: unknown\n      architecture: 1oo1\n"), "safety.subsystems[0].place"),
        ((SENSOR, "      place: sensor\n      architecture: unknown\n"), "safety.subsystems[0].architecture"),
        ((SENSOR_RATE, "value: unknown"), "safety.subsystems[0].dangerous_failure_rate"),
        (("coverage: 80 %value", "coverage: unknown"), "safety.subsystems[0].proof_test_coverage"),
        (("demand: at most once a year", "demand: unknown"), "safety.demand"),
    ],
)
def test_what_the_function_rests_on_is_asked_for_never_guessed(change: tuple[str, str], path: str) -> None:
    study = solvent(change)
    assert path in asked(study)
    assert study.order == "waits for answers"


def test_a_group_without_its_common_cause_is_asked_for_it() -> None:
    study = grouped("1oo2")
    assert asked(study) == {"safety.subsystems[0].beta", "safety.subsystems[0].beta_detected"}
    assert not study.sheet["safety.pfd"].known
    assert check_of(study, "sil-pfd").verdict is Verdict.UNDECIDED


def test_a_sil_without_subsystems_is_no_function() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    study = solvent((text[text.index("  subsystems:\n    - name: level") : text.index("weighing:")], "\n"))
    assert asked(study) == {"safety.subsystems"}
    assert not study.sheet["safety.pfd"].known
    assert check_of(study, "sil-pfd").verdict is Verdict.UNDECIDED


@pytest.mark.parametrize("listed", ["[]", "none"])
def test_a_sil_with_an_empty_list_of_subsystems_asks_for_each_place(listed: str) -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    stated = text[text.index("  subsystems:\n    - name: level") : text.index("weighing:")]
    study = solvent((stated, f"  subsystems: {listed}\n\n"))
    assert asked(study) == {f"safety.subsystems ({place})" for place in ("sensor", "logic", "final element")}
    assert not study.sheet["safety.pfd"].known
    assert check_of(study, "sil-pfd").verdict is Verdict.UNDECIDED
    assert study.order == "waits for answers"


def test_a_sil_written_out_as_unknown_is_asked_for() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    section = text[text.index("safety:\n") : text.index("weighing:")]
    assert "safety.SIL" in asked(solvent((section, "safety:\n  SIL: unknown\n\n")))


def test_without_a_safety_function_nothing_of_it_is_said() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    study = solvent((text[text.index("safety:\n") : text.index("weighing:")], ""))
    assert study.safe.safety is None
    assert not any("SIL" in text for text in said_by(study))


# ---------------------------------------------------------------- what blocks


def test_high_demand_is_refused() -> None:
    study = solvent(("demand: at most once a year", "demand: more often or continuously"))
    assert finding_of(study, "not-low-demand").effect is Effect.BLOCKS, "a SIL is asked"
    alone = solvent(("demand: at most once a year", "demand: more often or continuously"), (SIL, "SIL: none"))
    assert finding_of(alone, "not-low-demand").effect is Effect.WARNING
    assert "safety.pfd" not in study.sheet
    assert not any(each.key == "pfd-band" for each in study.findings)


def test_sil_4_asks_for_its_fault_tolerance() -> None:
    study = solvent((SIL, 'SIL: "4"'))
    assert "safety.fault_tolerance" in asked(study)
    assert check_of(study, "sil-tolerance[1]").verdict is Verdict.UNDECIDED


def test_sil_3_with_one_channel_blocks_by_its_fault_tolerance() -> None:
    """IEC 61511-1:2016, Table 6 (read second-hand): SIL 3 asks for a fault tolerance of 1."""
    study = solvent((SIL, 'SIL: "3"'), ('systematic_capability: "2"', 'systematic_capability: "3"'))
    assert {f"check:sil-tolerance[{place}]" for place in (1, 2, 3)} <= blocking(study)
    assert not any("capability" in key for key in blocking(study))


def test_sil_2_is_within_the_fault_tolerance_of_one_channel() -> None:
    study = solvent((SIL, 'SIL: "2"'))
    assert blocking(study) == set()


def test_a_systematic_capability_too_low_blocks() -> None:
    study = solvent((SIL, 'SIL: "2"'), ('systematic_capability: "2"', 'systematic_capability: "1"'))
    assert blocking(study) == {f"check:sil-capability[{place}]" for place in (1, 2, 3)}


@pytest.mark.parametrize(("rate", "blocks"), [("9.6e-7", False), ("9.7e-7", True)])
def test_a_pfd_above_the_band_blocks(rate: str, blocks: bool) -> None:
    """SIL 2 ends at 0.01: 8330 h for the valve leave 9.635e-7 1/h."""
    study = solvent((SIL, 'SIL: "2"'), (VALVE_RATE, f"value: {rate} 1/h"))
    assert blocking(study) == ({"check:sil-pfd"} if blocks else set())


def test_a_renewal_before_the_proof_test_is_a_fault() -> None:
    study = solvent(("renewal_interval: 87600 h", "renewal_interval: 8000 h"))
    assert {fault.path for fault in study.faults} == {f"safety.subsystems[{at}].renewal_interval" for at in range(3)}
    assert study.order == "blocked"


def test_a_renewal_between_two_proof_tests_is_named() -> None:
    """The logic's proof test finds all: no renewal is looked at there."""
    study = solvent(("renewal_interval: 87600 h", "renewal_interval: 80000 h"))
    assert study.faults == ()
    chains = {number: study.sheet[f"safety.subsystem[{number}].pfd_by_markov"] for number in (1, 2, 3)}
    assert [number for number, entry in chains.items() if not entry.known] == [1, 3]
    assert "whole multiple of the proof test interval" in chains[1].method
    assert study.sheet["safety.pfd"].known, "the equations need no whole multiple"


def test_a_probability_above_one_is_refused() -> None:
    study = solvent((SENSOR_RATE, "value: 9e-4 1/h"))
    assert [fault.path for fault in study.faults] == ["safety.subsystems[0].dangerous_failure_rate"]
    assert not study.sheet["safety.pfd"].known
    assert study.order == "blocked"


# ---------------------------------------------------------------- no SIL is named from a PFD


def said_by(study: Study) -> Iterator[str]:
    """Every text of findings, checks and sheets."""
    for finding in study.findings:
        yield from (finding.title, *(f"{each.text} {each.value}" for each in (*finding.chain, *finding.ways_out)))
    for check in study.checks:
        yield from (check.title, check.fails, check.reason)
    for sheet in safety_sheets(study):
        yield from (sheet.title, sheet.answer, *(note.text for note in sheet.notes))
        for table in sheet.tables:
            yield from (table.title, table.note, *table.head, *(text for row in table.rows for text in row))


@pytest.mark.parametrize("asked_for", ["1", "2", "3", "4", "none"])
def test_no_text_says_that_a_sil_is_reached(asked_for: str) -> None:
    study = solvent((SIL, f'SIL: "{asked_for}"'), ('systematic_capability: "2"', 'systematic_capability: "4"'))
    assert not any("SIL" in finding.title for finding in study.findings if finding.effect is Effect.HOLDS)
    assert [text for text in said_by(study) if REACHED.search(text)] == []
    assert any(f"SIL {asked_for}" in text for text in said_by(study)) or asked_for == "none"
    band = finding_of(study, "pfd-band")
    assert band.effect is Effect.WARNING
    assert "that alone is no SIL" in band.title


def test_the_words_that_would_name_a_sil_are_recognised() -> None:
    for text in ("SIL 2 is reached", "the function meets SIL 2", "It achieves a SIL of 2"):
        assert REACHED.search(text)


def test_what_the_levels_allow_is_the_least_of_the_subsystems() -> None:
    safety = grouped("1oo2", "beta: 10 %value", "beta_detected: 5 %value").safe.safety
    assert safety is not None
    assert (safety.by_architecture, safety.capability) == (2, 2)
    exact(number(solvent(), "safety.pfd"), number(solvent((SIL, "SIL: none")), "safety.pfd"))
