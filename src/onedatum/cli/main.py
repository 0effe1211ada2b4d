"""The command `onedatum`: a group whose commands are loaded when they are called."""

from __future__ import annotations

import os
import sys
import traceback
from importlib import import_module
from typing import Any

import click

from onedatum.cli.exits import OUR_FAULT
from onedatum.cli.start import INTERRUPTED, ended_at_once
from onedatum.foundation.constants import VERSION

COMMANDS: dict[str, str] = {
    "new": "start a case: a commented skeleton",
    "check": "read a case and name every fault, with place and remedy",
    "study": "work a case: findings first, then the numbers",
    "document": "write the papers of a case",
    "table": "the tank table of a case: rows, interpolation error, conditions",
    "quantity": "the quantity statement: volumes, mass, alcohol, uncertainty, batch",
    "signal": "the signal to expect at a level",
    "prove": "calibrations: plan, record, certificate, history, what is due",
    "convert": "level logs to volume, mass and alcohol with uncertainty",
    "review": "what is going wrong, from a level log: findings, never a cause",
    "watch": "levels read live: quantities, age, rate, forecast; nothing is written",
    "simulate": "a stand-in for a plant: simulated tanks over Modbus TCP, OPC UA and HART",
    "serve": "open the cases of a folder as pages in the browser",
    "formula": "list the formulas, or work one alone",
}
"""Name and one-line help of every command; each lives in a module of its own name."""


class Lazy(click.Group):
    """A group that knows its commands by name and loads one only to run it."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        with ended_at_once():
            command: click.Command = import_module(f"onedatum.cli.{cmd_name}").command
        return command

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            raise click.exceptions.Exit(INTERRUPTED) from None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from onedatum.foundation.units.nearest import hint

            near = hint(args[0], COMMANDS) if args else ""
            raise click.UsageError(error.message + (f" {near}." if near else ""), ctx) from None


@click.group(cls=Lazy, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(VERSION, message="%(prog)s %(version)s")
def cli() -> None:
    """Continuous level measurement from the enquiry to the proof.

    One case file states a measuring point; every number that follows shows its formula, inputs and source.
    """


def main() -> None:
    """Run the command; an error that is ours says so and never shows a traceback unasked."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the matrices here are small: threads cost more than they give
    try:
        cli(standalone_mode=True)
    except Exception as error:  # noqa: BLE001 - the last resort: whatever slipped through is our fault and is said so
        if os.environ.get("ONEDATUM_TRACEBACK"):
            traceback.print_exc()
        click.echo(
            f"onedatum: an error of ours: {type(error).__name__}: {error}\n"
            "Nothing was lost. Set ONEDATUM_TRACEBACK=1 to see where it happened.",
            err=True,
        )
        sys.exit(OUR_FAULT)
