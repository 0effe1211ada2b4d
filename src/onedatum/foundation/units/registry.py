"""What a unit is worth in SI: the closed vocabulary of `data/units.txt`, converted by pint.

Only unit expressions that our own grammar has taken apart come here, and only names of the vocabulary. Decimal
arithmetic keeps the factors exact, so 52.5 mm is the float nearest to 0.0525.

What pint answers for the units the trade writes every day is kept in `data/units_worth.json`, so that a usual case is
read without loading it; any other expression of the vocabulary goes to pint itself.
"""

from __future__ import annotations

from decimal import Decimal
from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple

from onedatum import data
from onedatum.foundation.units.dimensions import DIMENSIONS, Dimension
from onedatum.foundation.units.grammar import Factor, factors, pressure_reference

if TYPE_CHECKING:
    from pint import UnitRegistry

_AS_DIFFERENCE = {"degC": "delta_C", "degF": "delta_F"}
_NAMEABLE = tuple(kind for kind in DIMENSIONS.values() if kind.si and not kind.word.startswith("pressure ("))


_SCALES = {"K": (Decimal(0), 1, 1), "degC": (Decimal("273.15"), 1, 1), "degF": (Decimal("459.67"), 5, 9)}
"""Of a scale of temperature: its zero below its own zero, and its degree in kelvin."""


class Worth(NamedTuple):
    """A unit expression in SI: its factor, and its dimensions as sorted base units with powers."""

    factor: Decimal
    bases: tuple[tuple[str, int], ...]


@cache
def vocabulary() -> frozenset[str]:
    """Every unit name that can be read."""
    return frozenset(line.split(" = ")[0] for line in _definitions())


@lru_cache(maxsize=512)
def worth(unit: str) -> Worth:
    """The worth of a unit text in the grammar; degrees count as differences."""
    return _usual().get(unit) or worth_by_pint(unit)


def worth_by_pint(unit: str) -> Worth:
    """The same, always asked of pint."""
    return _worth(factors(unit))


@cache
def bases_of(dimension: Dimension) -> tuple[tuple[str, int], ...]:
    """The dimensions of a kind of quantity."""
    unit, _ = pressure_reference(dimension.si)
    return worth(unit).bases if unit else ()


def kind_of(unit: str) -> Dimension | None:
    """The first kind of quantity with the dimensions of a unit text; a bare `bar` counts as a difference."""
    bases = worth(unit).bases
    return next((kind for kind in _NAMEABLE if bases_of(kind) == bases), None)


def in_kelvin(value: Decimal, unit: str) -> Decimal:
    """A temperature on the scale of `unit` (K, degC, degF) in kelvin."""
    offset, numerator, denominator = _SCALES[unit]
    return (value + offset) * numerator / denominator


def in_kelvin_by_pint(value: Decimal, unit: str) -> Decimal:
    """The same, asked of pint."""
    return Decimal(_registry().Quantity(value, unit).to("K").magnitude)


def _worth(parts: list[Factor]) -> Worth:
    text = " * ".join(f"{_AS_DIFFERENCE.get(name, name)} ** {power}" for name, power in parts)
    registry = _registry()
    root = registry.Quantity(Decimal(1), registry.parse_units(text)).to_root_units()
    bases = sorted((name, int(Decimal(str(power)))) for name, power in root.unit_items())
    return Worth(Decimal(root.magnitude), tuple(bases))


@cache
def _usual() -> dict[str, Worth]:
    rows: dict[str, tuple[str, list[tuple[str, int]]]] = data.table("units_worth.json")["units"]
    return {unit: Worth(Decimal(factor), tuple((n, p) for n, p in bases)) for unit, (factor, bases) in rows.items()}


@cache
def _registry() -> UnitRegistry[Decimal]:
    from pint import UnitRegistry

    registry: UnitRegistry[Decimal] = UnitRegistry(None, non_int_type=Decimal, autoconvert_offset_to_baseunit=True)
    registry.load_definitions(_definitions())
    return registry


def _definitions() -> list[str]:
    lines = (line.strip() for line in data.text("units.txt").splitlines())
    return [line for line in lines if line and not line.startswith("#")]
