"""One tag followed: stale is stale, failed is failed, what cannot be is unknown, and levels are those of `convert`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from onedatum.logs.live.follower import Alarm, Follower, Row
from onedatum.logs.live.levelling import Levelling
from onedatum.logs.live.plan import HartSource, TagPlan
from onedatum.logs.live.sample import Reading, Sample
from tests.closeness import close
from tests.logs.rows import example, mapped, worked

PLAN = TagPlan("LT-201", Path("x.yaml"), HartSource("h:1", "h", 1, "", 0), "mA", 2.0)
HH_m = 2.65
BASE_us = 1_800_000_000_000_000


@cache
def levelling() -> Levelling:
    """The tables of the invented spirit receiver: 4 mA at 100 mm, 20 mA at 2800 mm."""
    return Levelling(example(), "mA")


def follower(**changed: Any) -> Follower:
    """A follower of that tank."""
    alarms = (Alarm("HH", HH_m, True), Alarm("LL", 0.2, False))
    return Follower(replace(PLAN, **changed), levelling(), 5.0, 600.0, alarms)


def current_mA(level_m: float) -> float:
    """The line of the range, by hand: 16 mA over 2700 mm from 100 mm."""
    return 4.0 + 16.0 * (level_m - 0.1) / 2.7


def fed(to: Follower, numbers: Iterable[float | None], begin_s: float = 0.0, doubt: str = "no line") -> list[Row]:
    """Take numbers, one each second; None is a reading without a value."""
    return [
        to.take(Sample("LT-201", at(begin_s + second), Reading(each, "" if each is not None else doubt)))
        for second, each in enumerate(numbers)
    ]


def at(second: float) -> int:
    """A time."""
    return BASE_us + int(second * 1e6)


def test_it_says_what_convert_says_of_the_same_current() -> None:
    levels_m = [0.08, 0.7, 1.85, 2.79]
    currents_mA = [current_mA(each) for each in levels_m]
    rows, (converted, _) = fed(follower(), currents_mA), worked(currents_mA, mapped(unit="mA"))
    for level_m, row, other in zip(levels_m, rows, converted, strict=True):
        close(row.amount.level_m, level_m, 1e-9, "rounding of the line of the range")
        assert row.amount.level_m == other["level_m"] and row.amount.flags == other["flags"]
        assert dict(row.amount.quantities) == {key: other[key] for key in row.amount.quantities}
        assert "volume_m3" in row.amount.quantities and "mass_kg" in row.amount.quantities


def test_a_level_grows_old_and_is_then_no_level() -> None:
    tag = follower()
    assert tag.view(at(0)).standing == "nothing yet"
    fed(tag, [12.0])
    assert tag.view(at(5)).standing == "good"
    fed(tag, [None] * 3, 1.0)
    shown = tag.view(at(5.1))
    assert shown.standing == "stale" and shown.amount is None and shown.remark == "no line"
    assert shown.last is not None and shown.last.level_m is not None
    assert shown.last_age_s == 5.1
    assert {each.why for each in shown.outlooks} == {"none: stale"}


def test_a_stopped_watch_of_a_tag_is_stale_without_any_sample() -> None:
    """No row says that nothing came: age alone does."""
    tag = follower()
    fed(tag, [12.0])
    assert tag.view(at(3600)).standing == "stale"


@pytest.mark.parametrize(("value_mA", "state"), [(3.5, "failure_low"), (21.5, "failure_high"), (3.7, "undefined_low")])
def test_a_failure_current_is_at_once_no_level(value_mA: float, state: str) -> None:
    """NAMUR NE 43: below 3.6 and from 21 mA on failure; what lies between that and the measurement is neither."""
    tag = follower()
    fed(tag, [12.0, value_mA])
    shown = tag.view(at(1))
    assert shown.standing == "no measurement" and shown.amount is not None
    assert shown.amount.state == state and shown.amount.level_m is None


@pytest.mark.parametrize(("value_mA", "state"), [(25.5, "no_current_high"), (-0.6, "no_current_low")])
def test_a_current_that_no_loop_carries_ends_the_level_as_a_failure_does(value_mA: float, state: str) -> None:
    """NE 43 (from memory): failure information is all above 21 mA and below 3.6 mA, without a farther end.

    A log sets the row aside all the same: it holds no level.
    """
    tag = follower()
    tag.stale_after_s = 600.0
    _, row = fed(tag, [12.0, value_mA])
    shown = tag.view(at(1))
    assert shown.standing == "no measurement" and shown.amount is not None and shown.amount.state == state
    close(1e3 * (shown.amount.current_A or 0.0), value_mA, 1e-9, "rounding")
    assert shown.amount.level_m is None and set(shown.amount.quantities.values()) == {None}
    assert shown.remark == row.doubt and "no current of a loop" in row.doubt
    assert shown.last is not None and shown.last.level_m is not None
    (known, rejected) = worked([value_mA], mapped(unit="mA"))
    assert not known and rejected[0]["reason"].startswith("no current of a loop")
    fed(tag, [12.0], 2.0)
    assert tag.view(at(2)).standing == "good"


@pytest.mark.parametrize(("value_mA", "standing"), [(3.8, "at or below"), (20.5, "at or above")])
def test_a_signal_at_its_end_is_a_bound_and_has_no_forecast(value_mA: float, standing: str) -> None:
    tag = follower()
    fed(tag, [value_mA])
    shown = tag.view(at(1))
    assert shown.standing == standing
    assert all(each.earliest_s is None for each in shown.outlooks)


def test_never_a_value_is_unknown() -> None:
    tag = follower()
    (row,) = fed(tag, [None])
    assert tag.view(at(1)).standing == "unknown"
    assert row.amount.level_m is None and row.doubt == "no line"


def test_the_very_same_number_for_too_long_is_stale_where_that_is_stated() -> None:
    frozen, resting = follower(frozen_after_s=20.0), follower()
    rows = fed(frozen, [12.0] * 40)
    assert all(row.amount.level_m is not None for row in rows[:20])
    assert all(row.amount.level_m is None and "frozen" in row.doubt for row in rows[20:])
    assert frozen.view(at(39)).standing == "stale"
    fed(resting, [12.0] * 40)
    assert resting.view(at(39)).standing == "good"


def test_what_stood_still_before_the_watch_began_counts() -> None:
    """A source that froze 15 s before is told 5 s after, not 20 s after; another number is live at once."""
    tag, other = follower(frozen_after_s=20.0), follower(frozen_after_s=20.0)
    for each in (tag, other):
        each.remember(12.0, None, at(-15))
    rows = fed(tag, [12.0] * 8)
    assert [row.amount.level_m is None for row in rows] == [False] * 5 + [True] * 3
    assert all(row.amount.level_m is not None for row in fed(other, [12.001] * 19))


@pytest.mark.parametrize(("beside_mA", "denies"), [(None, True), (12.0, True), (None, False)])
def test_what_was_no_reading_is_no_standing_still(beside_mA: float | None, denies: bool) -> None:
    """Five seconds of 12 mA, 95 s of a bad status or of nothing, 12 mA: seen still for 4 s and one interval.

    With every second reading lost a source that froze is told all the same, in twice the time.
    """
    tag, holed = follower(frozen_after_s=60.0), follower(frozen_after_s=60.0)
    fed(tag, [12.0] * 5)
    for second in range(5, 100):
        tag.take(Sample("LT-201", at(second), Reading(beside_mA, "bad", denies_level=denies)))
    rows = fed(tag, [12.0] * 60, 100.0)
    assert [row.amount.level_m is None for row in rows] == [False] * 55 + [True] * 5
    rows = fed(holed, [12.0, None] * 63)[::2]
    assert [row.amount.level_m is None for row in rows] == [False] * 60 + [True] * 3


def test_another_number_that_the_source_disowns_is_no_standing_still() -> None:
    tag = follower(frozen_after_s=20.0)
    fed(tag, [12.0] * 15)
    tag.take(Sample("LT-201", at(15), Reading(11.0, "bad", denies_level=True)))
    assert all(row.amount.level_m is not None for row in fed(tag, [12.0] * 20, 16.0))


def test_a_failure_current_that_stands_is_no_frozen_source() -> None:
    """NE 43: failure information is held, at the very same current, for as long as the failure lasts."""
    tag = follower(frozen_after_s=20.0)
    fed(tag, [3.5] * 60)
    shown = tag.view(at(59))
    assert shown.standing == "no measurement" and shown.amount is not None and shown.amount.state == "failure_low"


def test_a_number_that_the_device_disowns_tells_a_state_and_never_a_level() -> None:
    tag = follower()
    level, failed = (
        tag.take(Sample("LT-201", at(0), Reading(value, "a fault in itself", denies_level=True)))
        for value in (12.0, 3.5)
    )
    assert level.amount.level_m is None and level.amount.current_A is None
    assert level.doubt == "a fault in itself; beside it stands 12 mA"
    assert failed.amount.state == "failure_low" and failed.amount.level_m is None


@pytest.mark.parametrize(
    ("value_mA", "standing"),
    [(None, "no level"), (12.0, "no level"), (3.6, "no measurement"), (21.5, "no measurement")],
)
def test_what_a_source_says_of_itself_is_news_of_now_and_no_silence(value_mA: float | None, standing: str) -> None:
    """NE 43: a failure that is told ends the level at once; the last one is told with its age, as what it was."""
    tag = follower()
    tag.stale_after_s = 600.0
    fed(tag, [12.0] * 3)
    tag.take(Sample("LT-201", at(3), Reading(value_mA, "BadSensorFailure", denies_level=True)))
    shown = tag.view(at(4))
    assert shown.standing == standing and shown.remark.startswith("BadSensorFailure")
    assert shown.amount is not None and shown.amount.level_m is None and not shown.amount.quantities.get("volume_m3")
    assert shown.rate_m_per_s is None and {each.why for each in shown.outlooks} == {f"none: {standing}"}
    assert shown.last is not None and shown.last.level_m is not None and shown.last_age_s == 2.0
    fed(tag, [None], 4.0)
    assert tag.view(at(5)).standing == standing, "silence after it tells nothing new"
    assert tag.view(at(604)).standing == "stale"
    fed(tag, [12.0], 605.0)
    assert tag.view(at(605)).standing == "good"


def test_a_disowned_number_confirms_no_jump() -> None:
    tag = follower(fastest_m_per_s=0.005)
    for second in range(2):
        tag.take(Sample("LT-201", at(second), Reading(12.0, "bad", denies_level=True)))
    rows = fed(tag, [12.0] * 3, 2.0)
    assert [row.amount.level_m is None for row in rows] == [True, True, False]


def test_a_failure_current_is_shown_at_once_and_kept_as_one_when_it_is_confirmed() -> None:
    """Random bits within the limits are a failure current at times; where `fastest` is stated one reading is none."""
    tag, plain = follower(fastest_m_per_s=0.005), follower()
    fed(tag, [12.0] * 3)
    rows = []
    for second, value_mA in enumerate([3.5, 12.0, 12.0, 12.0, 3.5, 3.5, 3.5, 3.5], 3):
        rows += fed(tag, [value_mA], float(second))
        assert (tag.view(at(second)).standing == "no measurement") is (value_mA == 3.5 or second < 6)
    assert [bool(row.unconfirmed) for row in rows] == [True, False, False, False, True, True, False, False]
    assert not any(row.unconfirmed for row in fed(plain, [12.0, 3.5])), "nothing is stated that tells what can be"
    told = tag.take(Sample("LT-201", at(20), Reading(21.5, "bad", denies_level=True)))
    assert not told.unconfirmed, "the source says it itself"


def test_a_failure_current_that_wavers_at_a_limit_is_kept() -> None:
    """A fail-low current of 3.6 mA with noise: failure and what lies above it in turn (NE 43), and all of it is one.

    Low and high in turn are none: no device fails so, bits do.
    """
    tag, bits = follower(fastest_m_per_s=0.005), follower(fastest_m_per_s=0.005)
    rows = fed(tag, [12.0] * 3 + [3.59, 3.61] * 8)[3:]
    assert {row.amount.state for row in rows} == {"failure_low", "undefined_low"}
    assert [bool(row.unconfirmed) for row in rows] == [True, True] + [False] * 14
    assert [bool(row.unconfirmed) for row in fed(bits, [3.5, 21.5] * 4 + [3.5, -0.6, 3.7])] == [True] * 10 + [False]


def test_the_order_is_called_wrong_only_where_no_level_was_ever_read() -> None:
    """What the same registers told rightly before is stated rightly: then it is rubbish."""
    tag, rubbish = follower(), Reading(None, "1e30 is outside the limits", hint="with words low first: stated wrongly")
    for second, value_mA in enumerate((None, 3.5)):  # a failure current is no level: rubbish is one as well
        fed(tag, [value_mA], float(second))
        row = tag.take(Sample("LT-201", at(second + 0.5), rubbish))
        assert row.doubt == "1e30 is outside the limits; with words low first: stated wrongly"
    fed(tag, [12.0], 3.0)
    assert tag.take(Sample("LT-201", at(4), rubbish)).doubt == "1e30 is outside the limits"


def test_a_source_that_goes_on_stamping_the_same_number_is_not_frozen() -> None:
    tag = follower(frozen_after_s=20.0)
    rows = [tag.take(Sample("LT-201", at(s), Reading(12.0, "", at(s) - 7_000_000))) for s in range(40)]
    assert all(row.amount.level_m is not None for row in rows)
    assert tag.view(at(39)).source_age_s == 7.0


def test_a_jump_is_doubted_until_it_is_confirmed() -> None:
    """5 mm/s is stated; from 1.45 m to 2.0 m in a second is not to be believed of one reading, nor of two."""
    tag = follower(fastest_m_per_s=0.005)
    steady = fed(tag, [12.0] * 5)
    assert [row.amount.level_m is None for row in steady] == [True, True, False, False, False]
    (spike,) = fed(tag, [current_mA(2.0)], 5.0)
    assert spike.amount.level_m is None and "2 m" in spike.doubt
    back = fed(tag, [12.0] * 3, 6.0)
    assert [row.amount.level_m is None for row in back] == [True, True, False]
    moved = fed(tag, [current_mA(2.0)] * 3, 9.0)
    assert [row.amount.level_m is None for row in moved] == [True, True, False]


def test_rubbish_within_reach_after_a_long_gap_is_not_believed() -> None:
    """After 100 s at 5 mm/s half a metre can be reached: 1.45 m to 1.8 m is no jump, and still one reading is none."""
    tag = follower(fastest_m_per_s=0.005)
    fed(tag, [12.0] * 5)
    fed(tag, [None] * 100, 5.0)
    rows = fed(tag, [current_mA(1.8), None, current_mA(1.3), 12.0, 12.0, 12.0], 105.0)
    assert [row.amount.level_m is None for row in rows] == [True, True, True, True, True, False]


def test_rubbish_that_changes_is_never_confirmed() -> None:
    tag = follower(fastest_m_per_s=0.005)
    fed(tag, [12.0] * 5)
    rows = fed(tag, [5.0, 9.0, 18.0, 6.0, 15.0, 7.0, 19.0], 5.0)
    assert all(row.amount.level_m is None for row in rows)


def test_a_filling_is_forecast_as_a_span_that_holds_the_true_time() -> None:
    """Level rises 0.2 mm/s from 1.0 m: in the shell volume goes with level, so HH comes at (2.65 - L)/0.0002."""
    tag = follower()
    for second in range(0, 700, 4):
        fed(tag, [current_mA(1.0 + 0.0002 * second)], float(second))
    shown = tag.view(at(696))
    high, low = shown.outlooks
    true_s = (HH_m - 1.0 - 0.0002 * 696) / 0.0002
    assert high.earliest_s is not None and high.latest_s is not None and shown.rate_m_per_s is not None
    close(shown.rate_m_per_s.middle, 0.0002, 1e-8, "medians of blocks on a straight line, currents exact")
    # the head bends the last of it: HH stands above the upper tangent line, where the section is smaller
    assert 0.9 * true_s < high.earliest_s < high.latest_s < 1.1 * true_s
    assert low.why == "the level moves away from it"
    later = tag.view(at(701)).outlooks[0]
    close(later.earliest_s, high.earliest_s - 5.0, 1e-6, "the level is 5 s older, and what flows has gone on")
    fed(tag, [None] * 10, 700.0)
    assert all(each.earliest_s is None for each in tag.view(at(710)).outlooks)
