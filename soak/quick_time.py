"""An event loop whose clock does not wait: it jumps to the next moment at which something is due."""

from __future__ import annotations

import asyncio
import selectors
from collections.abc import Callable, Coroutine
from typing import Any, TypeVar

_T = TypeVar("_T")


class QuickLoop(asyncio.SelectorEventLoop):
    """Sleeps, time limits and timers work as ever; the time they take does not pass."""

    def __init__(self, begin_s: float = 0.0) -> None:
        self.now_s = begin_s
        super().__init__(_Selector(self))

    def time(self) -> float:
        """Seconds of the clock of this loop."""
        return self.now_s


class _Selector(selectors.SelectSelector):
    def __init__(self, loop: QuickLoop) -> None:
        super().__init__()
        self._loop = loop

    def select(self, timeout: float | None = None) -> list[Any]:
        found = super().select(0)
        if not found and timeout is None:
            raise RuntimeError("nothing is due any more, and something still waits")
        if not found and timeout:
            self._loop.now_s += timeout
        return found


def quickly(made: Callable[[], Coroutine[Any, Any, _T]], begin_s: float = 0.0) -> _T:
    """Run a coroutine in time that does not wait."""
    with asyncio.Runner(loop_factory=lambda: QuickLoop(begin_s)) as runner:
        return runner.run(made())
