"""Which part of a log is shown, where the doors lead, and what cannot be typed; ticks of time against the calendar."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.parse import parse_qs

import numpy as np
import pytest

from onedatum.foundation.errors import NotRecorded
from onedatum.jobs.page.review import Chosen, FindingView, Shown
from onedatum.jobs.page.review_chart import Asked, chart_view, span_of
from onedatum.logs.review.kept import Keeping
from onedatum.logs.review.rows import AT_LOW, FAILED_HIGH, MEASURED, Rows
from onedatum.paper.review.times import STEPS_us, text_of, time_ticks
from tests.web.markup import read

FIRST_us = 1_772_323_200_000_000  # 2026-03-01 00:00 UTC, by date -u
MINUTE_us = 60_000_000
COUNT = 2000
CHOSEN = Chosen(("a&b <x>.csv",), "map.yaml")
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(2)>'


def finding(number: int, begin: int, end: int, title: str = "the reading stands still") -> FindingView:
    at, to = FIRST_us + begin * MINUTE_us, FIRST_us + end * MINUTE_us
    return FindingView(number, title, at, to, "then", "said", "statistic", "alarms", ("one",), "next")


SHOWN = Shown(
    key="key",
    title="LT-1",
    basis="rows",
    findings=(finding(1, 100, 160), finding(2, 0, COUNT - 1, HOSTILE)),
    nothing_said="Nothing stands out.",
    not_judged=(),
    notes=(),
    cautions=("caution",),
    first_us=FIRST_us,
    last_us=FIRST_us + (COUNT - 1) * MINUTE_us,
    usual_us=float(MINUTE_us),
    gaps=((FIRST_us + 300 * MINUTE_us, FIRST_us + 400 * MINUTE_us),),
    dips=((FIRST_us + 50 * MINUTE_us, 1.5),),
    has_level=True,
    has_current=True,
)


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Rows of a level of 1 m, some of them none, some of them bounds."""
    folder = tmp_path_factory.mktemp("kept")
    kind = np.full(COUNT, MEASURED, dtype=np.int8)
    kind[500:600], kind[700:800] = FAILED_HIGH, AT_LOW
    level = np.where(kind == MEASURED, 1.0 + 0.001 * np.arange(COUNT), np.nan)
    time_us = FIRST_us + np.arange(COUNT) * MINUTE_us
    there = (time_us <= FIRST_us + 300 * MINUTE_us) | (time_us >= FIRST_us + 400 * MINUTE_us)
    keeping = Keeping(folder / "key")
    keeping.put(Rows(time_us[there], level[there], kind[there], np.full(COUNT, 0.012)[there]))
    keeping.done()
    return folder


@pytest.mark.parametrize(
    ("begin", "end", "from_min", "to_min"),
    [
        ("", "", 0, COUNT - 1),
        ("2026-03-01 01:00", "2026-03-01T02:00:00Z", 60, 120),
        ("2026-03-01T02:00:00+01:00", "", 60, COUNT - 1),
        ("1970-01-01", "2026-03-01 01:00", 0, 60),
        ("2026-03-01 01:00", "2026-03-01 01:00:01", 55.5 + 1 / 120, 65.0 - 0.5 + 60 / 60.0 + 1 / 120),
        ("2026-03-01 01:00", "9999-12-31", 60, COUNT - 1),
        (str(FIRST_us + 60 * MINUTE_us), "2026-03-01 02:00", 60, 120),
    ],
)
def test_a_part_lies_in_the_log_and_is_no_shorter_than_ten_rows(
    begin: str, end: str, from_min: float, to_min: float
) -> None:
    low, high, faults = span_of(SHOWN, Asked(begin, end))
    assert faults == {}
    assert SHOWN.first_us <= low < high <= SHOWN.last_us
    if end != "2026-03-01 01:00:01":
        assert ((low - FIRST_us) / MINUTE_us, (high - FIRST_us) / MINUTE_us) == (from_min, to_min)
    else:
        assert high - low == 10 * MINUTE_us and low < FIRST_us + 60 * MINUTE_us < high


@pytest.mark.parametrize(
    ("begin", "end", "fields"),
    [
        ("x", "", {"from"}),
        ("nan", "inf", {"from", "to"}),
        ("2026-02-30", "", {"from"}),
        ("2026-03-01 02:00", "2026-03-01 01:00", {"to"}),
        ("2026-03-01 01:00", "2026-03-01 01:00", {"to"}),
        ("1999-01-01", "1999-01-02", {"from"}),
        ("0001-01-01T00:00:00+23:59", "", set()),
        ("9999-12-31T23:59:59-23:59", "", {"to"}),
        (HOSTILE, "", {"from"}),
        ("٣" * 14, "", {"from"}),
    ],
)
def test_what_is_no_part_of_the_log_is_told_at_its_field(begin: str, end: str, fields: set[str], place: Path) -> None:
    _, _, faults = span_of(SHOWN, Asked(begin, end))
    assert set(faults) == fields
    view = chart_view(SHOWN, CHOSEN, place, Asked(begin, end))
    assert all(words.endswith(".") and "must be" in words for words in view.faults.values())


def parts(query: str) -> dict[str, list[str]]:
    return parse_qs(query, strict_parsing=True)


def test_doors_lead_where_they_say(place: Path) -> None:
    view = chart_view(SHOWN, CHOSEN, place, Asked("2026-03-01 10:00", "2026-03-01 12:00"))
    doors = {each.key: parts(each.query) for each in view.doors}
    assert (doors["earlier"]["from"], doors["earlier"]["to"]) == (["2026-03-01 09:00"], ["2026-03-01 11:00"])
    assert (doors["later"]["from"], doors["later"]["to"]) == (["2026-03-01 11:00"], ["2026-03-01 13:00"])
    assert (doors["closer"]["from"], doors["closer"]["to"]) == (["2026-03-01 10:30"], ["2026-03-01 11:30"])
    assert (doors["wider"]["from"], doors["wider"]["to"]) == (["2026-03-01 09:00"], ["2026-03-01 13:00"])
    assert "from" not in doors["whole"]
    assert all((each["log"], each["map"]) == ([CHOSEN.logs[0]], ["map.yaml"]) for each in doors.values())


def test_at_the_ends_of_the_log_doors_lead_nowhere(place: Path) -> None:
    closed = {each.key for each in chart_view(SHOWN, CHOSEN, place, Asked()).doors if not each.query}
    assert closed == {"earlier", "later", "wider", "whole"}
    closest = chart_view(SHOWN, CHOSEN, place, Asked("2026-03-01 10:00", "2026-03-01 10:10"))
    assert {each.key for each in closest.doors if not each.query} == {"closer"}


def test_a_finding_leads_to_its_time_with_something_on_either_side(place: Path) -> None:
    first = chart_view(SHOWN, CHOSEN, place, Asked())
    led = parts(first.hrefs[1].removeprefix("?"))
    there = chart_view(SHOWN, CHOSEN, place, Asked(led["from"][0], led["to"][0]))
    assert there.here == 1 and first.here == 0
    assert there.from_us < SHOWN.findings[0].from_us and there.to_us > SHOWN.findings[0].to_us


@pytest.mark.parametrize("wide_px", [-5, 0, 300, 862, 10**9])
@pytest.mark.parametrize("show", ["level", "current"])
def test_the_picture_is_whole_markup_whatever_the_width(place: Path, wide_px: int, show: str) -> None:
    view = chart_view(SHOWN, CHOSEN, place, Asked(show="current" if show == "current" else "level", wide_px=wide_px))
    found = read(view.svg.svg)
    assert found.faults == []
    assert HOSTILE not in view.svg.svg and "<script" not in view.svg.svg
    words = " ".join(view.svg.svg.split())
    assert 'role="group"' in words and "1 the reading stands still" in words
    assert ("log-log-gap" in words) and (show != "level" or "log-log-failed" in words)


def test_a_while_without_level_and_a_bound_have_marks_of_their_own(place: Path) -> None:
    gap, failed, bound, calm = (
        chart_view(
            SHOWN, CHOSEN, place, Asked(text_of(FIRST_us + a * MINUTE_us), text_of(FIRST_us + b * MINUTE_us))
        ).svg.svg
        for a, b in ((280, 420), (490, 610), (690, 810), (900, 1100))
    )
    assert "no rows" in gap and "no level" not in gap
    assert "no level" in failed and "no rows" not in failed
    assert "this or lower" in bound and "this or higher" not in bound
    assert not any(words in calm for words in ("no rows", "no level", "this or"))


def test_rows_that_are_gone_are_told(tmp_path: Path) -> None:
    with pytest.raises(NotRecorded, match="Review the log again"):
        chart_view(SHOWN, CHOSEN, tmp_path, Asked())


@pytest.mark.parametrize("days", [1e-4, 0.01, 0.3, 1, 9, 70, 500, 9000])
def test_ticks_stand_at_whole_times_of_the_calendar_and_apart(days: float) -> None:
    """Against the calendar of Python's datetime."""
    span_us = days * 86_400e6
    ticks = list(time_ticks(FIRST_us + 12_345_678, FIRST_us + 12_345_678 + span_us, 800.0 / span_us, 78.0))
    assert 1 <= len(ticks) <= 11
    apart = np.diff([us for us, _ in ticks])
    assert all(each in STEPS_us for each in apart.tolist())
    for us, words in ticks:
        moment = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(microseconds=us)
        assert words in {
            moment.strftime("%H:%M:%S"),
            moment.strftime("%H:%M"),
            f"{moment.day} {moment:%b}",
            f"{moment.day} {moment:%b} {moment.year}",
        }


def test_ticks_and_times_beyond_the_calendar_end_nothing() -> None:
    assert list(time_ticks(9e18, 9.1e18, 1e-15, 78.0)) == []
    assert text_of(9 * 10**18) == str(9 * 10**18)
    assert text_of(FIRST_us) == "2026-03-01 00:00"
    assert text_of(FIRST_us + 1_500_000) == "2026-03-01 00:00:01.500"
