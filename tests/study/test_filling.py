"""Filling a vessel that holds an explosive atmosphere: velocities, conductivity, splashing, a second phase."""

from __future__ import annotations

from math import pi

import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.reference import case
from tests.study.variants import EXAMPLES, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
CONDUCTIVITY = "{value: 5 pS/m, basis: assumed, by: case writer, source: from memory}"
PERMITTIVITY = "{value: 2.4, basis: assumed"
BORE = "pipe_bore: 50 mm"
RATE = "fill_rate_max: 12 m3/h"
START = "start_rate: 7 m3/h"
SMALL = ("central_conductor: no", "central_conductor: yes\n  diagonal: 1.9 m")


def filled(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


def keys(study: Study) -> set[str]:
    """The findings of the filling; none of them ever says that it holds."""
    found = [finding for finding in study.findings if finding.key.startswith(("filling", "check:filling"))]
    assert Effect.HOLDS not in {finding.effect for finding in found}
    return {finding.key for finding in found}


def verdict(study: Study) -> Verdict:
    """The outcome of the comparison of the velocity."""
    return next(check.verdict for check in study.checks if check.key == "filling-velocity")


def test_loop_E01() -> None:
    """The relaxation time of a liquid with permittivity 2.1 and 5 pS/m."""
    study = filled((PERMITTIVITY, "{value: 2.1, basis: assumed"))
    case("loop-E01").check(study.value("filling.relaxation_time"))


def test_loop_E02() -> None:
    """v d <= 0.5 m2/s and 7 m/s by pipe; the row of a dip pipe or central conductor of a small tank."""
    found = [
        filled(SMALL, (BORE, f"pipe_bore: {bore} mm")).value("filling.largest_velocity") for bore in (25, 50, 100, 200)
    ]
    case("loop-E02").check(found)


def test_loop_E03() -> None:
    """141.4 m3/h in a pipe of 100 mm are 5 m/s, and 5 m/s are the limit of that pipe."""
    expected = case("loop-E03")
    study = filled(SMALL, (BORE, "pipe_bore: 100 mm"), (RATE, f"fill_rate_max: {expected.expected} m3/h"))
    close(study.value("filling.velocity"), 5.0, 1e-8, "the flow is printed with ten digits")
    faster = filled(SMALL, (BORE, "pipe_bore: 100 mm"), (RATE, "fill_rate_max: 142 m3/h"))
    assert verdict(faster) is Verdict.DOES_NOT_SUIT
    assert "check:filling-velocity" in keys(faster)
    assert verdict(filled(SMALL, (BORE, "pipe_bore: 100 mm"), (RATE, "fill_rate_max: 141 m3/h"))) is Verdict.SUITS


def test_an_upright_tank_counts_with_its_diameter() -> None:
    """Bottom inlet without conductor: 0.38 m2/s, factor sqrt(3/2) at 3 m (read second-hand)."""
    study = filled(("inside_diameter: 2000 mm", "inside_diameter: 3000 mm"), (BORE, "pipe_bore: 100 mm"))
    close(study.value("filling.largest_velocity"), 0.38 * 1.5**0.5 / 0.1, 1e-9, "rounding of three operations")


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ((f"  conductivity: {CONDUCTIVITY}\n", ""), "medium.conductivity"),
        ((f"  {BORE}\n", ""), "filling.pipe_bore"),
        (("  inlet: bottom\n", ""), "filling.inlet"),
        (("  second_phase: no\n", ""), "filling.second_phase"),
        (("  central_conductor: no\n", ""), "filling.central_conductor"),
    ],
)
def test_what_is_not_known_is_asked_and_the_warning_stands(change: tuple[str, str], name: str) -> None:
    study = filled(change)
    assert name in {question.path for question in study.questions}
    assert study.order == "waits for answers"
    assert "filling:charges" in keys(study)


@pytest.mark.parametrize("line", ["  inlet: bottom\n", "  central_conductor: no\n"])
def test_what_is_not_known_never_raises_the_limit(line: str) -> None:
    pipe = (BORE, "pipe_bore: 100 mm")
    known, unknown = (
        filled(pipe).value("filling.largest_velocity"),
        filled(pipe, (line, "")).value("filling.largest_velocity"),
    )
    assert known is not None
    assert unknown is not None
    assert unknown <= known


def test_an_unknown_second_phase_is_not_passed_above_the_velocity_of_the_start() -> None:
    """With a second phase 1 m/s is the most (NFPA 77, read): 1.7 m/s cannot hold while it is unknown."""
    study = filled(("  second_phase: no\n", ""))
    velocity, start = study.value("filling.velocity"), study.value("filling.start_velocity")
    assert velocity is not None
    assert start is not None
    assert velocity > start
    assert verdict(study) is not Verdict.SUITS


def test_an_unknown_conductivity_counts_as_one_that_charges() -> None:
    study = filled((f"  conductivity: {CONDUCTIVITY}\n", ""))
    assert study.safe.filling is not None
    assert study.safe.filling.conductivity == ""
    assert study.value("filling.largest_velocity") == filled().value("filling.largest_velocity")


def test_a_falling_inlet_is_warned_of() -> None:
    study = filled(("inlet: bottom", 'inlet: "top, falling freely"'))
    assert {"filling:falling", "check:filling-velocity"} <= keys(study)
    assert verdict(study) is Verdict.DOES_NOT_SUIT, "no limit holds for a free fall"


def test_a_second_phase_keeps_the_velocity_of_the_start() -> None:
    study = filled(("second_phase: no", "second_phase: yes"))
    assert {"filling:two-phases", "check:filling-velocity"} <= keys(study)
    assert study.order == "blocked"
    slow = filled(("second_phase: no", "second_phase: yes"), (RATE, "fill_rate_max: 7 m3/h"))
    assert verdict(slow) is Verdict.SUITS
    assert "filling:two-phases" in keys(slow)


def test_a_conducting_liquid_asks_for_no_bore() -> None:
    """Above 10000 pS/m (from memory) the bore decides nothing; splashing is still warned of."""
    study = filled((CONDUCTIVITY, "200 nS/m"), (f"  {BORE}\n  central_conductor: no\n", ""))
    assert not [path for question in study.questions if (path := question.path).startswith("filling")]
    assert keys(study) == set()
    assert "filling-velocity" not in {check.key for check in study.checks}
    falling = filled((CONDUCTIVITY, "200 nS/m"), ("inlet: bottom", 'inlet: "top, falling freely"'))
    assert keys(falling) == {"filling:falling"}


@pytest.mark.parametrize(
    ("stated", "word"), [("49 pS/m", "low"), ("51 pS/m", "medium"), ("9.9 nS/m", "medium"), ("10.1 nS/m", "high")]
)
def test_the_words_of_conductivity(stated: str, word: str) -> None:
    """Low below 50 pS/m, high above 10000 pS/m: from memory."""
    chapter = filled((CONDUCTIVITY, stated)).safe.filling
    assert chapter is not None
    assert chapter.conductivity == word


def verdicts(study: Study) -> dict[str, Verdict]:
    """The comparisons of the velocities by key."""
    return {check.key: check.verdict for check in study.checks if check.key.startswith("filling-")}


CONDUCTING = (CONDUCTIVITY, "200 nS/m")


def test_the_velocity_of_a_conducting_liquid_is_shown_and_judged_by_what_holds_for_every_liquid() -> None:
    """7 m/s once the inlet is covered, 1 m/s until then (NFPA 77 and TRGS 727, read): by 4 Q/(pi d^2)."""
    study = filled(CONDUCTING)
    close(study.value("filling.velocity"), 4 * 12 / 3600 / (pi * 0.05**2), 1e-12, "rounding")
    assert verdicts(study) == {"filling-start": Verdict.SUITS, "filling-velocity": Verdict.SUITS}
    assert study.safe.filling is not None
    assert study.safe.filling.row is None
    assert "filling.velocity_times_bore" not in study.sheet
    fast = filled(CONDUCTING, (RATE, "fill_rate_max: 50 m3/h"))
    assert verdicts(fast)["filling-velocity"] is Verdict.DOES_NOT_SUIT, "7.07 m/s"
    assert fast.order == "blocked"
    assert verdicts(filled(CONDUCTING, (RATE, "fill_rate_max: 49 m3/h")))["filling-velocity"] is Verdict.SUITS


def test_a_bore_written_out_as_unknown_is_asked_of_a_conducting_liquid_too() -> None:
    study = filled(CONDUCTING, (BORE, "pipe_bore: unknown"))
    assert {question.path for question in study.questions} == {"filling.pipe_bore"}
    assert set(verdicts(study).values()) == {Verdict.UNDECIDED}


@pytest.mark.parametrize("conductivity", [CONDUCTIVITY, "200 nS/m"])
@pytest.mark.parametrize(
    ("start", "outcome"),
    [("7 m3/h", Verdict.SUITS), ("7.1 m3/h", Verdict.DOES_NOT_SUIT), ("none", Verdict.DOES_NOT_SUIT)],
)
def test_the_limit_of_the_start_is_judged(conductivity: str, start: str, outcome: Verdict) -> None:
    """1 m/s in 50 mm is 7.069 m3/h; none is one rate for the whole filling, 12 m3/h."""
    study = filled((CONDUCTIVITY, conductivity), (START, f"start_rate: {start}"))
    assert verdicts(study)["filling-start"] is outcome
    assert (study.order == "blocked") is (outcome is Verdict.DOES_NOT_SUIT)


@pytest.mark.parametrize("conductivity", [CONDUCTIVITY, "200 nS/m"])
def test_a_rate_of_the_start_that_is_not_known_is_asked_where_it_decides(conductivity: str) -> None:
    common = (CONDUCTIVITY, conductivity), (f"  {START}", "  # ")
    study = filled(*common)
    assert {question.path for question in study.questions} == {"filling.start_rate"}
    assert verdicts(study)["filling-start"] is Verdict.UNDECIDED
    assert study.order == "waits for answers"
    slow = filled(*common, (RATE, "fill_rate_max: 7 m3/h"), ("fill_rate_now: 9", "fill_rate_now: 6"))
    assert not slow.questions
    assert verdicts(slow)["filling-start"] is Verdict.SUITS


def test_a_start_faster_than_the_filling_is_a_fault() -> None:
    study = filled((START, "start_rate: 13 m3/h"))
    assert {fault.path for fault in study.faults} == {"filling.start_rate"}


def test_without_a_zone_inside_nothing_is_asked_of_the_filling() -> None:
    study = filled(('inside: "0"', "inside: none"), (f"  {BORE}\n", ""), ("  inlet: bottom\n", ""))
    assert study.safe.filling is None
    assert not [question for question in study.questions if question.path.startswith("filling")]
