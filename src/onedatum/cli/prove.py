"""`onedatum prove`: a group of its own, whose commands load what they need when they are called."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from onedatum.cli import causes
from onedatum.cli.exits import BAD_INPUT, DONE, NOT_CLEAR
from onedatum.cli.options import RECORDS as ENVIRONMENT
from onedatum.cli.output import printable, say_faults, say_json, say_written
from onedatum.foundation.errors import OnedatumError, ProvingError, StoreError
from onedatum.foundation.wording import counted

if TYPE_CHECKING:
    from onedatum.jobs.proving.keep import Kept

TEXTS: Mapping[str, str] = {
    "when": "Begin of the run with its offset, such as 2026-11-20T08:00+00:00; else the first time among the readings.",
    "reference": "What the levels were compared with, by its name in the works.",
    "reference_certificate": "Its certificate.",
    "reference_u": 'Its expanded uncertainty, such as "1.0 mm".',
    "reference_digit": 'The digit it was read to, such as "1 mm".',
    "meter": "What the loop current was read with.",
    "meter_certificate": "Its certificate.",
    "meter_u": 'Its expanded uncertainty, such as "4 uA".',
    "meter_digit": 'The digit it was read to, such as "1 uA".',
    "shown_digit": "The digit of the level that the instrument shows.",
    "temperature": 'Of the surroundings, such as "14 degC".',
    "surroundings": "Other words on the surroundings.",
    "tank_stated": "Reference height of the tank by its table.",
    "tank_found": "Reference height of the tank found with the tape.",
    "remark": "What else is to be kept.",
    "checked_by": "Who checked.",
    "trims": "Trims and adjustments made.",
}
Command = Callable[..., Any]
records_option = click.option(
    "--records",
    envvar=ENVIRONMENT,
    help=f"File or PostgreSQL URL of the records (or {ENVIRONMENT}); else beside the case.",
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
strict_option = click.option("--strict", is_flag=True, help="End with 1 where the result is not clear.")
here_option = click.option(
    "--records",
    envvar=ENVIRONMENT,
    default="records.sqlite",
    show_default=True,
    help=f"File or PostgreSQL URL of the records (or {ENVIRONMENT}).",
)


@click.group("prove", context_settings={"help_option_names": ["-h", "--help"]})
def command() -> None:
    """Calibrations: plan, record, certificate, history, what is due next.

    Records are kept for good, each chained to the one before it; docs/proving.md tells how they are judged.
    """


command.add_command(causes.command)


def plan_options(function: Command) -> Command:
    """The options of a plan."""
    for option in (
        click.option("--on-bench", is_flag=True, help="The tank is not filled: alarms do not limit the points."),
        click.option("--tolerance", default="", help='Error allowed on both sides, such as "10 mm"; else of the case.'),
        click.option("--upwards-only", is_flag=True, help="Without the way down; hysteresis is then not judged."),
        click.option("--cycles", type=click.IntRange(1, 10), default=3, show_default=True, help="Cycles."),
        click.option("--points", type=click.IntRange(2, 21), default=5, show_default=True, help="Points."),
    ):
        function = option(function)
    return function


def entry_options(function: Command) -> Command:
    """The options of what is stated beside the readings."""
    for key, words in reversed(list(TEXTS.items())):
        function = click.option(f"--{key.replace('_', '-')}", key, default="", help=words)(function)
    for key, name in (("reference_k", "reference"), ("meter_k", "meter")):
        words = f"Coverage factor of the {name}."
        function = click.option(f"--{key.replace('_', '-')}", key, default="2", show_default=True, help=words)(function)
    function = click.option("--factor", default="1", show_default=True, help="Guard band over U.")(function)
    rule = "Decision rule, agreed before; non-binary acceptance where none is named."
    return click.option("--rule", default="", help=rule)(function)


@contextmanager
def told() -> Iterator[None]:
    """Say what cannot be done as sentences, and end."""
    from onedatum.jobs.proving.entry import FIELDS, EntryError

    try:
        yield
    except EntryError as error:
        for wrong in error.wrongs:
            option = f"--{wrong.at.replace('_', '-')}: " if wrong.at in FIELDS else ""
            click.echo(printable(f"{option}{wrong.fault}"), err=True)
        sys.exit(BAD_INPUT)
    except ProvingError as error:
        say_faults(error.faults)
        sys.exit(BAD_INPUT)
    except OnedatumError as error:
        click.echo(printable(str(error)), err=True)
        sys.exit(BAD_INPUT)


@command.command("plan")
@click.argument("case", type=click.Path(path_type=Path))
@plan_options
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write text, JSON and the empty form into.")
@json_option
def plan(case: Path, out: Path | None, as_json: bool, **wishes: Any) -> None:
    """The points to read for CASE, in which order, and how good the reference must be."""
    from onedatum.jobs.examine import examine
    from onedatum.jobs.proving.plan import plan_json, plan_of, plan_text, write_plan

    with told():
        found = plan_of(examine(case), _wished(wishes))
        if as_json:
            say_json(plan_json(found))
        else:
            click.echo(printable(plan_text(found)), nl=False)
        say_written(write_plan(found, case, out) if out is not None else (), as_json)


@command.command("record")
@click.argument("case", type=click.Path(path_type=Path))
@click.argument("points_file", metavar="POINTS.csv", type=click.Path(path_type=Path))
@click.option("--as", "kind", type=click.Choice(["found", "left"]), required=True, help="Before or after adjustment.")
@click.option("--plan", "plan_file", type=click.Path(path_type=Path), help="JSON of the plan; else planned anew.")
@click.option("--corrects", type=click.IntRange(1), help="Number of the record that this one puts right.")
@click.option("--reason", default="", help="Why it is corrected.")
@click.option("--who", required=True, help="Who read.")
@entry_options
@plan_options
@records_option
@strict_option
@json_option
def record(
    case: Path,
    kind: str,
    plan_file: Path | None,
    corrects: int | None,
    reason: str,
    records: str | None,
    strict: bool,
    as_json: bool,
    **texts: Any,
) -> None:
    """Judge the readings of POINTS.csv for CASE, say the verdict, and write one record."""
    from onedatum.jobs.examine import examine
    from onedatum.jobs.proving.entry import KINDS
    from onedatum.jobs.proving.plan import plan_of, read_plan, read_points
    from onedatum.jobs.proving.records import Correction, place_beside, record_run
    from onedatum.jobs.proving.told import written_json, written_text

    with told():
        readings = read_points(texts.pop("points_file"))
        wished, study = _wished(texts), examine(case)
        found = plan_of(study, wished) if plan_file is None else read_plan(plan_file)
        correction = None if corrects is None else Correction(corrects, reason)
        where = records or place_beside(case)
        written = record_run(where, study, found, KINDS[kind], texts, readings, correction)
    if as_json:
        say_json(written_json(written))
    else:
        click.echo(printable(written_text(written)), nl=False)
    sys.exit(NOT_CLEAR if strict and written.calibration.judged.verdict != "pass" else DONE)


@command.command("certificate")
@click.argument("case")
@click.option("--record", "number", type=click.IntRange(1), help="Number of a record; else the last visit.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write PDF, XML and JSON into.")
@records_option
@json_option
def certificate(case: str, number: int | None, out: Path, records: str | None, as_json: bool) -> None:
    """The certificate of the last calibration of CASE, a case file or a tag: PDF, XML and JSON."""
    from onedatum.jobs.proving.certificate import write_certificate, written_files_json

    with told():
        tag, where = _tag_and_place(case, records)
        written = write_certificate(where, tag, number, out)
    if as_json:
        say_json(written_files_json(written))
    else:
        click.echo(printable("".join(f"written: {file}\n" for file in written.paths)), nl=False)


@command.command("history")
@click.argument("case")
@click.option("--longest", type=click.FloatRange(1, 36500), metavar="DAYS", help="Longest interval agreed, in days.")
@records_option
@json_option
def history(case: str, longest: float | None, records: str | None, as_json: bool) -> None:
    """Drift, interval and next due date of CASE, a case file or a tag."""
    from onedatum.jobs.proving.past import past_json, past_of, past_text, rule_of
    from onedatum.jobs.proving.records import opened

    with told():
        tag, where = _tag_and_place(case, records)
        with opened(where, existing=True) as store:
            past = past_of(store.by_tag(tag), tag, rule_of(longest))
        if not past.runs:
            raise StoreError("the tag", "one that is recorded", repr(tag), "there is no calibration of it")
    if as_json:
        say_json(past_json(past))
    else:
        click.echo(printable(past_text(past)), nl=False)


@command.command("due")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False, exists=True))
@click.option("--longest", type=click.FloatRange(1, 36500), metavar="DAYS", help="Longest interval agreed, in days.")
@records_option
@strict_option
@json_option
def due(folder: Path, longest: float | None, records: str | None, strict: bool, as_json: bool) -> None:
    """What of FOLDER is to be calibrated next, the soonest first."""
    from onedatum.jobs.proving.past import due_json, due_of, due_text, rule_of

    with told():
        found = due_of(folder, records, rule=rule_of(longest), existing=bool(records))
    if as_json:
        say_json(due_json(found))
    else:
        click.echo(printable(due_text(found)), nl=False)
    sys.exit(NOT_CLEAR if strict and any(each.overdue for each in found) else DONE)


@command.command("verify")
@click.option("--head", "noted", help="A head noted earlier: whether that record is still the same.")
@here_option
@json_option
def verify(noted: str | None, records: str, as_json: bool) -> None:
    """Walk the whole chain of records and name the first that was changed; print its head."""
    from onedatum.jobs.proving.keep import verified

    with told():
        found = verified(records, noted)
    if as_json:
        say_json({"whole": found.whole, "bad": found.bad, "fault": found.fault, "head": str(found.head)})
    elif found.whole:
        click.echo(f"whole: {counted(found.head.id, 'record')}; head, to be noted on paper: {found.head}")
    else:
        click.echo(printable(f"NOT whole from record {found.bad} on: {found.fault}."), err=True)
        click.echo("Keep the file as it is and go on from a backup or an export that is whole.", err=True)
    sys.exit(DONE if found.whole else BAD_INPUT)


@command.command("export")
@click.argument("file", type=click.Path(path_type=Path))
@here_option
@json_option
def export(file: Path, records: str, as_json: bool) -> None:
    """Write all records to FILE, a new one, as lines of JSON."""
    from onedatum.jobs.proving.keep import exported

    with told():
        _say_kept(exported(records, file), as_json)


@command.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@here_option
@json_option
def import_(file: Path, records: str, as_json: bool) -> None:
    """Append the records of FILE that are missing here; it is verified first."""
    from onedatum.jobs.proving.keep import imported

    with told():
        _say_kept(imported(records, file), as_json)


@command.command("backup")
@click.argument("file", type=click.Path(path_type=Path))
@here_option
@json_option
def backup(file: Path, records: str, as_json: bool) -> None:
    """Write a verified copy of the records to FILE while others may write."""
    from onedatum.jobs.proving.keep import backed_up

    with told():
        _say_kept(backed_up(records, file), as_json)


def _say_kept(kept: Kept, as_json: bool) -> None:
    """What was written or appended, and the head of it."""
    from onedatum.jobs.proving.keep import kept_json, kept_text

    if as_json:
        say_json(kept_json(kept))
    else:
        click.echo(printable(kept_text(kept)), nl=False)


def _wished(texts: dict[str, Any]) -> Any:
    """How the plan is wanted, taken out of the options."""
    from onedatum.jobs.proving.plan import Wished

    points, cycles, up, tolerance, bench = (
        texts.pop(key) for key in ("points", "cycles", "upwards_only", "tolerance", "on_bench")
    )
    return Wished(points, cycles, up, tolerance, not bench)


def _tag_and_place(case: str, records: str | None) -> tuple[str, str | Path]:
    """The tag of a case file and the records beside it; a tag itself and the records of this folder."""
    from onedatum.case.reading import read_case
    from onedatum.jobs.proving.records import FILE, place_beside

    path = Path(case)
    if path.is_file():
        tag = read_case(path).case.tag
        if not tag.known:
            raise StoreError(f"tag of {case}", "known", "unknown", "records belong to a measuring point", "State it")
        return tag.text, records or place_beside(path)
    if path.suffix in (".yaml", ".yml"):
        raise StoreError(case, "a case file", "none", remedy="see to its path")
    return case, records or Path(FILE)
