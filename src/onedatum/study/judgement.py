"""Chapter judgement: every number beside its limit, judged by their margin and its uncertainty.

The uncertainty of the margins comes from the inputs beneath them that state one, all worked in one replay.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import inf, isfinite

from onedatum.foundation.working import Entry
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Comparison, Desk
from onedatum.study.sensitivity import spread_of, uncertain_under
from onedatum.verdicts import Check, Limit, check


def judgement_chapter(desk: Desk) -> None:
    """Judge every comparison the chapters have put down."""
    standard = _standard_uncertainties(desk, [each.margin for each in desk.comparisons if each.margin.known])
    desk.checks.extend(_check(desk, each, standard.get(each.margin.name)) for each in desk.comparisons)


ROUNDING = 1e-12
"""Share of a number that its last digits make: two that differ by no more are the same number, worked in two ways."""


def _left(comparison: Comparison) -> float | None:
    """The margin; nothing where value and limit differ by the rounding of their working alone."""
    margin, value, limit = (each.value for each in (comparison.margin, comparison.value, comparison.limit))
    if margin is None or value is None or limit is None:
        return margin
    return 0.0 if abs(margin) <= ROUNDING * max(abs(value), abs(limit)) else margin


def _check(desk: Desk, comparison: Comparison, standard_uncertainty: float | None) -> Check:
    value, limit, margin = comparison.value, comparison.limit, comparison.margin
    outcome = check(
        comparison.holds,
        Limit(value.text, value.name, limit.text, limit.name, comparison.sense),
        _left(comparison),
        standard_uncertainty=standard_uncertainty,
        safety=comparison.safety,
        waits_for=margin.waits_for,
        knowledge=desk.knowledge(margin.waits_for),
    )
    return replace(outcome, key=comparison.key, remark=comparison.remark, fails=comparison.fails)


def _standard_uncertainties(desk: Desk, margins: Sequence[Entry]) -> Mapping[str, float]:
    """Of every margin that rests on an input with a stated uncertainty.

    Where the margin leaves a validity within that uncertainty nothing can be said of it: its uncertainty is infinite.
    """
    touched = [margin.name for margin in margins if margin.uncertain]
    if not touched:
        return {}
    inputs = uncertain_under(*margins)
    spread = spread_of(desk.sheet, touched, inputs, correlation_of(desk, inputs))
    standard = {name: spread.standard(name) for name in spread.contributions}
    return {name: value if isfinite(value) else inf for name, value in standard.items()}
