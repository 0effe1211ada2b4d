"""The device at the other end of the line (HART): takes bytes, gives bytes, and answers readings alone.

It answers the universal commands 0, 1, 2, 3, 13, 15, 20 and 48, asked by its polling address or by its long one; every
other command is told "not implemented", so nothing in it can be changed. What is not meant for it, or whose check byte
does not fit, it leaves unanswered. Without a loop current it has no supply and is silent. Maker and type are none that
exist.

Source: HART universal commands 0, 1, 2, 3, 13, 15, 20 and 48 (48 from memory, the others as `logs.live.hart.answers`
says); a record of the bytes is in the tests, and the head of its identity is that of a device that was recorded.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256

from onedatum.foundation.units import in_unit
from onedatum.logs.live.hart import Frame, FrameFault, FrameReader, Kind, Polling, Unique, encode
from onedatum.logs.live.hart.packed import pack
from onedatum.physics.loop import span_share
from onedatum.simulate import Moment

DEVICE_TYPE = 0x3FFF
"""All ones: an invented device."""
PREAMBLES = 5
REVISION = 7
NOT_AVAILABLE = bytes.fromhex("7FA00000")
METRE, DEG_C = 45, 32
UNUSED = 250
NOT_IMPLEMENTED = 64
MALFUNCTION, COLD_START, MORE_STATUS, FIXED, SATURATED = 0x80, 0x20, 0x10, 0x08, 0x04
DAY = bytes([1, 1, 126])
"""1 January 2026, with the year from 1900."""


@dataclass
class Transmitter:
    """One device. `moment` tells what it measures just now."""

    tag: str
    lower_m: float
    upper_m: float
    moment: Callable[[], Moment]
    polling: int = 0
    begins_anew: bool = True
    """Whether it was restarted since it last answered."""
    _reader: FrameReader = field(default_factory=FrameReader)

    @property
    def unique(self) -> Unique:
        """Its long address: the number of the single device follows from the tag."""
        return Unique(DEVICE_TYPE, int.from_bytes(sha256(self.tag.encode()).digest()[:3], "big"))

    @property
    def waits(self) -> bool:
        """Whether a request has been begun, and silence would end it."""
        return self._reader.waiting

    def heard(self, lot: bytes) -> bytes:
        """What it answers to bytes that came."""
        return b"".join(map(self._answer, self._reader.feed(lot)))

    def silence(self) -> bytes:
        """What it answers when no more bytes came for a while: what was begun is given up."""
        return b"".join(map(self._answer, self._reader.silence()))

    def _answer(self, found: Frame | FrameFault) -> bytes:
        if isinstance(found, FrameFault) or found.kind is not Kind.REQUEST:
            return b""
        if found.address not in (Polling(self.polling), self.unique):
            return b""
        moment = self.moment()
        if moment.is_broken:
            return b""
        make = _ANSWERS.get(found.command)
        status = (NOT_IMPLEMENTED if make is None else 0, self._status(moment))
        sent = b"" if make is None else make(self, moment)
        reply = Frame(Kind.REPLY, found.address, found.command, sent, status, found.primary)
        return b"\xff" * PREAMBLES + encode(reply)

    def _status(self, moment: Moment) -> int:
        begun, self.begins_anew = self.begins_anew, False
        return (
            (COLD_START if begun else 0)
            | (MALFUNCTION | MORE_STATUS if _has_failed(moment) else 0)
            | (FIXED if moment.is_held else 0)
            | (SATURATED if moment.is_bound else 0)
        )

    # ------------------------------------------------------------ the data of the answers

    def identity(self, moment: Moment) -> bytes:
        """Command 0, of revision 7: 22 bytes."""
        kind, number = self.unique.device_type.to_bytes(2, "big"), self.unique.device_id.to_bytes(3, "big")
        head = bytes([254]) + kind + bytes([PREAMBLES, REVISION, 1, 1, 1 << 3, 0]) + number
        # preambles of answers, number of variables, counter of changes, extended status, maker twice, profile
        return head + bytes([PREAMBLES, 2, 0, 0, 0]) + bytes(4) + bytes([1])

    def primary(self, moment: Moment) -> bytes:
        """Command 1."""
        return bytes([METRE]) + _number(moment.told_m)

    def loop(self, moment: Moment) -> bytes:
        """Command 2."""
        share = float(span_share(moment.current_A, 0.004, 0.020))
        return _number(in_unit(moment.current_A, "mA")) + _number(100.0 * share)

    def variables(self, moment: Moment) -> bytes:
        """Command 3: current, level, temperature."""
        warm = bytes([DEG_C]) + _number(in_unit(moment.temperature_K, "degC"))
        return _number(in_unit(moment.current_A, "mA")) + self.primary(moment) + warm

    def label(self, moment: Moment) -> bytes:
        """Command 13: the short tag, the descriptor, a day."""
        short = "".join(sign if " " <= sign <= "_" else "-" for sign in self.tag.upper())
        return pack(short[:8].ljust(8)) + pack("SIMULATION".ljust(16)) + DAY

    def output(self, moment: Moment) -> bytes:
        """Command 15: the range; failure is told low, and the device is write protected."""
        ends = bytes([METRE]) + _number(self.upper_m) + _number(self.lower_m) + _number(0.0)
        return bytes([1, 0]) + ends + bytes([1, UNUSED])

    def long_tag(self, moment: Moment) -> bytes:
        """Command 20."""
        return self.tag.encode("latin-1", "replace")[:32].ljust(32)

    def additional(self, moment: Moment) -> bytes:
        """Command 48: the first bit stands for failure."""
        return bytes([int(_has_failed(moment))]) + bytes(5)


def _has_failed(moment: Moment) -> bool:
    return moment.state.startswith("failure") or moment.told_m is None


def _number(value: float | None) -> bytes:
    return NOT_AVAILABLE if value is None else struct.pack(">f", value)


_ANSWERS: dict[int, Callable[[Transmitter, Moment], bytes]] = {
    0: Transmitter.identity,
    1: Transmitter.primary,
    2: Transmitter.loop,
    3: Transmitter.variables,
    13: Transmitter.label,
    15: Transmitter.output,
    20: Transmitter.long_tag,
    48: Transmitter.additional,
}
