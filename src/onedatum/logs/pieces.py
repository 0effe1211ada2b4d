"""Where a CSV file can be cut, so that its pieces are worked side by side: at ends of lines that no quote can hide.

A cut hangs on the file alone, not on who works it. Pieces are told as the file is read, each with the number of its
first row. Where that can no longer be known for certain, the rest of the file is one piece.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

MARK = b"\xef\xbb\xbf"
"""Of UTF-8, at the very beginning of some files."""
LF, CR, QUOTE = b'\n\r"'


@dataclass(frozen=True)
class Piece:
    """Some lines of a CSV file."""

    number: int
    """From 0 in its file."""
    head: int
    """Bytes of the first line, which names the columns."""
    start: int
    stop: int | None
    """The bytes from which on it is, and before which it ends; None: it is the rest of the file."""
    first: int
    """Number of its first row."""


def pieces(path: Path, separator: str, block: int, size: int) -> Iterator[Piece]:
    """The pieces of the first `size` bytes of a plain CSV file, each of at most `block` bytes but the rest.

    None where it has no first line.
    """
    with path.open("rb") as file:
        head = _first_line(file.read(min(block, size)), ord(separator))
        number, start, first = 0, head, 1
        while head and start < size:
            file.seek(start)
            text = file.read(min((number + 1) * block, size) - start)
            length, rows = _lines(text, size - start, ord(separator))
            if not length:
                yield Piece(number, head, start, None, first)
                return
            yield Piece(number, head, start, start + length, first)
            number, start, first = number + 1, start + length, first + rows


def _lines(text: bytes, left: int, separator: int) -> tuple[int, int]:
    """Bytes and rows of the whole lines that a text begins with; none where they may go on after their end."""
    if len(text) < left:
        text = text[: text.rfind(b"\n") + 1]
    if not text or (b'"' in text and _hides(np.frombuffer(text, np.uint8), separator)):
        return 0, 0
    return len(text), _rows(text)


def _first_line(text: bytes, separator: int) -> int:
    """The bytes of the first line and its end; 0 where it has none, or where a quote may hide it."""
    ends = [at for at in (text.find(b"\n"), text.find(b"\r")) if at >= 0]
    if not ends or _hides(np.frombuffer(text[: min(ends)].removeprefix(MARK), np.uint8), separator):
        return 0
    return min(ends) + (2 if text[min(ends) :].startswith(b"\r\n") else 1)


def _line_ends(text: Any) -> Any:
    return (text == LF) | (text == CR)


def _rows(text: bytes) -> int:
    """The lines that are not empty; an end of a line is LF, CR or both."""
    if b"\r" not in text and b"\n\n" not in text and not text.startswith(b"\n"):
        return int(np.count_nonzero(np.frombuffer(text, np.uint8) == LF)) + (not text.endswith(b"\n"))
    ends = _line_ends(np.frombuffer(text, np.uint8))
    return int(not ends[0]) + int(np.count_nonzero(ends[:-1] & ~ends[1:]))


def _hides(text: Any, separator: int) -> bool:
    """Whether a quote may hide an end of a line: all is sure where each pair of them holds a whole cell of one line."""
    quotes = np.flatnonzero(text == QUOTE)
    if not len(quotes):
        return False
    if len(quotes) % 2:
        return True
    ends = _line_ends(text)
    bounds = np.concatenate([[True], ends | (text == separator), [True]])
    return not (
        np.all(bounds[quotes[0::2]])
        and np.all(bounds[quotes[1::2] + 2])
        and not np.any(np.searchsorted(quotes, np.flatnonzero(ends)) % 2)
    )
