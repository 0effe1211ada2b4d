"""The result of a calibration as a record: what is said of each point and of the run, and the numbers behind it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from onedatum.proving.points import Tolerance
from onedatum.proving.readings import Kind
from onedatum.proving.rules import Rule, Word


@dataclass(frozen=True)
class JudgedPoint:
    """One point: its errors over all cycles and directions, and what is said of them."""

    name: str
    share: float
    level_m: float
    least_error_m: float | None
    """None where a reading tells no level."""
    greatest_error_m: float | None
    average_error_m: float | None
    probability: float | None
    """That the error lies within the tolerance, the lesser of those of both ends."""
    verdict: Word
    why: str


@dataclass(frozen=True)
class Figures:
    """The figures of the whole run as shares of the span; None where they cannot be had."""

    greatest_error_share: float
    least_error_share: float
    hysteresis_share: float | None
    non_repeatability_share: float | None
    terminal_linearity_share: float | None
    zero_linearity_share: float | None
    independent_linearity_share: float | None


@dataclass(frozen=True)
class Part:
    """The errors of one part alone, over all readings, and what sets it right."""

    name: str
    least_m: float
    greatest_m: float
    set_by: str


@dataclass(frozen=True)
class Judged:
    """A run that has been judged."""

    rule: Rule
    tag: str
    kind: Kind
    case_hash: str
    when: datetime
    who: str
    tolerance: Tolerance
    judged_on: str
    """Which error is held against the tolerance."""
    standard_u_m: float
    expanded_m: float
    ratio: float
    """The tolerance over the expanded uncertainty."""
    guard_m: float
    risk: float
    """That an error right at the limit of acceptance lies outside the tolerance."""
    verdict: Word
    probability: float | None
    """The least of the points."""
    points: tuple[JudgedPoint, ...]
    figures: Figures | None
    parts: tuple[Part, ...]
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]
    sheet: tuple[Mapping[str, Any], ...]
    """Every number with its formula, inputs and source."""
