"""Control charts: paths worked by hand, recursions walked sample by sample, and what no chart may change.

The form of the charts is that of Page (1954) and of Lucas and Saccucci (1990), from memory.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.detection import cusum, cusum_alarms, cusum_run_length, ewma, ewma_limit, shewhart
from tests.physics.shares_apart import alike
from tests.reference import case
from tests.soon import soon

Z = [0.2, -0.3, 0.9, 1.4, 0.7, 1.8, 2.0, 1.1]

series = arrays.arrays(np.float64, st.integers(1, 60), elements=st.floats(-8.0, 8.0, width=32))


def off(found: Reals, expected: Any) -> float:
    """By how much two series differ at most."""
    return float(np.max(np.abs(found - np.asarray(expected))))


def test_cumulative_sum_by_hand() -> None:
    given = case("loop-D07")
    path = cusum(given.value("z"), given.value("k"), given.value("h"))
    given.check(path.sums_up, "C_plus")
    given.check(path.sums_down, "C_minus")
    assert path.first is not None
    given.check(path.first + 1, "alarm_at")
    assert (path.onset, path.upward) == (2, True), "the sum was last zero at the second sample"


def test_moving_average_by_hand() -> None:
    given = case("loop-D08")
    path = ewma(given.value("z"), given.value("lambda"), given.value("L"))
    given.check(path.averages, "ewma")
    given.check(path.limits, "limit")
    assert path.first is not None
    given.check(path.first + 1, "alarm_at")


def _walked(z: Reals, allowance: float) -> tuple[list[float], list[float]]:
    """The two sums by their recursion, one sample after the other."""
    up, down, ups, downs = 0.0, 0.0, [], []
    for one in z.tolist():
        up, down = max(0.0, up + one - allowance), max(0.0, down - one - allowance)
        ups.append(up)
        downs.append(down)
    return ups, downs


@given(z=series, allowance=st.floats(0.05, 2.0))
def test_the_closed_form_is_the_recursion(z: Reals, allowance: float) -> None:
    ups, downs = _walked(z, allowance)
    path = cusum(z, allowance, 4.0)
    assert off(path.sums_up, ups) <= 1e-11
    assert off(path.sums_down, downs) <= 1e-11
    alarms = [number for number, sums in enumerate(zip(ups, downs, strict=True)) if max(sums) > 4.0 + 1e-11]
    assert path.first is None or path.first <= min(alarms, default=len(z))
    assert (path.first is None) <= (not alarms)


@given(z=series)
def test_a_mirrored_series_mirrors_its_charts(z: Reals) -> None:
    path, mirrored = cusum(z, 0.5, 4.0), cusum(-z, 0.5, 4.0)
    assert path.sums_up.tolist() == mirrored.sums_down.tolist()
    assert path.sums_down.tolist() == mirrored.sums_up.tolist()
    assert (path.first, path.onset) == (mirrored.first, mirrored.onset)
    assert ewma(z, 0.1, 2.8).averages.tolist() == (-ewma(-z, 0.1, 2.8).averages).tolist()
    assert ewma(z, 0.1, 2.8).first == ewma(-z, 0.1, 2.8).first
    assert shewhart(z, 3.0).tolist() == shewhart(-z, 3.0).tolist()


@settings(max_examples=30)
@given(z=series, factor=st.floats(0.1, 10.0))
def test_scaling_all_scales_the_sums(z: Reals, factor: float) -> None:
    plain, scaled = cusum(z, 0.5, 4.0), cusum(factor * z, factor * 0.5, factor * 4.0)
    assert off(scaled.sums_up, factor * plain.sums_up) <= 1e-11 * factor
    assert off(scaled.sums_down, factor * plain.sums_down) <= 1e-11 * factor


@given(z=series, weight=st.floats(0.02, 1.0))
def test_a_moving_average_is_its_weighted_sum(z: Reals, weight: float) -> None:
    """The sum of l*(1 - l)**j*z_(i - j), written out: no recursion."""
    expected = [sum(weight * (1.0 - weight) ** j * z[i - j] for j in range(i + 1)) for i in range(len(z))]
    assert off(ewma(z, weight, 3.0).averages, expected) <= 1e-13


@given(z=series)
def test_a_moving_average_of_full_weight_is_the_residual_itself(z: Reals) -> None:
    path = ewma(z, 1.0, 3.0)
    assert path.averages.tolist() == z.tolist()
    outside = np.flatnonzero(shewhart(z, 3.0))
    assert path.first == (int(outside[0]) if len(outside) else None)


def test_limits_are_the_standard_deviation_of_the_average() -> None:
    """Variance of the weighted sum, term by term: the law of propagation."""
    weight, samples = 0.15, np.arange(1.0, 13.0)
    variances = [sum((weight * (1.0 - weight) ** j) ** 2 for j in range(int(sample))) for sample in samples]
    alike(ewma_limit(2.7, weight, samples), 2.7 * np.sqrt(variances), 1e-12, "rounding of twelve additions")


def test_the_onset_is_where_a_step_was_put() -> None:
    """By hand: each sample after the step adds 2.0, so that the third passes 5."""
    quiet, after = np.tile([-0.4, 0.4], 50), np.full(20, 2.5)
    path = cusum(np.concatenate((quiet, -after)), 0.5, 5.0)
    assert (path.upward, path.onset, path.first) == (False, 100, 102)


@given(z=series, h=st.floats(1.0, 6.0))
def test_a_chart_that_begins_anew_walked(z: Reals, h: float) -> None:
    up, down, expected = 0.0, 0.0, []
    for place, one in enumerate(z.tolist()):
        up, down = max(0.0, up + one - 0.5), max(0.0, down - one - 0.5)
        assume(abs(up - h) > 1e-9)
        assume(abs(down - h) > 1e-9)
        if max(up, down) > h:
            expected.append((place, up > h))
            up, down = 0.0, 0.0
    found = cusum_alarms(z, 0.5, h)
    assert list(zip(found.firsts.tolist(), found.upward.tolist(), strict=True)) == expected
    assert all(onset <= first for onset, first in zip(found.onsets.tolist(), found.firsts.tolist(), strict=True))


def test_false_alarms_come_as_often_as_the_run_length_says() -> None:
    """400 000 seeded residuals in control; the times between are nearly exponential, the count nearly Poisson."""
    z = np.random.default_rng(6).normal(size=400_000)
    count = len(cusum_alarms(z, 0.5, 5.0).firsts)
    expected = 400_000 / float(cusum_run_length(0.5, 5.0, 0.0))
    assert abs(count - expected) < 4.0 * np.sqrt(expected)
    assert len(cusum_alarms(z[:20_000], 0.5, 50.0).firsts) == 0


def test_nothing_moves_no_alarm() -> None:
    path = cusum(np.zeros(50), 0.5, 4.0)
    assert (path.first, path.onset, path.upward) == (None, None, None)
    assert ewma(np.zeros(50), 0.2, 3.0).first is None
    assert not shewhart(np.zeros(50), 3.0).any()


def test_a_million_samples_take_no_time() -> None:
    """A walk sample by sample takes longer than this; alone on the machine it is some hundredths of a second."""
    z = np.random.default_rng(4).normal(size=1_000_000)
    with soon(0.3):
        path = cusum(z, 0.5, 5.0)
    start = int(np.flatnonzero(path.sums_up[:-500] <= 0.0)[-1]) + 1
    assert off(path.sums_up[start:], _walked(z[start:], 0.5)[0]) <= 1e-8, "the end of a long series has lost its digits"
    assert off(path.sums_down[:20_000], _walked(z[:20_000], 0.5)[1]) <= 1e-9


CHARTS: dict[str, Callable[[Any], object]] = {
    "cusum": lambda z: cusum(z, 0.5, 4.0),
    "cusum_alarms": lambda z: cusum_alarms(z, 0.5, 4.0),
    "ewma": lambda z: ewma(z, 0.2, 3.0),
    "shewhart": lambda z: shewhart(z, 3.0),
}
WRONG: list[Any] = [
    [],
    [1.0, float("nan")],
    [float("inf")],
    [[1.0, 2.0]],
    ["a"],
    [[1.0], 2],
    3.0,
    None,
    [1e200],
    [1.0 + 1.0j],
]


@pytest.mark.parametrize("name", CHARTS)
def test_what_is_no_series_is_refused(name: str) -> None:
    for wrong in WRONG:
        with pytest.raises(ValidityError, match=r"^z must be .*; got .*\. .*\.$") as caught:
            CHARTS[name](wrong)
        assert caught.value.formula == f"detection.{name}"


def test_absurd_limits_are_refused_by_name() -> None:
    nan = float("nan")
    for allowance in (0.0, -1.0, nan):
        with pytest.raises(ValidityError, match=r"^allowance must be above 0"):
            cusum(Z, allowance, 4.0)
    for weight in (0.0, 1.5, nan):
        with pytest.raises(ValidityError, match=r"^weight must be above 0 up to 1"):
            ewma(Z, weight, 3.0)
    for width in (0.0, -3.0, nan):
        with pytest.raises(ValidityError, match=r"^decision_interval must be above 0"):
            cusum(Z, 0.5, width)
        with pytest.raises(ValidityError, match=r"^limit_factor must be above 0"):
            ewma(Z, 0.2, width)
        with pytest.raises(ValidityError, match=r"^limit_factor must be above 0"):
            shewhart(Z, width)
