"""A finding: a chain of numbers that ends in what the order cannot have, or what must be said; with the ways out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum


class Effect(Enum):
    """What a finding does, the gravest first."""

    BLOCKS = "blocks the order"
    WARNING = "warning"
    HOLDS = "holds"

    @property
    def gravity(self) -> int:
        """Its rank: 0 is the gravest."""
        return list(Effect).index(self)


@dataclass(frozen=True)
class Link:
    """One link of the chain: words, the number they lead to, and its name on the sheet."""

    text: str
    value: str = ""
    entry: str = ""
    change: tuple[str, str] | None = None
    """Of a way out: the path of a value of the case and the text to be tried there, on the safe side of the number."""


@dataclass(frozen=True)
class Finding:
    """What follows from the numbers, in the words of the trade."""

    key: str
    title: str
    effect: Effect
    chain: tuple[Link, ...]
    ways_out: tuple[Link, ...] = ()
    uncertainty_stated: bool = True
    safety: bool = False


def gravest(findings: Sequence[Finding]) -> list[Finding]:
    """Findings that block come first; the order within an effect stays."""
    return sorted(findings, key=lambda finding: finding.effect.gravity)
