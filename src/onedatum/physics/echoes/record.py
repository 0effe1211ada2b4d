"""The record as it is received: pulses of the floats, their echoes off the ends, the drive pulse dying down, noise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes.pulses import Pulse


@dataclass(frozen=True)
class Line:
    """The wire: its length, its speed, its loss, what its ends return."""

    length_m: float
    speed_m_per_s: float
    attenuation_per_m: float
    end_reflection: float
    head_reflection: float


@dataclass(frozen=True)
class RingDown:
    """The drive pulse as the pick-up hears it: it swings and dies down."""

    amplitude_V: float
    frequency_Hz: float
    decay_s: float


@dataclass(frozen=True)
class Pickup:
    """The mains as the pick-up hears it."""

    amplitude_V: float
    frequency_Hz: float


@dataclass(frozen=True)
class Target:
    """The magnet of one float: where it stands and how strong it is; the sign is its polarity."""

    distance_m: float
    amplitude_V: float


@dataclass(frozen=True)
class Sampling:
    """How the record is taken: rate, count of samples."""

    rate_Hz: float
    count: int

    @property
    def times_s(self) -> Reals:
        """Time of every sample."""
        return np.arange(self.count, dtype=np.float64) / self.rate_Hz


def received_V(
    line: Line,
    targets: Sequence[Target],
    pulse: Pulse,
    sampling: Sampling,
    ring_down: RingDown | None = None,
    pickup: Pickup | None = None,
    round_trips: int = 0,
) -> Reals:
    """The record without noise.

    Formula
    -------
    y(t) = B*exp(-t/tau)*cos(2*pi*f*t) + sum over the floats of A*exp(-a*x)*s(t - x/v) and of
    r_e*A*exp(-a*(2L - x))*s(t - (2L - x)/v), each again by r_e*r_h*exp(-2*a*L) a round trip later

    Parameters
    ----------
    line : Line
        length L [m], speed v [m/s], loss a [1/m], reflections r_e and r_h [1]
    targets : sequence of Target
        distance x [m] and amplitude A [V] of every float
    pulse : Pulse
        form s of the pulse
    sampling : Sampling
        rate [Hz] and count of the samples
    ring_down : RingDown, optional
        amplitude B [V], frequency f [Hz] and decay tau [s] of the drive pulse
    pickup : Pickup, optional
        amplitude [V] and frequency [Hz] of the mains
    round_trips : int
        how many times the pulses run to and fro

    Returns
    -------
    array of float
        voltage of every sample [V]

    Validity
    --------
    pulses that keep their form; an end reflection that is one signed number, to be fitted to the wire

    Source
    ------
    Derived from geometry or first principles, images between the ends [derived and checked]

    Example
    -------
    >>> from onedatum.physics.echoes.pulses import Ricker
    >>> line = Line(3.0, 2800.0, 0.0, 0.0, 0.0)
    >>> record = received_V(line, [Target(1.4, 1.0)], Ricker(1.5e-6), Sampling(1e7, 12_000))
    >>> int(np.argmax(record))
    5000
    """
    times = sampling.times_s
    record = np.zeros(sampling.count)
    if ring_down is not None:
        swing = np.cos(2 * np.pi * ring_down.frequency_Hz * times)
        record += ring_down.amplitude_V * np.exp(-times / ring_down.decay_s) * swing
    if pickup is not None:
        record += pickup.amplitude_V * np.sin(2 * np.pi * pickup.frequency_Hz * times)
    for way_m, amplitude_V in _arrivals(line, targets, round_trips):
        record += amplitude_V * pulse.values(times - way_m / line.speed_m_per_s)
    return record


def noisy_V(record_V: Reals, noise_V: float, records: int, chance: np.random.Generator) -> Reals:
    """Records with white noise of their own, a row each.

    Formula
    -------
    record + noise*N(0, 1), sample by sample

    Parameters
    ----------
    record_V : array of float
        the record without noise [V]
    noise_V : float
        standard deviation of the noise of one sample [V]
    records : int
        how many records
    chance : Generator
        source of random numbers, with its seed

    Returns
    -------
    array of float, records by samples
        voltages [V]

    Validity
    --------
    noise that is white up to half the rate of the samples

    Source
    ------
    Derived from geometry or first principles [derived and checked]

    Example
    -------
    >>> noisy_V(np.zeros(4), 0.01, 3, np.random.default_rng(1)).shape
    (3, 4)
    """
    return np.asarray(record_V + noise_V * chance.standard_normal((records, len(record_V))))


def _arrivals(line: Line, targets: Sequence[Target], round_trips: int) -> Iterator[tuple[float, float]]:
    """Way and amplitude of everything that a float sends to the head."""
    there_and_back = line.end_reflection * line.head_reflection * np.exp(-2 * line.attenuation_per_m * line.length_m)
    for target in targets:
        echo_m = 2 * line.length_m - target.distance_m
        for trip in range(round_trips + 1):
            shrunk, longer_m = there_and_back**trip, 2 * line.length_m * trip
            direct = target.amplitude_V * np.exp(-line.attenuation_per_m * target.distance_m)
            off_end = line.end_reflection * target.amplitude_V * np.exp(-line.attenuation_per_m * echo_m)
            yield target.distance_m + longer_m, float(direct * shrunk)
            yield echo_m + longer_m, float(off_end * shrunk)
