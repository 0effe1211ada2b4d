"""Rows of readings as somebody wrote them down, checked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

import numpy as np

from onedatum.foundation.errors import CaseError, Fault
from onedatum.simulate import Readings

ALLOWED = {
    "dip_m": (-100.0, 1000.0, "m"),
    "temperature_K": (50.0, 1500.0, "K"),
    "current_A": (0.0, 0.1, "A"),
    "voltage_V": (0.0, 250.0, "V"),
    "supply_V": (0.0, 250.0, "V"),
    "shown_m": (-1000.0, 1000.0, "m"),
    "volume_m3": (-1e6, 1e6, "m3"),
}
"""Least and greatest value of what is read, with its unit in SI."""
MOST_ROWS = 60


@dataclass(frozen=True)
class Row:
    """One visit at one level; None for what was not read."""

    dip_m: float | None = None
    """Level by the dip, from the datum of the case."""
    current_A: float | None = None
    voltage_V: float | None = None
    """On the test resistor."""
    supply_V: float | None = None
    """At the terminals of the transmitter."""
    temperature_K: float | None = None
    is_rising: bool | None = None
    """Whether the level was approached from below."""
    shown_m: float | None = None
    """By the receiver."""
    volume_m3: float | None = None


def readings_of(rows: Sequence[Row]) -> Readings:
    """Rows as columns; every value that cannot be is told with its place."""
    faults = []
    if not rows or len(rows) > MOST_ROWS:
        faults.append(Fault("rows", f"1 to {MOST_ROWS} rows", f"{len(rows)}", "a level is read once or a few times"))
    for number, row in enumerate(rows):
        for name, (low, high, _) in ALLOWED.items():
            value = getattr(row, name)
            if value is None:
                continue
            number_given = isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value)
            if not number_given or not low <= value <= high:
                got = f"{value!r}"[:40]
                faults.append(Fault(f"rows[{number}].{name}", allowed(name), got, "leave out what was not read"))
    if faults:
        raise CaseError(faults)
    columns = {name: np.array([_number(getattr(row, name)) for row in rows]) for name in ALLOWED}
    rising = np.array([_number(row.is_rising) for row in rows])
    return Readings(columns.pop("dip_m"), columns.pop("temperature_K"), rising, **columns)


def allowed(name: str) -> str:
    """What a value of a field must be, in words."""
    low, high, unit = ALLOWED[name]
    return f"a number from {low:g} {unit} to {high:g} {unit}"


def _number(value: float | bool | None) -> float:
    return float("nan") if value is None else float(value)
