"""Conversions whose workers, scheduler, process or disk fail, against one that was left in peace, by content hash."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from soak.cluster import cluster
from soak.report import Report

NAME = "engines"
SEED = 20261127
ROOT = Path(__file__).resolve().parent.parent.parent
CASE = ROOT / "examples" / "spirit_receiver.yaml"
MAP = "mapping: 1\ntime: {column: time, form: iso, zone: UTC}\nvalue: {column: level, unit: mm}\n"
FILES, LEAST, STEP = 24, 20_000, 10_000
"""Logs, rows of the shortest, rows more of each of the next nine."""
KILLS = 4
LONGEST_S = 1.5
ENDED_S = 10.0
LIMITED = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]), resource.RLIM_INFINITY))
sys.argv = ["onedatum", *sys.argv[2:]]
from onedatum.cli.main import main
if __name__ == "__main__":
    main()
"""
"""The command under a limit on the size of a file: a write fails as it does on a disk that is full."""


def written(folder: Path, random: Random) -> list[Path]:
    """Logs of different length, some of which begin before the one before them ends."""
    begin, paths = 0, list[Path]()
    (folder / "map.yaml").write_text(MAP, encoding="utf-8")
    for number in range(FILES):
        at = begin + np.arange(LEAST + STEP * (number % 10))
        time_column = pa.array(1_700_000_000_000_000 + at * 1_000_000).cast(pa.timestamp("us", "UTC"))
        level = np.round(1450 + 1200 * np.sin(at / 5_000) + np.random.default_rng(number).normal(0, 1, len(at)), 1)
        paths.append(folder / f"{number:02}.parquet")
        pq.write_table(pa.table({"time": time_column, "level": level}), paths[-1])
        begin = int(at[-1]) + 1 - random.choice((0, 0, 0, 5_000))
    return paths


def content(out: Path) -> str:
    """The hash over names and contents of all files but the summary, which tells how many parts were there already."""
    whole = sha256()
    for path in sorted(path for path in out.rglob("*") if path.is_file() and path.name != "summary.json"):
        whole.update(f"{path.relative_to(out)}\0".encode() + sha256(path.read_bytes()).digest())
    return whole.hexdigest()


class Runs:
    """Runs of the command on the same logs."""

    def __init__(self, folder: Path, logs: Sequence[Path]) -> None:
        self.folder, self.logs = folder, logs

    def words(self, out: str, *more: str) -> list[str]:
        """What follows the name of the command."""
        asked = ["convert", *map(str, self.logs), "--case", str(CASE), "--map", str(self.folder / "map.yaml")]
        return [*asked, "--out", str(self.folder / out), *more]

    def started(self, out: str, *more: str) -> subprocess.Popen[str]:
        """A run under way."""
        words = [sys.executable, "-m", "onedatum", *self.words(out, *more)]
        return subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)

    def ended(self, out: str, *more: str) -> tuple[int, str]:
        """A run to its end: exit code and what it said of errors."""
        with self.started(out, *more) as process:
            said = process.communicate()[1]
        return process.returncode, said

    def full(self, out: str, limit: int, *more: str) -> tuple[int, str]:
        """A run on a disk that is full."""
        words = [sys.executable, "-c", LIMITED, str(limit), *self.words(out, *more)]
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        return done.returncode, done.stderr

    def kept(self, out: str) -> int:
        """Parts that have their place."""
        path = self.folder / out / "parts.jsonl"
        return path.read_text(encoding="utf-8").count("\n") if path.exists() else 0

    def begun(self, out: str, process: subprocess.Popen[str]) -> None:
        """Wait until the first part has its place."""
        while self.kept(out) == 0 and process.poll() is None:
            time.sleep(0.02)

    def hash_of(self, out: str) -> str:
        """The content of a folder."""
        return content(self.folder / out)


def workers_killed(runs: Runs, whole: str, random: Random) -> int:
    """Kill one of two workers at a moment after the first part: runs that did not end, or came out otherwise."""
    wrong = 0
    with cluster(runs.folder) as dask:
        for number in range(KILLS):
            process = runs.started(f"worker{number}", "--scheduler", dask.address)
            runs.begun(f"worker{number}", process)
            time.sleep(random.uniform(0.0, LONGEST_S))
            victim = dask.workers.pop(random.randrange(2))
            victim.kill()
            victim.wait()
            dask.workers.append(dask.worker())
            process.communicate()
            wrong += process.returncode != 0 or runs.hash_of(f"worker{number}") != whole
            dask.await_workers(2)
    return wrong


def scheduler_killed(runs: Runs, whole: str, random: Random) -> tuple[int, int]:
    """Kill the scheduler: runs that did not say so or whose going on came out otherwise, and parts kept."""
    with cluster(runs.folder) as dask:
        process = runs.started("scheduler", "--scheduler", dask.address)
        runs.begun("scheduler", process)
        time.sleep(random.uniform(0.0, 0.3))
        dask.scheduler.kill()
        said = process.communicate()[1]
    told = process.returncode == 2 and "--scheduler must be" in said and "Traceback" not in said
    kept = runs.kept("scheduler")
    code, _ = runs.ended("scheduler")
    return (not told) + (code != 0 or runs.hash_of("scheduler") != whole), kept


def processes_killed(runs: Runs, whole: str, random: Random) -> int:
    """Kill one of two processes, then the run itself: those that came out otherwise or left a process behind."""
    wrong = 0
    for number in range(KILLS):
        process = runs.started(f"process{number}", "--workers", "2")
        runs.begun(f"process{number}", process)
        victims = children(process.pid)
        if victims:
            os.kill(random.choice(victims), signal.SIGKILL)
        if number % 2:
            time.sleep(random.uniform(0.0, LONGEST_S))
            left = children(process.pid)
            process.kill()
            process.communicate()
            wrong += outlived(left)
            wrong += runs.ended(f"process{number}", "--workers", "2")[0] != 0
        else:
            process.communicate()
            wrong += process.returncode != 0
        wrong += runs.hash_of(f"process{number}") != whole
    return wrong


def outlived(processes: Sequence[int]) -> int:
    """How many still live ten seconds later: what is dead stays in the list until it is fetched."""
    end = time.monotonic() + ENDED_S
    while (left := [each for each in processes if Path(f"/proc/{each}").exists()]) and time.monotonic() < end:
        time.sleep(0.1)
    return len(left)


def children(parent: int) -> list[int]:
    """The processes that work for a run."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text(encoding="utf-8", errors="replace").rsplit(")", 1)[1].split()
            line = path.with_name("cmdline").read_bytes()
        except OSError:
            continue
        if int(fields[1]) == parent and b"spawn_main" in line:
            found.append(int(path.parent.name))
    return found


def disk_full(runs: Runs, whole: str) -> int:
    """A disk that is full at a part in the midst: runs that did not say so, left halves, or went on otherwise."""
    wrong = 0
    limit = sorted(path.stat().st_size for path in (runs.folder / "whole" / "parts").glob("*.parquet"))[FILES // 2]
    for number, more in enumerate(([], ["--workers", "2"])):
        out = f"full{number}"
        code, said = runs.full(out, limit, *more)
        told = code == 2 and "Make room on the disk" in said and "Traceback" not in said
        halves = list((runs.folder / out).rglob("*.new")) + list((runs.folder / out).glob("*.csv"))
        wrong += (not told) + bool(halves) + (not 0 < runs.kept(out) < FILES)
        wrong += runs.ended(out, *more)[0] != 0 or runs.hash_of(out) != whole
    return wrong


def run() -> Report:
    """All that can die, once or more."""
    random = Random(SEED)
    with TemporaryDirectory() as place:
        runs = Runs(Path(place), written(Path(place), random))
        begun = runs.ended("whole")[0]
        whole = runs.hash_of("whole")
        of_workers = workers_killed(runs, whole, random)
        of_scheduler, kept = scheduler_killed(runs, whole, random)
        of_processes = processes_killed(runs, whole, random)
        of_disk = disk_full(runs, whole)
    return Report(
        title="Conversions of logs in which something died",
        statement=(
            "A conversion that lost a worker comes out as one that was left in peace, by the hash of all its files. "
            "One that lost its scheduler, its own process or the room on its disk says so and comes out the same when "
            "it is called again."
        ),
        method=(
            f"{FILES} logs, some of which begin before the one before them ends, are converted in one process. Then "
            "with a scheduler and two workers started as commands on the loopback, a worker being killed at a moment "
            "drawn after the first part; then with the scheduler killed; then with two processes, one of which is "
            "killed, and every second time the run itself too, none of whose processes may live ten seconds later; "
            "then under a limit on the size of a file, which is what a full disk says. The signal cannot be caught. "
            "What is left is called again. Names and contents of all files but the summary are hashed. It says nothing "
            "of a loss of power."
        ),
        numbers=(
            ("workers of the scheduler killed", f"{KILLS}"),
            ("runs that came out otherwise", f"{of_workers}"),
            ("schedulers killed", "1"),
            ("runs that did not say so, or came out otherwise", f"{of_scheduler}"),
            ("parts lost that had their place", f"{int(kept == 0)}"),
            ("processes killed, and every second time the run", f"{KILLS}"),
            ("runs that came out otherwise, processes left", f"{of_processes}"),
            ("full disks", "2"),
            ("runs that did not say so, left halves, or came out otherwise", f"{of_disk}"),
        ),
        seeds=(SEED,),
        holds=not (begun or of_workers or of_scheduler or of_processes or of_disk) and kept > 0,
    )
