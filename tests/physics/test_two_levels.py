"""Two known levels against the fit of a line by a library, closed forms, and a worked case of the current loop.

With two points a least squares fit goes through both, so the library works slope, offset and their uncertainties by
another way: from the covariance of the fit.
"""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from onedatum.physics.calibration import (
    capacitance_of_line_F,
    current_step_m,
    error_at_m,
    error_at_u_m,
    error_u_m,
    least_apart_m,
    level_of_line_m,
    slope_error,
    slope_error_u,
)
from tests.closeness import close
from tests.reference import case

levels = st.floats(0.2, 4.0)
apart = st.floats(0.1, 4.0)
errors = st.floats(-0.05, 0.05)
us = st.floats(1e-4, 5e-3)
ROUNDING = 1e-9


@given(first=levels, distance=apart, e_1=errors, e_2=errors, u_1=us, u_2=us, at=st.floats(0.0, 8.0))
def test_slope_error_and_their_uncertainties_by_the_fit_of_a_library(
    first: float, distance: float, e_1: float, e_2: float, u_1: float, u_2: float, at: float
) -> None:
    """The level is counted from where the error is asked for, so the offset of the fit is the error there."""
    second = first + distance
    x, y = np.array([first, second]), np.array([e_1, e_2])
    found, covariance = np.polyfit(x - at, y, 1, w=1.0 / np.array([u_1, u_2]), cov="unscaled")
    slope = slope_error(first, second, first + e_1, second + e_2)
    close(1.0 + slope, 1.0 + found[0], 1e-6, "rounding of the fit")
    close(10.0 + error_at_m(at, first, first + e_1, slope), 10.0 + found[1], 1e-6, "rounding of the fit")
    slope_u, offset_u = np.sqrt(np.diag(covariance))
    close(slope_error_u(u_1, u_2, first, second), slope_u, 1e-6 * slope_u, "rounding of the fit")
    close(error_at_u_m(at, first, second, u_1, u_2), offset_u, 1e-6 * offset_u, "rounding of the fit")


def test_readings_of_another_range_give_that_range() -> None:
    """4 mA at 250 mm and 20 mA at 3050 mm, read at 1.0 m and 2.0 m: 4 + 16 (h - 0.25)/2.8 mA (IEC 60381-1)."""
    currents = [0.004 + 0.016 * (h - 0.25) / 2.8 for h in (1.0, 2.0)]
    close(level_of_line_m(0.004, 1.0, 2.0, *currents), 0.25, ROUNDING, "rounding")
    close(level_of_line_m(0.020, 1.0, 2.0, *currents), 3.05, ROUNDING, "rounding")


def test_a_range_that_acts_in_reverse_is_found_as_well() -> None:
    """loop-L03: 4 mA at 3.0 m, 20 mA at 0 m; 0.75 m stands at 16 mA, 2.25 m at 8 mA."""
    given = case("loop-L03")
    low, high = given.value("lrv"), given.value("urv")
    close(level_of_line_m(0.004, 0.75, 2.25, 0.016, 0.008), low, ROUNDING, "rounding")
    close(1.0 + level_of_line_m(0.020, 0.75, 2.25, 0.016, 0.008), 1.0 + high, ROUNDING, "rounding")


def test_type_a_of_six_currents_as_a_level() -> None:
    """loop-C15: the standard uncertainty of the mean of six readings, on a span of 3000 mm."""
    given = case("loop-C15")
    currents = 1e-3 * np.array(given.value("I"))
    standard = float(np.std(currents, ddof=1) / np.sqrt(len(currents)))
    given.check(1e3 * current_step_m(standard, 0.0, 3.0), "u_mean_mm")


def test_a_digit_is_a_rectangle() -> None:
    """JCGM 100 4.3.7: half a digit over the square root of 3; the others add in quadrature (5.1.2)."""
    close(error_u_m(0.0, 0.0, 0.001, 0.0), 0.0005 / np.sqrt(3.0), ROUNDING, "rounding")
    close(error_u_m(0.003, 0.004, 0.0, 0.0), 0.005, ROUNDING, "3, 4, 5")


@given(distance=apart, u_1=us, u_2=us, span=st.floats(0.5, 5.0), allowed=st.floats(1e-3, 0.05))
def test_at_the_distance_needed_the_span_is_known_as_well_as_the_error_allowed(
    distance: float, u_1: float, u_2: float, span: float, allowed: float
) -> None:
    needed = float(least_apart_m(u_1, u_2, 2.0, 0.0, span, allowed))
    close(2.0 * slope_error_u(u_1, u_2, 0.0, needed) * span, allowed, ROUNDING, "rounding")
    nearer = slope_error_u(u_1, u_2, 0.0, needed / (1.0 + distance))
    assert 2.0 * nearer * span > allowed


def test_a_probe_is_set_by_two_wetted_levels() -> None:
    """Scenario B: 9.2862 pF/m dry and 338.171 pF/m more when wet; any two levels tell those at 4 and 20 mA."""
    given = case("scenarios-B")
    slope, low = given.expected["dC_dh_pF_m"], given.expected["C_150_pF"]
    held = [1e-12 * (low + slope * (level - 0.15)) for level in (0.6, 1.6)]
    given.check(1e12 * capacitance_of_line_F(0.15, 0.6, 1.6, *held), "C_150_pF")
    given.check(1e12 * capacitance_of_line_F(2.2, 0.6, 1.6, *held), "C_2200_pF")
