"""A liquid whose densities stand in a table, such as that of its maker or of a certificate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, same_kind
from onedatum.foundation.working import Where, Whole, formula

LARGEST_JUMP = 0.2
"""Share by which the densities of neighbouring rows may differ; more is a slip of the pen."""


@dataclass(frozen=True)
class DensityTable(Whole):
    """Densities by temperature, from the coldest up; raises ValidityError for rows that make no table."""

    called: ClassVar[str] = "densities"
    own_axis: ClassVar[frozenset[str]] = frozenset({"temperatures_K", "densities_kg_per_m3"})

    temperatures_K: Reals
    densities_kg_per_m3: Reals

    def __post_init__(self) -> None:
        densities = self.densities_kg_per_m3
        if len(densities) < 2:
            raise _refusal("two rows or more", f"{len(densities)}", "one density holds at one temperature")
        if not np.all(np.diff(self.temperatures_K) > 0.0):
            raise _refusal("in rising order of temperature", "rows out of order", "each row once, from the coldest up")
        if not np.all(densities > 0.0):
            raise _refusal("above 0 kg/m3 in every row", "another", "no liquid weighs nothing")
        jumps = np.abs(np.diff(densities)) / np.minimum(densities[:-1], densities[1:])
        if np.max(jumps) > LARGEST_JUMP:
            row = int(np.argmax(jumps))
            got = f"{densities[row]:g} and {densities[row + 1]:g} kg/m3 in rows {row + 1} and {row + 2}"
            raise _refusal("within 20 % from row to row", got, "no liquid changes so much; a digit may be wrong")

    def told(self, shown: str = "") -> str:
        """How many rows there are, and from where to where."""
        low, high = self.temperatures_K[[0, -1]] - 273.15
        return f"{len(self.temperatures_K)} densities from {low:.5g} degC to {high:.5g} degC"


def _refusal(allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError("media.tabled_density", "table", allowed, got, why)


_TABLE: Where = {"table": ("t", "densities by temperature", DensityTable)}


@formula(
    method="the first row",
    gives=("T_low", "lowest temperature of the table"),
    where=_TABLE,
    source="case",
)
def coldest_row_K(table: DensityTable) -> Real:
    """Lowest temperature of a table of densities.

    Example
    -------
    >>> float(coldest_row_K(DensityTable(np.array([280.0, 300.0]), np.array([1000.0, 990.0]))))
    280.0
    """
    return same_kind(table.temperatures_K[0])


@formula(
    method="the last row",
    gives=("T_high", "highest temperature of the table"),
    where=_TABLE,
    source="case",
)
def hottest_row_K(table: DensityTable) -> Real:
    """Highest temperature of a table of densities.

    Example
    -------
    >>> float(hottest_row_K(DensityTable(np.array([280.0, 300.0]), np.array([1000.0, 990.0]))))
    300.0
    """
    return same_kind(table.temperatures_K[-1])


@formula(
    method="straight between the neighbouring rows",
    gives=("rho", "density of the liquid"),
    where={"temperature_K": ("T", "temperature of the liquid", "[73, 1300]")} | _TABLE,
    requires=(
        ("T >= T_low(t)", "a table says nothing of what is colder than its first row"),
        ("T <= T_high(t)", "a table says nothing of what is hotter than its last row"),
    ),
    calls={"T_low": coldest_row_K, "T_high": hottest_row_K},
    source="case: straight lines between the rows",
)
def tabled_density_kg_per_m3(temperature_K: Real, table: DensityTable) -> Real:
    """Density of a liquid by a table, never beyond its rows.

    What straight lines may be off by is worked by `densities_bend_kg_per_m3`.

    Example
    -------
    >>> float(tabled_density_kg_per_m3(290.0, DensityTable(np.array([280.0, 300.0]), np.array([1000.0, 990.0]))))
    995.0
    """
    return same_kind(np.interp(temperature_K, table.temperatures_K, table.densities_kg_per_m3))


@formula(
    method="largest step**2/8 times the second derivative, which is twice the divided difference of three rows",
    gives=("e", "what straight lines between the rows may be off by"),
    where=_TABLE,
    source="derived: remainder of linear interpolation",
)
def densities_bend_kg_per_m3(table: DensityTable) -> Real:
    """Largest error of straight lines between the rows, as far as the rows show how the density bends.

    Two rows do not show it: the result is not a number.

    Example
    -------
    >>> bent = DensityTable(np.array([280.0, 290.0, 300.0]), np.array([1000.0, 996.0, 990.0]))
    >>> float(round(densities_bend_kg_per_m3(bent), 6))
    0.25
    """
    temperature_K = table.temperatures_K
    if len(temperature_K) < 3:
        return np.nan
    steps_K = np.diff(temperature_K)
    slopes = np.diff(table.densities_kg_per_m3) / steps_K
    bends = np.abs(2.0 * np.diff(slopes) / (temperature_K[2:] - temperature_K[:-2]))
    beside = np.maximum(np.append(bends, 0.0), np.append(0.0, bends))
    return same_kind(np.max(steps_K**2 / 8.0 * beside))
