"""The socket that the server listens on, opened before anything is said of it."""

from __future__ import annotations

import socket
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from onedatum.web.app import create_app
from onedatum.web.guard import Door

WAITING = 128
"""Callers that wait at the socket from when its link is told to when the server answers."""


@dataclass(frozen=True)
class Listening:
    """A server that stands ready: its link, and the loop that serves."""

    link: str
    server: uvicorn.Server
    socket: socket.socket

    def run(self) -> None:
        """Serve until it is stopped."""
        self.server.run(sockets=[self.socket])


def listening(folder: Path, address: str, port: int, name: str, token: str, tls: tuple[Path, Path] | None) -> Listening:
    """A server of a folder on an address; raises OSError where the port is taken."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    opened = socket.socket(family, socket.SOCK_STREAM)
    opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        opened.bind((address, port))
        opened.listen(WAITING)
    except OSError:
        opened.close()
        raise
    port = opened.getsockname()[1]
    names = {address, name} | ({"localhost", "127.0.0.1"} if address in ("127.0.0.1", "localhost") else set())
    door = Door(frozenset(_host(each, port, tls is not None) for each in names), tls is not None, token)
    config = uvicorn.Config(
        create_app(folder, door),
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
    return Listening(link, uvicorn.Server(config), opened)


def _host(name: str, port: int, secure: bool) -> str:
    """Name and port as a browser names the host; the usual port is left away."""
    shown = f"[{name}]" if ":" in name else name.lower()
    return shown if port == (443 if secure else 80) else f"{shown}:{port}"
