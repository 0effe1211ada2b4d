"""Seeing to the records: whether the chain is whole, also against a head that was noted earlier."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from onedatum.jobs.proving.records import opened

if TYPE_CHECKING:
    from onedatum.store.chain import Chain


def verified(where: str | Path, noted: str | None = None) -> Chain:
    """Walk the chain; raises StoreError where the records cannot be opened or the head cannot be read."""
    from onedatum.store.record import Head

    with opened(where, existing=True) as store:
        return store.verify(None if noted is None else Head.read(noted))
