"""Chapter budget: the uncertainty of a quantity by working the sheet again, and the share of every input.

Linear propagation (JCGM 100, 5.1 and 5.2) with central differences: every uncertain input is put in at plus and minus
its standard uncertainty while the others stay, all in one replay. What would improve the result is found by working it
with one input at half its uncertainty.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isinf

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, replay
from onedatum.physics.uncertainty import (
    combined_standard,
    contributions,
    coverage_factor,
    displacements,
    effective_degrees_of_freedom,
    expanded,
    expanded_share,
    level_uncertainty_m,
    relative,
    second_order_standard,
    shares,
    with_column_uncertainty_m,
    with_probe_uncertainty_m,
)
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk
from onedatum.study.quantity import QuantityChapter
from onedatum.study.sensitivity import Spread, both_ways, moved_by, spread_in, spread_of, uncertain_under
from onedatum.verdicts import Effect, Finding, Link

COVERAGE_FACTOR = 2.0
COVERED = 0.9545
"""What a coverage factor of 2 covers of a normal distribution (JCGM 100, table G.2)."""
METHOD = "the chain worked again with each input at plus and minus its standard uncertainty, half the difference taken"
HALF = 0.5
CURVED = 0.02
"""Share by which the terms of second order must move the standard uncertainty to be spoken of."""


@dataclass(frozen=True)
class BudgetLine:
    """One input of the budget."""

    entry: Entry
    contribution: Entry
    share: Entry
    halved: Entry
    """The expanded uncertainty of the result, were this input known twice as well."""


@dataclass(frozen=True)
class Budget:
    """The budget of one quantity."""

    of: Entry
    lines: tuple[BudgetLine, ...]
    expanded: Entry
    relative: Entry
    standard: Entry
    relative_standard: Entry
    coverage: Entry
    correlation: Reals | None
    branched_otherwise: float
    """Share of the workings in which a branch of the sheet would have gone the other way."""
    degrees_of_freedom: Entry | None = None
    """The effective ones, where an input rests on few readings."""
    curved: Entry | None = None
    """The standard uncertainty with the terms of second order, where those count."""

    @property
    def to_improve(self) -> tuple[BudgetLine, ...]:
        """The inputs, first the one whose better knowledge would help most."""
        return tuple(sorted(self.lines, key=lambda line: line.halved.value if line.halved.value is not None else inf))


def with_column(desk: Desk, name: str, level_u: Entry, standard: Entry, meaning: str) -> Entry:
    """The expanded uncertainty of a level with that of the column that tells it."""
    inputs = {"level_uncertainty_m": level_u, "column_u_m": standard, "coverage_factor": _coverage(desk)}
    return desk.worked(name, with_column_uncertainty_m, inputs, shown="mm", meaning=meaning)


def with_probe(desk: Desk, name: str, level_u: Entry, standard: Entry, meaning: str) -> Entry:
    """The expanded uncertainty of a level with that of the probe that tells it."""
    inputs = {"level_uncertainty_m": level_u, "probe_u_m": standard, "coverage_factor": _coverage(desk)}
    return desk.worked(name, with_probe_uncertainty_m, inputs, shown="mm", meaning=meaning)


def level_uncertainty(desk: Desk) -> Entry:
    """Expanded uncertainty of the level over the datum: reading and datum together."""
    return desk.calc(
        "level.uncertainty",
        level_uncertainty_m,
        shown="mm",
        level_u_m=_standard(desk, desk.take(desk.case.level_now, "mm")),
        datum_u_m=_standard(desk, desk.take(desk.case.datum_error, "mm", none=0.0)),
        coverage_factor=_coverage(desk),
    )


def budget_chapter(desk: Desk, quantity: QuantityChapter, temperature: Entry) -> Budget | None:
    """The budget of the wanted quantity; None while it is unknown or no input carries an uncertainty."""
    for entry in quantity.measured:
        if entry.uncertainty is None and entry.known:
            desk.want_uncertainty(entry, f"the uncertainty of: {quantity.wanted.meaning}")
    budget = budget_of(desk, "budget", quantity.wanted)
    others = [entry for entry in quantity.now.stated if entry is not quantity.wanted and entry.known]
    _uncertainties(desk, [entry for entry in others if uncertain_under(entry)])
    _change_per_kelvin(desk, quantity.wanted, temperature)
    return budget


def budget_of(desk: Desk, name: str, target: Entry) -> Budget | None:
    """The budget of one number of the sheet, its entries under `name`."""
    uncertain = uncertain_under(target)
    if not target.known or not uncertain:
        return None
    correlation, number = correlation_of(desk, uncertain), len(uncertain)
    moves = both_ways(number), both_ways(number, HALF), displacements(number)
    full, half, curved = moved_by(desk.sheet, [target.name], uncertain, *moves)
    worked = spread_in(full, correlation)
    spread = worked.contributions[target.name]
    if not np.all(np.isfinite(spread)):
        desk.findings.append(_not_worked(name, target, uncertain))
        return None
    coverage, freedom = _factor(desk, name, target, uncertain, worked)
    halved = spread_in(half, correlation).contributions[target.name]
    made = _Made(desk, name, target, uncertain, worked, coverage, halved, curved.results[target.name])
    lines, widened, relative_standard = made.lines(), made.expanded(), made.relative_standard()
    return Budget(
        target,
        lines,
        widened,
        made.relative(relative_standard),
        made.standard(),
        relative_standard,
        coverage,
        correlation,
        worked.branched_otherwise,
        freedom,
        made.curved(),
    )


@dataclass(frozen=True)
class _Made:
    """The entries of one budget, in the making."""

    desk: Desk
    name: str
    target: Entry
    uncertain: Sequence[Entry]
    worked: Spread
    coverage: Entry
    half_moved: Reals
    """The contributions of the inputs, each moved by half its uncertainty."""
    displaced: Reals
    """The target with the inputs displaced as the terms of second order need it."""

    @property
    def _spread(self) -> Reals:
        return self.worked.contributions[self.target.name]

    @property
    def _standard(self) -> float:
        return self.worked.standard(self.target.name)

    @property
    def _k(self) -> float:
        return self.coverage.value or COVERAGE_FACTOR

    def lines(self) -> tuple[BudgetLine, ...]:
        """A line for each input."""
        parts = zip(self.uncertain, self._spread, shares(self._spread, self.worked.correlation), strict=True)
        lines = [(entry, self._contribution(entry, part), self._share(entry, weight)) for entry, part, weight in parts]
        halved = self._halved()
        return tuple(BudgetLine(*line, self._if_halved(line[0], u)) for line, u in zip(lines, halved, strict=True))

    def expanded(self) -> Entry:
        """The expanded uncertainty."""
        return self._record(
            "expanded_uncertainty",
            float(expanded(self._standard, self._k)),
            f"expanded uncertainty (k = {self.coverage.text}) of: {self.target.meaning}",
            "coverage factor times the root of the sum of the squares of the contributions"
            + (", correlated ones with their products" if self.worked.correlation is not None else ""),
            "jcgm-100: 5.1.2, 5.2.2 and 6.2.1",
        )

    def standard(self) -> Entry:
        """The combined standard uncertainty."""
        return self._record(
            "standard_uncertainty",
            self._standard,
            f"standard uncertainty of: {self.target.meaning}",
            "root of the sum of the squares of the contributions",
            "jcgm-100: 5.1.2 and 5.2.2",
        )

    def relative_standard(self) -> Entry:
        """The standard uncertainty as share of the value; nothing of an empty vessel has one."""
        return self._record(
            "relative_standard_uncertainty",
            relative(self._standard, self.target.value) if self.target.value else None,
            f"standard uncertainty as share of: {self.target.meaning}",
            "root of the sum of the squares of the contributions, over the value",
            "jcgm-100: 5.1.2 and 5.1.6",
            share=True,
        )

    def relative(self, standard_share: Entry) -> Entry:
        """The expanded uncertainty as share of the value."""
        return self.desk.calc(
            f"{self.name}.relative_uncertainty",
            expanded_share,
            shown="%",
            meaning=f"expanded uncertainty (k = {self.coverage.text}) as share of: {self.target.meaning}",
            standard_share=standard_share,
            coverage_factor=self.coverage,
        )

    def curved(self) -> Entry | None:
        """The standard uncertainty with the terms of second order; None where they do not count, or cannot be had."""
        if self.worked.correlation is not None:
            return None
        second = second_order_standard(self.displaced, len(self.uncertain))
        if not abs(second - self._standard) > CURVED * self._standard:
            return None
        return self._record(
            "second_order_standard_uncertainty",
            second,
            f"standard uncertainty with the terms of second order of: {self.target.meaning}",
            "second and third differences of the chain, worked again at one and two standard uncertainties",
            "jcgm-100: 5.1.2 note",
        )

    def _halved(self) -> list[float]:
        """The combined standard uncertainty with one input at half its uncertainty, worked for each in turn."""
        found = []
        for number, part in enumerate(self.half_moved):
            spread = self._spread.copy()
            spread[number] = part
            found.append(combined_standard(spread, self.worked.correlation))
        return found

    def _if_halved(self, entry: Entry, standard: float) -> Entry:
        return self._record(
            f"if_halved[{entry.name}]",
            float(expanded(standard, self._k)),
            f"expanded uncertainty with half the uncertainty of: {entry.meaning}",
            "the chain worked again with this input at half its standard uncertainty, the others as they are",
            "jcgm-100: 5.1.3",
            [entry],
        )

    def _contribution(self, entry: Entry, value: float) -> Entry:
        meaning = f"contribution of: {entry.meaning}"
        return self._record(f"contribution[{entry.name}]", value, meaning, METHOD, "jcgm-100: 5.1.3", [entry])

    def _share(self, entry: Entry, value: float) -> Entry:
        method = "square of the contribution over the sum of the squares"
        if self.worked.correlation is not None:
            method = (
                "contribution times its sum with all that go with it, over the variance; negative where they cancel"
            )
        meaning = f"share of the variance: {entry.meaning}"
        return self._record(f"share[{entry.name}]", value, meaning, method, "jcgm-100: 5.1.2", [entry], share=True)

    def _record(
        self,
        name: str,
        value: float | None,
        meaning: str,
        method: str,
        source: str,
        rests_on: Sequence[Entry] | None = None,
        share: bool = False,
    ) -> Entry:
        """An entry of the budget, in the unit of the result or as a share of it."""
        return self.desk.sheet.record(
            f"{self.name}.{name}",
            value,
            "" if share else self.target.suffix,
            meaning,
            method=method,
            source=source,
            rests_on=[self.target, *(self.uncertain if rests_on is None else rests_on)],
            shown="%" if share else self.target.shown,
        )


def _factor(
    desk: Desk, name: str, target: Entry, uncertain: Sequence[Entry], worked: Spread
) -> tuple[Entry, Entry | None]:
    """The coverage factor: 2, or by the effective degrees of freedom, which it gives too, where readings are few."""
    freedom = [entry.uncertainty.degrees_of_freedom if entry.uncertainty else inf for entry in uncertain]
    if all(map(isinf, freedom)) or worked.correlation is not None:
        return _coverage(desk), None
    effective = effective_degrees_of_freedom(worked.contributions[target.name], freedom)
    degrees = desk.sheet.record(
        f"{name}.degrees_of_freedom",
        effective,
        "",
        f"effective degrees of freedom of: {target.meaning}",
        method="Welch-Satterthwaite: u^4 over the sum of c_i^4/nu_i",
        source="jcgm-100: G.4.1",
        rests_on=[target, *uncertain],
    )
    factor = desk.sheet.record(
        f"{name}.coverage_factor",
        coverage_factor(effective, COVERED),
        "",
        "coverage factor for 95.45 %",
        method="quantile of Student's distribution with the effective degrees of freedom",
        source="jcgm-100: G.3 and G.4",
        rests_on=[target, *uncertain],
    )
    return factor, degrees


def _uncertainties(desk: Desk, amounts: Sequence[Entry]) -> None:
    """The expanded uncertainty of every other quantity of the statement, in one replay."""
    inputs = uncertain_under(*amounts)
    if not inputs:
        return
    worked = spread_of(desk.sheet, [amount.name for amount in amounts], inputs, correlation_of(desk, inputs))
    for amount in amounts:
        standard = worked.standard(amount.name)
        desk.sheet.record(
            f"uncertainty[{amount.name}]",
            float(expanded(standard, COVERAGE_FACTOR)) if np.isfinite(standard) else None,
            amount.suffix,
            f"expanded uncertainty (k = 2) of: {amount.meaning}",
            method=METHOD,
            source="jcgm-100: 5.1.2, 5.2.2 and 6.2.1",
            rests_on=[amount, *uncertain_under(amount)],
            shown=amount.shown,
        )


def _not_worked(name: str, target: Entry, uncertain: Sequence[Entry]) -> Finding:
    """Within its uncertainty an input leaves what a formula holds for, such as a level at the very bottom."""
    stated = tuple(Link(entry.meaning, entry.text, entry.name) for entry in uncertain)
    return Finding(
        f"{name}-not-worked",
        "The uncertainty of the quantity cannot be worked here",
        Effect.WARNING,
        (Link(f"An input leaves its validity within its uncertainty; wanted is the {target.meaning}"), *stated),
    )


def _change_per_kelvin(desk: Desk, target: Entry, temperature: Entry) -> Entry | None:
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
    """The usual coverage factor."""
    return desk.constant(
        "level.coverage_factor", COVERAGE_FACTOR, "", "coverage factor", note="about 95 %", source="jcgm-100: 6.3"
    )
