"""Groups of petroleum liquids: which constants hold at which density."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar, NamedTuple

import numpy as np
from numpy.typing import NDArray

from onedatum import data
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import Where, Whole, formula


class Constants(NamedTuple):
    """Constants of the equations, a number each or arrays by density."""

    K0: Any
    K1: Any
    K2: Any


@dataclass(frozen=True)
class PetroleumGroup(Whole):
    """A group of petroleum liquids: its parts by rising density at 60 degF, each with its constants."""

    called: ClassVar[str] = "group"
    own_axis: ClassVar[frozenset[str]] = frozenset({"edges_kg_per_m3", "constants"})

    word: str
    least_kg_per_m3: float
    most_kg_per_m3: float
    edges_kg_per_m3: Reals
    """Densities at which one part ends and the next begins."""
    constants: NDArray[np.float64]
    """A row for each of K0, K1 and K2, a column for each part."""

    def told(self, shown: str = "") -> str:
        """The word for the group."""
        return self.word

    def at(self, density_kg_per_m3: Any) -> Constants:
        """The constants at a density at 60 degF; a density at an edge belongs to the heavier part."""
        if not len(self.edges_kg_per_m3):
            return Constants(*(float(row[0]) for row in self.constants))
        edges_below = np.zeros(np.shape(density_kg_per_m3), dtype=np.int8)
        for edge in self.edges_kg_per_m3:
            edges_below += density_kg_per_m3 >= edge
        part = edges_below.astype(np.intp)
        return Constants(*(row.take(part) for row in self.constants))


@cache
def petroleum_group(word: str) -> PetroleumGroup:
    """The group of that word: crude oil, refined product, lubricating oil."""
    row = data.table("api_mpms_11_1.json")["groups"][word]
    parts = row["parts"]
    constants = np.array([[part[name] for part in parts] for name in ("K0", "K1", "K2")])
    edges = np.array([part["from_kg_per_m3"] for part in parts[1:]])
    return PetroleumGroup(word, parts[0]["from_kg_per_m3"], parts[-1]["to_kg_per_m3"], edges, constants)


_GROUP: Where = {"group": ("g", "group of the petroleum liquid", PetroleumGroup)}


@formula(
    method="the table of groups",
    gives=("rho_low", "least density at 60 degF of the group"),
    where=_GROUP,
    source="api-mpms-11-1: 11.1.5",
)
def least_base_density_kg_per_m3(group: PetroleumGroup) -> Real:
    """Least density at 60 degF for which the group holds.

    Example
    -------
    >>> float(least_base_density_kg_per_m3(petroleum_group("refined product")))
    610.6
    """
    return same_kind(group.least_kg_per_m3)


@formula(
    method="the table of groups",
    gives=("rho_high", "greatest density at 60 degF of the group"),
    where=_GROUP,
    source="api-mpms-11-1: 11.1.5",
)
def greatest_base_density_kg_per_m3(group: PetroleumGroup) -> Real:
    """Greatest density at 60 degF for which the group holds.

    Example
    -------
    >>> float(greatest_base_density_kg_per_m3(petroleum_group("crude oil")))
    1163.5
    """
    return same_kind(group.most_kg_per_m3)
