"""The door to the records: open, append, read, verify, note the head, export, import, back up.

with Store.open("records.sqlite") as store:
    store.append("calibration", "LT-101", "A. Author", {"points": 5})
    print(store.head())
"""

from __future__ import annotations

from contextlib import closing, suppress
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Overtaken, StoreError
from onedatum.store import chain
from onedatum.store.canonical import payload_text
from onedatum.store.chain import Chain
from onedatum.store.lines import lines, read_lines
from onedatum.store.place import Place, place_of
from onedatum.store.record import Clock, Head, Record, made, now, time_text
from onedatum.store.schema import prepare
from onedatum.store.table import RECORDS
from onedatum.store.told import telling
from onedatum.store.whole_file import copy_to, new_file

WAIT_S = 10.0
"""Longest wait for another writer; one record takes some thousandths of a second."""


class Store:
    """Records in one database. Safe to use from several threads and beside other processes."""

    def __init__(self, place: Place, clock: Clock) -> None:
        self._place, self._clock = place, clock

    @classmethod
    def open(cls, where: str | Path, *, existing: bool = False, wait_s: float = WAIT_S, clock: Clock = now) -> Self:
        """Open the store of a path or a PostgreSQL URL; raises StoreError.

        It is made where nothing is, unless it must be `existing`; an older one is upgraded, a file after a backup.
        """
        place = place_of(where, wait_s, existing)
        try:
            prepare(place, existing)
            place.settle()
        except BaseException:
            place.close()
            raise
        return cls(place, clock)

    def close(self) -> None:
        """Let go of the database."""
        self._place.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # ------------------------------------------------------------ writing

    def append(
        self,
        kind: str,
        tag: str,
        who: str,
        payload: Any,
        *,
        at: datetime | None = None,
        case: str = "",
        corrects: int | None = None,
        after: Head | None = None,
    ) -> Record:
        """Write one record and give it back; when this returns it is on the disk. Raises StoreError.

        `at` is when it took place, now where nothing is said; `case` the version of the case; `corrects` the record
        that it replaces, which stays as it is. With `after`, it is written only where that head is still the last:
        else Overtaken is raised, and what was looked at before is to be looked at again.
        """
        written = time_text(self._clock(), "the clock")
        stated = {
            "kind": kind,
            "tag": tag,
            "who": who,
            "at": written if at is None else time_text(at, "at"),
            "written": written,
            "case": case,
            "tool": VERSION,
            "payload": payload_text(payload),
            "corrects": corrects,
        }
        made({**stated, "corrects": None}, Head())  # what is wrong in itself is told without waiting for others
        with self._place.writing() as connection:
            last = chain.head_of(connection)
            _check_after(last, after)
            record = made(stated, last)
            if corrects is not None:
                _check_corrects(connection, corrects)
            connection.execute(sa.insert(RECORDS), asdict(record))
            chain.head_of(connection)  # the trigger that moves the head is there
        return record

    def import_(self, path: str | Path) -> int:
        """Append the records of an exported file that are missing here; says how many. Raises StoreError.

        The file is verified before anything is written. It must tell the same chain as far as both go.
        """
        records = read_lines(Path(path))
        with self._place.writing() as connection:
            own = chain.walk(connection)
            _refuse_broken(self._place.name, own)
            _refuse_fork(connection, records, own.head)
            missing = records[own.head.id :]
            if missing:
                connection.execute(sa.insert(RECORDS), [asdict(record) for record in missing])
        return len(missing)

    # ------------------------------------------------------------ reading

    def all(self) -> list[Record]:
        """Every record, also those that others correct. Raises StoreError where one was changed."""
        return self._read()

    def by_tag(self, tag: str) -> list[Record]:
        """Every record of a tag."""
        return self._read(RECORDS.c.tag == tag)

    def by_kind(self, kind: str) -> list[Record]:
        """Every record of a kind."""
        return self._read(RECORDS.c.kind == kind)

    def corrected(self, *, tag: str | None = None, kind: str | None = None) -> list[Record]:
        """What holds now: the records that no other corrects, of a tag and a kind where they are named."""
        other = RECORDS.alias()
        conditions = [~sa.exists().where(other.c.corrects == RECORDS.c.id)]
        if tag is not None:
            conditions.append(RECORDS.c.tag == tag)
        if kind is not None:
            conditions.append(RECORDS.c.kind == kind)
        return self._read(*conditions)

    def as_found(self) -> list[Record]:
        """The records up to the first that cannot be read, changed or not; `whole` says of each which."""
        found: list[Record] = []
        with (
            self._place.reading() as connection,
            suppress(DBAPIError),  # `verify` tells what is wrong
            closing(chain.stored(connection)) as records,
        ):
            for record in records:
                found.append(record)  # those before the one that cannot be read count
        return found

    def _read(self, *conditions: sa.ColumnElement[bool]) -> list[Record]:
        with self._place.reading() as connection:
            records = list(chain.stored(connection, *conditions))
        for record in records:
            if not record.whole:
                got = f"a changed record {record.id}"
                remedy = "verify the records, and go on from a backup or an export"
                raise StoreError(self._place.name, "a store whose records are as they were written", got, "", remedy)
        return records

    def head(self) -> Head:
        """The last record by number and hash, to be noted outside the database."""
        with self._place.reading() as connection:
            return chain.head_of(connection)

    def verify(self, noted: Head | None = None) -> Chain:
        """Walk the whole chain; with a head noted earlier, also whether that record is still the same."""
        with self._place.reading() as connection:
            return chain.walk(connection, noted)

    # ------------------------------------------------------------ copies

    def export(self, path: str | Path) -> Head:
        """Write all records to a new file of JSON lines; the head of what was written. Raises StoreError."""
        target = Path(path)
        with self._place.reading() as connection:
            found = chain.walk(connection)
            _refuse_broken(self._place.name, found)
            with new_file(target) as file:
                with (
                    telling(str(target)),
                    file.open("w", encoding="ascii", newline="\n") as out,
                    closing(chain.stored(connection)) as records,
                ):
                    out.writelines(f"{line}\n" for line in lines(records, found.head))
                read_lines(file)  # what cannot be read again is no copy
        return found.head

    def backup(self, path: str | Path) -> Head:
        """Write a copy as of one moment, while others write: a file of SQLite, of PostgreSQL an export.

        The head of what the copy holds, which was verified. Raises StoreError.
        """
        if self._place.file is None:
            return self.export(path)
        with new_file(Path(path)) as made_file:
            copy_to(self._place.file, made_file, self._place.wait_s)
            with Store.open(made_file, existing=True) as copy:
                found = copy.verify()
            _refuse_broken(self._place.name, found)
        return found.head


def _check_after(last: Head, after: Head | None) -> None:
    """Refuse to write after a head that is no longer the last."""
    if after is not None and last != after:
        remedy = "look at the records again, then write; nothing was written"
        got = f"one after record {last.id}"
        raise Overtaken("the record", f"the next after record {after.id}", got, "another one came first", remedy)


def _check_corrects(connection: sa.Connection, corrects: int) -> None:
    """Refuse a second correction of one record: which of the two holds would be left open."""
    by = connection.execute(sa.select(RECORDS.c.id).where(RECORDS.c.corrects == corrects)).scalar()
    if by is not None:
        why = f"record {by} corrects record {corrects} already"
        raise StoreError("corrects", "a record that none corrects yet", f"{corrects}", why, f"correct record {by}")


def _refuse_broken(name: str, found: Chain) -> None:
    if not found.whole:
        remedy = "go on from a backup or an export that is whole"
        raise StoreError(name, "a store whose records are as they were written", "another", found.fault, remedy)


def _refuse_fork(connection: sa.Connection, records: list[Record], own: Head) -> None:
    """Refuse a file that tells another story from some record on."""
    common = min(len(records), own.id)
    with closing(chain.stored(connection, RECORDS.c.id <= common)) as stored:
        for record, here in zip(records[:common], stored, strict=True):
            if record.hash != here.hash:
                got = f"another record {record.id}: {record.hash} in the file, {here.hash} in the store"
                remedy = "nothing was written; keep the two apart and find out which is the true one"
                raise StoreError("the file", "a part or a continuation of the same chain", got, "", remedy)
