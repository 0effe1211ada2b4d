"""How well an arrival can be told at best: bounds, energies, steps of the clock."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from onedatum.physics.echoes import (
    Doublet,
    Pulse,
    Ricker,
    bound_m,
    clock_step_m,
    doublet_delay_bound_s,
    energy_to_noise,
    ricker_delay_bound_s,
    ricker_energy_to_noise,
    sample_interval_s,
    step_standard_m,
    usual_echo,
    wrong_peaks,
    zero_crossing_delay_s,
)
from tests.closeness import close
from tests.physics.echo_draws import DOUBLET, NS, RICKER, UM, chance
from tests.reference import case

FORMS = pytest.mark.parametrize("pulse", [RICKER, DOUBLET], ids=["Ricker", "doublet"])
SPREAD_WIDTHS = 12.0


def integral(pulse: Pulse, part: str) -> float:
    """Of the square of a part of a pulse over time, by quadrature."""
    of = getattr(pulse, part)
    edge = SPREAD_WIDTHS * pulse.width_s
    found, _ = quad(lambda t: float(of(np.array([t]))[0]) ** 2, -edge, edge, epsabs=0, epsrel=1e-12, limit=200)
    return float(found)


# ---------------------------------------------------------------- pulses


@FORMS
def test_energies_by_quadrature(pulse: Pulse) -> None:
    """Closed forms, derived, against quadrature."""
    close(pulse.energy_s, integral(pulse, "values"), 1e-10 * pulse.energy_s, "quadrature")
    close(pulse.slope_energy_per_s, integral(pulse, "slopes"), 1e-10 * pulse.slope_energy_per_s, "quadrature")


@pytest.mark.parametrize(("pulse", "share"), [(RICKER, 2.5), (DOUBLET, 1.5)], ids=["Ricker", "doublet"])
def test_mean_square_frequency(pulse: Pulse, share: float) -> None:
    """Of the spectra w^4 exp(-w^2) and w^2 exp(-w^2): 5/2 and 3/2 over the square of the width (derived)."""
    close(pulse.slope_energy_per_s / pulse.energy_s * pulse.width_s**2, share, 1e-14, "moments of a Gaussian")


@FORMS
def test_slopes_are_the_change_of_the_values(pulse: Pulse) -> None:
    times, step = np.linspace(-6, 6, 41) * pulse.width_s, 1e-5 * pulse.width_s
    slopes = (pulse.values(times + step) - pulse.values(times - step)) / (2 * step)
    close(pulse.slopes(times), slopes, 1e-8 / pulse.width_s, "central difference, step squared")


@FORMS
def test_the_zero_lies_behind_the_highest_lobe(pulse: Pulse) -> None:
    times = np.linspace(-3, 3, 6001) * pulse.width_s
    values = pulse.values(times)
    behind = times[(times > times[values.argmax()]) & (values <= 1e-12)]
    close(behind[0] / pulse.width_s + 1, pulse.zero_s / pulse.width_s + 1, 2e-3, "step of the grid")


# ---------------------------------------------------------------- bounds


def test_bound_of_the_ricker_pulse() -> None:
    """Kay 1993 (from memory), against the sum over samples of the squared slope."""
    stated = case("floats-F07")
    interval = float(sample_interval_s(stated.value("fs")))
    delay = ricker_delay_bound_s(stated.value("noise") / stated.value("A"), stated.value("sigma"), interval)
    stated.check(float(bound_m(delay, stated.value("v"))) / UM)
    slopes = Ricker(stated.value("sigma")).slopes(np.linspace(-300, 300, 601) * interval)
    close(delay, stated.value("noise") / np.sqrt(np.sum(slopes**2)), 1e-9 * float(delay), "sum over samples")


def test_bound_of_the_doublet() -> None:
    stated = case("floats-F08")
    delay = doublet_delay_bound_s(stated.value("noise"), stated.value("sigma"), 1 / stated.value("fs"))
    stated.check(float(bound_m(delay, stated.value("v"))) / UM)
    slopes = Doublet(stated.value("sigma")).slopes(np.linspace(-300, 300, 601) / stated.value("fs"))
    close(delay, stated.value("noise") / np.sqrt(np.sum(slopes**2)), 1e-9 * float(delay), "sum over samples")


def test_bound_on_the_nearer_of_two_floats() -> None:
    stated = case("floats-F18a")
    height = stated.value("A") * np.exp(-stated.value("alpha") * stated.value("x1"))
    delay = ricker_delay_bound_s(stated.value("noise") / height, stated.value("sigma"), 1 / stated.value("fs"))
    stated.check(float(bound_m(delay, stated.value("v"))) / UM)


@pytest.mark.parametrize(("pulse", "bound"), [(RICKER, ricker_delay_bound_s), (DOUBLET, doublet_delay_bound_s)])
def test_bound_by_energy_and_mean_square_frequency(pulse: Pulse, bound: object) -> None:
    """1/sqrt(2E/N0 * beta^2) is the same bound."""
    energy = float(energy_to_noise(0.7, 0.02, pulse.energy_s, 1e-7))
    other = 1 / np.sqrt(energy * pulse.slope_energy_per_s / pulse.energy_s)
    assert callable(bound)
    close(bound(0.02 / 0.7, pulse.width_s, 1e-7), other, 1e-11 * other, "rounding")


def test_step_of_the_clock() -> None:
    stated = case("floats-F06")
    tick = clock_step_m(stated.value("v"), stated.value("f_clk"))
    stated.check(float(step_standard_m(tick)) / UM)
    places = chance(1).uniform(0.0, 1.0, 400_000)
    close(np.std(np.round(places / tick) * tick - places), float(step_standard_m(tick)), 5e-8, "400,000 places rounded")


def test_noise_of_a_raw_zero_crossing() -> None:
    """The mean of f^2 + (1 - f)^2 over a sample by quadrature, over the slope of the pulse at its zero."""
    stated = case("floats-F10a")
    delay = float(zero_crossing_delay_s(stated.value("noise_over_A"), stated.value("sigma")))
    stated.check(delay / NS)
    pulse = Ricker(stated.value("sigma"))
    mean, _ = quad(lambda f: f**2 + (1 - f) ** 2, 0, 1)
    slope = abs(float(pulse.slopes(np.array([pulse.zero_s]))[0]))
    close(delay, np.sqrt(mean) * stated.value("noise_over_A") / slope, 1e-12 * delay, "quadrature")


# ---------------------------------------------------------------- energy against noise


def test_energy_to_noise_by_the_samples() -> None:
    for pulse in (RICKER, DOUBLET):
        samples = 0.5 * pulse.values(np.linspace(-30e-6, 30e-6, 601))
        found = energy_to_noise(0.5, 0.02, pulse.energy_s, 1e-7)
        close(found, np.sum(samples**2) / 0.02**2, 1e-9 * float(found), "energy of the samples over noise")


def test_energy_to_noise_of_the_ricker_pulse_is_that_of_its_energy() -> None:
    of_any = energy_to_noise(1.0, 0.6, RICKER.energy_s, 1e-7)
    close(ricker_energy_to_noise(0.6, RICKER.width_s, 1e-7), of_any, 1e-12 * float(of_any), "rounding")


def test_least_energy_is_that_of_six_tenths_of_noise() -> None:
    """17.4 dB at a noise of 0.6 (own calculation), so 16 dB is at 0.71 of the height."""
    least = wrong_peaks().least_energy_to_noise
    assert ricker_energy_to_noise(0.6, 1.5e-6, 1e-7) > least > ricker_energy_to_noise(0.72, 1.5e-6, 1e-7)
    close(10 * np.log10(least), 16.0, 1e-12, "decibels")


def test_the_figures_say_where_they_come_from() -> None:
    usual = usual_echo()
    figures = usual.width_s, usual.rate_Hz, usual.noise_share
    assert {figure.tag for figure in figures} == {"common practice, no source"}
    assert {figure.source.partition(":")[0] for figure in figures} == {"common-practice"}
    assert wrong_peaks().tag == "derived and checked"
