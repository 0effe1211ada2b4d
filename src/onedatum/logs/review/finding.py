"""What a review says: findings with statistic, rate of false alarms and other explanations; what was not judged."""

from __future__ import annotations

from dataclasses import dataclass, field

from onedatum.foundation.moments import YEAR_s
from onedatum.logs.review.limits import Kind, kinds

CLOCKS = ("clock_forward", "clock_back", "clock_lag")
"""Signatures of a clock in doubt: a lag that is there throughout begins with the log."""


@dataclass(frozen=True)
class Statistic:
    """A number that was worked, and the limit it is beyond."""

    name: str
    value: float
    limit: float
    is_below: bool = False
    """Whether the finding is a value below the limit."""


@dataclass(frozen=True)
class FalseAlarms:
    """How often chance alone would show the same."""

    per_year: float
    """For the sampling of this log."""
    words: str
    """How it was worked, and what it supposes."""
    run_length_s: float | None = None
    """Mean time to a false alarm, where the finding is one of a chart."""


@dataclass(frozen=True)
class Size:
    """How large it is: a name, the number in SI and its unit suffix."""

    name: str
    value: float
    suffix: str


@dataclass(frozen=True)
class Finding:
    """One thing that stands out; a signature, never a cause."""

    kind: str
    from_us: int
    to_us: int
    statistic: Statistic
    false_alarms: FalseAlarms
    said: str
    sizes: tuple[Size, ...] = ()
    more: tuple[str, ...] = ()
    """Explanations that this log adds to those of the table."""

    @property
    def of(self) -> Kind:
        """Its signature."""
        return kinds()[self.kind]

    @property
    def competing(self) -> tuple[str, ...]:
        """Everything that may look like it."""
        alike = (f"{words}" for words in self.of.alike)
        return tuple(dict.fromkeys([*self.more, *self.of.competing, *alike]))


@dataclass
class Judged:
    """What detectors give."""

    findings: list[Finding] = field(default_factory=list)
    unjudged: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    is_whole: bool = True
    """Whether detectors were run at all."""

    def has(self, kind: str) -> bool:
        """Whether there is a finding of a kind so far."""
        return any(each.kind == kind for each in self.findings)

    @property
    def clock_until_us(self) -> float:
        """Until when times of the log may be held against others: the first doubt about its clock."""
        doubts = [each.from_us for each in self.findings if each.kind in CLOCKS]
        return float(min(doubts, default=float("inf")))

    @property
    def clock_off_us(self) -> int:
        """By how much a clock in doubt is off at most, as far as it is known."""
        sizes = [abs(size.value) for each in self.findings if each.kind in CLOCKS for size in each.sizes]
        return round(max(sizes, default=0.0) * 1e6)

    def cannot(self, words: str) -> None:
        """Name what could not be judged, once."""
        if words not in self.unjudged:
            self.unjudged.append(words)


def by_limits(words: str) -> FalseAlarms:
    """Of a finding in which there is no chance."""
    return FalseAlarms(0.0, f"no chance is in it: {words}")


def by_test(chance: float, span_s: float, words: str) -> FalseAlarms:
    """Of a test of a whole log: a chance in each log as long as this."""
    rate = chance * YEAR_s / max(span_s, 1.0)
    return FalseAlarms(rate, f"a chance of {chance:g} in each log of this length; supposes {words}")
