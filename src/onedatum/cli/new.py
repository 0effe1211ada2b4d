"""`onedatum new`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT
from onedatum.foundation.errors import OutputError
from onedatum.jobs.new import new_case


@click.command("new")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--schema", is_flag=True, help="Also write the JSON Schema, for editors that check while you type.")
def command(case: Path, schema: bool) -> None:
    """Start a case: write a commented skeleton to CASE.

    Every value reads `unknown`; overwrite what you know. A file that exists is never overwritten.
    """
    try:
        files = new_case(case, schema)
    except OutputError as error:
        click.echo(str(error), err=True)
        sys.exit(BAD_INPUT)
    for file in files:
        click.echo(f"written: {file}")
    click.echo(f"next: onedatum study {case}")
