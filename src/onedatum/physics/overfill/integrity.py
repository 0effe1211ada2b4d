"""Words of functional safety, low demand: architectures, bands of the probability of failure, fault tolerance.

None of this claims a safety integrity level. A level asks for the band of the whole function, for the fault tolerance
of each of its parts and for their systematic capability; a probability alone names none.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.errors import QuantityError

_IN_THIS_ROOM = "Work the architecture with a model of its own"


@dataclass(frozen=True)
class Architecture:
    """A group of equal channels: how many there are, and how many of them must act."""

    word: str
    needed: int
    channels: int
    source: str
    tag: str

    @property
    def fault_tolerance(self) -> int:
        """How many channels may fail dangerously while the function is still there."""
        return self.channels - self.needed


@dataclass(frozen=True)
class LeastFaultTolerance:
    """The hardware fault tolerance that a safety integrity level asks for, with where it stands."""

    sil: int
    faults: int
    source: str
    tag: str


@dataclass(frozen=True)
class RareFailures:
    """Up to where the equations of first order are to be trusted, with where it stands."""

    most_per_interval: float
    """Undetected failures to be expected within one proof test interval."""
    words: str
    source: str
    tag: str


def architectures() -> tuple[str, ...]:
    """The words for the architectures that this room knows: so many out of so many channels must act."""
    return tuple(_architectures())


def architecture_of(architecture: str) -> Architecture:
    """The architecture of a word; another word is refused with the list of what there is."""
    known = _architectures()
    if architecture not in known:
        raise QuantityError(
            f"one of {', '.join(known)}", architecture, "Architectures of equal channels", _IN_THIS_ROOM
        )
    return known[architecture]


def fault_tolerance_of(architecture: str) -> int:
    """Hardware fault tolerance of an architecture.

    Formula
    -------
    channels less those that must act

    Parameters
    ----------
    architecture : str
        "1oo1", "1oo2", "2oo2", "2oo3"

    Returns
    -------
    int
        how many channels may fail dangerously while the function is still there

    Validity
    --------
    the architectures of the list; anything else is refused with it

    Source
    ------
    IEC 61508-6:2010 Annex B, probability of failure on demand [read second-hand]

    Example
    -------
    >>> [fault_tolerance_of(word) for word in architectures()]
    [0, 1, 0, 1]
    """
    return architecture_of(architecture).fault_tolerance


def sil_band(pfd: float) -> str:
    """Band of a probability of failure on demand. It is the number of a band, not the claim of a level.

    Formula
    -------
    band n: 10**-(n + 1) <= PFD < 10**-n

    Parameters
    ----------
    pfd : float
        PFD, average probability of failure on demand of the whole function [1]

    Returns
    -------
    str
        "none", "1", "2", "3", "4" or "beyond 4"

    Validity
    --------
    low demand; from 0 to 1, anything else is refused

    Source
    ------
    IEC 61508-1, bands of the safety integrity level, low demand [read second-hand]

    Example
    -------
    >>> sil_band(0.0024528), sil_band(0.25), sil_band(9e-6)
    ('2', 'none', 'beyond 4')
    """
    if not 0.0 <= pfd <= 1.0:
        raise QuantityError("a probability from 0 to 1", f"{pfd:g}", "A probability of failure on demand")
    bands = _table()["bands"]
    inside = [str(row["band"]) for row in bands["rows"] if row["least"] <= pfd < row["below"]]
    highest = max(row["below"] for row in bands["rows"])
    return inside[0] if inside else str(bands["above_all" if pfd >= highest else "below_all"])


def least_fault_tolerance(sil: int) -> LeastFaultTolerance:
    """Least hardware fault tolerance that a safety integrity level asks for.

    Formula
    -------
    looked up

    Parameters
    ----------
    sil : int
        safety integrity level, 1 to 3

    Returns
    -------
    LeastFaultTolerance
        number of faults, source and tag

    Validity
    --------
    low demand, levels 1 to 3; level 4 is refused: this room holds no row for it

    Source
    ------
    IEC 61511-1:2016, Table 6: hardware fault tolerance, low demand [read second-hand]

    Example
    -------
    >>> [least_fault_tolerance(sil).faults for sil in (1, 2, 3)]
    [0, 0, 1]
    """
    table = _table()["fault_tolerance"]
    faults: Mapping[str, int] = table["faults"]
    if str(sil) not in faults:
        why = "Least hardware fault tolerance, low demand"
        remedy = "Take a level beyond them to those competent for functional safety"
        raise QuantityError(f"one of {', '.join(faults)}", str(sil), why, remedy)
    return LeastFaultTolerance(sil, faults[str(sil)], table["source"], table["tag"])


def highest_sil_by_architecture(architecture: str) -> int:
    """Highest safety integrity level whose least fault tolerance an architecture has.

    A bound, not a claim: the probability of failure and the systematic capability may allow less.

    Formula
    -------
    largest level with least fault tolerance <= fault tolerance of the architecture

    Parameters
    ----------
    architecture : str
        "1oo1", "1oo2", "2oo2", "2oo3"

    Returns
    -------
    int
        the level, at most 3

    Validity
    --------
    low demand; as `least_fault_tolerance` and `fault_tolerance_of`

    Source
    ------
    IEC 61511-1:2016, Table 6: hardware fault tolerance, low demand [read second-hand]

    Example
    -------
    >>> [highest_sil_by_architecture(word) for word in ("1oo1", "2oo3")]
    [2, 3]
    """
    has = fault_tolerance_of(architecture)
    levels = [int(sil) for sil in _table()["fault_tolerance"]["faults"]]
    return max(sil for sil in levels if least_fault_tolerance(sil).faults <= has)


def rare_failures() -> RareFailures:
    """Up to how many undetected failures within an interval the equations of first order are to be trusted.

    Formula
    -------
    a constant, to be compared with lambda_DU*T_1: above it a warning is due

    Parameters
    ----------
    none

    Returns
    -------
    RareFailures
        number of failures [1], what it means, source and tag

    Validity
    --------
    the equations of IEC 61508-6 Annex B

    Source
    ------
    IEC 61508-6:2010 Annex B, probability of failure on demand, equations of first order [read second-hand]

    Example
    -------
    >>> rare_failures().most_per_interval
    0.1
    """
    return RareFailures(**_table()["rare_failures"])


@cache
def _architectures() -> Mapping[str, Architecture]:
    table = _table()["architectures"]
    return {row["word"]: Architecture(**row, source=table["source"], tag=table["tag"]) for row in table["rows"]}


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("integrity.json")
    return table
