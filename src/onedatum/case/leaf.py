"""What a case says at one place: a quantity, a word or a text, with how it is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.working import State, Uncertainty

Side = Literal["process", "instrument", "paper"]
"""Who can know it: the customer (unknown: a question), we who choose the instrument (unknown: a requirement of the
order), or the order does not wait for it (it is printed, or is an example such as the level now)."""


@dataclass(frozen=True)
class Leaf:
    """What every statement carries."""

    path: str
    title: str
    side: Side
    state: State
    text: str = ""
    """As it was written."""
    place: Place | None = None
    by: str = ""
    note: str = ""
    source: str = ""
    asked: bool = False
    """Whether `unknown` was written out, rather than left away."""
    parts: tuple[tuple[str, str], ...] = ()
    """What stands beside the value in a long form, as it was written, by key."""

    @property
    def known(self) -> bool:
        """Whether something usable was stated or assumed."""
        return self.state in ("stated", "assumed")

    def fault(self, allowed: str, why: str) -> Fault:
        """What is wrong with it as it was written."""
        return Fault(self.path, allowed, self.text, why, self.place)


@dataclass(frozen=True)
class Value(Leaf):
    """A quantity in SI."""

    si: float | None = None
    suffix: str = ""
    word: str = ""
    """A word stated in place of a number, such as "as liquid"."""
    low: float | None = None
    high: float | None = None
    uncertainty: Uncertainty | None = None
    companions: Mapping[str, Value | Word] = field(default_factory=dict)
    """What the number must be read with: strength *at* a temperature, a height *above* a point."""


@dataclass(frozen=True)
class Word(Leaf):
    """One of the words offered, "" where it is not known."""

    word: str = ""


@dataclass(frozen=True)
class Rows(Leaf):
    """A list of sections, each with leaves of its own; empty where it is none or not known."""

    items: tuple[Any, ...] = ()


@dataclass(frozen=True)
class Text(Leaf):
    """Free text."""
