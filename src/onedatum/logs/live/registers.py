"""Numbers out of registers of 16 bit, as a fieldbus hands them over, and whether they can be right.

Function, address, form, order and scale are the device's own and must be stated: none is guessed. A number outside its
stated limits is unknown; if another order of words or bytes would give one that is within, that order is named as the
likely one, and still not used.

Source: Modbus application protocol, which leaves the order of the words of a longer number to the device (from memory).
"""

from __future__ import annotations

import math
import struct
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from onedatum.foundation.errors import QuantityError

Form = Literal["uint16", "int16", "uint32", "int32", "uint64", "int64", "float32", "float64"]
Order = Literal["high first", "low first"]

_CODES = {
    "uint16": "H",
    "int16": "h",
    "uint32": "I",
    "int32": "i",
    "uint64": "Q",
    "int64": "q",
    "float32": "f",
    "float64": "d",
}
_LEAST_NORMAL = {"float32": 2.0**-126, "float64": 2.0**-1022}
"""The smallest number with all its digits; what lies below comes of words in the wrong order."""


@dataclass(frozen=True)
class Point:
    """One number of a device: how it lies in the registers, what it is worth and where it must lie.

    The number is `factor` times what the registers hold, plus `offset`; both, and the limits, are in the unit of the
    point. `unknown_if` are raw integers by which the device says that it has no value.
    """

    name: str
    form: Form
    least: float
    most: float
    words: Order = "high first"
    bytes_: Order = "high first"
    factor: float = 1.0
    offset: float = 0.0
    unknown_if: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what cannot be read by."""
        if self.form not in _CODES:
            raise QuantityError(f"one of {', '.join(get_args(Form))} as the form of {self.name}", repr(self.form))
        for order in (self.words, self.bytes_):
            if order not in get_args(Order):
                raise QuantityError(f"one of {', '.join(get_args(Order))} as an order of {self.name}", repr(order))
        if not (math.isfinite(self.factor) and self.factor and math.isfinite(self.offset)):
            got = f"factor {self.factor!r}, offset {self.offset!r}"
            raise QuantityError(f"a factor other than zero and an offset for {self.name}", got)
        if not -math.inf < self.least < self.most < math.inf:
            why = "a number without limits shows no wrong order"
            raise QuantityError(f"two limits in order for {self.name}", f"{self.least!r} to {self.most!r}", why)

    @property
    def count(self) -> int:
        """Number of registers that the number fills."""
        return struct.calcsize(">" + _CODES[self.form]) // 2


@dataclass(frozen=True)
class RegisterReading:
    """A number read, or why it is unknown. `likely` names the orders by which it would be within its limits."""

    name: str
    value: float | None
    doubt: str = ""
    likely: tuple[str, ...] = ()
    is_told_none: bool = False
    """Whether the device itself tells that it has no value."""

    @property
    def hint(self) -> str:
        """What may be stated wrongly; rubbish looks so at times, and what was read well before is stated rightly."""
        return f"within them with {' or '.join(self.likely)}: the order is likely stated wrongly" if self.likely else ""


def number_of(
    registers: Sequence[int], form: Form, words: Order = "high first", bytes_: Order = "high first"
) -> float | int:
    """The bare number that registers hold.

    Raises `QuantityError` where there are not as many registers as the form needs, or one is not of 16 bit.
    """
    code = ">" + _CODES[form]
    count = struct.calcsize(code) // 2
    if len(registers) != count:
        raise QuantityError(f"{count} registers for {form}", f"{len(registers)}")
    wrong = next((each for each in registers if not _of_16_bit(each)), None)
    if wrong is not None:
        raise QuantityError("a register from 0 to 65535", repr(wrong), "a register holds 16 bit")
    turned = registers if words == "high first" else registers[::-1]
    sent = b"".join(int(each).to_bytes(2, "big" if bytes_ == "high first" else "little") for each in turned)
    found: float | int = struct.unpack(code, sent)[0]
    return found


def read_point(point: Point, registers: Sequence[int]) -> RegisterReading:
    """The number of a point, or unknown with the reason. Never raises on what a device sent."""
    try:
        raw = number_of(registers, point.form, point.words, point.bytes_)
    except QuantityError as error:
        return RegisterReading(point.name, None, f"cannot be read: it must be {error.allowed}; got {error.got}")
    if raw in point.unknown_if:
        return RegisterReading(point.name, None, f"the device tells {raw} for no value", (), True)
    doubt = _doubt(point, raw)
    if not doubt:
        return RegisterReading(point.name, _worth(point, raw))
    likely = _likely_orders(point, registers)
    return RegisterReading(point.name, None, doubt, likely, math.isnan(raw) and not likely)


def _worth(point: Point, raw: float | int) -> float:
    return point.factor * raw + point.offset


def _doubt(point: Point, raw: float | int) -> str:
    """What speaks against a bare number; empty if nothing does."""
    limits = f"the limits {point.least:g} to {point.most:g}"
    if math.isnan(raw):
        return "the device tells no number (NaN)"
    if not math.isfinite(raw):
        return f"{raw} is no number within {limits}"
    if 0 < abs(raw) < _LEAST_NORMAL.get(point.form, 0.0):
        return f"{raw:.4g} is too small to be meant for a number within {limits}"
    value = _worth(point, raw)
    return "" if point.least <= value <= point.most else f"{value:.7g} is outside {limits}"


def _likely_orders(point: Point, registers: Sequence[int]) -> tuple[str, ...]:
    """Other orders of words and bytes by which the number would be within its limits."""
    orders = get_args(Order)
    found = []
    for bytes_ in (point.bytes_, *(each for each in orders if each != point.bytes_)):
        for words in (point.words, *(each for each in orders if each != point.words)):
            if (words, bytes_) == (point.words, point.bytes_) or (point.count == 1 and words != point.words):
                continue
            raw = number_of(registers, point.form, words, bytes_)
            if not _doubt(point, raw) and raw not in point.unknown_if:
                found.append(_order_words(point, words, bytes_))
    return tuple(found)


def _order_words(point: Point, words: Order, bytes_: Order) -> str:
    told = [f"words {words}"] * (words != point.words) + [f"bytes {bytes_}"] * (bytes_ != point.bytes_)
    return " and ".join(told)


def _of_16_bit(register: int) -> bool:
    return type(register) is int and 0 <= register <= 0xFFFF
