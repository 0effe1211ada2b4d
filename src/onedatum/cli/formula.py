"""`onedatum formula`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import of_faults
from onedatum.cli.output import printable, say_faults, say_json
from onedatum.foundation.working import entry_text
from onedatum.jobs.formula import describe, formulas, work, worked_json


@click.command("formula")
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1, metavar="[KEY=QUANTITY]...")
@click.option("--list", "list_all", is_flag=True, help="List every formula with its text and source.")
@click.option("--case", type=click.Path(path_type=Path), help="A case whose numbers can be put in as KEY=@NAME.")
@click.option("--unit", default="", help='Unit to show the result in, such as "inH2O(60 degF)".')
@click.option("--json", "as_data", is_flag=True, help="Print the result as JSON.")
def command(
    name: str | None, inputs: tuple[str, ...], list_all: bool, case: Path | None, unit: str, as_data: bool
) -> None:
    """Work one formula alone, or describe it when no input is given.

    Example: onedatum formula loop.current level="1.85 m" lower_range_value="0.1 m" upper_range_value="2.8 m"
    """
    if list_all or name is None:
        click.echo("\n\n".join(describe(tag) for tag in formulas().values()))
        return
    if not inputs and not case and name in formulas():
        click.echo(describe(formulas()[name]))
        return
    worked = work(name, inputs, case, unit)
    if as_data:
        say_json(worked_json(worked))
    else:
        say_faults(worked.faults)
        if worked.entry:
            click.echo(printable(entry_text(worked.entry)))
    sys.exit(of_faults(worked.faults))
