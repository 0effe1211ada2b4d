"""What is drawn of a loop: plain records, every number already formatted with its unit."""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["supply", "barrier", "isolator", "input resistor", "test resistor", "other", "cable", "transmitter"]


@dataclass(frozen=True, slots=True)
class Part:
    """One element of the circuit with up to three short lines of text under its name."""

    kind: Kind
    name: str
    lines: tuple[str, ...] = ()
    known: bool = True
    """False where a value of the element is missing: it is drawn dashed and says "unknown"."""


@dataclass(frozen=True, slots=True)
class Column:
    """A current at which the loop is checked: "3.6 mA", "low failure current"."""

    current: str
    name: str
    worst: bool = False
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the budget, one text for each column."""

    name: str
    values: tuple[str, ...]
    strong: bool = False
    failing: tuple[int, ...] = ()
    """Places of the columns whose value fails, counted from 0."""


@dataclass(frozen=True, slots=True)
class Border:
    """The words on both sides of the boundary to the hazardous area."""

    text_left: str
    text_right: str


@dataclass(frozen=True, slots=True)
class LoopDrawing:
    """A loop: its elements from the supply to the transmitter, and the supply budget."""

    title: str
    parts: tuple[Part, ...] = ()
    columns: tuple[Column, ...] = ()
    rows: tuple[Row, ...] = ()
    border: Border | None = None
    earth: str = ""
    """Words at the earth of a shunt-diode barrier; a note where there is no barrier."""
    longest: str = ""
    note: tuple[str, ...] = ()
