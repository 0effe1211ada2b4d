"""The workers behind the page: each a process of its own with one recalculation at a time.

Whoever changes a field while the last recalculation of the same window still waits replaces it: only the newest is
worked, the older one is told that it was replaced. What takes longer than a blink (papers, Monte Carlo) has a second
process, so that the page stays quick, and is stopped by ending that process.
"""

from __future__ import annotations

import asyncio
import multiprocessing
import os
import secrets
import shutil
import signal
import tempfile
import threading
from collections.abc import AsyncIterator, Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import asynccontextmanager, contextmanager, suppress
from functools import partial
from multiprocessing import resource_tracker
from typing import Any, TypeVar

from onedatum.foundation.errors import NotRecorded, OnedatumError

Result = TypeVar("Result")
ENDS_WITHIN_S = 2.0
"""Longest wait for a process that was killed."""
MOST_WORKERS = 4
"""Processes for recalculations; each holds some 200 MB."""


class Replaced(Exception):
    """A later edit of the same window took the place of this recalculation."""


class Failed(Exception):
    """The worker ended before it answered; the next call starts a new one."""


class Refused(OnedatumError):
    """What the worker could not do with what it was given, in one sentence."""


class Missing(Refused):
    """What was asked for is not there."""


def answered(function: Callable[..., Result], *arguments: Any) -> Result | Refused:
    """In the worker: the result, or the refusal as a value, since not every error finds its way between processes."""
    try:
        return function(*arguments)
    except OnedatumError as error:
        return (Missing if isinstance(error, NotRecorded) else Refused)(str(error))


def _begin(place: str, lasting: str, prepare: Callable[[], None]) -> None:
    """In the worker: what it writes for a while goes to its own place; it ends with the server, however that ends.

    The worker makes the place and not the server: of a server that is killed before, nothing is left.
    """
    os.mkdir(place, 0o700)
    tempfile.tempdir = place
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is the server's to follow
    threading.Thread(target=_end_with_the_server, args=(place, lasting), daemon=True).start()
    prepare()


def _end_with_the_server(*places: str) -> None:
    server = multiprocessing.parent_process()
    if server is not None:
        server.join()
        for place in places:
            shutil.rmtree(place, ignore_errors=True)
        os._exit(1)


def _new_place() -> str:
    """The name of a folder for what a worker writes; nobody else comes upon it."""
    return os.path.join(tempfile.gettempdir(), f"onedatum-{secrets.token_hex(12)}")


@contextmanager
def _ctrl_c_held() -> Iterator[None]:
    """A process started within starts with Ctrl+C held back, so that it ends without a word when the server does."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    resource_tracker.ensure_running()  # it lets the signal through again when it starts, so it starts before
    before = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class Worker:
    """One process that works one call after another; the newest call of each window only."""

    def __init__(self, prepare: Callable[[], None]) -> None:
        self._prepare = prepare
        self._stopped = False
        self.lasting = _new_place()
        """A folder for what outlasts a restart of the process; made by who needs it, gone when the server ends."""
        self._pool = self._new()
        self._turn = asyncio.Lock()
        self._newest: dict[str, int] = {}
        self._calls = 0
        self.open = 0
        """Calls that wait or are worked."""

    def _new(self) -> ProcessPoolExecutor:
        self._place = _new_place()
        context = multiprocessing.get_context("spawn")
        given = self._place, self.lasting, self._prepare
        return ProcessPoolExecutor(1, mp_context=context, initializer=_begin, initargs=given)

    async def warm(self) -> None:
        """Start the process before anybody waits for it."""
        await self.work(int)

    async def newest(self, window: str, function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call unless a newer one of the same window comes meanwhile; raises Replaced, Failed."""
        self._calls += 1
        mine = self._newest[window] = self._calls
        try:
            async with self._in_turn():
                if self._newest.get(window) != mine:
                    raise Replaced
                return await self._in_process(function, *arguments)
        finally:
            if self._newest.get(window) == mine:
                del self._newest[window]

    async def work(self, function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call in its turn; raises Failed."""
        async with self._in_turn():
            return await self._in_process(function, *arguments)

    async def begun(self, begin: Callable[[], bool], function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call in its turn if `begin`, asked then, still wants it; raises Replaced, Failed."""
        async with self._in_turn():
            if not begin():
                raise Replaced
            return await self._in_process(function, *arguments)

    def waits_for(self, window: str) -> bool:
        """Whether a call of a window waits here or is worked."""
        return window in self._newest

    @asynccontextmanager
    async def _in_turn(self) -> AsyncIterator[None]:
        self.open += 1
        try:
            async with self._turn:
                yield
        finally:
            self.open -= 1

    async def _in_process(self, function: Callable[..., Result], *arguments: Any) -> Result:
        if self._stopped:
            raise Failed("the server ends")
        call, pool = partial(answered, function, *arguments), self._pool
        try:
            with _ctrl_c_held():
                answer = asyncio.get_running_loop().run_in_executor(pool, call)
            found = await answer
        except BrokenProcessPool as error:
            if self._pool is pool and not self._stopped:
                self.restart()
            raise Failed("the worker ended before it answered") from error
        if isinstance(found, Refused):
            raise found
        return found

    def stop(self) -> None:
        """End for good."""
        self._stopped = True
        self._end()
        shutil.rmtree(self.lasting, ignore_errors=True)

    def _end(self) -> None:
        """End the process, whatever it is at, and take away what it wrote for a while."""
        pool = self._pool
        processes = list((pool._processes or {}).values())
        for process in processes:
            process.kill()
        pool.shutdown(wait=False, cancel_futures=True)
        for process in processes:
            process.join(ENDS_WITHIN_S)
        shutil.rmtree(self._place, ignore_errors=True)

    def restart(self) -> None:
        """End what is being worked, and stand ready again."""
        self._end()
        self._pool = self._new()


class Crew:
    """Several workers. A call goes to the one with the least to do, but to where an older call of its window waits."""

    def __init__(self, prepare: Callable[[], None], size: int) -> None:
        self._workers = tuple(Worker(prepare) for _ in range(size))

    async def warm(self) -> None:
        """Start the processes, one after the other, before anybody waits for them."""
        for worker in self._workers:
            await worker.warm()

    async def newest(self, window: str, function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call unless a newer one of the same window comes meanwhile; raises Replaced, Failed."""
        held = next((worker for worker in self._workers if worker.waits_for(window)), None)
        return await (held or self._freest()).newest(window, function, *arguments)

    async def work(self, function: Callable[..., Result], *arguments: Any) -> Result:
        """Work the call in its turn; raises Failed."""
        return await self._freest().work(function, *arguments)

    async def first(self, function: Callable[..., Result], *arguments: Any) -> tuple[Result, Worker]:
        """The same, and who worked it."""
        worker = self._freest()
        return await worker.work(function, *arguments), worker

    async def others(self, worker: Worker | None, function: Callable[..., Any], *arguments: Any) -> None:
        """Have each worker, but not that one, work the call in its turn, so that the next of its kind finds it warm."""
        for each in self._workers:
            if each is not worker:
                with suppress(Failed, OnedatumError):
                    await each.work(function, *arguments)

    def stop(self) -> None:
        """End for good."""
        for worker in self._workers:
            worker.stop()

    def _freest(self) -> Worker:
        return min(self._workers, key=lambda worker: worker.open)


def usual_workers() -> int:
    """As many as the machine has cores, within limits."""
    return min(os.cpu_count() or 1, MOST_WORKERS)
