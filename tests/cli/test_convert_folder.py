"""The folder of a conversion: no row that lies there goes unsaid, and what is told of logs beside their rows.

What must hold is the word of docs/logs.md: a folder holds what one run made of all its logs.
"""

from __future__ import annotations

import errno
import json
import os
import re
from datetime import UTC, datetime, time
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from onedatum.foundation.errors import Fault, LogError, OutputError
from onedatum.jobs.convert import run as convert_run
from onedatum.jobs.convert.parts import Parts
from onedatum.jobs.convert.run import Asked, Converted, _Work, run
from onedatum.jobs.convert.told import summary_json, summary_text
from onedatum.jobs.convert.unit import Made
from onedatum.logs import csv_blocks
from tests.cli.run import ROOT, onedatum

CASE = ROOT / "examples" / "spirit_receiver.yaml"
MAP = "mapping: 1\ntime: {column: time, form: iso, zone: %s}\nvalue: {column: pv, unit: mA}\n"


def quiet(rows: int, share: float) -> None:
    """No progress is shown."""


def log(path: Path, first: int = 0, rows: int = 30, end: str = "\n") -> Path:
    """A minute a row, from some minute of a day on."""
    lines = [f"2026-02-01T{m // 60:02}:{m % 60:02}:00,{4 + m % 16}" for m in range(first, first + rows)]
    path.parent.mkdir(exist_ok=True)
    path.write_text("time,pv\n" + "\n".join(lines) + end, encoding="utf-8")
    return path


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder with a mapping and two logs that follow one another."""
    (tmp_path / "map.yaml").write_text(MAP % "UTC", encoding="utf-8")
    log(tmp_path / "one.csv")
    log(tmp_path / "two.csv", 30)
    return tmp_path


def worked(here: Path, *names: str, as_csv: bool = False) -> Converted:
    logs = tuple(here / name for name in names)
    return run(Asked(logs, CASE, None, here / "map.yaml", here / "out", as_csv), quiet)


def made(out: Path) -> dict[str, bytes]:
    return {str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()}


# ---------------------------------------------------------------- rows that lie there


@pytest.mark.parametrize(
    ("then", "said"),
    [
        (["two.csv"], "or give one.csv as well"),
        (["none.csv"], "or give one.csv as well"),
        (["none.csv", "two.csv"], "none.csv must be a log as CSV or Parquet"),
        (["away/one.csv"], "away/one.csv: the column pv must be in the log"),
    ],
)
def test_rows_of_a_log_that_is_not_given_stay(here: Path, then: list[str], said: str) -> None:
    worked(here, "one.csv")
    (here / "away").mkdir()
    (here / "away" / "one.csv").write_text("time,level\n", encoding="utf-8")
    before = made(here / "out")
    with pytest.raises(LogError) as told:
        worked(here, *then)
    assert said in str(told.value) and "got one with rows of one.csv" in str(told.value)
    assert made(here / "out") == before


def test_more_logs_and_one_that_grew_go_on(here: Path) -> None:
    worked(here, "one.csv")
    assert worked(here, "one.csv", "two.csv").tally.converted == 60
    log(here / "two.csv", 30, 40)
    found = worked(here, "two.csv", "one.csv")
    assert found.tally.rows == 70, "the same logs in another order"
    assert worked(here, "one.csv", "two.csv").tally.converted == 70
    table = pq.read_table(here / "out" / "parts")
    assert table.num_rows == 70, "the folder of parts is one set of data"
    assert not found.remarks
    log(here / "two.csv", 30, 10)
    said = "two.csv: 40 rows of it lay here, and the log has 10 now: the others are gone from the folder"
    assert worked(here, "one.csv", "two.csv").remarks == [said]


def test_another_log_of_the_same_name_is_told(here: Path) -> None:
    log(here / "jan" / "tank.csv")
    log(here / "feb" / "tank.csv", 30)
    worked(here, "jan/tank.csv")
    found = worked(here, "feb/tank.csv")
    assert [each.partition(" of another log of this name")[0] for each in found.remarks] == [
        "tank.csv: 30 rows lay here"
    ]
    assert not worked(here, "feb/tank.csv").remarks
    assert not worked(here, "jan/tank.csv", "feb/tank.csv").remarks, "both are given"
    log(here / "feb" / "tank.csv", 30, 40)
    assert not worked(here, "jan/tank.csv", "feb/tank.csv").remarks, "it grew"
    log(here / "feb" / "tank.csv", 29, 42)
    log(here / "one.csv", 0, 20)
    found = worked(here, "jan/tank.csv", "feb/tank.csv", "one.csv")
    assert [each.partition(" of another log")[0] for each in found.remarks] == ["tank.csv: 40 rows lay here"]
    log(here / "feb" / "tank.csv", 28, 43)
    log(here / "one.csv", 0, 10)
    told = " ".join(worked(here, "jan/tank.csv", "feb/tank.csv", "one.csv").remarks)
    assert "one.csv: 20 rows of it lay here" in told and "tank.csv: 42 rows lay here of another log" in told


def test_two_logs_of_one_name_are_two(here: Path) -> None:
    log(here / "away" / "one.csv", 30)
    worked(here, "one.csv", "away/one.csv")
    with pytest.raises(LogError, match=r"rows of one\.csv"):
        worked(here, "one.csv")
    assert worked(here, "one.csv", "away/one.csv").kept_parts == 2


def test_rows_of_an_earlier_form_are_seen_too(here: Path) -> None:
    """As version 0.1.0 wrote it before: lines that name no log, and rejects among the parts."""
    worked(here, "one.csv")
    out = here / "out"
    data = json.loads((out / "parts.jsonl").read_text(encoding="utf-8"))
    old = {key: data[key] for key in data if key not in ("log", "ending")} | {"form": 4}
    (out / "parts.jsonl").write_text(json.dumps(old) + "\n", encoding="utf-8")
    (out / "rejects" / "0001-000001.csv").replace(out / "parts" / "0001-000001.rejects.csv")
    (out / "rejects").rmdir()
    with pytest.raises(LogError, match=r"rows of one\.csv"):
        worked(here, "two.csv")
    found = worked(here, "one.csv")
    assert (found.kept_parts, found.tally.converted) == (0, 30)
    assert [path.name for path in (out / "parts").iterdir()] == ["0001-000001.parquet"]


def earlier(out: Path) -> None:
    """Make the lines of the manifest those of an earlier form, which name no log."""
    lines = [json.loads(line) for line in (out / "parts.jsonl").read_text(encoding="utf-8").splitlines()]
    old = [{key: line[key] for key in line if key not in ("log", "ending")} | {"form": 4} for line in lines]
    (out / "parts.jsonl").write_text("".join(json.dumps(line) + "\n" for line in old), encoding="utf-8")


class Killed(BaseException):
    """As a run ends that is killed: nothing more of it is done."""


def killed(here: Path, monkeypatch: pytest.MonkeyPatch, puts: int, *names: str) -> None:
    """A run that ends after so many parts have their place."""
    put, left = Parts.put, [None] * puts

    def once(parts: Parts, made: Made) -> None:
        if not left:
            raise Killed
        left.pop()
        put(parts, made)

    with monkeypatch.context() as patch:
        patch.setattr(Parts, "put", once)
        with pytest.raises(Killed):
            worked(here, *names)


def refused(here: Path, name: str, lost: str) -> None:
    """A run with one log is refused for the rows of another, and leaves all as it is."""
    before = made(here / "out")
    with pytest.raises(LogError, match=rf"rows of {re.escape(lost)}"):
        worked(here, name)
    assert made(here / "out") == before


def test_lines_of_an_earlier_form_outlast_a_run_that_is_killed(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    worked(here, "one.csv")
    earlier(here / "out")
    killed(here, monkeypatch, 0, "one.csv")
    refused(here, "two.csv", "one.csv")
    assert worked(here, "one.csv").tally.converted == 30


def test_a_scheduler_that_does_not_answer_changes_nothing(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object) -> None:
        raise LogError([Fault("--scheduler", "the address of a scheduler that answers", "none")])

    worked(here, "one.csv")
    earlier(here / "out")
    kept = made(here / "out")
    (here / "new").mkdir()
    monkeypatch.setattr(convert_run, "_engine", none)
    for out in (here / "out", here / "new"):
        with pytest.raises(LogError, match="scheduler that answers"):
            run(Asked((here / "one.csv",), CASE, None, here / "map.yaml", out), quiet)
    assert (made(here / "out"), list((here / "new").iterdir())) == (kept, [])


def test_each_part_tells_its_log_for_itself(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Part 1 is of the log that was put before, part 2 of the one that lay there: both have rows here."""
    monkeypatch.setattr(csv_blocks, "BLOCK", 300)
    worked(here, "one.csv")
    killed(here, monkeypatch, 1, "two.csv", "one.csv")
    assert {path.name for path in (here / "out" / "parts").iterdir()} > {"0001-000001.parquet", "0001-000002.parquet"}
    refused(here, "two.csv", "one.csv")
    refused(here, "one.csv", "two.csv")
    assert worked(here, "two.csv", "one.csv").tally.rows == 60
    killed(here, monkeypatch, 1, "one.csv", "two.csv")
    assert worked(here, "one.csv", "two.csv").tally.rows == 60, "the same logs in another order"
    log(here / "two.csv", 25, 40)
    killed(here, monkeypatch, 3, "one.csv", "two.csv")
    assert worked(here, "one.csv", "two.csv").tally.rows == 70, "one that grew"


def test_a_first_part_without_converted_rows_hides_none(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", 300)
    text = (here / "one.csv").read_text(encoding="utf-8").splitlines()
    (here / "one.csv").write_text("\n".join([text[0], *(f"{row}x" for row in text[1:21]), *text[21:], ""]))
    assert worked(here, "one.csv").tally.converted == 10
    assert pq.read_table(here / "out" / "parts" / "0001-000001.parquet").num_rows == 0
    earlier(here / "out")
    refused(here, "two.csv", "one.csv")


@pytest.mark.parametrize(
    ("damage", "as_csv"),
    [
        (b"", True),
        (b"\xff{garbage\n" + b"[" * 100_000 + b"\n", False),
        (b'{"form": 5, "name": "0001-000001"}\n', False),
    ],
)
def test_parts_that_no_line_tells_are_seen(here: Path, damage: bytes, as_csv: bool) -> None:
    worked(here, "one.csv", "two.csv", as_csv=as_csv)
    lines = (here / "out" / "parts.jsonl").read_bytes().splitlines(keepends=True)
    for rest in (b"", lines[1]):
        (here / "out" / "parts.jsonl").write_bytes(damage + rest)
        refused(here, "two.csv", "one.csv")
        refused(here, "one.csv", "two.csv")
    assert worked(here, "one.csv", "two.csv", as_csv=as_csv).kept_parts == 1, "a damaged line ends nothing"


def test_a_part_that_nobody_can_tell_is_refused(here: Path) -> None:
    worked(here, "one.csv")
    (here / "out" / "parts.jsonl").write_bytes(b"")
    part = here / "out" / "parts" / "0001-000001.parquet"
    part.write_bytes(part.read_bytes()[:-4])
    before = made(here / "out")
    with pytest.raises(LogError, match=r"0001-000001\.parquet must be a part that can be read.*Move it away, or name"):
        worked(here, "one.csv")
    assert made(here / "out") == before


def test_a_folder_that_could_not_be_begun_locks_nobody_out(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(parts: Parts, lines: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(Parts, "_tell", full)
        with pytest.raises(OutputError, match="No space left"):
            worked(here, "one.csv")
    assert list((here / "out").iterdir()) == []
    (here / "out" / "parts").mkdir()
    (here / "out" / "rejects").mkdir()
    assert worked(here, "one.csv").tally.converted == 30


def test_one_file_of_rows_goes_with_the_run_that_made_it(here: Path) -> None:
    worked(here, "one.csv", as_csv=True)
    whole, own = here / "out" / "converted.csv", here / "out" / "mine.txt"
    assert len(whole.read_text(encoding="utf-8").splitlines()) == 31
    own.write_text("of the user", encoding="utf-8")
    worked(here, "one.csv", "two.csv")
    assert not whole.exists() and own.exists()
    whole.write_text("of the user", encoding="utf-8")
    worked(here, "one.csv", "two.csv")
    with pytest.raises(OutputError, match=r"There lies converted\.csv of another origin"):
        worked(here, "one.csv", "two.csv", as_csv=True)
    assert whole.read_text(encoding="utf-8") == "of the user"


def test_where_nothing_comes_of_it_nothing_is_left(here: Path) -> None:
    words = ["--case", str(CASE), "--map", "map.yaml", "--out", "out"]
    done = onedatum("convert", "none.csv", *words, cwd=here)
    assert (done.code, done.out, (here / "out").exists()) == (2, "", False)
    (here / "out").mkdir()
    done = onedatum("convert", ".", *words, cwd=here)
    assert done.err == ". must be a log as CSV or Parquet; got a folder. Name the logs in it, as ./*.csv.\n"
    assert list((here / "out").iterdir()) == []


def test_a_log_that_changes_during_a_run_is_told_as_that_alone(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It has more rows now than lay here: that it has none would be untrue."""
    worked(here, "one.csv", "two.csv")
    look_again = _Work.look_again

    def late(work: _Work) -> None:
        log(here / "two.csv", 24, 36)
        look_again(work)

    with monkeypatch.context() as patch:
        patch.setattr(_Work, "look_again", late)
        found = worked(here, "one.csv", "two.csv")
    assert (found.tally.rows, found.remarks) == (30, [])
    assert [fault.path for fault in found.faults] == [str(here / "two.csv")]
    assert worked(here, "one.csv", "two.csv").tally.rows == 66


# ---------------------------------------------------------------- what is told of logs


@pytest.mark.parametrize(("end", "said"), [("", True), ("\n", False), ("\r\n", False), ("\n\n", False)])
def test_a_last_line_without_an_end_is_told(here: Path, end: str, said: bool) -> None:
    """12.1 cut off within is 1, and both are numbers: whether it was cannot be told, so the row stays."""
    log(here / "one.csv", end=end)
    found = worked(here, "one.csv")
    assert (found.tally.converted, "its last line has no end" in summary_text(found)) == (30, said)
    assert any("one.csv: its last line has no end" in each for each in summary_json(found)["remarks"]) == said


def test_logs_out_of_order_are_told_as_that(here: Path) -> None:
    found = worked(here, "two.csv", "one.csv")
    said = summary_text(found)
    assert "note: 30 rows of one.csv come late: it begins with 2026-02-01T00:00:00+00:00, and two.csv, given" in said
    assert "it goes on to" not in said and "goes on to 2026-02-01T00:59:00+00:00 (LT-201)" in said
    assert "time.latest" not in said, "no time is too far ahead"


def test_one_time_too_far_ahead_is_still_looked_for(here: Path) -> None:
    path = log(here / "one.csv")
    path.write_text(path.read_text(encoding="utf-8").replace("T00:03", "T23:03"), encoding="utf-8")
    said = summary_text(worked(here, "one.csv"))
    assert "state time.latest in the mapping" in said and "given before it" not in said
    said = summary_text(worked(here, "one.csv", "two.csv"))
    assert "state time.latest in the mapping" in said
    assert "30 rows of two.csv come late" in said and "or that time is wrong" in said


def test_the_hour_that_comes_twice_has_a_remedy(here: Path) -> None:
    """The clocks of Berlin went back on 25 October 2026 at 03:00 (Directive 2000/84/EC: the last Sunday of October)."""
    (here / "map.yaml").write_text(MAP % "Europe/Berlin", encoding="utf-8")
    (here / "one.csv").write_text("time,pv\n2026-10-25T02:30:00,12\n2026-10-25T03:30:00,12\n", encoding="utf-8")
    found = run(Asked((here / "one.csv",), CASE, None, here / "map.yaml", here / "out"), quiet, now_s=1.8e9)
    assert found.tally.converted == 1 and "log in UTC, or with the offset of each time" in summary_text(found)


def test_rows_set_aside_stand_in_the_order_of_the_log(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Rows of too few cells are told apart from rows whose value is none; both stand where they stood."""
    lines = (here / "one.csv").read_text(encoding="utf-8").splitlines()
    wrong = {3: "off", 5: lines[5] + "x", 6: "off", 9: lines[9] + "x", 12: lines[12] + "x", 20: "off", 31: "off"}
    text = "\n".join(wrong.get(number, line) for number, line in enumerate([*lines, ""]))
    (here / "one.csv").write_text(text + "\n", encoding="utf-8")
    for number, block in enumerate((1 << 20, 200)):
        monkeypatch.setattr(csv_blocks, "BLOCK", block)
        run(Asked((here / "one.csv",), CASE, None, here / "map.yaml", here / f"out{number}"), quiet)
        table = (here / f"out{number}" / "rejects.csv").read_text(encoding="utf-8").splitlines()[1:]
        assert [int(row.split(",")[1]) for row in table] == sorted(wrong)


def test_rejects_name_tag_and_unit(here: Path) -> None:
    text = "mapping: 1\ntime: {column: time, form: iso, zone: UTC}\nvalue: {column: pv, unit_column: unit}\n"
    (here / "map.yaml").write_text(text + "tag: {column: tag}\n", encoding="utf-8")
    rows = "tag,time,pv,unit\nLT-9,2026-02-01,1,mA\nLT-201,2026-02-01T00:00:00,12,bar\n"
    (here / "one.csv").write_bytes(rows.encode() + "Behälter,2026-02-01T00:00:00,12,mA\n".encode("latin-1"))
    said = summary_text(worked(here, "one.csv"))
    assert "note: tags of the log cannot be read whole: save it as UTF-8" in said
    table = [row.split(",") for row in (here / "out" / "rejects.csv").read_text(encoding="utf-8").splitlines()]
    assert [row[-2:] for row in table] == [
        ['"tag"', '"unit"'],
        ['"LT-9"', '"mA"'],
        ['"LT-201"', '"bar"'],
        ['"Beh\ufffdlter"', '"mA"'],
    ]


@pytest.mark.parametrize(
    ("unit", "none", "some"),
    [
        ("mA", ("-3", "300", "1e308", "25.1", "-0.51"), ("-0.4", "0", "3.2", "24.9")),
        ("'%'", ("-43.75", "1850", "1e308", "131.9", "-28.2"), ("-27.5", "-25", "-5", "130.6")),
        ("V\nresistor: 250 ohm", ("-0.75", "75", "6.3", "-0.13"), ("-0.1", "0", "0.8", "6.2")),
    ],
)
def test_a_current_that_no_loop_has_is_none(
    here: Path, unit: str, none: tuple[str, ...], some: tuple[str, ...]
) -> None:
    """4 mA are 0 % and 20 mA 100 % of the span (IEC 60381-1), 250 ohm turn 1 mA into 0.25 V (Ohm)."""
    unit, _, more = unit.partition("\n")
    (here / "map.yaml").write_text((MAP % "UTC").replace("mA", unit) + more, encoding="utf-8")
    lines = [f"2026-02-01T00:00:{second:02},{text}" for second, text in enumerate((*none, *some))]
    (here / "one.csv").write_text("\n".join(["time,pv", *lines, ""]), encoding="utf-8")
    found = worked(here, "one.csv")
    assert dict(found.tally.rejected) == {"no current of a loop: below -0.5 mA or above 25 mA": len(none)}
    assert found.tally.states.total() == found.tally.converted == len(some)


def test_date_and_time_of_day_may_stand_in_two_columns(here: Path) -> None:
    """As one column with a space between them, in CSV and as Parquet has them typed."""
    text = (MAP % "Europe/Berlin").replace("column: time", "column: [day, clock]")
    (here / "map.yaml").write_text(text.replace("form: iso", 'form: "%d.%m.%Y %H:%M:%S"'), encoding="utf-8")
    rows = ["day,clock,pv", "01.02.2026, 00:30:00,12", "01.02.2026,,12", ",,12", "01.02.2026,00:31:00,x"]
    (here / "one.csv").write_text("\n".join([*rows, ""]), encoding="utf-8")
    found = worked(here, "one.csv")
    assert dict(found.tally.rejected) == {
        "the time is not in the form stated": 1,
        "the time is missing": 1,
        "the value is not a plain number": 1,
    }
    assert found.tally.first_us["LT-201"] == datetime(2026, 1, 31, 23, 30, tzinfo=UTC).timestamp() * 1e6
    assert '"01.02.2026 00:31:00","x"' in (here / "out" / "rejects.csv").read_text(encoding="utf-8")
    (here / "map.yaml").write_text(text, encoding="utf-8")
    day, clock = datetime(2026, 2, 1, tzinfo=UTC).date(), time(0, 30, 0, 250000)
    pq.write_table(pa.table({"day": [day, None], "clock": [clock] * 2, "pv": [12.0] * 2}), here / "two.parquet")
    found = run(Asked((here / "two.parquet",), CASE, None, here / "map.yaml", here / "other"), quiet)
    assert found.tally.first_us["LT-201"] == datetime(2026, 1, 31, 23, 30, 0, 250000, UTC).timestamp() * 1e6
    assert dict(found.tally.rejected) == {"the time is missing": 1}


# ---------------------------------------------------------------- what cannot be read


def test_a_name_that_is_no_text(here: Path) -> None:
    """The name of a file is bytes on Linux, of any coding; here o with two dots as Latin-1 has it."""
    name = b"l\xf6g".decode("utf-8", "surrogateescape")
    (here / "one.csv").rename(here / f"{name}.csv")
    rows = [datetime(2026, 3, 1, minute, tzinfo=UTC) for minute in range(10)]
    pq.write_table(pa.table({"time": rows, "pv": [12.0] * 10}), here / "two.parquet")
    (here / "two.parquet").rename(here / f"{name}.parquet")
    (here / f"{name}2.csv").write_bytes(b"")
    words = [str(here / f"{name}{end}") for end in (".csv", ".parquet", "2.csv")]
    words += ["--case", str(CASE), "--map", str(here / "map.yaml"), "--out", str(here / "out"), "--json"]
    done = onedatum("convert", *words)
    assert (done.code, json.loads(done.out)["converted"]) == (2, 40)
    assert "l\ufffdg2.csv must be a log with the names of its columns in the first line" in done.err
    files = set(pq.read_table(here / "out" / "parts").column("file").to_pylist())
    assert files == {"l\ufffdg.csv", "l\ufffdg.parquet"}
    assert onedatum("convert", *words).code == 2, "also over what lies there"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("- mapping: 1\n", "got a list. Write key: value lines, the first of them mapping: 1."),
        ("mapping: 1\ntime: {column: [\n", "must be YAML that can be read"),
        (None, "must be a file that exists"),
    ],
)
def test_a_mapping_that_cannot_be_read_is_said_once(here: Path, text: str | None, said: str) -> None:
    if text is None:
        (here / "map.yaml").unlink()
    else:
        (here / "map.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(LogError, match=re.escape(said)) as told:
        worked(here, "one.csv")
    assert len(told.value.faults) == 1


def test_a_case_that_does_not_exist_is_said_as_that(here: Path) -> None:
    with pytest.raises(LogError) as told:
        run(Asked((here / "one.csv",), here / "none.yaml", None, here / "map.yaml", here / "out"), quiet)
    assert "must be a file that exists" in str(told.value) and "range" not in str(told.value)


def test_a_log_that_is_not_utf_8_is_named_as_that(here: Path) -> None:
    (here / "one.csv").write_bytes("time,pv,Temp °C\n2026-02-01T00:00:00,12,20\n".encode("latin-1"))
    with (here / "map.yaml").open("a", encoding="utf-8") as file:
        file.write("temperature: {column: Temp °C, unit: degC}\n")
    with pytest.raises(LogError, match="Its first line is not UTF-8: save the log as UTF-8"):
        worked(here, "one.csv")
