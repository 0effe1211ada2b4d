"""Clients made by struct and a plain loop, of Modbus TCP and of the HART stream: nothing of the code under test."""

from __future__ import annotations

import socket
import struct

from tests.logs.live.line import PREAMBLES, closed

LOOPBACK = "127.0.0.1"
SOON_S = 10.0
"""However busy the machine is, an answer is there by then."""


def connect(port: int) -> socket.socket:
    """A plain connection."""
    return socket.create_connection((LOOPBACK, port), timeout=SOON_S)


def take(line: socket.socket, count: int) -> bytes:
    """So many bytes; fewer where the other end closes."""
    got = b""
    while len(got) < count:
        lot = line.recv(count - len(got))
        if not lot:
            break
        got += lot
    return got


def modbus(line: socket.socket, function: int, data: bytes, device: int = 1, number: int = 7) -> bytes:
    """Function code and data of an answer. Modbus TCP: number, 0, length, device (Modbus messaging on TCP, 3.1.3)."""
    line.sendall(struct.pack(">HHHBB", number, 0, 2 + len(data), device, function) + data)
    head = take(line, 7)
    told, protocol, length, unit = struct.unpack(">HHHB", head)
    assert (told, protocol, unit) == (number, 0, device)
    return take(line, length - 1)


def registers(line: socket.socket, address: int, count: int, device: int = 1, function: int = 4) -> bytes:
    """The bytes of input registers (function 4), or of holding registers (3)."""
    answer = modbus(line, function, struct.pack(">HH", address, count), device)
    assert answer[:2] == bytes([function, 2 * count]), answer
    return answer[2:]


def hart(line: socket.socket, command: int, address: bytes = b"\x80", data: bytes = b"") -> bytes:
    """The whole answer to a request, preambles and all."""
    begin = 0x02 if len(address) == 1 else 0x82
    line.sendall(PREAMBLES + closed(bytes([begin]) + address + bytes([command, len(data)]) + data))
    head = take(line, len(PREAMBLES) + 1 + len(address) + 2)
    return head + take(line, head[-1] + 1)
