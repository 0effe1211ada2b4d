"""Conductors of cables: the highest resistance that a core may have at 20 degC, by its section and class."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.working import spell_limit


@dataclass(frozen=True)
class CoreResistance:
    """Highest resistance of one core per length at 20 degC, with where it stands."""

    resistance_ohm_per_m: float
    source: str
    """Key and place in the register of sources."""
    tag: str
    """How far the text was seen."""


@dataclass(frozen=True)
class TemperatureCoefficient:
    """Change of resistance per kelvin, related to 20 degC, with where it stands."""

    alpha_per_K: float
    source: str
    tag: str


def core_resistance(area_m2: float, conductor: str) -> CoreResistance:
    """Highest resistance of one core of a cable, from the table of conductors.

    Formula
    -------
    looked up: no value between two rows, for a core of an odd section has no row

    Parameters
    ----------
    area_m2 : float
        nominal section of the core [m2]
    conductor : str
        "class 1 or 2, plain copper", "class 1 or 2, tinned copper", "class 5, plain copper", "class 5, tinned copper"

    Returns
    -------
    CoreResistance
        resistance per length at 20 degC [ohm/m], source and tag

    Validity
    --------
    the sections and conductors of the table; anything else is refused with the list of what there is

    Source
    ------
    IEC 60228 conductors of insulated cables, largest resistances [read second-hand, three concordant reproductions]

    Example
    -------
    >>> core_resistance(0.75e-6, "class 1 or 2, plain copper").resistance_ohm_per_m
    0.0245
    """
    table = _table()
    rows: Mapping[str, list[float]] = table["resistance_ohm_per_m"]
    areas_m2: list[float] = table["area_m2"]
    if conductor not in rows:
        raise QuantityError(f"one of {'; '.join(rows)}", conductor, table["title"])
    for listed_m2, ohm_per_m in zip(areas_m2, rows[conductor], strict=True):
        if math.isclose(area_m2, listed_m2, rel_tol=1e-6):
            return CoreResistance(ohm_per_m, table["source"], table["tag"])
    listed = ", ".join(spell_limit(listed_m2, "m2") for listed_m2 in areas_m2)
    remedy = "For another section state the resistance of the core itself"
    raise QuantityError(f"one of {listed}", spell_limit(area_m2, "m2"), table["title"], remedy)


def copper_temperature_coefficient() -> TemperatureCoefficient:
    """Temperature coefficient of the resistance of copper, related to 20 degC.

    Formula
    -------
    a constant: R = R_20*(1 + alpha*(T - 293.15))

    Parameters
    ----------
    none

    Returns
    -------
    TemperatureCoefficient
        coefficient [1/K], source and tag

    Validity
    --------
    copper at the temperatures of cables

    Source
    ------
    IEC 60028 standard of resistance for copper, at constant mass [from memory]

    Example
    -------
    >>> copper_temperature_coefficient().alpha_per_K
    0.00393
    """
    return TemperatureCoefficient(**_table()["copper"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("iec_60228.json")
    return table
