"""Units in processes of this machine. A process that dies is replaced, and its unit is worked again.

Each process has a pipe of its own, and ends in the midst of its unit when the run that started it has ended, however
that ended: none is left behind. It loads what works units and nothing of the program that started it.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from threading import Thread
from types import ModuleType

from onedatum.foundation.errors import Fault, LogError
from onedatum.jobs.convert.lean import leave_pandas_out
from onedatum.jobs.convert.unit import Made, Order, Outcome, Unit, ordered_work, remove

DEATHS = 3
"""Of processes with the same unit in hand, after which it is not tried again."""


@dataclass
class _Task:
    """A unit, what came of it so far, and what became of those who had it."""

    unit: Unit
    found: list[Outcome] = field(default_factory=list)
    told: int = 0
    """Outcomes that were handed on."""
    again: int = 0
    """Outcomes of the present try: those had before are not taken twice."""
    deaths: int = 0
    ended: bool = False

    def take(self, outcome: Outcome) -> None:
        """One more outcome; the same again after a death is taken away."""
        self.again += 1
        if self.again > len(self.found):
            self.found.append(outcome)
        elif isinstance(outcome, Made):
            remove(outcome.files)


@dataclass
class _Worker:
    """A process, our end of its pipe, and what it has in hand."""

    process: BaseProcess
    pipe: Connection
    task: _Task | None = None


def serve(pipe: Connection, order: Order) -> None:
    """What a process does: take a unit, send what comes of it, until nobody is there."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    leave_pandas_out()
    Thread(target=_end_with_the_run, daemon=True).start()
    with suppress(EOFError, OSError):
        while True:
            unit: Unit = pipe.recv()
            for outcome in ordered_work(unit, order):
                try:
                    pipe.send(outcome)
                except OSError:
                    if isinstance(outcome, Made):
                        remove(outcome.files)
                    return
            pipe.send(None)


def _end_with_the_run() -> None:
    """Wait for the end of the process that started this one, then end this one, whatever it does."""
    run = parent_process()
    if run is not None:
        run.join()
        os._exit(1)


@contextmanager
def _nothing_of_main() -> Iterator[None]:
    """A process started meanwhile does not load the program of this one again."""
    main = sys.modules["__main__"]
    sys.modules["__main__"] = ModuleType("__main__")
    try:
        yield
    finally:
        sys.modules["__main__"] = main


class Processes:
    """So many processes."""

    def __init__(self, order: Order, count: int) -> None:
        self.order, self.count = order, count
        self.context = get_context("spawn")
        self.workers: list[_Worker] = []

    def map(self, units: Iterable[Unit]) -> Iterator[tuple[Unit, Outcome]]:
        """Units go to whoever is free; outcomes come in the order of units."""
        rest, queue, again = iter(units), list[_Task](), list[_Task]()
        while True:
            more = self._hand_out(rest, queue, again)
            while queue:
                task = queue[0]
                while task.told < len(task.found):
                    task.told += 1
                    yield task.unit, task.found[task.told - 1]
                if not task.ended:
                    break
                queue.pop(0)
            if not queue and not more:
                return
            if any(worker.task for worker in self.workers):
                self._listen(again)

    def _hand_out(self, rest: Iterator[Unit], queue: list[_Task], again: list[_Task]) -> bool:
        """Give every free process a unit; whether there may be more."""
        for number in range(self.count):
            if number < len(self.workers) and self.workers[number].task is not None:
                continue
            task = again.pop(0) if again else None
            if task is None:
                unit = next(rest, None)
                if unit is None:
                    return False
                task = _Task(unit)
                queue.append(task)
            if number >= len(self.workers):
                self.workers.append(self._started())
            worker = self.workers[number]
            worker.task, task.again = task, 0
            with suppress(OSError):  # it died: that is heard when it is listened to
                worker.pipe.send(task.unit)
        return True

    def _started(self) -> _Worker:
        ours, theirs = self.context.Pipe()
        process = self.context.Process(target=serve, args=(theirs, self.order), daemon=True)
        with _nothing_of_main():
            process.start()
        theirs.close()
        return _Worker(process, ours)

    def _listen(self, again: list[_Task]) -> None:
        """Take what those who work have sent; replace those who died."""
        busy = {worker.pipe: worker for worker in self.workers if worker.task is not None}
        for pipe in wait(list(busy)):
            worker = busy[pipe]  # type: ignore[index]
            task = worker.task
            if task is None:
                continue
            try:
                outcome: Outcome | None = worker.pipe.recv()
            except (EOFError, OSError):
                self._replace(worker, task, again)
                continue
            if outcome is None:
                task.ended, worker.task = True, None
            else:
                task.take(outcome)

    def _replace(self, worker: _Worker, task: _Task, again: list[_Task]) -> None:
        worker.process.join(5.0)
        code = worker.process.exitcode
        worker.pipe.close()
        self.workers.remove(worker)
        task.deaths += 1
        if task.deaths >= DEATHS:
            why = f"{task.deaths} processes ended while they worked on it, the last with {code}"
            remedy = "Try with fewer --workers: memory may be short. What is done is kept"
            raise LogError([Fault(str(task.unit.path), "a log that can be worked", "no result", why, remedy=remedy)])
        again.append(task)

    def cancel(self) -> None:
        """End every process."""
        for worker in self.workers:
            worker.process.kill()
            worker.process.join()
            worker.pipe.close()
        self.workers.clear()
        remove((self.order.path,))
