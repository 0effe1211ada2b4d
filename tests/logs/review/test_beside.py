"""Dips and movements from files: what is right is read, what is wrong is told with its line."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from onedatum.foundation.errors import LogError
from onedatum.logs.review.beside import read_dips, read_movements

DIPS = "time,level,tag,half_width\n2026-03-02T14:30:00+01:00,1.352 m,LT-1,2 mm\n2026-03-01T08:00:00Z,90 cm,,\n"


def written(folder: Path, text: str | bytes) -> Path:
    path = folder / "beside.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def test_dips_come_in_the_order_of_time_in_si(tmp_path: Path) -> None:
    first, second = read_dips(written(tmp_path, DIPS), "LT-1")
    assert (first.level_m, first.half_width_m) == (0.9, None)
    assert second.level_m == 1.352
    assert second.half_width_m == 0.002
    assert second.time_us == int(datetime(2026, 3, 2, 13, 30, tzinfo=UTC).timestamp() * 1e6)


def test_lines_of_another_tag_are_passed_over(tmp_path: Path) -> None:
    assert len(read_dips(written(tmp_path, DIPS), "LT-2")) == 1


def test_a_movement_out_is_below_zero(tmp_path: Path) -> None:
    text = "from,to,volume\n2026-03-01T08:00:00Z,2026-03-01T09:00:00Z,-4100 L\n"
    [only] = read_movements(written(tmp_path, text), "LT-1")
    assert only.volume_m3 == pytest.approx(-4.1)
    assert only.to_us - only.from_us == 3_600_000_000


@pytest.mark.parametrize(
    ("line", "place", "word"),
    [
        ("2026-03-02T14:30:00,1.3 m", 2, "offset"),
        ("yesterday,1.3 m", 2, "ISO"),
        ("2026-03-02T14:30:00Z,1.3", 2, "unit"),
        ("2026-03-02T14:30:00Z,1.3 kg", 2, "level"),
        ("2026-03-02T14:30:00Z,1.3 m,more", 2, "cells"),
        ("2026-03-02T14:30:00Z,nan m", 2, "level"),
        ("99999-03-02T14:30:00Z,1 m", 2, "time"),
    ],
)
def test_a_wrong_line_is_told_with_its_number(line: str, place: int, word: str, tmp_path: Path) -> None:
    with pytest.raises(LogError) as told:
        read_dips(written(tmp_path, f"time,level\n{line}\n"), "LT-1")
    [fault] = told.value.faults
    assert fault.place is not None
    assert fault.place.line == place
    assert word in str(fault)


@pytest.mark.parametrize(
    "text", ["", "time\n", "time,height\n", "time,level,level\n", "a;b\n", b"time,level\n\x00\n", b"\xff\xfe"]
)
def test_a_wrong_file_is_refused_with_a_remedy(text: str | bytes, tmp_path: Path) -> None:
    with pytest.raises(LogError) as told:
        read_dips(written(tmp_path, text), "LT-1")
    assert told.value.faults


def test_a_movement_that_ends_before_it_begins_is_told(tmp_path: Path) -> None:
    text = "from,to,volume\n2026-03-01T09:00:00Z,2026-03-01T08:00:00Z,1 m3\n"
    with pytest.raises(LogError, match="A movement takes time"):
        read_movements(written(tmp_path, text), "LT-1")


@pytest.mark.parametrize(("level", "is_held"), [("3.0 m", True), ("13 m", False), ("3.1 m", False), ("-1 m", False)])
def test_a_dip_that_the_vessel_cannot_hold_is_refused_in_its_place(level: str, is_held: bool, tmp_path: Path) -> None:
    path = written(tmp_path, f"time,level\n2026-03-01T08:00:00Z,1 m\n2026-03-02T08:00:00Z,{level}\n")
    if is_held:
        assert len(read_dips(path, "LT-1", 0.0, 3.02)) == 2
        return
    with pytest.raises(LogError, match="unit and datum") as told:
        read_dips(path, "LT-1", 0.0, 3.02)
    [fault] = told.value.faults
    assert fault.place is not None
    assert fault.place.line == 3


OUT = "2026-03-01T08:00:00Z,2026-03-01T12:00:00Z,-16 m3\n"
LATER = "2026-03-01T12:00:00Z,2026-03-01T14:00:00Z,-16 m3\n"


@pytest.mark.parametrize(
    ("volume", "beside", "is_held"), [("5 m3", "", True), ("20 m3", OUT, True), ("20 m3", "", False)]
)
def test_a_movement_larger_than_the_vessel_needs_one_the_other_way(
    volume: str, beside: str, is_held: bool, tmp_path: Path
) -> None:
    path = written(tmp_path, f"from,to,volume\n2026-03-01T09:00:00Z,2026-03-01T12:00:00Z,{volume}\n{beside}")
    if is_held:
        assert read_movements(path, "LT-1", 17.0)
        return
    with pytest.raises(LogError, match="what the vessel of the case holds") as told:
        read_movements(path, "LT-1", 17.0)
    assert told.value.faults[0].place is not None
    assert told.value.faults[0].place.line == 2


def test_a_movement_that_only_follows_makes_no_room(tmp_path: Path) -> None:
    path = written(tmp_path, f"from,to,volume\n2026-03-01T09:00:00Z,2026-03-01T12:00:00Z,20 m3\n{LATER}")
    with pytest.raises(LogError, match="the other way"):
        read_movements(path, "LT-1", 17.0)


def test_a_file_that_is_not_there_says_what_its_first_line_is(tmp_path: Path) -> None:
    with pytest.raises(LogError, match="from,to,volume"):
        read_movements(tmp_path / "none.csv", "LT-1")
