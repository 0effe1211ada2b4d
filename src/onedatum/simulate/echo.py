"""The record that the stem of a case would receive at its level now, and what is read from it.

It is an illustration: one record with the noise stated, or the usual one. The windows lie about what the level lets
expect; an echo that is missing, too weak or too near its neighbour is a fault and gives no reading.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.case.model.waveguide import DOUBLET
from onedatum.foundation.numerics import Reals
from onedatum.physics.echoes import (
    Doublet,
    Expected,
    Found,
    Line,
    Pulse,
    Ricker,
    RingDown,
    Sampling,
    Target,
    Window,
    by_matched_filter,
    energy_to_noise,
    filtered_V,
    identified,
    noisy_V,
    received_V,
)
from onedatum.physics.magnetostrictive import attenuation_per_m
from onedatum.study.result import Study

SEED = 20261126
"""Of the noise: the same record for the same case."""
THRESHOLD, HEIGHT_V = 0.3, 1.0
GATE_WIDTHS = 12.0
"""Half width of a window, in widths of the pulse."""
PULSES_PER_CYCLE = 4.0
"""Widths of the pulse in one swing of the drive pulse."""
MOST_SAMPLES = 400_000
LEAST_NOISE_V = 1e-6
"""No record is without noise."""


@dataclass(frozen=True)
class EchoRecord:
    """One record, what the matched filter makes of it, where each float was looked for, what was found."""

    sampling: Sampling
    received_V: Reals
    filtered_V: Reals
    threshold_V: float
    names: tuple[str, ...]
    windows: tuple[Window, ...]
    found: Found
    speed_m_per_s: float

    @property
    def distances_m(self) -> tuple[float, ...]:
        """Distance of every float that was found."""
        return tuple(delay * self.speed_m_per_s for delay in self.found.delays_s)


@dataclass(frozen=True)
class _Wire:
    """The wire, the pulse on it and how it is sampled."""

    length_m: float
    speed_m_per_s: float
    width_s: float
    """Of the pulse."""
    rate_Hz: float
    noise: float
    """As a share of the height of an echo at the head."""


def echo_now(study: Study) -> EchoRecord | None:
    """The record at the level now; None while the stem, the float or the level is unknown."""
    floats = _floats(study)
    length, speed = study.depth.stem.length.value, study.depth.wire.speed.value
    width, rate, noise = (study.value(f"instrument.echo.{key}") for key in ("pulse_width", "sampling", "noise"))
    if not floats or length is None or speed is None or width is None or rate is None or noise is None:
        return None
    if min(length, speed, width, rate) <= 0.0:
        return None
    return _record(study, floats, _Wire(length, speed, width, rate, noise))


def _floats(study: Study) -> tuple[tuple[str, float], ...]:
    """Name and distance of every float, the upper one first."""
    face, level = study.depth.stem.face.value, study.value("level_now")
    riding = study.depth.stem.now
    if face is None or level is None or riding.waterline.value is None:
        return ()
    upper = face - (level - riding.waterline.value)
    interface = study.depth.interface
    if interface is None or interface.least_layer.value is None or interface.states[0].above_magnet.value is None:
        return (("float", upper),)
    plane = level - interface.least_layer.value - interface.states[0].above_magnet.value
    return ("float", upper), ("interface float", face - plane)


def _record(study: Study, floats: tuple[tuple[str, float], ...], wire: _Wire) -> EchoRecord | None:
    width_s, rate_Hz = wire.width_s, wire.rate_Hz
    count = round(1.2 * wire.length_m / wire.speed_m_per_s * rate_Hz) + round(2 * GATE_WIDTHS * width_s * rate_Hz)
    if not 16 <= count <= MOST_SAMPLES:
        return None
    sampling = Sampling(rate_Hz, count)
    pulse: Pulse = Doublet(width_s) if study.statement.case.instrument.echo.form.word == DOUBLET else Ricker(width_s)
    line = _line(study, wire)
    targets = [Target(distance_m, HEIGHT_V) for _, distance_m in floats]
    clean = received_V(line, targets, pulse, sampling, _ring_down(study, width_s))
    record = noisy_V(clean, wire.noise * HEIGHT_V, 1, np.random.default_rng(SEED))
    windows = _windows(floats, sampling, wire)
    taken = by_matched_filter(record, pulse, sampling, windows, THRESHOLD * HEIGHT_V)
    names = tuple(name for name, _ in floats)
    found = identified(
        taken.delays_s[0],
        taken.heights_V[0],
        tuple(Expected(name, THRESHOLD * HEIGHT_V, 2 * HEIGHT_V) for name in names),
        _duration_s(study, width_s),
        _energy_to_noise(line, floats, pulse, wire),
    )
    filtered = filtered_V(record[0], pulse, sampling)
    return EchoRecord(sampling, record[0], filtered, THRESHOLD * HEIGHT_V, names, windows, found, wire.speed_m_per_s)


def _energy_to_noise(line: Line, floats: tuple[tuple[str, float], ...], pulse: Pulse, wire: _Wire) -> float:
    """Of the weakest echo: that of the float farthest from the head."""
    farthest_m = max(distance_m for _, distance_m in floats)
    height_V = HEIGHT_V * float(np.exp(-line.attenuation_per_m * farthest_m))
    return float(energy_to_noise(height_V, max(wire.noise * HEIGHT_V, LEAST_NOISE_V), pulse.energy_s, 1 / wire.rate_Hz))


def _line(study: Study, wire: _Wire) -> Line:
    """The wire with the loss and the reflections stated; what is not stated is none."""
    echo = study.statement.case.instrument.echo
    quality = echo.quality.si
    frequency_Hz = 1 / (PULSES_PER_CYCLE * wire.width_s)
    loss = 0.0 if quality is None else float(attenuation_per_m(frequency_Hz, quality, wire.speed_m_per_s))
    return Line(wire.length_m, wire.speed_m_per_s, loss, echo.end_reflection.si or 0.0, echo.head_reflection.si or 0.0)


def _ring_down(study: Study, width_s: float) -> RingDown | None:
    echo = study.statement.case.instrument.echo
    if echo.ring_down_ratio.si is None or echo.ring_down_decay.si is None:
        return None
    height_V = echo.ring_down_ratio.si * THRESHOLD * HEIGHT_V
    return RingDown(height_V, 1 / (PULSES_PER_CYCLE * width_s), echo.ring_down_decay.si)


def _duration_s(study: Study, width_s: float) -> float:
    stated = study.statement.case.instrument.echo.pulse_duration.si
    return PULSES_PER_CYCLE * width_s if stated is None else stated


def _windows(floats: tuple[tuple[str, float], ...], sampling: Sampling, wire: _Wire) -> tuple[Window, ...]:
    """About each expected arrival; two that overlap are parted in the middle."""
    middles = [round(distance_m / wire.speed_m_per_s * sampling.rate_Hz) for _, distance_m in floats]
    half = max(round(GATE_WIDTHS * wire.width_s * sampling.rate_Hz), 4)
    lows, highs = [middle - half for middle in middles], [middle + half for middle in middles]
    for i in range(len(middles) - 1):
        if highs[i] > lows[i + 1]:
            highs[i] = lows[i + 1] = (middles[i] + middles[i + 1]) // 2
    last = sampling.count - 2
    return tuple(
        Window(min(max(low, 1), last - 3), max(min(high, last), min(max(low, 1), last - 3) + 3))
        for low, high in zip(lows, highs, strict=True)
    )
