"""The density at 60 degF of a petroleum liquid closes over all of every group, at every temperature and pressure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.media import (
    PetroleumGroup,
    petroleum_base_density_kg_per_m3,
    petroleum_density_kg_per_m3,
    petroleum_group,
)
from soak.report import Report

NAME = "petroleum_inverse"
WORDS = ("crude oil", "refined product", "lubricating oil")
DENSITIES, TEMPERATURES, PRESSURES = 5001, 81, 16
"""Evenly over the group, over -50 to 150 degC, and over 0 to 1500 psi."""
AT_EDGE = 401
"""Densities within twice the distance kept from an edge, for the second claim."""

CLOSES_TO_KG_PER_M3 = 1e-7
KEPT_FROM_EDGE_KG_PER_M3 = 1.0
AT_EDGE_TO_KG_PER_M3 = 1e-3
TEMPERATURES_K = np.linspace(223.15, 423.15, TEMPERATURES)
PRESSURES_PA = np.linspace(0.0, 1500.0 * 6894.757, PRESSURES)


@dataclass(frozen=True)
class Worst:
    """The worst of what was tried, in kg/m3."""

    away: float
    """Between a density at 60 degF and what comes back, away from the edges."""
    observed: float
    """Between an observed density and that of what comes back, away from the edges."""
    at_edge: float
    """Between a density at 60 degF and what comes back, near an edge."""
    missing: int
    """How many come back as no number."""


def edges(group: PetroleumGroup) -> list[float]:
    """Where one part of the group meets the next."""
    return [float(edge) for edge in group.edges_kg_per_m3]


def densities(group: PetroleumGroup) -> Reals:
    """All of the group, evenly, and the surroundings of its edges more closely."""
    even = np.linspace(group.least_kg_per_m3, group.most_kg_per_m3, DENSITIES)
    reach = 2.0 * KEPT_FROM_EDGE_KG_PER_M3
    near = [np.linspace(edge - reach, edge + reach, AT_EDGE) for edge in edges(group)]
    nearest = [edge + sign * 10.0 ** np.arange(-9.0, 0.0) for edge in edges(group) for sign in (-1.0, 1.0)]
    return np.concatenate([even, *near, *nearest])


def swept(group: PetroleumGroup) -> Worst:
    """Every density at every temperature and pressure, there and back."""
    base = densities(group)[:, None]
    near = np.zeros(len(base), dtype=bool)
    for edge in edges(group):
        near |= np.abs(base[:, 0] - edge) < KEPT_FROM_EDGE_KG_PER_M3
    found = [one_pressure(group, base, near, pressure_Pa) for pressure_Pa in PRESSURES_PA]
    return worst_of(found)


def one_pressure(group: PetroleumGroup, base: Any, near: Any, pressure_Pa: float) -> Worst:
    """Every density at every temperature under one pressure."""
    observed = petroleum_density_kg_per_m3(base, TEMPERATURES_K, pressure_Pa, group)
    back = np.asarray(petroleum_base_density_kg_per_m3(observed, TEMPERATURES_K, pressure_Pa, group))
    again = petroleum_density_kg_per_m3(back, TEMPERATURES_K, pressure_Pa, group)
    off, off_observed = np.abs(back - base), np.abs(np.asarray(again) - np.asarray(observed))
    return Worst(
        float(np.nanmax(off[~near])),
        float(np.nanmax(off_observed[~near])),
        float(np.nanmax(off[near], initial=0.0)),
        int(np.count_nonzero(np.isnan(back))),
    )


def worst_of(found: list[Worst]) -> Worst:
    """The worst of them all."""
    return Worst(
        max(each.away for each in found),
        max(each.observed for each in found),
        max(each.at_edge for each in found),
        sum(each.missing for each in found),
    )


def run() -> Report:
    """Sweep every group and keep the worst."""
    by_word = {word: swept(petroleum_group(word)) for word in WORDS}
    worst = worst_of(list(by_word.values()))
    count = sum(len(densities(petroleum_group(word))) for word in WORDS) * TEMPERATURES * PRESSURES
    return Report(
        title="The density at 60 degF of a petroleum liquid closes",
        statement=f"For every group of petroleum liquids, every density at 60 degF in it, every temperature and every "
        f"pressure that the tables admit, the density at 60 degF found from the observed one differs from the true one "
        f"by at most {CLOSES_TO_KG_PER_M3:g} kg/m3, and so do the observed densities of the two, outside "
        f"{KEPT_FROM_EDGE_KG_PER_M3:g} kg/m3 of an edge between two parts of a group. Within that, where the equations "
        f"themselves jump, it differs by at most {AT_EDGE_TO_KG_PER_M3:g} kg/m3.",
        method=f"A grid: {DENSITIES} densities evenly over the group, more of them around every edge, down to 1e-9 "
        f"kg/m3 from it; {TEMPERATURES} temperatures from -50 degC to 150 degC; {PRESSURES} pressures from 0 to 1500 "
        "psi. The claim is about the inverse alone; that the equations are those of the document is shown in the tests "
        "by its printed limits, by plain arithmetic and by the metric equation of the older edition.",
        numbers=(
            ("points", f"{count}"),
            *((f"comes back within, {word}", f"{ceiling(each.away)} kg/m3") for word, each in by_word.items()),
            ("observed density comes back within", f"{ceiling(worst.observed)} kg/m3"),
            ("comes back within, near an edge", f"{ceiling(worst.at_edge)} kg/m3"),
            ("come back as no number", f"{worst.missing or 'none'}"),
        ),
        seeds=(),
        holds=max(worst.away, worst.observed) <= CLOSES_TO_KG_PER_M3
        and worst.at_edge <= AT_EDGE_TO_KG_PER_M3
        and not worst.missing,
    )


def ceiling(value: float) -> str:
    """A power of ten that leaves room for the last digits in which machines differ."""
    return f"1e{int(np.ceil(np.log10(4.0 * value)))}" if value > 0.0 else "0"
