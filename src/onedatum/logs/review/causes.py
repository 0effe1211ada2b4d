"""Least squares over several causes, of which those that do not count are left out one by one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import regression, t_probability

APART = 4
"""Values beyond the causes that a fit must have."""
DAY_s = 86_400.0
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
    """A series that changes from a place on: at once and for good, or steadily."""

    is_step: bool
    place: int
    """Of the first value after it."""
    cause: Cause
    """Of a step its size; of a drift its slope a day."""
    fit: Fit
    other: float
    """Scatter that the other of the two leaves."""


def changed(at_us: Reals, results: Reals, columns: Mapping[str, Reals], chance: float) -> Change | None:
    """The step or the drift that leaves least, beside the other causes; None where chance may have made it.

    Every place is tried as the begin, for which the probability counts as often.
    """
    days = (at_us - at_us[0]) / 1e6 / DAY_s
    others = {name: column for name, column in columns.items() if name != "time"}
    count = len(results)
    tried: list[tuple[float, int, Fit]] = []
    for name in ("step", "time"):
        places = range(ASIDE, count - ASIDE + 1) if name == "step" else range(max(count - 2 * ASIDE + 1, 1))
        best: tuple[float, int, Fit] | None = None
        for place in places:
            later = np.maximum(days - days[place], 0.0) if name == "time" else (np.arange(count) >= place).astype(float)
            fit = _whole(results, {**others, name: later})
            if fit is not None and (best is None or fit.standard < best[0]):
                best = (fit.standard, place, fit)
        if best is None:
            return None
        tried.append(best)
    is_step = tried[0][0] < BETTER * tried[1][0]
    name = "step" if is_step else "time"
    _, place, fit = tried[0] if is_step else tried[1]
    at = np.arange(count) >= place
    later = at.astype(float) if is_step else np.maximum(days - days[place], 0.0)
    final = fitted(results, {**others, name: later}, chance / count, name)
    cause = final.of(name) if final is not None else None
    if final is None or cause is None or cause.probability * count > chance:
        return None
    return Change(is_step, place, replace(cause, probability=cause.probability * count), final, tried[is_step][0])


def _whole(results: Reals, columns: Mapping[str, Reals]) -> Fit | None:
    """The fit with all causes."""
    if len(results) < len(columns) + APART:
        return None
    try:
        fit = regression(results, np.array(list(columns.values())))
    except ValidityError:
        return None
    return Fit((), fit.standard, fit.degrees_of_freedom)
