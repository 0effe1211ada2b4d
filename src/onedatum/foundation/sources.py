"""The register of sources: what each document is, and how far its text was seen.

A source is cited as "key" or "key: clause". Its tag says what the value is worth and is printed with it; a value from
memory or of common practice never appears as a clause of a standard.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from hashlib import sha256
from importlib.resources import files
from typing import Literal, get_args

from onedatum import data
from onedatum.foundation.errors import OnedatumError

SourceTag = Literal[
    "read",
    "read second-hand",
    "derived and checked",
    "from memory",
    "common practice, no source",
    "named in the case",
]


@dataclass(frozen=True)
class Source:
    """One entry of the register."""

    key: str
    title: str
    tag: SourceTag
    note: str = ""


@dataclass(frozen=True)
class Citation:
    """A source with the place in it."""

    source: Source
    clause: str = ""

    @property
    def text(self) -> str:
        """The title and the place, without the tag."""
        return f"{self.source.title}, {self.clause}" if self.clause else self.source.title

    def __str__(self) -> str:
        return f"{self.text} [{self.source.tag}]"


@dataclass(frozen=True)
class Figure:
    """A number that somebody else has set, with where it stands."""

    value: float
    """In the unit that the name of its field ends in."""
    source: str
    """Key and place in the register of sources."""
    tag: str
    """How far the text was seen."""


@cache
def data_version() -> str:
    """The version of the tables that ship with the tool: the first digits of a hash over them, stored with a result."""
    digest = sha256()
    tables = (file for file in files("onedatum.data").iterdir() if file.name.endswith((".json", ".txt")))
    for file in sorted(tables, key=lambda file: file.name):
        digest.update(file.name.encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()[:12]


@cache
def sources() -> Mapping[str, Source]:
    """The register, by key."""
    rows = data.table("sources.json")["sources"]
    for row in rows:
        if row["tag"] not in get_args(SourceTag):
            raise OnedatumError(f"source {row['key']}: no such tag: {row['tag']}")
    return {row["key"]: Source(**row) for row in rows}


@lru_cache(maxsize=4096)
def citation(text: str) -> Citation:
    """The citation written as "key" or "key: clause"."""
    key, _, clause = text.partition(":")
    try:
        return Citation(sources()[key.strip()], clause.strip())
    except KeyError:
        raise OnedatumError(f"source {key.strip()!r} is not in the register") from None
