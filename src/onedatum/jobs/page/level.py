"""The level from whatever is known: a reading on any scale, or the name of a mark.

The browser does the same with the same tables (static/level.js); this serves the page without JavaScript.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TypeVar

from onedatum.foundation.errors import Fault
from onedatum.foundation.units import in_unit
from onedatum.jobs.page.scales import PageScale

UNITS: tuple[tuple[str, ...], ...] = (
    ("mm", "cm", "m", "in", "ft"),
    ("mA",),
    ("mV", "V"),
    ("us", "ms"),
    ("pF", "nF"),
    ("kPa", "Pa", "mbar", "bar", "inH2O(60 degF)"),
    ("m3", "L", "US gal", "bbl"),
    ("kg", "t", "lb"),
)
"""Units of one kind; a reading may be typed in any of the kind of its scale."""
TYPED = {"us": ("µs", "μs"), "m3": ("m³",), "US gal": ("gal",), "inH2O(60 degF)": ("inH2O", "inH₂O"), "L": ("l",)}
"""Further ways to type a unit."""
ALLOWED = 'a reading on a scale or the name of a mark, for example "1850 mm", "14.37 mA" or "HH"'
_READING = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+))\s*(\D.*)")
LONGEST = 60
Found = TypeVar("Found")


def typed_units(scales: Sequence[PageScale]) -> dict[str, tuple[str, float]]:
    """Every unit that can be typed, with the scale it is read on and the factor to that scale's shown unit.

    What a scale shows goes before what it could show; of two scales the earlier one has a unit.
    """
    found: dict[str, tuple[str, float]] = {}
    ready = [scale for scale in scales if not scale.unknown]
    for scale in ready:
        for name in {scale.kind.name, scale.kind.unit, *TYPED.get(scale.kind.unit, ())}:
            found.setdefault(name, (scale.kind.key, 1.0))
    for scale in ready:
        for unit in next((kind for kind in UNITS if scale.kind.unit in kind), ()):
            factor = in_unit(1.0, scale.kind.unit) / in_unit(1.0, unit)
            for name in (unit, *TYPED.get(unit, ())):
                found.setdefault(name, (scale.kind.key, factor))
    return found


def level_of(text: str, scales: Sequence[PageScale], marks: Mapping[str, float]) -> float | Fault:
    """The level that a reading or the name of a mark stands for; `marks` gives heights by name."""
    typed = " ".join(text.replace("−", "-").split())[:LONGEST]
    mark = _mark(typed, marks)
    if mark is not None:
        return mark
    reading = _READING.fullmatch(typed)
    if reading is None:
        return _fault(typed, "it is neither a number, with a point as decimal sign and a unit, nor a mark of this case")
    number, unit = float(reading[1]), reading[2].strip()
    units = typed_units(scales)
    known = units.get(unit) or _only([units[name] for name in units if name.casefold() == unit.casefold()])
    if known is None:
        return _fault(typed, f"no scale here is read in {unit}")
    key, factor = known
    scale = next(scale for scale in scales if scale.kind.key == key)
    return solved(scale, number * factor, typed)


def _mark(typed: str, marks: Mapping[str, float]) -> float | None:
    """The height of the mark so named, by its whole name or by its first word where that is its own."""
    wanted = typed.casefold()
    whole = [height for name, height in marks.items() if name.casefold() == wanted]
    first = [height for name, height in marks.items() if name.split()[:1] and name.split()[0].casefold() == wanted]
    return _only(whole) if whole else _only(first)


def _only(found: list[Found]) -> Found | None:
    return found[0] if len(found) == 1 else None


def solved(scale: PageScale, value: float, typed: str) -> float | Fault:
    """The level at which a scale reads a value, if it does anywhere."""
    low, high = sorted((scale.values[0], scale.values[-1]))
    digit = 0.5 * 10.0**-scale.kind.decimals
    if scale.table is None or not low - digit <= value <= high + digit:
        ends = f"{low:.{scale.kind.decimals}f} to {high:.{scale.kind.decimals}f} {scale.kind.name}"
        stop = scale.below if (value < low) == (scale.values[0] == low) else scale.above
        why = f"; {stop.words}" if stop is not None else ""
        return _fault(typed, f"the scale goes from {ends}{why}".replace("-", "−"))
    return scale.table.solve(value)


def _fault(typed: str, why: str) -> Fault:
    return Fault("level", ALLOWED, f'"{typed}"', why)
