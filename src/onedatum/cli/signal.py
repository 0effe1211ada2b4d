"""`onedatum signal`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any, NoReturn

import click

from onedatum.case.reading import Statement, read_case
from onedatum.cli.exits import BAD_INPUT, of_faults
from onedatum.cli.output import printable, say_faults, say_json, say_written
from onedatum.foundation.errors import Fault, OutputError
from onedatum.foundation.working import entry_text
from onedatum.jobs.card import card_json, card_of_statement, card_text_of, write_card
from onedatum.jobs.examine import examine
from onedatum.jobs.known import CAUTIONS_OF, adjusted_json, adjusted_of
from onedatum.jobs.reading import dip_words, limits_of, told_json, told_of
from onedatum.jobs.signal import (
    at_rest,
    expected,
    forecast_lines,
    signal_at,
    signal_json,
    signal_of_difference,
    signal_remarks,
    signal_text,
    signal_word,
)
from onedatum.study.cautions import DEFERENCE
from onedatum.study.result import Study

ONE_OF = ("level", "reading", "pressure", "known", "table")
GOES_WITH = {
    "rate": ("level",),
    "clock": ("level",),
    "on": ("reading", "known"),
    "dip_within": ("known",),
    "meter_within": ("known",),
    "working": ("known",),
    "out": ("table",),
}
SAID = {"clock": "--at"}
NOT_GIVEN = (None, (), False)
Given = dict[str, Any]


@click.command("signal")
@click.argument("case", type=click.Path(path_type=Path))
@click.option("--level", metavar="QUANTITY", help='The level over the datum, such as "1.850 m".')
@click.option(
    "--reading",
    metavar="QUANTITY",
    help='In place of the level: what a meter shows, such as "14.37 mA", "64.8 %", or the sensor itself, "312 pF".',
)
@click.option("--on", metavar="QUANTITY", help='The resistor that a voltage is read on, such as "250 ohm".')
@click.option(
    "--pressure", metavar="QUANTITY", help='In place of the level: the difference on the legs, such as "-4.02 kPa".'
)
@click.option("--rate", metavar="QUANTITY", help='Filling rate now for a forecast, such as "12 m3/h".')
@click.option("--at", "clock", metavar="HH:MM", help="Time of day of that level, so that the forecast tells times.")
@click.option(
    "--known",
    multiple=True,
    metavar="DIP, READING",
    help='In place of the level, once or twice: what was read at a known level, such as "dip 1.350 m, 11.52 mA", with '
    '"digital 1.352 m" behind it where it was read too.',
)
@click.option("--dip-within", metavar="QUANTITY", help='How well each dip is known, such as "3 mm".')
@click.option("--meter-within", metavar="QUANTITY", help='How well the meter is known, such as "0.01 mA".')
@click.option("--working", is_flag=True, help="Every number of the known levels with formula, inputs and source.")
@click.option(
    "--table",
    metavar="STEP",
    help='In place of the level: the signal at the marks and at every step, such as "100 mm".',
)
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write that table into, as a card in PDF too.")
@click.option("--json", "as_data", is_flag=True, help="Print the signal as JSON.")
def command(case: Path, as_data: bool, **given: Any) -> None:
    """The signal to expect from CASE at --level, or the level that --reading or --pressure tells.

    With --table: the signal at every step of the level. With --known: what is to be adjusted where, range, trim of the
    output, datum and slope kept apart.
    """
    which, read = _which(given), read_case(case)
    if which == "known":
        _known(read, given, as_data)
    elif which == "table":
        _table(read, case.stem, given, as_data)
    elif which == "reading":
        _reading(read, given["reading"] or "", given["on"] or "", as_data)
    else:
        _signal(read, which, given, as_data)


def _signal(case: Statement, which: str, given: Given, as_data: bool) -> None:
    """The signal at a level, or at what legs feel."""
    found: Study | Fault = (
        signal_at(case, given["level"] or "", given["rate"], given["clock"])
        if which == "level"
        else signal_of_difference(case, given["pressure"] or "")
    )
    if isinstance(found, Fault):
        _refuse(case, found)
    if as_data:
        say_json(signal_json(found, at_rest(found)))
    else:
        _say_signal(found, rest=at_rest(found))
    sys.exit(of_faults(found.faults))


def _which(given: Given) -> str:
    """Which of the questions is asked: one of them, with what goes with it."""
    asked = [name for name in ONE_OF if given[name] not in NOT_GIVEN]
    if len(asked) != 1:
        raise click.UsageError(f"Give one of {', '.join(f'--{name}' for name in ONE_OF)}.")
    for name, wanted in GOES_WITH.items():
        if given[name] not in NOT_GIVEN and asked[0] not in wanted:
            words = " or ".join(f"--{each}" for each in wanted)
            raise click.UsageError(f"{SAID.get(name, '--' + name.replace('_', '-'))} goes with {words}.")
    return asked[0]


def _refuse(case: Statement, *faults: Fault) -> NoReturn:
    """What is wrong with the question, after what is wrong with the case itself."""
    own = examine(case).faults
    say_faults((*own, *(fault for fault in faults if fault not in own)))
    sys.exit(BAD_INPUT)


def _reading(case: Statement, text: str, on: str, as_data: bool) -> None:
    """The level that a reading tells."""
    told = told_of(case, text, on)
    if isinstance(told, Fault):
        _refuse(case, told)
    if as_data:
        say_json(told_json(told))
        sys.exit(of_faults(told.found.faults))
    if told.reading.level_m is None:
        say_faults(told.found.faults)
        click.echo(printable(f"{told.reading.text}: {told.reading.state}"))
        click.echo(printable(told.reading.why))
        _say_cautions()
    else:
        _say_signal(told.found, dip_words(told.found))
    for line in limits_of(told.found):
        click.echo(printable(line))
    sys.exit(of_faults(told.found.faults))


def _known(case: Statement, given: Given, as_data: bool) -> None:
    """What known levels say of range, output, datum and slope."""
    widths = given["dip_within"] or "", given["meter_within"] or ""
    told = adjusted_of(case, given["known"], given["on"] or "", *widths)
    if isinstance(told, tuple):
        _refuse(case, *told)
    if as_data:
        say_json(adjusted_json(told))
        sys.exit(of_faults(told.faults))
    say_faults(told.faults)
    click.echo(told.title)
    for line in (*told.said, *told.open_):
        click.echo(printable(f"- {line}."))
    for entry in told.numbers:
        click.echo(printable(f"{entry.text:>20}  {entry.meaning}"))
    if given["working"]:
        for entry in told.sheet.entries.values():
            click.echo(printable(f"\n{entry_text(entry)}"))
    for line in (*CAUTIONS_OF, DEFERENCE):
        click.echo(line)
    sys.exit(of_faults(told.faults))


def _table(case: Statement, name: str, given: Given, as_data: bool) -> None:
    """The card of the signal."""
    made = card_of_statement(case, given["table"])
    if isinstance(made, Fault):
        _refuse(case, made)
    say_faults(made.found.faults)
    if given["out"] is not None:
        try:
            say_written(write_card(made, name, given["out"]), as_data)
        except OutputError as error:
            click.echo(str(error), err=True)
            sys.exit(BAD_INPUT)
    if as_data:
        say_json(card_json(made))
    elif given["out"] is None:
        click.echo(card_text_of(made), nl=False)
    sys.exit(of_faults(made.found.faults))


def _say_signal(found: Study, dip: str = "", rest: Study | None = None) -> None:
    """The signal in lines, with what must be said beside it; `rest` is the level at which the reading has stopped."""
    say_faults(found.faults)
    for name in expected(found):
        click.echo(printable(f"{signal_text(found, name, rest):>20}  {found.sheet[name].meaning}"))
    click.echo(printable(f"the current tells: {signal_word(rest or found)}"))
    for line in filter(None, (dip, *forecast_lines(found))):
        click.echo(printable(line))
    for remark in signal_remarks(found, rest):
        click.echo(f"note: {remark}")
    _say_cautions()


def _say_cautions() -> None:
    click.echo(DEFERENCE)
    click.echo("Read the current on the test resistor without opening the loop; mind the rules of the zone.")
