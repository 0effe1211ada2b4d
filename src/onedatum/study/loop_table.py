"""The supply of the loop at a row of currents: what every element takes and what is left for the transmitter.

The same formulas as on the sheet, worked for the currents that a technician sets and reads.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry
from onedatum.physics.loop import signal_voltage_V, terminal_voltage_V, voltage_margin_V
from onedatum.study.result import Study

MARKS_A = (0.004, 0.012, 0.020)
"""Begin, middle and end of the range (IEC 60381-1)."""


@dataclass(frozen=True)
class LoopTable:
    """Voltages by current, in SI; None in place of a row while it is unknown."""

    currents_A: Reals
    names: tuple[str, ...]
    drops_V: tuple[tuple[str, Reals | None], ...]
    """What each element takes, by its name."""
    source_V: float | None
    terminal_V: Reals | None
    least_V: float | None
    margin_V: Reals | None


def loop_table(study: Study) -> LoopTable:
    """The table of the loop at the low failure current, 4, 12, 20 mA and the highest failure current."""
    loop, sheet = study.safe.wired, study.sheet
    low = sheet["loop.transmitter.current_failure_low"].value
    ends = [("low failure current", low), *zip(("4 mA", "12 mA", "20 mA"), MARKS_A, strict=True)]
    ends.append(("highest failure current", loop.worst.value))
    known = [(name, current_A) for name, current_A in ends if current_A is not None]
    currents_A = np.array([current_A for _, current_A in known], dtype=np.float64)
    resistance, source, least = loop.source.resistance.value, loop.source.low.value, loop.voltage_min.value
    terminal_V = margin_V = None
    if resistance is not None and source is not None:
        terminal_V = np.asarray(terminal_voltage_V(source, currents_A, resistance))
    if terminal_V is not None and least is not None:
        margin_V = np.asarray(voltage_margin_V(terminal_V, least))
    return LoopTable(
        currents_A,
        tuple(name for name, _ in known),
        tuple((name, _drop(entry, currents_A)) for name, entry in _elements(study)),
        source,
        terminal_V,
        least,
        margin_V,
    )


def _elements(study: Study) -> list[tuple[str, Entry]]:
    """The elements in series with the transmitter."""
    loop = study.safe.wired
    found = [("cable, both cores", loop.cable)]
    if not loop.source.isolator:
        found.insert(0, ("input resistor", loop.input_resistor))
    if loop.source.barrier is not None:
        found.insert(1, ("barrier", loop.source.barrier))
    if loop.source.other.value != 0.0:
        found.append(("other resistances", loop.source.other))
    return found


def _drop(entry: Entry, currents_A: Reals) -> Reals | None:
    return None if entry.value is None else np.asarray(signal_voltage_V(currents_A, entry.value))
