"""A fault of a tank table as data: which rows, what was seen, what was to be expected, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple


class FaultKind(Enum):
    """What can be wrong with a table."""

    TOO_FEW_ROWS = "fewer than two rows"
    NOT_FINITE = "row without a number"
    LEVEL_REPEATED = "level repeated"
    LEVEL_FALLS = "level falls"
    VOLUME_FALLS = "volume falls"
    VOLUME_REPEATED = "volume repeated"
    ROWS_MISSING = "rows missing"
    STICKS_OUT = "row sticks out"
    SECTION_JUMPS = "section jumps"
    DATUM = "start of the table"


class Amount(NamedTuple):
    """A number in its SI unit, which its suffix names: "m", "m3", "m2", or "" for a plain number."""

    value: float
    suffix: str


@dataclass(frozen=True)
class TableFault:
    """One thing that is wrong with a table, or looks wrong."""

    kind: FaultKind
    rows: tuple[int, ...]
    """The rows it is about, counted from 1; a fault of missing rows names those either side of the gap."""
    stops: bool
    """True: the table cannot be used. False: it can, and someone has to look."""
    allowed: str
    """In words, what the rows must be."""
    seen: tuple[Amount, ...]
    expected: tuple[Amount, ...]
    """What was to be expected instead, number by number as in `seen`, or the missing levels; empty where unknown."""
    why: str
    remedy: str
