"""What a device answers to the universal commands that read: one value for each, out of the data of a frame.

Currents are in ampere and shares are fractions, whatever was sent. A number that the device marks as not available
(not a number, or the unit "not used") is None, never zero. Answers that are longer than known here are read as far as
they are known; one that is too short is an `AnswerFault`.

Source: HART universal commands. The layouts of 0, 1, 2, 3, 13 and 15 agree with answers recorded from devices, those of
0, 13, 15 and 20 with the tables of a communications manual (2015, read by excerpt); of 20 a refusal was recorded and no
answer. From memory are 48, the number that stands for none, the year of a date counted from 1900, and that revision 6
answers command 0 as revision 7 does.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from onedatum.logs.live.hart.codes import Unit, Value, known, table
from onedatum.logs.live.hart.frames import Unique
from onedatum.logs.live.hart.packed import unpack

_MOST_VARIABLES = 4


@dataclass(frozen=True)
class Identity:
    """Command 0: who the device is, and how it wants to be asked."""

    address: Unique
    preambles: int
    """Preambles that the device needs before a request."""
    revision: int
    """Revision of the universal commands."""
    device_revision: int
    software_revision: int
    hardware_revision: int
    flags: int
    answer_preambles: int | None = None
    """From revision 6 on, as all below; None before, however long the answer is."""
    configuration_counter: int | None = None
    """Counts every change of the configuration."""
    extended_status: int | None = None


@dataclass(frozen=True)
class PrimaryVariable:
    """Command 1."""

    value: Value


@dataclass(frozen=True)
class LoopReading:
    """Command 2: what the device sends into the loop; `share` is a fraction of the range."""

    current_A: float | None
    share: float | None


@dataclass(frozen=True)
class Variables:
    """Command 3: the loop current and as many variables as the device has, the primary one first."""

    current_A: float | None
    values: tuple[Value, ...]

    @property
    def primary(self) -> Value | None:
        """The first variable, which the loop current stands for."""
        return self.values[0] if self.values else None


@dataclass(frozen=True)
class Label:
    """Command 13: tag, descriptor and date as they were written into the device."""

    tag: str
    descriptor: str
    day: date | None
    """None where the three bytes are no day of the calendar."""


@dataclass(frozen=True)
class OutputRange:
    """Command 15: the range of the loop current and how it is damped and protected.

    Revision 5 answers in 17 bytes (recorded), of which the last is a private label; the later form of the published
    table has a byte of flags behind it. Neither byte is read.
    """

    upper: Value
    """Value of the primary variable at 20 mA."""
    lower: Value
    """The same at 4 mA."""
    damping_s: float | None
    alarm_direction: str
    transfer_function: int
    """0 where the current is proportional to the primary variable."""
    write_protection: str


@dataclass(frozen=True)
class LongTag:
    """Command 20."""

    tag: str


@dataclass(frozen=True)
class AdditionalStatus:
    """Command 48: bits whose meaning is the device's own; what is set is told by byte and bit."""

    sent: bytes

    @property
    def bits(self) -> tuple[tuple[int, int], ...]:
        """Byte and bit, both counted from 0, of all that are set."""
        return tuple((at, bit) for at, byte in enumerate(self.sent) for bit in range(8) if byte >> bit & 1)


Answer = Identity | PrimaryVariable | LoopReading | Variables | Label | OutputRange | LongTag | AdditionalStatus


@dataclass(frozen=True)
class AnswerFault:
    """An answer that cannot be read: of which command, and why."""

    command: int
    words: str

    def __str__(self) -> str:
        return f"command {self.command}: {self.words}"


def read_answer(command: int, sent: bytes) -> Answer | AnswerFault:
    """What the data of an answer say. Never raises on bytes."""
    form = _FORMS.get(command)
    if form is None:
        return AnswerFault(command, "no reading that is known here")
    if len(sent) < form.least:
        return AnswerFault(command, f"the answer must be at least {form.least} bytes long; got {len(sent)}")
    return form.read(sent)


def _identity(sent: bytes) -> Answer | AnswerFault:
    if sent[0] != 254:
        return AnswerFault(0, f"the first byte must be 254; got {sent[0]}")
    later = sent[4] >= 6 and len(sent) >= 17
    return Identity(
        address=Unique(int.from_bytes(sent[1:3], "big") & 0x3FFF, int.from_bytes(sent[9:12], "big")),
        preambles=sent[3],
        revision=sent[4],
        device_revision=sent[5],
        software_revision=sent[6],
        hardware_revision=sent[7] >> 3,
        flags=sent[8],
        answer_preambles=sent[12] if later else None,
        configuration_counter=int.from_bytes(sent[14:16], "big") if later else None,
        extended_status=sent[16] if later else None,
    )


def _primary(sent: bytes) -> Answer:
    return PrimaryVariable(_value(sent))


def _loop(sent: bytes) -> Answer:
    return LoopReading(_current_A(sent), _scaled(sent[4:8], 100.0))


def _variables(sent: bytes) -> Answer | AnswerFault:
    rest = sent[4:]
    if len(rest) % 5 and len(rest) < 5 * _MOST_VARIABLES:
        return AnswerFault(3, f"the answer must be 4 bytes and 5 for each variable; got {len(sent)}")
    count = min(len(rest) // 5, _MOST_VARIABLES)
    return Variables(_current_A(sent), tuple(_value(rest[5 * at :]) for at in range(count)))


def _label(sent: bytes) -> Answer:
    day, month, year = sent[18:21]
    try:
        written = date(1900 + year, month, day)
    except ValueError:
        written = None
    return Label(unpack(sent[:6]).rstrip(), unpack(sent[6:18]).rstrip(), written)


def _output(sent: bytes) -> Answer:
    unit = Unit(sent[2])
    upper, lower, damping = (_float(sent[at : at + 4]) for at in (3, 7, 11))
    return OutputRange(
        upper=Value(known(upper, unit), unit),
        lower=Value(known(lower, unit), unit),
        damping_s=known(damping),
        alarm_direction=_word("alarm_directions", sent[0]),
        transfer_function=sent[1],
        write_protection=_word("write_protection", sent[15]),
    )


def _long_tag(sent: bytes) -> Answer:
    return LongTag(sent[:32].decode("latin-1").rstrip(" \0"))


def _float(sent: bytes) -> float:
    return float(struct.unpack(">f", sent[:4])[0])


def _scaled(sent: bytes, divisor: float) -> float | None:
    number = known(_float(sent))
    return None if number is None else number / divisor


def _current_A(sent: bytes) -> float | None:
    return _scaled(sent, 1000.0)


def _value(sent: bytes) -> Value:
    unit = Unit(sent[0])
    return Value(known(_float(sent[1:5]), unit), unit)


def _word(name: str, code: int) -> str:
    return str(table()[name].get(str(code), f"code {code}"))


@dataclass(frozen=True)
class _Form:
    """How the data of one command are read, and how many bytes they have at least."""

    least: int
    read: Callable[[bytes], Answer | AnswerFault]


_FORMS: Mapping[int, _Form] = {
    0: _Form(12, _identity),
    1: _Form(5, _primary),
    2: _Form(8, _loop),
    3: _Form(4, _variables),
    13: _Form(21, _label),
    15: _Form(16, _output),
    20: _Form(32, _long_tag),
    48: _Form(0, AdditionalStatus),
}
