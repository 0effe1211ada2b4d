"""Materials of permanent magnets, the field a stem needs, and what surrounds it: usual figures, none a standard."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.sources import Figure
from onedatum.foundation.working import formula


@dataclass(frozen=True)
class MagnetFigure(Figure):
    """One figure of a material, to reckon with where nothing else is known, with its range over the grades."""

    low: float
    high: float


@dataclass(frozen=True)
class MagnetMaterial:
    """A material of magnets with its usual figures."""

    remanence_T: MagnetFigure
    """At 20 degC, of a usual grade."""
    coefficient_per_K: MagnetFigure
    """Reversible change of the remanence; the strongest of the range is reckoned with."""
    temperature_max_K: MagnetFigure
    """Highest temperature; that of the most delicate grade is reckoned with."""


@dataclass(frozen=True)
class LeastField:
    """Range within which the least field lies that a waveguide needs at the float."""

    low_T: float
    high_T: float
    source: str
    tag: str


@dataclass(frozen=True)
class EarthField:
    """Field of the earth, by its order of size."""

    field_T: float
    source: str
    tag: str


@dataclass(frozen=True)
class Surroundings:
    """How far ferromagnetic parts and other magnets keep off a chamber."""

    diameters: float
    """In outside diameters of the chamber."""
    least_m: float
    """And no less than this."""
    source: str
    tag: str


@formula(
    equation="B_r = B_r20*(1 + alpha*dT)",
    gives=("B_r", "remanence at the temperature of the magnet"),
    where={
        "remanence_T": ("B_r20", "remanence at 20 degC", "[-2, 2]"),
        "coefficient_per_K": ("alpha", "reversible change of the remanence per kelvin", "[-0.003, 0.001]"),
        "temperature_difference_K": ("dT", "temperature of the magnet above 20 degC", "[-270, 330]"),
    },
    source="magnet-materials-memory: reversible change, in a straight line",
)
def remanence_at_T(remanence_T: Real, coefficient_per_K: Real, temperature_difference_K: Real) -> Real:
    """Remanence of a magnet at its temperature: it changes the strength of the signal, not the place it is read at.

    Beyond the highest temperature of its grade a magnet loses for good what no formula gives back.

    Example
    -------
    >>> round(remanence_at_T(0.40, -0.002, 60.0), 4)
    0.352
    """
    return remanence_T * (1 + coefficient_per_K * temperature_difference_K)


def magnet_material(material: str) -> MagnetMaterial:
    """Usual figures of a material of permanent magnets.

    Formula
    -------
    looked up

    Parameters
    ----------
    material : str
        "ferrite", "NdFeB", "SmCo", "AlNiCo"

    Returns
    -------
    MagnetMaterial
        remanence [T], its change with temperature [1/K], highest temperature [K]; each with range, source and tag

    Validity
    --------
    for a first look: grades differ, and so does how far a magnet of a given shape bears its own field

    Source
    ------
    Permanent magnets: remanence, its change with temperature, highest temperatures [from memory]

    Example
    -------
    >>> magnet_material("ferrite").coefficient_per_K.value
    -0.002
    """
    rows: Mapping[str, dict[str, Any]] = _table()["materials"]
    if material not in rows:
        remedy = "For another material state the remanence and its change with temperature"
        raise QuantityError(f"one of {', '.join(rows)}", material, _table()["title"], remedy)
    return MagnetMaterial(**{name: MagnetFigure(**figure) for name, figure in rows[material].items()})


def usual_least_field() -> LeastField:
    """Range in which the least field lies that a waveguide needs at the float.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    LeastField
        low and high end [T], source and tag

    Validity
    --------
    an order of size and no default: no number is published; the maker of the stem states his, or it is tried out

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> usual_least_field().high_T
    0.03
    """
    return LeastField(**_table()["least_field"])


def earth_field() -> EarthField:
    """Field of the earth, against which a signal has to stand out.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    EarthField
        field [T], source and tag

    Validity
    --------
    an order of size; 0.025 to 0.065 mT by place

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> earth_field().field_T
    5e-05
    """
    return EarthField(**_table()["earth_field"])


def usual_surroundings() -> Surroundings:
    """How far ferromagnetic walls, coils, clamps and other magnets keep off a chamber; see `clear_distance_m`.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    Surroundings
        diameters of the chamber [1], least distance [m], source and tag

    Validity
    --------
    a rule of thumb; the larger of the two counts

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> usual_surroundings().least_m
    0.1
    """
    return Surroundings(**_table()["surroundings"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("magnet_materials.json")
    return table
