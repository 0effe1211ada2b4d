"""Walking the chain: the first record that is not as it was written, if there is one."""

from __future__ import annotations

from collections.abc import Generator
from contextlib import closing
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from onedatum.foundation.errors import StoreError
from onedatum.store.record import Head, Record, check
from onedatum.store.table import HEAD, RECORDS


@dataclass(frozen=True)
class Chain:
    """What a walk along the chain found."""

    head: Head
    """The last record that is sound with all before it."""
    bad: int | None = None
    """The first record that is not; None where all are and something beside them is wrong."""
    fault: str = ""
    """What is wrong, "" where nothing is."""

    @property
    def whole(self) -> bool:
        """Whether nothing is wrong."""
        return not self.fault


class Walk:
    """Takes record after record; says why one cannot follow."""

    def __init__(self) -> None:
        self.head = Head()
        self.corrected: set[int] = set()

    def refusal(self, record: Record) -> str:
        """Why a record is not the next of this chain; "" where it is, and then the walk has gone on."""
        if type(record.id) is not int or record.id != self.head.id + 1:
            return f"record {self.head.id + 1} must come next, and what comes is {record.id!r}"
        if not record.whole:
            return f"record {record.id} was changed: its hash is not that of its fields"
        if record.previous != self.head.hash:
            return f"record {record.id} does not follow the one before it: it names another hash"
        try:
            check(record)
        except StoreError as error:
            return f"record {record.id} is none of this tool: {error}"
        if record.corrects in self.corrected:
            return f"record {record.id} corrects record {record.corrects}, which another one has corrected already"
        if record.corrects is not None:
            self.corrected.add(record.corrects)
        self.head = Head(record.id, record.hash)
        return ""


def stored(connection: sa.Connection, *conditions: sa.ColumnElement[bool]) -> Generator[Record]:
    """The records of a database in their order. Who may stop before the end closes it."""
    query = sa.select(RECORDS).where(*conditions).order_by(RECORDS.c.id).execution_options(yield_per=1000)
    with connection.execute(query) as rows:
        for row in rows:
            yield Record(*row)


def head_of(connection: sa.Connection) -> Head:
    """The head as the database keeps it; raises StoreError where the last record is not the one it names."""
    rows = connection.execute(sa.select(HEAD.c.id, HEAD.c.hash)).all()
    last = sa.select(RECORDS.c.id, RECORDS.c.hash).order_by(RECORDS.c.id.desc()).limit(1)
    found = connection.execute(last).first()
    there = Head(found.id, found.hash) if found else Head()
    if [tuple(row) for row in rows] != [(there.id, there.hash)]:
        remedy = "verify the records; keep the database as it is and go on from a backup or an export"
        raise StoreError("the last record", "the one that the database noted as its head", "another", "", remedy)
    return there


def walk(connection: sa.Connection, noted: Head | None = None) -> Chain:
    """Walk the whole chain, hold its end against the head kept and any record against one that was noted."""
    steps, at_noted = Walk(), Head()
    try:
        with closing(stored(connection)) as records:
            for record in records:
                fault = steps.refusal(record)
                if fault:
                    return Chain(steps.head, steps.head.id + 1, fault)
                if noted is not None and record.id == noted.id:
                    at_noted = steps.head
        found = _beside(connection, steps.head)
    except DBAPIError as error:
        number = steps.head.id + 1
        return Chain(steps.head, number, f"record {number} or what leads to it cannot be read: {type(error).__name__}")
    if found.bad is None and noted is not None and at_noted != noted:
        return Chain(steps.head, noted.id, _not_as_noted(steps.head, noted))
    return found


def _not_as_noted(head: Head, noted: Head) -> str:
    if noted.id > head.id:
        return f"record {noted.id} was noted and is not there: the last one is {head.id}"
    return f"record {noted.id} is not the one that was noted: it or one before it was written anew"


def _beside(connection: sa.Connection, head: Head) -> Chain:
    """What is wrong beside the records: the head that was kept, what leads to the records, what guards them."""
    rows = connection.execute(sa.select(HEAD.c.id, HEAD.c.hash)).all()
    if [tuple(row) for row in rows] != [(head.id, head.hash)]:
        kept, bad = (rows[0].id if len(rows) == 1 else "none"), head.id + 1
        return Chain(head, bad, f"record {bad} is missing, or the head was changed: the head kept is that of {kept}")
    lite = connection.dialect.name == "sqlite"
    found = str(connection.exec_driver_sql("PRAGMA integrity_check(1)").scalar()) if lite else "ok"
    if found != "ok":
        return Chain(head, None, f"the records are sound, what leads to them is damaged: {found.splitlines()[0]}")
    if connection.exec_driver_sql(_GUARDS_SQLITE if lite else _GUARDS_POSTGRESQL).scalar() != _GUARDS:
        return Chain(head, None, "the records are sound, but the triggers that refuse a change are gone")
    return Chain(head)


_GUARDS = 4
_GUARDS_SQLITE = "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'onedatum_records'"
_GUARDS_POSTGRESQL = (
    "SELECT count(*) FROM pg_trigger "
    "WHERE tgrelid = 'onedatum_records'::regclass AND NOT tgisinternal AND tgenabled IN ('O', 'A')"
)
