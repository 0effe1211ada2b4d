"""Time of flight through warm and cold against worked cases, quadrature, an equation of motion and book-keeping."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from onedatum.foundation.errors import QuantityError
from onedatum.physics.magnetostrictive import (
    distance_of_flight_m,
    distance_of_level_m,
    flight_time_s,
    flight_time_through_gradient_s,
    gradient_error_m,
    grown_length_m,
    head_rise_m,
    highest_level_by_dead_zone_m,
    length_growth_m,
    mean_temperature_error_m,
    profile_error_m,
    reading_error_of_head_rise_m,
    reference_magnet_distance_m,
    stem_length_m,
)
from tests.closeness import close, exact
from tests.reference import case

MM, ZERO_K = 1e-3, 273.15
REFERENCE_K = 293.15
SPEED = 2800.0


def integral_s(temperature_K: Callable[[float], float], distance_m: float, coefficient: float) -> float:
    """Time of flight by quadrature of the slowness along the wire."""

    def slowness(at_m: float) -> float:
        return 1.0 / (SPEED * (1.0 + coefficient * (temperature_K(at_m) - REFERENCE_K)))

    return float(quad(slowness, 0.0, distance_m, epsabs=0.0, epsrel=1e-13, limit=200)[0])


# ---------------------------------------------------------------- one temperature


@given(st.floats(0.0, 50.0), st.floats(1500.0, 5000.0))
def test_time_and_distance_undo_each_other(distance_m: float, speed: float) -> None:
    close(1 + distance_of_flight_m(flight_time_s(distance_m, speed), speed), 1 + distance_m, 1e-13, "rounding")


def test_a_level_stands_where_the_dead_zone_would_end_at_it() -> None:
    """The highest level by an upper dead zone is that whose magnet plane stands at the end of the zone."""
    for zone_m in (0.0, 0.11, 0.4):
        level_m = highest_level_by_dead_zone_m(3.17, zone_m, 0.0109)
        close(1 + distance_of_level_m(3.17, level_m, 0.0109), 1 + zone_m, 1e-13, "rounding")


def test_a_tenth_of_a_millimetre_in_time() -> None:
    close(flight_time_s(0.1 * MM, SPEED), 35.7e-9, 0.05e-9, "printed to 0.1 ns in the usual figures: 35.7 ns")


def test_the_reference_magnet_takes_the_speed_out() -> None:
    for speed in (2600.0, 2800.0, 3050.0):
        found = reference_magnet_distance_m(flight_time_s(1.234, speed), flight_time_s(3.0, speed), 3.0)
        close(found, 1.234, 1e-15, "rounding")


def test_the_reference_magnet_leaves_the_expansion_of_the_stem() -> None:
    """A reference at the tip that has moved down with the stem, unknown to the instrument: read short by its share."""
    length, warmer_K, alpha = 3.0, 60.0, 16e-6
    moved = grown_length_m(length, alpha, warmer_K)
    found = reference_magnet_distance_m(flight_time_s(1.5, SPEED), flight_time_s(moved, SPEED), length)
    close(found - 1.5, -1.5 * alpha * warmer_K / (1 + alpha * warmer_K), 1e-15, "rounding")


# ---------------------------------------------------------------- warm and cold along the wire


def stated_temperatures(identity: str) -> tuple[float, float, float, float, float]:
    """Distance, coefficient, temperatures at head, at float and for the speed of a case."""
    stated = case(identity)
    head, at_float = stated.value("T_head") + ZERO_K, stated.value("T_float") + ZERO_K
    return stated.value("x"), stated.value("kv"), head, at_float, 20.0 + ZERO_K


def test_error_through_a_gradient() -> None:
    stated = case("floats-F04a")
    stated.check(gradient_error_m(*stated_temperatures("floats-F04a")) / MM)
    distance, coefficient = 7.5, 2.5e-4
    for head, at_float in ((250.0, 480.0), (480.0, 250.0), (310.0, 310.000001), (310.0, 310.0)):

        def straight_K(at_m: float, start_K: float = head, end_K: float = at_float) -> float:
            return start_K + (end_K - start_K) * at_m / distance

        true_s = integral_s(straight_K, distance, coefficient)
        found = gradient_error_m(distance, coefficient, head, at_float, REFERENCE_K)
        close(distance + found, SPEED * true_s, 1e-12, "quadrature to 1e-13")


def test_error_by_the_mean_temperature() -> None:
    case("floats-F04b").check(mean_temperature_error_m(*stated_temperatures("floats-F04b")) / MM)


def test_time_through_a_gradient() -> None:
    distance, coefficient, head, at_float, reference = stated_temperatures("floats-F04a")

    def motion(_: float, at_m: object) -> object:
        warmth_K = head + (at_float - head) * np.asarray(at_m) / distance - reference
        return SPEED * (1 + coefficient * warmth_K)

    def arrived(_: float, at_m: list[float]) -> float:
        return at_m[0] - distance

    arrived.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(motion, (0.0, 0.01), [0.0], events=arrived, rtol=1e-12, atol=1e-13, max_step=1e-4)
    found = float(flight_time_through_gradient_s(distance, SPEED, coefficient, head, at_float, reference))
    close(found, float(run.t_events[0][0]), 1e-10 * found, "equation of motion solved to 1e-12")
    by_quadrature = integral_s(lambda at_m: head + (at_float - head) * at_m / distance, distance, coefficient)
    close(found, by_quadrature, 1e-12 * found, "quadrature to 1e-13")


temperatures = st.floats(200.0, 600.0)
coefficients = st.floats(-2e-4, 2e-4)


@given(st.floats(0.01, 30.0), coefficients, temperatures, temperatures)
def test_time_and_error_belong_together(distance: float, coefficient: float, head: float, at_float: float) -> None:
    taken = flight_time_through_gradient_s(distance, SPEED, coefficient, head, at_float, REFERENCE_K)
    read = distance + float(gradient_error_m(distance, coefficient, head, at_float, REFERENCE_K))
    close(distance_of_flight_m(taken, SPEED), read, 1e-13 * read, "rounding")


@given(st.floats(0.01, 30.0), coefficients, temperatures, temperatures)
def test_which_end_is_the_warm_one_does_not_matter(
    distance: float, coefficient: float, head: float, at_float: float
) -> None:
    there = gradient_error_m(distance, coefficient, head, at_float, REFERENCE_K)
    back = gradient_error_m(distance, coefficient, at_float, head, REFERENCE_K)
    close(distance + there, distance + back, 1e-14 * distance + 1e-15, "rounding")


@given(st.floats(0.01, 30.0), st.floats(-5e-5, 5e-5), temperatures, temperatures)
def test_the_mean_temperature_is_right_to_first_order(
    distance: float, coefficient: float, head: float, at_float: float
) -> None:
    furthest = abs(coefficient) * max(abs(head - REFERENCE_K), abs(at_float - REFERENCE_K))
    off = gradient_error_m(distance, coefficient, head, at_float, REFERENCE_K) - mean_temperature_error_m(
        distance, coefficient, head, at_float, REFERENCE_K
    )
    assert -1e-14 * distance <= off <= distance * furthest**2 * 1.02 + 1e-14 * distance


def test_nearly_equal_ends_pass_over_into_equal_ones() -> None:
    ends = 353.15 + np.array([0.0, 1e-13, 1e-9, 1e-6, 1e-4])
    found = np.asarray(gradient_error_m(4.0, -40e-6, 353.15, ends, REFERENCE_K))
    even = 4.0 * (1.0 / (1.0 - 40e-6 * 60.0) - 1.0)
    exact(found[0], 4.0 * (1.0 / (1.0 + -40e-6 * (353.15 - REFERENCE_K)) - 1.0))
    close(found, np.full(5, even), 1e-8, "half of 4 m times 40 ppm/K times 0.1 mK")
    assert (np.diff(found) >= -1e-15).all()


def test_a_wire_that_warmth_does_not_change_reads_true() -> None:
    exact(gradient_error_m(4.0, 0.0, 250.0, 450.0, REFERENCE_K), 0.0)


# ---------------------------------------------------------------- temperatures at several places


def test_two_places_are_a_gradient() -> None:
    found = profile_error_m([0.0, 4.0], [293.15, 353.15], 4.0, -40e-6, REFERENCE_K)
    close(found, gradient_error_m(4.0, -40e-6, 293.15, 353.15, REFERENCE_K), 1e-17, "the same sum")


PLACES_M, PLACES_K = np.array([0.0, 0.4, 1.5, 1.6, 5.0]), np.array([300.0, 280.0, 280.0, 420.0, 390.0])


@pytest.mark.parametrize("distance_m", [0.1, 0.4, 1.0, 1.55, 1.6, 3.3, 5.0])
def test_a_kinked_profile_by_quadrature(distance_m: float) -> None:
    coefficient = -1.1e-4
    edges = [0.0, *(float(at) for at in PLACES_M[1:] if at < distance_m), distance_m]

    def slowness(at_m: float) -> float:
        return 1.0 / (1.0 + coefficient * (float(np.interp(at_m, PLACES_M, PLACES_K)) - REFERENCE_K))

    read = sum(quad(slowness, low, high, epsabs=0.0, epsrel=1e-13)[0] for low, high in pairwise(edges))
    found = profile_error_m(PLACES_M, PLACES_K, distance_m, coefficient, REFERENCE_K)
    close(distance_m + found, read, 1e-13, "quadrature to 1e-13")


@given(st.floats(0.01, 4.99), st.floats(0.01, 4.99))
def test_a_place_between_that_tells_nothing_new_changes_nothing(extra_m: float, distance_m: float) -> None:
    places = np.unique(np.append(PLACES_M, extra_m))
    between = np.interp(places, PLACES_M, PLACES_K)
    without, with_it = (
        profile_error_m(where, warmth, distance_m, -1.1e-4, REFERENCE_K)
        for where, warmth in ((PLACES_M, PLACES_K), (places, between))
    )
    close(1.0 + with_it, 1.0 + without, 1e-14, "rounding of a few additions")


def test_a_profile_takes_all_distances_at_once() -> None:
    distances = np.array([[0.0, 0.4, 1.0], [1.55, 3.3, 5.0]])
    together = profile_error_m(PLACES_M, PLACES_K, distances, -1.1e-4, REFERENCE_K)
    alone = [[profile_error_m(PLACES_M, PLACES_K, float(at), -1.1e-4, REFERENCE_K) for at in row] for row in distances]
    exact(together, alone)
    assert isinstance(alone[0][0], float)
    exact(alone[0][0], 0.0)


@pytest.mark.parametrize(
    ("places", "warmth", "distance", "says"),
    [
        ([0.0, 2.0], [293.0, 300.0], 2.5, "a magnet from 0 m to 2 m; got 2.5 m"),
        ([0.5, 2.0], [293.0, 300.0], 1.0, "rising distances from 0 m; got 0.5 m, 2 m"),
        ([0.0, 2.0, 2.0], [293.0, 300.0, 310.0], 1.0, "rising distances from 0 m"),
        ([0.0], [293.0], 0.0, "two or more places"),
        ([0.0, 2.0], [293.0, 300.0, 310.0], 1.0, "2 places, 3 temperatures"),
        ([0.0, 2.0], [293.0, 3e5], 1.0, "temperatures at which a pulse still runs"),
    ],
)
def test_what_is_no_profile_up_to_the_magnet_is_refused(
    places: list[float], warmth: list[float], distance: float, says: str
) -> None:
    with pytest.raises(QuantityError, match=says):
        profile_error_m(places, warmth, distance, -1.1e-4, REFERENCE_K)


# ---------------------------------------------------------------- growth


def test_growth_of_a_stem() -> None:
    """Austenitic steel 16e-6/K (EN 10088-1, from memory): 3 m warmed by 60 K."""
    close(length_growth_m(3.0, 16e-6, 60.0) / MM, 2.88, 1e-12, "by hand: 3000 x 16e-6 x 60")
    close(grown_length_m(3.0, 16e-6, 60.0) - 3.0, length_growth_m(3.0, 16e-6, 60.0), 1e-15, "rounding at 3 m")


def test_growth_takes_the_bottom_clearance() -> None:
    face, tip = 2.65, 0.05
    length = grown_length_m(stem_length_m(face, tip), 16e-6, 60.0)
    close(tip - (face - length), length_growth_m(2.6, 16e-6, 60.0), 1e-15, "rounding at 2.6 m")


@pytest.mark.parametrize("warmer_K", [40.0, -25.0])
def test_what_a_head_on_a_warm_wall_reads(warmer_K: float) -> None:
    """Book-keeping of heights: the float keeps its height, the head moves, the instrument keeps the old height."""
    face, magnet, alpha = 2.65, 1.20, 16e-6
    rise = head_rise_m(face, alpha, warmer_K)
    distance = face * (1 + alpha * warmer_K) - magnet
    reading = face - distance
    error = reading_error_of_head_rise_m(rise)
    close(reading - magnet, error, 2e-15, "rounding at 2.65 m")
    close(reading + rise, magnet, 2e-15, "the rise is what has to be added")
    assert (error < 0.0) == (warmer_K > 0.0), "a head that has risen reads low"
