"""Least squares over several causes, of which those that do not count are left out one by one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import regression, t_probability

APART = 4
"""Values beyond the causes that a fit must have."""
TOGETHER = 0.9
"""Correlation of two coefficients beyond which the causes are not told apart."""


@dataclass(frozen=True)
class Cause:
    """One cause that counts: its coefficient, standard uncertainty, t, probability, and what it is not told apart from."""

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
