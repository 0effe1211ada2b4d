"""`onedatum study`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from onedatum.cli.choosing import NOT_JUDGED, principle_lines
from onedatum.cli.exits import BAD_INPUT, gravest, of_study
from onedatum.cli.output import printable, say_faults, say_json, say_no_case
from onedatum.cli.summary import summary
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.units import hint
from onedatum.jobs.cases import cases_of
from onedatum.jobs.examine import examine
from onedatum.study.choosing.form import principle_json
from onedatum.study.form import as_json
from onedatum.study.result import Study
from onedatum.verdicts.rules import known_principle, rule_base


@click.command("study")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--json", "as_data", is_flag=True, help="Print the whole result as JSON.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something blocks the order or waits for answers.")
@click.option("--show", "entry", metavar="NAME", help="Show one number of the sheet with its whole working.")
@click.option("--principle", metavar="NAME", help="Show the whole reasoning on one principle.")
@click.option("--against", "old", type=click.Path(path_type=Path), metavar="OLD", help="Show what changed since OLD.")
def command(
    case: Path, as_data: bool, strict: bool, entry: str | None, principle: str | None, old: Path | None
) -> None:
    """Work CASE, a file or a folder of cases: findings that block first, then the numbers."""
    if sum(each is not None for each in (entry, principle, old)) > 1:
        raise click.UsageError("--show, --principle and --against each show one thing: give one of them.")
    if old is not None:
        sys.exit(_against(case, old, as_data, strict))
    studies = [examine(path) for path in cases_of(case)]
    if principle is not None:
        _principle(studies, principle, as_data, case.is_dir())
    elif as_data:
        forms = [as_json(study, VERSION) for study in studies]
        say_json(forms if case.is_dir() else forms[0])
    else:
        for study in studies:
            _one(study, entry)
    if not studies and not as_data:
        say_no_case(case)
    sys.exit(gravest(of_study(study, strict) for study in studies))


def _one(study: Study, entry: str | None) -> None:
    """The summary of one study, or one number of its sheet."""
    if entry is None:
        click.echo(printable("\n".join(summary(study))))
    elif entry in study.shown:
        click.echo(printable(study.show(entry)))
    else:
        near = hint(entry, study.shown)
        _refuse(f"no number {entry!r} on the sheet." + (f" {near}." if near else ""))


def _principle(studies: Sequence[Study], name: str, as_data: bool, folder: bool) -> None:
    """The whole reasoning on one principle, for every case."""
    try:
        known_principle(rule_base(), name)
    except OnedatumError as error:
        _refuse(f"{str(error).rstrip('.')}.")
    judged = [study for study in studies if study.choosing is not None]
    for study in studies:
        say_faults(study.faults)
        if study.choosing is None:
            click.echo(f"{study.statement.file}: {NOT_JUDGED}", err=True)
    if studies and not judged:
        sys.exit(BAD_INPUT)
    told = [(study, study.choosing) for study in judged if study.choosing is not None]
    if as_data:
        forms = [principle_json(study, choosing, name) for study, choosing in told]
        say_json(forms if folder else forms[0])
    else:
        for study, choosing in told:
            click.echo(printable("\n".join(principle_lines(study, choosing, name))))


def _against(case: Path, old: Path, as_data: bool, strict: bool) -> int:
    """What changed from one file to another; the faults of both are told, and their healthy parts compared."""
    from onedatum.cli.compare import comparison_lines
    from onedatum.jobs.compare import compare_cases, compared_json

    for path in (case, old):
        if path.is_dir():
            _refuse(f"{path} must be one case file; got a folder. --against compares two cases.")
    compared = compare_cases(case, old)
    for study in (compared.new, compared.old):
        say_faults(study.faults)
    if as_data:
        say_json(compared_json(compared))
    else:
        click.echo(printable("\n".join(comparison_lines(compared))))
    return gravest((of_study(compared.new, strict), of_study(compared.old, strict=False)))


def _refuse(words: str) -> None:
    """What is wrong with the call, on the error stream."""
    click.echo(printable(words), err=True)
    sys.exit(BAD_INPUT)
