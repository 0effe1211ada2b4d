"""Drift, intervals and due dates against a drift that was put in, the worked interval, and the rules by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache
from typing import Any

import pytest

from onedatum.proving import IntervalRule, ProvingError, Tolerance, history_of, judge
from onedatum.proving.judged import Judged
from tests.closeness import close, exact
from tests.proving.runs import BEGIN, MM, plan_of, run_of, within

YEAR_S = 365.0 * 86400.0
ROUNDING = "rounding of a few additions"


@cache
def judged(day: int, error_mm: float, kind: str = "as found", limit_mm: float = 15.0, slope_mm: float = 0.0) -> Judged:
    """A judged run of so many days after the first; the error is that at the middle, its slope over the span."""
    plan = plan_of(cycles=1, tolerance=within(limit_mm))
    when = BEGIN + timedelta(days=day)
    run = run_of(plan, lambda s, d, c: error_mm + slope_mm * (s - 0.5), when=when, kind=kind)
    return judge(plan, run)


def test_drift_runs_from_as_left_to_the_next_as_found() -> None:
    """1.9 mm a year, adjusted back to 1 mm at the end of each: the adjustments are no drift."""
    runs = [
        judged(0, 3.0),
        judged(0, 1.0, "as left"),
        judged(365, 2.9),
        judged(365, 1.0, "as left"),
        judged(730, 2.9),
    ]
    past = history_of(runs)
    assert [drift.name for drift in past.drifts] == ["0 %", "25 %", "50 %", "75 %", "100 %"]
    for drift in past.drifts:
        close(drift.rate_m_per_s * YEAR_S, 1.9 * MM, 1e-9, ROUNDING)
        close(drift.rate_u_m_per_s * YEAR_S, 1.0 * MM, 1e-9, "by hand: u of a change is 1.414 mm, over root two")
        assert drift.changes == 2
    assert not any(drift.told_from_zero for drift in past.drifts), "less than twice its uncertainty"


def test_drift_of_a_slope_shows_at_the_ends() -> None:
    past = history_of([judged(0, 0.0), judged(365, 0.0, slope_mm=8.0)])
    rates = [drift.rate_m_per_s * YEAR_S / MM for drift in past.drifts]
    close(rates, [-4.0, -2.0, 0.0, 2.0, 4.0], 1e-9, ROUNDING)
    assert [drift.told_from_zero for drift in past.drifts] == [True, False, False, False, True]


def test_the_interval_by_drift_counts_what_may_hide_in_it() -> None:
    """By hand: u of a change of 1.414 mm a year; 4 + 2*1.414 mm a year at most; room 15 - 2 - 4 mm."""
    past = history_of([judged(0, 0.0), judged(365, 4.0)])
    by_drift = past.proposals[1]
    assert by_drift.method == "by drift"
    close((by_drift.interval_s or 0.0) / YEAR_S, (15.0 - 2.0 - 4.0) / (4.0 + 2.0 * 2.0**0.5), 1e-9, ROUNDING)


@pytest.mark.parametrize(
    ("error_mm", "factor"),
    [(12.0, 1.25), (12.5, 1.0), (14.5, 1.0), (15.5, 0.5), (30.0, 0.5)],
)
def test_steps_by_what_was_found(error_mm: float, factor: float) -> None:
    """Longer within 80 % of the tolerance (ILAC-G24, from memory), shorter outside it, else as it was."""
    past = history_of([judged(0, 0.0), judged(100, error_mm)])
    close((past.proposals[0].interval_s or 0.0) / 86400.0, 100.0 * factor, 1e-9, ROUNDING)


def test_the_share_found_good() -> None:
    """Six runs a hundred days apart, one of them bad: ln 0.95 over ln(5/6) of the mean interval."""
    runs = [judged(100 * n, 30.0 if n == 2 else 0.0) for n in range(6)]
    share = history_of(runs).proposals[2]
    close((share.interval_s or 0.0) / 86400.0, 28.13, 0.01, "worked by hand to four digits")
    assert "5 of 6" in share.words
    assert history_of(runs[:2]).proposals[2].interval_s is None
    assert "no rate follows" in history_of([judged(100 * n, 0.0) for n in range(6)]).proposals[2].words


def test_the_shortest_interval_counts_and_none_is_longer_than_agreed() -> None:
    runs = [judged(0, 0.0), judged(100, 0.5)]
    past = history_of(runs)
    shortest = min(each.interval_s for each in past.proposals if each.interval_s is not None)
    exact(past.interval_s or 0.0, shortest)
    assert past.due == runs[-1].when + timedelta(seconds=shortest)
    limited = history_of(runs, IntervalRule(longest_s=30.0 * 86400.0))
    assert limited.due == runs[-1].when + timedelta(days=30)


def test_a_bad_last_run_is_due_now() -> None:
    past = history_of([judged(0, 0.0), judged(100, 30.0)])
    assert past.due == past_when(100) and "due now" in past.words[0]
    mended = history_of([judged(0, 0.0), judged(100, 30.0), judged(100, 0.0, "as left")])
    assert mended.due is not None and mended.due > past_when(100)
    close((mended.proposals[0].interval_s or 0.0) / 86400.0, 50.0, 1e-9, "it was found bad, though left good")


def past_when(day: int) -> Any:
    return BEGIN + timedelta(days=day)


def test_one_run_says_nothing_of_intervals() -> None:
    past = history_of([judged(0, 0.0)])
    assert past.interval_s is None and past.due is None and past.drifts == ()
    assert "No method" in past.words[0]
    assert all(each.words for each in past.proposals)


def test_a_clock_that_went_backwards_is_named() -> None:
    with pytest.raises(ProvingError) as caught:
        history_of([judged(0, 0.0), judged(365, 0.0), judged(200, 0.0)])
    (fault,) = caught.value.faults
    assert fault.path == "history[2].when" and "The clock went backwards" in fault.sentence()


def test_a_drift_that_leaves_no_room() -> None:
    past = history_of([judged(0, 0.0), judged(365, 13.5)])
    assert past.proposals[1].interval_s is None and "no room" in past.proposals[1].words


def test_a_changed_case_is_said() -> None:
    other = replace(judged(365, 0.0), case_hash="other")
    assert any("case was changed" in words for words in history_of([judged(0, 0.0), other]).words)


@pytest.mark.parametrize(
    ("runs", "rule", "path"),
    [
        ([], None, "history"),
        ([replace(judged(0, 0.0), tag="LT-9"), judged(1, 0.0)], None, "history[1].tag"),
        ([replace(judged(0, 0.0), when=BEGIN.replace(tzinfo=None))], None, "history[0].when"),
        ([replace(judged(0, 0.0), tolerance=Tolerance(None, None))], None, "tolerance"),
        ([replace(judged(0, 0.0), when=BEGIN.replace(year=9999))], None, "history[0].when"),
        ([replace(judged(0, 0.0), when=BEGIN.replace(year=1))], None, "history[0].when"),
        ([replace(judged(0, 0.0), points=judged(0, 0.0).points * 2)], None, "history[0].points"),
        ([judged(0, 0.0)], IntervalRule(longer=0.5), "interval.longer"),
        ([judged(0, 0.0)], IntervalRule(shorter=float("nan")), "interval.shorter"),
        ([judged(0, 0.0)], IntervalRule(wanted_share=1.0), "interval.wanted_share"),
        ([judged(0, 0.0)], IntervalRule(longest_s=-1.0), "interval.longest_s"),
        ([judged(0, 0.0)], IntervalRule(longest_s=float("inf")), "interval.longest_s"),
    ],
)
def test_a_row_that_makes_no_history_is_refused(runs: list[Judged], rule: IntervalRule | None, path: str) -> None:
    with pytest.raises(ProvingError) as caught:
        history_of(runs, rule)
    assert path in [fault.path for fault in caught.value.faults]


def test_records_that_hold_no_water_do_not_break_it() -> None:
    """Points that tell no level, other levels than before, no uncertainty, two runs at one moment."""
    first, second = judged(0, 0.0), judged(100, 1.0)
    blank = tuple(replace(p, least_error_m=None, greatest_error_m=None, average_error_m=None) for p in second.points)
    moved = tuple(replace(p, level_m=p.level_m + 0.01) for p in second.points)
    for other in (
        replace(second, points=blank),
        replace(second, points=()),
        replace(second, points=moved),
        replace(second, standard_u_m=0.0),
        replace(second, when=first.when),
    ):
        past = history_of([first, other])
        assert past.drifts == ()
        assert past.proposals[1].interval_s is None


def test_a_drift_of_next_to_nothing_has_a_date_all_the_same() -> None:
    """Known to a nanometre, it would take longer than any calendar holds."""
    runs = [replace(judged(day, 0.0), standard_u_m=1e-9, guard_m=0.0) for day in (0, 36_000)]
    past = history_of(runs)
    assert past.due is not None and past.due.year < 2250


def test_an_error_that_never_was_is_kept_apart() -> None:
    """As left needs no as found behind it: two adjustments in a row are one step, not a drift."""
    past = history_of([judged(0, 0.0), judged(10, 5.0, "as left"), judged(20, 5.0, "as left")])
    assert past.drifts == ()
