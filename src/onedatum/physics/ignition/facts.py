"""Facts that stand beside the numbers: duties and remarks as sentences, each with where it stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Fact:
    """One sentence, with where it stands."""

    text: str
    source: str
    """Key and place in the register of sources."""
    tag: str
    """How far the text was seen."""


def facts_of(rows: Iterable[Mapping[str, str]]) -> tuple[Fact, ...]:
    """The facts of a file of data, in its order."""
    return tuple(Fact(**row) for row in rows)
