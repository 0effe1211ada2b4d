"""`onedatum convert`."""

from __future__ import annotations

import sys
from pathlib import Path
from time import monotonic

import click

from onedatum.cli.exits import BAD_INPUT, DONE, NOT_CLEAR, gravest
from onedatum.cli.output import printable, say_faults, say_json
from onedatum.foundation.errors import Fault, LogError, OutputError

EVERY_S = 0.2
WIDE = 78


class Meter:
    """The progress of a run on the error stream, where that is a terminal: rows, rate, time left."""

    def __init__(self) -> None:
        self.begin = self.last = monotonic()
        self.shown = sys.stderr.isatty()

    def __call__(self, rows: int, share: float) -> None:
        """Say how far it is."""
        now = monotonic()
        if not self.shown or now - self.last < EVERY_S:
            return
        self.last = now
        click.echo(f"\r{progress_line(rows, share, now - self.begin):<{WIDE}}", nl=False, err=True)

    def end(self) -> None:
        """Leave the line empty."""
        if self.shown:
            click.echo(f"\r{'':<{WIDE}}\r", nl=False, err=True)


def progress_line(rows: int, share: float, spent_s: float) -> str:
    """How far a run is, how fast, and how long it will still take at that rate."""
    rate = f"{rows / spent_s:,.0f} rows/s" if spent_s > 0.0 else ""
    left_s = round(spent_s * (1.0 - share) / share) if share > 0.0 else None
    left = "" if left_s is None else f", {left_s // 3600}:{left_s // 60 % 60:02}:{left_s % 60:02} left"
    return f"{share:4.0%} {rows:,} rows, {rate}{left}"[:WIDE]


def _lacking(case: Path | None, cases: Path | None, workers: int, scheduler: str) -> Fault | None:
    """What was not asked for as it must be, or is not installed; the first of it."""
    from onedatum.jobs.convert import ready

    lacking = ready()
    if lacking is None and (case is None) == (cases is None):
        lacking = Fault("--case", "given, or --cases in its place", "neither" if case is None else "both")
    if lacking is None and scheduler and workers > 1:
        lacking = Fault("--workers", "given without --scheduler", "both", "the workers are those of the scheduler")
    if lacking is None and scheduler:
        from onedatum.jobs.convert.engines.scheduler import ready as dask_ready

        lacking = dask_ready()
    return lacking


@click.command("convert")
@click.argument("logs", nargs=-1, required=True, metavar="LOG...", type=click.Path(path_type=Path))
@click.option("--case", type=click.Path(path_type=Path), help="The case that all rows belong to.")
@click.option("--cases", type=click.Path(path_type=Path), help="Folder of cases; the column of tags says which.")
@click.option(
    "--map", "mapping", type=click.Path(path_type=Path), help="Which column says what; docs/logs.md shows it."
)
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write into, or to go on in.")
@click.option("--csv", "as_csv", is_flag=True, help="Write one CSV file in place of a folder of Parquet files.")
@click.option("--workers", type=click.IntRange(1, 256), default=1, show_default=True, help="Processes of this machine.")
@click.option(
    "--scheduler", default="", help="Address of a dask scheduler, as tcp://host:port: its workers do the work."
)
@click.option("--strict", is_flag=True, help="End with 1 where a row was set aside.")
@click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON.")
def command(
    logs: tuple[Path, ...],
    case: Path | None,
    cases: Path | None,
    mapping: Path | None,
    out: Path,
    as_csv: bool,
    workers: int,
    scheduler: str,
    strict: bool,
    as_json: bool,
) -> None:
    """Convert level logs to level, volume, mass and alcohol with their uncertainty.

    Logs are CSV or Parquet, with levels, currents, voltages, per cents of the span or counts. Nothing is filled in:
    a row that cannot be read is set aside with its reason. A run that was stopped goes on when it is called again.
    """
    lacking = _lacking(case, cases, workers, scheduler)
    if lacking is not None:
        say_faults([lacking])
        sys.exit(BAD_INPUT)
    from onedatum.jobs.convert.lean import leave_pandas_out
    from onedatum.jobs.convert.parts import SUMMARY
    from onedatum.jobs.convert.run import Asked, run
    from onedatum.jobs.convert.told import summary_json, summary_text
    from onedatum.jobs.write import write_json

    leave_pandas_out()
    meter = Meter()
    try:
        found = run(Asked(logs, case, cases, mapping, out, as_csv, workers, scheduler), meter)
        meter.end()
        write_json(out / SUMMARY, summary_json(found))
    except LogError as error:
        say_faults(error.faults)
        sys.exit(BAD_INPUT)
    except OutputError as error:
        click.echo(printable(str(error)), err=True)
        sys.exit(BAD_INPUT)
    say_faults(found.faults)
    if as_json:
        say_json(summary_json(found))
    else:
        click.echo(printable(summary_text(found)), nl=False)
    sys.exit(gravest([BAD_INPUT if found.faults else DONE, NOT_CLEAR if strict and found.tally.rejected else DONE]))
