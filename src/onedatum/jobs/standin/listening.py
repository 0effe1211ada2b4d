"""A port that takes connections and can be shut so that none is left behind, not even one that has only just come.

A server of asyncio leaves a connection that comes while it closes neither served nor cut. This one needs a loop that
knows readers. A port of number 0 is any free one, and stays the same when it is opened again.
"""

from __future__ import annotations

import asyncio
import os
import socket
from collections.abc import Awaitable, Callable

from onedatum.jobs.standin import LOOPBACK

BACKLOG = 100
Attend = Callable[[asyncio.StreamReader, asyncio.StreamWriter], Awaitable[None]]


class Listening:
    """A port and its connections, each attended to by a task of its own until either end is gone."""

    def __init__(self, attend: Attend, port: int = 0) -> None:
        self.attend, self.port = attend, port
        self._socket: socket.socket | None = None
        self._came_in: set[socket.socket] = set()
        """Connections that nobody attends to yet."""
        self._tasks: set[asyncio.Task[None]] = set()

    @property
    def is_open(self) -> bool:
        """Whether it takes connections."""
        return self._socket is not None

    async def open(self) -> None:
        """Listen; raises OSError where the port is taken."""
        listening = socket.socket()
        try:
            if os.name == "posix":
                listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            listening.bind((LOOPBACK, self.port))
            listening.listen(BACKLOG)
            listening.setblocking(False)
        except OSError:
            listening.close()
            raise
        self._socket, self.port = listening, int(listening.getsockname()[1])
        asyncio.get_running_loop().add_reader(listening, self._take, listening)

    async def close(self) -> None:
        """Listen no more and cut what is connected."""
        listening, self._socket = self._socket, None
        if listening is None:
            return
        asyncio.get_running_loop().remove_reader(listening)
        listening.close()
        tasks = tuple(self._tasks)
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        while self._came_in:
            self._came_in.pop().close()

    def _take(self, listening: socket.socket) -> None:
        try:
            line, _ = listening.accept()
        except OSError:
            return  # it is gone again, or no handle is left for one more
        line.setblocking(False)
        self._came_in.add(line)
        task = asyncio.create_task(self._from_begin_to_end(line))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _from_begin_to_end(self, line: socket.socket) -> None:
        self._came_in.discard(line)
        writer: asyncio.StreamWriter | None = None
        try:
            reader, writer = await asyncio.open_connection(sock=line)
            await self.attend(reader, writer)
        except OSError:
            pass  # either end is gone
        finally:
            if writer is None:
                line.close()
            else:
                writer.transport.abort()
