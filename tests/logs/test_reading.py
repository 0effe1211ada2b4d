"""Log files: every row or stray of a file is told once, whatever the file holds."""

from __future__ import annotations

import csv
import gzip
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from onedatum.foundation.errors import LogError
from onedatum.logs import chunk as log_chunk
from onedatum.logs import csv_blocks, row_groups
from onedatum.logs.chunk import Chunk
from onedatum.logs.csv_blocks import CELLS, CHANGED, RUIN, UNCLOSED
from onedatum.logs.mapping import LogMapping
from onedatum.logs.reading import all_chunks, chunks, columns_of, spans
from tests.logs.rows import mapped


def chunks_of(path: Path, mapping: LogMapping) -> Iterator[Chunk]:
    """The chunks of a file, span by span."""
    for span in spans(path, mapping):
        yield from chunks(path, mapping, span)


def read(path: Path, mapping: LogMapping | None = None) -> tuple[list[tuple[int, Any]], list[tuple[int, str]]]:
    """Number and value of every row, and every stray."""
    rows, strays = [], []
    for chunk in chunks_of(path, mapping or mapped()):
        for batch in chunk.batches:
            rows += list(zip(batch["row"].to_pylist(), batch["v"].to_pylist(), strict=True))
        strays += [(each.row, each.reason) for each in chunk.strays]
    return rows, strays


def text(folder: Path, content: str | bytes, name: str = "log.csv") -> Path:
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def test_rows_keep_their_numbers_over_blocks_and_strays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", 200)
    lines, expected, strays = ["t,v"], [], []
    for row in range(1, 301):
        if row % 7 == 3:
            lines.append("x" if row % 2 else "a,b,c")
            strays.append((row, CELLS))
        else:
            lines.append(f"t{row},{row}")
            expected.append((row, str(row)))
    assert read(text(tmp_path, "\n".join(lines) + "\n")) == (expected, strays)


@pytest.mark.parametrize("end", ["\n", "\r\n", ""])
def test_marks_and_endings_of_text_files(tmp_path: Path, end: str) -> None:
    found = read(text(tmp_path, "\ufeff" + 'v,"t"\n"1,5",b\n2,c'.replace("\n", end or "\n") + end))
    assert found == ([(1, "1,5"), (2, "2")], [])


def test_bytes_that_are_no_text_are_marked(tmp_path: Path) -> None:
    assert read(text(tmp_path, b"t,v\na,\xff1\nb,2\n"))[0] == [(1, "\ufffd1"), (2, "2")]


def test_another_separator(tmp_path: Path) -> None:
    path = text(tmp_path, "t;v\na;1,5\n")
    assert read(path, mapped(separator=";"))[0] == [(1, "1,5")]
    with pytest.raises(LogError, match=r"the column t must be in the log; got columns t;v"):
        read(path)


def test_columns_that_change_in_the_midst_end_the_file(tmp_path: Path) -> None:
    again = text(tmp_path, "t,v\na,1\nt,v\nb,2\n")
    assert read(again)[0] == [(1, "1"), (2, "v"), (3, "2")], "a head repeated is one row, no change"
    assert read(text(tmp_path, "t,v,x\na,1,0\nv,x,t\n9,8,c\n")) == ([(1, "1")], [(2, CHANGED)])


@pytest.mark.parametrize(
    "content", ["", "\n", "t\n", "a,b\n1,2\n", "t,t,v\n", b"\x00\x01\x02", b"PAR1", b"PAR1" + b"x" * 99]
)
def test_what_is_no_log_is_refused(tmp_path: Path, content: str | bytes) -> None:
    with pytest.raises(LogError, match=r"log\.csv"):
        read(text(tmp_path, content))


@pytest.mark.parametrize("coding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_another_coding_is_called_so(tmp_path: Path, coding: str) -> None:
    with pytest.raises(LogError, match=r"log\.csv must be a log as UTF-8; got another coding.*Save it as UTF-8"):
        read(text(tmp_path, "t,v\na,1\n".encode(coding)))


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", ""])
def test_a_log_without_rows_is_one(tmp_path: Path, end: str) -> None:
    assert read(text(tmp_path, "t,v" + end)) == ([], [])


@pytest.mark.parametrize("packed", [False, True])
def test_a_quoted_end_of_line_may_stand_where_blocks_meet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, packed: bool
) -> None:
    """The reference is the reader of CSV of Python's standard library."""
    whole = "t,v,note\n" + "".join(f't{row},{row},"{"two" * (row % 7)}\r\nlines"\n' for row in range(1, 60))
    path = text(tmp_path, gzip.compress(whole.encode()) if packed else whole, "log.csv.gz" if packed else "log.csv")
    rows = list(csv.reader(io.StringIO(whole, newline="")))
    for block in range(100, 120):
        monkeypatch.setattr(csv_blocks, "BLOCK", block)
        assert read(path) == ([(number, row[1]) for number, row in enumerate(rows) if number], [])


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        ('a,1,"\nb,2,\nc,3,\n', ([(1, "1")], [(2, UNCLOSED)])),
        ('a,1,x\nb,"2,\nc,3,\n', ([(1, "1")], [(2, CELLS), (3, UNCLOSED)])),
        ('a,1,x\n"b\nc",2,"" \nc,3,"cut o', ([(1, "1"), (2, "2"), (3, "3")], [(4, UNCLOSED)])),
        ('a,1,x"\nb,2,5"x\nc,3,"x"\n', ([(1, "1"), (2, "2"), (3, "3")], [])),
    ],
    ids=["in a column that is not read", "in one that is", "in the last row", "none: amid a cell it opens nothing"],
)
def test_rows_behind_a_quote_that_is_never_closed_are_told(tmp_path: Path, content: str, expected: Any) -> None:
    """All behind it is one cell to every reader of CSV: without a word the rows would be gone."""
    assert read(text(tmp_path, "t,v,note\n" + content)) == expected


@pytest.mark.parametrize("note", ["x", '"two ""words"""'], ids=["as a piece", "as the rest"])
def test_what_a_file_gains_after_it_was_cut_is_not_read(tmp_path: Path, note: str) -> None:
    path = text(tmp_path, f"t,v,note\na,1,{note}\nb,2,{note}\n")
    found = list(spans(path, mapped()))
    with path.open("a") as file:
        file.write("c,3,x\nd,4")
    rows = [batch["v"].to_pylist() for span in found for each in chunks(path, mapped(), span) for batch in each.batches]
    assert rows == [["1", "2"]]


def test_a_quote_that_no_block_closes_ends_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", 100)
    path = text(tmp_path, "t,v,note\n" + "a,1,\n" * 30 + 'b,2,"\n' + "c,3,\n" * 60)
    assert read(path) == ([(row, "1") for row in range(1, 31)], [(31, RUIN)])
    (told,) = [each.text for chunk in all_chunks(path, mapped()) for each in chunk.strays]
    assert told.startswith("a row is longer than") and told.endswith("or a quote in it is never closed")


def test_compressed_text_that_breaks_off(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands before the break is kept; where not even the first line can be had there is no log."""
    whole = b"t,v\n" + b"".join(b"a,%d\n" % number for number in np.random.default_rng(1).integers(0, 1 << 60, 20_000))
    path = tmp_path / "log.csv.gz"
    with pa.output_stream(str(path)) as file:
        file.write(whole)
    assert len(read(path)[0]) == 20_000
    path.write_bytes(path.read_bytes()[:-20_000])
    with pytest.raises(LogError, match=r"log\.csv\.gz must be a log as CSV or Parquet, whole"):
        read(path)
    monkeypatch.setattr(csv_blocks, "HEAD", 1000)
    monkeypatch.setattr(csv_blocks, "BLOCK", 10_000)
    rows, strays = read(path)
    assert 0 < len(rows) < 20_000
    assert strays == [(len(rows) + 1, RUIN)]


@pytest.mark.parametrize("lot", [5, 1 << 16])
def test_chunks_of_a_stream_hold_rows_and_strays_that_follow_each_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lot: int
) -> None:
    """Blocks are looked at ahead: what was found there still waits for its rows. The reference is the list of lines."""
    monkeypatch.setattr(csv_blocks, "BLOCK", 60)
    monkeypatch.setattr(csv_blocks, "LOT", lot)
    lines = [f"t{row},{row}" if row % 9 and not 200 <= row < 300 else f"{row},x,y" for row in range(1, 500)]
    path = text(tmp_path, gzip.compress("\n".join(["t,v", *lines]).encode()), "log.csv.gz")
    told: list[int] = []
    for number, chunk in enumerate(all_chunks(path, mapped())):
        rows = [row for batch in chunk.batches for row in batch["row"].to_pylist()]
        strays = [each.row for each in chunk.strays]
        assert chunk.number == number and (rows or len(strays) <= lot)
        told += sorted(rows + strays)
        assert not rows or max(strays, default=0) < rows[-1]
        assert all(lines[row - 1].endswith("y") for row in strays)
    assert told == list(range(1, 500))


@pytest.mark.parametrize("name", ["log.csv", "log.csv.gz"])
def test_a_row_of_too_few_cells_in_another_coding_is_one_stray(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """The reference is what the codec of Python's standard library makes of the bytes: a mark for each that is none."""
    lines = [*(f"t{row},{row}" for row in range(1, 40)), "Gerät 7: Ende", "té,40", "t\u20ac,41", "t42,42"]
    content = ("\n".join(["t,v", *lines[:-2]]) + "\n").encode("latin-1") + "\n".join(lines[-2:]).encode()
    path = text(tmp_path, gzip.compress(content) if name.endswith("gz") else content, name)
    marked = content.decode("utf-8", "replace").splitlines()[1:]
    for block in (16 << 20, *range(60, 75)):
        monkeypatch.setattr(csv_blocks, "BLOCK", block)
        found = list(all_chunks(path, mapped()))
        cells = [
            (t, v)
            for chunk in found
            for batch in chunk.batches
            for t, v in zip(batch["t"].to_pylist(), batch["v"].to_pylist(), strict=True)
        ]
        assert [",".join(each) for each in cells] == [line for line in marked if "," in line]
        assert [(each.row, each.reason, each.text) for chunk in found for each in chunk.strays] == [
            (40, CELLS, marked[39])
        ]


def test_nothing_is_told_of_what_stands_behind_a_change_of_columns(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The rows right behind it are strays of the next blocks, which are looked at before the change is seen."""
    monkeypatch.setattr(csv_blocks, "BLOCK", 60)
    lines = ["t,v", *(f"t{row},{row}" for row in range(1, 31)), "v,t", *["x"] * 90]
    path = text(tmp_path, gzip.compress("\n".join(lines).encode()), "log.csv.gz")
    rows, strays = read(path)
    assert [row for row, _ in rows] == list(range(1, 31)) and strays == [(31, CHANGED)]


def parquet(path: Path, rows: int = 100, groups: int = 10, **changed: Any) -> Path:
    table = {"t": [f"t{row}" for row in range(rows)], "v": np.arange(rows, dtype=np.float64), **changed}
    pq.write_table(pa.table(table), path, row_group_size=groups)
    return path


def test_row_groups_are_put_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(row_groups, "CHUNK_ROWS", 25)
    monkeypatch.setattr(log_chunk, "ROWS", 7)
    path = parquet(tmp_path / "log.parquet")
    assert read(path) == ([(row + 1, float(row)) for row in range(100)], [])
    done = [chunk.done for chunk in chunks_of(path, mapped())]
    assert done == pytest.approx([0.3, 0.6, 0.9, 1.0])
    assert columns_of(path) == ["t", "v"]


def test_a_truncated_file_is_refused_and_a_ruined_group_is_a_stray(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(row_groups, "CHUNK_ROWS", 10)
    path = parquet(tmp_path / "log.parquet", 3000, 1000)
    whole = path.read_bytes()
    path.write_bytes(whole[:-100])
    with pytest.raises(LogError, match=r"log\.parquet must be a log as CSV or Parquet, whole"):
        read(path)
    path.write_bytes(whole)
    start = pq.read_metadata(path).row_group(1).column(0)
    at = start.dictionary_page_offset or start.data_page_offset
    path.write_bytes(whole[:at] + b"\xff" * 40 + whole[at + 40 :])
    rows, strays = read(path)
    assert [number for number, _ in rows] == [*range(1, 1001), *range(2001, 3001)]
    assert [row for row, _ in strays] == [1001]


def test_a_column_that_lacks_is_named(tmp_path: Path) -> None:
    with pytest.raises(LogError, match=r"the column T must be in the log"):
        read(parquet(tmp_path / "log.parquet"), mapped(temperature="T"))
