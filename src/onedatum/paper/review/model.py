"""What the paper of a log review prints: plain records, filled by whoever holds the review. All text is formatted."""

from dataclasses import dataclass

from onedatum.paper.model import Head


@dataclass(frozen=True, slots=True)
class Band:
    """Least and greatest level in one column of the picture, in mm; both NaN where there is none."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Marked:
    """Where a finding lies, in days since the first row."""

    number: int
    begin: float
    end: float


@dataclass(frozen=True, slots=True)
class Dot:
    """A dip: days since the first row, level in mm."""

    day: float
    level: float


@dataclass(frozen=True, slots=True)
class LogChart:
    """The picture of a log."""

    days: float
    """From its first row to its last."""
    begin: str
    bands: tuple[Band, ...]
    marks: tuple[Marked, ...]
    dips: tuple[Dot, ...]


@dataclass(frozen=True, slots=True)
class Stated:
    """One finding in words."""

    number: str
    title: str
    when: str
    said: str
    statistic: str
    alarms: str
    competing: tuple[str, ...]
    next_check: str


@dataclass(frozen=True, slots=True)
class Worked:
    """A formula that was used: its name, how it is written, its source."""

    name: str
    written: str
    source: str


@dataclass(frozen=True, slots=True)
class LogReview:
    """Everything the paper prints, in the order it prints it."""

    head: Head
    title: str
    basis: str
    cautions: tuple[str, ...]
    chart: LogChart
    findings: tuple[Stated, ...]
    nothing_said: str
    """What stands there where no finding does."""
    not_judged: tuple[str, ...]
    notes: tuple[str, ...]
    looked_said: str
    looked_for: tuple[tuple[str, ...], ...]
    """Signature, size, delay, ceiling."""
    formulas: tuple[Worked, ...]
