"""What is drawn of a received record: plain records in the units they are read in."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Window:
    """Where an echo was looked for, in us."""

    low_us: float
    high_us: float
    name: str


@dataclass(frozen=True, slots=True)
class Taken:
    """An echo that was taken: when it came, and the words for it."""

    time_us: float
    words: str


@dataclass(frozen=True, slots=True)
class EchoDrawing:
    """A record over time, what the matched filter makes of it, and what was taken; each curve over its own greatest."""

    title: str
    times_us: tuple[float, ...]
    received: tuple[float, ...]
    filtered: tuple[float, ...]
    threshold: float
    """Of the filtered record, over its greatest."""
    windows: tuple[Window, ...] = ()
    taken: tuple[Taken, ...] = ()
    fault: str = ""
    """Why nothing is read from it; "" where it is sound."""
    caption: str = ""
