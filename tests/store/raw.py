"""Reaching into a file of SQLite past the store, as one who means to change it would."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path


def altered(file: Path, *statements: str, guarded: bool = False) -> None:
    """Carry out statements on a file, its triggers taken away meanwhile unless it stays guarded."""
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in () if guarded else guards:
            connection.execute(f"DROP TRIGGER {name}")
        connection.execute("PRAGMA ignore_check_constraints = ON")
        for statement in statements:
            connection.execute(statement)
        for _, statement in () if guarded else guards:
            connection.execute(statement)
