"""What floats are made of, and the rules by which their walls are judged; every figure with how far it was seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.sources import Figure

TABLE = "float_materials.json"


@dataclass(frozen=True)
class WallRule(Figure):
    """A figure of the rules for walls, with what it is for."""

    why: str


@dataclass(frozen=True)
class FloatMaterial:
    """One material at ambient temperature; None where no figure is kept: the maker's is to be asked for."""

    name: str
    kind: str
    """"metal", "light metal", "plastic" or "foam"."""
    density_kg_per_m3: Figure | None
    elastic_modulus_Pa: Figure | None
    yield_Pa: Figure | None
    poisson_ratio: Figure | None
    alpha_per_K: Figure | None
    temperature_max_K: Figure | None
    relative_permeability: Figure | None
    pressure_max_Pa_gauge: Figure | None
    """What is usual for such floats, where something is."""
    soaking_share: Figure | None
    """Share of its mass that it takes up."""


@dataclass(frozen=True)
class ShellRules:
    """How far the pressure of a perfect wall is brought down, and how far a test goes above the pressure allowed."""

    ball_knockdown: WallRule
    cylinder_knockdown: WallRule
    buckling_safety: WallRule
    yield_safety: WallRule
    test_factor: WallRule
    loading_test_factor: WallRule


def float_materials() -> tuple[str, ...]:
    """The materials there are, by name.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    tuple of str
        names, as `float_material` takes them

    Validity
    --------
    the table shipped

    Source
    ------
    each figure names its own [mostly from memory]

    Example
    -------
    >>> "titanium" in float_materials()
    True
    """
    return tuple(_materials())


def float_material(word: str) -> FloatMaterial:
    """The figures of one material of floats.

    Formula
    -------
    looked up

    Parameters
    ----------
    word : str
        name of the material

    Returns
    -------
    FloatMaterial
        density, elastic modulus, yield strength, Poisson's ratio, expansion, highest temperature, permeability, usual
        pressure, soaking; each with source and tag

    Validity
    --------
    the materials of the table at ambient temperature; strength falls with temperature, so the user's figure comes first

    Source
    ------
    each figure names its own [mostly from memory]

    Example
    -------
    >>> float_material("austenitic stainless steel").alpha_per_K.value
    1.6e-05
    """
    found = _materials().get(word)
    if found is None:
        raise QuantityError(
            f"one of: {'; '.join(_materials())}",
            repr(word),
            "no figures are kept for another",
            "state density, elastic modulus, yield strength and expansion in the case",
        )
    return found


def shell_rules() -> ShellRules:
    """The factors by which walls are judged.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    ShellRules
        knockdown of balls and cylinders, factors of safety, factors of the pressure test, each with source and tag

    Validity
    --------
    a choice of the design, to be replaced by the code that the vessel is built to

    Source
    ------
    each figure names its own [common practice, or read second-hand]

    Example
    -------
    >>> shell_rules().ball_knockdown.value
    0.14
    """
    rows: dict[str, Any] = data.table(TABLE)["rules"]
    return ShellRules(**{key: WallRule(**row) for key, row in rows.items()})


@cache
def _materials() -> dict[str, FloatMaterial]:
    """The table by name; the expansion of each is that of its alloy in the one table of expansion."""
    table = data.table(TABLE)
    expansion = table["expansion_by_alloy"]
    return {name: _material(name, row, expansion[name]) for name, row in table["materials"].items()}


def _material(name: str, row: Mapping[str, Any], expansion: Mapping[str, Any]) -> FloatMaterial:
    given = row["figures"] | {"alpha_per_K": expansion}
    return FloatMaterial(name, row["kind"], **{key: Figure(**one) if one else None for key, one in given.items()})
