"""How fast a level log becomes quantities, against two engines of tables doing the same by their own expressions.

The peers read the same file, take the same tables by the same straight lines, drop rows that come late and write the
same columns; they keep no rejects, no parts to go on from and no counts. They come with the group `peers`.
"""

from __future__ import annotations

import atexit
import subprocess
import sys
from collections.abc import Sequence
from contextlib import ExitStack
from importlib import import_module
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from bench.race import Figure, Race, Work, duration_s
from onedatum.case.reading import read_case
from onedatum.jobs.convert import writing
from onedatum.jobs.convert.run import Asked, run
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import convert
from onedatum.logs.mapping import LogMapping
from onedatum.study.study import study
from soak.cluster import Cluster, cluster

CASE = Path("examples/spirit_receiver.yaml")
MAP = "mapping: 1\ntime: {column: time, form: iso, zone: in the text}\nvalue: {column: level, unit: mm}\n"
ROWS, SMALL = 4_000_000, 100_000
ROUNDS = 5
NEAR_A = 5e-6
PEAK = """
import sys
from onedatum.cli.main import cli
try:
    cli(sys.argv[1:])
except SystemExit:
    print("peak", next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""
"""Runs the command and prints its own greatest memory in kilobytes; what its parent held does not count (Linux)."""


def log(folder: Path) -> Path:
    """A row a second of a level that swings, in tenths of a millimetre; mapping beside it."""
    random = np.random.default_rng(20260301)
    at = np.arange(ROWS)
    level_mm = np.round(1450 + 1200 * np.sin(at / 50_000) + random.normal(0, 1, ROWS), 1)
    time = pa.array(at * 1_000_000 + 1_700_000_000_000_000).cast(pa.timestamp("us", "UTC"))
    (folder / "map.yaml").write_text(MAP, encoding="utf-8")
    path = folder / "log.parquet"
    pq.write_table(pa.table({"time": time, "level": level_mm}), path, compression="zstd", row_group_size=1_000_000)
    return path


def ours(path: Path) -> Work:
    """A whole run into a new folder every time."""

    def work() -> None:
        out = Path(mkdtemp(dir=path.parent))
        run(Asked((path,), CASE, None, path.parent / "map.yaml", out), lambda rows, share: None)

    return work


class Peers:
    """The same by expressions of the peers, from the same tables."""

    def __init__(self, path: Path, made: Converter) -> None:
        self.path, self.tank = path, made.tanks[0]
        line = made.line("mm")
        self.at_0, self.per = (0.0, 0.0) if line is None else (float(line.current_at_0[0]), float(line.current_per[0]))
        self.cells = len(self.tank.values["volume_m3"]) - 1
        self.u_cells = len(self.tank.u["level_m"]) - 1
        self.per_m = [cells / (self.tank.high_m - self.tank.low_m) for cells in (self.cells, self.u_cells)]

    def polars(self) -> None:
        """By gathering rows of the tables."""
        pl: Any = import_module("polars")
        level = pl.col("level") * 1e-3
        p, q = ((level - self.tank.low_m) * per for per in self.per_m)
        frame = pl.scan_parquet(self.path).with_row_index("row", 1).with_columns(level.alias("level_m"))
        frame = frame.with_columns(p.alias("p"), q.alias("q"), (self.at_0 + self.per * pl.col("level")).alias("I"))
        frame = frame.with_columns(
            pl.col("p").floor().clip(0, self.cells - 1).cast(pl.UInt32).alias("i"),
            pl.col("q").floor().clip(0, self.u_cells - 1).cast(pl.UInt32).alias("j"),
        )
        inside = (pl.col("p") >= 0) & (pl.col("p") <= self.cells)
        ends = [((pl.col("I") - end).abs() <= NEAR_A).cast(pl.UInt16) for end in self.tank.ends_A]
        flags = ends[0] + 2 * ends[1] + 8 * (~inside).cast(pl.UInt16)

        def read(values: Any, row: str, place: str) -> Any:
            start, rise = pl.lit(pl.Series(values[:-1])), pl.lit(pl.Series(np.diff(values)))
            value = start.gather(pl.col(row)) + rise.gather(pl.col(row)) * (pl.col(place) - pl.col(row))
            return pl.when(inside).then(value)

        late = pl.col("time") <= pl.col("time").cum_max().shift(1)
        frame.filter(~late.fill_null(False)).select(
            pl.col("row"),
            pl.col("time"),
            pl.lit(self.tank.tag).cast(pl.Categorical).alias("tag"),
            pl.lit(None, dtype=pl.String).alias("state"),
            flags.alias("flags"),
            pl.lit(None, dtype=pl.Float64).alias("current_A"),
            pl.col("level_m"),
            *(read(values, "i", "p").alias(key) for key, values in self.tank.values.items()),
            *(read(values, "j", "q").alias(f"u_{key}") for key, values in self.tank.u.items()),
        ).sink_parquet(self.path.parent / "polars.parquet", compression="zstd")

    def duckdb(self) -> None:
        """By joining rows of the tables."""
        engine: Any = import_module("duckdb").connect()
        engine.execute("set threads = 2")
        for name, row, tables in (("t", "i", self.tank.values), ("u", "j", self._named())):
            rises = {f"d_{key}": np.diff(values) for key, values in tables.items()}
            starts = {key: values[:-1] for key, values in tables.items()}
            engine.register("given", pa.table({row: np.arange(len(next(iter(rises.values())))), **starts, **rises}))
            engine.execute(f"create table {name} as select * from given")
            engine.unregister("given")
        reads = [f"{key} + d_{key}*(p - i) as {key}" for key in self.tank.values]
        reads += [f"{key} + d_{key}*(q - j) as {key}" for key in self._named()]
        current = f"({self.at_0!r} + {self.per!r}*level)"
        low, high = (f"(abs({current} - {end!r}) <= {NEAR_A})::int" for end in self.tank.ends_A)
        head = f"row, time, '{self.tank.tag}' as tag, null::varchar as state"
        p, q = (f"(level*1e-3 - {self.tank.low_m!r})*{per!r}" for per in self.per_m)
        engine.execute(
            f"copy (select {head}, ({low} + 2*{high})::usmallint as flags, null::double as current_A,"
            f" level*1e-3 as level_m, {', '.join(reads)}"
            f" from (select *, {p} as p, {q} as q, floor(p)::bigint as i, floor(q)::bigint as j, file_row_number as row"
            f" from read_parquet('{self.path}', file_row_number = true)) join t using (i) join u using (j))"
            f" to '{self.path.parent / 'duckdb.parquet'}' (format parquet, compression zstd)"
        )

    def _named(self) -> dict[str, Any]:
        return {f"u_{key}": values for key, values in self.tank.u.items()}


def quick(path: Path) -> Work:
    """A whole run with the encoding that takes the least time; its files are larger."""

    def work() -> None:
        usual = writing.encoding
        writing.encoding = writing.quick_encoding
        try:
            ours(path)()
        finally:
            writing.encoding = usual

    return work


def copies(path: Path) -> float:
    """A run in times that the machine copies the columns read and written, uncompressed."""
    columns = 2 + len(pq.read_schema(path.parent / "polars.parquet").names)
    block = np.ones(ROWS * columns)
    copy_s = min(duration_s(block.copy) for _ in range(5))
    print(f"the machine copies {block.nbytes / copy_s / 1e9:.1f} GB/s")
    return min(duration_s(ours(path)) for _ in range(3)) / copy_s


def per_row(folder: Path) -> float:
    """Bytes of a row in the folder that a run has made, for those of the peers written just before."""
    peers = [(folder / f"{name}.parquet").stat().st_size for name in ("polars", "duckdb")]
    parts = max(folder.glob("tmp*/parts"), key=lambda path: path.stat().st_mtime)
    return sum(path.stat().st_size for path in parts.iterdir()) / min(peers)


def by_scheduler(path: Path, workers: int, stack: ExitStack) -> Work:
    """A whole run by a scheduler with so many workers of one thread, started when it is first called for."""
    found: list[Cluster] = []

    def work() -> None:
        if not found:
            place = path.parent / f"dask{workers}"
            place.mkdir()
            found.append(stack.enter_context(cluster(place, workers)))
        out = Path(mkdtemp(dir=path.parent))
        asked = Asked((path,), CASE, None, path.parent / "map.yaml", out, scheduler=found[0].address)
        run(asked, lambda rows, share: None)

    return work


def by_processes(path: Path) -> Work:
    """A whole run by two processes, started for it."""

    def work() -> None:
        out = Path(mkdtemp(dir=path.parent))
        run(Asked((path,), CASE, None, path.parent / "map.yaml", out, workers=2), lambda rows, share: None)

    return work


def kernel(made: Converter, level_mm: Any) -> Work:
    """The pure function alone."""
    time = pa.array(np.arange(len(level_mm)) * 1_000_000).cast(pa.timestamp("us", "UTC"))
    batch = pa.RecordBatch.from_arrays([time, pa.array(level_mm)], ["time", "level"])
    return lambda: convert(batch, made, made.mapping)


def peak_MB(words: Sequence[str]) -> float:
    """The greatest memory of a run of the command."""
    told = subprocess.run([sys.executable, "-c", PEAK, *words], capture_output=True, text=True, check=True).stdout
    return float(told.split("peak")[-1]) / 1e3


def races() -> list[Race | Figure]:
    """Against both peers, and the order of rows."""
    folder = Path(mkdtemp(prefix="onedatum-bench-"))
    path = log(folder)
    mapping = LogMapping(time="time", form="iso", zone="in the text", value="level", unit="mm")
    made = Converter.of([study(read_case(CASE))], mapping)
    peers = Peers(path, made)
    level_mm = np.random.default_rng(1).uniform(100.0, 2800.0, SMALL)
    words = [
        "convert",
        str(path),
        "--case",
        str(CASE),
        "--map",
        str(folder / "map.yaml"),
        "--out",
        str(folder / "peak"),
    ]
    stack = ExitStack()
    atexit.register(stack.close)
    return [
        Race("convert a log", ours(path), "polars", peers.polars, goal=1 / 1.2, rounds=ROUNDS),
        Race("convert a log", ours(path), "duckdb", peers.duckdb, goal=1 / 1.2, rounds=ROUNDS),
        Figure("its file, in files of the smaller peer", lambda: per_row(folder), 1.0, "x"),
        Race("the same with the quickest encoding, a larger file", quick(path), "polars", peers.polars, 1 / 1.2, 3),
        Race("by two processes", by_processes(path), "by one", ours(path), goal=1.1, rounds=3),
        Race(
            "by two workers of a scheduler",
            by_scheduler(path, 2, stack),
            "by one",
            by_scheduler(path, 1, stack),
            goal=1 / 1.5,
            rounds=3,
        ),
        Figure("convert a log, in copies of its columns", lambda: copies(path), 250.0, "x"),
        Race(
            "levels in random order",
            kernel(made, level_mm),
            "the same sorted",
            kernel(made, np.sort(level_mm)),
            goal=1.1,
            rounds=41,
        ),
        Figure("memory of a conversion", lambda: peak_MB(words), 500.0, "MB"),
    ]
