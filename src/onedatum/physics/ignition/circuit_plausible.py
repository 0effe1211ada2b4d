"""Is what was typed in from a certificate plausible? Estimates and a table, for a warning only, never for design.

Certificates for IIB often state three times the values of IIC by an older rule: what is below these figures is sound.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from onedatum import data
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula
from onedatum.physics.ignition.words import above_zero, one_of

_ENERGY = ("e", "ignition energy of the group", "[1e-6, 0.001]")


@dataclass(frozen=True)
class PlausibleCapacitance:
    """An upper bound of what may be permitted at a voltage, with the row it comes from."""

    capacitance_F: float
    voltage_V: float
    """Voltage of the row, not above the one asked for."""
    group: str
    """Group of the column: dust reads that of IIB."""
    source: str
    tag: str


@formula(
    equation="L = 2*e/(1.5*I_o)**2",
    gives=("L", "inductance that stores the ignition energy at 1.5 times the current"),
    where={
        "short_circuit_current_A": ("I_o", "highest short-circuit current of the source", "(0, 10]"),
        "ignition_energy_J": _ENERGY,
    },
    source="derived: energy of an inductance, safety factor 1.5; ignition energy by group (from memory)",
)
def inductance_estimate_H(short_circuit_current_A: Real, ignition_energy_J: Real) -> Real:
    """Inductance that a certificate may permit, estimated from the ignition energy.

    Example
    -------
    >>> round(inductance_estimate_H(0.093, 40e-6), 6)
    0.004111
    """
    return 2 * ignition_energy_J / (1.5 * short_circuit_current_A) ** 2


@formula(
    equation="r = (8*e*R_s + sqrt(max(0, 64*e*e*R_s*R_s - 72*U_o*U_o*e*L_s)))/(4.5*U_o*U_o)",
    gives=("r", "inductance per resistance that may be permitted to the cable"),
    where={
        "open_circuit_voltage_V": ("U_o", "highest open-circuit voltage of the source", "(0, 400]"),
        "source_resistance_ohm": ("R_s", "least output resistance of the source", "(0, 1000000]"),
        "ignition_energy_J": _ENERGY,
        "source_inductance_H": ("L_s", "inductance inside the source", "[0, 100]"),
    },
    requires=(("L_s <= 64*e*R_s*R_s/(72*U_o*U_o)", "the inductance of the source alone may reach the energy"),),
    source="iec-60079-11-memory: inductance per resistance of a cable",
)
def permitted_ratio_H_per_ohm(
    open_circuit_voltage_V: Real, source_resistance_ohm: Real, ignition_energy_J: Real, source_inductance_H: Real
) -> Real:
    """Inductance per resistance of the cable that a certificate may permit.

    Example
    -------
    >>> round(float(permitted_ratio_H_per_ohm(28.0, 28.0 / 0.093, 40e-6, 0.0)), 8)
    5.462e-05
    """
    e, R_s, U_o = ignition_energy_J, source_resistance_ohm, open_circuit_voltage_V
    under_root = 64 * e * e * R_s * R_s - 72 * U_o * U_o * e * source_inductance_H
    result: Real = (8 * e * R_s + np.sqrt(np.maximum(0, under_root))) / (4.5 * U_o * U_o)
    return result


def plausible_capacitance_F(voltage_V: float, group: str) -> PlausibleCapacitance | None:
    """Upper bound of the capacitance that may be permitted at a voltage, for plausibility and not for design.

    More than this on a certificate asks for a second look at what was typed in. The bound is that of the highest row
    not above the voltage: at the voltage itself less is permitted, so nothing may be designed by it.

    Formula
    -------
    looked up: the row of the highest voltage not above the one asked for; no value between two rows

    Parameters
    ----------
    voltage_V : float
        highest open-circuit voltage of the source [V]
    group : str
        group of gas or dust; dust reads the column of IIB

    Returns
    -------
    PlausibleCapacitance or None
        capacitance [F] and voltage [V] of the row, source and tag; None below the table and for a group without column

    Validity
    --------
    above the least voltage of the table, 10.5 V; factor 1.5, levels ia and ib

    Source
    ------
    IEC 60079-11 intrinsic safety, permitted capacitance by voltage [from memory; row of 28 V read second-hand]

    Example
    -------
    >>> plausible_capacitance_F(29.0, "IIC").capacitance_F
    8.3e-08
    """
    above_zero(voltage_V, "a voltage above 0 V", "open-circuit voltage of the source")
    table = _table()
    groups = {row["group"]: row.get("as", row["group"]) for row in table["groups"]}
    column = groups[one_of(group, groups, "group of gas or dust")]
    rows = table["capacitances"]["rows"]
    reached = [row for row in rows if row["voltage_V"] <= voltage_V and row.get(column) is not None]
    if not reached:
        return None
    row = {**table["capacitances"], **max(reached, key=lambda row: float(row["voltage_V"]))}
    return PlausibleCapacitance(row[column], row["voltage_V"], column, row["source"], row["tag"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ignition_circuit.json")
    return table
