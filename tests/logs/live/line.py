"""The other end of the line, made without the code under test: frames by struct and a plain loop, and a device."""

from __future__ import annotations

import struct
from dataclasses import dataclass, field

PREAMBLES = b"\xff" * 5


def closed(body: bytes) -> bytes:
    """A frame with its check byte, the longitudinal parity of the data link (recorded frames hold it)."""
    parity = 0
    for byte in body:
        parity ^= byte
    return body + bytes([parity])


def reply(address: bytes, command: int, data: bytes, status: bytes = b"\0\0", delimiter: int | None = None) -> bytes:
    """An answer without preambles: 06 with a short address, 86 with a long one."""
    begin = delimiter if delimiter is not None else (0x06 if len(address) == 1 else 0x86)
    return closed(bytes([begin]) + address + bytes([command, len(status) + len(data)]) + status + data)


def number(value: float) -> bytes:
    """IEEE 754 single, big endian."""
    return struct.pack(">f", value)


IDENTITY = bytes([254, 0x26, 0x06, 5, 7, 3, 2, 0x08, 0x00, 0xBC, 0x61, 0x4E])
"""Invented device 12345678 (BC614E) of the invented type 2606, revision 7, as in loop-H04."""
NOT_AVAILABLE = bytes.fromhex("7FA00000")
"""The number that stands for none (reference and memory of the standard)."""

ANSWERS = {
    0: IDENTITY,
    1: b"\x2d" + number(1.5),
    2: number(12.0) + number(50.0),
    3: number(12.0) + b"\x2d" + number(1.5) + b"\x20" + number(21.25),
    13: bytes.fromhex("314B71C31820") + bytes.fromhex("820820820820820820820820") + bytes([26, 11, 126]),
    15: bytes([0, 0, 45]) + number(3.0) + number(0.0) + number(2.0) + bytes([0, 250]),
    20: b"invented tank, level".ljust(32),
    48: bytes(6),
}


@dataclass
class Device:
    """A device on the line: what is sent to it, what it answers."""

    answers: dict[int, bytes] = field(default_factory=lambda: dict(ANSWERS))
    status: bytes = b"\0\0"
    asked: list[tuple[int, bytes]] = field(default_factory=list)

    def hear(self, sent: bytes) -> bytes:
        """The answer to a request, preambles and all."""
        body = sent.lstrip(b"\xff")
        long = body[0] & 0x80
        address = body[1:6] if long else body[1:2]
        command = body[1 + len(address)]
        assert closed(body[:-1]) == body and body[0] in (0x02, 0x82) and body[-2] == 0
        self.asked.append((command, address))
        if command not in self.answers:
            return PREAMBLES + reply(address, command, b"", b"\x40\0")
        return PREAMBLES + reply(address, command, self.answers[command], self.status)
