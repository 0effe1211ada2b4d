"""What a certificate prints: plain records, filled by whoever holds the calibration.

Everything that is read is text, already formatted; only what the charts draw comes as floats, in millimetres.
"""

from dataclasses import dataclass

from onedatum.paper.model import Head, Note
from onedatum.paper.table.model import Line


@dataclass(frozen=True, slots=True)
class PointRow:
    """One point of a run."""

    name: str
    level: str
    least: str
    greatest: str
    average: str
    probability: str
    verdict: str


@dataclass(frozen=True, slots=True)
class PartRow:
    """The errors of one part alone, and what sets it right."""

    name: str
    least: str
    greatest: str
    set_by: str


@dataclass(frozen=True, slots=True)
class RunSheet:
    """One run, before or after an adjustment."""

    kind: str
    verdict: str
    answer: str
    lines: tuple[Line, ...]
    points: tuple[PointRow, ...]
    figures: tuple[Line, ...]
    parts: tuple[PartRow, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trace:
    """What a chart draws of one run: level, least, greatest and average error of every point."""

    name: str
    points: tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class ErrorChart:
    """Errors over the level between their limits, in mm; None for no limit."""

    traces: tuple[Trace, ...]
    low: float | None
    high: float | None
    guard: float


@dataclass(frozen=True, slots=True)
class DriftChart:
    """Errors of the points over time: days from the first run, in mm."""

    names: tuple[str, ...]
    """Of the points."""
    kinds: tuple[str, ...]
    """As found or as left, of every run."""
    days: tuple[float, ...]
    dates: tuple[str, ...]
    errors: tuple[tuple[float | None, ...], ...]
    """Of every point in every run."""
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Certificate:
    """Everything the certificate of one visit prints, in the order it prints it."""

    head: Head
    answer: str
    rule: str
    rule_said: str
    decision: tuple[Line, ...]
    what: tuple[Line, ...]
    reference: tuple[Line, ...]
    runs: tuple[RunSheet, ...]
    chart: ErrorChart
    records: tuple[Note, ...]
    """The hash of each record and the head of the chain."""
    statement: str
    dated: str
    """The date of the file, as 2026-11-23: that on which the last record was written."""
    cautions: tuple[str, ...] = ()
    attached: tuple[Note, ...] = ()


@dataclass(frozen=True, slots=True)
class Attached:
    """A file within the PDF."""

    name: str
    content: bytes
    mime_type: str
    words: str
