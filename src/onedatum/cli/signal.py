"""`onedatum signal`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import of_faults
from onedatum.cli.output import printable, say_faults, say_json
from onedatum.jobs.signal import (
    EXPECTED,
    forecast_lines,
    signal_at,
    signal_json,
    signal_remarks,
    signal_text,
    signal_word,
)
from onedatum.study.cautions import DEFERENCE


@click.command("signal")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--level", required=True, metavar="QUANTITY", help='The level over the datum, such as "1.850 m".')
@click.option("--rate", metavar="QUANTITY", help='Filling rate now for a forecast, such as "12 m3/h".')
@click.option("--at", "clock", metavar="HH:MM", help="Time of day of that level, so that the forecast tells times.")
@click.option("--json", "as_data", is_flag=True, help="Print the signal as JSON.")
def command(case: Path, level: str, rate: str | None, clock: str | None, as_data: bool) -> None:
    """The signal to expect from CASE when the level stands at --level."""
    found = signal_at(case, level, rate, clock)
    if as_data:
        say_json(signal_json(found))
    else:
        say_faults(found.faults)
        for name in EXPECTED:
            if name in found.sheet:
                entry = found.sheet[name]
                click.echo(printable(f"{signal_text(found, name):>20}  {entry.meaning}"))
        click.echo(printable(f"the current tells: {signal_word(found)}"))
        for line in forecast_lines(found):
            click.echo(line)
        for remark in signal_remarks(found):
            click.echo(f"note: {remark}")
        click.echo(DEFERENCE)
        click.echo("Read the current on the test resistor without opening the loop; mind the rules of the zone.")
    sys.exit(of_faults(found.faults))
