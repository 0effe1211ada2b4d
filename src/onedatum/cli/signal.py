"""`onedatum signal`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT, of_faults
from onedatum.cli.output import printable, say_faults, say_json
from onedatum.foundation.errors import Fault
from onedatum.jobs.signal import (
    expected,
    forecast_lines,
    signal_at,
    signal_json,
    signal_of_difference,
    signal_remarks,
    signal_text,
    signal_word,
)
from onedatum.study.cautions import DEFERENCE


@click.command("signal")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--level", metavar="QUANTITY", help='The level over the datum, such as "1.850 m".')
@click.option(
    "--pressure", metavar="QUANTITY", help='In place of the level: the difference on the legs, such as "-4.02 kPa".'
)
@click.option("--rate", metavar="QUANTITY", help='Filling rate now for a forecast, such as "12 m3/h".')
@click.option("--at", "clock", metavar="HH:MM", help="Time of day of that level, so that the forecast tells times.")
@click.option("--json", "as_data", is_flag=True, help="Print the signal as JSON.")
def command(
    case: Path, level: str | None, pressure: str | None, rate: str | None, clock: str | None, as_data: bool
) -> None:
    """The signal to expect from CASE when the level stands at --level, or its legs feel --pressure."""
    if (level is None) == (pressure is None):
        raise click.UsageError("Give --level or --pressure, one of them.")
    if pressure is not None and (rate is not None or clock is not None):
        raise click.UsageError("--rate and --at go with --level.")
    found = signal_at(case, level, rate, clock) if level is not None else signal_of_difference(case, pressure or "")
    if isinstance(found, Fault):
        say_faults([found])
        sys.exit(BAD_INPUT)
    if as_data:
        say_json(signal_json(found))
    else:
        say_faults(found.faults)
        for name in expected(found):
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
