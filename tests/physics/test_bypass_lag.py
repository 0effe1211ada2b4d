"""How a chamber follows its vessel: against integrated motion and against an open library of fluid flow."""

from __future__ import annotations

import numpy as np
import pytest
from fluids.friction import Blasius
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from onedatum.physics.bypass import (
    chamber_lag_time_s,
    connection_lag_m,
    connection_speed_m_per_s,
    laminar_friction_factor,
    reynolds_number,
    smooth_friction_factor,
    swing_damping,
    swing_period_s,
)
from tests.closeness import close
from tests.reference import case

G = 9.80665


def test_time_constant_of_a_laminar_connection() -> None:
    given = case("floats-C13")
    lag = chamber_lag_time_s(*(given.value(key) for key in ("mu", "L", "D", "d", "rho")), G)
    given.check(lag)


def test_time_to_63_per_cent_by_integration() -> None:
    """Hagen and Poiseuille: dp = 128 mu L Q/(pi d^4), Q = A dh/dt."""
    mu, length, wide, bore, rho = 0.5, 0.6, 0.0548, 0.025, 900.0
    area = np.pi * wide**2 / 4

    def rate(_: float, h: np.ndarray) -> np.ndarray:
        return np.asarray((1.0 - h) * rho * G * np.pi * bore**4 / (128 * mu * length) / area)

    run = solve_ivp(rate, (0.0, 30.0), [0.0], rtol=1e-10, atol=1e-12, dense_output=True)
    reached = brentq(lambda t: run.sol(t)[0] - (1 - np.exp(-1.0)), 0.1, 29.0)
    close(chamber_lag_time_s(mu, length, wide, bore, rho, G), reached, 1e-6 * reached, "integrated to 1e-10")


@pytest.mark.parametrize("reynolds", [2000.0, 5000.0, 2e4, 1e5])
def test_friction_of_a_smooth_pipe_against_another_library(reynolds: float) -> None:
    close(smooth_friction_factor(reynolds), Blasius(reynolds), 1e-12, "the same formula")


def test_the_lag_at_a_steady_rate_is_the_head_lost() -> None:
    """Laminar, without losses: the friction factor of Hagen and Poiseuille gives rate times time constant."""
    rate, wide, bore, length, rho, mu = 1e-3, 0.0548, 0.02, 0.5, 900.0, 0.05
    speed = connection_speed_m_per_s(rate, wide, bore)
    reynolds = reynolds_number(rho, speed, bore, mu)
    by_head = connection_lag_m(laminar_friction_factor(reynolds), length, bore, 0.0, speed, G)
    by_time = rate * chamber_lag_time_s(mu, length, wide, bore, rho, G)
    close(by_head, by_time, 1e-12 * by_time, "two ways to the same head")


@pytest.mark.parametrize("viscosity", [1e-3, 0.02])
def test_a_thin_liquid_swings_by_integration(viscosity: float) -> None:
    """The motion of the column with laminar friction: its first crossing and what it overshoots by."""
    wide, bore, length, rho, rest = 0.05, 0.03, 0.4, 1000.0, 0.5
    period = float(swing_period_s(rest, length, wide, bore, G))
    damping = float(swing_damping(chamber_lag_time_s(viscosity, length, wide, bore, rho, G), period))
    moved = rest + length * (wide / bore) ** 2
    drag = 32 * viscosity * length * wide**2 / (bore**4 * rho * moved)

    def motion(_: float, y: np.ndarray) -> list[float]:
        return [y[1], -G / moved * y[0] - drag * y[1]]

    run = solve_ivp(motion, (0.0, 4 * period), [0.01, 0.0], rtol=1e-10, atol=1e-14, dense_output=True)
    times = np.linspace(0.0, 4 * period, 40001)
    deepest = -float(np.min(run.sol(times)[0])) / 0.01
    expected = np.exp(-np.pi * damping / np.sqrt(1 - damping**2))
    close(deepest, float(expected), 1e-6, "a grid of 1e-4 periods")
    damped = times[int(np.argmin(run.sol(times)[0]))] * 2
    close(damped, period / np.sqrt(1 - damping**2), 1e-3 * period, "a grid of 1e-4 periods")
