"""Materials that the wires of stems are made of, with where their figures stand and how far these were seen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.physics.magnetostrictive.wave import (
    averaged_shear_modulus_Pa,
    reuss_shear_modulus_Pa,
    voigt_shear_modulus_Pa,
)


@dataclass(frozen=True)
class Waveguide:
    """A material of wires."""

    shear_modulus_Pa: float
    shear_modulus_low_Pa: float
    """Least that is known of it; the same as the modulus where no bounds are known."""
    shear_modulus_high_Pa: float
    density_kg_per_m3: float
    alpha_per_K: float | None
    """Linear expansion, None where it is not known."""
    source: str
    """Key and place in the register of sources."""
    tag: str
    """How far the text was seen."""
    note: str


def waveguide_material(word: str) -> Waveguide:
    """Material of a wire, by its word.

    Formula
    -------
    read from waveguide.json; where constants of a crystal stand there, the modulus is averaged after Hill

    Parameters
    ----------
    word : str
        "constant-modulus alloy", "nickel", "iron-gallium"

    Returns
    -------
    Waveguide
        shear modulus and its bounds [Pa], density [kg/m3], linear expansion [1/K], source, tag and note

    Validity
    --------
    near 20 degC; for a speed to calculate with, the figure that the instrument carries comes before any of these

    Source
    ------
    as the material names it [each with its tag]

    Example
    -------
    >>> alloy = waveguide_material("constant-modulus alloy")
    >>> alloy.shear_modulus_Pa, alloy.density_kg_per_m3, alloy.alpha_per_K
    (65500000000.0, 8050.0, 7.6e-06)
    """
    if word not in waveguide_materials():
        remedy = "For another wire state the speed that the instrument carries"
        raise QuantityError(f"one of {'; '.join(waveguide_materials())}", word, _table()["title"], remedy)
    row = dict(_table()["materials"][word])
    if "crystal" in row:
        row |= _averaged(**row.pop("crystal"))
    return Waveguide(**row)


def waveguide_materials() -> tuple[str, ...]:
    """The words for the materials there are."""
    return tuple(_table()["materials"])


def _averaged(c11_Pa: float, c12_Pa: float, c44_Pa: float) -> dict[str, float]:
    return {
        "shear_modulus_low_Pa": float(reuss_shear_modulus_Pa(c11_Pa, c12_Pa, c44_Pa)),
        "shear_modulus_Pa": float(averaged_shear_modulus_Pa(c11_Pa, c12_Pa, c44_Pa)),
        "shear_modulus_high_Pa": float(voigt_shear_modulus_Pa(c11_Pa, c12_Pa, c44_Pa)),
    }


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("waveguide.json")
    return table
