"""The only ways in which tests compare floats: exactly, to the digits printed, or within a tolerance that is argued.

    exact(actual, expected)
    close(actual, expected, 1e-9, "rounding of twelve additions")
    assert actual == printed("0.98207")

Each takes floats and arrays alike. `exact` and `close` complain themselves; they also return True, so that
``assert close(...)`` reads as well.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

import numpy as np

LARGEST_SHARE = 0.05
"""A tolerance above this share of the value compares nothing."""


class ToleranceError(ValueError):
    """A comparison that could hardly fail, or that does not say why its tolerance is what it is."""


def exact(actual: Any, expected: Any) -> Literal[True]:
    """Every element equal to the last digit; shapes equal; NaN equals NaN."""
    found, wanted = _pair(actual, expected)
    same = (found == wanted) | (np.isnan(found) & np.isnan(wanted))
    if not same.all():
        raise AssertionError(f"{_worst(found, wanted)}; expected equal to the last digit")
    return True


def close(actual: Any, expected: Any, tol: float, why: str) -> Literal[True]:
    """Every element within `tol` of what is expected, in the unit of the value; `why` says where `tol` comes from.

    For an array, `tol` is measured against the largest element expected.
    """
    found, wanted = _pair(actual, expected)
    _refuse_loose(wanted, tol, why)
    if not (np.abs(found - wanted) <= tol).all():
        raise AssertionError(f"{_worst(found, wanted)}; tolerance {tol:g} ({why})")
    return True


@dataclass(frozen=True, eq=False)
class Printed:
    """A number as it stands in print: equal to whatever rounds to it, half a unit of its last digit either way."""

    text: str

    @property
    def value(self) -> float:
        """The number itself."""
        return float(self.text)

    @property
    def half_unit(self) -> float:
        """Half a unit of the last digit."""
        exponent = Decimal(self.text).as_tuple().exponent
        return 0.5 * 10.0 ** int(exponent)

    def __eq__(self, other: object) -> bool:
        found = np.asarray(other, dtype=np.float64)
        off = np.abs(found - self.value)
        return bool((off <= self.half_unit * (1.0 + 1e-9)).all()) and found.size > 0

    __hash__ = None  # type: ignore[assignment]
    __array_ufunc__ = None  # numpy leaves the comparison with an array to __eq__ above

    def __repr__(self) -> str:
        return f"{self.text} ± {self.half_unit:g}"


def printed(text: str) -> Printed:
    """A printed number: ``assert density == printed("998.207")``; trailing zeros count as digits."""
    number = Printed(text)
    if not number.half_unit <= LARGEST_SHARE * abs(number.value):
        raise ToleranceError(f"{text}: half a unit of the last digit is more than {LARGEST_SHARE:.0%} of the value")
    return number


def _pair(actual: Any, expected: Any) -> tuple[Any, Any]:
    found, wanted = np.asarray(actual, dtype=np.float64), np.asarray(expected, dtype=np.float64)
    if found.shape != wanted.shape:
        raise AssertionError(f"shape {found.shape}; expected shape {wanted.shape}")
    if found.size == 0:
        raise ToleranceError("nothing to compare")
    return found, wanted


def _refuse_loose(wanted: Any, tol: float, why: str) -> None:
    if not why.strip():
        raise ToleranceError("a tolerance needs its reason")
    largest = float(np.max(np.abs(wanted)))
    if not 0.0 <= tol <= LARGEST_SHARE * largest:
        raise ToleranceError(f"tolerance {tol:g} is not within 0 to {LARGEST_SHARE:.0%} of {largest:g}")


def _worst(found: Any, wanted: Any) -> str:
    off = np.abs(found - wanted)
    place = np.unravel_index(int(np.argmax(np.where(np.isnan(off), np.inf, off))), off.shape)
    where = f" at {tuple(int(index) for index in place)}" if off.ndim else ""
    return f"got {found[place]!r}{where}, expected {wanted[place]!r}, off by {off[place]:g}"
