"""One tag's way to its device, kept up through whatever happens to the line.

A reading takes so long at most. After an error the line is closed, so that a late answer is never taken for the next
one, and made anew after a pause that doubles from try to try. What comes in is a sample at any rate: with a value, or
without one and with the reason.
"""

from __future__ import annotations

import asyncio
import math
from collections.abc import Coroutine
from contextlib import AbstractAsyncContextManager
from dataclasses import dataclass
from typing import Any, TypeVar

from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.sample import LinkError, Port, Reading, Sample

_T = TypeVar("_T")
AGAIN = "; tried again in "
WIDEST = 160
"""Characters of a reason that are kept."""


@dataclass
class Backoff:
    """How long to leave a device alone that does not answer: from `first_s`, twice as long each time, to `most_s`."""

    first_s: float = 1.0
    most_s: float = 30.0
    failures: int = 0
    next_s: float = 0.0
    """Not to be tried before this, by the clock that was handed in."""

    def failed(self, now_s: float) -> None:
        """One more try without success."""
        self.next_s = now_s + min(self.first_s * 2.0 ** min(self.failures, 60), self.most_s)
        self.failures += 1

    def worked(self) -> None:
        """The next failure is the first again."""
        self.failures = 0
        self.next_s = 0.0

    def wait_s(self, now_s: float) -> float:
        """How long still to wait; 0 where it is time."""
        return max(self.next_s - now_s, 0.0)


class Link:
    """A port with its patience. `turn` is held while it reads: ports of one line share it."""

    def __init__(
        self,
        tag: str,
        port: Port,
        clock: OwnClock,
        limit_s: float,
        turn: AbstractAsyncContextManager[object] | None = None,
        backoff: Backoff | None = None,
    ) -> None:
        self.tag, self.port, self.clock, self.limit_s = tag, port, clock, limit_s
        self.backoff = backoff or Backoff()
        self._turn = turn or asyncio.Lock()
        self._why = ""
        self._left: set[asyncio.Future[Any]] = set()

    async def sample(self) -> Sample:
        """Read once. Never raises but for being cancelled."""
        wait_s = self.backoff.wait_s(self.clock.steady_s())
        if wait_s > 0.0:
            return self._sample(Reading(None, f"{self._why}{AGAIN}{math.ceil(wait_s)} s"))
        try:
            async with self._turn:
                reading = await self._within(self._read())
        except TimeoutError:
            return await self._lost(f"no answer within {self.limit_s:g} s")
        except (LinkError, OSError) as error:
            return await self._lost(_words(error))
        except Exception as error:  # noqa: BLE001 - what a library makes of a stranger's bytes must not end the watch
            return await self._lost(f"{type(error).__name__}: {_words(error)}")
        self.backoff.worked()
        return self._sample(reading)

    async def close(self) -> None:
        """Let go of the line."""
        try:
            await self._within(self.port.close())
        except Exception:  # noqa: BLE001 - a line that is given up may break as it likes
            return

    async def _read(self) -> Reading:
        await self.port.open()
        return await self.port.read()

    async def _within(self, doing: Coroutine[Any, Any, _T]) -> _T:
        """What comes of it within the time limit; raises TimeoutError.

        It is a task of its own: a library that does not let itself be broken off is left behind, and one that breaks
        itself off does not end the watch of the tag.
        """
        task = asyncio.ensure_future(doing)
        try:
            done, _ = await asyncio.wait({task}, timeout=self.limit_s)
        except asyncio.CancelledError:
            task.cancel()
            raise
        if not done:
            task.cancel()
            self._left.add(task)
            task.add_done_callback(self._leave)
            await asyncio.sleep(0.0)
            raise TimeoutError
        if task.cancelled():
            raise LinkError("the reading was broken off")
        return task.result()

    def _leave(self, task: asyncio.Future[Any]) -> None:
        """A task that was left behind has ended; whatever came of it counts no more."""
        self._left.discard(task)
        if not task.cancelled():
            task.exception()

    async def _lost(self, why: str) -> Sample:
        self._why = why[:WIDEST]
        self.backoff.failed(self.clock.steady_s())
        await self.close()
        return self._sample(Reading(None, self._why))

    def _sample(self, reading: Reading) -> Sample:
        return Sample(self.tag, self.clock.now_us(), reading)


def _words(error: Exception) -> str:
    said = getattr(error, "strerror", None) or str(error) or type(error).__name__
    return " ".join(str(said).split())
