"""Times of a stated form put into the order of ISO 8601, all at once, where each of them has all its digits."""

from __future__ import annotations

from typing import Any

import numpy as np
import pyarrow as pa

WIDTH = {"Y": 4, "m": 2, "d": 2, "H": 2, "M": 2, "S": 2}
PLACE = {"Y": 0, "m": 5, "d": 8, "H": 11, "M": 14, "S": 17, "f": 20}
BLANK = b"1970-01-01T00:00:00"
LONGEST_PART = 6
"""Digits of a part of a second."""


def in_iso(array: Any, form: str) -> Any | None:
    """The same times, as texts; None where one of them is written shorter, or states its offset, or where digits follow
    on a part of a second.

    `array`: texts, none missing. Letters and literal text are checked; whether a date exists is not.
    """
    table = _bytes(array)
    found = _places(form, table.shape[1]) if table is not None else None
    if table is None or found is None:
        return None
    fields, literal = found
    part = fields["f"].stop - fields["f"].start if "f" in fields else 0
    head = BLANK + b"." * bool(part) + b"0" * part
    out = np.empty((len(table), len(head)), dtype=np.uint8)
    out[:] = np.frombuffer(head, dtype=np.uint8)
    for letter, where in fields.items():
        digits = table[:, where]
        if (digits - ord("0") > 9).any():
            return None
        out[:, PLACE[letter] : PLACE[letter] + digits.shape[1]] = digits
    if any((table[:, at] != byte).any() for at, byte in literal.items()):
        return None
    ends = np.arange(0, out.size + 1, len(head), dtype=np.int32)
    return pa.StringArray.from_buffers(len(table), pa.py_buffer(ends), pa.py_buffer(out))


def _bytes(array: Any) -> Any | None:
    """The texts as rows of bytes; None where they are not all as long."""
    if not pa.types.is_string(array.type) or not len(array):
        return None
    _, ends, data = array.buffers()
    at = np.frombuffer(ends, dtype=np.int32)[array.offset : array.offset + len(array) + 1]
    length = int(at[1] - at[0])
    if not length or (np.diff(at) != length).any():
        return None
    return np.frombuffer(data, dtype=np.uint8)[at[0] : at[-1]].reshape(len(array), length)


def _places(form: str, length: int) -> tuple[dict[str, slice], dict[int, int]] | None:
    """Where each letter and each byte of literal text stands in a text of this length; None where it does not fit."""
    fields, literal, at = dict[str, slice](), dict[int, int](), 0
    pieces = form.split("%")
    fixed = sum(WIDTH.get(piece[:1], 0) + len(piece[1:].encode()) for piece in pieces[1:]) + len(pieces[0].encode())
    width = {**WIDTH, "f": length - fixed}
    if any(piece[:1] not in width for piece in pieces[1:]) or not 0 <= width["f"] <= LONGEST_PART:
        return None
    for number, piece in enumerate(pieces):
        letter, text = ("", piece) if not number else (piece[0], piece[1:])
        if letter:
            if letter in fields or not width[letter] or (letter == "f" and not text and number < len(pieces) - 1):
                return None
            fields[letter] = slice(at, at + width[letter])
            at += width[letter]
        for byte in text.encode():
            literal[at] = byte
            at += 1
    return (fields, literal) if at == length else None
