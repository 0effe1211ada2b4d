"""What an error goes with: correlated residuals, a pump, a lag, a hum; against a library, simulation and laws."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from scipy import stats
from scipy.signal import lfilter, periodogram

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import (
    alias_Hz,
    effective_count,
    first_order,
    innovation_shift,
    innovations,
    lag_between,
    line_amplitude,
    on_and_off,
)
from tests.closeness import close, exact
from tests.physics.shares_apart import alike
from tests.reference import case
from tests.soon import soon


def _first_order(count: int, phi: float, seed: int) -> Reals:
    """A seeded series of first order with innovations of spread 1, its beginning forgotten."""
    noise = np.random.default_rng(seed).normal(size=count + 500)
    return np.asarray(lfilter([1.0], [1.0, -phi], noise))[500:]


# ---------------------------------------------------------------- residuals that hang together


def test_effective_count_worked() -> None:
    worked = case("loop-D18")
    worked.check(effective_count(float(worked.value("n")), worked.value("phi")))


def test_effective_count_against_the_variance_of_the_mean() -> None:
    """n over the sum of all correlations phi**abs(i - j), over n: exact, and near for a long series."""
    phi, count = 0.8, 2000
    lags = np.arange(1, count)
    exactly = count / (1.0 + 2.0 * float(np.sum((1.0 - lags / count) * phi**lags)))
    alike(effective_count(float(count), phi), exactly, 5e-3, "the ends of the series, 2*phi/(n*(1-phi**2))")


def test_a_series_of_first_order_is_found_again() -> None:
    """20 000 seeded values: phi within four standard deviations, sqrt((1 - phi**2)/n); innovations are white."""
    for phi, seed in ((0.8, 1), (0.3, 2), (0.0, 3), (-0.5, 4)):
        series = _first_order(20_000, phi, seed)
        found = first_order(series)
        assert abs(found.correlation - phi) < 4.0 * sqrt((1 - phi**2) / 20_000)
        close(found.correlation_standard, sqrt((1 - phi**2) / 20_000), 2e-4, "phi is estimated")
        close(found.standard, 1.0, 0.02, "four standard deviations, 1/sqrt(2*n)")
        left = innovations(series, found.mean, found.correlation)
        assert abs(np.corrcoef(left[1:], left[:-1])[0, 1]) < 4.0 / sqrt(20_000)


def test_a_step_in_its_innovations() -> None:
    """A step without noise: after the first sample the innovations keep delta*(1 - phi), in spreads delta_i."""
    phi, delta = 0.6, 2.0
    spread = 1.0 / sqrt(1.0 - phi**2)
    left = innovations(np.concatenate((np.zeros(5), np.full(5, delta * spread))), 0.0, phi)
    close(left[5:], np.full(4, float(innovation_shift(delta, phi))), 1e-12, "rounding")


# ---------------------------------------------------------------- on and off

pairs = st.integers(6, 30).flatmap(
    lambda n: st.tuples(
        arrays.arrays(np.float64, n, elements=st.integers(-9, 9).map(float)),
        arrays.arrays(np.float64, n, elements=st.sampled_from([0.0, 1.0])),
    )
)


@given(both=pairs)
def test_on_and_off_against_a_library(both: tuple[Reals, Reals]) -> None:
    values, running = both
    running[:2] = [0.0, 1.0]
    values[-1], values[-2] = 9.5, -8.5
    found = on_and_off(values, running)
    other = stats.pointbiserialr(running, values)
    assert abs(found.correlation - other.statistic) <= 1e-12
    test = stats.ttest_ind(values[running == 1.0], values[running == 0.0])
    if np.isfinite(test.statistic):
        assert abs(found.t - test.statistic) <= 1e-9 * (1 + abs(found.t))
        assert abs(found.probability - test.pvalue) <= 1e-9
    mirrored, moved = on_and_off(values, 1.0 - running), on_and_off(4.0 * values + 3.0, running)
    assert abs(mirrored.correlation + found.correlation) <= 1e-12
    assert abs(moved.correlation - found.correlation) <= 1e-12
    assert abs(moved.difference - 4.0 * found.difference) <= 1e-11


def test_on_and_off_where_nothing_is_left_over() -> None:
    found = on_and_off([0.0, 0.0, 2.0, 2.0], [0, 0, 1, 1])
    assert (found.difference, found.correlation, found.t, found.probability) == (2.0, 1.0, float("inf"), 0.0)
    assert on_and_off(np.full(30, 1000.1), np.arange(30) % 2) == (0.0, 0.0, 0.0, 0.0, 1.0)


# ---------------------------------------------------------------- lag


@given(lag=st.integers(-10, 10), seed=st.integers(0, 50), scale=st.floats(0.1, 10.0), shift=st.floats(-50.0, 50.0))
def test_a_series_moved_by_whole_samples(lag: int, seed: int, scale: float, shift: float) -> None:
    """What is moved without loss goes together wholly, in any unit."""
    source = np.random.default_rng(seed).normal(size=160)
    first, second = source[20:140], scale * source[20 - lag : 140 - lag] + shift
    found = lag_between(first, second, 12)
    assert abs(found.lag_samples - lag) < 0.5
    close(found.correlation, 1.0, 1e-9, "rounding")
    back = lag_between(second, first, 12)
    assert abs(back.lag_samples + found.lag_samples) <= 1e-9


def test_correlations_are_those_of_what_overlaps() -> None:
    chance = np.random.default_rng(8)
    x, y = chance.normal(size=(2, 60))
    found = lag_between(x, y, 10)
    for lag, correlation in zip(found.tried_samples.astype(int).tolist(), found.correlations.tolist(), strict=True):
        first, second = (x[: 60 - lag], y[lag:]) if lag >= 0 else (x[-lag:], y[: 60 + lag])
        assert abs(correlation - np.corrcoef(first, second)[0, 1]) <= 1e-12


def test_a_damping_shows_as_its_lag() -> None:
    """A wave through a lag of first order comes later by atan(w*tau)/w, the phase of the filter."""
    tau, turn = 6.0, 2.0 * np.pi / 200.0
    times = np.arange(2000.0)
    late = np.arctan(turn * tau) / turn
    found = lag_between(np.sin(turn * times), np.cos(np.arctan(turn * tau)) * np.sin(turn * (times - late)), 20)
    close(found.lag_samples, late, 0.05, "a parabola on a cosine over what overlaps")


def test_a_long_lag_search_is_quick() -> None:
    z = np.random.default_rng(9).normal(size=100_000)
    with soon(2.0):
        lag_between(z, z, 40)


# ---------------------------------------------------------------- hum


def test_hum_folded_down() -> None:
    worked = case("loop-D11")
    worked.check(alias_Hz(float(worked.value("f")), np.array(worked.value("fs"))))


@given(frequency_Hz=st.floats(0.0, 100.0), rate_Hz=st.floats(0.5, 20.0))
def test_the_samples_cannot_tell_a_hum_from_its_alias(frequency_Hz: float, rate_Hz: float) -> None:
    times_s = np.arange(20) / rate_Hz
    folded_Hz = float(alias_Hz(frequency_Hz, rate_Hz))
    assert 0.0 <= folded_Hz <= rate_Hz / 2.0 + 1e-12
    seen = np.cos(2 * np.pi * frequency_Hz * times_s) - np.cos(2 * np.pi * folded_Hz * times_s)
    assert np.max(np.abs(seen)) < 1e-9


def test_the_amplitude_of_a_hum() -> None:
    """50 Hz of 2 mm at 0.97 Hz: found at 0.44 Hz; the highest line of another library's spectrum stands there too."""
    times_s = np.arange(970) / 0.97
    values = 5.0 + 2.0 * np.cos(2 * np.pi * 50.0 * times_s)
    close(line_amplitude(values, 1.0 / 0.97, float(alias_Hz(50.0, 0.97))), 2.0, 1e-6, "a whole number of periods")
    frequencies_Hz, powers = periodogram(values, 0.97)
    close(frequencies_Hz[np.argmax(powers)], 0.44, 1e-9, "a line of the spectrum")


def test_absurd_statements_are_refused_by_name() -> None:
    x = np.random.default_rng(1).normal(size=20)
    with pytest.raises(ValidityError, match=r"^running must be 0 and 1, both there; got 1\."):
        on_and_off(x, np.ones(20))
    with pytest.raises(ValidityError, match=r"^running must be 0 and 1, both there; got 0 and 1 and 2\."):
        on_and_off(x, np.arange(20) % 3)
    for most in (0, 6):
        with pytest.raises(ValidityError, match=r"^most must be 1 to 5; got"):
            lag_between(x, x, most)
    with pytest.raises(ValidityError, match=r"^first must be a series that moves"):
        lag_between(np.full(20, 1000.1), x, 3)
    with pytest.raises(ValidityError, match=r"^second must be 20 values; got 19\."):
        lag_between(x, x[1:], 3)
    for frequency_Hz in (0.0, 0.5, float("nan")):
        with pytest.raises(ValidityError, match=r"^frequency_Hz must be above 0 Hz and below 0.5 Hz"):
            line_amplitude(x, 1.0, frequency_Hz)
    with pytest.raises(ValidityError, match=r"^sampling_s must be above 0 s"):
        line_amplitude(x, 0.0, 0.1)
    with pytest.raises(ValidityError, match=r"^values must be values that differ"):
        first_order(np.ones(20))
    with pytest.raises(ValidityError, match=r"^values must be values that differ"):
        first_order(1e-200 * x)
    exact(line_amplitude(np.ones(20), 1.0, 0.1), 0.0)
