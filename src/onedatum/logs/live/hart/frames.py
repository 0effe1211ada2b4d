"""One frame of the data link: its parts, its bytes, and the only requests that can be built.

    delimiter | address (1 or 5) | expansion (0 to 3) | command | byte count | [2 status] | data | check byte

The check byte is the exclusive or of all bytes from the delimiter on. Preambles stand before a frame and are no part
of it. A request is built for a command that reads, and carries no data: nothing in this room can change a device.

Source: HART data link layer, IEC 61158 type 20 (from memory). Delimiters 02, 06, 82 and 86, both addresses with the bit
of the primary master, byte count, status and check byte agree with frames recorded from devices; delimiters 01 and 81,
the bits of expansion and of the physical layer with a note in a public forum of 2002 (read second-hand). The bit of a
device that bursts, the six bits of a polling address and the 14 bits of a type are from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import reduce
from operator import xor

from onedatum.foundation.errors import QuantityError
from onedatum.logs.live.hart.codes import READING_COMMANDS, DeviceStatus, table

PREAMBLE = 0xFF
LONG = 0x80
_EXPANSION = 0x60
_EXPANSION_AT = 5
_TYPE = 0x07
_PHYSICAL = 0x18
_PRIMARY = 0x80
_BURSTING = 0x40
LONGEST = 1 + 5 + 3 + 1 + 1 + 255 + 1
"""The longest frame that can be announced, in bytes."""


def _whole(number: int, most: int, name: str, least: int = 0) -> int:
    if type(number) is not int or not least <= number <= most:
        raise QuantityError(f"a {name} from {least} to {most}", repr(number), "no more fits in a frame")
    return number


class Kind(Enum):
    """Who speaks, by the low bits of the delimiter."""

    BURST = 1
    REQUEST = 2
    REPLY = 6


@dataclass(frozen=True)
class Polling:
    """The short address: a number from 0 to 63, of which devices before revision 6 know 0 to 15."""

    number: int = 0

    def __post_init__(self) -> None:
        _whole(self.number, 63, "polling address")


@dataclass(frozen=True)
class Unique:
    """The long address of 38 bits: 14 bits of maker and type of device, 24 bits of the single device."""

    device_type: int
    device_id: int

    def __post_init__(self) -> None:
        _whole(self.device_type, 0x3FFF, "device type in an address")
        _whole(self.device_id, 0xFFFFFF, "number of a device")


Address = Polling | Unique

FIRST_POLLED = Polling(0)
"""The address of a device that is alone on its loop."""


@dataclass(frozen=True)
class Frame:
    """A frame whose check byte held. `status` are the two bytes of an answer; None for a request."""

    kind: Kind
    address: Address
    command: int
    data: bytes = b""
    status: tuple[int, int] | None = None
    primary: bool = True
    bursting: bool = False
    expansion: bytes = b""

    @property
    def device_status(self) -> DeviceStatus | None:
        """What the device says of itself; None in a request, and where the device did not understand the request."""
        return None if self.status is None or self.status[0] & 0x80 else DeviceStatus(self.status[1])


@dataclass(frozen=True)
class FrameFault:
    """Bytes that are no frame: what is wrong, and how many bytes it was seen in."""

    kind: str
    """`no start`, `check byte`, `cut off` or `no status`."""
    words: str
    count: int

    def __str__(self) -> str:
        return f"{self.kind}: {self.words} ({self.count} bytes)"


def check_byte(body: bytes) -> int:
    """Longitudinal parity: the exclusive or of all bytes from the delimiter to the last of the data."""
    return reduce(xor, body, 0)


def request(command: int, address: Address = FIRST_POLLED, primary: bool = True, preambles: int = 20) -> bytes:
    """The bytes that ask a device for one reading, with their preambles.

    Raises `QuantityError` for any command that is not one of the readings known here, and for a preamble that is too
    short or too long.
    """
    bounds = table()["preambles"]
    _whole(preambles, bounds["most"], "number of preambles", bounds["least"])
    return bytes([PREAMBLE]) * preambles + encode(Frame(Kind.REQUEST, address, command, primary=primary))


def encode(frame: Frame) -> bytes:
    """The bytes of a frame, without preambles: any answer, and of requests only those that read.

    Raises `QuantityError` for a request that is no reading or carries data, and for parts that do not fit in a frame.
    """
    if frame.kind is Kind.REQUEST:
        _refuse_all_but_reading(frame)
    elif frame.status is None:
        raise QuantityError("an answer with two status bytes", "none", "every answer carries them")
    _whole(frame.command, 255, "command")
    told = bytes(_whole(byte, 255, "status byte") for byte in frame.status or ()) + frame.data
    _whole(len(told), 255, "byte count")
    _whole(len(frame.expansion), 3, "number of expansion bytes")
    long = LONG if isinstance(frame.address, Unique) else 0
    delimiter = long | len(frame.expansion) << _EXPANSION_AT | frame.kind.value
    body = bytes([delimiter]) + _address_bytes(frame) + frame.expansion + bytes([frame.command, len(told)]) + told
    return body + bytes([check_byte(body)])


def is_delimiter(byte: int) -> bool:
    """Whether a byte can begin a frame of this kind of line."""
    return not byte & _PHYSICAL and byte & _TYPE in (1, 2, 6)


def length_of(begun: bytes) -> int | None:
    """Whole length of a frame that begins so, check byte included; None while the byte count is still to come."""
    if not begun:
        return None
    head = _head(begun[0])
    return head + begun[head - 1] + 1 if len(begun) >= head else None


def decode(whole: bytes) -> Frame | FrameFault:
    """The frame of these bytes, from the delimiter to the check byte. Never raises on bytes."""
    if not whole or not is_delimiter(whole[0]):
        return FrameFault("no start", "no delimiter at the beginning", len(whole))
    length = length_of(whole)
    if length is None or len(whole) < length:
        return FrameFault("cut off", "the bytes end before the frame does", len(whole))
    if len(whole) > length:
        return FrameFault("no start", "bytes go on after the frame", len(whole))
    if check_byte(whole):
        return FrameFault("check byte", "the check byte does not fit the bytes before it", length)
    head = _head(whole[0])
    kind, told = Kind(whole[0] & _TYPE), whole[head:-1]
    if kind is not Kind.REQUEST and len(told) < 2:
        return FrameFault("no status", "an answer without its two status bytes", length)
    status = None if kind is Kind.REQUEST else (told[0], told[1])
    first = 6 if whole[0] & LONG else 2
    return Frame(
        kind,
        _address(whole[1:first]),
        whole[head - 2],
        told if status is None else told[2:],
        status,
        bool(whole[1] & _PRIMARY),
        bool(whole[1] & _BURSTING),
        whole[first : head - 2],
    )


def _refuse_all_but_reading(frame: Frame) -> None:
    if frame.command not in READING_COMMANDS:
        raise QuantityError(
            f"one of the reading commands {', '.join(map(str, READING_COMMANDS))}",
            f"command {frame.command!r}",
            "a transmitter is only read here, never changed",
        )
    if frame.data or frame.expansion or frame.status is not None:
        raise QuantityError("a request without data", "data", "a reading needs none")


def _head(delimiter: int) -> int:
    """Number of bytes from the delimiter to the byte count, both included."""
    return 1 + (5 if delimiter & LONG else 1) + ((delimiter & _EXPANSION) >> _EXPANSION_AT) + 2


def _address_bytes(frame: Frame) -> bytes:
    bits = (_PRIMARY if frame.primary else 0) | (_BURSTING if frame.bursting else 0)
    if isinstance(frame.address, Polling):
        return bytes([bits | frame.address.number])
    kind = frame.address.device_type.to_bytes(2, "big")
    return bytes([bits | kind[0], kind[1]]) + frame.address.device_id.to_bytes(3, "big")


def _address(sent: bytes) -> Address:
    bare = bytes([sent[0] & 0x3F]) + sent[1:]
    if len(bare) == 1:
        return Polling(bare[0])
    return Unique(int.from_bytes(bare[:2], "big"), int.from_bytes(bare[2:], "big"))
