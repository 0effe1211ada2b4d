"""A tank that fills and empties in time: level by the tank and the flows, and what the instrument shows meanwhile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import Body
from onedatum.simulate.instrument import Instrument, Signal, State

MOST_INTERVALS = 2_000_000


@dataclass(frozen=True)
class Step:
    """A time with steady flows."""

    duration_s: float
    inflow_m3_per_s: float = 0.0
    outflow_m3_per_s: float = 0.0
    temperature_K: float | None = None
    """Of the liquid; None: as before."""


@dataclass(frozen=True)
class Filled:
    """What happened, by arrays over the time."""

    time_s: Reals
    level_m: Reals
    volume_m3: Reals
    inflow_m3_per_s: Reals
    outflow_m3_per_s: Reals
    temperature_K: Reals

    @property
    def state(self) -> State:
        """The same as an instrument feels it: a level at rest was approached as it last moved, at first from below.

        A film reaches up to the highest level since the start; that it drains in time is left out.
        """
        moved = np.sign(np.diff(self.volume_m3, prepend=self.volume_m3[0]))
        last = np.maximum.accumulate(np.where(moved != 0.0, np.arange(len(moved)), 0))
        highest_m = np.maximum.accumulate(self.level_m)
        return State(self.level_m, self.temperature_K, (moved[last] >= 0.0).astype(float), highest_m)


def filled(
    body: Body, start_m: float, steps: Sequence[Step], interval_s: float, temperature_K: float = 293.15
) -> Filled:
    """Follow the steps; a full tank takes no more and an empty one gives none: the flow that cannot be is cut."""
    _refuse(body, start_m, steps, interval_s)
    count = max(round(sum(step.duration_s for step in steps) / interval_s), 1)
    time_s = interval_s * np.arange(count + 1, dtype=np.float64)
    ends_s = np.cumsum([step.duration_s for step in steps])
    which = np.minimum(np.searchsorted(ends_s, time_s, side="right"), len(steps) - 1)
    temperatures = []
    for step in steps:
        temperature_K = temperature_K if step.temperature_K is None else step.temperature_K
        temperatures.append(temperature_K)
    inflow_m3_per_s = np.array([step.inflow_m3_per_s for step in steps])[which]
    outflow_m3_per_s = np.array([step.outflow_m3_per_s for step in steps])[which]
    volume_m3, whole_m3 = np.empty(count + 1), float(body.volume_m3)
    volume_m3[0] = float(body.volume_below_m3(start_m))
    for i in range(count):
        outflow_m3_per_s[i] = min(outflow_m3_per_s[i], volume_m3[i] / interval_s + inflow_m3_per_s[i])
        inflow_m3_per_s[i] = min(inflow_m3_per_s[i], (whole_m3 - volume_m3[i]) / interval_s + outflow_m3_per_s[i])
        gained_m3 = (inflow_m3_per_s[i] - outflow_m3_per_s[i]) * interval_s
        volume_m3[i + 1] = min(max(volume_m3[i] + gained_m3, 0.0), whole_m3)
    level_m = np.asarray(body.level_m(volume_m3), dtype=float)
    return Filled(time_s, level_m, volume_m3, inflow_m3_per_s, outflow_m3_per_s, np.array(temperatures)[which])


def _refuse(body: Body, start_m: float, steps: Sequence[Step], interval_s: float) -> None:
    if not steps:
        raise QuantityError("one step or more", "none", "a tank without a plan stands still")
    if not 0.0 < interval_s < np.inf:
        raise QuantityError("an interval above 0 s", f"{interval_s:g} s")
    if not sum(step.duration_s for step in steps) / interval_s <= MOST_INTERVALS:
        raise QuantityError(f"at most {MOST_INTERVALS} intervals", "more", "take a longer interval")
    if not float(body.low_m) <= start_m <= float(body.high_m):
        inside = f"from {float(body.low_m):g} m to {float(body.high_m):g} m"
        raise QuantityError(inside, f"{start_m:g} m", "the first level lies inside the vessel")
    for step in steps:
        if not all(0.0 <= each < np.inf for each in (step.inflow_m3_per_s, step.outflow_m3_per_s)):
            raise QuantityError("flows of 0 m3/s or more", f"{step}", "what flows the other way is the other flow")
        if not 0.0 < step.duration_s < np.inf:
            raise QuantityError("a duration above 0 s", f"{step.duration_s:g} s")


def shown(
    instrument: Instrument,
    tank: Filled,
    faults: Mapping[str, float] | None = None,
    stuck_s: Sequence[tuple[float, float]] = (),
) -> Signal:
    """What the instrument shows over the time; in each span of `stuck_s`, from and to, the float stays where it was."""
    state = tank.state
    level_m = state.level_m.copy()
    for start_s, end_s in stuck_s:
        held = (tank.time_s >= start_s) & (tank.time_s < end_s)
        if held.any():
            level_m[held] = level_m[int(np.argmax(held))]
    sizes = {key: np.full(1, size) for key, size in (faults or {}).items()}
    return instrument.signal(replace(state, level_m=level_m), sizes)
