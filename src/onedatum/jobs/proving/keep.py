"""Seeing to the records: whether the chain is whole, also against a head that was noted earlier, and copies of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from onedatum.foundation.wording import counted
from onedatum.jobs.proving.records import is_there, opened

if TYPE_CHECKING:
    from onedatum.store.chain import Chain
    from onedatum.store.record import Head


@dataclass(frozen=True)
class Kept:
    """What a copy or an import did, and the head of the records it left."""

    file: Path
    head: Head
    appended: int | None = None
    """Records that were appended from the file; None where the file is the one that was written."""


def verified(where: str | Path, noted: str | None = None) -> Chain:
    """Walk the chain; raises StoreError where the records cannot be opened or the head cannot be read."""
    from onedatum.store.record import Head

    with opened(where, existing=True) as store:
        return store.verify(None if noted is None else Head.read(noted))


def exported(where: str | Path, file: Path) -> Kept:
    """Write all records to a new file of lines; raises StoreError."""
    with opened(where, existing=True) as store:
        return Kept(file, store.export(file))


def backed_up(where: str | Path, file: Path) -> Kept:
    """Write a verified copy while others may write; raises StoreError."""
    with opened(where, existing=True) as store:
        return Kept(file, store.backup(file))


def imported(where: str | Path, file: Path) -> Kept:
    """Append what is missing here of an exported file; raises StoreError. A refusal leaves no empty records behind."""
    from onedatum.store.lines import read_lines

    if not is_there(where):
        read_lines(file)
    with opened(where) as store:
        count = store.import_(file)
        return Kept(file, store.head(), count)


def kept_text(kept: Kept) -> str:
    """What was done, in words."""
    done = f"written: {kept.file}" if kept.appended is None else f"appended: {counted(kept.appended, 'record')}"
    return f"{done}; head {kept.head}\n"


def kept_json(kept: Kept) -> dict[str, Any]:
    """The same as data."""
    done = {"written": str(kept.file)} if kept.appended is None else {"read": str(kept.file), "appended": kept.appended}
    return {**done, "head": {"id": kept.head.id, "hash": kept.head.hash}}
