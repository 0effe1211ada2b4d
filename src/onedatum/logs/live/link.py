"""One tag's way to its device, kept up through whatever happens to the line.

A reading takes so long at most. After an error the line is closed, so that a late answer is never taken for the next
one, and made anew after a pause that doubles from try to try. What comes in is a sample at any rate: with a value, or
without one and with the reason.
"""

from __future__ import annotations

import asyncio
import math
from contextlib import AbstractAsyncContextManager
from dataclasses import dataclass

from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.sample import LinkError, Port, Reading, Sample

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

    async def sample(self) -> Sample:
        """Read once. Never raises but for being cancelled."""
        wait_s = self.backoff.wait_s(self.clock.steady_s())
        if wait_s > 0.0:
            return self._sample(Reading(None, f"{self._why}{AGAIN}{math.ceil(wait_s)} s"))
        try:
            async with self._turn, asyncio.timeout(self.limit_s):
                await self.port.open()
                reading = await self.port.read()
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
            async with asyncio.timeout(self.limit_s):
                await self.port.close()
        except Exception:  # noqa: BLE001 - a line that is given up may break as it likes
            return

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
