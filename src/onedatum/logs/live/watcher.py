"""All links at once: each is read at its times, and every sample goes to whoever takes it, in the order of time."""

from __future__ import annotations

import asyncio
import math
from collections.abc import Awaitable, Callable, Sequence
from contextlib import suppress

from onedatum.logs.live.link import Link
from onedatum.logs.live.sample import Sample

Take = Callable[[Sample], None]


async def watch(links: Sequence[Link], every_s: float, take: Take, ended: asyncio.Event) -> None:
    """Read all links at even times until `ended` is set; a time that passes while a link waits is left out."""
    async with asyncio.TaskGroup() as group:
        for link in links:
            group.create_task(_kept_up(link, every_s, take, ended))


async def repeated(each_s: float, do: Callable[[], Awaitable[None] | None], ended: asyncio.Event) -> None:
    """Do something at even times until `ended` is set."""
    clock = asyncio.get_running_loop()
    begin = clock.time()
    while not await _over(ended, _next_s(begin, each_s, clock.time()) - clock.time()):
        done = do()
        if done is not None:
            await done


async def _kept_up(link: Link, every_s: float, take: Take, ended: asyncio.Event) -> None:
    clock = asyncio.get_running_loop()
    begin = clock.time()
    try:
        while not ended.is_set():
            take(await link.sample())
            if await _over(ended, _next_s(begin, every_s, clock.time()) - clock.time()):
                return
    finally:
        await link.close()


def _next_s(begin_s: float, every_s: float, now_s: float) -> float:
    """The next of the even times."""
    return begin_s + (math.floor((now_s - begin_s) / every_s + 1e-6) + 1) * every_s


async def _over(ended: asyncio.Event, wait_s: float) -> bool:
    """Wait, but no longer than to the end; whether it is the end."""
    with suppress(TimeoutError):
        await asyncio.wait_for(ended.wait(), max(wait_s, 0.0))
    return ended.is_set()
