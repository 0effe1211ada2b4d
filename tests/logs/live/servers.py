"""Small devices on the loopback, made without the libraries under test; they keep what they were asked."""

from __future__ import annotations

import asyncio
import struct
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass, field

from tests.logs.live.line import Device

READING_FUNCTIONS = {3, 4}
"""Of the Modbus application protocol: read holding and input registers (from memory)."""


@dataclass
class Registers:
    """A Modbus TCP server: header of 7 bytes, function, address and count; answers with registers or an exception."""

    value_mA: float = 12.0
    exception: int = 0
    silent: bool = False
    rubbish: bytes = b""
    functions: set[int] = field(default_factory=set)
    port: int = 0

    async def talk(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """One connection."""
        try:
            while True:
                number, _, _, unit = struct.unpack(">HHHB", await reader.readexactly(7))
                function, address, count = struct.unpack(">BHH", await reader.readexactly(5))
                self.functions.add(function)
                if self.silent:
                    continue
                body = struct.pack(">BB", function, 2 * count) + struct.pack(">f", self.value_mA)[: 2 * count]
                if self.exception or address > 100:
                    body = struct.pack(">BB", function | 0x80, self.exception or 2)
                writer.write(self.rubbish or struct.pack(">HHHB", number, 0, len(body) + 1, unit) + body)
                await writer.drain()
        except (asyncio.IncompleteReadError, ConnectionError):
            pass
        finally:
            writer.close()


@dataclass
class Modem:
    """TCP to an invented transmitter on its loop."""

    device: Device = field(default_factory=Device)
    noise: bytes = b""
    port: int = 0

    async def talk(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """One connection; the frames come whole, as the line is no part of this."""
        try:
            while lot := await reader.read(1000):
                writer.write(self.noise + self.device.hear(lot))
        except ConnectionError:
            pass
        finally:
            writer.close()


Talk = Callable[[asyncio.StreamReader, asyncio.StreamWriter], object]


@asynccontextmanager
async def served(server: Registers | Modem) -> AsyncIterator[Registers | Modem]:
    """Serve on a free port of the loopback, or on the one it had before."""
    listening = await asyncio.start_server(server.talk, "127.0.0.1", server.port)
    server.port = listening.sockets[0].getsockname()[1]
    try:
        yield server
    finally:
        listening.close()
        getattr(listening, "close_clients", lambda: None)()
