"""Least squares over several causes, of which those that do not count are left out one by one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.moments import DAY_s
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import regression, t_probability

APART = 4
"""Values beyond the causes that a fit must have."""
ASIDE = 4
"""Values on either side of a step that must be there."""
BETTER = 0.95
"""Of the scatter that a drift leaves: a step that leaves less is told in its place."""
TOGETHER = 0.9
"""Correlation of two coefficients beyond which the causes are not told apart."""


@dataclass(frozen=True)
class Cause:
    """One cause that counts: coefficient, standard uncertainty, t, probability, what it is not told apart from."""

    name: str
    value: float
    u: float
    t: float
    probability: float
    together: tuple[str, ...]


@dataclass(frozen=True)
class Fit:
    """The causes that count, and the scatter that is left."""

    causes: tuple[Cause, ...]
    standard: float
    free: int

    def of(self, name: str) -> Cause | None:
        """A cause by its name, where it counts."""
        return next((each for each in self.causes if each.name == name), None)


def fitted(results: Reals, columns: Mapping[str, Reals], chance: float, kept: str = "") -> Fit | None:
    """The fit with only causes of a probability below `chance`, and the one that is kept; None where too few values."""
    names = list(columns)
    together: dict[str, tuple[str, ...]] = {}
    while names:
        if len(results) < len(names) + APART:
            return None
        try:
            fit = regression(results, np.array([columns[name] for name in names]))
        except ValidityError:
            names = names[:-1]
            continue
        if not together:
            together = _together(names, fit.correlations)
        t = np.divide(fit.coefficients, np.maximum(fit.standards, 1e-300))
        p = [float(t_probability(float(np.clip(each, -1e6, 1e6)), float(fit.degrees_of_freedom))) for each in t]
        worst = max((number for number, name in enumerate(names) if name != kept), key=lambda i: p[i], default=None)
        if worst is None or p[worst] <= chance:
            causes = [
                Cause(
                    name, float(fit.coefficients[i]), float(fit.standards[i]), float(t[i]), p[i], together.get(name, ())
                )
                for i, name in enumerate(names)
            ]
            return Fit(tuple(causes), fit.standard, fit.degrees_of_freedom)
        names.pop(worst)
    return None


def _together(names: list[str], correlations: Reals) -> dict[str, tuple[str, ...]]:
    """Which causes the whole fit does not tell apart."""
    return {
        name: tuple(names[j] for j in range(len(names)) if j != i and abs(correlations[i, j]) > TOGETHER)
        for i, name in enumerate(names)
    }


@dataclass(frozen=True)
class Change:
    """A series that changes from a place on: at once and for good, steadily, or with a cause that begins there."""

    name: str
    """`step`, `time`, or the cause."""
    place: int
    """Of the first value after it."""
    cause: Cause
    """Of a step its size; of a drift its slope a day."""
    fit: Fit
    other: float
    """Scatter that a drift leaves; of a drift itself that which a step leaves."""


Tried = tuple[float, int, Reals]


def changed(
    at_us: Reals, results: Reals, columns: Mapping[str, Reals], chance: float, begins: Mapping[str, Reals]
) -> Change | None:
    """The step, the drift or the beginning cause that leaves least; None where chance may have made it.

    Every place is tried as the begin, for which the probability counts as often. `begins`: causes that may begin, 0
    where they do nothing.
    """
    days = (at_us - at_us[0]) / 1e6 / DAY_s
    others = {name: column for name, column in columns.items() if name != "time"}
    count = len(results)
    after = np.arange(count)
    tried: dict[str, Tried] = {}
    for name in ("step", "time", *begins):
        low, high = (ASIDE, count - ASIDE + 1) if name == "step" else (0, max(count - 2 * ASIDE + 1, 1))
        best: Tried | None = None
        for place in range(low, high):
            column = begins.get(name, np.ones(count)) if name != "time" else days - days[place]
            later = np.where(after >= place, column, 0.0)
            left = _scatter(results, {**others, name: later})
            if left is not None and (best is None or left < best[0]):
                best = (left, place, later)
        if best is not None:
            tried[name] = best
    return _likeliest(results, others, tried, chance / count)


def _likeliest(results: Reals, others: Mapping[str, Reals], tried: Mapping[str, Tried], chance: float) -> Change | None:
    """The drift, unless a step, and these, unless a cause that begins, leaves clearly less."""
    if "step" not in tried or "time" not in tried:
        return None
    name = "step" if tried["step"][0] < BETTER * tried["time"][0] else "time"
    other = "time" if name == "step" else "step"
    for each, (left, _, _) in tried.items():
        if each not in ("step", "time") and left < BETTER * tried[name][0]:
            name = each
    _, place, later = tried[name]
    final = fitted(results, {**others, name: later}, chance, name)
    cause = final.of(name) if final is not None else None
    if final is None or cause is None or cause.probability > chance:
        return None
    counted = replace(cause, probability=cause.probability * len(results))
    return Change(name, place, counted, final, tried[other][0])


def _scatter(results: Reals, columns: Mapping[str, Reals]) -> float | None:
    """What the fit with all causes leaves."""
    if len(results) < len(columns) + APART:
        return None
    try:
        return regression(results, np.array(list(columns.values()))).standard
    except ValidityError:
        return None
