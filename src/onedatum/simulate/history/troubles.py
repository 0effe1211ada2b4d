"""What can go wrong over a history: the faults of the instrument, of the line, receiver, clock, tank and meters."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.simulate.faults import FROZEN, KINDS, OFFSET, SATURATED, Kind
from onedatum.simulate.history.plan import Trouble
from onedatum.simulate.instrument import Instrument

SPREAD, GAP, CLOCK, BALANCE = "spread of the readings", "readings missing", "times", "balance of volumes"
NO_SIZE = "none"
INSTRUMENT_LEAVES_OUT = ("stuck", "milliammeter", "resistor", "table")
"""Held in time instead, or of a meter that writes no log."""

OWN = (
    Kind("stuck", "the float sticks where it is, and jumps free", NO_SIZE, "", FROZEN),
    Kind("break", "a core of the loop is broken", NO_SIZE, "", SATURATED),
    Kind("contact", "a terminal makes contact off and on", "share of the time that it is open", "", SATURATED, 0.0),
    Kind("spikes", "interference meets single readings", "height, in the mean", "A", SPREAD, 0.0),
    Kind("noise", "the transmitter's own noise has grown", "share by which it is greater", "", SPREAD, -1.0),
    Kind("frozen", "the receiver repeats its last reading", NO_SIZE, "", FROZEN),
    Kind("damping", "a damping is set in the transmitter", "time constant", "s", SPREAD, 0.0),
    Kind("hum", "the mains couple into the loop", "height of the wave", "A", SPREAD, 0.0),
    Kind(
        "leak",
        "the tank leaks through a hole in its bottom",
        "flow at the level of its start",
        "m3_per_s",
        BALANCE,
        0.0,
    ),
    Kind("inflow", "a valve into the tank does not shut", "flow", "m3_per_s", BALANCE, 0.0),
    Kind("misread", "dips are read off or written down wrong", "told too high by", "m", OFFSET),
    Kind("meter_in", "the meter of what comes in is off", "share of the volume", "", BALANCE, -1.0),
    Kind("meter_out", "the meter of what goes out is off", "share of the volume", "", BALANCE, -1.0),
    Kind("unbooked", "movements are not written down", NO_SIZE, "", BALANCE),
    Kind("clock_jump", "the clock of the record is set wrong", "ahead by", "s", CLOCK),
    Kind("clock_drift", "the clock of the record runs fast or slow", "seconds gained in a second", "", CLOCK, -0.5),
    Kind("daylight", "the clock of the record is switched with the legal time", NO_SIZE, "", CLOCK),
    Kind("gap", "the record stands still", NO_SIZE, "", GAP),
)
_OWN = {each.key: each for each in OWN}
_OF_INSTRUMENT = {each.key: each for each in KINDS if each.key not in INSTRUMENT_LEAVES_OUT}


def trouble_kind(key: str) -> Kind:
    """The fault of a key."""
    known = {**_OF_INSTRUMENT, **_OWN}
    if key not in known:
        raise QuantityError(f"one of {', '.join(known)}", repr(key), "no other fault can be put into a history")
    return known[key]


def troubles_of(instrument: Instrument) -> tuple[str, ...]:
    """What this instrument, its line, its tank and its record can have."""
    own = [key for key in _OWN if key != "stuck" or "stuck" in instrument.kinds]
    return (*(key for key in instrument.kinds if key in _OF_INSTRUMENT), *own)


def refuse_troubles(troubles: Sequence[Trouble], instrument: Instrument, duration_s: float) -> None:
    """A fault that this instrument cannot have, that lies outside the history, or of a size without meaning."""
    for each in troubles:
        kind, possible = trouble_kind(each.kind), troubles_of(instrument)
        if each.kind not in possible:
            raise QuantityError(f"one of {', '.join(possible)}", repr(each.kind), "this instrument cannot have it")
        if not 0.0 <= each.start_s < duration_s:
            raise QuantityError("within the history", f"{each.start_s:g} s", f"the start of {each.kind}")
        if not each.until_s > each.start_s:
            raise QuantityError("after the start", f"{each.until_s:g} s", f"the end of {each.kind}")
        if not (isfinite(each.grows_s) and each.grows_s >= 0.0):
            raise QuantityError("0 s or more", f"{each.grows_s:g} s", f"the time in which {each.kind} grows")
        if not isfinite(each.size):
            raise QuantityError("a finite number", f"{each.size:g}", f"the size of {each.kind}")
        if not each.size >= kind.least:
            raise QuantityError(f"at least {kind.least:g}", f"{each.size:g}", f"the size of {each.kind}")
        if (kind.size == NO_SIZE) != (each.size == 0.0):
            allowed = "no size" if kind.size == NO_SIZE else "a size other than 0"
            raise QuantityError(allowed, f"{each.size:g}", f"{each.kind} is told by: {kind.size}")
        if each.kind == "contact" and not each.size <= 0.9:
            raise QuantityError("at most 0.9", f"{each.size:g}", "a contact that is open for longer is a broken core")


def of_kind(troubles: Sequence[Trouble], *keys: str) -> list[Trouble]:
    """Those of some kinds, in their order."""
    return [each for each in troubles if each.kind in keys]


def during(trouble: Trouble, time_s: Reals) -> NDArray[np.bool_]:
    """Where it is there."""
    return np.asarray((time_s >= trouble.start_s) & (time_s < trouble.until_s))


def size_at(trouble: Trouble, time_s: Reals) -> Reals:
    """How large it is: 0 before, growing evenly to its size, 0 when put right."""
    grown = np.ones_like(time_s)
    if trouble.grows_s > 0.0:
        grown = np.clip((time_s - trouble.start_s) / trouble.grows_s, 0.0, 1.0)
    return np.where(during(trouble, time_s), trouble.size * grown, 0.0)


def sizes_at(troubles: Sequence[Trouble], time_s: Reals) -> dict[str, Reals]:
    """By kind, those of the instrument: two of one kind add."""
    sizes: dict[str, Reals] = {}
    for each in troubles:
        if each.kind in _OF_INSTRUMENT:
            sizes[each.kind] = sizes.get(each.kind, np.zeros_like(time_s)) + size_at(each, time_s)
    return sizes
