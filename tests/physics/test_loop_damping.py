"""Damping against worked cases, differential equations solved by steps, convolution, and noise from a generator."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.signal import lfilter

from onedatum.physics.loop import (
    filter_coefficient,
    filter_coefficient_euler,
    noise_share,
    ramp_lag_m,
    rise_rate_m_per_s,
    rise_time_s,
    steady_lag_m,
    step_response,
    time_to_share_s,
    wave_share,
)
from tests.closeness import close, exact, printed
from tests.reference import case

MM = 1e-3


# ---------------------------------------------------------------- step


def test_times_to_shares_of_a_step() -> None:
    stated = case("loop-L21")
    stated.check(time_to_share_s(stated.value("tau"), np.array([0.90, 0.95, 0.99])))


@pytest.mark.parametrize(("share", "times"), [(0.90, "2.3026"), (0.95, "2.9957"), (0.98, "3.912"), (0.99, "4.6052")])
def test_times_as_multiples_of_the_time_constant(share: float, times: str) -> None:
    """Derived, printed."""
    assert time_to_share_s(1.0, share) == printed(times)


def test_a_time_constant_shows_two_thirds_or_so() -> None:
    """Derived, printed: 63.2 % of a step."""
    assert 100 * step_response(7.0, 7.0) == printed("63.2")


def test_rise_time() -> None:
    """Derived, printed: 2.1972 time constants from 10 to 90 %; definition from memory."""
    assert rise_time_s(1.0) == printed("2.1972")
    between = time_to_share_s(4.0, 0.9) - time_to_share_s(4.0, 0.1)
    close(rise_time_s(4.0), between, 1e-14, "rounding")


@given(tau=st.floats(0.1, 100.0), share=st.floats(0.0, 0.999))
def test_step_and_time_undo_each_other(tau: float, share: float) -> None:
    assert abs(float(step_response(time_to_share_s(tau, share), tau)) - share) <= 1e-14


def test_a_step_begins_at_nothing_and_ends_whole() -> None:
    exact(step_response(np.array([0.0, 4000.0]), 4.0), [0.0, 1.0])
    close(step_response(1e-12, 4.0), 2.5e-13, 1e-25, "early on the slope is one over the time constant")


# ---------------------------------------------------------------- ramp


def test_lag_on_a_ramp() -> None:
    stated = case("loop-L20")
    rate, tau, time = stated.value("rate") * MM, stated.value("tau"), stated.value("t")
    found = {"at_t": ramp_lag_m(rate, time, tau), "steady": steady_lag_m(rate, tau, 0.0, 0.0)}
    for result, lag in found.items():
        close(float(lag) / MM, stated.expected[result], 1e-7, "printed to 1e-8 of a millimetre")


@pytest.mark.parametrize("time_s", [0.5, 4.0, 9.0])
def test_lag_by_convolution(time_s: float) -> None:
    """L20 by its other route: the ramp folded with the decaying weight of the damping."""
    shown = quad(lambda ago: 0.020 * (time_s - ago) * np.exp(-ago / 4.0) / 4.0, 0.0, time_s, epsabs=1e-14)[0]
    close(ramp_lag_m(0.020, time_s, 4.0), 0.020 * time_s - shown, 1e-12, "quadrature")


def two_dampings_m(rate: float, first_s: float, second_s: float, dead_s: float, until_s: float) -> float:
    """Lag of two dampings and a dead time behind a ramp, by stepping their differential equations."""

    def slopes(time: float, shown: list[float]) -> list[float]:
        level = rate * max(time - dead_s, 0.0)
        return [(level - shown[0]) / first_s, (shown[0] - shown[1]) / second_s]

    solved = solve_ivp(slopes, (0.0, until_s), [0.0, 0.0], rtol=1e-10, atol=1e-13, max_step=0.5)
    return float(rate * until_s - solved.y[1, -1])


@pytest.mark.parametrize(("first", "second", "dead"), [(4.0, 1.0, 0.0), (4.0, 4.5, 2.0), (0.5, 6.0, 1.0)])
def test_lags_in_a_row_add(first: float, second: float, dead: float) -> None:
    late = two_dampings_m(0.020, first, second, dead, 200.0)
    close(steady_lag_m(0.020, first, second, dead), late, 1e-8, "steps of 1e-10")


def test_lag_of_a_differential_equation() -> None:
    solved = solve_ivp(lambda t, y: [(0.020 * t - y[0]) / 4.0], (0.0, 4.0), [0.0], rtol=1e-11, atol=1e-14)
    close(ramp_lag_m(0.020, 4.0, 4.0), 0.020 * 4.0 - solved.y[0, -1], 1e-10, "steps of 1e-11")


@given(rate=st.floats(-0.1, 0.1), tau=st.floats(0.1, 100.0), time=st.floats(0.0, 1000.0))
def test_the_lag_grows_to_the_steady_one_and_turns_with_the_rate(rate: float, tau: float, time: float) -> None:
    lag, later = (float(ramp_lag_m(rate, t, tau)) for t in (time, time + 1.0))
    steady = float(steady_lag_m(rate, tau, 0.0, 0.0))
    assert abs(lag) <= abs(later) <= abs(steady) * (1 + 1e-15)
    assert abs(lag) <= abs(rate) * time * (1 + 1e-14), "at most the whole rise"
    exact(ramp_lag_m(-rate, time, tau), -lag)


def test_rate_of_a_filled_shell() -> None:
    """O03 prints 31.83 mm/min for 600 m3/h into 20 m of diameter."""
    rate = rise_rate_m_per_s(600 / 3600, np.pi * 10.0**2)
    assert rate * 60 / MM == printed("31.83")


def test_the_rate_fills_a_lying_cylinder_in_the_time_of_its_volume() -> None:
    """Rate by the surface 2 L sqrt(h (D - h)), run from near empty to half full; the volume by the segment."""
    diameter, length, flow = 2.0, 6.0, 0.01

    def surface(level: float) -> float:
        return float(2 * length * np.sqrt(level * (diameter - level)))

    time = quad(lambda level: 1 / float(rise_rate_m_per_s(flow, surface(level))), 0.0, 1.0, epsabs=1e-9)[0]
    close(time, length * np.pi * diameter**2 / 8 / flow, 1e-6, "quadrature")
    assert rise_rate_m_per_s(flow, surface(0.1)) > rise_rate_m_per_s(flow, surface(1.0))


# ---------------------------------------------------------------- filter in steps


def test_coefficients_of_a_filter() -> None:
    stated = case("loop-L22")
    dt, tau = stated.value("dt"), stated.value("tau")
    whole = filter_coefficient(dt, tau)
    found = {
        "alpha_exact": whole,
        "alpha_euler": filter_coefficient_euler(dt, tau),
        "noise_ratio": noise_share(whole),
    }
    for result, value in found.items():
        close(float(value), stated.expected[result], 1e-9 * stated.expected[result], "tolerance of the case")


def filtered(readings: np.ndarray, coefficient: float) -> np.ndarray:
    """y += a (x - y) over the readings, from nothing."""
    return np.asarray(lfilter([coefficient], [1.0, coefficient - 1.0], readings))


def test_the_exact_filter_shows_a_step_as_the_damping_does() -> None:
    shown = filtered(np.ones(40), float(filter_coefficient(0.7, 5.0)))
    close(shown, step_response(np.linspace(0.7, 28.0, 40), 5.0), 1e-13, "rounding of forty steps")


def test_the_backward_filter_solves_the_backward_difference() -> None:
    """tau (y - y0)/dt + y = x, solved for y step by step."""
    expected, shown = [], 0.0
    for reading in (1.0, 3.0, -2.0, 0.5):
        shown = (5.0 * shown + 0.7 * reading) / (5.0 + 0.7)
        expected.append(shown)
    found = filtered(np.array([1.0, 3.0, -2.0, 0.5]), float(filter_coefficient_euler(0.7, 5.0)))
    close(found, expected, 1e-14, "rounding")


@given(dt=st.floats(0.001, 100.0), tau=st.floats(0.01, 100.0))
def test_the_backward_filter_is_the_slower_one(dt: float, tau: float) -> None:
    whole, backward = float(filter_coefficient(dt, tau)), float(filter_coefficient_euler(dt, tau))
    assert 0 < backward < whole <= 1


def test_both_filters_agree_where_readings_come_fast() -> None:
    close(filter_coefficient(1e-6, 5.0), filter_coefficient_euler(1e-6, 5.0), 1e-13, "they part with (dt/tau)^2/2")


def test_no_damping_takes_each_reading_over() -> None:
    exact(filter_coefficient_euler(1.0, 0.0), 1.0)
    exact(noise_share(np.array([0.0, 1.0])), [0.0, 1.0])


@pytest.mark.parametrize("coefficient", [0.05, 0.181269246922, 0.6])
def test_noise_behind_a_filter(coefficient: float) -> None:
    """Independent: two million readings from a generator."""
    noise = np.random.default_rng(22).standard_normal(2_000_000)
    left = np.std(filtered(noise, coefficient)[1000:])
    share = float(noise_share(coefficient))
    close(left, share, 0.015 * share, "about three standard errors of the slowest filter")


# ---------------------------------------------------------------- waves


def test_wave_on_the_surface() -> None:
    """Derived, printed: 0.5 Hz and 5 s leave 0.0635."""
    assert wave_share(0.5, 5.0) == printed("0.0635")


@pytest.mark.parametrize(("frequency", "tau"), [(0.5, 5.0), (0.05, 2.0), (2.0, 0.3)])
def test_a_wave_run_through_the_damping(frequency: float, tau: float) -> None:
    """Independent: the differential equation stepped until nothing of the beginning is left, over whole waves."""
    omega, begin, end = 2 * np.pi * frequency, 25 * tau, 25 * tau + 4 / frequency
    solved = solve_ivp(
        lambda t, y: [(np.sin(omega * t) - y[0]) / tau],
        (0.0, end),
        [0.0],
        rtol=1e-9,
        atol=1e-12,
        max_step=0.05 / frequency,
        dense_output=True,
    )
    times = np.linspace(begin, end, 4001)[:-1]
    height = 2 * abs(np.mean(solved.sol(times)[0] * np.exp(-1j * omega * times)))
    close(wave_share(frequency, tau), height, 1e-5 * height, "interpolation between the steps")


def test_slow_waves_pass_and_fast_ones_do_not() -> None:
    shares = np.asarray(wave_share(np.array([0.0, 0.01, 0.1, 1.0, 10.0]), 5.0))
    exact(shares[0], 1.0)
    assert np.all(np.diff(shares) < 0)
    close(wave_share(1e5, 5.0), 1 / (2 * np.pi * 1e5 * 5.0), 1e-15, "far up it falls with the frequency")
