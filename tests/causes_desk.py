"""Readings for the tests of which part may be wrong: from the straight line of the range, and of simulated faults.

The straight line is that of IEC 60381-1: 4 mA at 100 mm, 20 mA at 2800 mm for the invented receiver.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isnan

from onedatum.proving.causes import UNITS, Row, heads_of
from onedatum.simulate import Readings
from tests.proving.test_causes import readings_with

READ = ("dip_m", "current_A", "temperature_K")
CHANNELS = ("current_A", "voltage_V", "supply_V")
LEVELS_MM = (500.0, 1450.0, 2350.0)
FACTORS = {"mm": 1e3, "mA": 1e3, "mV": 1e3, "V": 1.0, "m3": 1.0}


def line_mA(level_mm: float, low_mm: float = 100.0, high_mm: float = 2800.0) -> float:
    """The current of a level by the straight line of a range."""
    return 4.0 + 16.0 * (level_mm - low_mm) / (high_mm - low_mm)


def ranged(low_mm: float = 100.0, high_mm: float = 2800.0, trim_mA: float = 0.0) -> str:
    """A file of readings of an instrument of another range or with another zero of its current."""
    rows = [("up", level) for level in LEVELS_MM] + [("down", level) for level in reversed(LEVELS_MM)]
    lines = [f"{way},{level:.0f},{line_mA(level, low_mm, high_mm) + trim_mA:.3f}" for way, level in rows]
    return "\n".join(["direction,dip [mm],current [mA]", *lines]) + "\n"


def filed(readings: Readings) -> str:
    """Simulated readings as a file of lines, to a tenth of the uncertainty of their meters."""
    fields = [name for name in UNITS if not isnan(getattr(readings, name)[0])]
    lines = [",".join(heads_of(fields))]
    for at in range(len(readings.dip_m)):
        cells = ["up" if readings.is_rising[at] else "down"]
        cells += [f"{_in_unit(name, float(getattr(readings, name)[at])):.4f}" for name in fields]
        lines.append(",".join(cells))
    return "\n".join(lines) + "\n"


def _in_unit(name: str, value: float) -> float:
    return value - 273.15 if UNITS[name] == "degC" else value * FACTORS[UNITS[name]]


def simulated(example: str, faults: Mapping[str, float], channels: tuple[str, ...] = CHANNELS) -> str:
    """Six rows of a simulated instrument with faults, at the seed 1."""
    return filed(readings_with(example, faults, channels))


ONE_ROW = (Row(dip_m=1.35, current_A=0.01152),)
