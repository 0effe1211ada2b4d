"""A PostgreSQL of Debian for the time of the tests: a cluster of its own in a temporary folder, on a socket only."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from pathlib import Path

import psycopg

PASSWORD = "an-invented-password"
OWNER = "author"
_NUMBERS = count(1)


@dataclass(frozen=True)
class Cluster:
    """A running server."""

    folder: Path
    programs: Path

    def url(self, database: str, user: str = OWNER, password: str = PASSWORD) -> str:
        """The URL of a database."""
        return f"postgresql://{user}:{password}@/{database}?host={self.folder}"

    def new(self, more: str = "") -> str:
        """The URL of a new, empty database."""
        name = f"records_{next(_NUMBERS)}"
        self.carry_out("postgres", f"CREATE DATABASE {name} {more}")
        return self.url(name)

    def carry_out(self, database: str, *statements: str) -> None:
        """Carry out statements as the owner, each at once."""
        words = f"host={self.folder} user={OWNER} password={PASSWORD} dbname={database}"
        with psycopg.connect(words, autocommit=True) as connection:
            for statement in statements:
                connection.execute(statement.encode())

    def start(self) -> None:
        """Start it on a socket in its folder. A loss of power is not tried, so it need not wait for the disk."""
        self._control(
            "--options", f"-c listen_addresses='' -c unix_socket_directories='{self.folder}' -c fsync=off", "start"
        )

    def stop(self) -> None:
        """Stop it; every connection breaks."""
        self._control("--mode", "fast", "stop")

    def _control(self, *words: str) -> None:
        data, log = self.folder / "data", self.folder / "log"
        as_unprivileged(str(self.programs / "pg_ctl"), "--pgdata", str(data), "--log", str(log), "--wait", *words)


def programs() -> Path:
    """The folder of the newest server that Debian has installed."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: int(path.parent.name))
    if not found:
        raise FileNotFoundError(
            "the tests of records need Debian's package `postgresql`, or leave away those of records"
        )
    return found[-1]


def as_unprivileged(*words: str) -> None:
    """Run a program, as the user that Debian's package makes where this one is root, whom the server refuses."""
    other = ["runuser", "--user", "postgres", "--"] if os.geteuid() == 0 else []
    done = subprocess.run([*other, *words], capture_output=True, text=True, cwd="/", check=False)
    if done.returncode:
        raise RuntimeError(f"{Path(words[0]).name}: {done.stdout}{done.stderr}")


@contextmanager
def cluster() -> Iterator[Cluster]:
    """A cluster that is made, started, and gone at the end."""
    folder = Path(tempfile.mkdtemp(prefix="pg"))  # short: the path of a socket has some 100 characters
    secret = folder / "password"
    secret.write_text(PASSWORD, encoding="ascii")
    if os.geteuid() == 0:
        for path in (folder, secret):
            shutil.chown(path, "postgres")
    made = Cluster(folder, programs())
    access = ["--username", OWNER, "--pwfile", str(secret), "--auth", "scram-sha-256"]
    form = ["--encoding", "UTF8", "--locale", "C", "--no-sync"]
    try:
        as_unprivileged(str(made.programs / "initdb"), "--pgdata", str(folder / "data"), *access, *form)
        made.start()
        try:
            yield made
        finally:
            made.stop()
    finally:
        shutil.rmtree(folder)
