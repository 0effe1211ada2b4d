"""The socket that the server listens on, opened before anything is said of it."""

from __future__ import annotations

import os
import socket
import ssl
from dataclasses import dataclass
from pathlib import Path

import uvicorn
from fastapi import FastAPI

from onedatum.web.app import create_app
from onedatum.web.guard import Door

WAITING = 100
"""Connections that may wait to be taken."""


class CannotServe(Exception):
    """Why a server cannot be had as it was asked for, in one sentence."""


class Server(uvicorn.Server):
    """Ends the workers first: whoever waits for them is answered at once, and so nothing holds up the end."""

    def __init__(self, app: FastAPI, config: uvicorn.Config) -> None:
        super().__init__(config)
        self._app = app

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End the workers, then the server."""
        self._app.state.serving.stop()
        await super().shutdown(sockets)


@dataclass(frozen=True)
class Listening:
    """A server that stands ready: its link, and the loop that serves."""

    link: str
    server: uvicorn.Server
    socket: socket.socket

    def run(self) -> None:
        """Serve until it is stopped."""
        self.server.run(sockets=[self.socket])


def listening(
    folder: Path, address: str, port: int, name: str, token: str, tls: tuple[Path, Path] | None, records: str = ""
) -> Listening:
    """A server of a folder on an address; raises OSError where it cannot be listened on, CannotServe for the rest."""
    if tls is not None:
        _check(*tls)
    opened = _opened(address, port)
    port = opened.getsockname()[1]
    names = {address, name} | ({"localhost", "127.0.0.1"} if address in ("127.0.0.1", "localhost") else set())
    door = Door(frozenset(_host(each, port, tls is not None) for each in names), tls is not None, token)
    app = create_app(folder, door, records=records)
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        date_header=False,
        timeout_graceful_shutdown=2,
        ssl_certfile=str(tls[0]) if tls else None,
        ssl_keyfile=str(tls[1]) if tls else None,
    )
    scheme = "https" if tls else "http"
    link = f"{scheme}://{_host(name, port, tls is not None)}/" + (f"?token={token}" if token else "")
    return Listening(link, Server(app, config), opened)


def _check(certificate: Path, key: Path) -> None:
    """Both files can be read and belong to each other."""
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, password="")
    except ssl.SSLError as error:
        why = str(error.reason or error).replace("_", " ").lower()
        told = f"{certificate} and {key} must be a certificate and its key in PEM, the key without a password"
        raise CannotServe(f"{told}; they cannot be read: {why}.") from error
    except (OSError, ValueError) as error:
        raise CannotServe(f"{certificate} and {key} must be files that can be read: {error}.") from error


def _opened(address: str, port: int) -> socket.socket:
    """A socket that listens, so that whoever opens the link at once waits instead of being refused."""
    opened = socket.socket(socket.AF_INET6 if ":" in address else socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere it would let a second server take the port of the first
        opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        opened.bind((address, port))
        opened.listen(WAITING)
    except OSError:
        opened.close()
        raise
    return opened


def _host(name: str, port: int, secure: bool) -> str:
    """Name and port as a browser names the host; the usual port is left away."""
    shown = f"[{name}]" if ":" in name else name.lower()
    return shown if port == (443 if secure else 80) else f"{shown}:{port}"
