"""A port before a server: hands bytes on, and cuts, withholds, delays or spoils what comes back.

The server itself is whole and knows nothing of it, so a client meets a fault of the link and not one made for a test.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress

from onedatum.jobs.standin import LOOPBACK
from onedatum.jobs.standin.links import Plant
from onedatum.jobs.standin.listening import Listening

LOT = 65536


class Gate(Listening):
    """The port by which clients reach one server. A tag is empty where all tags share it."""

    def __init__(self, plant: Plant, way: str, tag: str, port: int) -> None:
        super().__init__(self._attend, port)
        self.plant, self.way, self.tag = plant, way, tag
        self.inner = 0
        """The port of the server behind."""

    async def _attend(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        from_server, behind = await asyncio.open_connection(LOOPBACK, self.inner)
        try:
            await self._both(reader, behind, from_server, writer)
        finally:
            behind.transport.abort()

    async def _both(
        self,
        reader: asyncio.StreamReader,
        behind: asyncio.StreamWriter,
        from_server: asyncio.StreamReader,
        writer: asyncio.StreamWriter,
    ) -> None:
        """Hand on in both directions until one of them ends."""
        ways = {asyncio.create_task(self._asked(reader, behind)), asyncio.create_task(self._told(from_server, writer))}
        try:
            await asyncio.wait(ways, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for way in ways:
                way.cancel()
            await asyncio.gather(*ways, return_exceptions=True)

    async def _asked(self, reader: asyncio.StreamReader, behind: asyncio.StreamWriter) -> None:
        with suppress(OSError):
            while lot := await reader.read(LOT):
                behind.write(lot)
                await behind.drain()

    async def _told(self, from_server: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        with suppress(OSError):
            while lot := await from_server.read(LOT):
                delay_s = self.plant.delay_s(self.way, self.tag)
                if delay_s:
                    await asyncio.sleep(delay_s)
                lot = self.plant.spoilt(lot, self.way, self.tag)
                if lot:
                    writer.write(lot)
                    await writer.drain()
