"""What commands print: faults on the error stream, JSON on the other."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import click

from onedatum.foundation.errors import Fault


def say_faults(faults: Iterable[Fault]) -> None:
    """Each fault with its place, on the error stream."""
    for fault in faults:
        click.echo(printable(str(fault)), err=True)


def say_json(data: Any) -> None:
    """Data as JSON, readable and in a fixed order."""
    click.echo(json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False))


def say_written(files: Iterable[Path], beside_data: bool = False) -> None:
    """Which files were written, as each is there; on the error stream where data goes out on the other."""
    for file in files:
        click.echo(printable(f"written: {file}"), err=beside_data)


def say_passed_over(case: Path, why: str) -> None:
    """That a case of a folder has nothing to show here."""
    click.echo(f"{case.name}: {why}", err=True)


def say_no_case(folder: Path) -> None:
    """That a folder holds nothing to work on."""
    click.echo(f"{folder}: no case in this folder")


def printable(text: str) -> str:
    """Text of a user without the control characters that would steer a terminal."""
    return "".join(char if char.isprintable() or char in "\n " else "?" for char in text)
