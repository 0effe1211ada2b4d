"""Several apparatus on one circuit, and the earth of its barrier."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from onedatum import data
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SEVERAL = "iec-60079-14-memory: several apparatus, their capacitances and inductances add"


@dataclass(frozen=True)
class EarthLimit:
    """Largest resistance from a shunt-diode barrier to the equipotential earth, with where it stands."""

    resistance_ohm: float
    source: str
    tag: str


@cache
def earth_limit() -> EarthLimit:
    """Largest resistance from a shunt-diode barrier to the equipotential earth.

    Formula
    -------
    read from ignition_circuit.json

    Parameters
    ----------
    none

    Returns
    -------
    EarthLimit
        resistance [ohm], source and tag

    Validity
    --------
    shunt-diode barriers; an isolator needs no such earth

    Source
    ------
    IEC 60079-14 electrical installations [from memory]

    Example
    -------
    >>> earth_limit().resistance_ohm
    1.0
    """
    return EarthLimit(**data.table("ignition_circuit.json")["earth"])


@formula(
    equation="C = C_1 + C_2",
    gives=("C", "internal capacitance of all apparatus together"),
    where={
        "first_F": ("C_1", "that of the apparatus so far", "[0, 1]"),
        "second_F": ("C_2", "that of one apparatus more", "[0, 0.1]"),
    },
    source=_SEVERAL,
)
def joint_capacitance_F(first_F: Real, second_F: Real) -> Real:
    """Internal capacitance of apparatus on one circuit.

    Example
    -------
    >>> round(joint_capacitance_F(10e-9, 5e-9), 12)
    1.5e-08
    """
    return first_F + second_F


@formula(
    equation="L = L_1 + L_2",
    gives=("L", "internal inductance of all apparatus together"),
    where={
        "first_H": ("L_1", "that of the apparatus so far", "[0, 1000]"),
        "second_H": ("L_2", "that of one apparatus more", "[0, 100]"),
    },
    source=_SEVERAL,
)
def joint_inductance_H(first_H: Real, second_H: Real) -> Real:
    """Internal inductance of apparatus on one circuit.

    Example
    -------
    >>> round(joint_inductance_H(1e-4, 5e-5), 9)
    0.00015
    """
    return first_H + second_H
