"""How fast a level log becomes quantities, against two engines of tables doing the same by their own expressions.

The peers read the same file, take the same tables by the same straight lines, drop rows that come late and write the
same columns; they keep no rejects, no parts to go on from and no counts. They come with the group `peers`.
"""

from __future__ import annotations

import atexit
import shutil
import subprocess
import sys
from collections.abc import Sequence
from contextlib import ExitStack
from importlib import import_module
from pathlib import Path
from tempfile import mkdtemp
from time import process_time
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from bench.race import Figure, Race, Work, duration_s
from onedatum.case.reading import read_case
from onedatum.jobs.convert import writing
from onedatum.jobs.convert.run import Asked, run
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import DIGITS_OF_U, convert
from onedatum.logs.mapping import LogMapping
from onedatum.study.study import study
from soak.cluster import Cluster, cluster

CASE = Path("examples/spirit_receiver.yaml")
MAP = "mapping: 1\ntime: {column: time, form: iso, zone: in the text}\nvalue: {column: level, unit: mm}\n"
ROWS, SMALL = 4_000_000, 100_000
ROUNDS = 5
NEAR_A = 5e-6
SPLIT = 2.0 ** (53 - DIGITS_OF_U) + 1.0
"""A number times this, less the same less the number, has the digits that are kept."""
COPIED = 512 << 20
UNITS, UNIT_ROWS, LONG_ROWS, TEXTS = 8, 1_500_000, 4_000_000, 5
"""Logs for what begins with starting processes; against another engine so long that this does not decide."""
PEAK = """
import resource, sys
from onedatum.cli.main import cli
try:
    cli(sys.argv[1:])
except SystemExit:
    own = next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM"))
    print("peak", own, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""
"""Runs the command and prints its own greatest memory and that of its greatest child, in kilobytes (Linux)."""


def log(path: Path, rows: int, first: int = 0) -> Path:
    """A row a second of a level that swings, in tenths of a millimetre."""
    random = np.random.default_rng(20260301 + first)
    at = np.arange(first, first + rows)
    level_mm = np.round(1450 + 1200 * np.sin(at / 50_000) + random.normal(0, 1, rows), 1)
    time = pa.array(at * 1_000_000 + 1_700_000_000_000_000).cast(pa.timestamp("us", "UTC"))
    pq.write_table(pa.table({"time": time, "level": level_mm}), path, compression="zstd", row_group_size=1_000_000)
    return path


def converted(paths: Sequence[Path], **how: Any) -> None:
    """A whole run into a new folder; that of the run before is taken away."""
    out = paths[0].parent / "out"
    shutil.rmtree(out, ignore_errors=True)
    run(Asked(tuple(paths), CASE, None, out.parent / "map.yaml", out, **how), lambda rows, share: None)


def ours(path: Path) -> Work:
    """A whole run of one process."""
    return lambda: converted([path])


class Peers:
    """The same by expressions of the peers, from the same tables."""

    def __init__(self, paths: Sequence[Path], made: Converter) -> None:
        self.paths, self.folder, self.tank = list(paths), paths[0].parent, made.tanks[0]
        line = made.line("mm")
        self.at_0, self.per = (0.0, 0.0) if line is None else (float(line.current_at_0[0]), float(line.current_per[0]))
        self.tables = {**self.tank.values, **{f"u_{key}": values for key, values in self.tank.u.items()}}
        self.cells = len(self.tables["volume_m3"]) - 1
        self.per_m = self.cells / (self.tank.high_m - self.tank.low_m)

    def polars(self) -> None:
        """By gathering rows of the tables."""
        pl: Any = import_module("polars")
        level = pl.col("level") * 1e-3
        place = (level - self.tank.low_m) * self.per_m
        frame = pl.scan_parquet(self.paths).with_row_index("row", 1).with_columns(level.alias("level_m"))
        frame = frame.with_columns(place.alias("p"), (self.at_0 + self.per * pl.col("level")).alias("I"))
        frame = frame.with_columns(pl.col("p").floor().clip(0, self.cells - 1).cast(pl.UInt32).alias("i"))
        inside = (pl.col("p") >= 0) & (pl.col("p") <= self.cells)
        ends = [((pl.col("I") - end).abs() <= NEAR_A).cast(pl.UInt16) for end in self.tank.ends_A]
        flags = ends[0] + 2 * ends[1] + 8 * (~inside).cast(pl.UInt16)

        def read(values: Any) -> Any:
            start, rise = pl.lit(pl.Series(values[:-1])), pl.lit(pl.Series(np.diff(values)))
            value = start.gather(pl.col("i")) + rise.gather(pl.col("i")) * (pl.col("p") - pl.col("i"))
            return pl.when(inside).then(value)

        def short(value: Any) -> Any:
            return value * SPLIT - (value * SPLIT - value)

        late = pl.col("time") <= pl.col("time").cum_max().shift(1)
        frame.filter(~late.fill_null(False)).select(
            pl.col("row"),
            pl.col("time"),
            pl.lit(self.tank.tag).cast(pl.Categorical).alias("tag"),
            pl.lit(None, dtype=pl.String).alias("state"),
            flags.alias("flags"),
            pl.lit(None, dtype=pl.Float64).alias("current_A"),
            pl.col("level_m"),
            *(read(values).alias(key) for key, values in self.tank.values.items()),
            *(short(read(values)).alias(f"u_{key}") for key, values in self.tank.u.items()),
        ).sink_parquet(self.folder / "polars.parquet", compression="zstd")

    def duckdb(self) -> None:
        """By joining rows of the tables."""
        engine: Any = import_module("duckdb").connect()
        engine.execute("set threads = 2")
        rises = {f"d_{key}": np.diff(values) for key, values in self.tables.items()}
        starts = {key: values[:-1] for key, values in self.tables.items()}
        engine.register("given", pa.table({"i": np.arange(self.cells), **starts, **rises}))
        engine.execute("create table t as select * from given")
        engine.unregister("given")
        reads = [f"{key} + d_{key}*(p - i) as {key}" for key in self.tank.values]
        split = [(f"u_{key}", f"(u_{key} + d_u_{key}*(p - i))") for key in self.tank.u]
        reads += [f"{value}*{SPLIT} - ({value}*{SPLIT} - {value}) as {key}" for key, value in split]
        current = f"({self.at_0!r} + {self.per!r}*level)"
        low, high = (f"(abs({current} - {end!r}) <= {NEAR_A})::int" for end in self.tank.ends_A)
        head = f"row, time, '{self.tank.tag}' as tag, null::varchar as state"
        place = f"(level*1e-3 - {self.tank.low_m!r})*{self.per_m!r}"
        engine.execute(
            f"copy (select {head}, ({low} + 2*{high})::usmallint as flags, null::double as current_A,"
            f" level*1e-3 as level_m, {', '.join(reads)}"
            f" from (select *, {place} as p, floor(p)::bigint as i, file_row_number as row"
            f" from read_parquet({[str(path) for path in self.paths]}, file_row_number = true)) join t using (i))"
            f" to '{self.folder / 'duckdb.parquet'}' (format parquet, compression zstd)"
        )


def quick_encoding(usual: dict[str, Any]) -> dict[str, Any]:
    """The encoding that takes the least time: bytes of numbers split, lz4."""
    kinds = ("level_m", "volume_m3", "standard_volume_m3", "mass_kg", "pure_alcohol_m3")
    split = dict.fromkeys((*kinds, *(f"u_{kind}" for kind in kinds), "current_A"), "BYTE_STREAM_SPLIT")
    return {**usual, "compression": "lz4", "column_encoding": {**usual["column_encoding"], **split}}


def quick(path: Path) -> Work:
    """A whole run with that encoding; its files are larger."""

    def work() -> None:
        usual = writing.encoding
        writing.encoding = lambda names: quick_encoding(usual(names))
        try:
            ours(path)()
        finally:
            writing.encoding = usual

    return work


def copies(path: Path) -> float:
    """The processor's time of a run, in times that copying the columns read and written takes, uncompressed.

    What the machine copies: the best of five copies of 512 MB, bytes read and bytes written both counted.
    """
    columns = 2 + len(pq.read_schema(path.parent / "polars.parquet").names)
    block, other = np.ones(COPIED // 8), np.zeros(COPIED // 8)
    rate = 2 * COPIED / min(duration_s(lambda: np.copyto(other, block)) for _ in range(5))
    print(f"the machine copies at {rate / 1e9:.1f} GB/s, read and written together")
    return min(duration_s(ours(path), process_time) for _ in range(3)) / (2 * ROWS * columns * 8 / rate)


def per_row(path: Path) -> float:
    """Bytes of the files of a run, for those of the smaller peer."""
    ours(path)()
    peers = [(path.parent / f"{name}.parquet").stat().st_size for name in ("polars", "duckdb")]
    return sum(each.stat().st_size for each in (path.parent / "out" / "parts").iterdir()) / min(peers)


def as_text(paths: Sequence[Path]) -> Path:
    """Logs as one CSV file, beside them."""
    found = paths[0].with_suffix(".csv")
    pa_csv.write_csv(pq.read_table(list(paths)), found)
    return found


def many(folder: Path, rows: int = UNIT_ROWS) -> list[Path]:
    """Logs that follow one another; mapping beside them."""
    folder.mkdir()
    (folder / "map.yaml").write_text(MAP, encoding="utf-8")
    return [log(folder / f"{number}.parquet", rows, number * rows) for number in range(UNITS)]


def by_scheduler(paths: Sequence[Path], workers: int, stack: ExitStack) -> Work:
    """A whole run by a scheduler with so many workers of one thread, started when it is first called for."""
    found: list[Cluster] = []

    def work() -> None:
        if not found:
            place = paths[0].parent / f"dask{workers}"
            place.mkdir()
            found.append(stack.enter_context(cluster(place, workers)))
        converted(paths, scheduler=found[0].address)

    return work


def kernel(made: Converter, level_mm: Any) -> Work:
    """The pure function alone."""
    time = pa.array(np.arange(len(level_mm)) * 1_000_000).cast(pa.timestamp("us", "UTC"))
    batch = pa.RecordBatch.from_arrays([time, pa.array(level_mm)], ["time", "level"])
    return lambda: convert(batch, made, made.mapping)


def peak_MB(paths: Sequence[Path], workers: int) -> float:
    """The greatest memory of a run of the command and of all processes it started, each at its greatest."""
    place = paths[0].parent
    shutil.rmtree(place / "peak", ignore_errors=True)
    words = ["convert", *map(str, paths), "--case", str(CASE), "--map", str(place / "map.yaml")]
    words += ["--out", str(place / "peak"), "--workers", str(workers)]
    told = subprocess.run([sys.executable, "-c", PEAK, *words], capture_output=True, text=True, check=True).stdout
    own, child = (float(each) for each in told.split("peak")[-1].split())
    return (own + (workers * child if workers > 1 else 0.0)) / 1e3


def races() -> list[Race | Figure]:
    """Against both peers, and the order of rows."""
    folder = Path(mkdtemp(prefix="onedatum-bench-"))
    stack = ExitStack()
    atexit.register(stack.close)
    stack.callback(shutil.rmtree, folder, ignore_errors=True)
    (folder / "map.yaml").write_text(MAP, encoding="utf-8")
    path, logs, long = log(folder / "log.parquet", ROWS), many(folder / "many"), many(folder / "long", LONG_ROWS)
    mapping = LogMapping(time="time", form="iso", zone="in the text", value="level", unit="mm")
    made = Converter.of([study(read_case(CASE))], mapping)
    peers = Peers([path], made)
    level_mm = np.random.default_rng(1).uniform(100.0, 2800.0, SMALL)
    either, alike = kernel(made, level_mm), kernel(made, np.sort(level_mm))
    two, one = by_scheduler(logs, 2, stack), by_scheduler(logs, 1, stack)
    by_two, text = f"{UNITS} logs by two processes", as_text(logs[:TEXTS])
    return [
        Race("convert a log", ours(path), "polars", peers.polars, 1 / 1.2, ROUNDS, process_time),
        Race("convert a log", ours(path), "duckdb", peers.duckdb, 1 / 1.2, ROUNDS, process_time),
        Figure("its file, in files of the smaller peer", lambda: per_row(path), 1.0, "x"),
        Race(
            "with the quickest encoding, a larger file", quick(path), "polars", peers.polars, 1 / 1.2, 3, process_time
        ),
        Figure("convert a log, in copies of its columns", lambda: copies(path), None, "x"),
        Race(
            f"{UNITS} logs of {LONG_ROWS // 10**6} million rows by two processes",
            lambda: converted(long, workers=2),
            "polars",
            Peers(long, made).polars,
            1 / 1.2,
            3,
        ),
        Race(by_two, lambda: converted(logs, workers=2), "by one", lambda: converted(logs), 1.0, 3),
        Race(
            "a CSV file by two processes",
            lambda: converted([text], workers=2),
            "by one",
            lambda: converted([text]),
            1.0,
            3,
        ),
        Race(f"{UNITS} logs by two workers of a scheduler", two, "by one", one, 1 / 1.5, 3),
        Race("levels in random order", either, "the same sorted", alike, 1.1, 41, process_time),
        Figure("memory of a conversion", lambda: peak_MB([path], 1), 500.0, "MB"),
        Figure("memory of a conversion by two processes, together", lambda: peak_MB([path], 2), 500.0, "MB"),
    ]
