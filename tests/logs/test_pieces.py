"""Pieces of a CSV file: cut where a row ends for certain, and numbered on.

The reference is the reader of CSV of Python's standard library: what stands before a cut and what stands after it must
give the rows of the whole, each by itself.
"""

from __future__ import annotations

import csv
import io
import random
from pathlib import Path

import pytest

from onedatum.logs import csv_blocks
from onedatum.logs.chunk import Span
from onedatum.logs.csv_blocks import CHANGED, RUIN
from onedatum.logs.pieces import MARK, Piece, pieces
from onedatum.logs.reading import all_chunks, spans
from tests.logs.rows import mapped

BLOCK = 100


def rows_of(data: bytes) -> list[list[str]]:
    """The rows of a text that are not empty."""
    return [row for row in csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")) if row]


def cut(folder: Path, data: bytes, block: int = BLOCK) -> list[Piece]:
    path = folder / "log.csv"
    path.write_bytes(data)
    return list(pieces(path, ",", block, len(data)))


def drawn(draw: random.Random) -> bytes:
    """A file in the manner of some exporter, with rows that are wrong among the others."""
    end = draw.choice(["\n", "\r\n", "\r"])
    mark, quoted = draw.choice(["", "\ufeff"]), draw.choice([False, True])
    wrong = draw.choice(
        [[], ["", "a,b,c", "x"], ["", '"a""b",2', 'x,""'], [f'"a{end}b",1'], ['5"x,"a', 'b"'], ["\0,1"]]
    )
    lines = [draw.choice(["t,v", '"t","v"'])]
    for row in range(draw.randrange(60)):
        usual = f'"t{row}","{row}"' if quoted else f"t{row},{row}"
        lines.append(draw.choice(wrong) if wrong and draw.random() < 0.05 else usual)
    return (mark + end.join(lines) + draw.choice(["", end])).encode()


def test_every_cut_is_at_the_end_of_a_row(tmp_path: Path) -> None:
    draw, cuts, rests = random.Random(20261126), 0, 0
    for _ in range(150):
        data = drawn(draw)
        found, whole, before = cut(tmp_path, data), rows_of(data), 0
        for number, piece in enumerate(found):
            first, rest = rows_of(data[: piece.start]), rows_of(data[piece.start :])
            assert [*first, *rest] == whole
            assert (piece.number, piece.first, len(first)) == (number, len(first), piece.first)
            assert piece.start == (before or piece.head)
            before = piece.stop or len(data)
        assert before == (len(data) if found else 0)
        cuts, rests = cuts + len(found), rests + any(piece.stop is None for piece in found)
    assert cuts > 250 and rests > 20


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"", []),
        (b"t,v", []),
        (b"t,v\n", []),
        (b't,"v\n1,2\n', []),
        (b"t,v\n" + b"x" * 200 + b",1\n", [(4, None, 1)]),
        (b"t,v\n1,2\n\n\n3,4", [(4, 13, 1)]),
        (MARK + b'"t","v"\n' + b'"1","2"\n' * 20, [(11, 99, 1), (99, 171, 12)]),
        (b"t,v\n" + b"1,2\n" * 24 + b'"a\nb",2\n' + b"3,4\n" * 5, [(4, 100, 1), (100, None, 25)]),
    ],
)
def test_where_files_are_cut(tmp_path: Path, data: bytes, expected: list[tuple[int, int | None, int]]) -> None:
    """Worked by hand: the last end of a line within each 100 bytes, and the rest from where it is not certain."""
    assert [(each.start, each.stop, each.first) for each in cut(tmp_path, data)] == expected


def test_rows_and_what_is_none_are_those_of_the_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", BLOCK)
    draw, read = random.Random(20261127), 0
    path, mapping = tmp_path / "log.csv", mapped()
    for _ in range(25):
        data = drawn(draw)
        path.write_bytes(data)
        if any(span.chunk is None for span in spans(path, mapping)):
            continue
        found, strays = list[list[object]](), list[int]()
        for chunk in all_chunks(path, mapping):
            for batch in chunk.batches:
                found += [
                    list(row) for row in zip(*(batch[name].to_pylist() for name in ("row", "t", "v")), strict=True)
                ]
            strays += [each.row for each in chunk.strays]
        numbered = list(enumerate(rows_of(data)))[1:]
        assert found == [[number, *row] for number, row in numbered if len(row) == 2]
        assert strays == [number for number, row in numbered if len(row) != 2]
        read += len(found)
    assert read > 200


def test_what_ends_a_file_ends_it_over_all_its_pieces(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_blocks, "BLOCK", BLOCK)
    path, rows = tmp_path / "log.csv", [f"t{number},{number}" for number in range(60)]
    for wrong, reason in (("v,t", CHANGED), ('"' + "x\n" * BLOCK + '",1', RUIN)):
        path.write_text("\n".join(["t,v", *rows[:30], wrong, *rows[30:], "a,b,c"]), encoding="utf-8")
        found = list(all_chunks(path, mapped()))
        assert len(found) > 1 and len(list(spans(path, mapped()))) > 1
        assert [chunk.ends for chunk in found] == [False] * (len(found) - 1) + [True]
        assert [(each.row, each.reason) for chunk in found for each in chunk.strays] == [(31, reason)]


def test_a_packed_file_is_not_cut(tmp_path: Path) -> None:
    import gzip

    path = tmp_path / "log.csv.gz"
    path.write_bytes(gzip.compress(b"t,v\n" + b"1,2\n" * 100))
    assert list(spans(path, mapped())) == [Span(end=path.stat().st_size)]
