"""Relative permittivity of pure liquids from a handbook: a point value, and a polynomial within its own range."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar

import numpy as np

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Real, polynomial, same_kind
from onedatum.foundation.units import hint
from onedatum.foundation.working import Where, Whole, apply, formula

LARGEST_DISAGREEMENT = 0.02
"""Share by which polynomial and point value may differ; beyond it one of them is wrong, and it is said."""
PRINTED_WITHIN_K = 0.1
"""Temperatures of the point values are printed so finely: 293.2 K for 20 degC."""
_SOURCE = "crc-permittivity: liquids"


@dataclass(frozen=True)
class LiquidPermittivity(Whole):
    """What the handbook says of one liquid."""

    called: ClassVar[str] = "liquid"
    own_axis: ClassVar[frozenset[str]] = frozenset(
        {"point_K", "point", "coefficients", "lowest_K", "highest_K", "has_polynomial"}
    )

    cas: str
    name: str
    point_K: float
    """Temperature of the point value."""
    point: float
    """The relative permittivity at that temperature, as it is tabled."""
    coefficients: tuple[float, float, float, float]
    """Of the polynomial in kelvins, from the constant up; without a polynomial the point value alone."""
    lowest_K: float
    highest_K: float
    has_polynomial: bool
    """Without one the point value holds at its own temperature alone, as finely as that is printed."""
    source: str
    tag: str

    @property
    def disagreement(self) -> float:
        """By which share the polynomial differs from the point value at its temperature; 0 without a polynomial."""
        at_point: float = polynomial(self.coefficients, self.point_K)
        return at_point / self.point - 1.0

    @property
    def doubtful(self) -> bool:
        """Whether polynomial and point value differ by more than 2 %."""
        return abs(self.disagreement) > LARGEST_DISAGREEMENT

    @property
    def comparable(self) -> bool:
        """Whether the point value lies where the polynomial holds, so that the two say something of one another."""
        return self.lowest_K - PRINTED_WITHIN_K <= self.point_K <= self.highest_K + PRINTED_WITHIN_K

    @property
    def warning(self) -> str:
        """What to tell whoever uses it; "" where there is nothing to tell."""
        if self.lowest_K > self.highest_K:
            return f"{self.name}: the range of the polynomial runs backwards in the table, so it is not used"
        if not self.doubtful:
            return ""
        return (
            f"{self.name}: the polynomial differs by {self.disagreement:+.1%} from the {self.point:g} tabled at "
            f"{self.point_K:g} K; the table does not say which is right"
        )

    def at(self, temperature_K: float) -> float:
        """The relative permittivity at a temperature of its range; elsewhere ValidityError."""
        given: dict[str, Any] = {"temperature_K": temperature_K, "liquid": self}
        return float(apply(fitted_permittivity, given).value)

    def told(self, shown: str = "") -> str:
        """Name, point value and range."""
        point = f"{self.name}, {self.point:g} at {self.point_K:g} K"
        return f"{point}, polynomial from {self.lowest_K:g} K to {self.highest_K:g} K" if self.has_polynomial else point


_LIQUID: Where = {"liquid": ("l", "what the table says of the liquid", LiquidPermittivity)}


@formula(
    method="read from the table",
    gives=("T_low", "lowest temperature of the polynomial"),
    where=_LIQUID,
    source=_SOURCE,
)
def lowest_fitted_K(liquid: LiquidPermittivity) -> Real:
    """Lowest temperature for which the table has the permittivity of a liquid.

    Example
    -------
    >>> float(lowest_fitted_K(liquid_permittivity("64-17-5")))
    163.0
    """
    return same_kind(liquid.lowest_K)


@formula(
    method="read from the table",
    gives=("T_high", "highest temperature of the polynomial"),
    where=_LIQUID,
    source=_SOURCE,
)
def highest_fitted_K(liquid: LiquidPermittivity) -> Real:
    """Highest temperature for which the table has the permittivity of a liquid.

    Example
    -------
    >>> float(highest_fitted_K(liquid_permittivity("64-17-5")))
    523.0
    """
    return same_kind(liquid.highest_K)


_AT: Where = {"temperature_K": ("T", "temperature of the liquid", "[1, 600]")} | _LIQUID
_WITHIN = (
    ("T >= T_low(l)", "the table says nothing of the liquid where it is colder"),
    ("T <= T_high(l)", "the table says nothing of the liquid where it is hotter"),
)
_ENDS = {"T_low": lowest_fitted_K, "T_high": highest_fitted_K}


@formula(
    method="A + B*T + C*T**2 + D*T**3 with the coefficients of the table",
    gives=("eps", "relative permittivity of the liquid"),
    where=_AT,
    requires=_WITHIN,
    calls=_ENDS,
    source=_SOURCE,
)
def fitted_permittivity(temperature_K: Real, liquid: LiquidPermittivity) -> Real:
    """Relative permittivity of a pure liquid by the polynomial of the table, never beyond its range.

    A liquid without a polynomial has its point value, at the temperature of that alone.

    Example
    -------
    >>> float(round(fitted_permittivity(298.15, liquid_permittivity("64-17-5")), 2))
    24.85
    """
    return same_kind(polynomial(liquid.coefficients, np.asarray(temperature_K, dtype=np.float64)))


@formula(
    method="share by which polynomial and point value differ, of the polynomial; none where the point lies outside",
    gives=("u", "what the relative permittivity of the liquid may be off by, either way"),
    where=_AT,
    requires=_WITHIN,
    calls=_ENDS,
    source=_SOURCE,
)
def fitted_half_width(temperature_K: Real, liquid: LiquidPermittivity) -> Real:
    """Half width of the relative permittivity of a pure liquid: what the table contradicts itself by.

    Where the point value stands outside the range of the polynomial there is nothing to compare, and the width is 0.

    Example
    -------
    >>> float(round(fitted_half_width(298.15, liquid_permittivity("64-17-5")), 2))
    0.14
    """
    share = abs(liquid.disagreement) if liquid.comparable else 0.0
    return same_kind(share * np.asarray(polynomial(liquid.coefficients, np.asarray(temperature_K, dtype=np.float64))))


def liquid_permittivity(cas: str) -> LiquidPermittivity:
    """What the handbook says of the relative permittivity of a liquid.

    Formula
    -------
    looked up by CAS number; `at(temperature_K)` gives the polynomial within its range, `point` the value tabled beside

    Parameters
    ----------
    cas : str
        CAS number of the liquid, for example 64-17-5

    Returns
    -------
    LiquidPermittivity
        name, point value and its temperature [K], polynomial and its range [K], disagreement of the two, source, tag

    Validity
    --------
    pure liquids at low frequency; a number that is not listed is refused

    Source
    ------
    CRC Handbook of Chemistry and Physics, 2014, through an open package [read second-hand]

    Example
    -------
    >>> ethanol = liquid_permittivity("64-17-5")
    >>> ethanol.name, ethanol.point, round(ethanol.at(298.15), 2)
    ('Ethanol', 25.3, 24.85)
    """
    try:
        return _liquids()[cas.strip()]
    except KeyError:
        raise QuantityError("the CAS number of a listed liquid, for example 64-17-5", cas, "not in the table") from None


def liquid_named(word: str) -> LiquidPermittivity:
    """What the handbook says of the liquid of a CAS number or a name, as written there; case does not matter.

    A name that is only near is never taken: the error suggests it.
    """
    found = _liquids().get(word.strip()) or _by_name().get(word.strip().lower())
    if found is None:
        names = (liquid.name for liquid in _by_name().values())
        remedy = hint(word.strip(), names, "Look it up by its CAS number")
        raise QuantityError(
            "the name or the CAS number of a liquid of the handbook", repr(word), "not in the table", remedy
        )
    return found


def liquids_with_permittivity() -> tuple[LiquidPermittivity, ...]:
    """All liquids of the table, in its order."""
    return tuple(_liquids().values())


@cache
def _by_name() -> dict[str, LiquidPermittivity]:
    """By name in lower case; a name that two liquids bear, for want of a letter in the table, names none of them."""
    liquids = _liquids().values()
    count = Counter(liquid.name.lower() for liquid in liquids)
    return {liquid.name.lower(): liquid for liquid in liquids if count[liquid.name.lower()] == 1}


@cache
def _liquids() -> dict[str, LiquidPermittivity]:
    table: dict[str, Any] = data.table("permittivity_liquids.json")
    source, tag = table["head"]["source"], table["head"]["tag"]
    return {row[0]: _liquid(row, source, tag) for row in table["liquids"]}


def _liquid(row: list[Any], source: str, tag: str) -> LiquidPermittivity:
    cas, name, point_K, point, a, b, c, d, lowest_K, highest_K = row
    fitted = a is not None
    coefficients = (a, b, c or 0.0, d or 0.0) if fitted else (point, 0.0, 0.0, 0.0)
    if not fitted:
        lowest_K, highest_K = point_K - PRINTED_WITHIN_K, point_K + PRINTED_WITHIN_K
    return LiquidPermittivity(cas, name, point_K, point, coefficients, lowest_K, highest_K, fitted, source, tag)
