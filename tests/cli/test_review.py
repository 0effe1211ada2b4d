"""`onedatum review`: a whole run with its files, what it prints, and input that is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from onedatum.jobs.review import Asked, review, zoomed
from onedatum.jobs.review_paper import chart_of
from onedatum.paper.review.chart import log_svg
from onedatum.paper.review.model import LogChart
from tests.cli.run import ROOT, onedatum
from tests.pdf import pages_of

CASE = ROOT / "examples" / "spirit_receiver.yaml"
MAP = """mapping: 1
time: {column: time, form: iso, zone: UTC}
value: {column: pv, unit: mA}
"""
ROWS = 3 * 1440
BROKEN = range(2000, 2030)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three days at rest, with half an hour without current, dips and a movement that was not made."""
    place = tmp_path_factory.mktemp("review")
    random = np.random.default_rng(20260418)
    current = 12.0 + 0.004 * random.standard_normal(ROWS)
    lines = [
        f"2026-02-{1 + m // 1440:02}T{m // 60 % 24:02}:{m % 60:02}:00,{0.0 if m in BROKEN else current[m]:.3f}"
        for m in range(ROWS)
    ]
    (place / "log.csv").write_text("time,pv\n" + "\n".join(lines) + "\n", encoding="utf-8")
    (place / "map.yaml").write_text(MAP, encoding="utf-8")
    (place / "dips.csv").write_text("time,level\n2026-02-02T12:00:00Z,1450 mm\n", encoding="utf-8")
    moved = "from,to,volume\n2026-02-03T06:00:00Z,2026-02-03T06:40:00Z,0.5 m3\n"
    (place / "moved.csv").write_text(moved, encoding="utf-8")
    return place


def words(folder: Path, *more: str) -> tuple[str, ...]:
    return "review", str(folder / "log.csv"), "--case", str(CASE), "--map", str(folder / "map.yaml"), *more


def test_a_run_prints_data_and_writes_paper_text_and_data(folder: Path) -> None:
    beside = ("--dips", str(folder / "dips.csv"), "--movements", str(folder / "moved.csv"))
    done = onedatum(*words(folder, *beside, "--json", "--strict", "--out", str(folder / "out")))
    assert done.code == 1
    told = json.loads(done.out)
    assert [each["kind"] for each in told["findings"]] == ["wire_break", "stuck"]
    broken, stuck = told["findings"]
    assert broken["from"] == "2026-02-02T09:20:00+00:00"
    assert broken["statistic"]["value"] == 0.0
    assert broken["false_alarms"]["per_year"] == 0.0
    assert stuck["statistic"]["value"] < stuck["statistic"]["limit"]
    assert any("usable dip" in each for each in told["not_judged"])
    assert json.loads((folder / "out" / "spirit_receiver-review.json").read_text(encoding="utf-8")) == told
    paper = " ".join(" ".join(pages_of((folder / "out" / "spirit_receiver-review.pdf").read_bytes())).split())
    for said in ("no current: below what any transmitter sends", "Not judged", "What was looked for", "NE 43"):
        assert said in paper


def test_a_paper_has_no_heading_over_nothing(folder: Path, tmp_path: Path) -> None:
    """Of the example no finding rests on a formula: failure current and a clock set forward."""
    logs = ROOT / "examples" / "logs"
    named = [
        str(logs / "spirit_receiver_day.csv"),
        "--case",
        str(CASE),
        "--map",
        str(logs / "spirit_receiver_map.yaml"),
    ]
    done = onedatum("review", *named, "--out", str(tmp_path))
    assert done.code == 0 and "2 findings" in done.out
    beside = ("--movements", str(folder / "moved.csv"), "--out", str(tmp_path / "stuck"))
    assert onedatum(*words(folder, *beside)).code == 0
    without, having = (
        pages_of((place / "spirit_receiver-review.pdf").read_bytes()) for place in (tmp_path, tmp_path / "stuck")
    )
    assert not any("Formulas" in page for page in without)
    assert any("Formulas" in page for page in having)


def test_without_dips_and_movements_it_says_what_is_not_judged(folder: Path) -> None:
    done = onedatum(*words(folder))
    assert done.code == 0
    assert "No dips: bias, drift" in done.out
    assert "No movements: the balance" in done.out
    assert "never its cause" in done.out


def test_the_columns_of_a_picture_are_those_of_the_rows(folder: Path) -> None:
    """The whole log from its blocks, and an hour of it from its rows, against the rows."""
    asked = Asked((folder / "log.csv",), CASE, folder / "map.yaml")
    found = review(asked)
    seen = found.bench.seen
    middle = (seen.first_us + seen.last_us) // 2
    hour = zoomed(asked, middle, middle + 3_600_000_000, 60)
    assert np.count_nonzero(np.isfinite(hour.low_m)) >= 59
    assert np.nanmin(found.picture.low_m) == pytest.approx(np.nanmin(seen.series.columns["min_m"]))
    assert np.nanmin(hour.low_m) >= np.nanmin(found.picture.low_m)
    assert np.nanmax(hour.high_m) <= np.nanmax(found.picture.high_m)
    assert log_svg(chart_of(found)).startswith("<svg")


def test_a_picture_without_levels_is_a_sentence() -> None:
    assert "No chart" in log_svg(LogChart(1.0, "", (), (), ()))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (("--map", "none.yaml"), "none.yaml"),
        (("--dips", "none.csv"), "time,level"),
        (("--movements", "map.yaml"), "from"),
        (("--case", "none.yaml"), "none.yaml"),
    ],
)
def test_what_is_wrong_is_told_with_its_remedy(changed: tuple[str, str], said: str, folder: Path) -> None:
    option, name = changed
    done = onedatum(*words(folder, option, str(folder / name)))
    assert done.code == 2
    assert said in done.err
    assert "Traceback" not in done.err + done.out


def test_a_log_without_one_row_is_refused(folder: Path) -> None:
    (folder / "empty.csv").write_text("time,pv\n", encoding="utf-8")
    done = onedatum("review", str(folder / "empty.csv"), "--case", str(CASE), "--map", str(folder / "map.yaml"))
    assert done.code == 2
    assert "rows that can be read" in done.err


def test_rows_that_are_set_aside_are_said_before_anything_else(folder: Path) -> None:
    rows = (folder / "log.csv").read_text(encoding="utf-8").splitlines()
    bad = [line if place % 9 or not place else f"{line.split(',')[0]},Bad" for place, line in enumerate(rows)]
    (folder / "bad.csv").write_text("\n".join(bad) + "\n", encoding="utf-8")
    done = onedatum("review", str(folder / "bad.csv"), "--case", str(CASE), "--map", str(folder / "map.yaml"))
    assert done.code == 0
    assert "note: Set aside, the value is not a plain number: 480 rows." in done.out
    assert "rejects.csv" in done.out


def test_a_log_that_stands_on_its_head_says_why_nothing_is_left(folder: Path) -> None:
    head, *rows = (folder / "log.csv").read_text(encoding="utf-8").splitlines()
    (folder / "turned.csv").write_text("\n".join([head, *rows[::-1]]) + "\n", encoding="utf-8")
    done = onedatum("review", str(folder / "turned.csv"), "--case", str(CASE), "--map", str(folder / "map.yaml"))
    assert "Nothing is judged, of 1 row: fewer than 100 tell nothing" in done.out
    assert f"out of order: a later time of this tag stands before it: {ROWS - 1} rows" in done.out


def test_a_movement_larger_than_the_tank_is_refused_in_its_place(folder: Path) -> None:
    moved = "from,to,volume\n2026-02-03T06:00:00Z,2026-02-03T06:40:00Z,5000 m3\n"
    (folder / "huge.csv").write_text(moved, encoding="utf-8")
    done = onedatum(*words(folder, "--movements", str(folder / "huge.csv")))
    assert done.code == 2
    assert "huge.csv:2:1: volume must be at most 5.749 m3" in done.err
    assert "Look at number and unit" in done.err


def test_a_dip_above_the_vessel_is_refused_in_its_place(folder: Path) -> None:
    """The vessel of the example is 3.02 m high."""
    (folder / "deep.csv").write_text("time,level\n2026-02-02T12:00:00Z,13 m\n", encoding="utf-8")
    done = onedatum(*words(folder, "--dips", str(folder / "deep.csv")))
    assert done.code == 2
    assert "deep.csv:2:1: level must be from -0.060 m to 3.080 m; got '13 m'" in done.err


def test_three_dips_say_what_they_show_and_claim_nothing(folder: Path) -> None:
    """The reading is 1.45 m; dips at 1.25 m."""
    lines = [f"2026-02-01T{hour:02}:00:00Z,1250 mm" for hour in (6, 12, 18)]
    (folder / "three.csv").write_text("\n".join(["time,level", *lines, ""]), encoding="utf-8")
    done = onedatum(*words(folder, "--dips", str(folder / "three.csv")))
    assert done.code == 0
    assert "3 usable dips: at least 4 are needed" in done.out
    [note] = [line for line in done.out.splitlines() if line.startswith("note: Gauge less dip")]
    for hour in ("06", "12", "18"):
        assert f"mm at 2026-02-01T{hour}:00:00+00:00" in note
    assert note.count("+200.") + note.count("+199.") == 3
    assert "No claim" in note


def test_a_few_rows_tell_nothing_and_say_so(folder: Path) -> None:
    (folder / "few.csv").write_text("time,pv\n2026-02-01T00:00:00,12\n2026-02-01T00:01:00,\n", encoding="utf-8")
    done = onedatum("review", str(folder / "few.csv"), "--case", str(CASE), "--map", str(folder / "map.yaml"))
    assert done.code == 0
    assert done.out.startswith("LT-201: 1 row, not judged, from")
    assert "fewer than 100 tell nothing" in done.out
    assert "stands out" not in done.out
    assert "0 findings" not in done.out
