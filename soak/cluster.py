"""A dask scheduler and workers, started as commands on the loopback."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import distributed


class Cluster:
    """A scheduler and two workers, with one thread each."""

    def __init__(self, folder: Path, workers: int) -> None:
        self.file = folder / "scheduler.json"
        self.file.unlink(missing_ok=True)
        self.scheduler = self._command(
            "scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(self.file)
        )
        while not self.file.exists() or not self.file.read_text(encoding="utf-8").strip():
            time.sleep(0.05)
        self.address = str(json.loads(self.file.read_text(encoding="utf-8"))["address"])
        self.workers = [self.worker() for _ in range(workers)]

    def _command(self, *words: str) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            [sys.executable, "-m", "dask", *words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )

    def worker(self) -> subprocess.Popen[bytes]:
        """One more worker: one process of one thread."""
        return self._command(
            "worker", self.address, "--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1"
        )

    def await_workers(self, count: int) -> None:
        """Wait until so many have told the scheduler of themselves."""
        made: Any = distributed.Client
        with made(self.address, set_as_default=False) as client:
            client.wait_for_workers(count, timeout=120)

    def end(self) -> None:
        """End them all."""
        for process in (*self.workers, self.scheduler):
            process.kill()
            process.wait()


@contextmanager
def cluster(folder: Path, workers: int = 2) -> Iterator[Cluster]:
    """A cluster for a while."""
    found = Cluster(folder, workers)
    try:
        found.await_workers(workers)
        yield found
    finally:
        found.end()
