"""The loop of a simulated instrument: the current that the supply lets through, and the voltages on its way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.loop import last_good_current_A, signal_voltage_V, terminal_voltage_V
from onedatum.study.result import Study

SUPPLY, RESISTANCE, LEAST = "loop.supply", "loop.resistance", "loop.transmitter.voltage_min"
TEST = "loop.test_resistor"


@dataclass(frozen=True)
class Loop:
    """What lies in series; None where the case does not tell it, or an isolator hides it."""

    supply_V: float | None
    resistance_ohm: float | None
    least_V: float | None
    test_ohm: float | None

    @property
    def whole(self) -> bool:
        """Whether supply, resistance and the least voltage of the transmitter are all known."""
        return None not in (self.supply_V, self.resistance_ohm, self.least_V)

    @property
    def constants(self) -> tuple[str, ...]:
        """Entries of the loop that a case may have wrong."""
        return (*((SUPPLY, RESISTANCE, LEAST) if self.whole else ()), *((TEST,) if self.test_ohm else ()))

    def carried(self, current_A: Reals, load_ohm: Reals, of: dict[str, Reals]) -> tuple[Reals, Reals]:
        """The current that flows and the voltage left at the transmitter.

        Below its least voltage a transmitter gives no defined current; here it holds the highest that the loop carries.
        """
        if self.supply_V is None or self.resistance_ohm is None or self.least_V is None:
            return current_A, np.full_like(current_A, np.nan)
        supply_V = self.supply_V * of.get(SUPPLY, np.ones(1))
        resistance_ohm = self.resistance_ohm * of.get(RESISTANCE, np.ones(1)) + load_ohm
        last_A = last_good_current_A(supply_V, self.least_V * of.get(LEAST, np.ones(1)), resistance_ohm)
        flows_A = np.minimum(current_A, last_A)
        return flows_A, np.asarray(terminal_voltage_V(supply_V, flows_A, resistance_ohm))

    def on_resistor_V(self, current_A: Reals, share: Reals, of: dict[str, Reals]) -> Reals:
        """What the voltmeter reads on the test resistor; NaN without one."""
        if not self.test_ohm:
            return np.full_like(current_A, np.nan)
        return np.asarray(signal_voltage_V(current_A, self.test_ohm * of.get(TEST, np.ones(1)) * (1.0 + share)))


def loop_of(study: Study) -> Loop:
    """The loop as stated, at its nominal supply."""
    supply_V, resistance_ohm = study.value(SUPPLY), study.value(RESISTANCE)
    drop_V = study.value("loop.barrier.diode_drop")
    if supply_V is not None and drop_V is not None:
        supply_V -= drop_V
    return Loop(supply_V, resistance_ohm or None, study.value(LEAST), study.value(TEST))
