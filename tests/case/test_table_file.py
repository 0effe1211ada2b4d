"""A tank table from a file beside the case: read in any unit, and every damage told with its line and column."""

from __future__ import annotations

from pathlib import Path

import pytest

from onedatum.case.reading import Statement, read_case_text
from tests.closeness import close

CASE = "onedatum: 1\nvessel: {shape: by its table}\ntable: {basis: table of another, read_from: tank.csv}\n"


def read(folder: Path, text: str | bytes, case: str = CASE) -> Statement:
    content = text.encode("utf-8") if isinstance(text, str) else text
    (folder / "tank.csv").write_bytes(content)
    return read_case_text(case, "case.yaml", folder)


def test_columns_are_found_by_name_and_unit_in_any_order(tmp_path: Path) -> None:
    found = read(tmp_path, "remark,Volume (US gal),LEVEL [in]\r\nx,0,0\r\n,231,10\r\n\r\n")
    assert found.faults == ()
    assert found.table is not None
    close(found.table.levels_m[1], 0.254, 1e-12, "10 in")
    close(found.table.volumes_m3[1], 231 * 231 * 0.0254**3, 1e-12, "231 US gallons of 231 cubic inches")
    assert found.table.lines == (2, 3)


def test_the_table_is_part_of_what_the_study_rests_on(tmp_path: Path) -> None:
    first = read(tmp_path, "level [mm],volume [L]\n0,0\n10,5\n")
    second = read(tmp_path, "level [mm],volume [L]\n0,0\n10,6\n")
    assert first.own_files == ("tank.csv",)
    assert first.content_hash != second.content_hash


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("level [mm],volume [L]\n0,0\n10,5;5\n", "tank.csv:3:2", "a plain number in the column volume; got '5;5'"),
        ("level [mm],volume [L]\n0,0\n1_0,5\n", "tank.csv:3:1", "a plain number in the column level"),
        ("level [mm],volume [L]\n0,0\n10\n", "tank.csv:3:2", "a plain number in the column volume; got ''"),
        ("level [mm],volume [L]\n0,0\n10,nan\n", "tank.csv:3:2", "a plain number"),
        ("level [mm],volume [L]\n0,0\n10,1e999\n", "tank.csv:3:2", "a plain number"),
        ("level [mm],volume\n0,0\n", "tank.csv:1:2", "with its unit"),
        ("level [mm],volume [mm]\n0,0\n", "tank.csv:1:2", "volume"),
        ("level [mm],contents [L]\n0,0\n", "tank.csv:1:1", "a column named volume"),
        ("level [mm],level [m],volume [L]\n0,0,0\n", "tank.csv:1:1", "a column named level"),
        ("", "tank.csv:1:1", "a column named level"),
        ('level [mm],volume [L]\n0,"0\n', "tank.csv:2:1", "parted by commas"),
        (b"level [mm],volume [L]\n\xff\xfe,0\n", "case.yaml:3", "UTF-8"),
        ("level [mm],volume [L]\n0,0\n" + "1,1\n" * 200_001, "tank.csv:200002", "at most 200000 rows"),
    ],
)
def test_damage_is_told_with_its_place(tmp_path: Path, text: str | bytes, place: str, said: str) -> None:
    found = read(tmp_path, text)
    assert any(place in str(fault) and said in str(fault) for fault in found.faults), [str(f) for f in found.faults]


@pytest.mark.parametrize("name", ["../tank.csv", "/etc/passwd", "missing.csv", "..", "."])
def test_no_path_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    found = read(tmp_path, "level [mm],volume [L]\n0,0\n1,1\n", CASE.replace("tank.csv", name))
    assert found.table is None
    assert any("the name of a file beside the case" in str(fault) for fault in found.faults)


def test_a_table_beside_a_shape_would_count_for_nothing(tmp_path: Path) -> None:
    found = read(tmp_path, "level [mm],volume [L]\n0,0\n1,1\n", CASE.replace("by its table", "sphere"))
    assert any("table.read_from must be left away with this shape" in str(fault) for fault in found.faults)
