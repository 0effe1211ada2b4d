"""The faults that are put into a drawn log, each at the size of the table and from a time on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.jobs.review import tank_of
from onedatum.logs.review.beside import Movement
from soak.tanks import DAY_s, Drawn, Fault, START_s, made


def _after(log: Drawn, onset_s: float) -> Reals:
    return (log.time_s >= onset_s).astype(float)


def _added(log: Drawn, more_m: Reals) -> Drawn:
    return log.told(shown_m=log.shown_m + more_m)


def stuck(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The last reading is held."""
    del random
    shown = log.shown_m.copy()
    held = log.time_s >= onset_s
    shown[held] = shown[int(np.argmax(held))]
    return log.told(shown_m=shown)


def held_float(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The float is held, the noise of the electronics goes on."""
    del random
    held = log.time_s >= onset_s
    true = np.where(held, log.true_m[int(np.argmax(held))], log.true_m)
    return log.told(shown_m=true + log.noise_m)


def currents(log: Drawn, where: Reals, milliampere: float) -> Drawn:
    """Rows that are a current in place of a level."""
    return log.told(value_mA=np.where(where > 0.0, milliampere, np.nan))


def saturation(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The current stands at its end for the rest of the log."""
    del random
    return currents(log, _after(log, onset_s), 20.5)


def wire_break(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """No current."""
    del random
    return currents(log, _after(log, onset_s), 0.0)


def failure_current(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """Failure information."""
    del random
    return currents(log, _after(log, onset_s), 21.6)


def spikes(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """Five a day of 10 mm."""
    struck = random.random(len(log.time_s)) < 5.0 * 60.0 / DAY_s
    return _added(log, 0.010 * struck * random.choice([-1.0, 1.0], len(log.time_s)) * _after(log, onset_s))


def noise_up(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """Twice the scatter."""
    del random
    return _added(log, log.noise_m * _after(log, onset_s))


def noise_down(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """Half the scatter."""
    del random
    return _added(log, -0.5 * log.noise_m * _after(log, onset_s))


def step(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """10 mm at once."""
    return _added(log, 0.010 * random.choice([-1.0, 1.0]) * _after(log, onset_s))


def hum(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """A line of 1 mm at a frequency that the folding of 50 Hz may give."""
    frequency = random.uniform(0.15, 0.45) / 60.0
    return _added(log, 1e-3 * np.sin(2.0 * np.pi * frequency * log.time_s + 1.0) * _after(log, onset_s))


def bias(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """15 mm from the first row on."""
    del onset_s
    return _added(log, 0.015 * random.choice([-1.0, 1.0]) * np.ones(len(log.time_s)))


def drift(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """0.5 mm a day upward."""
    del random
    return _added(log, 5e-4 * np.maximum(log.time_s - onset_s, 0.0) / DAY_s)


def sinking(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """0.5 mm a day downward."""
    del random
    return _added(log, -5e-4 * np.maximum(log.time_s - onset_s, 0.0) / DAY_s)


def gain(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """2 % of the level."""
    return _added(log, 0.02 * random.choice([-1.0, 1.0]) * log.true_m * _after(log, onset_s))


def film(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """8 mm more after emptying."""
    del random
    return _added(log, 0.008 * log.emptied * _after(log, onset_s))


def _lost(log: Drawn, volume_m3: Reals) -> Drawn:
    """Liquid that is lost: the true level is lower, and dips tell it."""
    found, converter = made()
    tank = tank_of(found, converter)
    true = tank.level_m(tank.volume_m3(log.true_m) - volume_m3)
    dips = tuple(
        replace(dip, level_m=dip.level_m + float(np.interp(dip.time_us / 1e6 - START_s, log.time_s, true - log.true_m)))
        for dip in log.dips
    )
    return log.told(shown_m=log.shown_m + true - log.true_m, dips=dips)


def leak(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """A fifth of a per cent of the stock a day."""
    del random
    stock = float(np.mean(made_volume(log)))
    return _lost(log, 0.002 * stock * np.maximum(log.time_s - onset_s, 0.0) / DAY_s)


def gains(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """As much a day as the leak comes in."""
    del random
    stock = float(np.mean(made_volume(log)))
    return _lost(log, -0.002 * stock * np.maximum(log.time_s - onset_s, 0.0) / DAY_s)


def far_dip(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """Two dips are written down 100 mm too high."""
    del random
    later = [each for each in log.dips if each.time_us > (START_s + onset_s) * 1e6]
    wrong = later[1:6:4]
    return log.told(dips=tuple(replace(each, level_m=each.level_m + 0.1 * (each in wrong)) for each in log.dips))


def made_volume(log: Drawn) -> Reals:
    """The true volume of each row."""
    found, converter = made()
    return tank_of(found, converter).volume_m3(log.true_m)


def loss_at_rest(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """3 mm a day, which nobody but the level tells."""
    found, converter = made()
    del random, found, converter
    lower = 0.003 * np.maximum(log.time_s - onset_s, 0.0) / DAY_s
    return _added(log, -lower)


def meter(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """What goes out is counted 2 % too little."""
    del random
    onset_us = (START_s + onset_s) * 1e6
    counted = [
        replace(each, volume_m3=each.volume_m3 * 0.98) if each.volume_m3 < 0.0 and each.from_us > onset_us else each
        for each in log.movements
    ]
    return log.told(movements=tuple(counted))


def unbooked(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The first movement after the onset is in no book."""
    del random
    onset_us = (START_s + onset_s) * 1e6
    later = [each for each in log.movements if each.from_us > onset_us]
    return log.told(movements=tuple(each for each in log.movements if each not in later[:1]))


def clock_back(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The clock is set back an hour."""
    del random
    return log.told(time_s=log.time_s - 3600.0 * _after(log, onset_s))


def clock_forward(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The clock is set forward an hour."""
    del random
    return log.told(time_s=log.time_s + 3600.0 * _after(log, onset_s))


def clock_lag(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """The clock of the papers is an hour off throughout."""
    del onset_s
    off_us = int(3.6e9 * random.choice([-1, 1]))
    moved = [Movement(each.from_us + off_us, each.to_us + off_us, each.volume_m3) for each in log.movements]
    return log.told(movements=tuple(moved))


def gaps(log: Drawn, onset_s: float, random: np.random.Generator) -> Drawn:
    """An hour and a half without rows."""
    last = random.uniform(5000.0, 6500.0)
    kept = (log.time_s < onset_s) | (log.time_s >= onset_s + last)
    columns = ("time_s", "true_m", "noise_m", "emptied", "shown_m")
    return log.told(**{name: getattr(log, name)[kept] for name in columns})


FAULTS: Mapping[str, tuple[Fault, tuple[str, ...]]] = {
    "stuck": (stuck, ("stuck",)),
    "saturation": (saturation, ("saturation",)),
    "wire_break": (wire_break, ("wire_break",)),
    "failure_current": (failure_current, ("failure_current",)),
    "spikes": (spikes, ("spikes",)),
    "noise_up": (noise_up, ("noise_up",)),
    "noise_down": (noise_down, ("noise_down",)),
    "step": (step, ("step",)),
    "step_against_dips": (step, ("step_against_dips",)),
    "hum": (hum, ("hum",)),
    "bias": (bias, ("bias",)),
    "drift": (drift, ("drift",)),
    "sinking": (sinking, ("sinking",)),
    "gain": (gain, ("gain",)),
    "film": (film, ("film",)),
    "far_dip": (far_dip, ("far_dip",)),
    "leak": (leak, ("leak",)),
    "gains": (gains, ("gains",)),
    "meter": (meter, ("meter",)),
    "unbooked": (unbooked, ("unbooked",)),
    "loss_at_rest": (loss_at_rest, ("loss_at_rest",)),
    "clock_back": (clock_back, ("clock_back",)),
    "clock_forward": (clock_forward, ("clock_forward",)),
    "clock_lag": (clock_lag, ("clock_lag",)),
    "gaps": (gaps, ("gaps",)),
}
"""Of each signature the fault, and the signatures that count as found."""
