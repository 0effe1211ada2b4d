"""Lengths lost at both ends of a stem and between two floats, against worked cases and against signals in samples."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.sources import citation
from onedatum.physics.magnetostrictive import (
    dead_share,
    dead_share_limit,
    dead_zone_high_m,
    dead_zone_low_m,
    flight_time_s,
    least_spacing_m,
    pulse_length_m,
    ring_down_length_m,
)
from tests.closeness import close, exact
from tests.reference import case

MM, US = 1e-3, 1e-6
lengths = st.floats(0.0, 1.0)


def test_ring_down_hides_the_first_lengths() -> None:
    stated = case("floats-F14")
    found = ring_down_length_m(stated.value("v"), stated.value("tau"), stated.value("A0_over_thr"))
    stated.check(found / MM)


def test_ring_down_in_samples() -> None:
    """Where the decaying envelope falls below the threshold, found among samples."""
    times_s = np.arange(0.0, 100 * US, 1e-10)
    first = int(np.argmax(1000.0 * np.exp(-times_s / (4 * US)) < 1.0))
    found = ring_down_length_m(2800.0, 4 * US, 1000.0)
    close(found, 2800.0 * times_s[first], 2800.0 * 1e-10, "one sample")


def test_a_drive_pulse_at_the_threshold_hides_nothing() -> None:
    exact(ring_down_length_m(2800.0, 4 * US, 1.0), 0.0)


def test_a_pulse_of_10_us_takes_14_mm_at_the_end() -> None:
    """Worked with the usual figures: 14 mm; derived."""
    close(pulse_length_m(2800.0, 10 * US) / MM, 14.0, 1e-12, "by hand: 2800 x 10e-6 / 2")


@given(st.floats(1500.0, 4000.0), st.floats(1e-6, 2e-5), st.floats(0.5, 20.0))
def test_at_the_pulse_length_echo_and_reflection_just_part(speed: float, duration_s: float, length_m: float) -> None:
    """The direct pulse from x and the one by way of the end, 2 L - x, arrive one duration apart."""
    distance_m = length_m - pulse_length_m(speed, duration_s)
    apart_s = flight_time_s(2 * length_m - distance_m, speed) - flight_time_s(distance_m, speed)
    close(apart_s, duration_s, 1e-8 * duration_s, "difference of two long times")


@given(lengths, lengths, lengths, lengths)
def test_the_lower_zone_is_the_longer_of_what_stands_there_and_the_pulse(
    damper: float, stop: float, below: float, pulse: float
) -> None:
    found = dead_zone_low_m(damper, stop, below, pulse)
    assert found in (damper + stop + below, pulse)
    assert found >= damper + stop + below
    assert found >= pulse


@given(lengths, lengths, lengths)
def test_the_upper_zone_is_the_longer_of_float_and_ring_down(stop: float, above: float, ring: float) -> None:
    found = dead_zone_high_m(stop, above, ring)
    assert found in (stop + above, ring)
    assert found >= stop + above
    assert found >= ring


def test_lower_zone_of_a_usual_stem() -> None:
    """60 to 100 mm below (common practice, no source): damper 40, stop 10, half a float of 60 mm."""
    low = dead_zone_low_m(0.040, 0.010, 0.030, pulse_length_m(2800.0, 10 * US))
    close(low / MM, 80.0, 1e-12, "by hand: 40 + 10 + 30")


@pytest.mark.parametrize(
    ("heights", "coupling_m", "expected_mm"),
    [((0.060, 0.052), 0.150, 150.0), ((0.060, 0.052), 0.0, 56.0), ((0.020, 0.025), 0.0, 33.6)],
)
def test_least_spacing_by_what_is_longest(heights: tuple[float, float], coupling_m: float, expected_mm: float) -> None:
    """33.6 mm for a pulse of 12 us; floats in contact; the pull of their magnets."""
    found = least_spacing_m(*heights, 2800.0, 12 * US, coupling_m)
    close(found / MM, expected_mm, 1e-11, "by hand")
    close(least_spacing_m(*heights[::-1], 2800.0, 12 * US, coupling_m), found, 1e-16, "neither float comes first")


def test_share_of_a_height_that_is_lost() -> None:
    close(dead_share(0.080, 0.110, np.array([0.5, 1.0, 1.9])), [0.38, 0.19, 0.1], 1e-15, "by hand")


def test_the_limit_of_that_share_is_common_practice() -> None:
    limit = dead_share_limit()
    exact(limit.value, 0.30)
    assert limit.tag == citation(limit.source).source.tag == "common practice, no source"
