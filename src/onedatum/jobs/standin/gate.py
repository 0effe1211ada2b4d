"""A port before a server: hands bytes on, and cuts, withholds, delays or spoils what comes back.

The server itself is whole and knows nothing of it, so a client meets a fault of the link and not one made for a test.
A port of number 0 is any free one, and stays the same when the gate opens again.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress

from onedatum.jobs.standin import LOOPBACK
from onedatum.jobs.standin.links import Plant

LOT = 65536


class Gate:
    """The port by which clients reach one server. A tag is empty where all tags share it."""

    def __init__(self, plant: Plant, way: str, tag: str, port: int) -> None:
        self.plant, self.way, self.tag, self.port = plant, way, tag, port
        self.inner = 0
        """The port of the server behind."""
        self._listening: asyncio.Server | None = None
        self._writers: set[asyncio.StreamWriter] = set()
        self._tasks: set[asyncio.Task[None]] = set()

    @property
    def is_open(self) -> bool:
        """Whether it takes connections."""
        return self._listening is not None

    async def open(self) -> None:
        """Listen; raises OSError where the port is taken."""
        self._listening = await asyncio.start_server(self._came, LOOPBACK, self.port)
        self.port = int(self._listening.sockets[0].getsockname()[1])

    async def close(self) -> None:
        """Listen no more and cut what is connected."""
        listening, self._listening = self._listening, None
        if listening is not None:
            listening.close()
        for writer in tuple(self._writers):
            writer.transport.abort()
        tasks = tuple(self._tasks)
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)

    async def _came(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        if task is None or self._listening is None:
            writer.transport.abort()
            return
        self._tasks.add(task)
        self._writers.add(writer)
        behind: asyncio.StreamWriter | None = None
        try:
            from_server, behind = await asyncio.open_connection(LOOPBACK, self.inner)
            self._writers.add(behind)
            await self._both(reader, behind, from_server, writer)
        except (OSError, asyncio.CancelledError):
            pass  # either end is gone, or the gate is cut: both are ended below
        finally:
            for each in (writer, behind):
                if each is not None:
                    self._writers.discard(each)
                    each.transport.abort()
            self._tasks.discard(task)

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
