"""`onedatum prove causes`: which part may be wrong, by a file of readings or by one row in the options."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from onedatum.cli.exits import BAD_INPUT, of_faults
from onedatum.cli.output import printable, say_faults, say_json, say_written
from onedatum.foundation.errors import CaseError, OnedatumError, ProvingError

if TYPE_CHECKING:
    from onedatum.jobs.causes.asked import Asked
    from onedatum.proving.causes import Row

READ = {
    "dip": 'Level by the dip, from the datum of the case, such as "1.350 m".',
    "current": 'By a milliammeter in series, such as "11.52 mA".',
    "voltage": 'On the test resistor, such as "115.2 mV".',
    "supply": 'At the terminals of the transmitter, such as "17.1 V".',
    "temperature": 'Of the liquid, such as "18 degC".',
    "shown": 'Level that the receiver shows, such as "1342 mm".',
    "volume": 'Volume that the receiver shows, such as "2.31 m3".',
    "direction": "How the level came there: up from below, down from above.",
}
"""Options of one row."""


def read_options(function: Any) -> Any:
    """The options of one row."""
    for name, words in reversed(READ.items()):
        function = click.option(f"--{name}", name, default="", help=words)(function)
    return function


@contextmanager
def told() -> Iterator[None]:
    """Say what is wrong as sentences, and end."""
    try:
        yield
    except (CaseError, ProvingError) as error:
        say_faults(error.faults)
        sys.exit(BAD_INPUT)
    except OnedatumError as error:
        click.echo(printable(str(error)), err=True)
        sys.exit(BAD_INPUT)


@click.command("causes")
@click.argument("case", type=click.Path(path_type=Path))
@click.argument("readings", metavar="[READINGS.csv]", required=False, type=click.Path(path_type=Path))
@read_options
@click.option("--recent", default="", metavar="WORDS", help='A recent change, such as "new product, cable".')
@click.option("--priors", type=click.Path(path_type=Path), help="Table of priors of your own, in JSON.")
@click.option("--form", type=click.Path(path_type=Path), metavar="FILE", help="Write the empty form and do no more.")
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write PDF, text and JSON into.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def command(
    case: Path,
    readings: Path | None,
    recent: str,
    priors: Path | None,
    form: Path | None,
    out: Path | None,
    as_json: bool,
    **read: str,
) -> None:
    """Which part may be wrong where dip and meter of CASE disagree: ranked explanations, never a finding.

    Readings come from a file of lines, whose empty form --form writes, or as one row from the options.
    """
    from onedatum.jobs.causes.found import ranked
    from onedatum.jobs.causes.told import causes_json, causes_text, write_causes
    from onedatum.jobs.examine import examine

    with told():
        if form is not None:
            _write_form(case, form, any((readings, *read.values())))
            return
        asked = _asked(readings, read, recent, priors)
        study = examine(case)
        say_faults(study.faults)
        found = ranked(study, asked)
        if as_json:
            say_json(causes_json(found))
        else:
            click.echo(printable(causes_text(found)), nl=False)
        say_written(write_causes(found, case, out) if out is not None else (), as_json)
    sys.exit(of_faults(study.faults))


def _write_form(case: Path, form: Path, has_more: bool) -> None:
    from onedatum.jobs.causes.asked import form_of
    from onedatum.jobs.examine import examine
    from onedatum.jobs.write import write_new

    if has_more:
        raise click.UsageError("--form writes the empty form alone; leave the readings away.")
    content = form_of(examine(case))
    write_new(form, content)
    click.echo(f"written: {form}")


def _asked(readings: Path | None, read: dict[str, str], recent: str, priors: Path | None) -> Asked:
    """What is asked, from a file or from the options."""
    from onedatum.jobs.causes.asked import Asked, read_priors_file

    rows = _rows(readings, read)
    own = None if priors is None else read_priors_file(priors)
    return Asked(rows, recent, own, "" if priors is None else priors.name)


def _rows(readings: Path | None, read: dict[str, str]) -> tuple[Row, ...]:
    from onedatum.jobs.causes.asked import read_rows_file, row_of

    given = [name for name, text in read.items() if text.strip()]
    if readings is not None and given:
        raise click.UsageError(f"Give a file or one row: {', '.join(f'--{name}' for name in given)} goes with no file.")
    if readings is not None:
        return read_rows_file(readings)
    if not given:
        raise click.UsageError("Give a file of readings, or one row such as --dip and --current; --form writes a form.")
    try:
        return (row_of(read),)
    except CaseError as error:
        raise CaseError([replace(fault, path=f"--{fault.path}") for fault in error.faults]) from None
