"""Rules of the simple check: when the rule of one half applies, what a group sets, a cable whose data are not known."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.physics.ignition.circuit import one_per_cent_capacitance_F, one_per_cent_inductance_H
from onedatum.physics.ignition.words import one_of


@dataclass(frozen=True)
class CircuitGroup:
    """What a group sets for a circuit, with where it stands."""

    group: str
    cap_F: float
    """Highest capacitance under the rule of one half."""
    ignition_energy_J: float
    cap_source: str
    cap_tag: str
    energy_source: str
    energy_tag: str


@dataclass(frozen=True)
class CableDefaults:
    """Cable whose data are not known, with where it stands."""

    capacitance_F_per_m: float
    inductance_H_per_m: float
    ratio_H_per_ohm: float
    ratio_current_max_A: float
    """The ratio holds up to this short-circuit current of the source."""
    holds_for: str
    source: str
    tag: str


def half_rule_applies(
    device_capacitance_F: float,
    device_inductance_H: float,
    permitted_capacitance_F: float,
    permitted_inductance_H: float,
) -> bool:
    """Whether only half of what is permitted may be used: the apparatus has more than 1 % of both.

    The cable does not count. One of the two above 1 % does not bring the rule.

    Formula
    -------
    C_i > 0.01*C_o and L_i > 0.01*L_o

    Parameters
    ----------
    device_capacitance_F : float
        C_i, internal capacitance of all apparatus together [F]
    device_inductance_H : float
        L_i, internal inductance of all apparatus together [H]
    permitted_capacitance_F : float
        C_o, capacitance permitted to the source by its certificate [F]
    permitted_inductance_H : float
        L_o, inductance permitted to the source by its certificate [H]

    Returns
    -------
    bool
        True where the rule of one half applies

    Validity
    --------
    one source with a linear characteristic

    Source
    ------
    IEC 60079-14 electrical installations, simple check of one source [from memory]

    Example
    -------
    >>> half_rule_applies(10e-9, 0.1e-3, 83e-9, 4.2e-3), half_rule_applies(10e-9, 0.0, 83e-9, 4.2e-3)
    (True, False)
    """
    much_capacitance = device_capacitance_F > one_per_cent_capacitance_F(permitted_capacitance_F)
    return bool(much_capacitance and device_inductance_H > one_per_cent_inductance_H(permitted_inductance_H))


def ratio_serves(device_inductance_H: float, permitted_inductance_H: float) -> bool:
    """Whether Lo/Ro may be used for the cable instead of Lo: the apparatus has at most 1 % of the inductance.

    Formula
    -------
    L_i <= 0.01*L_o

    Parameters
    ----------
    device_inductance_H : float
        L_i, internal inductance of all apparatus together [H]
    permitted_inductance_H : float
        L_o, inductance permitted to the source by its certificate [H]

    Returns
    -------
    bool
        True where Lo/Ro may be used

    Validity
    --------
    one source with a linear characteristic

    Source
    ------
    IEC 60079-14 electrical installations, simple check of one source [from memory]

    Example
    -------
    >>> ratio_serves(0.0, 4.2e-3), ratio_serves(0.1e-3, 4.2e-3)
    (True, False)
    """
    return bool(device_inductance_H <= one_per_cent_inductance_H(permitted_inductance_H))


def circuit_group(group: str) -> CircuitGroup:
    """What a group sets for a circuit: the cap after halving, and the ignition energy.

    Formula
    -------
    looked up

    Parameters
    ----------
    group : str
        "I", "IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC"; dust has the values of IIB

    Returns
    -------
    CircuitGroup
        cap [F], ignition energy [J], sources and tags

    Validity
    --------
    intrinsic safety; any other word is refused with the list of what there is

    Source
    ------
    IEC 60079-14 and IEC 60079-11 [from memory]

    Example
    -------
    >>> circuit_group("IIC").cap_F, circuit_group("IIB").cap_F
    (6e-07, 1e-06)
    """
    table = _table()
    rows = {row["group"]: row for row in table["groups"]}
    row = rows[one_of(group, rows, "group of gas or dust")]
    sources = {key: table[key] for key in ("cap_source", "cap_tag", "energy_source", "energy_tag")}
    return CircuitGroup(group, row["cap_F"], row["ignition_energy_J"], **sources)


def cable_defaults() -> CableDefaults:
    """Data to be taken for a cable where its own are not known.

    Formula
    -------
    read from ignition_circuit.json

    Parameters
    ----------
    none

    Returns
    -------
    CableDefaults
        capacitance [F/m], inductance [H/m], inductance per resistance [H/ohm] with its highest current [A], source, tag

    Validity
    --------
    conventional cable of two or three cores; inductance per resistance up to a short-circuit current of 3 A

    Source
    ------
    IEC 60079-25 intrinsically safe systems, 9.3 [read second-hand]

    Example
    -------
    >>> cable_defaults().capacitance_F_per_m, cable_defaults().inductance_H_per_m
    (2e-10, 1e-06)
    """
    return CableDefaults(**_table()["cable"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ignition_circuit.json")
    return table
