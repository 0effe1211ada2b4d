"""`onedatum serve`."""

from __future__ import annotations

import re
import secrets
import sys
import threading
import webbrowser
from contextlib import suppress
from errno import EACCES, EADDRINUSE
from pathlib import Path

import click

from onedatum.cli.exits import BAD_INPUT
from onedatum.cli.options import RECORDS
from onedatum.cli.output import printable

LOOPBACK = ("127.0.0.1", "localhost", "::1")
EVERY = ("0.0.0.0", "::", "")
NAME = re.compile(r"[0-9A-Za-z][0-9A-Za-z.-]{0,252}|[0-9A-Fa-f:]{2,39}")


@click.command("serve")
@click.argument("folder", type=click.Path(path_type=Path), default=Path())
@click.option(
    "--port", type=click.IntRange(0, 65535), default=8423, show_default=True, help="Port; 0 takes a free one."
)
@click.option("--no-browser", is_flag=True, help="Do not open a browser.")
@click.option(
    "--listen", default="127.0.0.1", show_default=True, help="Address; beyond this machine it needs the rest."
)
@click.option("--name", help="Name that browsers call the server by, with --listen.")
@click.option("--token", is_flag=True, help="Ask for a token, made now and printed once.")
@click.option("--certificate", type=click.Path(path_type=Path), help="TLS certificate, PEM.")
@click.option("--key", type=click.Path(path_type=Path), help="TLS key of the certificate, PEM.")
@click.option(
    "--records",
    envvar=RECORDS,
    default="",
    help=f"File or PostgreSQL URL of the calibrations (or {RECORDS}); else in FOLDER.",
)
def command(
    folder: Path,
    port: int,
    no_browser: bool,
    listen: str,
    name: str | None,
    token: bool,
    certificate: Path | None,
    key: Path | None,
    records: str,
) -> None:
    """Open the cases of FOLDER as pages in the browser, on this machine alone."""
    refusal = _refusal(folder, listen, name, token, certificate, key)
    if refusal:
        _refuse(refusal)
    from onedatum.web.listening import CannotServe, listening

    tls = (certificate, key) if certificate is not None and key is not None else None
    secret = secrets.token_urlsafe(24) if token else ""
    try:
        server = listening(folder, listen, port, name or listen, secret, tls, records)
    except CannotServe as error:
        _refuse(str(error))
    except (OSError, UnicodeError) as error:
        _refuse(_not_listened(listen, port, error))
    click.echo(f"onedatum: the cases of {printable(str(folder.resolve()))} at {server.link}")
    if records:
        click.echo(f"Calibrations: {_records_said(records)}")
    click.echo("Stop with Ctrl+C. Every change is in its file already.")
    if not no_browser:
        threading.Timer(0.6, webbrowser.open, [server.link]).start()
    with suppress(KeyboardInterrupt):  # Ctrl+C is how it is ended
        server.run()


def _records_said(records: str) -> str:
    """Where the records are; of a URL no part is printed, as it may hold a password."""
    from onedatum.store.where import is_url

    if is_url(records):
        return "the database of the URL"
    there = "" if Path(records).exists() else ", made with the first record"
    return printable(f"{Path(records).absolute()}{there}")


def _not_listened(listen: str, port: int, error: Exception) -> str:
    """Why an address cannot be listened on, and what to do."""
    number = getattr(error, "errno", None)
    why = getattr(error, "strerror", None) or "it is no address"
    if number in (EADDRINUSE, EACCES):
        remedy = "Take another port with --port; --port 0 takes a free one"
    else:
        remedy = "State an address of this machine with --listen"
    return f"{listen}:{port} cannot be listened on: {why}. {remedy}."


def _refusal(
    folder: Path, listen: str, name: str | None, token: bool, certificate: Path | None, key: Path | None
) -> str:
    """Why it is not served so; "" where it is."""
    if not folder.is_dir():
        return f"FOLDER must be a folder of cases; got {printable(str(folder))}."
    if (certificate is None) != (key is None):
        return "--certificate and --key belong together; got one of them."
    for each in (certificate, key):
        if each is not None and not each.is_file():
            return f"{printable(str(each))} must be a file in PEM; nothing is there."
    if name is not None and not NAME.fullmatch(name):
        return f"--name must be the name of a machine or its address, as in a link; got {printable(name)!r}."
    if listen in EVERY and name is None:
        return f"--listen {listen} is every address of this machine: state with --name which one browsers call it by."
    if listen in LOOPBACK or (token and certificate is not None):
        return ""
    return (
        f"--listen {printable(listen)} would let other machines in. Whoever reaches the port could read and change "
        "every case, and could read along on the way. State --token and --certificate with --key too."
    )


def _refuse(words: str) -> None:
    click.echo(printable(words), err=True)
    sys.exit(BAD_INPUT)
