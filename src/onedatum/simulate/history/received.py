"""From the surface to the receiver: waves, float, transmitter, loop and interference, to the current taken."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.physics.loop import filter_coefficient, wave_share
from onedatum.simulate.history.plan import Plan, Trouble
from onedatum.simulate.history.tank import Lived
from onedatum.simulate.history.troubles import during, of_kind, size_at, sizes_at
from onedatum.simulate.instrument import Instrument, State

MOST_A = 0.023
"""More than this no receiver of 4-20 mA tells apart; common practice, no source."""
PERIODS_TOGETHER = 20.0
"""For so many periods waves keep their beat; common practice, no source."""
MAINS_s = 300.0
"""Over so long the frequency of the mains wanders; common practice, no source."""
WHITE = 1e-4
"""What one reading may keep of the last, at most, to count as independent of it."""


def received_A(instrument: Instrument, tank: Lived, plan: Plan) -> Reals:
    """The current that the receiver takes at every reading."""
    time_s = tank.time_s
    sizes = sizes_at(plan.troubles, time_s)
    level_m = damped(tank.level_m, plan) + waves_m(tank, plan)
    for each in of_kind(plan.troubles, "stuck"):
        level_m = held(level_m, during(each, time_s))
    noise_m = damped(sensor_noise_m(tank, plan), plan)
    open_ = opened(plan, time_s)
    if open_.any() and "load" in instrument.kinds:
        sizes["load"] = sizes.get("load", np.zeros(1)) + contact_ohm(open_, plan)
    highest_m = np.maximum.accumulate(level_m)
    state = State(level_m, tank.temperature_K, tank.is_rising, highest_m)
    current_A = instrument.signal(state, {**sizes, "datum": sizes.get("datum", np.zeros(1)) + noise_m}).current_A
    if open_.any() and "load" not in instrument.kinds:
        current_A = np.where(open_, 0.0, current_A)
    for each in of_kind(plan.troubles, "break"):
        current_A = np.where(during(each, time_s), 0.0, current_A)
    current_A = current_A + interference_A(plan, time_s)
    current_A = np.clip(np.nan_to_num(current_A, nan=0.0), 0.0, MOST_A)
    for each in of_kind(plan.troubles, "frozen"):
        current_A = held(current_A, during(each, time_s))
    return np.asarray(current_A)


# ---------------------------------------------------------------- the surface and the transmitter


def waves_m(tank: Lived, plan: Plan) -> Reals:
    """Of the surface while a batch comes in or the agitator runs, as far as the damping lets them through."""
    reading, random = plan.reading, np.random.default_rng([plan.seed, 2])
    where = moving(tank, plan)
    time_s = tank.time_s[where]
    both = random.standard_normal((2, len(time_s)))
    keeps = float(np.exp(-plan.record.interval_s / (PERIODS_TOGETHER * reading.wave_period_s)))
    if keeps > WHITE and len(time_s):
        both = np.array([_kept(row, keeps) for row in both])
    angle = 2.0 * np.pi * time_s / reading.wave_period_s
    one_m = reading.waves_m * (both[0] * np.cos(angle) + both[1] * np.sin(angle))
    one_m = one_m * _wave_share(reading.damping_s, reading.wave_period_s)
    for each in of_kind(plan.troubles, "damping"):
        more = _wave_share(each.size, reading.wave_period_s)
        one_m = np.where(during(each, time_s), one_m * more, one_m)
    found_m = np.zeros(len(tank.time_s))
    found_m[where] = one_m
    return found_m


def _wave_share(damping_s: float, period_s: float) -> float:
    return float(wave_share(1.0 / period_s, damping_s))


def _kept(draws: Reals, keeps: float) -> Reals:
    """Noise that keeps a share of what it was, with the spread of the draws."""
    new = np.sqrt(1.0 - keeps**2) * draws
    new[0] = draws[0]
    return np.fromiter(accumulate(new.tolist(), lambda last, draw: keeps * last + draw), float, len(new))


def moving(tank: Lived, plan: Plan) -> NDArray[np.bool_]:
    """Where the surface is not at rest."""
    moves = tank.flow > 0
    if plan.life.agitated_s > 0.0:
        for move in tank.moves:
            if move.volume_m3 > 0.0:
                ends = np.searchsorted(tank.time_s, (move.start_s, move.end_s + plan.life.agitated_s))
                moves[ends[0] : ends[1]] = True
    return np.asarray(moves)


def sensor_noise_m(tank: Lived, plan: Plan) -> Reals:
    """Of the transmitter itself."""
    noise_m = plan.reading.sensor_m * np.random.default_rng([plan.seed, 3]).standard_normal(len(tank.time_s))
    for each in of_kind(plan.troubles, "noise"):
        noise_m = noise_m * (1.0 + size_at(each, tank.time_s))
    return np.asarray(noise_m)


def damped(values: Reals, plan: Plan) -> Reals:
    """Behind the damping of the transmitter, and behind one that is set over a time."""
    interval_s = plan.record.interval_s
    if plan.reading.damping_s > 0.0:
        values = followed(values, float(filter_coefficient(interval_s, plan.reading.damping_s)))
    for each in of_kind(plan.troubles, "damping"):
        where = during(each, interval_s * np.arange(len(values), dtype=np.float64))
        values = values.copy()
        values[where] = followed(values[where], float(filter_coefficient(interval_s, each.size)))
    return values


def followed(values: Reals, coefficient: float) -> Reals:
    """A filter in steps, settled at the first value."""
    if not len(values):
        return values
    steps: Iterable[float] = accumulate(values.tolist(), lambda last, value: last + coefficient * (value - last))
    return np.fromiter(steps, float, len(values))


def held(values: Reals, where: NDArray[np.bool_]) -> Reals:
    """The first value where something is held, as long as it is."""
    if not where.any():
        return values
    return np.where(where, values[int(np.argmax(where))], values)


# ---------------------------------------------------------------- the loop and what couples into it


def opened(plan: Plan, time_s: Reals) -> NDArray[np.bool_]:
    """Where an intermittent contact is open: it opens and closes at random, the reading meets it as it is."""
    found = np.zeros(len(time_s), dtype=bool)
    for number, each in enumerate(of_kind(plan.troubles, "contact")):
        random = np.random.default_rng([plan.seed, 4, number])
        span_s = min(each.until_s, plan.duration_s) - each.start_s
        open_s = plan.reading.open_s
        closed_s = open_s * (1.0 - each.size) / each.size
        cycles = int(1.5 * span_s / (open_s + closed_s)) + 50
        lengths_s = random.exponential(1.0, (cycles, 2)) * np.array([closed_s, open_s])
        turns_s = each.start_s + np.cumsum(lengths_s.ravel())
        is_open = np.searchsorted(turns_s, time_s, side="right") % 2 == 1
        found |= is_open & during(each, time_s)
    return found


def contact_ohm(open_: NDArray[np.bool_], plan: Plan) -> Reals:
    """Resistance of the open contact, any size as likely as its double."""
    low, high = np.log(plan.reading.contact_ohm)
    draws = np.random.default_rng([plan.seed, 5]).uniform(low, high, len(open_))
    return np.where(open_, np.exp(draws), 0.0)


def interference_A(plan: Plan, time_s: Reals) -> Reals:
    """Noise of the receiver, spikes and hum."""
    noise_A = plan.reading.receiver_A * np.random.default_rng([plan.seed, 6]).standard_normal(len(time_s))
    for number, each in enumerate(of_kind(plan.troubles, "spikes")):
        random = np.random.default_rng([plan.seed, 7, number])
        hit = random.uniform(size=len(time_s)) < plan.reading.spikes_per_s * plan.record.interval_s
        sign = random.choice([-1.0, 1.0], len(time_s))
        noise_A = noise_A + np.where(hit, sign * random.exponential(1.0, len(time_s)) * size_at(each, time_s), 0.0)
    hums = of_kind(plan.troubles, "hum")
    if hums:
        noise_A = noise_A + _hum(plan, time_s, hums)
    return np.asarray(noise_A)


def _hum(plan: Plan, time_s: Reals, hums: Sequence[Trouble]) -> Reals:
    """The wave of the mains as the readings meet it; its frequency wanders."""
    random, interval_s = np.random.default_rng([plan.seed, 8]), plan.record.interval_s
    turns = plan.reading.mains_Hz * time_s + random.uniform()
    if plan.reading.mains_wander_Hz > 0.0:
        keeps = float(np.exp(-interval_s / MAINS_s))
        wander_Hz = plan.reading.mains_wander_Hz * _kept(random.standard_normal(len(time_s)), keeps)
        turns = turns + interval_s * np.cumsum(wander_Hz)
    sizes_A = np.sum([size_at(each, time_s) for each in hums], axis=0)
    return np.asarray(sizes_A * np.sin(2.0 * np.pi * (turns % 1.0)))
