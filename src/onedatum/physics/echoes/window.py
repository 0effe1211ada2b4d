"""Where an echo is looked for in a record, and what is taken there."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals


@dataclass(frozen=True)
class Window:
    """Where an echo is looked for: samples from `low` up to, not including, `high`; polarity +1 or -1."""

    low: int
    high: int
    polarity: float = 1.0


@dataclass(frozen=True)
class Estimate:
    """What was taken, records by windows: NaN where there is no echo."""

    delays_s: Reals
    heights_V: Reals
    """With the sign of the polarity; of a matched filter in units of the pulse, of the others as received."""


def held(windows: tuple[Window, ...], count: int) -> tuple[Window, ...]:
    """The windows, which must lie within a record and hold three samples; any other is refused."""
    for window in windows:
        if not 0 <= window.low <= window.high - 3 <= count - 3:
            got = f"samples {window.low} to {window.high}"
            raise QuantityError(
                f"three samples or more within the {count} of the record", got, "A window that an echo is looked for in"
            )
    return windows
