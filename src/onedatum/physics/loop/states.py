"""What a loop current says of itself: measurement, failure, or neither.

The limits are those of the receiver and may be set otherwise than usual. What lies between failure and measurement is
neither, and a short stay there decides nothing; how long one must last is a matter of the receiver.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from onedatum import data
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import spell_limit
from onedatum.physics.loop.limit import Limit

_ROUNDING = 4 * float(np.finfo(np.float64).eps)
"""Share of a limit that a current may be off by and still stand on it: 3.6 mA is 3.6*1e-3 A or 3.6/1000 A alike."""


@dataclass(frozen=True)
class Bands:
    """Limits between failure, neither and measurement; replace a field to set it otherwise."""

    failure_low_A: Limit
    """At or below it: failure."""
    information_low_A: Limit
    """From it on: measurement."""
    information_high_A: Limit
    """Up to it: measurement."""
    failure_high_A: Limit
    """At or above it: failure."""

    def __post_init__(self) -> None:
        """Refuse limits out of order."""
        low, first, last, high = self.currents_A
        if not 0 < low <= first < last <= high < np.inf:
            raise QuantityError(
                "in the order failure, measurement from, measurement up to, failure",
                ", ".join(spell_limit(current, "A") for current in self.currents_A),
                "Failure and measurement may touch, but not overlap",
            )

    @property
    def currents_A(self) -> tuple[float, float, float, float]:
        """The four limits as plain numbers, from the lowest to the highest."""
        return (
            self.failure_low_A.value,
            self.information_low_A.value,
            self.information_high_A.value,
            self.failure_high_A.value,
        )


@dataclass(frozen=True)
class StateMeaning:
    """What a state of the signal means, with where that stands."""

    meaning: str
    source: str
    tag: str
    note: str = ""


@cache
def usual_bands() -> Bands:
    """The limits in use unless others are agreed.

    Formula
    -------
    read from ne43.json

    Parameters
    ----------
    none

    Returns
    -------
    Bands
        four limits [A], each with source and tag

    Validity
    --------
    signals of 4 to 20 mA; a receiver may be set otherwise

    Source
    ------
    NAMUR NE 43 signal levels of analogue transmitters [read second-hand]

    Example
    -------
    >>> usual_bands().currents_A
    (0.0036, 0.0038, 0.0205, 0.021)
    """
    return Bands(**{name: Limit(**row) for name, row in _table()["limits"].items()})


@cache
def state_meanings() -> Mapping[str, StateMeaning]:
    """What each state of the signal means, by its word, from the lowest current to the highest; unknown last.

    Formula
    -------
    read from ne43.json

    Parameters
    ----------
    none

    Returns
    -------
    mapping of StateMeaning
        meaning in words, source, tag and a note where there is one

    Validity
    --------
    the words that `signal_state` gives

    Source
    ------
    NAMUR NE 43 signal levels of analogue transmitters [each meaning has its tag]

    Example
    -------
    >>> state_meanings()["measuring"].meaning
    'measurement information; beyond 4 and 20 mA the level is outside the range and may saturate'
    """
    return MappingProxyType({state: StateMeaning(**row) for state, row in _table()["states"].items()})


@overload
def signal_state(current_A: float, bands: Bands) -> str: ...
@overload
def signal_state(current_A: Reals, bands: Bands) -> NDArray[np.str_]: ...
def signal_state(current_A: Real, bands: Bands) -> str | NDArray[np.str_]:
    """What a loop current says of itself, as a word.

    Formula
    -------
    failure_low <= I_1 < undefined_low < I_2 <= measuring <= I_3 < undefined_high < I_4 <= failure_high

    Parameters
    ----------
    current_A : float or array
        I, loop current [A]
    bands : Bands
        I_1 to I_4, the four limits [A]

    Returns
    -------
    str or array of str
        "failure_low", "undefined_low", "measuring", "undefined_high", "failure_high"; "unknown" for what is no number

    Validity
    --------
    Any current. A limit belongs to failure or to measurement, not to what is neither; a current within rounding of a
    limit stands on it.

    Source
    ------
    NAMUR NE 43 signal levels of analogue transmitters [read second-hand]

    Example
    -------
    >>> signal_state(0.0208, usual_bands())
    'undefined_high'
    """
    currents = np.asarray(current_A, dtype=np.float64)
    low, first, last, high = bands.currents_A
    words = np.select(
        [
            ~np.isfinite(currents),
            currents <= low * (1 + _ROUNDING),
            currents >= high * (1 - _ROUNDING),
            currents < first * (1 - _ROUNDING),
            currents <= last * (1 + _ROUNDING),
        ],
        ["unknown", "failure_low", "failure_high", "undefined_low", "measuring"],
        "undefined_high",
    )
    return words if words.ndim else str(words)


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ne43.json")
    return table
