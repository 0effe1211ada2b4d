"""`onedatum prove`: what it prints, writes and ends with; hostile input ends in a sentence, never in a traceback.

The verdicts follow from the tolerance of the case, 15 mm, and the non-binary rule (ILAC-G8:09/2019, from memory).
"""

from __future__ import annotations

import json
import sqlite3
from datetime import timedelta
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.cli.run import Outcome, onedatum
from tests.proving_desk import BEGIN, POINTS, TAG, case_in, lines, options


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A case in a folder of its own."""
    return case_in(tmp_path / "works")


def points(folder: Path, error_mm: float, days: float = 0.0) -> Path:
    """A file of readings with one error throughout."""
    file = folder / f"points{error_mm:g}-{days:g}.csv"
    file.write_text(lines(lambda level: error_mm, BEGIN + timedelta(days=days)), encoding="utf-8")
    return file


def record(case: Path, file: Path, *words: str, kind: str = "found", **fields: str) -> Outcome:
    """Record a run."""
    return onedatum("prove", "record", str(case), str(file), "--as", kind, *options(**fields), *words)


def records_of(case: Path) -> str:
    """Where the records of a case are kept."""
    return str(case.parent / "records.sqlite")


def test_the_group_and_each_command_explain_themselves() -> None:
    whole = onedatum("prove", "--help")
    assert whole.code == 0
    for name in "plan record certificate history due verify export import backup".split():
        assert name in whole.out
        assert onedatum("prove", name, "--help").code == 0


def test_a_plan_is_said_written_and_data(case: Path, tmp_path: Path) -> None:
    found = onedatum("prove", "plan", str(case), "--out", str(tmp_path / "out"))
    assert found.code == 0
    assert "moved: 2697.31 mm is 20 mm below where filling must stop" in found.out
    assert len(list((tmp_path / "out").iterdir())) == 3
    data = json.loads(onedatum("prove", "plan", str(case), "--points", "3", "--cycles", "1", "--json").out)
    assert (len(data["points"]), data["cycles"], data["onedatum"]) == (3, 1, "plan")


def test_the_rule_stands_before_the_verdict_and_one_record_is_written(case: Path) -> None:
    found = record(case, POINTS, "--trims", "none", "--checked-by", "B. Checker")
    assert found.code == 0
    assert found.out.index("decision rule") < found.out.index("verdict")
    assert "as found: PASS" in found.out
    assert "record 1" in found.out
    again = onedatum("prove", "verify", "--records", records_of(case))
    assert (again.code, again.out.startswith("whole: 1 record")) == (0, True)


@pytest.mark.parametrize(("error_mm", "code"), [(2.0, 0), (14.6, 1), (18.0, 1)])
def test_strict_ends_with_one_where_no_plain_pass_is_said(
    case: Path, tmp_path: Path, error_mm: float, code: int
) -> None:
    assert record(case, points(tmp_path, error_mm), "--strict").code == code


def test_a_record_as_data(case: Path) -> None:
    data = json.loads(record(case, POINTS, "--json").out)
    assert data["judged"]["verdict"] == "pass"
    assert data["record"]["hash"] == data["head"]["hash"]


def test_a_faulty_field_is_told_with_its_option(case: Path) -> None:
    found = record(case, POINTS, reference_u="9 kg", meter_k="x")
    assert found.code == 2
    assert "--reference-u: expanded uncertainty of the reference must be a length" in found.err
    assert "--meter-k: coverage factor of the meter must be a plain number" in found.err
    assert not Path(records_of(case)).exists()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "must be"),
        (b"\xff\xfe\x00", "must be"),
        (b"cycle,direction\n1,up\n", "reference level"),
        (b"cycle;direction;reference level [mm];shown current [mA]\n1;up;105,5;4.03\n", "points.csv:2:3"),
        (b"cycle,direction,reference level [mm],shown current [mA]\n1,up,=1+1,4.03\n", "points.csv:2:3"),
        (b"cycle,direction,reference level [mm],shown current [mA]\n1,sideways,100,4.03\n", "points.csv:2:2"),
        (b"cycle,direction,reference level [kg],shown current [mA]\n1,up,100,4.03\n", "points.csv:1:3"),
        (b'"' * 1000, "must be"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_with_line_and_column(case: Path, content: bytes, said: str) -> None:
    file = case.parent / "points.csv"
    file.write_bytes(content)
    found = record(case, file)
    assert found.code == 2
    assert said in found.err
    assert not Path(records_of(case)).exists()


def test_files_that_are_none_are_told(case: Path, tmp_path: Path) -> None:
    for words in (
        [str(case), str(tmp_path / "none.csv")],
        [str(case), str(tmp_path)],
        [str(tmp_path / "no.yaml"), str(POINTS)],
    ):
        found = onedatum("prove", "record", *words, "--as", "found", *options())
        assert found.code == 2
        assert "must be" in found.err


def test_two_visits_have_a_history_a_next_date_and_a_certificate(case: Path, tmp_path: Path) -> None:
    assert record(case, points(tmp_path, 14.0)).code == 0
    assert record(case, points(tmp_path, 1.0, 2.0), kind="left", trims="zero of the level trimmed by 13 mm").code == 0
    assert record(case, points(tmp_path, 3.0, 367.0)).code == 0
    past = onedatum("prove", "history", str(case))
    assert past.code == 0
    assert "drift at 0 %: 2.0 mm in a year" in past.out
    assert "next due: 20" in past.out
    assert len(json.loads(onedatum("prove", "history", str(case), "--json").out)["runs"]) == 3
    by_tag = onedatum("prove", "history", TAG, "--records", records_of(case))
    assert by_tag.out == past.out
    listed = json.loads(onedatum("prove", "due", str(case.parent), "--json").out)
    assert [(each["tag"], each["case"]) for each in listed] == [(TAG, "receiver")]
    made = onedatum("prove", "certificate", str(case), "--record", "1", "--out", str(tmp_path / "out"))
    assert made.code == 0
    names = {path.suffix: path for path in (tmp_path / "out").iterdir()}
    assert set(names) == {".pdf", ".xml", ".json"}
    assert names[".pdf"].read_bytes().startswith(b"%PDF-")
    assert ElementTree.parse(names[".xml"]).getroot().get("schemaVersion") == "3.3.0"
    assert [each["record"]["id"] for each in json.loads(names[".json"].read_bytes())["records"]] == [1, 2]


def test_a_correction_needs_a_reason_and_leaves_the_first(case: Path, tmp_path: Path) -> None:
    record(case, points(tmp_path, 18.0))
    refused = record(case, points(tmp_path, 2.0), "--corrects", "1")
    assert (refused.code, "reason of the correction" in refused.err) == (2, True)
    done = record(case, points(tmp_path, 2.0), "--corrects", "1", "--reason", "tape read wrongly")
    assert done.code == 0
    assert "record    2" in onedatum("prove", "history", str(case)).out


def test_copies_go_out_and_come_back(case: Path, tmp_path: Path) -> None:
    record(case, POINTS)
    kept = records_of(case)
    for command, name in (("export", "records.jsonl"), ("backup", "copy.sqlite")):
        assert onedatum("prove", command, str(tmp_path / name), "--records", kept).code == 0
        again = onedatum("prove", command, str(tmp_path / name), "--records", kept)
        assert again.code == 2
        assert "must be" in again.err
    back = onedatum("prove", "import", str(tmp_path / "records.jsonl"), "--records", str(tmp_path / "new.sqlite"))
    assert "appended: 1 record" in back.out
    heads = [onedatum("prove", "verify", "--records", str(each)).out for each in (kept, tmp_path / "new.sqlite")]
    assert heads[0] == heads[1]


def test_what_is_written_is_told_as_data(case: Path, tmp_path: Path) -> None:
    record(case, POINTS)
    kept, papers, new = records_of(case), tmp_path / "papers", str(tmp_path / "new.sqlite")
    head = json.loads(onedatum("prove", "verify", "--records", kept, "--json").out)["head"].replace(" ", "")
    written, copy = str(tmp_path / "records.jsonl"), str(tmp_path / "copy.sqlite")
    for words, said in (
        (("export", written, "--records", kept), {"written": written}),
        (("backup", copy, "--records", kept), {"written": copy}),
        (("import", written, "--records", new), {"read": written, "appended": 1}),
        (("import", written, "--records", new), {"read": written, "appended": 0}),
    ):
        found = json.loads(onedatum("prove", *words, "--json").out)
        assert f"{found['head']['id']}:{found['head']['hash']}" == head
        assert {key: value for key, value in found.items() if key != "head"} == said
    made = json.loads(onedatum("prove", "certificate", str(case), "--out", str(papers), "--json").out)
    assert (made["tag"], made["records"]) == ("LT-201", [1])
    assert sorted(made["written"]) == sorted(str(path) for path in papers.iterdir())
    assert [Path(name).suffix for name in made["written"]] == [".pdf", ".xml", ".json"]


def test_an_import_that_is_refused_leaves_no_empty_records(tmp_path: Path) -> None:
    file = tmp_path / "records.jsonl"
    file.write_text("no export\n", encoding="ascii")
    found = onedatum("prove", "import", str(file), "--records", str(tmp_path / "new.sqlite"))
    assert (found.code, f"{file}:1 must be canonical JSON" in found.err) == (2, True)
    assert list(tmp_path.iterdir()) == [file]


def test_a_changed_record_is_found_and_a_noted_head_is_compared(case: Path) -> None:
    record(case, POINTS)
    kept = records_of(case)
    head = json.loads(onedatum("prove", "verify", "--records", kept, "--json").out)["head"]
    assert onedatum("prove", "verify", "--records", kept, "--head", head).code == 0
    other = onedatum("prove", "verify", "--records", kept, "--head", f"1: {'0' * 64}")
    assert (other.code, "NOT whole" in other.err) == (2, True)
    with sqlite3.connect(kept) as connection:
        for (name,) in connection.execute("select name from sqlite_master where type = 'trigger'").fetchall():
            connection.execute(f'drop trigger "{name}"')
        connection.execute("update onedatum_records set who = 'Somebody else'")
    found = onedatum("prove", "verify", "--records", kept)
    assert (found.code, "record 1 was changed" in found.err) == (2, True)
    assert onedatum("prove", "history", str(case)).code == 2


@pytest.mark.parametrize(
    "words",
    [
        ("history", "LT-1", "--records", "no_such_file.sqlite"),
        ("history", "no_such.yaml"),
        ("verify", "--records", "no_such_file.sqlite"),
        ("verify", "--records", "postgresql://"),
        ("verify", "--records", "mysql://a:secret@b/c"),
        ("verify", "--records", ""),
        ("export", "x.jsonl", "--records", "no_such_file.sqlite"),
        ("import", "no_such.jsonl", "--records", "no_such_folder/x.sqlite"),
        ("certificate", "LT-1", "--out", "x", "--records", "no_such_file.sqlite"),
        ("due", "no_such_folder"),
        ("plan", "no_such.yaml"),
    ],
)
def test_what_is_not_there_is_told(tmp_path: Path, words: tuple[str, ...]) -> None:
    found = onedatum("prove", *words, cwd=tmp_path)
    assert found.code == 2
    assert found.err
    assert "secret" not in found.err
    assert list(tmp_path.iterdir()) == []
