"""Laws of a verdict, whatever the numbers; and whatever comes, it is judged whole or refused with its faults."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.errors import Fault
from onedatum.physics.uncertainty import conformance_probability
from onedatum.proving import (
    RULES,
    Plan,
    ProvingError,
    Reading,
    Rule,
    Run,
    Tolerance,
    as_data,
    from_data,
    history_of,
    judge,
)
from onedatum.proving.judged import Judged
from onedatum.proving.rules import WORDS
from tests.draws import DRAWS
from tests.proving.runs import METER, MM, even, plan_of, run_of, within

PLAN = plan_of(cycles=1)
SMALL = st.floats(0.0, 0.05)
RULE = st.builds(Rule, st.sampled_from(RULES), st.floats(0.0, 3.0))


def gravity(rule: Rule, error_m: float, tolerance: Tolerance, guard_m: float) -> int:
    return WORDS.index(rule.word(error_m, tolerance, guard_m))


@given(rule=RULE, error_m=SMALL, more_m=SMALL, guard_m=SMALL, limit_mm=st.floats(0.1, 50.0))
def test_a_larger_error_is_never_judged_more_kindly(
    rule: Rule, error_m: float, more_m: float, guard_m: float, limit_mm: float
) -> None:
    tolerance = within(limit_mm)
    for sign in (1.0, -1.0):
        less, more = (gravity(rule, sign * size, tolerance, guard_m) for size in (error_m, error_m + more_m))
        assert less <= more


@given(error_m=st.floats(-0.05, 0.05), guard_m=SMALL, more_m=SMALL, limit_mm=st.floats(0.1, 50.0))
def test_knowing_less_never_makes_a_bare_pass(error_m: float, guard_m: float, more_m: float, limit_mm: float) -> None:
    """Nor a bare fail: with a wider guard band both words become rarer."""
    tolerance, rule = within(limit_mm), Rule()
    known, less = (WORDS[gravity(rule, error_m, tolerance, g)] for g in (guard_m, guard_m + more_m))
    assert known == "pass" or less != "pass"
    assert known == "fail" or less != "fail"


@given(error_m=st.floats(-0.05, 0.05), u_m=st.floats(1e-5, 0.01), limit_mm=st.floats(0.1, 50.0))
def test_words_and_probabilities_agree(error_m: float, u_m: float, limit_mm: float) -> None:
    """One limit, U of 2u: a pass has 97.7 % or more, a conditional pass a half or more, a fail less than 2.3 %."""
    tolerance = Tolerance(None, limit_mm * MM)
    word = Rule().word(error_m, tolerance, 2.0 * u_m)
    p = conformance_probability(error_m, u_m, None, tolerance.high_m)
    least = {"pass": 0.9772, "conditional pass": 0.4999, "conditional fail": 0.0227, "fail": 0.0}[word]
    most = {"pass": 1.0, "conditional pass": 0.9773, "conditional fail": 0.5001, "fail": 0.0228}[word]
    assert least <= p <= most


ANY = st.floats() | st.none()
NEAR = st.floats(0.0, 3.2) | ANY
READING = st.builds(
    Reading,
    st.integers(-2, 5),
    st.sampled_from(["up", "down"]),
    NEAR,
    st.floats(0.0, 0.025) | ANY,
    st.floats(0.0, 0.025) | ANY,
    NEAR,
)


def judged_or_faults(plan: Plan, run: Run) -> Judged | tuple[Fault, ...]:
    try:
        return judge(plan, run)
    except ProvingError as error:
        return error.faults


@settings(max_examples=DRAWS)
@given(
    number=st.integers(0, 9),
    reading=READING,
    expanded_m=st.floats(),
    digit_m=st.floats(),
    k=st.floats(),
    shown_digit_m=st.floats() | st.just(0.0),
)
def test_whatever_was_read_is_judged_or_refused(
    number: int, reading: Reading, expanded_m: float, digit_m: float, k: float, shown_digit_m: float
) -> None:
    run = run_of(PLAN, even(1.0), meter=METER, shown_digit_m=shown_digit_m)
    readings = [*run.readings[:number], reading, *run.readings[number + 1 :]]
    other = replace(run.reference, expanded_m=expanded_m, digit_m=digit_m, k=k)
    for changed in (replace(run, readings=tuple(readings)), replace(run, reference=other)):
        assert judged_or_faults(PLAN, changed)


@settings(max_examples=DRAWS)
@given(errors=st.lists(st.floats(-5.0, 5.0), min_size=10, max_size=10))
def test_a_verdict_never_forgets_its_worst_reading(errors: list[float]) -> None:
    """Whatever the readings are, the run is no better than its largest error alone would be."""
    rows = iter(errors)
    judged = judge(PLAN, run_of(PLAN, lambda share, direction, cycle: 10.0 * next(rows)))
    worst_m = max(abs(10.0 * MM * error) for error in errors)
    alone = max(gravity(judged.rule, sign * worst_m, judged.tolerance, judged.guard_m) for sign in (1.0, -1.0))
    assert WORDS.index(judged.verdict) == alone
    assert from_data(as_data(judged)) == judged


JUDGED = replace(judge(PLAN, run_of(PLAN, even(1.0))), sheet=())
POINT = st.builds(
    replace,
    st.sampled_from(JUDGED.points),
    least_error_m=st.none() | st.floats(-1e3, 1e3),
    greatest_error_m=st.none() | st.floats(-1e3, 1e3),
    average_error_m=st.none() | st.floats(-1e3, 1e3),
)


def past_or_faults(runs: list[Judged]) -> Any:
    try:
        return history_of(runs)
    except ProvingError as error:
        return error.faults


@settings(max_examples=DRAWS)
@given(
    st.lists(
        st.builds(
            replace,
            st.just(JUDGED),
            kind=st.sampled_from(["as found", "as left"]),
            when=st.datetimes(datetime(2020, 1, 1), datetime(2040, 1, 1)).map(
                lambda at: at.replace(tzinfo=JUDGED.when.tzinfo)
            ),
            standard_u_m=st.floats(-1.0, 1e3),
            guard_m=st.floats(0.0, 1e3),
            verdict=st.sampled_from(WORDS),
            points=st.lists(POINT, max_size=5).map(tuple),
        ),
        min_size=1,
        max_size=8,
    ).map(lambda runs: sorted(runs, key=lambda run: run.when))
)
def test_whatever_was_kept_has_a_history_or_is_refused(runs: list[Judged]) -> None:
    assert past_or_faults(runs)
