"""What the words of a build bring along: usual limits by word, and which of them binds.

The figures are common practice; a limit that the case states in `instrument.build`, or of a capacitive probe in
`probe.build`, comes before them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data

TABLE = "builds.json"
Span = tuple[float, float]


@dataclass(frozen=True)
class Build:
    """One word of a build: its limits (None where it has none), its rules, what it changes."""

    aspect: str
    word: str
    changes: tuple[str, ...]
    source: str
    tag: str
    temperature_max_K: float | None = None
    temperature_min_K: float | None = None
    pressure_max_Pa_gauge: float | None = None
    pressure_min_Pa_abs: float | None = None
    length_max_m: float | None = None
    guided_length_max_m: float | None = None
    headroom_over_stem_m: float | None = None
    dead_zone_low_m: Span | None = None
    dead_zone_high_m: Span | None = None
    dead_zones_share: float | None = None
    bend_radius_m: Span | None = None
    neck_m: Span | None = None
    ambient_reduction_K: Span | None = None
    entry_over_float_m: float | None = None
    pipe_over_float_m: float | None = None
    cuttable: str = ""
    """Where it may be cut."""
    adjustable: str = ""
    """Whether its insertion can be set on site."""
    wetted: tuple[str, ...] = ()
    epl: tuple[str, ...] = ()


@dataclass(frozen=True)
class Binding:
    """The limit that binds: its figure, and the word of the build it comes from."""

    figure: float
    build: Build


@cache
def builds() -> tuple[Build, ...]:
    """Every word of every aspect, in the order of the table."""
    table = data.table(TABLE)
    return tuple(_build(row, table["source"], table["tag"]) for row in table["builds"])


def build_of(aspect: str, word: str) -> Build | None:
    """The record of one word; None for a word that is not in the table."""
    return next((each for each in builds() if (each.aspect, each.word) == (aspect, word)), None)


def least(chosen: Sequence[Build], figure: Callable[[Build], float | None]) -> Binding | None:
    """The smallest of a limit over the words chosen: the weakest part decides; None where none has one."""
    found = [Binding(value, each) for each in chosen if (value := figure(each)) is not None]
    return min(found, key=lambda binding: binding.figure, default=None)


def greatest(chosen: Sequence[Build], figure: Callable[[Build], float | None]) -> Binding | None:
    """The largest of a demand over the words chosen; None where none has one."""
    found = [Binding(value, each) for each in chosen if (value := figure(each)) is not None]
    return max(found, key=lambda binding: binding.figure, default=None)


def _build(row: dict[str, Any], source: str, tag: str) -> Build:
    """A row of the table; lists become tuples, and a row without a source of its own takes that of the table."""
    told: dict[str, Any] = {"source": source, "tag": tag}
    told |= {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}
    return Build(**told)
