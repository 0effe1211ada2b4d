"""The faults that can be put into a simulated instrument: what each is, in what its size is told, what it looks like.

The words say what is other than it is set for, never who did it. Sizes are in SI. Every fault but the stuck float is
absent at size zero.
"""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.errors import QuantityError

OFFSET, SLOPE, KINK = "offset", "slope", "kink after emptying"
FROZEN, SATURATED, ONE_METER, BY_VOLUME = "frozen", "saturated", "one meter alone", "volume alone"


@dataclass(frozen=True)
class Kind:
    """One fault."""

    key: str
    words: str
    """What may be other than it is set for."""
    size: str
    """What its size is."""
    suffix: str
    """Unit suffix of the size; empty for a share."""
    shape: str
    """What it looks like over the level."""
    least: float = float("-inf")
    """The smallest size that has a meaning."""


KINDS = (
    Kind("density", "the liquid is denser or lighter than it is set for", "share of the density", "", SLOPE),
    Kind("permittivity", "the permittivity of the liquid is another", "share of the permittivity", "", SLOPE),
    Kind(
        "conductivity",
        "the liquid conducts less than it is set for",
        "powers of ten by which it conducts less",
        "",
        SLOPE,
        0.0,
    ),
    Kind("film", "a film stays on the probe above the level", "thickness of the film", "m", KINK, 0.0),
    Kind("float_mass", "the float has become heavier, by water inside or a deposit", "share of its mass", "", OFFSET),
    Kind("stuck", "the float sticks", "level at which it sticks", "m", FROZEN),
    Kind("datum", "the datum of the dip and that of the instrument differ", "shown too high by", "m", OFFSET),
    Kind("lower", "the level at 4 mA is set to another value", "set too high by", "m", SLOPE),
    Kind("upper", "the level at 20 mA is set to another value", "set too high by", "m", SLOPE),
    Kind("zero", "the current is trimmed off at its zero", "current too high by", "A", OFFSET),
    Kind("gain", "the current is trimmed off in its slope about 4 mA", "share of the slope", "", SLOPE),
    Kind("chamber", "the chamber is warmer or colder than it is set for", "warmer by", "K", SLOPE),
    Kind("leg", "the leg at the upper tap has partly run out or filled", "height of the part", "m", OFFSET, 0.0),
    Kind("load", "more resistance lies in the loop", "resistance too high by", "ohm", SATURATED),
    Kind("milliammeter", "the milliammeter reads wrong", "share of the reading", "", ONE_METER),
    Kind("resistor", "the resistor or the voltmeter on it is not as stated", "share of the reading", "", ONE_METER),
    Kind("receiver", "the receiver is scaled for another range", "share of the span", "", SLOPE),
    Kind("table", "the tank table is off", "share of the volume", "", BY_VOLUME),
)
_BY_KEY = {each.key: each for each in KINDS}


def kind(key: str) -> Kind:
    """The fault of a key."""
    if key not in _BY_KEY:
        raise QuantityError(f"one of {', '.join(_BY_KEY)}", repr(key), "no other fault can be simulated")
    return _BY_KEY[key]
