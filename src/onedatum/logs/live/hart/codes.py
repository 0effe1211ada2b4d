"""The codes of digital reading, from their table: units, bits of status, answer codes, times.

A row of the table that was seen in a recorded frame or in a published table says in which; all others are from memory,
as the head of the table says. A code that the table does not hold stays a number.

Source: HART universal commands, common tables and data link layer (from memory but for the rows with a source of their
own).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.units import dimension, read_quantity


def table() -> Mapping[str, Any]:
    """The table of codes; never to be written to."""
    found: Mapping[str, Any] = data.table("hart_codes.json")
    return found


READING_COMMANDS = tuple(int(number) for number in table()["commands"])
"""The commands that are known here; each of them reads and changes nothing in the device."""


@dataclass(frozen=True)
class Unit:
    """A unit as the device codes it."""

    code: int

    @property
    def name(self) -> str:
        """The unit as it is written, or the bare code where it is not known."""
        row = table()["units"].get(str(self.code))
        return str(row["unit"]) if row else table()["no_value_units"].get(str(self.code), f"unit code {self.code}")

    @property
    def dimension(self) -> str:
        """What it measures, as a word of the units; empty where the code is not known."""
        row = table()["units"].get(str(self.code))
        return str(row["dimension"]) if row else ""

    @property
    def carries_value(self) -> bool:
        """Whether a number with this unit means anything."""
        return self.code != 250

    def in_si(self, value: float | None) -> float | None:
        """The value in the SI unit of its dimension; None where value or unit is unknown or it cannot be."""
        if value is None or not self.dimension:
            return None
        try:
            return read_quantity(f"{value!r} {self.name}", self.dimension)
        except QuantityError:
            return None

    @property
    def si(self) -> str:
        """The SI unit in which `in_si` tells; empty where the code is not known, and for a share."""
        return dimension(self.dimension).si if self.dimension else ""


@dataclass(frozen=True)
class Value:
    """A number as the device sent it, with its unit; `number` is None where it is not known, never zero instead."""

    number: float | None
    unit: Unit

    @property
    def in_si(self) -> float | None:
        """The value in SI, where number and unit are known."""
        return self.unit.in_si(self.number)

    def __str__(self) -> str:
        return f"{'unknown' if self.number is None else format(self.number, '.7g')} {self.unit.name}"


def known(number: float, unit: Unit | None = None) -> float | None:
    """The number, or None where it is no number, is infinite or its unit says that it is not used."""
    usable = math.isfinite(number) and (unit is None or unit.carries_value)
    return number if usable else None


@dataclass(frozen=True)
class DeviceStatus:
    """What a device says of itself in the second status byte of every answer; all bits as they were sent."""

    byte: int

    @property
    def keys(self) -> tuple[str, ...]:
        """The bits that are set, by their keys, the gravest first."""
        return tuple(row["key"] for row in _bits(self.byte, "device_status"))

    @property
    def words(self) -> tuple[str, ...]:
        """The same in words."""
        return tuple(row["words"] for row in _bits(self.byte, "device_status"))

    def has(self, key: str) -> bool:
        """Whether a bit is set."""
        return key in self.keys


def communication_errors(byte: int) -> tuple[str, ...]:
    """What the device found wrong in the request, when bit 7 of the first status byte is set."""
    if not byte & 0x80:
        return ()
    return tuple(row["words"] for row in _bits(byte, "communication_errors")) or ("not told",)


def answer_words(code: int) -> str:
    """What an answer code means, or the bare code."""
    row = table()["answer_codes"].get(str(code))
    return str(row["words"]) if row else f"answer code {code}"


def is_warning(code: int) -> bool:
    """Whether the data of an answer with this code hold, with a warning."""
    return code in table()["warnings"]


@cache
def time_s(key: str) -> float:
    """One of the times of the data link."""
    return float(table()["times"][key]["value"])


def _bits(byte: int, name: str) -> tuple[Mapping[str, Any], ...]:
    return tuple(row for row in table()[name] if byte >> row["bit"] & 1)
