"""Frames recorded from devices, out of their file, for the tests of both ends of the line."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("recorded_hart.json")


def count_at(frame: bytes) -> int:
    """Place of the byte count: behind an address of five bytes or of one."""
    return 7 if frame[0] & 0x80 else 3


@dataclass(frozen=True)
class Recorded:
    """One frame with what stood before and after it on the line."""

    id: str
    source: str
    stray: bytes
    preambles: int
    frame: bytes
    after: bytes
    answers: str
    """Name of the request that it answers; empty for a request, and where the request is not at hand."""

    @property
    def stream(self) -> bytes:
        """All bytes in the order of the line."""
        return self.stray + b"\xff" * self.preambles + self.frame + self.after

    @property
    def is_request(self) -> bool:
        """By the delimiter: 02 or 82."""
        return self.frame[0] & 0x07 == 2

    @property
    def long(self) -> bool:
        """Whether the address has five bytes."""
        return bool(self.frame[0] & 0x80)

    @property
    def count_at(self) -> int:
        """Place of the byte count."""
        return count_at(self.frame)

    @property
    def command(self) -> int:
        """The byte before the byte count."""
        return self.frame[self.count_at - 1]

    @property
    def status(self) -> int:
        """The second status byte of an answer."""
        return self.frame[self.count_at + 2]

    @property
    def data(self) -> bytes:
        """What stands between the status of an answer and its check byte."""
        return self.frame[self.count_at + 3 : -1]


@cache
def table() -> dict[str, Any]:
    """The file as it stands."""
    found: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))
    return found


@cache
def recorded() -> dict[str, Recorded]:
    """All frames by their names."""
    rows = [
        Recorded(
            row["id"],
            row["source"],
            bytes.fromhex(row["stray"]),
            row["preambles"],
            bytes.fromhex(row["frame"]),
            bytes.fromhex(row["after"]),
            row.get("answers", ""),
        )
        for row in table()["frames"]
    ]
    found = {row.id: row for row in rows}
    assert len(found) == len(rows)
    return found


def requests() -> list[Recorded]:
    """What masters asked."""
    return [row for row in recorded().values() if row.is_request]


def answers() -> list[Recorded]:
    """What devices answered."""
    return [row for row in recorded().values() if not row.is_request]
