"""`onedatum review`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from onedatum.cli.convert import Meter
from onedatum.cli.exits import BAD_INPUT, DONE, NOT_CLEAR, gravest, of_faults
from onedatum.cli.output import printable, say_faults, say_json, say_written
from onedatum.foundation.errors import CaseError, LogError, OutputError

_PATH = click.Path(path_type=Path)


@click.command("review")
@click.argument("logs", nargs=-1, required=True, metavar="LOG...", type=_PATH)
@click.option("--case", type=_PATH, required=True, help="The case that the log belongs to.")
@click.option("--map", "mapping", type=_PATH, help="Which column says what; docs/logs.md shows it.")
@click.option("--dips", type=_PATH, help="Lines of time,level: levels by tape or stick.")
@click.option("--movements", type=_PATH, help="Lines of from,to,volume: above 0 into the vessel.")
@click.option("--out", type=_PATH, help="Folder to write PDF, text and JSON into.")
@click.option("--strict", is_flag=True, help="End with 1 where there is a finding.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def command(
    logs: tuple[Path, ...],
    case: Path,
    mapping: Path | None,
    dips: Path | None,
    movements: Path | None,
    out: Path | None,
    strict: bool,
    as_json: bool,
) -> None:
    """What is going wrong, from a log: findings with their statistic, never a cause.

    Stuck, saturated or broken signals, spikes, noise, steps and clocks come from the log alone; drift, density, film
    and floats want dips; leaks and meters want movements. What cannot be judged is said.
    """
    _made_ready()
    from onedatum.jobs.review import Asked, review
    from onedatum.jobs.review_paper import write_review
    from onedatum.jobs.review_told import review_json, review_text

    meter = Meter()
    try:
        found = review(Asked(logs, case, mapping, dips, movements), meter)
        files = write_review(found, out) if out is not None else ()
    except (LogError, CaseError) as error:
        say_faults(error.faults)
        sys.exit(BAD_INPUT)
    except OutputError as error:
        click.echo(printable(str(error)), err=True)
        sys.exit(BAD_INPUT)
    finally:
        meter.end()
    say_faults(found.faults)
    if as_json:
        say_json(review_json(found))
    else:
        click.echo(printable(review_text(found)), nl=False)
    say_written(files, as_json)
    sys.exit(gravest([of_faults(found.faults), NOT_CLEAR if strict and found.judged.findings else DONE]))


def _made_ready() -> None:
    """End where the extra is not installed."""
    from onedatum.jobs.convert import ready

    lacking = ready()
    if lacking is not None:
        say_faults([lacking])
        sys.exit(BAD_INPUT)
    from onedatum.jobs.convert.lean import leave_pandas_out

    leave_pandas_out()
