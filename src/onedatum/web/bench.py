"""The workers behind the page: one recalculation at a time in a process of its own.

Whoever changes a field while the last recalculation of the same window still waits replaces it: only the newest is
worked, the older one is told that it was replaced. What takes longer than a blink (papers, Monte Carlo) has a second
process, so that the page stays quick, and is stopped by ending that process.
"""

from __future__ import annotations

import asyncio
import multiprocessing
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from typing import Any, TypeVar

from onedatum.foundation.errors import OnedatumError

Result = TypeVar("Result")


class Replaced(Exception):
    """A later edit of the same window took the place of this recalculation."""


class Failed(Exception):
    """The worker ended before it answered; the next call starts a new one."""


class Refused(OnedatumError):
    """What the worker could not do with what it was given, in one sentence."""


def answered(function: Callable[..., Result], *arguments: Any) -> Result | Refused:
    """In the worker: the result, or the refusal as a value, since not every error finds its way between processes."""
    try:
        return function(*arguments)
    except OnedatumError as error:
        return Refused(str(error))


class Worker:
    """One process that works one call after another; the newest call of each window only."""

    def __init__(self, prepare: Callable[[], None]) -> None:
        self._prepare = prepare
        self._pool = self._new()
        self._turn = asyncio.Lock()
        self._newest: dict[str, int] = {}
        self._calls = 0

    def _new(self) -> ProcessPoolExecutor:
        context = multiprocessing.get_context("spawn")
        return ProcessPoolExecutor(1, mp_context=context, initializer=self._prepare)

    async def warm(self) -> None:
        """Start the process before anybody waits for it."""
        await self.work(int)

    async def newest(self, window: str, function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call unless a newer one of the same window comes meanwhile; raises Replaced, Failed."""
        self._calls += 1
        mine = self._newest[window] = self._calls
        try:
            async with self._turn:
                if self._newest.get(window) != mine:
                    raise Replaced
                return await self._in_process(function, *arguments)
        finally:
            if self._newest.get(window) == mine:
                del self._newest[window]

    async def work(self, function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call in its turn; raises Failed."""
        async with self._turn:
            return await self._in_process(function, *arguments)

    async def begun(self, begin: Callable[[], bool], function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call in its turn if `begin`, asked then, still wants it; raises Replaced, Failed."""
        async with self._turn:
            if not begin():
                raise Replaced
            return await self._in_process(function, *arguments)

    async def _in_process(self, function: Callable[..., Result], *arguments: Any) -> Result:
        call = partial(answered, function, *arguments)
        try:
            found = await asyncio.get_running_loop().run_in_executor(self._pool, call)
        except BrokenProcessPool as error:
            self._pool.shutdown(wait=False)
            self._pool = self._new()
            raise Failed("the worker ended before it answered") from error
        if isinstance(found, Refused):
            raise found
        return found

    def stop(self) -> None:
        """End the process, whatever it is at."""
        pool = self._pool
        for process in list((pool._processes or {}).values()):
            process.terminate()
        pool.shutdown(wait=False, cancel_futures=True)

    def restart(self) -> None:
        """End what is being worked, and stand ready again."""
        self.stop()
        self._pool = self._new()
