"""A record, its hash, and the head of a chain: what can be checked with SHA-256 and a reader of JSON alone.

hash = SHA-256, in hexadecimal, of the canonical JSON of all fields but `hash`, with "format": "onedatum record 1"
previous = the hash of the record before it; 64 zeros for the first
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import asdict, dataclass, fields
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

from onedatum.foundation.errors import StoreError
from onedatum.store.canonical import canonical

FORMAT = "onedatum record 1"
START = "0" * 64
"""What stands as the hash before the first record."""

_HASH = re.compile(r"[0-9a-f]{64}")
_KIND = re.compile(r"[a-z][a-z0-9 _-]{0,38}[a-z0-9]")
LONGEST_NAME = 200

Clock = Callable[[], datetime]


def now() -> datetime:
    """The clock of this machine, in universal time."""
    return datetime.now(UTC)


@dataclass(frozen=True)
class Record:
    """One record, every field as it was written."""

    id: int
    """Running number from 1, without a gap."""
    kind: str
    tag: str
    who: str
    at: str
    """When what is recorded took place, as who wrote it states; universal time."""
    written: str
    """When it was written, by the clock of the machine that wrote it; universal time."""
    case: str
    """The version of the case, SHA-256 of its bytes; "" where there was none."""
    tool: str
    """The version of the tool that wrote it."""
    payload: str
    """Canonical JSON."""
    corrects: int | None
    """The record that this one replaces."""
    previous: str
    hash: str

    @property
    def content(self) -> Any:
        """The payload as data."""
        return json.loads(self.payload)

    @property
    def at_utc(self) -> datetime:
        """When it took place, as a time."""
        return datetime.fromisoformat(self.at)

    @property
    def written_utc(self) -> datetime:
        """When it was written, as a time."""
        return datetime.fromisoformat(self.written)

    @property
    def whole(self) -> bool:
        """Whether its fields still give its hash."""
        try:
            return self.hash == hash_of(asdict(self))
        except (TypeError, ValueError):  # a database let in what no record holds
            return False


FIELDS = tuple(field.name for field in fields(Record))


@dataclass(frozen=True)
class Head:
    """The last record of a chain by number and hash: what is noted on paper to know the whole chain again."""

    id: int = 0
    hash: str = START

    def __str__(self) -> str:
        groups = [self.hash[start : start + 8] for start in range(0, len(self.hash), 8)]
        return f"{self.id}: {' '.join(groups)}"

    @classmethod
    def read(cls, text: str) -> Head:
        """A head as it was noted; blanks and capitals do not matter. Raises StoreError."""
        found = re.fullmatch(r"([0-9]{1,18}):([0-9a-f]{64})", "".join(text.split()).lower())
        if found is None:
            allowed = "the number of a record, a colon and 64 hexadecimal digits"
            raise StoreError("the head", allowed, repr(text[:100]), remedy="copy it as it was noted")
        return cls(int(found[1]), found[2])


def hash_of(all_fields: dict[str, Any]) -> str:
    """The hash that belongs to the fields of a record; `hash` itself takes no part."""
    taking_part = {name: all_fields[name] for name in FIELDS if name != "hash"}
    return sha256(canonical({"format": FORMAT, **taking_part}).encode("ascii")).hexdigest()


def made(all_fields: dict[str, Any], head: Head) -> Record:
    """The record that follows a head; raises StoreError where a field is not as it must be."""
    chained = {**all_fields, "id": head.id + 1, "previous": head.hash}
    record = Record(**chained, hash=hash_of(chained))
    check(record)
    return record


def time_text(time: datetime, name: str) -> str:
    """A time as it is written, universal and to the microsecond; raises StoreError where it has no zone."""
    if time.utcoffset() is None:
        raise StoreError(name, "a time with its zone", repr(time), "a time without one is another time elsewhere")
    try:
        return time.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")
    except OverflowError:
        raise StoreError(name, "a time in the years 1 to 9999", repr(time)) from None


def check(record: Record) -> None:
    """Refuse a record whose fields are not as every record's are; raises StoreError."""
    text(record.kind, "kind", _KIND, "2 to 40 of a to z, 0 to 9, blank, - and _, beginning with a letter")
    for name in ("tag", "who", "tool"):
        _check_name(getattr(record, name), name)
    if record.case:
        text(record.case, "case", _HASH, "the version of a case, 64 hexadecimal digits, or empty")
    for name in ("at", "written"):
        _check_time(getattr(record, name), name)
    corrects = record.corrects
    if corrects is not None and (type(corrects) is not int or not 1 <= corrects < record.id):
        raise StoreError("corrects", f"the number of a record before {record.id}", repr(corrects))


def text(value: object, name: str, pattern: re.Pattern[str], allowed: str) -> None:
    """Refuse what is no text of a form; raises StoreError."""
    if not isinstance(value, str) or not pattern.fullmatch(value):
        raise StoreError(name, allowed, _shown(value))


def _check_name(value: object, name: str) -> None:
    fits = isinstance(value, str) and value.isprintable() and value == value.strip() and 0 < len(value) <= LONGEST_NAME
    if not fits:
        allowed = f"1 to {LONGEST_NAME} printable characters without a blank at its ends"
        raise StoreError(name, allowed, _shown(value))


def _check_time(value: object, name: str) -> None:
    try:
        if isinstance(value, str) and time_text(datetime.fromisoformat(value), name) == value:
            return
    except ValueError:
        pass
    raise StoreError(name, "a universal time such as 2026-11-26T14:05:00.000000Z", _shown(value))


def _shown(value: object) -> str:
    return ascii(value if not isinstance(value, str | bytes) else value[:60])
