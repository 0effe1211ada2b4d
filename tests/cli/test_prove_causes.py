"""`onedatum prove causes`: from a file or from one row, with sentences for all that cannot be read.

The readings of another range follow from the straight line of the range (IEC 60381-1).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.causes_desk import ranged
from tests.cli.run import Outcome, in_a_process, onedatum
from tests.proving_desk import CASE, EXAMPLES

READINGS = EXAMPLES / "proving" / "spirit_receiver_readings.csv"
ROW = ("--dip", "1.350 m", "--current", "11.52 mA")


def causes(*words: object) -> Outcome:
    return onedatum("prove", "causes", str(CASE), *map(str, words))


def test_a_file_is_ranked_and_no_cause_is_asserted(tmp_path: Path) -> None:
    file = tmp_path / "readings.csv"
    file.write_text(ranged(150.0), encoding="utf-8")
    found = causes(file, "--recent", "re-ranged")
    assert found.code == 0
    first = found.out.splitlines()[1]
    assert first.startswith("The readings agree best with: the level at 4 mA is set to another value, set too high by")
    assert "it finds no cause" in found.out and "below 1 % each" in found.out


def test_the_example_is_ranked_in_a_process_of_its_own() -> None:
    found = in_a_process("prove", "causes", str(CASE), str(READINGS), "--json")
    assert found.code == 0
    data = json.loads(found.out)
    assert (data["tag"], len(data["rows"]), data["highest_probability"] < 1.0) == ("LT-201", 6, True)


def test_one_row_from_the_options() -> None:
    found = causes(*ROW, "--direction", "up", "--temperature", "20 degC")
    assert found.code == 0
    assert "by 1 row of readings" in found.out
    assert "No explanation is held likelier than 80 %" in found.out


def test_the_form_is_written_once_and_takes_what_is_filled_in(tmp_path: Path) -> None:
    form = tmp_path / "form.csv"
    assert causes("--form", form).code == 0
    again = causes("--form", form)
    assert (again.code, "is not overwritten" in again.err) == (2, True)
    empty = causes(form)
    assert (empty.code, "one line or more with readings" in empty.err) == (2, True)
    head, *lines = form.read_text(encoding="utf-8").splitlines()
    width = len(head.split(","))
    filled = [",".join(["up", "1350", "11.52", *[""] * (width - 3)]) for _ in lines[:1]]
    form.write_text("\n".join([head, *filled]), encoding="utf-8")
    assert causes(form).code == 0


def test_papers_are_written(tmp_path: Path) -> None:
    found = causes(READINGS, "--out", tmp_path)
    assert found.code == 0
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == [f"spirit_receiver-which-part.{ending}" for ending in ("json", "pdf", "txt")]
    assert all(name in found.out for name in names)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "Give a file of readings, or one row"),
        ((READINGS, *ROW), "Give a file or one row"),
        (("--form", "x.csv", *ROW), "leave the readings away"),
        (("--dip", "1,350 m"), "--dip must be a length"),
        (("--current", "11.52"), "--current must be a current"),
        (("--current", "-4 mA"), "--current must be a number from 0 A"),
        (("--direction", "sideways"), "--direction must be up or down"),
        (("--dip", "1.350 m"), "at least one reading that the case can predict"),
        (("no.csv",), "no.csv must be a file; got none"),
        ((str(EXAMPLES),), "must be a file; got a folder"),
        ((*ROW, "--priors", str(READINGS)), "a table of priors in JSON"),
        ((*ROW, "--priors", "no.json"), "no.json must be a file; got none"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence(words: tuple[object, ...], said: str) -> None:
    found = causes(*words)
    assert (found.code, found.out) == (2, "")
    assert said in found.err


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "readings.csv:1:1"),
        (b"\xff\xfe\x00", "readings.csv:1:1"),
        (b"dip [mm];current [mA]\n1350;11,52\n", "readings.csv:2:2"),
        (b"dip [mm],current [mA]\n1350,115.2\n", "readings.csv:2:2"),
        (b"dip [mm],curent [mA]\n1350,11.52\n", "readings.csv:1:2"),
        (b'"' * 1000, "must be"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_with_line_and_column(tmp_path: Path, content: bytes, said: str) -> None:
    file = tmp_path / "readings.csv"
    file.write_bytes(content)
    found = causes(file)
    assert (found.code, found.out) == (2, "")
    assert said in found.err


def test_a_case_without_an_instrument_is_told(tmp_path: Path) -> None:
    case = tmp_path / "new.yaml"
    case.write_text("onedatum: 1\n", encoding="utf-8")
    found = onedatum("prove", "causes", str(case), *ROW)
    assert found.code == 2
    assert "the case must be one of a known instrument" in found.err
