"""Values in words on the working: SI numbers written in the unit that people read, by the suffix of their name."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from math import floor, isfinite, log10

from onedatum.foundation.units import dimension_of_unit, in_unit, name_without_unit, number, show, unit_of_name

DIGITS = 7
"""Significant digits of a number put into a formula: enough to work it again by hand."""

_DECIMALS: Mapping[str, int] = {
    "mm": 2,
    "m": 4,
    "in": 3,
    "ft": 4,
    "in2": 4,
    "ft2": 3,
    "in3": 3,
    "US gal": 2,
    "lb": 1,
    "lb/ft3": 3,
    "degF": 1,
    "US gal/min": 2,
    "m2": 4,
    "cm2": 3,
    "m3": 4,
    "cm3": 2,
    "L": 2,
    "kg": 2,
    "g": 2,
    "kg/m3": 3,
    "degC": 2,
    "mA": 3,
    "mV": 2,
    "V": 3,
    "ohm": 2,
    "ohm/km": 2,
    "nF": 2,
    "mH": 3,
    "min": 2,
    "m/s": 3,
    "mm/min": 2,
    "in/min": 3,
    "ft/s": 2,
    "%": 2,
    "%span": 2,
    "%value": 3,
    "%vol": 2,
}
"""Decimals a result is printed with, by its unit: one more than the trade reads off."""
_LEAST_DIGITS = 3
_OTHER_DIGITS = 6


@cache
def suffix_of_name(name: str) -> str:
    """The unit suffix of a name: "kg_per_m3" of "density_kg_per_m3", "" for a dimensionless one."""
    return name[len(name_without_unit(name)) :].lstrip("_")


@cache
def unit_of_suffix(suffix: str) -> str:
    """The SI unit of a suffix in print: "kg/m3" of "kg_per_m3"."""
    return unit_of_name(f"x_{suffix}") if suffix else ""


def suffix_of_unit(unit: str) -> str:
    """The suffix that stands for an SI unit in print: "kg_per_m3" for "kg/m3", "per_K" for "1/K"."""
    over, slash, under = unit.replace("(a)", ".abs").replace("(g)", ".gauge").partition("/")
    above = "" if over == "1" else over.replace(".", "_")
    return f"{above}_per_{under.strip('()').replace('.', '_')}".lstrip("_") if slash else above


@lru_cache(maxsize=8192)
def spell(value: float | None, suffix: str, shown: str = "") -> str:
    """A result in the unit `shown`, or in the one people use for its dimension; None reads "unknown"."""
    if value is None:
        return "unknown"
    unit = shown or usual_unit(suffix)
    text = show(value, unit, _digits(in_unit(value, unit), unit))
    return text if unit in _DECIMALS else _short(text)


def spell_limit(value: float, suffix: str, shown: str = "") -> str:
    """A limit as short as it is exact: "20 m", "−20 degC"."""
    return _short(show(value, shown or usual_unit(suffix), DIGITS))


def spell_si(value: float | None, suffix: str) -> str:
    """A value in its SI unit, as it is put into a formula."""
    if value is None:
        return "unknown"
    unit = unit_of_suffix(suffix)
    return _short(f"{number(value, DIGITS)} {unit}".rstrip())


def _short(text: str) -> str:
    """The same number without zeros that say nothing: "1600.000 mm" reads "1600 mm"."""
    mantissa, space, rest = text.partition(" ")
    return (mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa) + space + rest


def _digits(shown: float, unit: str) -> int:
    if unit not in _DECIMALS or not isfinite(shown):
        return _OTHER_DIGITS
    if shown == 0:
        return 1
    return max(_LEAST_DIGITS, floor(log10(abs(shown))) + 1 + _DECIMALS[unit])


@cache
def usual_unit(suffix: str) -> str:
    """The unit in which people read what has this suffix."""
    unit = unit_of_suffix(suffix)
    dimension = dimension_of_unit(unit) if unit else None
    return dimension.shown if dimension else unit
