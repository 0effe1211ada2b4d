"""Chapter budget: the uncertainty of the quantity by working the sheet again, and the share of every input.

Linear propagation (JCGM 100, 5.1) with central differences: every uncertain input is put in at plus and minus its
standard uncertainty while the others stay, all in one replay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.working import Entry, replay
from onedatum.physics.uncertainty import (
    combined_standard,
    contributions,
    expanded,
    expanded_share,
    level_uncertainty_m,
    relative,
    shares,
)
from onedatum.study.desk import Desk
from onedatum.study.quantity import QuantityChapter
from onedatum.study.sensitivity import spread_of, uncertain_under
from onedatum.verdicts import Effect, Finding, Link

COVERAGE_FACTOR = 2.0
METHOD = "the chain worked again with each input at plus and minus its standard uncertainty, half the difference taken"


@dataclass(frozen=True)
class BudgetLine:
    """One input of the budget."""

    entry: Entry
    contribution: Entry
    share: Entry


@dataclass(frozen=True)
class Budget:
    """The budget of one quantity."""

    of: Entry
    lines: tuple[BudgetLine, ...]
    expanded: Entry
    relative: Entry
    relative_standard: Entry
    branched_otherwise: float
    """Share of the workings in which a branch of the sheet would have gone the other way."""


def level_uncertainty(desk: Desk, quantity: QuantityChapter) -> Entry:
    """Expanded uncertainty of the level over the datum: reading and datum together."""
    return desk.calc(
        "level.uncertainty",
        level_uncertainty_m,
        shown="mm",
        level_u_m=_standard(desk, quantity.reading),
        datum_u_m=_standard(desk, quantity.datum_error),
        coverage_factor=_coverage(desk),
    )


def budget_chapter(desk: Desk, quantity: QuantityChapter) -> Budget | None:
    """The budget of the wanted quantity; None while it is unknown or no input carries an uncertainty."""
    target = quantity.wanted
    for entry in quantity.measured:
        if entry.uncertainty is None and entry.known:
            desk.want_uncertainty(entry, f"the uncertainty of: {target.meaning}")
    uncertain = uncertain_under(target)
    if not target.known or not uncertain:
        return None
    worked = spread_of(desk.sheet, [target.name], uncertain)
    spread = worked.contributions[target.name]
    if not np.all(np.isfinite(spread)):
        desk.findings.append(_not_worked(target, uncertain))
        return None
    lines = tuple(
        BudgetLine(entry, _contribution(desk, target, entry, part), _share(desk, target, entry, weight))
        for entry, part, weight in zip(uncertain, spread, shares(spread), strict=True)
    )
    standard = combined_standard(spread)
    whole = _expanded(desk, target, uncertain, standard)
    relative_standard = _relative_standard(desk, target, uncertain, standard)
    return Budget(
        target, lines, whole, _relative(desk, target, relative_standard), relative_standard, worked.branched_otherwise
    )


def _expanded(desk: Desk, target: Entry, uncertain: Sequence[Entry], standard: float) -> Entry:
    return desk.sheet.record(
        "budget.expanded_uncertainty",
        float(expanded(standard, COVERAGE_FACTOR)),
        target.suffix,
        f"expanded uncertainty (k = 2) of: {target.meaning}",
        method="twice the root of the sum of the squares of the contributions",
        source="jcgm-100: 5.1.2 and 6.2.1",
        rests_on=[target, *uncertain],
        shown=target.shown,
    )


def _relative_standard(desk: Desk, target: Entry, uncertain: Sequence[Entry], standard: float) -> Entry:
    """The standard uncertainty as share of the value; nothing of an empty vessel has one."""
    return desk.sheet.record(
        "budget.relative_standard_uncertainty",
        relative(standard, target.value) if target.value else None,
        "",
        f"standard uncertainty as share of: {target.meaning}",
        method="root of the sum of the squares of the contributions, over the value",
        source="jcgm-100: 5.1.2 and 5.1.6",
        rests_on=[target, *uncertain],
        shown="%",
    )


def _relative(desk: Desk, target: Entry, standard_share: Entry) -> Entry:
    return desk.calc(
        "budget.relative_uncertainty",
        expanded_share,
        shown="%",
        meaning=f"expanded uncertainty (k = 2) as share of: {target.meaning}",
        standard_share=standard_share,
        coverage_factor=desk.sheet["level.coverage_factor"],
    )


def _not_worked(target: Entry, uncertain: Sequence[Entry]) -> Finding:
    """Within its uncertainty an input leaves what a formula holds for, such as a level at the very bottom."""
    stated = tuple(Link(entry.meaning, entry.text, entry.name) for entry in uncertain)
    return Finding(
        "budget-not-worked",
        "The uncertainty of the quantity cannot be worked here",
        Effect.WARNING,
        (Link(f"An input leaves its validity within its uncertainty; wanted is the {target.meaning}"), *stated),
    )


def temperature_sensitivity(desk: Desk, target: Entry, temperature: Entry) -> Entry | None:
    """What one kelvin of the liquid changes in the quantity."""
    if not target.known or not temperature.known or temperature.value is None:
        return None
    ends = temperature.value + np.array([1.0, -1.0])
    high, low = replay(desk.sheet, [target.name], {temperature.name: ends}).results[target.name]
    change = float(contributions([high], [low])[0])
    if not np.isfinite(change):
        return None
    return desk.sheet.record(
        "budget.change_per_kelvin",
        change,
        target.suffix,
        f"change for one kelvin more of: {target.meaning}",
        method="the chain worked again one kelvin above and below, half the difference taken",
        source="jcgm-100: 5.1.3",
        rests_on=[target, temperature],
        shown=target.shown,
    )


def _contribution(desk: Desk, target: Entry, entry: Entry, value: float) -> Entry:
    return desk.sheet.record(
        f"budget.contribution[{entry.name}]",
        value,
        target.suffix,
        f"contribution of: {entry.meaning}",
        method=METHOD,
        source="jcgm-100: 5.1.3",
        rests_on=[target, entry],
        shown=target.shown,
    )


def _share(desk: Desk, target: Entry, entry: Entry, value: float) -> Entry:
    return desk.sheet.record(
        f"budget.share[{entry.name}]",
        value,
        "",
        f"share of the variance: {entry.meaning}",
        method="square of the contribution over the sum of the squares",
        source="jcgm-100: 5.1.2",
        rests_on=[target, entry],
        shown="%",
    )


def _standard(desk: Desk, entry: Entry) -> Entry:
    """The standard uncertainty of an entry as an entry of its own; unknown where none was stated."""
    stated = entry.uncertainty
    asked = "" if stated else desk.want_uncertainty(entry, "where the high-high alarm must stand")
    return desk.sheet.give(
        f"{entry.name}.u",
        stated.standard if stated else None,
        entry.suffix,
        f"standard uncertainty of: {entry.meaning}",
        state=entry.state if stated else "unknown",
        shown=entry.shown,
        path=asked or entry.path,
        place=entry.place,
        note=stated.text if stated else "no uncertainty stated",
        source="jcgm-100: 4.3.7",
    )


def _coverage(desk: Desk) -> Entry:
    return desk.sheet.give(
        "level.coverage_factor",
        COVERAGE_FACTOR,
        "",
        "coverage factor",
        note="about 95 %",
        state="constant",
        source="jcgm-100: 6.3",
    )
