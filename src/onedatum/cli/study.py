"""`onedatum study`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT, gravest, of_study
from onedatum.cli.output import printable, say_json, say_no_case
from onedatum.cli.summary import summary
from onedatum.foundation.constants import VERSION
from onedatum.foundation.units import hint
from onedatum.jobs.cases import cases_of
from onedatum.jobs.examine import examine
from onedatum.study.form import as_json


@click.command("study")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--json", "as_data", is_flag=True, help="Print the whole result as JSON.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something blocks the order or waits for answers.")
@click.option("--show", "entry", metavar="NAME", help="Show one number of the sheet with its whole working.")
def command(case: Path, as_data: bool, strict: bool, entry: str | None) -> None:
    """Work CASE, a file or a folder of cases: findings that block first, then the numbers."""
    studies = [examine(path) for path in cases_of(case)]
    if as_data:
        forms = [as_json(study, VERSION) for study in studies]
        say_json(forms if case.is_dir() else forms[0])
    else:
        for study in studies:
            if entry is None:
                click.echo(printable("\n".join(summary(study))))
            elif entry in study.sheet:
                click.echo(printable(study.show(entry)))
            else:
                near = hint(entry, study.entries)
                click.echo(f"no number {entry!r} on the sheet." + (f" {near}." if near else ""), err=True)
                sys.exit(BAD_INPUT)
        if not studies:
            say_no_case(case)
    sys.exit(gravest(of_study(study, strict) for study in studies))
