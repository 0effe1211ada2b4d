"""What hands write down beside a log: dips of the tank at rest, and movements by a meter, each with its own error."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.moments import DAY_s, HOUR_s
from onedatum.foundation.numerics import Reals
from onedatum.simulate.history.plan import Plan
from onedatum.simulate.history.tank import Lived
from onedatum.simulate.history.troubles import during, of_kind, size_at

DIP_STEP_m = 0.001
VOLUME_STEP_m3 = 0.001
MINUTE_s = 60.0
SPREAD_s = 3.0 * HOUR_s
"""A dip is taken so long before or after its hour, at most."""


@dataclass(frozen=True)
class Dip:
    """A level by hand."""

    time_s: float
    level_m: float


@dataclass(frozen=True)
class Booked:
    """A movement as it stands in the books, positive into the vessel."""

    start_s: float
    end_s: float
    volume_m3: float


def dips(tank: Lived, plan: Plan) -> tuple[Dip, ...]:
    """Dips where the tank stands still; one for which it does not within the hours of its day is left out."""
    random, hands = np.random.default_rng([plan.seed, 9]), plan.hands
    rested = rested_s(tank)
    found: list[Dip] = []
    for number in range(1, int(plan.duration_s / hands.dip_every_s) + 1):
        at_s = number * hands.dip_every_s - 0.5 * min(hands.dip_every_s, DAY_s) + random.uniform(-SPREAD_s, SPREAD_s)
        error_m = hands.dip_m * random.standard_normal()
        first, end = np.searchsorted(tank.time_s, (at_s, at_s + 2.0 * SPREAD_s))
        still = np.flatnonzero(rested[first:end] >= hands.rest_s)
        if len(still):
            place = first + int(still[0])
            level_m = float(tank.level_m[place]) + error_m + _misread_m(float(tank.time_s[place]), plan)
            level_m = round(level_m / DIP_STEP_m) * DIP_STEP_m
            if not found or tank.time_s[place] > found[-1].time_s:
                found.append(Dip(float(tank.time_s[place]), level_m))
    return tuple(found)


def _misread_m(time_s: float, plan: Plan) -> float:
    return sum(float(size_at(each, np.array([time_s]))[0]) for each in of_kind(plan.troubles, "misread"))


def rested_s(tank: Lived) -> Reals:
    """How long the tank has stood still."""
    moved = np.maximum.accumulate(np.where(tank.flow != 0, tank.time_s, -np.inf))
    return np.asarray(tank.time_s - moved)


def meters(plan: Plan) -> tuple[float, float]:
    """What a sound meter of what comes in, and one of what goes out, is off by; shares of the volume."""
    drawn = plan.hands.meter * np.random.default_rng([plan.seed, 10]).standard_normal(2)
    return float(drawn[0]), float(drawn[1])


def booked(tank: Lived, plan: Plan) -> tuple[Booked, ...]:
    """The movements as metered, their times to the minute about them."""
    random, sound = np.random.default_rng([plan.seed, 11]), meters(plan)
    found = []
    for move in tank.moves:
        middle_s = np.array([0.5 * (move.start_s + move.end_s)])
        own = "meter_in" if move.volume_m3 > 0.0 else "meter_out"
        off = sound[0] if move.volume_m3 > 0.0 else sound[1]
        off += sum(float(size_at(each, middle_s)[0]) for each in of_kind(plan.troubles, own))
        off += plan.hands.repeat * random.standard_normal()
        if any(during(each, middle_s)[0] for each in of_kind(plan.troubles, "unbooked")):
            continue
        volume_m3 = round(move.volume_m3 * (1.0 + off) / VOLUME_STEP_m3) * VOLUME_STEP_m3
        start_s = np.floor(move.start_s / MINUTE_s) * MINUTE_s
        found.append(Booked(float(start_s), float(np.ceil(move.end_s / MINUTE_s) * MINUTE_s), volume_m3))
    return tuple(found)
