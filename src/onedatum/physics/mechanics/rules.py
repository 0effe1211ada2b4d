"""Figures that the mechanics of stems are judged with, each with how far it was seen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from onedatum import data

TABLE = "stem_mechanics.json"


@dataclass(frozen=True)
class Rule:
    """One figure."""

    value: float
    source: str
    tag: str


@dataclass(frozen=True)
class MechanicsRules:
    """The figures."""

    drag_coefficient: Rule
    strouhal: Rule
    handling_m: Rule
    resonance_low: Rule
    resonance_high: Rule
    nozzle_gap_m: Rule
    """What a nozzle leaves beside a float that goes through, over both sides."""
    pull_low_N: Rule
    """Usual pull of a flexible stem that is held at both ends, from."""
    pull_high_N: Rule


@cache
def mechanics_rules() -> MechanicsRules:
    """Figures that the mechanics of stems are judged with.

    Formula
    -------
    looked up

    Parameters
    ----------
    none

    Returns
    -------
    MechanicsRules
        drag coefficient, Strouhal number, room for handling [m], band about the resonance, gap of a float in its nozzle
        [m], usual pull of a flexible stem [N]; each with source and tag

    Validity
    --------
    tubes across a flow of liquid

    Source
    ------
    each figure names its own [from memory, common practice]

    Example
    -------
    >>> mechanics_rules().strouhal.value
    0.2
    """
    return MechanicsRules(**{key: Rule(**row) for key, row in data.table(TABLE)["rules"].items()})
