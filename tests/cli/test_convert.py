"""`onedatum convert`: whole runs, runs that were stopped, and input that is wrong."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pyarrow.parquet as pq
import pytest

from onedatum.cli.convert import progress_line
from onedatum.jobs import convert as room
from onedatum.jobs.convert.run import Asked, Converted, run
from onedatum.logs import csv_blocks
from tests.cli.run import ROOT, onedatum

CASE = ROOT / "examples" / "spirit_receiver.yaml"
MAP = """mapping: 1
time: {column: time, form: iso, zone: UTC}
value: {column: pv, unit: mA}
"""


@pytest.fixture
def mapping(tmp_path: Path) -> Path:
    path = tmp_path / "map.yaml"
    path.write_text(MAP, encoding="utf-8")
    return path


def log(path: Path, rows: int = 600, first: int = 0, bad: int = 50) -> Path:
    """A minute a row; every so many rows a text in place of the number."""
    lines = [
        f"2026-02-{1 + m // 1440:02}T{m // 60 % 24:02}:{m % 60:02}:00,{'off' if m % bad == 7 else 4 + m % 16}"
        for m in range(first, first + rows)
    ]
    path.write_text("time,pv\n" + "\n".join(lines) + "\n", encoding="utf-8")
    return path


def quiet(rows: int, share: float) -> None:
    """No progress is shown."""


def converted(out: Path) -> list[dict[str, Any]]:
    """The rows of the parts, file by file."""
    return [row for path in sorted((out / "parts").glob("*.parquet")) for row in pq.read_table(path).to_pylist()]


def rejects(out: Path) -> list[list[str]]:
    with (out / "rejects.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def test_a_log_becomes_a_folder_with_rejects_and_summary(tmp_path: Path, mapping: Path) -> None:
    path, out = log(tmp_path / "log.csv"), tmp_path / "out"
    done = onedatum("convert", str(path), "--case", str(CASE), "--map", str(mapping), "--out", str(out), "--json")
    assert (done.code, done.err) == (0, "")
    told = json.loads(done.out)
    assert told == json.loads((out / "summary.json").read_text(encoding="utf-8"))
    assert (told["rows"], told["converted"], told["rejected"]) == (600, 588, {"the value is not a plain number": 12})
    assert told["span"]["LT-201"] == {"first": "2026-02-01T00:00:00+00:00", "last": "2026-02-01T09:59:00+00:00"}
    assert {gap["length_s"] for gap in told["longest_gaps"]} == {120.0}
    rows, aside = converted(out), rejects(out)
    assert len(rows) == 588 and len(aside) == 13
    assert {row["file"] for row in rows} == {"log.csv"}
    assert aside[1] == ["log.csv", "8", "the value is not a plain number", "2026-02-01T00:07:00", "off", "", ""]
    assert sorted([row["row"] for row in rows] + [int(row[1]) for row in aside[1:]]) == list(range(1, 601))


def test_csv_is_one_file_of_the_same_rows(tmp_path: Path, mapping: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", 4000)
    path = log(tmp_path / "log.csv")
    run(Asked((path,), CASE, None, mapping, tmp_path / "a"), quiet)
    run(Asked((path,), CASE, None, mapping, tmp_path / "b", as_csv=True), quiet)
    with (tmp_path / "b" / "converted.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    rows = converted(tmp_path / "a")
    assert len(list((tmp_path / "b" / "parts").iterdir())) > 3
    for key in ("level_m", "mass_kg", "u_mass_kg", "pure_alcohol_m3"):
        assert [float(line[key]) if line[key] else None for line in lines] == [row[key] for row in rows]


def stopped(asked: Asked, after_rows: int) -> None:
    """A run that is broken off in the midst of a part."""

    def stop(rows: int, share: float) -> None:
        if rows >= after_rows:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        run(asked, stop)


def made(out: Path) -> dict[str, bytes]:
    """Every file of a folder but the summary."""
    return {str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()}


@pytest.fixture
def in_blocks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", 4000)


@pytest.mark.usefixtures("in_blocks")
def test_a_run_that_was_stopped_goes_on_to_the_same_end(tmp_path: Path, mapping: Path) -> None:
    logs = (log(tmp_path / "one.csv"), log(tmp_path / "two.csv", 600, 590))
    whole = run(Asked(logs, CASE, None, mapping, tmp_path / "whole"), quiet)
    asked = Asked(logs, CASE, None, mapping, tmp_path / "out")
    for rows in (150, 400, 800):
        stopped(asked, rows)
    assert not (tmp_path / "out" / "rejects.csv").exists()
    found = run(asked, quiet)
    assert found.kept_parts > 4 and whole.kept_parts == 0
    assert found.tally == whole.tally
    assert made(tmp_path / "out") == made(tmp_path / "whole")
    assert found.tally.rejected["the time stands before it already, of the same tag"] == 1
    again = run(asked, quiet)
    assert again.kept_parts == len(list((tmp_path / "out" / "parts").glob("*.parquet")))
    assert made(tmp_path / "out") == made(tmp_path / "whole")


@pytest.mark.usefixtures("in_blocks")
@pytest.mark.parametrize("what", ["log", "mapping", "part", "manifest"])
def test_what_was_changed_in_between_is_worked_anew(tmp_path: Path, mapping: Path, what: str) -> None:
    path, out = log(tmp_path / "log.csv"), tmp_path / "out"
    asked = Asked((path,), CASE, None, mapping, out)
    first = run(asked, quiet)
    if what == "log":
        log(path, 600, 5)
    elif what == "mapping":
        mapping.write_text(MAP.replace("unit: mA", 'unit: "%"'), encoding="utf-8")
    elif what == "part":
        part = sorted((out / "parts").glob("*.parquet"))[1]
        part.write_bytes(part.read_bytes()[:-1] + b"x")
    else:
        (out / "parts.jsonl").write_text('{"form": 1, "name": ["x"], \n', encoding="utf-8")
    found: Converted = run(asked, quiet)
    run(Asked((path,), CASE, None, mapping, tmp_path / "fresh"), quiet)
    assert found.kept_parts == (len(list((out / "parts").glob("*.parquet"))) - 1 if what == "part" else 0)
    assert made(out) == made(tmp_path / "fresh")
    assert first.tally.rows == found.tally.rows


def test_several_cases_and_a_log_that_is_none(tmp_path: Path) -> None:
    for name in ("spirit_receiver", "lying_spirit_tank"):
        text = (ROOT / "examples" / f"{name}.yaml").read_text(encoding="utf-8")
        (tmp_path / "cases").mkdir(exist_ok=True)
        (tmp_path / "cases" / f"{name}.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "map.yaml").write_text(MAP + "tag: {column: tag}\n", encoding="utf-8")
    path = tmp_path / "log.csv"
    path.write_text(
        "tag,time,pv\nLT-201,2026-02-01T00:00:00,12\nLT-233,2026-02-01T00:00:00,12\nX,,\n", encoding="utf-8"
    )
    words = ["--cases", str(tmp_path / "cases"), "--map", str(tmp_path / "map.yaml"), "--out", str(tmp_path / "out")]
    done = onedatum("convert", str(path), str(tmp_path / "none.parquet"), str(path), *words)
    assert done.code == 2, "a log that could not be read is told, the others are converted"
    assert "none.parquet must be a log as CSV or Parquet" in done.err and "got the same again" in done.err
    assert {row["tag"] for row in converted(tmp_path / "out")} == {"LT-201", "LT-233"}
    assert onedatum("convert", str(path), "--strict", *words).code == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "--case must be given, or --cases in its place; got neither."),
        (["--case", str(CASE), "--cases", "."], "got both."),
        (["--case", str(CASE), "--workers", "2", "--scheduler", "tcp://127.0.0.1:9"], "without --scheduler; got both"),
        (["--case", str(CASE)], "columns there: time, pv"),
        (["--case", "none.yaml", "--map", "map.yaml"], "none.yaml"),
        (["--case", str(CASE), "--map", "none.yaml"], "none.yaml"),
        (["--cases", str(ROOT / "examples"), "--map", "map.yaml"], "tag.column must be stated in the mapping"),
        (["--cases", str(ROOT / "news"), "--map", "map.yaml"], "--cases must be a folder with cases"),
        (["--case", str(CASE), "--map", "map.yaml", "--out", "taken"], "There lies summary.json of another origin"),
        (["--case", str(CASE), "--map", "map.yaml", "--out", "log.csv"], "a place that can be written"),
    ],
)
def test_what_is_asked_wrongly_is_said(tmp_path: Path, mapping: Path, words: list[str], said: str) -> None:
    log(tmp_path / "log.csv", 5)
    (tmp_path / "taken").mkdir()
    (tmp_path / "taken" / "summary.json").write_text("{}", encoding="utf-8")
    out = [] if "--out" in words else ["--out", "out"]
    done = onedatum("convert", "log.csv", *words, *out, cwd=tmp_path)
    assert (done.code, said in done.err) == (2, True), done.err
    assert mapping.exists()


def test_without_the_extra_it_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "NEEDED", "no_such_library")
    done = onedatum("convert", "x.csv", "--case", str(CASE), "--out", str(tmp_path / "out"))
    assert done.code == 2
    assert "the extra logs must be installed" in done.err and 'pip install ".[logs]"' in done.err


def test_the_line_of_progress() -> None:
    """A quarter done in two minutes: six more at that rate."""
    assert progress_line(1_200_000, 0.25, 120.0) == " 25% 1,200,000 rows, 10,000 rows/s, 0:06:00 left"
    assert progress_line(0, 0.0, 0.0) == "  0% 0 rows, "
