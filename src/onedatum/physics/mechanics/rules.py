"""Figures that the mechanics of stems are judged with, each with how far it was seen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from onedatum import data
from onedatum.foundation.sources import Figure

TABLE = "stem_mechanics.json"


@dataclass(frozen=True)
class MechanicsRules:
    """The figures."""

    drag_coefficient: Figure
    strouhal: Figure
    handling_m: Figure
    resonance_low: Figure
    resonance_high: Figure
    nozzle_gap_m: Figure
    """What a nozzle leaves beside a float that goes through, over both sides."""
    pull_low_N: Figure
    """Usual pull of a flexible stem that is held at both ends, from."""
    pull_high_N: Figure


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
    return MechanicsRules(**{key: Figure(**row) for key, row in data.table(TABLE)["rules"].items()})
