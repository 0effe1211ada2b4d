"""Engines of a conversion: whoever works the units, the same comes out; what dies is replaced, what is full is said.

The reference is the run in one process, whose parts are compared byte by byte; `tests/cli/test_convert.py` proves it.
"""

from __future__ import annotations

import multiprocessing
import os
import select
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from onedatum.foundation.errors import LogError, OutputError
from onedatum.jobs.convert import run as convert_run
from onedatum.jobs.convert.engines import processes, scheduler
from onedatum.jobs.convert.run import Asked, run
from onedatum.jobs.convert.unit import Job, Outcome, Unit, work
from onedatum.jobs.keeping.lock import LOCK, locked
from onedatum.logs import csv_blocks, row_groups
from tests.cli.run import ROOT, onedatum

CASE = ROOT / "examples" / "spirit_receiver.yaml"
MAP = "mapping: 1\ntime: {column: time, form: iso, zone: UTC%s}\nvalue: {column: pv, unit: mA}\n"
BEGIN_us, DAY_us = 1_767_225_600_000_000, 86_400_000_000
Logs = tuple[Path, ...]
SOURCES = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
GROUP = 500
"""Rows of a row group, each a unit of its own here."""
PIECE = 4_000
"""Bytes of a piece of a CSV file, each a unit of its own too."""
LITTLE = 8_000
"""Bytes: less than the job and than some part, more than a line of the manifest."""
WAITING = """
import sys
from pathlib import Path
from onedatum.jobs.convert.engines.processes import Processes
from onedatum.jobs.convert.unit import Order, Unit
from onedatum.logs.chunk import Span
next(Processes(Order(Path(sys.argv[1]), ""), 1).map([Unit(0, Path("log"), 0, "", Span((0,)))]))
"""
"""A run of one unit by one process, whose job is no file but a pipe."""


def quiet(rows: int, share: float) -> None:
    """No progress is shown."""


def parquet(path: Path, minutes: Any, ahead: dict[int, int] | None = None) -> Path:
    """Rows at these minutes; some of them days ahead."""
    at = BEGIN_us + np.asarray(minutes) * 60_000_000
    for row, days in (ahead or {}).items():
        at[row] += days * DAY_us
    time_column = pa.array(at).cast(pa.timestamp("us", "UTC"))
    pq.write_table(pa.table({"time": time_column, "pv": 4.0 + np.arange(len(at)) % 16}), path, row_group_size=GROUP)
    return path


@pytest.fixture(autouse=True)
def in_groups(monkeypatch: pytest.MonkeyPatch) -> None:
    """Small units."""
    monkeypatch.setattr(row_groups, "CHUNK_ROWS", GROUP)
    monkeypatch.setattr(csv_blocks, "BLOCK", PIECE)


def written(folder: Path) -> Logs:
    """Two Parquet files that overlap, one of them in no order, and a CSV file that comes too late in part."""
    random = np.random.default_rng(20261126)
    mixed = np.concatenate([np.arange(2400, 4400)[::-1][:700], random.permutation(np.arange(4000, 6000))])
    text = ["time,pv"]
    text += [f"2026-01-{5 + m // 1440:02}T{m // 60 % 24:02}:{m % 60:02}:00,{4 + m % 16}" for m in range(400)]
    (folder / "c.csv").write_text("\n".join(text) + "\n", encoding="utf-8")
    (folder / "map.yaml").write_text(MAP % "", encoding="utf-8")
    return (
        parquet(folder / "a.parquet", np.arange(3000), {1234: 3}),
        parquet(folder / "b.parquet", mixed),
        folder / "c.csv",
    )


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> tuple[Logs, dict[str, bytes]]:
    """The logs and what one process makes of them."""
    logs = written(tmp_path_factory.mktemp("logs"))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(row_groups, "CHUNK_ROWS", GROUP)
        patch.setattr(csv_blocks, "BLOCK", PIECE)
        found = run(asked(logs, logs[0].parent / "reference"), quiet)
    late = found.tally.rejected["out of order: a later time of this tag stands before it"]
    assert found.tally.rows == 6100 and 1000 < late < 5000
    return logs, made(logs[0].parent / "reference")


@pytest.fixture
def logs(whole: tuple[Logs, dict[str, bytes]]) -> Logs:
    return whole[0]


@pytest.fixture
def reference(whole: tuple[Logs, dict[str, bytes]]) -> dict[str, bytes]:
    return whole[1]


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


def asked(logs: Logs, out: Path, **more: Any) -> Asked:
    return Asked(logs, CASE, None, logs[0].parent / "map.yaml", out, **more)


def made(out: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()}


def test_processes_make_the_same_though_one_is_killed(logs: Logs, reference: dict[str, bytes], out: Path) -> None:
    killed: list[int] = []

    def kill(rows: int, share: float) -> None:
        if not killed:
            child = next(iter(multiprocessing.active_children()))
            child.kill()
            killed.append(child.pid or 0)

    run(asked(logs, out, workers=2), kill)
    assert killed and made(out) == reference
    assert multiprocessing.active_children() == []
    again = run(asked(logs, out), quiet)
    assert again.kept_parts == len(reference) // 2 - 1 and made(out) == reference


def test_a_unit_that_ends_every_process_is_told(logs: Logs, monkeypatch: pytest.MonkeyPatch, out: Path) -> None:
    """Here a process that ends before it has taken anything."""
    monkeypatch.setattr(processes, "serve", os._exit)
    monkeypatch.setattr(processes, "DEATHS", 1)
    with pytest.raises(LogError, match=r"1 processes? ended while .* worked on it.*fewer --workers"):
        run(asked(logs, out, workers=2), quiet)
    assert multiprocessing.active_children() == []


def test_no_process_outlives_a_run_that_is_killed(tmp_path: Path) -> None:
    """A process that waits for its job, which never comes: it has the pipe open for as long as it lives."""
    os.mkfifo(tmp_path / "job")
    with subprocess.Popen([sys.executable, "-c", WAITING, str(tmp_path / "job")], env=SOURCES) as killed:
        end = os.open(tmp_path / "job", os.O_WRONLY)  # goes on when the process has opened it
        gone = select.poll()
        gone.register(end, select.POLLERR)
        try:
            assert gone.poll(0) == []
            killed.kill()
            assert gone.poll(10_000), "the process lives on"
        finally:
            killed.kill()
            os.close(end)  # ends what still waits


@pytest.fixture
def cluster() -> Iterator[Any]:
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None, host="127.0.0.1", protocol="tcp://"
    ) as found:
        yield found


@pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::DeprecationWarning")
def test_a_scheduler_makes_the_same(logs: Logs, reference: dict[str, bytes], cluster: Any, out: Path) -> None:
    run(asked(logs, out, scheduler=cluster.scheduler_address), quiet)
    assert made(out) == reference


@pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::DeprecationWarning")
def test_no_scheduler_is_said(logs: Logs, monkeypatch: pytest.MonkeyPatch, out: Path) -> None:
    monkeypatch.setattr(scheduler, "ANSWERS_S", 0.3)
    with pytest.raises(LogError, match=r"--scheduler must be the address of a scheduler that answers; got tcp://127"):
        run(asked(logs, out, scheduler="tcp://127.0.0.1:9"), quiet)


def test_a_run_stopped_with_processes_goes_on_in_one(logs: Logs, reference: dict[str, bytes], out: Path) -> None:
    def stop(rows: int, share: float) -> None:
        if rows >= 2000:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        run(asked(logs, out, workers=2), stop)
    assert multiprocessing.active_children() == [] and not (out / "rejects.csv").exists()
    (out / ".job-0123456789abcdef").write_bytes(b"of a run that was killed")
    (out / "parts" / f".0001-000001.parquet.{'a' * 32}.new").write_bytes(b"of one of its processes")
    found = run(asked(logs, out), quiet)
    assert found.kept_parts >= 4 and made(out) == reference


def test_a_change_in_the_first_log_leaves_the_others(tmp_path: Path, out: Path) -> None:
    """Unless it moves the order: here the first ends as it did before."""
    logs = written(tmp_path)
    run(asked(logs, out), quiet)
    parquet(logs[0], np.arange(3000), {1234: 3, 100: 1})
    found = run(asked(logs, out), quiet)
    run(asked(logs, tmp_path / "fresh"), quiet)
    assert found.kept_parts == 9 and made(out) == made(tmp_path / "fresh")


class Backwards:
    """All units taken before any is worked, the last of them first: no unit knows what comes before it."""

    def __init__(self, job: Job) -> None:
        self.job = job

    def map(self, units: Iterable[Unit]) -> Iterator[tuple[Unit, Outcome]]:
        """What comes of them, in their order."""
        found = [(unit, list(work(unit, self.job))) for unit in list(units)[::-1]]
        yield from ((unit, outcome) for unit, outcomes in found[::-1] for outcome in outcomes)

    def cancel(self) -> None:
        """Nothing is under way."""


@pytest.mark.parametrize("at", [None, 250], ids=["to the end", "up to where its columns change"])
def test_pieces_of_one_file_in_any_order_make_the_same(
    at: int | None, tmp_path: Path, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    logs = written(tmp_path)[2:]
    lines = logs[0].read_text(encoding="utf-8").splitlines()
    lines[150:150] = ["off", lines[20], "2026-01-05T09:00:00,x"]
    if at is not None:
        lines.insert(at, "pv,time")
    logs[0].write_text("\r\n".join(lines), encoding="utf-8")
    found = run(asked(logs, out), quiet)
    rows = at if at is not None else len(lines) - 1
    assert found.tally.rows == rows and len(list((out / "parts").glob("*.parquet"))) == -(-rows * 27 // PIECE)
    monkeypatch.setattr(convert_run, "_engine", lambda asked, job: Backwards(job))
    run(asked(logs, tmp_path / "other"), quiet)
    assert made(tmp_path / "other") == made(out)
    assert run(asked(logs, out), quiet).kept_parts == len(list((out / "parts").glob("*.parquet")))


# ---------------------------------------------------------------- the folder


def _in_place(path: Path) -> None:
    with path.open("r+b") as file:
        file.write(path.read_bytes().replace(b",4\n", b",5\n"))


def _cut_short(path: Path) -> None:
    os.truncate(path, PIECE)


def _another(path: Path) -> None:
    other = path.with_name("other")
    other.write_bytes(path.read_bytes()[::-1])
    other.replace(path)


@pytest.mark.parametrize("change", [_in_place, _cut_short, _another, Path.unlink])
@pytest.mark.parametrize("early", [True, False], ids=["amid its pieces", "after all of them"])
def test_of_a_log_that_changes_meanwhile_nothing_is_taken(
    tmp_path: Path, out: Path, change: Callable[[Path], None], early: bool
) -> None:
    """Also where its size stays: rows of two states of a file side by side are of none."""
    written(tmp_path)
    logs, done = (tmp_path / "c.csv", parquet(tmp_path / "d.parquet", np.arange(20_000, 20_100))), list[int]()

    def meanwhile(rows: int, share: float) -> None:
        done.append(rows)
        if len(done) == (2 if early else 4):
            change(logs[0])

    found = run(asked(logs, out), meanwhile)
    assert len(done) >= (2 if early else 4) and found.tally.rows == 100
    assert {path.name[:4] for path in (out / "parts").iterdir()} == {"0002"}
    said = "must be a log that stays as it is while it is converted; got one that was changed"
    assert [str(each) for each in found.faults if said in str(each)] and not found.remarks
    assert run(asked(logs, out), quiet).kept_parts == 1


def test_a_log_that_grows_is_taken_as_it_was(tmp_path: Path, out: Path) -> None:
    written(tmp_path)
    log, whole = tmp_path / "c.csv", tmp_path / "whole"
    run(asked((log,), whole), quiet)
    grown: list[int] = []

    def meanwhile(rows: int, share: float) -> None:
        with log.open("a") as file:
            grown.append(file.write("2026-02-01T00:00:00,4\n" * 99 + "2026-02-0"))

    found = run(asked((log,), out), meanwhile)
    assert grown and not found.faults and found.tally.rows == 400
    assert "grew while it was converted" in found.remarks[-1]
    before, after = made(whole), made(out)
    assert {name: after[name] for name in before} == before
    assert run(asked((log,), out), quiet).tally.rows == 400 + 99 * len(grown) + 1


def test_two_runs_never_write_one_folder(logs: Logs, out: Path) -> None:
    words = ["convert", str(logs[0]), "--case", str(CASE), "--map", str(logs[0].parent / "map.yaml"), "--out", str(out)]
    with locked(out, 0.0, LOCK):
        done = onedatum(*words)
        assert done.code == 2
        assert f"Another run writes into it: process {os.getpid()} on " in done.err
        with pytest.raises(OutputError, match="Wait until that run has ended"), locked(out, 0.0, LOCK):
            pass
    assert not (out / ".lock").exists()


def test_the_lock_of_a_dead_process_is_taken_over(tmp_path: Path) -> None:
    code = "import sys, time; from pathlib import Path; from onedatum.jobs.keeping.lock import LOCK, locked\n"
    code += "with locked(Path(sys.argv[1]), 0.0, LOCK):\n    print('held', flush=True); time.sleep(60)"
    with subprocess.Popen(
        [sys.executable, "-c", code, str(tmp_path)], stdout=subprocess.PIPE, env=SOURCES, text=True
    ) as holder:
        assert holder.stdout is not None and holder.stdout.readline() == "held\n"
        with pytest.raises(OutputError, match=f"process {holder.pid} on"), locked(tmp_path, 0.0, LOCK):
            pass
        holder.kill()
        holder.wait()
    assert (tmp_path / ".lock").exists()
    with locked(tmp_path, 0.0, LOCK):
        assert (tmp_path / ".lock").read_text().startswith(f"{os.getpid()} on ")


@pytest.mark.parametrize("workers", [1, 2])
def test_a_full_disk_is_said_and_the_run_goes_on_later(
    logs: Logs, reference: dict[str, bytes], workers: int, out: Path
) -> None:
    """A limit on the size of a file stands for the disk: the write fails with what the system says."""
    import resource

    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (LITTLE, before[1]))
    try:
        with pytest.raises(OutputError, match="Make room on the disk"):
            run(asked(logs, out, workers=workers), quiet)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert list(out.rglob("*.new")) == [] and list(out.glob(".*")) == []
    run(asked(logs, out), quiet)
    assert made(out) == reference


# ---------------------------------------------------------------- times that cannot be


def test_one_time_far_ahead_is_set_aside_by_itself(tmp_path: Path, out: Path) -> None:
    path = parquet(tmp_path / "log.parquet", np.arange(1000), {300: 20_000})
    (tmp_path / "map.yaml").write_text(MAP % "", encoding="utf-8")
    reason = "the time lies beyond the latest that can be: it is not taken for an order of rows"
    found = run(asked((path,), out), quiet)
    assert found.tally.rejected == {reason: 1} and found.tally.converted == 999
    later = run(asked((path,), out), quiet, now_s=(BEGIN_us + 20_001 * DAY_us) / 1e6)
    assert later.kept_parts == 0 and later.tally.rejected == {
        "out of order: a later time of this tag stands before it": 699
    }


def test_the_latest_time_may_be_stated(tmp_path: Path, out: Path) -> None:
    path = parquet(tmp_path / "log.parquet", np.arange(1000), {300: 60})
    for latest, rejected in ((', latest: "2026-01-02"', 1), (', latest: "2026-03-03T00:00:00+01:00"', 699)):
        (tmp_path / "map.yaml").write_text(MAP % latest, encoding="utf-8")
        found = run(asked((path,), tmp_path / f"out{rejected}"), quiet, now_s=time.time())
        assert sum(found.tally.rejected.values()) == rejected
    (tmp_path / "map.yaml").write_text(MAP % ", latest: tomorrow", encoding="utf-8")
    with pytest.raises(LogError, match=r"time\.latest must be a day or a time, such as 2026-12-31.*got 'tomorrow'"):
        run(asked((path,), out), quiet)
