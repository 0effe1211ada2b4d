"""All records as one file: JSON lines, the first saying how many follow and the head of their chain."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from pathlib import Path
from typing import IO, Any

from onedatum.foundation.errors import StoreError
from onedatum.store.canonical import LONGEST, canonical
from onedatum.store.chain import Walk
from onedatum.store.record import FIELDS, Head, Record
from onedatum.store.whole_file import read_error

FORMAT = "onedatum records 1"
_LONGEST_LINE = 2 * LONGEST + 10_000
"""Bytes: a payload within the line, its quotation marks escaped once more."""


def lines(records: Iterable[Record], head: Head) -> Iterator[str]:
    """The lines of a file, without their ends."""
    yield canonical({"format": FORMAT, "records": head.id, "head": head.hash})
    for record in records:
        yield canonical(asdict(record))


def read_lines(path: Path) -> list[Record]:
    """The records of a file, every hash made again; raises StoreError with the line of what is wrong."""
    try:
        if not path.is_file():
            got = "a folder" if path.is_dir() else "a device or a pipe" if path.exists() else "none"
            raise StoreError(str(path), "a file of exported records", got, remedy="see to its path")
        with path.open("rb") as file:
            return _records(file, path)
    except OSError as error:
        raise read_error(path, error) from None


def _records(file: IO[bytes], path: Path) -> list[Record]:
    head = _first(_line(file, path, 1), path)
    walk, records = Walk(), []
    for number in range(2, head.id + 2):
        record = _record(_line(file, path, number), path, number)
        fault = walk.refusal(record)
        if fault:
            raise _wrong(path, number, "the next record of the chain", "another", fault)
        records.append(record)
    if file.read(1):
        raise _wrong(path, head.id + 2, f"the end after {head.id} records", "more")
    if walk.head != head:
        raise _wrong(path, 1, f"the head of its records, {walk.head}", f"{head}")
    return records


def _line(file: IO[bytes], path: Path, number: int) -> str:
    """One line, whole."""
    raw = file.readline(_LONGEST_LINE)
    if not raw.endswith(b"\n"):
        got = "the end of the file" if len(raw) < _LONGEST_LINE else "a longer one"
        raise _wrong(path, number, f"a line of at most {_LONGEST_LINE} bytes with its end", got, "part is missing")
    try:
        return raw[:-1].decode("ascii")
    except UnicodeDecodeError:
        raise _wrong(path, number, "a line of ASCII", "other bytes") from None


def _parsed(line: str, path: Path, number: int, keys: Iterable[str]) -> dict[str, Any]:
    """The object of a line, which must be written in the canonical form with exactly these keys."""
    try:
        value = json.loads(line)
        if isinstance(value, dict) and set(value) == set(keys) and canonical(value) == line:
            return value
    except (ValueError, RecursionError):
        pass
    allowed = f"canonical JSON with the keys {', '.join(sorted(keys))}"
    raise _wrong(path, number, allowed, ascii(line[:60]))


def _first(line: str, path: Path) -> Head:
    value = _parsed(line, path, 1, ("format", "records", "head"))
    if value["format"] != FORMAT:
        raise _wrong(path, 1, f'the format "{FORMAT}"', ascii(value["format"])[:60])
    count, last = value["records"], value["head"]
    if type(count) is not int or not 0 <= count < 10**12 or not isinstance(last, str):
        raise _wrong(path, 1, "the number of records and the hash of the last", ascii(line[:60]))
    return Head(count, last)


def _record(line: str, path: Path, number: int) -> Record:
    value = _parsed(line, path, number, FIELDS)
    for name, each in value.items():
        whole = name == "id" or (name == "corrects" and each is not None)
        if type(each) is not (int if whole else str) and not (name == "corrects" and each is None):
            raise _wrong(path, number, f"a record whose {name} is a {'whole number' if whole else 'text'}", "another")
    if len(value["payload"]) > LONGEST:
        raise _wrong(path, number, f"a payload of at most {LONGEST} characters", f"{len(value['payload'])}")
    return Record(**value)


def _wrong(path: Path, number: int, allowed: str, got: str, why: str = "") -> StoreError:
    return StoreError(f"{path}:{number}", allowed, got, why, "Nothing was written")
