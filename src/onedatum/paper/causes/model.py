"""What the paper on which part may be wrong prints: plain records, filled by whoever holds the ranking.

Everything that is read is text, already formatted; only what the charts draw comes as floats in the units that they
name.
"""

from dataclasses import dataclass

from onedatum.paper.model import Head, Note


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading: the level by the dip in mm, the value, whether the level came from below."""

    level: float
    value: float
    is_rising: bool = True


@dataclass(frozen=True, slots=True)
class Trace:
    """What an explanation, or a sound instrument, would read."""

    name: str
    marks: tuple[Mark, ...]
    place: int = 0
    """Of the explanation."""


@dataclass(frozen=True, slots=True)
class LevelChart:
    """One channel over the level: as read, of a sound instrument, and what the likeliest explanations would make."""

    name: str
    unit: str
    read: tuple[Mark, ...]
    sound: Trace
    explained: tuple[Trace, ...]


@dataclass(frozen=True, slots=True)
class Pattern:
    """One cause alone: read and predicted, both less what a sound instrument would read."""

    title: str
    place: int
    """Of the explanation that it belongs to."""
    unit: str
    read: tuple[Mark, ...]
    predicted: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """Causes that the readings do not tell apart, with their probability together."""

    place: str
    probability: str
    words: str
    size: str
    shape: str
    alike: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Prior:
    """What was held likely of one cause before anything was read."""

    words: str
    weight: str
    size: str


@dataclass(frozen=True, slots=True)
class WhichPart:
    """Everything the paper prints, in the order it prints it."""

    head: Head
    answer: str
    said: tuple[str, ...]
    cautions: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    chart: LevelChart
    patterns: tuple[Pattern, ...]
    explanations: tuple[Explanation, ...]
    unlikely: str
    """Every other cause, in words."""
    further: tuple[Note, ...]
    priors_said: str
    priors: tuple[Prior, ...]
    spreads: tuple[tuple[str, str], ...]
    """How well things were taken to be read."""
