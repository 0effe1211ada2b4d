"""Monte Carlo of the wanted quantity: the sheet worked again with drawn inputs, block after block (JCGM 101)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import inf

import numpy as np

from onedatum.case.model.liquid import LEVEL
from onedatum.foundation.errors import Fault
from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, Trials
from onedatum.physics.uncertainty import (
    Distribution,
    Outcome,
    Validation,
    coverage_factor,
    draws,
    monte_carlo,
    outcome_of,
    sobol_draws,
    validated,
)
from onedatum.study.budget import Budget
from onedatum.study.result import Study
from onedatum.study.sensitivity import standard_of

COVERED = 0.95
"""What the intervals cover."""
MOST_TRIALS = 5_000_000
"""Where the figures have not settled by then, that is said; a run takes a second or two."""
FEWEST, LARGEST = 10_000, 10_000_000
FIRST = 2_000
"""Trials worked without tables, to see how far every step spreads."""
MOST_OUTSIDE = 0.001
"""Share of the trials that may leave a validity; above it no figure is given."""
SOBOL_POWER = 16
BLOCK = 40_000
"""Evenly spread points worked at once."""
SEED = 1


@dataclass(frozen=True)
class Chosen:
    """How the trials are drawn: their number (None: until the figures settle), the seed, and whether evenly spread."""

    trials: int | None = None
    seed: int = SEED
    sobol: bool = False


@dataclass(frozen=True)
class Sampled:
    """What came out, and what it rests on."""

    of: Entry
    chosen: Chosen
    outcome: Outcome
    against_linear: Validation
    linear_k: float
    """The coverage factor of the linear interval of the same coverage."""
    tables: Mapping[str, float]
    """By step that was read from a table: how far that is off, in the unit of the step."""
    table_off: float
    """What the tables together do to the result at most, in its unit: the difference over a set of first trials."""
    branched_otherwise: float


UNTIL_SETTLED = Chosen()


def no_quantity(study: Study) -> Fault:
    """Why a study has no quantity: it is not wanted, or no level is stated and nothing measures one."""
    wanted = study.statement.case.wanted.of
    if wanted.word == LEVEL:
        why = "the case wants the level alone: state another word under wanted.of"
        return Fault("wanted.of", "a quantity, for a statement", wanted.word, why, wanted.place)
    why = "no principle is chosen, so nothing measures it"
    return Fault("level_now", "stated, for a statement of quantity", "nothing", why, remedy="State the level as dipped")


def sampled(study: Study, chosen: Chosen = UNTIL_SETTLED) -> Sampled | Fault:
    """Monte Carlo of the wanted quantity; what stands against it as a fault."""
    budget = study.budget
    if budget is None:
        if study.quantity is None:
            return no_quantity(study)
        waiting = ", ".join(study.amounts.wanted.waits_for) or "an input with an uncertainty"
        return Fault("wanted.of", "known with its uncertainty, for a Monte Carlo", f"unknown: waits for {waiting}")
    run = _Run(study, budget, chosen)
    outcome = run.outcome()
    if outcome.outside > MOST_OUTSIDE:
        text = f"{outcome.outside:.2%} of the trials outside"
        why = "they leave what a formula holds for; an interval of the rest would mislead"
        return Fault(budget.of.name, f"such that at most {MOST_OUTSIDE:.1%} of the trials leave a validity", text, why)
    k = coverage_factor(run.freedom(), COVERED)
    value, standard = budget.of.value or 0.0, budget.standard.value or 0.0
    return Sampled(
        budget.of,
        chosen,
        outcome,
        validated(value, k * standard, outcome),
        k,
        {name: run.workings.off(name) for name in run.workings.tables},
        run.table_off,
        run.branched,
    )


class _Run:
    """One run: the distributions, the workings with their tables, and what is counted on the way."""

    def __init__(self, study: Study, budget: Budget, chosen: Chosen) -> None:
        self._study, self._budget, self._chosen = study, budget, chosen
        self._inputs = [line.entry for line in budget.lines]
        self._distributions = [_distribution(entry) for entry in self._inputs]
        first, rest = np.random.SeedSequence(chosen.seed).spawn(2)
        self._random = np.random.Generator(np.random.SFC64(rest))
        opening = self._named(self._drawn(FIRST, np.random.default_rng(first)))
        target = budget.of.name
        self.workings = Trials(study.sheet, [target], opening)
        plain = self.workings.plain[target]
        self.table_off = float(np.nanmax(np.abs(self.workings.again(opening).results[target] - plain), initial=0.0))
        self._count = 0
        self._otherwise = 0.0

    @property
    def branched(self) -> float:
        """Share of the trials in which a branch of the sheet would have gone the other way."""
        return self._otherwise / max(self._count, 1)

    def freedom(self) -> float:
        """The effective degrees of freedom of the linear budget."""
        entry = self._study.sheet.entries.get("budget.degrees_of_freedom")
        return inf if entry is None or entry.value is None else entry.value

    def outcome(self) -> Outcome:
        """The trials, until they settle or as many as were chosen."""
        if self._chosen.sobol:
            points = sobol_draws(self._distributions, SOBOL_POWER, self._chosen.seed, self._budget.correlation)
            blocks = (points[:, start : start + BLOCK] for start in range(0, points.shape[1], BLOCK))
            return outcome_of(np.concatenate([self._block(points) for points in blocks]), COVERED)
        block: Callable[[int], Reals] = lambda count: self._block(self._drawn(count, self._random))  # noqa: E731
        return monte_carlo(block, COVERED, trials=self._chosen.trials, most_trials=MOST_TRIALS)

    def _drawn(self, count: int, random: np.random.Generator) -> Reals:
        return draws(self._distributions, count, random, self._budget.correlation)

    def _block(self, points: Reals) -> Reals:
        again = self.workings.again(self._named(points))
        self._count += points.shape[1]
        self._otherwise += again.branched_otherwise * points.shape[1]
        return again.results[self._budget.of.name]

    def _named(self, points: Reals) -> dict[str, Reals]:
        return {entry.name: row for entry, row in zip(self._inputs, points, strict=True)}


def _distribution(entry: Entry) -> Distribution:
    stated = entry.uncertainty
    form, freedom = (stated.form, stated.degrees_of_freedom) if stated else ("normal", inf)
    return Distribution(entry.value or 0.0, standard_of(entry), form, freedom)
