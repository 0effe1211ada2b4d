"""`onedatum check`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.case.reading import read_case
from onedatum.cli.exits import gravest, of_faults
from onedatum.cli.output import say_faults, say_json, say_no_case
from onedatum.foundation.wording import counted
from onedatum.jobs.cases import cases_of, left_out
from onedatum.jobs.check import faults_of
from onedatum.study.form import fault_json


@click.command("check")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--json", "as_data", is_flag=True, help="Print the faults as JSON.")
def command(case: Path, as_data: bool) -> None:
    """Read CASE, a file or a folder of cases, and name every fault with its place and the remedy."""
    read = [(each.file, faults_of(each)) for each in map(read_case, cases_of(case))]
    if as_data:
        say_json([{"file": file, "faults": [fault_json(fault) for fault in faults]} for file, faults in read])
    else:
        for name, faults in read:
            say_faults(faults)
            count = len(faults)
            click.echo(f"{name}: {counted(count, 'fault') if count else 'no fault'}")
        for file in left_out(case):
            click.echo(f"{file}: left out, no line onedatum: 1 (own data, or not a case)")
        if not read:
            say_no_case(case)
    sys.exit(gravest(of_faults(faults) for _, faults in read))
