"""The life of the tank: batches in and out, rest, warmth and, where there is a hole, what is lost through it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.moments import DAY_s, HOUR_s, YEAR_s
from onedatum.foundation.numerics import Reals
from onedatum.simulate.history.liquid import Vessel
from onedatum.simulate.history.plan import Life, Order, Plan, Trouble
from onedatum.simulate.history.troubles import of_kind, size_at

KNOT_s = 900.0
"""At most so far apart stand the moments at which the mass is followed."""
WARMEST_DAY, WARMEST_HOUR = 200.0, 15.0
"""Common practice, no source: about three weeks after midsummer, in the afternoon."""
WEATHER_s, WEATHER_STEP_s = 4.0 * DAY_s, 6.0 * HOUR_s
TURNS = 0.1
"""How often the direction of the batches turns though the next would have fitted; common practice, no source."""
LEAST_m3 = 1e-3
"""An order that would move less is carried out already."""
FREE = 0.02
"""Share of the vessel that stays free for warmth."""


@dataclass(frozen=True)
class Move:
    """One batch, positive into the vessel."""

    start_s: float
    end_s: float
    volume_m3: float
    """At the temperatures at which it was moved."""


@dataclass(frozen=True)
class Lived:
    """What was true, by arrays over the time."""

    time_s: Reals
    level_m: Reals
    """Of the surface at rest."""
    volume_m3: Reals
    """Of the liquid as warm as it is."""
    mass_kg: Reals
    temperature_K: Reals
    flow: NDArray[np.int8]
    """1 while a batch comes in, -1 while one goes out, 0 at rest."""
    leaked_kg: Reals
    moves: tuple[Move, ...]

    @property
    def is_rising(self) -> Reals:
        """1 where the last batch came in, at first as well."""
        last = np.maximum.accumulate(np.where(self.flow != 0, np.arange(len(self.flow)), 0))
        return (self.flow[last] >= 0).astype(float)


def lived(vessel: Vessel, plan: Plan, warm_K: float) -> Lived:
    """Follow a tank through the plan."""
    _refuse(vessel, plan)
    climate = Climate.of(plan, warm_K)
    follower = _Follower(vessel, plan, climate)
    moves = follower.live()
    time_s = plan.record.interval_s * np.arange(plan.rows, dtype=np.float64)
    temperature_K = climate.temperature_K(time_s)
    mass_kg = np.interp(time_s, follower.time_s, follower.mass_kg)
    flow = np.zeros(plan.rows, dtype=np.int8)
    for move in moves:
        first, end = np.searchsorted(time_s, (move.start_s, move.end_s))
        flow[first:end] = 1 if move.volume_m3 > 0.0 else -1
    return Lived(
        time_s,
        vessel.level_m(mass_kg, temperature_K),
        mass_kg / vessel.density_kg_per_m3(temperature_K),
        mass_kg,
        temperature_K,
        flow,
        np.interp(time_s, follower.time_s, follower.leaked_kg),
        tuple(moves),
    )


@dataclass(frozen=True)
class Climate:
    """How warm the liquid is: year, day and weather."""

    life: Life
    mean_K: float
    into_year_s: float
    into_day_s: float
    weather_K: Reals

    @classmethod
    def of(cls, plan: Plan, warm_K: float) -> Climate:
        """The climate over a plan, its weather drawn."""
        random = np.random.default_rng([plan.seed, 1])
        start = plan.start.astimezone(UTC)
        into_year_s = (start - datetime(start.year, 1, 1, tzinfo=UTC)).total_seconds()
        count = int(plan.duration_s / WEATHER_STEP_s) + 2
        keeps = float(np.exp(-WEATHER_STEP_s / WEATHER_s))
        wander = [random.standard_normal()]
        for draw in random.standard_normal(count - 1).tolist():
            wander.append(keeps * wander[-1] + (1.0 - keeps**2) ** 0.5 * draw)
        mean_K = warm_K if plan.life.warm_K is None else plan.life.warm_K
        return cls(plan.life, mean_K, into_year_s, into_year_s % DAY_s, plan.life.weather_K * np.array(wander))

    def temperature_K(self, time_s: Reals) -> Reals:
        """At times since the start."""
        year = 2.0 * np.pi * ((self.into_year_s + time_s) / YEAR_s - WARMEST_DAY * DAY_s / YEAR_s)
        day = 2.0 * np.pi * ((self.into_day_s + time_s) / DAY_s - WARMEST_HOUR / 24.0)
        weather_K = np.interp(time_s, WEATHER_STEP_s * np.arange(len(self.weather_K)), self.weather_K)
        return np.asarray(self.mean_K + self.life.season_K * np.cos(year) + self.life.day_K * np.cos(day) + weather_K)


class _Follower:
    """Follows the mass from moment to moment."""

    def __init__(self, vessel: Vessel, plan: Plan, climate: Climate) -> None:
        self.vessel, self.plan, self.climate = vessel, plan, climate
        self.random = np.random.default_rng([plan.seed, 0])
        self.leaks = of_kind(plan.troubles, "leak")
        self.inflows = of_kind(plan.troubles, "inflow")
        self.orders = list(plan.orders)
        self.comes_in = bool(self.random.uniform() < 0.5)
        self.heads_m: dict[Trouble, float] = {}
        self.time_s = [0.0]
        self.mass_kg = [float(vessel.mass_kg(plan.life.start_m, self._warm_K(0.0)))]
        self.leaked_kg = [0.0]

    def live(self) -> list[Move]:
        """Batches and pauses until the end, which may cut the last one."""
        life = self.plan.life
        moves = self._rested(self._pause_s())
        while self.time_s[-1] < self.plan.duration_s:
            volume_m3 = self._batch_m3()
            if volume_m3:
                rates = life.in_m3_per_s if volume_m3 > 0.0 else life.out_m3_per_s
                moves.append(self._moved(volume_m3, self.random.uniform(*rates)))
            moves += self._rested(self._pause_s())
        return moves

    def _rested(self, pause_s: float) -> list[Move]:
        """Rest, but for what is ordered within it."""
        end_s, moves = self.time_s[-1] + pause_s, []
        while self.orders and self.orders[0].start_s <= end_s:
            order = self.orders.pop(0)
            self._advance(order.start_s - self.time_s[-1], 0.0)
            moves += self._ordered(order)
            self._advance(order.rests_s, 0.0)
            end_s = max(end_s, self.time_s[-1])
        self._advance(end_s - self.time_s[-1], 0.0)
        return moves

    def _ordered(self, order: Order) -> list[Move]:
        warm_K = self._warm_K(self.time_s[-1])
        wanted_kg = float(self.vessel.mass_kg(order.to_m, warm_K)) - self.mass_kg[-1]
        volume_m3 = wanted_kg / float(self.vessel.density_kg_per_m3(warm_K))
        if self.time_s[-1] >= self.plan.duration_s or abs(volume_m3) < LEAST_m3:
            return []
        return [self._moved(volume_m3, order.rate_m3_per_s)]

    def _moved(self, volume_m3: float, rate_m3_per_s: float) -> Move:
        start_s = self.time_s[-1]
        duration_s = min(abs(volume_m3) / rate_m3_per_s, self.plan.duration_s - start_s)
        along_K = self.climate.temperature_K(np.linspace(start_s, start_s + duration_s, 9))
        per_m3 = 1.0 / float(np.mean(1.0 / self.vessel.density_kg_per_m3(along_K)))
        volume_m3 = float(np.copysign(rate_m3_per_s * duration_s, volume_m3))
        self._advance(duration_s, volume_m3 * per_m3 / duration_s)
        return Move(start_s, self.time_s[-1], volume_m3)

    def _batch_m3(self) -> float:
        """What is moved next: what the levels allow, else what was drawn; 0 where less than the least batch could be.

        Batches go on in one direction until the next does not fit, and now and then turn before.
        """
        life, warm_K = self.plan.life, self._warm_K(self.time_s[-1])
        per_m3 = float(self.vessel.density_kg_per_m3(warm_K))
        room_m3 = (float(self.vessel.mass_kg(life.high_m, warm_K)) - self.mass_kg[-1]) / per_m3
        stock_m3 = (self.mass_kg[-1] - float(self.vessel.mass_kg(life.low_m, warm_K))) / per_m3
        least_m3 = {True: life.in_m3[0], False: life.out_m3[0]}
        free_m3 = {True: room_m3, False: stock_m3}
        if self.random.uniform() < TURNS or free_m3[self.comes_in] < least_m3[self.comes_in]:
            self.comes_in = not self.comes_in
        drawn_m3 = self.random.uniform(*(life.in_m3 if self.comes_in else life.out_m3))
        if free_m3[self.comes_in] < least_m3[self.comes_in]:
            return 0.0
        moved_m3 = min(drawn_m3, free_m3[self.comes_in])
        return moved_m3 if self.comes_in else -moved_m3

    def _pause_s(self) -> float:
        low_s, high_s = self.plan.life.pause_s
        return float(np.exp(self.random.uniform(np.log(low_s), np.log(high_s))))

    def _advance(self, duration_s: float, inflow_kg_per_s: float) -> None:
        """Go on by a time, in steps short enough for a leak that follows the level."""
        end_s = min(self.time_s[-1] + duration_s, self.plan.duration_s)
        while self.time_s[-1] < end_s:
            at_s = self.time_s[-1]
            next_s = min([at_s + KNOT_s, end_s, *self._begins_s(at_s)])
            took_s = next_s - at_s
            lost_kg = self._leak_kg_per_s(at_s) * took_s
            mass_kg = self.mass_kg[-1] + (inflow_kg_per_s + self._passed_kg_per_s(at_s)) * took_s
            lost_kg = min(lost_kg, max(mass_kg, 0.0))
            self.time_s.append(next_s)
            self.mass_kg.append(mass_kg - lost_kg)
            self.leaked_kg.append(self.leaked_kg[-1] + lost_kg)

    def _begins_s(self, after_s: float) -> list[float]:
        return [each.start_s for each in (*self.leaks, *self.inflows) if each.start_s > after_s]

    def _passed_kg_per_s(self, at_s: float) -> float:
        """What a valve lets in that does not shut: the pressure before it makes the flow, not the level."""
        flow_m3_per_s = sum(float(size_at(each, np.array([at_s]))[0]) for each in self.inflows)
        return flow_m3_per_s * float(self.vessel.density_kg_per_m3(self._warm_K(at_s))) if flow_m3_per_s else 0.0

    def _leak_kg_per_s(self, at_s: float) -> float:
        """Torricelli's law: the flow through a hole goes with the root of the head above it."""
        flow_kg_per_s = 0.0
        for each in self.leaks:
            size_m3_per_s = float(size_at(each, np.array([at_s]))[0])
            if each.start_s <= at_s < each.until_s:
                warm_K = self._warm_K(at_s)
                head_m = float(self.vessel.level_m(self.mass_kg[-1], warm_K) - self.vessel.levels_m[0])
                first_m = self.heads_m.setdefault(each, max(head_m, 1e-6))
                share = (max(head_m, 0.0) / first_m) ** 0.5
                flow_kg_per_s += size_m3_per_s * share * float(self.vessel.density_kg_per_m3(warm_K))
        return flow_kg_per_s

    def _warm_K(self, at_s: float) -> float:
        return float(self.climate.temperature_K(np.array([at_s]))[0])


def _refuse(vessel: Vessel, plan: Plan) -> None:
    life, ordered_m = plan.life, [each.to_m for each in plan.orders]
    low_m, high_m = float(vessel.levels_m[0]), float(vessel.levels_m[-1])
    inside = f"from {low_m:g} m to {high_m:g} m"
    for name, level_m in (
        ("life.start_m", life.start_m),
        ("life.low_m", life.low_m),
        ("life.high_m", life.high_m),
        *(("order.to_m", each_m) for each_m in ordered_m),
    ):
        if not low_m <= level_m <= high_m:
            raise QuantityError(inside, f"{level_m:g} m", f"{name} lies inside the vessel")
    most_m = max(life.high_m, life.start_m, *ordered_m)
    if np.interp(most_m, vessel.levels_m, vessel.volumes_m3) > (1.0 - FREE) * vessel.volumes_m3[-1]:
        raise QuantityError("2 % of the vessel left free", f"{most_m:g} m", "a liquid that grows warm needs room")
