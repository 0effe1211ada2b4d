"""From a path to text: only regular files of a sane size, only UTF-8, nothing invisible."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

from onedatum.case.tree.limits import MAX_BYTES
from onedatum.foundation.errors import Fault, Place

HOLE = "\ufffd"
"""Stands for every character that cannot be taken; a value that holds one is faulty."""

INVISIBLE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffd-\uffff]"
)
"""Control characters, marks that turn the direction of writing, halves of characters: no editor shows them."""

_UTF_16 = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")


class Refused(Exception):
    """A file that cannot be read at all; carries the one fault."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.sentence())
        self.fault = fault


def beside(folder: Path, name: str) -> Path | None:
    """The file of that name in a folder; None for a name that is a path and could lead out of it."""
    return folder / name if Path(name).name == name and name not in ("", ".", "..") else None


def display_name(path: str | os.PathLike[str]) -> str:
    """The path as given, fit for a message."""
    name = os.fspath(path)
    return "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in name)


def read_bytes(path: str | os.PathLike[str]) -> bytes:
    """The bytes of a regular file within the limit; never waits on a pipe or a device."""
    name = display_name(path)
    try:
        _check_kind(os.stat(path), name)
        with os.fdopen(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as file:
            _check_kind(os.fstat(file.fileno()), name)
            data = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise Refused(Fault(name, "a file that exists", "nothing there", remedy=_neighbours(path))) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise Refused(Fault(name, "a file that can be read", "an error", why)) from None
    check_size(len(data), name)
    return data


def check_size(size: int, file: str) -> None:
    """Refuse what is longer than any case."""
    if size > MAX_BYTES:
        why = "A case takes some 5 kB"
        remedy = "Keep logs and tables in CSV files"
        raise Refused(Fault(file, f"at most {MAX_BYTES:,} bytes", f"{size:,} bytes or more", why, remedy=remedy))


def decoded(data: bytes, file: str) -> tuple[str, list[Fault]]:
    """Bytes as text. Bytes that are no UTF-8 become holes, with one fault that names the first."""
    check_size(len(data), file)
    if data.startswith(_UTF_16) or data[1:2] == b"\x00" or data[:1] == b"\x00":
        raise Refused(_encoding(file, "UTF-16 or another encoding with zero bytes", Place(file, 1, 1)))
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError as error:
        mark = len(b"\xef\xbb\xbf") if data.startswith(b"\xef\xbb\xbf") else 0
        at = error.start + mark
        text = data.decode("utf-8-sig", "replace")
        before = data[mark:at].decode("utf-8")
        got = f"byte 0x{data[at]:02X} at position {at + 1}"
        return text, [_encoding(file, got, place_of(before, len(before), file))]


def without_invisible(text: str, file: str) -> tuple[str, list[Fault]]:
    """The text with every invisible character as a hole, and one fault that names the first."""
    first = INVISIBLE.search(text)
    if first is None:
        return text, []
    count = sum(1 for _ in INVISIBLE.finditer(text))
    fault = Fault(
        file,
        "text without control characters",
        f"U+{ord(first[0]):04X}" + (f", and {count - 1} more" if count > 1 else ""),
        "Such a character is not shown by an editor",
        place_of(text, first.start(), file),
        "Delete it and write the line again",
    )
    return INVISIBLE.sub(HOLE, text), [fault]


def place_of(text: str, at: int, file: str) -> Place:
    """Line and column, from 1, of an offset in a text."""
    line_start = text.rfind("\n", 0, at) + 1
    return Place(file, text.count("\n", 0, at) + 1, at - line_start + 1)


def _check_kind(status: os.stat_result, name: str) -> None:
    if stat.S_ISDIR(status.st_mode):
        raise Refused(Fault(name, "a file", "a folder", remedy="Name one file in it"))
    if not stat.S_ISREG(status.st_mode):
        raise Refused(Fault(name, "a regular file", "a pipe or a device", "Such a thing may never end"))
    check_size(status.st_size, name)


def _encoding(file: str, got: str, place: Place) -> Fault:
    return Fault(file, "text in UTF-8", got, "UTF-8 is needed", place, "Save the file as UTF-8 in the editor")


def _neighbours(path: str | os.PathLike[str]) -> str:
    """What to do about a missing file: the nearest name beside it, if one is alike."""
    from onedatum.foundation.units.nearest import nearest

    wanted = Path(path)
    try:
        names = [entry.name for entry in os.scandir(wanted.parent)][:1000]
    except (OSError, ValueError):
        return f"The folder {display_name(wanted.parent)} cannot be read"
    near = nearest(wanted.name, names)
    return f"The nearest name in that folder is {display_name(near)}" if near else ""
