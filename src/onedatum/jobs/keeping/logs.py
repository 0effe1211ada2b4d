"""Level logs beside the cases: the plain files of the folder `logs`, by their names; no name leads out of it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from onedatum.foundation.errors import Fault, LogError
from onedatum.foundation.units import hint
from onedatum.foundation.units.grammar import quoted
from onedatum.jobs.keeping.names import refused

PLACE = "logs"
Kind = Literal["log", "map", "lines"]
ENDINGS: dict[Kind, tuple[str, ...]] = {
    "log": (".csv", ".csv.gz", ".csv.bz2", ".csv.zst", ".csv.lz4", ".parquet", ".pq"),
    "map": (".yaml", ".yml"),
    "lines": (".csv",),
}
"""Of logs, of mappings, of dips and movements."""
EVERY = tuple(dict.fromkeys(each for endings in ENDINGS.values() for each in endings))
MOST = 500
"""Files that are listed."""


@dataclass(frozen=True)
class LogFile:
    """A file of the folder, and what tells whether it is still the same."""

    name: str
    size_bytes: int
    changed_ns: int
    node: int = 0

    def is_of(self, kind: Kind) -> bool:
        """Whether it can be one of a kind, by the ending of its name."""
        return self.name.lower().endswith(ENDINGS[kind])


def logs_of(folder: Path) -> tuple[LogFile, ...]:
    """The files of the folder of logs that can be used, by name; none where there is no such folder."""
    place = folder / PLACE
    try:
        names = sorted(each.name for each in os.scandir(place))
    except OSError:
        return ()
    found = []
    for name in names:
        if not name.lower().endswith(EVERY) or refused(name):
            continue
        try:
            found.append(seen(folder, name))
        except LogError:
            continue
        if len(found) >= MOST:
            break
    return tuple(found)


def log_file(folder: Path, name: str, kind: Kind) -> Path:
    """The file of that name in the folder of logs; raises LogError. A link is refused where it leads out of it."""
    allowed = f"a file of the folder {PLACE}"
    why = refused(name)
    if why:
        raise LogError([Fault("the file", allowed, quoted(name), why)])
    if not name.lower().endswith(ENDINGS[kind]):
        raise LogError([Fault("the file", f"one that ends in {' or '.join(ENDINGS[kind])}", quoted(name))])
    path = folder / PLACE / name
    try:
        home, real = folder.resolve(), path.resolve(strict=True)
    except (OSError, RuntimeError):
        near = hint(name, [each.name for each in logs_of(folder)])
        raise LogError([Fault("the file", allowed, quoted(name), near or "it is not there")]) from None
    place = (folder / PLACE).resolve()
    if place.parent != home or real.parent != place or not real.is_file():
        why = "the page reads the files of one folder only"
        raise LogError([Fault("the file", allowed, quoted(name), f"{why}; this is none, or leads out of it")])
    return path


def seen(folder: Path, name: str, kind: Kind | None = None) -> LogFile:
    """A file as it is now; raises LogError."""
    kinds: Sequence[Kind] = (kind,) if kind is not None else tuple(ENDINGS)
    fits = next((each for each in kinds if name.lower().endswith(ENDINGS[each])), kinds[0])
    try:
        status = log_file(folder, name, fits).stat()
    except OSError as error:
        raise LogError([Fault("the file", "one that can be read", quoted(name), error.strerror or "")]) from error
    return LogFile(name, status.st_size, status.st_mtime_ns, status.st_ino)


def new_log(folder: Path, name: str, content: bytes) -> Path:
    """Where a file that is brought along goes; raises LogError for a name or a content that cannot be used."""
    why = refused(name)
    if why:
        raise LogError([Fault("the name of the file", "a plain file name", quoted(name), why)])
    if not name.lower().endswith(EVERY):
        raise LogError([Fault("the name of the file", f"one that ends in {', '.join(EVERY)}", quoted(name))])
    if not content:
        raise LogError([Fault(name, "a file that holds something", "an empty one")])
    place = folder / PLACE
    if place.is_symlink() and place.resolve().parent != folder.resolve():
        raise LogError([Fault(PLACE, "a folder beside the cases", "a link that leads out of it")])
    return place / name
