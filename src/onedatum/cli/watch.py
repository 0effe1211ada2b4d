"""`onedatum watch`."""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click

from onedatum.cli.exits import BAD_INPUT, DONE, gravest
from onedatum.cli.options import RECORDS
from onedatum.cli.output import printable, say_faults
from onedatum.foundation.errors import CaseError, Fault, LogError, OutputError, QuantityError, StoreError

if TYPE_CHECKING:
    from onedatum.jobs.watch.run import Looked, Outcome, Sampled
    from onedatum.jobs.watch.told import Status
    from onedatum.logs.live.follower import View

CLEARED = "\x1b[H\x1b[J"
"""Home, and nothing below it."""
LEAST_PART_s, MOST_PART_s = 1.0, 3600.0


@click.command("watch")
@click.argument("plan", metavar="WATCH.yaml", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Folder to keep the rows in, or to go on in.")
@click.option("--for", "for_", metavar="TIME", help='End by itself after so long, such as "10 min".')
@click.option("--part", metavar="TIME", default="1 min", show_default=True, help="How often rows go to the disk.")
@click.option("--json", "as_json", is_flag=True, help="Print every sample as a line of JSON.")
@click.option("--records", envvar=RECORDS, default="", help=f"Note begin and end in these records (or {RECORDS}).")
def command(plan: Path, out: Path | None, for_: str | None, part: str, as_json: bool, records: str) -> None:
    """Read levels live and show them: Modbus, OPC UA, HART; nothing is ever written to a device.

    WATCH.yaml names tags, cases and devices; docs/watch.md shows it. A value that is old is shown as stale, one that
    cannot be right as unknown. Ctrl+C ends it.
    """
    from onedatum.jobs.watch import CAUTION, ready

    lacking = ready()
    spans = _span("--for", for_, 0.0, float("inf")), _span("--part", part, LEAST_PART_s, MOST_PART_s)
    wrong = [each for each in (lacking, *spans) if isinstance(each, Fault)]
    if wrong:
        say_faults(wrong)
        sys.exit(BAD_INPUT)
    for_s, part_s = (each if isinstance(each, float) else None for each in spans)
    from onedatum.jobs.convert.lean import leave_pandas_out
    from onedatum.jobs.watch.made import followed, ports
    from onedatum.jobs.watch.run import Asked, run
    from onedatum.logs.live.plan_reader import read_plan

    leave_pandas_out()
    try:
        read = read_plan(plan)
        made = followed(read)
        say_faults(made.faults)
        for remark in made.remarks:
            click.echo(printable(remark), err=True)
        click.echo(CAUTION, err=True)
        asked = Asked(out, part_s or LEAST_PART_s, for_s, records=records)
        found = run(read, made, asked, ports(read), *_shown(as_json))
    except (LogError, CaseError) as error:
        say_faults(error.faults)
        sys.exit(BAD_INPUT)
    except (OutputError, StoreError) as error:
        click.echo(printable(str(error)), err=True)
        sys.exit(BAD_INPUT)
    click.echo(printable(_said(found)), err=True)
    if found.unshown is not None:
        _let_go_of_output()
    sys.exit(gravest([BAD_INPUT if found.trouble or found.unshown or made.faults else DONE]))


def _let_go_of_output() -> None:
    """What is still held for a reader that is gone would be tried once more at the end, and complained of."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _shown(as_json: bool) -> tuple[Sampled, Looked]:
    """What samples and looks print: JSON, a table that is drawn again on a terminal, else a line for each change."""
    from onedatum.jobs.watch.told import change_key, change_line, table_text, time_text, view_json

    before: dict[str, tuple[str, str]] = {}
    noted: set[str] = set()

    def sampled(view: View, now_us: int) -> None:
        if as_json:
            click.echo(json.dumps(view_json(view, now_us), ensure_ascii=False, allow_nan=False))

    def looked(views: Sequence[View], status: Status) -> None:
        if sys.stdout is not None and sys.stdout.isatty() and not as_json:
            click.echo(CLEARED + printable(table_text(views, status)), nl=False)
            return
        said = {re.sub(r"\d+", "", each): each for each in status.notes}
        for key in said.keys() - noted:
            click.echo(printable(f"{time_text(status.now_us)} {said[key]}"), err=True)
        noted.clear()
        noted.update(said)
        for view in () if as_json else views:
            if before.get(view.tag) != change_key(view):
                before[view.tag] = change_key(view)
                click.echo(printable(change_line(view, status.now_us)))

    return sampled, looked


def _said(found: Outcome) -> str:
    """What came of the watch."""
    kept = f"; {found.tally.rows} rows kept in {found.tally.parts} parts" if found.tally is not None else ""
    trouble = f"\n{found.trouble}" if found.trouble else ""
    ended = found.unshown.strerror or str(found.unshown) if found.unshown is not None else ""
    gone = f"\nThe watch has ended, as what it shows cannot be written any more: {ended}." if ended else ""
    number = "1 sample" if found.samples == 1 else f"{found.samples} samples"
    return f"{number}, {found.levels} with a level{kept}{trouble}{gone}"


def _span(name: str, text: str | None, least_s: float, most_s: float) -> float | Fault | None:
    """A time as typed; `10min` is read like `10 min`."""
    from onedatum.foundation.units import read_quantity

    if text is None:
        return None
    digits = len(text) - len(text.lstrip("0123456789."))
    spelt = text if " " in text or not digits else f"{text[:digits]} {text[digits:]}"
    try:
        found = read_quantity(spelt, "time")
    except QuantityError as error:
        return Fault(name, error.allowed, error.got, error.why, remedy=error.remedy)
    if not least_s <= found <= most_s or found <= 0.0:
        allowed = "above 0" if most_s == float("inf") else f"from {least_s:g} s to {most_s:g} s"
        return Fault(name, allowed, repr(text))
    return found
