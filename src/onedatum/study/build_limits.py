"""The limit of a build: as the case states it, else the usual figure of the part that binds."""

from __future__ import annotations

from onedatum.case.builds import Binding
from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk


def limit_of(desk: Desk, stated: Value, binding: Binding | None, shown: str) -> Entry | None:
    """The stated limit before the usual one, which says of which part it is; None where there is neither."""
    if stated.known:
        return desk.take(stated, shown)
    desk.read.add(stated.path)
    if binding is None:
        return None
    note = f"{binding.build.tag}, of: {binding.build.word}; not stated for this instrument"
    meaning = stated.title.partition(", in place")[0]
    return desk.usual(stated, binding.figure, note, shown=shown, meaning=meaning, source=binding.build.source)
