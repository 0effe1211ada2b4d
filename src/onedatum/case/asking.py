"""How each value of the model is asked for in a form: label, words offered, example, range. The same for every case."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, get_args

from onedatum.case.kinds import Choice, FreeText, Kind, Listing, Quantity
from onedatum.case.leaf import Side
from onedatum.case.model.vessel import OrWord
from onedatum.case.section import Section, section_of
from onedatum.foundation.units import dimension

_VALUE = re.compile(r"value: ([^,}]+)")
_TITLES = {"hart": "HART"}


@dataclass(frozen=True, slots=True, eq=False)
class Ask:
    """How one value is asked for; there is one of it for each value of the model."""

    label: str
    side: Side
    form: str
    """`quantity`, `choice`, `text` or `list`."""
    words: tuple[str, ...] = ()
    """Words offered: those of a choice, or those that may stand in place of a number."""
    example: str = ""
    """How the value alone is written; its parts have fields or places of their own."""
    allowed: str = ""
    """The range allowed in words, with units; for a text its greatest length; "" where any will do."""
    why: str = ""
    """Why the range is what it is."""
    units: tuple[str, ...] = ()
    """Units that are usual for it."""
    shown_in: str = ""
    """The unit results are shown in."""
    ranged: bool = False
    """Whether ends of a range (min, max) may stand beside the value."""
    companions: Mapping[str, Ask] = field(default_factory=dict)
    """What the value must be read with, by key."""


@dataclass(frozen=True, slots=True)
class Part:
    """One key of a section: a value, a section, or a list of sections."""

    name: str
    """The field of the model."""
    key: str
    """The key in the file."""
    title: str
    ask: Ask | None = None
    """Of a value, and of a list that can be `none`."""
    section: type[Section] | None = None
    many: bool = False
    words: tuple[str, ...] = ()
    """Words that may stand in place of the section."""


@cache
def parts_of(section: type[Section]) -> tuple[Part, ...]:
    """The keys of a section in the order of the model."""
    return tuple(_part(name, info.alias or name, info) for name, info in section.model_fields.items())


def about(section: type[Section]) -> str:
    """What a section holds, in one sentence."""
    return (section.__doc__ or "").strip().split("\n")[0]


def title_of(key: str) -> str:
    """A key as a heading."""
    words = key.replace("_", " ").strip()
    return _TITLES.get(key, words[:1].upper() + words[1:])


def _part(name: str, key: str, info: Any) -> Part:
    kind = next((item for item in info.metadata if isinstance(item, Kind)), None)
    if isinstance(kind, Listing):
        return Part(name, key, title_of(key), _ask(kind), kind.of, many=True)
    if kind is not None:
        return Part(name, key, kind.title, _ask(kind))
    words = tuple(item.word for item in info.metadata if isinstance(item, OrWord))
    return Part(name, key, title_of(key), None, section_of(info.annotation), bool(get_args(info.annotation)), words)


def _plain_example(kind: Quantity) -> str:
    """The example without what stands beside the value in a long form."""
    found = _VALUE.search(kind.stated_like)
    return found[1].strip() if found else kind.stated_like


def _ask(kind: Kind) -> Ask:
    if isinstance(kind, Quantity):
        return Ask(
            kind.title,
            kind.side,
            "quantity",
            kind.words,
            _plain_example(kind),
            kind.allowed_in_words,
            kind.why,
            dimension(kind.dimension).offered,
            dimension(kind.dimension).shown,
            kind.ranged,
            {key: _ask(companion) for key, companion in kind.companions.items()},
        )
    if isinstance(kind, Choice):
        return Ask(kind.title, kind.side, "choice", kind.words)
    if isinstance(kind, FreeText):
        return Ask(kind.title, kind.side, "text", allowed=f"at most {kind.longest:,} characters")
    return Ask(kind.title, kind.side, "list", ("none",))
