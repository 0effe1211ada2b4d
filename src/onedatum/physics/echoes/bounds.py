"""How well the arrival of a pulse can be told at best, and what simpler ways leave."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_NOISE = ("q", "noise of one sample over the height of the pulse", "[0, 10]")
_WIDTH = ("sigma", "standard width of the pulse", "[1e-9, 0.001]")
_INTERVAL = ("d", "time between two samples", "[1e-10, 0.001]")
_SPEED = ("v", "speed of the pulse", "[500, 10000]")
_SOURCE = "kay-1993: bound on a delay in white noise"


@formula(
    equation="u_t = q*sqrt(8*sigma*d/(15*sqrt(pi)))",
    gives=("u_t", "least standard deviation of the delay"),
    where={"noise_share": _NOISE, "width_s": _WIDTH, "interval_s": _INTERVAL},
    source=_SOURCE,
)
def ricker_delay_bound_s(noise_share: Real, width_s: Real, interval_s: Real) -> Real:
    """Least standard deviation that any estimate of the arrival of a Ricker pulse can have.

    Example
    -------
    >>> float(round(ricker_delay_bound_s(0.01, 1.5e-6, 1e-7) * 1e9, 4))
    2.1245
    """
    result: Real = noise_share * np.sqrt(8 * width_s * interval_s / (15 * np.sqrt(np.pi)))
    return result


@formula(
    equation="u_t = q*sqrt(4*sigma*d/(3*sqrt(pi)))",
    gives=("u_t", "least standard deviation of the delay"),
    where={"noise_share": _NOISE, "width_s": _WIDTH, "interval_s": _INTERVAL},
    source=_SOURCE,
)
def doublet_delay_bound_s(noise_share: Real, width_s: Real, interval_s: Real) -> Real:
    """Least standard deviation that any estimate of the arrival of a doublet can have.

    Example
    -------
    >>> float(round(doublet_delay_bound_s(0.02, 2e-6, 2e-7) * 1e9, 3))
    10.971
    """
    result: Real = noise_share * np.sqrt(4 * width_s * interval_s / (3 * np.sqrt(np.pi)))
    return result


@formula(
    equation="u = v*u_t",
    gives=("u", "standard deviation of the distance"),
    where={"delay_s": ("u_t", "standard deviation of the delay", "[0, 1]"), "speed_m_per_s": _SPEED},
    source="derived: way in that time",
)
def bound_m(delay_s: Real, speed_m_per_s: Real) -> Real:
    """What a delay is worth in distance.

    Example
    -------
    >>> round(bound_m(2.1245e-9, 2800.0) * 1e6, 3)
    5.949
    """
    return delay_s * speed_m_per_s


@formula(
    equation="d = 1/f",
    gives=("d", "time between two samples"),
    where={"rate_Hz": ("f", "rate of the samples", "[1000, 1e10]")},
    source="derived: inverse",
)
def sample_interval_s(rate_Hz: Real) -> Real:
    """Time between two samples.

    Example
    -------
    >>> sample_interval_s(1e7)
    1e-07
    """
    return 1 / rate_Hz


@formula(
    equation="s = v/f",
    gives=("s", "distance in one tick of the clock"),
    where={"speed_m_per_s": _SPEED, "clock_Hz": ("f", "clock that the flight is timed with", "[10000, 1e12]")},
    source="derived: way in one tick",
)
def clock_step_m(speed_m_per_s: Real, clock_Hz: Real) -> Real:
    """Distance that one tick of the clock stands for.

    Example
    -------
    >>> round(clock_step_m(2800.0, 1e8) * 1e6, 3)
    28.0
    """
    return speed_m_per_s / clock_Hz


@formula(
    equation="u = s/sqrt(12)",
    gives=("u", "standard deviation of what is rounded to a step"),
    where={"step_m": ("s", "distance in one step", "[0, 10]")},
    source="derived: even over one step",
)
def step_standard_m(step_m: Real) -> Real:
    """Standard deviation of a distance that is counted in steps.

    Example
    -------
    >>> float(round(step_standard_m(28e-6) * 1e6, 4))
    8.0829
    """
    result: Real = step_m / np.sqrt(12)
    return result


@formula(
    equation="u_t = sqrt(2/3)*q*sigma*exp(1/2)/2",
    gives=("u_t", "standard deviation of the delay"),
    where={"noise_share": _NOISE, "width_s": _WIDTH},
    source="derived: straight line between two samples, slope 2*exp(-1/2)/sigma, mean of f^2 + (1 - f)^2 is 2/3",
)
def zero_crossing_delay_s(noise_share: Real, width_s: Real) -> Real:
    """Standard deviation of a raw zero crossing of a Ricker pulse: nearly five times the bound at usual sampling.

    Example
    -------
    >>> float(round(zero_crossing_delay_s(0.01, 1.5e-6) * 1e9, 3))
    10.096
    """
    result: Real = np.sqrt(2 / 3) * noise_share * width_s * np.exp(0.5) / 2
    return result


@formula(
    equation="E = 3*sqrt(pi)/4*sigma/(d*q**2)",
    gives=("E", "twice the energy of the pulse over the density of the noise"),
    where={
        "noise_share": ("q", "noise of one sample over the height of the pulse", "[1e-6, 10]"),
        "width_s": _WIDTH,
        "interval_s": _INTERVAL,
    },
    source=_SOURCE,
)
def ricker_energy_to_noise(noise_share: Real, width_s: Real, interval_s: Real) -> Real:
    """Energy of a Ricker pulse against noise: below about 40 (16 dB) wrong peaks are taken.

    Example
    -------
    >>> float(round(ricker_energy_to_noise(0.01, 1.5e-6, 1e-7)))
    199401.0
    """
    result: Real = 0.75 * np.sqrt(np.pi) * width_s / (interval_s * noise_share**2)
    return result


@formula(
    equation="E = A**2*e/(d*q**2)",
    gives=("E", "twice the energy of the pulse over the density of the noise"),
    where={
        "height_V": ("A", "height of the pulse", "[0, 1000]"),
        "noise_V": ("q", "noise of one sample", "[1e-9, 1000]"),
        "energy_s": ("e", "energy of the pulse of height 1", "[1e-10, 0.01]"),
        "interval_s": _INTERVAL,
    },
    source=_SOURCE,
)
def energy_to_noise(height_V: Real, noise_V: Real, energy_s: Real, interval_s: Real) -> Real:
    """Energy of a pulse of any form against noise.

    Example
    -------
    >>> from onedatum.physics.echoes.pulses import Doublet
    >>> round(energy_to_noise(1.0, 0.01, Doublet(1.5e-6).energy_s, 1e-7))
    132934
    """
    return height_V**2 * energy_s / (interval_s * noise_V**2)
