"""`onedatum table`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT, gravest, of_study
from onedatum.cli.output import say_faults, say_json, say_no_case, say_passed_over, say_written
from onedatum.foundation.errors import Fault, OutputError
from onedatum.jobs.cases import cases_of
from onedatum.jobs.table import step_of, table, table_json, write_table
from onedatum.paper.table.as_text import table_text


@click.command("table")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--step", help='Distance of the rows, for instance "10 mm"; else table.step of the case.')
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write text, CSV, XLSX, PDF and JSON into.")
@click.option("--json", "as_data", is_flag=True, help="The table as JSON, in SI and unrounded.")
def command(case: Path, step: str | None, out: Path | None, as_data: bool) -> None:
    """The tank table of CASE, a file or a folder of cases: rows, interpolation error, conditions."""
    step_m = step_of(step)
    if isinstance(step_m, Fault):
        say_faults((step_m,))
        sys.exit(BAD_INPUT)
    codes, data, taken = [], [], set[str]()
    for path in cases_of(case):
        made = table(path, step_m)
        if made.study.vessel is None and case.is_dir():
            say_passed_over(path, "no table, the level alone is wanted")
            codes.append(of_study(made.study, strict=False))
            continue
        say_faults(made.study.faults if made.fault is None else (*made.study.faults, made.fault))
        codes.append(BAD_INPUT if made.fault is not None else of_study(made.study, strict=False))
        if as_data:
            data.append(table_json(made))
        if made.fault is not None:
            continue
        if out is not None:
            try:
                say_written(write_table(made, path, out, taken), as_data)
            except OutputError as error:
                click.echo(str(error), err=True)
                sys.exit(BAD_INPUT)
        elif not as_data and made.paper is not None:
            click.echo(table_text(made.paper), nl=False)
    if not codes:
        say_no_case(case)
    if as_data:
        say_json(data if case.is_dir() else data[0])
    sys.exit(gravest(codes))
