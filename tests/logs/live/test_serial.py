"""Serial lines, on the pair of ends that the system gives for a terminal: HART and Modbus RTU, read and no more."""

from __future__ import annotations

import asyncio
import os
import struct
import tty
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.hart_port import HartPort
from onedatum.logs.live.link import Backoff, Link
from onedatum.logs.live.modbus import ModbusLine, ModbusPort
from onedatum.logs.live.plan import HartSource, ModbusSource
from onedatum.logs.live.registers import Point
from onedatum.logs.live.sample import Port, Reading
from tests.closeness import close
from tests.logs.live.line import Device


@contextmanager
def line() -> Iterator[tuple[int, str]]:
    """The far end, and the name of the near one."""
    far, near = os.openpty()
    tty.setraw(near)
    try:
        yield far, os.ttyname(near)
    finally:
        os.close(far)
        os.close(near)


def read(port: Port, far: int, answer: Callable[[bytes], bytes]) -> Reading:
    """One sample, while the far end answers what it hears."""

    async def whole() -> Reading:
        loop = asyncio.get_running_loop()
        loop.add_reader(far, lambda: os.write(far, answer(os.read(far, 1000))))
        own = Link("LT-201", port, OwnClock(), 10.0, backoff=Backoff(0.0, 0.0))
        found = await own.sample()
        loop.remove_reader(far)
        await own.close()
        return found.reading

    return asyncio.run(whole())


def crc(sent: bytes) -> bytes:
    """The check of a serial frame: polynomial A001 from FFFF, low byte first (Modbus over serial line, from memory)."""
    rest = 0xFFFF
    for byte in sent:
        rest ^= byte
        for _ in range(8):
            rest = rest >> 1 ^ 0xA001 if rest & 1 else rest >> 1
    return struct.pack("<H", rest)


def rtu(device: str) -> ModbusPort:
    """A port to one number."""
    point = Point("LT-201", "float32", 0.0, 25.0)
    source = ModbusSource(device, "", 0, device, 19200, "none", 1, 7, "holding", 3, point)
    return ModbusPort(source, ModbusLine(source, 2.0))


def test_the_check_is_that_of_the_protocol() -> None:
    """Request 01 03 00 00 00 01 closes with 84 0A (common example of the protocol, from memory)."""
    assert crc(bytes.fromhex("010300000001")) == bytes.fromhex("840A")


def test_registers_over_a_serial_line() -> None:
    heard: list[bytes] = []

    def answer(lot: bytes) -> bytes:
        heard.append(lot)
        body = bytes([7, 3, 4]) + struct.pack(">f", 13.25)
        return body + crc(body)

    with line() as (far, near):
        reading = read(rtu(near), far, answer)
    asked = bytes([7, 3, 0, 3, 0, 2])
    assert reading.value == 13.25
    assert heard == [asked + crc(asked)], "device 7, function 3, address 3, two registers, and nothing else"


def test_a_transmitter_over_a_serial_modem() -> None:
    with line() as (far, near):
        reading = read(HartPort(HartSource(near, "", 0, near, 0)), far, Device().hear)
    assert reading.value is not None and reading.primary == 1.5
    close(reading.value, 12.0, 1e-6, "a single float, and mA by way of A")


@pytest.mark.parametrize("device", ["none-such", ""])
def test_a_serial_line_that_is_not_there_is_unknown(device: str) -> None:
    port = HartPort(HartSource("x", "", 0, device or "/dev/null", 0))

    async def whole() -> Reading:
        return (await Link("A", port, OwnClock(), 2.0).sample()).reading

    reading = asyncio.run(whole())
    assert reading.value is None and reading.doubt
