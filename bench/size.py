"""One conversion of as many rows as are named, once: `python -m bench.size 200000000 --workers 2`.

Prints time, rate, greatest memory and sizes, and what a thousand million rows would take at that rate.
"""

from __future__ import annotations

import resource
import shutil
import sys
from pathlib import Path
from tempfile import mkdtemp
from time import perf_counter

import click
import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from bench.logs import CASE, MAP
from onedatum.jobs.convert.run import Asked, run

GROUP = 1_000_000
LARGE = 1_000_000_000


def log(folder: Path, rows: int) -> Path:
    """A row a second, written row group by row group; the noise of one group serves all."""
    (folder / "map.yaml").write_text(MAP, encoding="utf-8")
    noise = np.random.default_rng(20260301).normal(0, 1, GROUP)
    kind = pa.timestamp("us", "UTC")
    schema = pa.schema([("time", kind), ("level", pa.float64())])
    with pq.ParquetWriter(folder / "log.parquet", schema, compression="zstd") as file:
        for first in range(0, rows, GROUP):
            at = np.arange(first, min(first + GROUP, rows))
            level = np.round(1450 + 1200 * np.sin(at / 50_000) + np.roll(noise, first // GROUP)[: len(at)], 1)
            time = pa.array(at * 1_000_000 - 3_000_000_000_000_000).cast(kind)
            file.write_table(pa.table({"time": time, "level": level}, schema))
    return folder / "log.parquet"


@click.command()
@click.argument("rows", type=click.IntRange(min=1))
@click.option("--workers", type=click.IntRange(1), default=1)
@click.option("--folder", type=click.Path(path_type=Path), help="Where there is room; 30 bytes for each row.")
def main(rows: int, workers: int, folder: Path | None) -> None:
    """Convert so many rows and say what it took."""
    place = Path(mkdtemp(dir=folder))
    try:
        path = log(place, rows)
        begin = perf_counter()
        found = run(Asked((path,), CASE, None, place / "map.yaml", place / "out", workers=workers), lambda *_: None)
        took_s = perf_counter() - begin
        size = sum(each.stat().st_size for each in (place / "out" / "parts").iterdir())
        own, theirs = (resource.getrusage(who).ru_maxrss / 1e3 for who in (0, resource.RUSAGE_CHILDREN))
        processor_s = sum(sum(resource.getrusage(who)[:2]) for who in (0, resource.RUSAGE_CHILDREN))
        print(f"{found.tally.converted} of {rows} rows in {took_s:.1f} s, {rows / took_s:.3g} rows/s", end=", ")
        print(f"{workers} processes, {processor_s:.0f} s of processor with the writing of the log")
        print(f"greatest memory {own:.0f} MB of the run, {theirs:.0f} MB of a process it started")
        print(f"read {path.stat().st_size / rows:.1f} B/row, wrote {size / rows:.1f} B/row")
        share = LARGE / rows
        print(f"{LARGE:.0e} rows: {share:g} x {took_s:.1f} s = {share * took_s:.0f} s = {share * took_s / 60:.0f} min,")
        print(f"    {share:g} x {size / 1e9:.2f} GB = {share * size / 1e9:.1f} GB")
    finally:
        shutil.rmtree(place, ignore_errors=True)


if __name__ == "__main__":
    sys.exit(main())
