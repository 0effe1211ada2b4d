"""Writing quantities for people: the shown unit, honest digits, a true minus sign.

The table of shown units is exact and small, so writing needs no units library. Values go through decimal
arithmetic: 0.0525 m is shown as 52.5 mm, not as 52.50000000000001 mm.
"""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from functools import cache
from typing import NamedTuple

MINUS = "\u2212"
UNKNOWN = "unknown"
DIGITS_OF_UNCERTAINTY = 2
"""JCGM 100:2008, 7.2.6: it usually suffices to give an uncertainty to at most two significant digits."""

_EXACT = Context(prec=60, rounding=ROUND_HALF_EVEN)
_PLAIN_FROM, _PLAIN_TO = -4, 9
"""Powers of ten between which a number is written out."""
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


class Scale(NamedTuple):
    """A shown unit: value in SI = (shown value + offset) * factor, as exact decimals or as `a/b`."""

    factor: str
    offset: str = "0"
    unit_of_difference: str = ""
    """The unit of an uncertainty, where it is another one."""


_SI = """m m2 m3 m4 kg s A K V ohm F H T S Hz Pa N J W rad Pa(a) Pa(g) Pa.s kg/m3 kg/m kg/s m/s m3/s m/s2 m2/s N/m
1/K 1/s 1/m Pa/m m4/kg N.s/m N.m2 T/m A.m2 S/m ohm/m ohm.m F/m H/m H/ohm A.s s/m K/s W/(m.K) J/(kg.K)"""

SHOWN: dict[str, Scale] = {
    "": Scale("1"),
    **dict.fromkeys(_SI.split(), Scale("1")),
    "um": Scale("1e-6"), "mm": Scale("1e-3"), "cm": Scale("1e-2"), "km": Scale("1e3"),
    "in": Scale("0.0254"), "ft": Scale("0.3048"),
    "mm2": Scale("1e-6"), "cm2": Scale("1e-4"), "mm4": Scale("1e-12"), "cm4": Scale("1e-8"),
    "L": Scale("1e-3"), "hL": Scale("0.1"), "mL": Scale("1e-6"), "cm3": Scale("1e-6"),
    "US gal": Scale("0.003785411784"), "UK gal": Scale("0.00454609"), "bbl": Scale("0.158987294928"),
    "ft3": Scale("0.028316846592"), "in2": Scale("0.00064516"), "ft2": Scale("0.09290304"),
    "in3": Scale("0.000016387064"), "US gal/in": Scale("0.003785411784/0.0254"),
    "mg": Scale("1e-6"), "g": Scale("1e-3"), "t": Scale("1e3"), "lb": Scale("0.45359237"),
    "ns": Scale("1e-9"), "us": Scale("1e-6"), "ms": Scale("1e-3"), "min": Scale("60"), "h": Scale("3600"),
    "d": Scale("86400"), "a": Scale("31557600"),
    "degC": Scale("1", "273.15", "K"), "degF": Scale("5/9", "459.67", "degF"),
    "kHz": Scale("1e3"), "MHz": Scale("1e6"), "GHz": Scale("1e9"), "1/h": Scale("1/3600"), "1/min": Scale("1/60"),
    "K/min": Scale("1/60"), "K/h": Scale("1/3600"),
    "1/d": Scale("1/86400"), "1/a": Scale("1/31557600"), "ppm/K": Scale("1e-6"),
    "g/cm3": Scale("1e3"), "kg/L": Scale("1e3"), "g/m": Scale("1e-3"), "lb/ft3": Scale("0.45359237/0.028316846592"),
    "mg/L": Scale("1e-3"),
    "kPa": Scale("1e3"), "MPa": Scale("1e6"), "GPa": Scale("1e9"), "mbar": Scale("1e2"), "bar": Scale("1e5"),
    "kPa(a)": Scale("1e3"), "kPa(g)": Scale("1e3"), "mbar(a)": Scale("1e2"), "mbar(g)": Scale("1e2"),
    "bar(a)": Scale("1e5"), "bar(g)": Scale("1e5"),
    "psi": Scale("4.4482216152605/0.00064516"), "psi(a)": Scale("4.4482216152605/0.00064516"),
    "psi(g)": Scale("4.4482216152605/0.00064516"),
    "inH2O(4 degC)": Scale("249.08193551052"),
    "inH2O(20 degC)": Scale("248.64229358437"),
    "inH2O(60 degF)": Scale("248.84380651256"),
    "ftH2O(4 degC)": Scale("2988.98322612624"),
    "ftH2O(20 degC)": Scale("2983.70752301244"),
    "ftH2O(60 degF)": Scale("2986.12567815072"),
    "mmH2O(4 degC)": Scale("9.8063754138"),
    "mmH2O(20 degC)": Scale("9.78906667655"),
    "mmH2O(60 degF)": Scale("9.7970002564"),
    "mH2O(4 degC)": Scale("9806.3754138"),
    "mH2O(20 degC)": Scale("9789.06667655"),
    "mH2O(60 degF)": Scale("9797.0002564"),
    "kPa/m": Scale("1e3"), "Pa/mm": Scale("1e3"), "mbar/m": Scale("1e2"),
    "psi/ft": Scale("4.4482216152605/0.000196644768"),
    "mPa.s": Scale("1e-3"), "cP": Scale("1e-3"), "mm2/s": Scale("1e-6"), "cSt": Scale("1e-6"),
    "m3/h": Scale("1/3600"), "L/h": Scale("1e-3/3600"), "L/min": Scale("1e-3/60"),
    "US gal/min": Scale("0.003785411784/60"), "kg/h": Scale("1/3600"), "t/h": Scale("1e3/3600"),
    "mm/s": Scale("1e-3"), "mm/min": Scale("1e-3/60"), "mm/h": Scale("1e-3/3600"), "m/h": Scale("1/3600"),
    "in/min": Scale("0.0254/60"), "ft/s": Scale("0.3048"),
    "kN": Scale("1e3"), "mN": Scale("1e-3"), "mN/m": Scale("1e-3"), "deg": Scale("0.01745329251994329576923690768"),
    "mV": Scale("1e-3"), "mT": Scale("1e-3"), "kV": Scale("1e3"), "mA": Scale("1e-3"), "uA": Scale("1e-6"),
    "mohm": Scale("1e-3"), "kohm": Scale("1e3"), "Mohm": Scale("1e6"), "ohm/km": Scale("1e-3"),
    "uS": Scale("1e-6"), "mS": Scale("1e-3"), "uS/cm": Scale("1e-4"), "mS/cm": Scale("0.1"), "pS/m": Scale("1e-12"),
    "pF": Scale("1e-12"), "nF": Scale("1e-9"), "uF": Scale("1e-6"), "pF/m": Scale("1e-12"), "nF/km": Scale("1e-12"),
    "uH": Scale("1e-6"), "mH": Scale("1e-3"), "uH/m": Scale("1e-6"), "mH/km": Scale("1e-6"), "uH/ohm": Scale("1e-6"),
    "nC": Scale("1e-9"), "uC": Scale("1e-6"), "uJ": Scale("1e-6"), "mJ": Scale("1e-3"), "kJ": Scale("1e3"),
    "mW": Scale("1e-3"), "kW": Scale("1e3"), "us/m": Scale("1e-6"),
    **dict.fromkeys(("%", "%vol", "%mass", "%span", "%capacity", "%value", "%RH"), Scale("0.01")),
}  # fmt: skip
"""Every unit that results can be shown in; a new one is one more entry."""


def show(
    value_si: float | None,
    unit: str,
    digits: int = 4,
    u_si: float | None = None,
    *,
    decimal_comma: bool = False,
) -> str:
    """A value in SI with its shown unit: `1850 mm`.

    With a standard uncertainty the value ends at the second significant digit of that; without, it has `digits`
    significant digits. What is not known is `unknown`.
    """
    if value_si is None or math.isnan(value_si):
        return UNKNOWN
    shown = _shown(value_si, unit)
    place = _place_of_uncertainty(u_si, unit) if u_si is not None else None
    return _with_unit(_text(shown, _place(shown, digits) if place is None else place, decimal_comma), unit)


def whole(value_si: float, unit: str, *, up: bool = False) -> str:
    """A limit in whole units, as it is stated in a case: rounded down, or `up`, so that it is never exceeded.

    The minus sign is the plain one, which a case reads as well.
    """
    rounded = _shown(value_si, unit).to_integral_value(ROUND_CEILING if up else ROUND_FLOOR)
    return _with_unit(str(int(rounded)), unit)


def show_with_u(value_si: float | None, unit: str, u_si: float | None, *, decimal_comma: bool = False) -> str:
    """A value and its uncertainty, both to the second significant digit of the latter: `(1850.00 ± 0.50) mm`."""
    place = _place_of_uncertainty(u_si, unit) if u_si is not None else None
    if value_si is None or u_si is None or not math.isfinite(value_si) or place is None:
        return show(value_si, unit, decimal_comma=decimal_comma)
    value = _text(_shown(value_si, unit), place, decimal_comma)
    spread = _text(_shown_difference(u_si, unit), place, decimal_comma)
    other = _scale(unit).unit_of_difference
    if other and other != unit:
        return f"{_with_unit(value, unit)} ± {_with_unit(spread, other)}"
    return _with_unit(f"({value} ± {spread})" if unit else f"{value} ± {spread}", unit)


def number(value: float, digits: int = 4, *, decimal_comma: bool = False) -> str:
    """A plain number with so many significant digits."""
    return show(value, "", digits, decimal_comma=decimal_comma)


def in_unit(value_si: float, unit: str) -> float:
    """A value in SI on the scale of a shown unit; not rounded, so 1.85 m is exactly 1850.0 mm."""
    return float(_shown(value_si, unit)) if math.isfinite(value_si) else value_si


def _scale(unit: str) -> Scale:
    try:
        return SHOWN[unit]
    except KeyError:
        raise ValueError(f"no shown unit is called {unit!r}") from None


@cache
def _factor(scale: Scale) -> Decimal:
    above, _, below = scale.factor.partition("/")
    return _EXACT.divide(Decimal(above), Decimal(below or "1"))


def _shown(value_si: float, unit: str) -> Decimal:
    scale = _scale(unit)
    return _EXACT.subtract(_shown_difference(value_si, unit), Decimal(scale.offset))


def _shown_difference(value_si: float, unit: str) -> Decimal:
    """On the scale of the unit without its offset; the shortest decimal of the float is taken as its value."""
    return _EXACT.divide(Decimal(repr(float(value_si))), _factor(_scale(unit)))


def _place_of_uncertainty(u_si: float, unit: str) -> int | None:
    """The power of ten at which an uncertainty has its second digit, or None where it says nothing."""
    if not math.isfinite(u_si) or u_si <= 0:
        return None
    return _place(_shown_difference(u_si, unit), DIGITS_OF_UNCERTAINTY)


def _place(value: Decimal, digits: int) -> int:
    """The power of ten of the last of so many significant digits, after rounding to them."""
    if not value.is_finite() or value == 0:
        return 0
    rounded = Context(prec=max(digits, 1), rounding=ROUND_HALF_EVEN).plus(value)
    return rounded.adjusted() - max(digits, 1) + 1


def _text(value: Decimal, place: int, decimal_comma: bool) -> str:
    """A number rounded at a power of ten; half goes to the even digit (ISO 80000-1, rule A; from memory)."""
    if not value.is_finite():
        return (MINUS if value < 0 else "") + "infinite"
    rounded = _EXACT.multiply(value.scaleb(-place, _EXACT).to_integral_value(ROUND_HALF_EVEN), Decimal(1).scaleb(place))
    power = rounded.adjusted() if rounded else 0
    if _PLAIN_FROM <= power < _PLAIN_TO:
        text, raised = f"{abs(rounded):.{max(0, -place)}f}", ""
    else:
        text = f"{abs(rounded.scaleb(-power, _EXACT)):.{max(0, power - place)}f}"
        raised = " × 10" + str(power).translate(_RAISED)
    if decimal_comma:
        text = text.replace(".", ",")
    return (MINUS if rounded < 0 else "") + text + raised


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}" if unit else text
