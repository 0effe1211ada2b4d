"""What the card of the signal prints: plain records, filled by whoever holds the study; every cell is text."""

from dataclasses import dataclass

from onedatum.paper.model import Head


@dataclass(frozen=True, slots=True)
class Row:
    """One level: a name where it is a mark, and what stands there in each column."""

    name: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """Everything the card prints, in the order it prints it."""

    head: Head
    title: str
    facts: tuple[str, ...]
    """Range, measurement information, end of the loop."""
    columns: tuple[str, ...]
    marks: tuple[Row, ...]
    rows: tuple[Row, ...]
    step: str
    assumed: bool
    """Whether a number on the card rests on an assumed value."""
    cautions: tuple[str, ...]
