"""`onedatum quantity`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT, gravest, of_study
from onedatum.cli.output import printable, say_faults, say_json, say_no_case, say_passed_over, say_written
from onedatum.foundation.errors import OutputError
from onedatum.jobs.cases import cases_of
from onedatum.jobs.quantity import quantity, quantity_json, quantity_text, write_quantity
from onedatum.study.monte_carlo import FEWEST, LARGEST, SEED, Chosen


@click.command("quantity")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write the statement into, as PDF and JSON.")
@click.option("--json", "as_data", is_flag=True, help="The statement as JSON, in SI and unrounded.")
@click.option("--linear", is_flag=True, help="The linear budget alone, without Monte Carlo.")
@click.option(
    "--trials",
    type=click.IntRange(FEWEST, LARGEST),
    help="Number of Monte Carlo trials; else as many as the figures need to settle (JCGM 101, 7.9).",
)
@click.option("--seed", type=click.IntRange(0, 2**32 - 1), default=SEED, show_default=True, help="Seed of the draws.")
@click.option(
    "--sobol",
    is_flag=True,
    help="Evenly spread points in place of random ones: for the standard uncertainty and the symmetric interval only.",
)
def command(
    case: Path, out: Path | None, as_data: bool, linear: bool, trials: int | None, seed: int, sobol: bool
) -> None:
    """The quantity statement of CASE, a file or a folder of cases, with its uncertainty."""
    if sobol and (trials is not None or linear):
        raise click.UsageError("--sobol sets the number of points itself: leave --trials and --linear away.")
    chosen = None if linear else Chosen(trials, seed, sobol)
    codes, data, taken = [], [], set[str]()
    for path in cases_of(case):
        made = quantity(path, chosen)
        if made.study.quantity is None and case.is_dir():
            say_passed_over(path, "no quantity, the level alone is wanted")
            codes.append(of_study(made.study, strict=False))
            continue
        faults = made.study.faults if made.fault is None else (*made.study.faults, made.fault)
        say_faults(faults)
        codes.append(gravest([of_study(made.study, strict=False), BAD_INPUT if made.fault is not None else 0]))
        if made.study.quantity is None:
            continue
        if as_data:
            data.append(quantity_json(made))
        elif out is None:
            click.echo(printable(quantity_text(made)), nl=False)
        if out is not None:
            try:
                say_written(write_quantity(made, path, out, taken), as_data)
            except OutputError as error:
                click.echo(str(error), err=True)
                sys.exit(BAD_INPUT)
    if not codes:
        say_no_case(case)
    if as_data and (data or case.is_dir()):
        say_json(data if case.is_dir() else data[0])
    sys.exit(gravest(codes))
