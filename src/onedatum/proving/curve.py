"""The figures of a run: averages, hysteresis, non-repeatability and linearity, from the readings of every point."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from onedatum.foundation.working import Entry, Sheet
from onedatum.physics.calibration import (
    AverageCurve,
    Repeats,
    average_error,
    hysteresis,
    independent_linearity,
    repeats_average,
    repeats_spread,
    repeats_standard,
    share_error_m,
    terminal_linearity,
    zero_linearity,
)
from onedatum.proving.judged import Figures
from onedatum.proving.points import Plan, PlannedPoint

_SPAN = "%span"


class Ends(NamedTuple):
    """The levels at 4 and at 20 mA."""

    lower: Entry
    upper: Entry


@dataclass(frozen=True)
class Curve:
    """What the figures are worked from."""

    sheet: Sheet
    plan: Plan
    ends: Ends
    shares: Mapping[str, Entry]
    """Error of every reading as a share of the span, by the name of the reading."""


@dataclass(frozen=True)
class _Point:
    """The entries of one point."""

    average: Entry
    hysteresis: Entry | None
    spreads: tuple[Entry, ...]


def figures_of(curve: Curve) -> Figures:
    """Work the figures of a run in which every reading tells a level."""
    sheet, errors = curve.sheet, list(curve.shares.values())
    greatest = sheet.select("inaccuracy.greatest", "greatest", "largest positive error of the run", errors)
    least = sheet.select("inaccuracy.least", "least", "largest negative error of the run", errors)
    points = [_point(curve, point) for point in curve.plan.points]
    gaps = [point.hysteresis for point in points if point.hysteresis is not None]
    spreads = [spread for point in points for spread in point.spreads]
    gathered = sheet.gather(
        "average_curve",
        _curve(curve, points),
        "average errors along the span",
        method="the average error of every point at its share of the span",
        rests_on=[point.average for point in points],
    )
    lines = {
        name: sheet.calc(f"linearity.{name}", function, shown=_SPAN, curve=gathered).value
        for name, function in (
            ("terminal", terminal_linearity),
            ("zero", zero_linearity),
            ("independent", independent_linearity),
        )
    }
    return Figures(
        greatest.value or 0.0,
        least.value or 0.0,
        sheet.select("hysteresis", "greatest", "hysteresis of the run", gaps).value if gaps else None,
        sheet.select("non_repeatability", "greatest", "non-repeatability of the run", spreads).value
        if spreads
        else None,
        lines["terminal"],
        lines["zero"],
        lines["independent"],
    )


def _curve(curve: Curve, points: list[_Point]) -> AverageCurve:
    """The points in rising order of the share; of a range that acts in reverse they come the other way."""
    rows = sorted(zip((p.share for p in curve.plan.points), (p.average.value or 0.0 for p in points), strict=True))
    shares, errors = zip(*rows, strict=True)
    return AverageCurve(np.array(shares), np.array(errors))


def _point(curve: Curve, point: PlannedPoint) -> _Point:
    sheet, averages, spreads = curve.sheet, {}, []
    for direction in curve.plan.directions:
        name = f"{point.name}, {direction}"
        read = [curve.shares[f"{name} {cycle}"] for cycle in range(1, curve.plan.cycles + 1)]
        repeats = sheet.gather(
            f"repeats[{name}]",
            Repeats(np.array([entry.value for entry in read], dtype=np.float64)),
            "errors of the readings of one point in one direction",
            method="the errors of all cycles",
            rests_on=read,
        )
        averages[direction] = sheet.calc(f"average[{name}]", repeats_average, shown=_SPAN, repeats=repeats)
        if len(read) > 1:
            spreads.append(sheet.calc(f"spread[{name}]", repeats_spread, shown=_SPAN, repeats=repeats))
            sheet.calc(f"type_a[{name}]", repeats_standard, shown=_SPAN, repeats=repeats)
    gap = None
    if len(averages) == 2:
        up, down = averages["up"], averages["down"]
        average = sheet.calc(f"average[{point.name}]", average_error, shown=_SPAN, up_share=up, down_share=down)
        gap = sheet.calc(f"hysteresis[{point.name}]", hysteresis, shown=_SPAN, up_share=up, down_share=down)
    else:
        (average,) = averages.values()
    sheet.calc(
        f"average_error[{point.name}]",
        share_error_m,
        shown="mm",
        meaning="average error at the point",
        error_share=average,
        lower_range_value_m=curve.ends.lower,
        upper_range_value_m=curve.ends.upper,
    )
    return _Point(average, gap, tuple(spreads))
