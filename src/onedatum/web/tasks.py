"""What takes longer than a blink: started, asked after, cancelled; its result is held for a while in this process."""

from __future__ import annotations

import asyncio
import secrets
import time
import traceback
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from onedatum.foundation.errors import OnedatumError
from onedatum.jobs.page.made import CaseText
from onedatum.web.bench import Failed, Replaced, Worker

HELD = 8
"""Results held; the oldest goes first."""
MOST_WAITING = 16
"""Tasks that may wait for their turn."""
State = Literal["running", "done", "failed", "cancelled"]


@dataclass(frozen=True)
class Told:
    """How a task stands."""

    id: str
    page: str
    title: str
    state: State
    elapsed_s: float
    sentence: str = ""
    share: float | None = None
    """How much of it is done, where that is known."""


@dataclass
class Task:
    """One thing that is being made of a case."""

    id: str
    page: str
    """The page of the case that waits for it, by the last part of its address."""
    title: str
    case: CaseText
    asked: Any = None
    """What was asked of the case beside what it holds."""
    started_s: float = field(default_factory=time.monotonic)
    ended_s: float | None = None
    state: State = "running"
    result: Any = None
    sentence: str = ""
    progress: Path | None = None
    """The file in which its worker tells how much is done."""

    def told(self) -> Told:
        """How it stands now."""
        elapsed_s = (self.ended_s or time.monotonic()) - self.started_s
        return Told(self.id, self.page, self.title, self.state, round(elapsed_s, 1), self.sentence, self._share())

    def _share(self) -> float | None:
        if self.progress is None or self.state != "running":
            return None
        try:
            return float(self.progress.read_text("ascii"))
        except (OSError, ValueError):
            return None

    def end(self, state: State, sentence: str = "") -> None:
        """It is over."""
        self.state, self.sentence, self.ended_s = state, sentence, time.monotonic()


class Tasks:
    """The tasks of one server; they are worked one after another by its slow worker."""

    def __init__(self, worker: Worker) -> None:
        self._worker = worker
        self._tasks: OrderedDict[str, Task] = OrderedDict()
        self._working: set[asyncio.Task[None]] = set()
        self._now = ""

    def start(
        self,
        page: str,
        title: str,
        case: CaseText,
        make: Callable[..., Any],
        asked: Any = None,
        progress: Path | None = None,
    ) -> Task:
        """Start to make something of a case; the same of the same version is not made twice at a time."""
        running = self.last(page, case, asked)
        if running is not None and running.state == "running":
            return running
        if sum(each.state == "running" for each in self._tasks.values()) >= MOST_WAITING:
            raise OnedatumError("Too much waits to be made; cancel something or wait for it.")
        task = Task(secrets.token_urlsafe(12), page, title, case, asked, progress=progress)
        self._tasks[task.id] = task
        working = asyncio.get_running_loop().create_task(self._work(task, make))
        self._working.add(working)
        working.add_done_callback(self._working.discard)
        self._forget()
        return task

    async def _work(self, task: Task, make: Callable[..., Any]) -> None:
        def begin() -> bool:
            self._now = task.id
            return task.state == "running"

        try:
            task.result = await self._worker.begun(begin, make, task.case)
            if task.state == "running":
                task.end("done")
        except Replaced:
            return
        except OnedatumError as error:
            if task.state == "running":
                task.end("failed", str(error))
        except Failed:
            if task.state == "running":
                task.end("failed", "The calculation ended before it answered. Nothing was lost; try again.")
        except Exception as error:  # noqa: BLE001 - our own mistake: whoever waits is told, and the terminal says more
            traceback.print_exception(error)
            task.end("failed", f"An error of ours: {type(error).__name__}. The terminal of the server says more.")
        finally:
            self._now = "" if self._now == task.id else self._now

    def of(self, id_: str, page: str) -> Task | None:
        """A task by its id."""
        task = self._tasks.get(id_)
        return task if task is not None and task.page == page else None

    def found(self, id_: str, page: str, case: CaseText) -> Task | None:
        """A task by its id, if it is of this case as it is kept now."""
        task = self.of(id_, page)
        return task if task is not None and task.case == case else None

    def last(self, page: str, case: CaseText, asked: Any = None) -> Task | None:
        """The newest task of this page, this version of a case and this question that was not cancelled."""
        wanted = page, case, asked
        same = (each for each in reversed(self._tasks.values()) if (each.page, each.case, each.asked) == wanted)
        return next((each for each in same if each.state != "cancelled"), None)

    def told(self, id_: str) -> Told | None:
        """How a task stands; None where it is not held."""
        task = self._tasks.get(id_)
        return None if task is None else task.told()

    def cancel(self, id_: str) -> Task | None:
        """End a task; the worker stands ready for the next at once."""
        task = self._tasks.get(id_)
        if task is not None and task.state == "running":
            task.end("cancelled", "Cancelled.")
            if self._now == id_:
                self._worker.restart()
        return task

    def stop(self) -> None:
        """End everything that is at work or waits."""
        for each in self._tasks.values():
            if each.state == "running":
                each.end("cancelled", "The server was stopped.")
        for working in self._working:
            working.cancel()

    def _forget(self) -> None:
        over = [each.id for each in self._tasks.values() if each.state != "running"]
        for id_ in over[: max(0, len(self._tasks) - HELD)]:
            del self._tasks[id_]
