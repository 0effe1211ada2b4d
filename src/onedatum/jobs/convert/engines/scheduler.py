"""Units on the workers of a dask scheduler, which works again what a lost worker had in hand.

Every worker must have this version of the tool, and logs and the folder of results under the same paths.
"""

from __future__ import annotations

import asyncio
import logging
from collections import deque
from collections.abc import Iterable, Iterator
from contextlib import suppress
from importlib.util import find_spec
from typing import Any

from onedatum.foundation.errors import Fault, LogError
from onedatum.jobs.convert.unit import Job, Order, Outcome, Unit, all_of, remove

ANSWERS_S = 10.0
"""How long a scheduler may take to answer."""
TALKERS = ("distributed", "tornado", "asyncio")
"""What logs a lost connection with all that it went through; here it is told once, in one sentence."""
AHEAD = 3
"""Units that wait for each thread of a worker."""


def ready() -> Fault | None:
    """None where the extra is installed; else what to install."""
    if find_spec("distributed") is not None:
        return None
    remedy = 'Install it from the folder of the project: pip install ".[logs,dask]"'
    return Fault("the extra dask", "installed", "an installation without it", "--scheduler needs it", remedy=remedy)


class Scheduler:
    """The workers of one scheduler."""

    def __init__(self, job: Job, address: str) -> None:
        import distributed
        from dask import config

        client: Any = distributed.Client
        self.talkers = _silenced()
        self.address = address
        config.set({"distributed.comm.timeouts.connect": f"{ANSWERS_S:g}s", "distributed.comm.retry.count": 0})
        try:
            self.client = client(address, timeout=ANSWERS_S, set_as_default=False)
            if not self._threads():
                self.client.close()
                raise OSError("it has no worker")
        except (OSError, ValueError, TypeError, RuntimeError) as error:
            _heard(self.talkers)
            raise self._lost(" ".join(str(error).split())[:200] or type(error).__name__) from error
        self.order = Order.of(job)

    def _threads(self) -> int:
        return sum(self.client.nthreads().values())

    def _lost(self, why: str) -> LogError:
        remedy = "Start it, and workers for it; called again, the run goes on with what is done"
        fault = Fault("--scheduler", "the address of a scheduler that answers", self.address, why, remedy=remedy)
        return LogError([fault])

    def map(self, units: Iterable[Unit]) -> Iterator[tuple[Unit, Outcome]]:
        """So many units under way as keep every worker busy."""
        from concurrent.futures import CancelledError

        from distributed import KilledWorker

        rest, under_way = iter(units), deque[tuple[Unit, Any]]()
        try:
            while True:
                room = AHEAD * max(self._threads(), 1) - len(under_way)
                for unit in (unit for _, unit in zip(range(room), rest, strict=False)):
                    under_way.append((unit, self.client.submit(all_of, unit, self.order, pure=False)))
                if not under_way:
                    return
                unit, future = under_way.popleft()
                outcomes: list[Outcome] = future.result()
                for outcome in outcomes:
                    yield unit, outcome
        except KilledWorker as error:
            remedy = "Give them more memory. What is done is kept"
            fault = Fault("the workers", "alive while they work a unit", "dead", "several died with one", remedy=remedy)
            raise LogError([fault]) from error
        except (CancelledError, asyncio.CancelledError, OSError, RuntimeError, TimeoutError) as error:
            raise self._lost(f"the connection to it was lost ({type(error).__name__})") from error

    def cancel(self) -> None:
        """Give back what is still under way."""
        with suppress(OSError, RuntimeError, TimeoutError, asyncio.CancelledError):
            self.client.close(timeout=ANSWERS_S)
        remove((self.order.path,))
        _heard(self.talkers)


def _silenced() -> dict[str, int]:
    """Have the engine log nothing; the levels there were, by logger."""
    known = [name for name in logging.root.manager.loggerDict if name.split(".")[0] in TALKERS]
    before = {name: logging.getLogger(name).level for name in {*TALKERS, *known}}
    for name in before:
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)
    return before


def _heard(before: dict[str, int]) -> None:
    """Let it log again."""
    for name, level in before.items():
        logging.getLogger(name).setLevel(level)
