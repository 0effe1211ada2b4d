"""`onedatum document`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT, gravest, of_study
from onedatum.cli.output import say_faults, say_no_case, say_written
from onedatum.foundation.errors import OutputError
from onedatum.jobs.cases import cases_of
from onedatum.jobs.document import document


@click.command("document")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder the papers are written into.")
def command(case: Path, out: Path) -> None:
    """Write the papers of CASE, a file or a folder of cases: a PDF and the result as JSON."""
    codes, taken = [], set[str]()
    for path in cases_of(case):
        try:
            papers = document(path, out, taken)
        except OutputError as error:
            click.echo(str(error), err=True)
            sys.exit(BAD_INPUT)
        say_faults(papers.study.faults)
        say_written(papers.files)
        codes.append(of_study(papers.study, strict=False))
    if not codes:
        say_no_case(case)
    sys.exit(gravest(codes))
