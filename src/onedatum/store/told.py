"""What a database says against it, told as one sentence with the place and the remedy.

The words of the driver of PostgreSQL are never passed on: they hold host and user, and may hold more.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from sqlalchemy.exc import DBAPIError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from onedatum.foundation.errors import OutputError, StoreError


class Said(NamedTuple):
    """The parts of a sentence about the place of a store."""

    allowed: str
    got: str
    remedy: str = ""


_BUSY = Said(
    "free to be written", "one that another writer holds", "Wait until it is done, then write again; nothing is lost"
)
_FULL = Said("a place with room", "a full disk or a reached limit of size", "Make room; nothing was written by half")
_READ_ONLY = Said(
    "one that can be written",
    "one that can only be read",
    "Give the file and its folder the right to be written, or work in a copy",
)
_DAMAGED = Said("whole", "one whose pages are damaged", "Keep the file as it is and go on from a backup or an export")
_NOT_OURS = Said("a file of records", "one that is none", "Name another file; this one is left as it is")
_UNOPENED = Said(
    "a file that can be opened", "an error", "See that the folder is there and that folder and file may be written"
)
# The driver gives no state for a connection that is not made, so that its causes cannot be told apart.
_GONE = Said(
    "a database that answers",
    "no connection or a broken one",
    "See that it runs, that it has this database and that user and password of the URL are right; "
    "where a record was being written, look whether it is there before it is written again",
)

_SQLITE = {
    sqlite3.SQLITE_BUSY: _BUSY,
    sqlite3.SQLITE_LOCKED: _BUSY,
    sqlite3.SQLITE_FULL: _FULL,
    sqlite3.SQLITE_READONLY: _READ_ONLY,
    sqlite3.SQLITE_PERM: _READ_ONLY,
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_NOTADB: _NOT_OURS,
    sqlite3.SQLITE_CANTOPEN: _UNOPENED,
    sqlite3.SQLITE_IOERR: Said(
        "a place that can be read and written",
        "an error of the disk or a reached limit of size",
        "See to the disk and its room; nothing was written by half",
    ),
    sqlite3.SQLITE_CONSTRAINT: Said("one that lets this be written", "a rule of the database against it"),
}

# By the first characters of the state that the standard of SQL or PostgreSQL gives an error; the longest match counts.
_POSTGRESQL = {
    "08": _GONE,
    "57P": _GONE,
    "55P03": _BUSY,
    "40": _BUSY,
    "53": _FULL,
    "53300": Said("a database that takes one more connection", "one that is taken up", "Try again later"),
    "25006": _READ_ONLY,
    "42501": Said("one that this user may use", "a refusal", "Give the user the right to read and to insert"),
    "22": Said("one that holds every character", "a refusal", "Make the database with the encoding UTF8"),
    "XX": _DAMAGED,
}


@contextmanager
def telling(name: str) -> Iterator[None]:
    """Turn what goes wrong within into a StoreError about the store of that name."""
    try:
        yield
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise told(name, error) from None
    except OSError as error:
        said = OutputError.of(Path(name), error)
        raise StoreError(name, "a place that can be read and written", "an error", said.why, said.remedy) from None


def told(name: str, error: Exception) -> StoreError:
    """The sentence for an error of a database."""
    if isinstance(error, PoolTimeout):
        return StoreError(name, *_BUSY[:2], remedy=_BUSY.remedy)
    own = error.orig if isinstance(error, DBAPIError) else error
    if isinstance(own, sqlite3.Error):
        code = getattr(own, "sqlite_errorcode", 0)
        said = _SQLITE.get(code & 0xFF, Said("one that can be used", "an error"))
        return StoreError(name, said.allowed, said.got, str(own), said.remedy)
    state = getattr(own, "sqlstate", None) or ""
    matching = [start for start in _POSTGRESQL if state.startswith(start)]
    said = _POSTGRESQL[max(matching, key=len)] if matching else _unnamed(error, state)
    return StoreError(name, said.allowed, said.got, f"State {state} of the database" if state else "", said.remedy)


def _unnamed(error: Exception, state: str) -> Said:
    """An error without a state is one of the connection; any other is told by its kind."""
    if isinstance(error, DBAPIError) and not state:
        return _GONE
    return Said("one that can be used", f"an error of the kind {type(error).__name__}")
