"""A transmitter on its loop (HART) over a stream of bytes: a serial modem, or TCP to one.

The conversation is that of the room `hart`, which can send nothing but commands that read. A reading is one round:
loop current and per cent, variables; the range is asked once. What does not fit together is no reading.

Caution: a modem becomes part of the loop. In a hazardous area its certificate and the permit of the plant decide
whether it may be connected.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress
from typing import Any, Protocol, TypeVar

from onedatum.logs.live.hart import (
    Answered,
    Conversation,
    LoopReading,
    OutputRange,
    Polling,
    Refused,
    Silent,
    Timing,
    Told,
    Variables,
    doubts,
)
from onedatum.logs.live.hart.codes import time_s
from onedatum.logs.live.plan import HartSource
from onedatum.logs.live.sample import LinkError, Reading

_Kind = TypeVar("_Kind")
STEP_s = 0.02
ROUND = (2, 3)
LOOP, VARIABLES = ROUND
OWN_WORD = frozenset(("malfunction", "current_fixed", "primary_unknown", "current_unknown"))
"""Doubts by which the device itself says that there is no level now. Its current may still tell which failure."""
BROKEN = "current_against_share"
"""The doubt by which an answer does not fit together: no reading."""
SAID_BY_CURRENT = frozenset(("not_measuring", "current_saturated"))


class Stream(Protocol):
    """Bytes to a device and back."""

    async def write(self, lot: bytes) -> None:
        """Send."""

    async def read(self, within_s: float) -> bytes:
        """What has come, empty after so long without any; raises LinkError where the line has ended."""

    async def close(self) -> None:
        """Let go of it."""


class TcpStream:
    """Over TCP, as a server of a serial line gives it."""

    def __init__(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self._reader, self._writer = reader, writer

    @classmethod
    async def to(cls, host: str, port: int) -> TcpStream:
        """Connect."""
        return cls(*await asyncio.open_connection(host, port))

    async def write(self, lot: bytes) -> None:
        """Send."""
        self._writer.write(lot)
        await self._writer.drain()

    async def read(self, within_s: float) -> bytes:
        """What has come."""
        try:
            async with asyncio.timeout(within_s):
                lot = await self._reader.read(4096)
        except TimeoutError:
            return b""
        if not lot:
            raise LinkError("the other end has closed the line")
        return lot

    async def close(self) -> None:
        """Let go of it."""
        self._writer.close()
        with suppress(OSError):
            await self._writer.wait_closed()


class SerialStream:
    """Over a serial modem: 1200 bit/s, odd parity; it is told to send only while something is sent."""

    def __init__(self, device: str) -> None:
        import serial

        try:
            self._line: Any = serial.Serial(device, 1200, parity=serial.PARITY_ODD, timeout=0, write_timeout=1.0)
        except (serial.SerialException, ValueError) as error:
            raise LinkError(f"{device}: {error}") from error
        self._send(False)

    def _send(self, on: bool) -> None:
        with suppress(OSError):  # a line without that wire
            self._line.rts = on

    async def write(self, lot: bytes) -> None:
        """Send, and wait until the last bit is out."""
        self._send(True)
        try:
            self._line.write(lot)
            await asyncio.sleep(len(lot) * time_s("character_s"))
        finally:
            self._send(False)

    async def read(self, within_s: float) -> bytes:
        """What has come."""
        lot = bytes(self._line.read(4096))
        if not lot:
            await asyncio.sleep(within_s)
            lot = bytes(self._line.read(4096))
        return lot

    async def close(self) -> None:
        """Let go of it."""
        self._line.close()


class HartPort:
    """One device on one line."""

    def __init__(self, source: HartSource) -> None:
        self.source = source
        self._stream: Stream | None = None
        self._talk = self._begun()
        self._range: OutputRange | None = None

    @property
    def line(self) -> str:
        """The modem, or the server of it."""
        return self.source.line

    def _begun(self) -> Conversation:
        timing = timing_of(self.source)
        return Conversation(Polling(self.source.address), once=(15,), rounds=ROUND, every_s=0.0, timing=timing)

    async def open(self) -> None:
        """Make sure of the stream; the device is asked anew who it is where it was lost."""
        if self._stream is None:
            self._talk, self._range = self._begun(), None
            self._stream = await self._opened()

    async def _opened(self) -> Stream:
        if self.source.serial:
            return SerialStream(self.source.serial)
        return await TcpStream.to(self.source.host, self.source.port)

    async def read(self) -> Reading:
        """One round of the conversation."""
        if self._stream is None:
            raise LinkError("the line is not open")
        clock, found = asyncio.get_running_loop(), dict[int, Answered | Refused]()
        self._talk.events()
        while not all(command in found for command in ROUND):
            sent = self._talk.bytes_to_send(clock.time())
            if sent:
                await self._stream.write(sent)
            self._talk.received(await self._stream.read(STEP_s), clock.time())
            for event in self._talk.events():
                if isinstance(event, Silent):
                    raise LinkError(f"the device does not answer: {event.words}")
                if isinstance(event, (Answered, Refused)):
                    found[event.command] = event
                if isinstance(event, Answered) and isinstance(event.answer, OutputRange):
                    self._range = event.answer
        return reading_of(found, self._range)

    async def close(self) -> None:
        """Let go of the stream."""
        stream, self._stream = self._stream, None
        if stream is not None:
            await stream.close()


def timing_of(source: HartSource) -> Timing:
    """The times of a modem at hand; where a network lies between, each wait is longer by its delay there and back."""
    usual = 0.0 if source.serial else time_s("way_s")
    return Timing(way_s=usual if source.delay_s is None else source.delay_s)


def reading_of(found: dict[int, Answered | Refused], output: OutputRange | None) -> Reading:
    """The loop current in mA with the primary variable beside it, or unknown with the reason.

    Where the device itself says that there is no level, its current is handed on for what it tells of the failure.
    """
    loop = found[LOOP]
    if isinstance(loop, Refused):
        return Reading(None, f"the device refuses command {LOOP}: {loop.words}")
    told = Told(_as(loop, LoopReading), _as(found[VARIABLES], Variables), output, None, loop.status)
    against = [each for each in doubts(told) if each.key not in SAID_BY_CURRENT]
    words = "; ".join(each.words for each in against)
    keys = {each.key for each in against}
    primary = told.value
    beside = (None, "") if primary is None or primary.in_si is None else (primary.in_si, primary.unit.si)
    current_mA = _current_mA(told)
    if keys & OWN_WORD:
        return Reading(current_mA, words, None, beside[0], beside[1], denies_level=True)
    if current_mA is None or BROKEN in keys:
        return Reading(None, words or "the loop current is not available", None, *beside)
    return Reading(current_mA, words, None, *beside)


def _current_mA(told: Told) -> float | None:
    """The current of command 2, or else that which came with the variables (command 3)."""
    both = (each.current_A for each in (told.loop, told.variables) if each is not None)
    found_A = next((each for each in both if each is not None), None)
    return None if found_A is None else found_A * 1000.0


def _as(event: Answered | Refused, kind: type[_Kind]) -> _Kind | None:
    return event.answer if isinstance(event, Answered) and isinstance(event.answer, kind) else None
