"""The least size that a test finds, and the middle of a change: against simulation, tables of t and geometry."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from onedatum.foundation.errors import ValidityError
from onedatum.physics.detection import least_told, middle_of_change_s, t_probability


def test_the_least_size_by_two_quantiles() -> None:
    """Of the normal distribution 1.95996 and 1.64485: tables of any handbook."""
    assert least_told(0.5, 1e9, 0.05, 0.05) == pytest.approx(0.5 * (1.95996 + 1.64485), rel=1e-5)


def test_the_least_size_is_found_as_often_as_said() -> None:
    """20,000 means of 12 values, tested by t: nine of ten are found, within three standard errors and what t leaves."""
    random, count = np.random.default_rng(20261126), 12
    u = 1.0 / np.sqrt(count)
    size = least_told(u, count - 1.0, 0.01, 0.1)
    values = random.standard_normal((20_000, count)) + size
    t = values.mean(axis=1) / (values.std(axis=1, ddof=1) / np.sqrt(count))
    found = np.asarray(t_probability(t, count - 1.0)) <= 0.01
    assert np.mean(found) == pytest.approx(0.9, abs=0.03)
    assert least_told(u, count - 1.0, 0.01, 0.1) > least_told(u, 1e9, 0.01, 0.1)
    assert size == pytest.approx(u * (stats.t.ppf(0.995, 11) + stats.t.ppf(0.9, 11)), rel=1e-9)


@pytest.mark.parametrize("begin_s", [130.0, 181.0, 251.0])
def test_the_middle_of_an_even_change_whatever_the_blocks(begin_s: float) -> None:
    """A ramp of 200 s: half of it is over 100 s after its begin."""
    time_s = np.arange(0.0, 600.0, 0.01) + 0.005
    level = 3.0 - 2.0 * np.clip((time_s - begin_s) / 200.0, 0.0, 1.0)
    means = level.reshape(-1, 6000).mean(axis=1)
    assert middle_of_change_s(means, 60.0) == pytest.approx(begin_s + 100.0, abs=1e-3)


def test_what_never_changes_has_no_middle() -> None:
    with pytest.raises(ValidityError, match="a first other than the last"):
        middle_of_change_s([1.0, 2.0, 1.0], 60.0)
    with pytest.raises(ValidityError, match="always or never"):
        least_told(1.0, 10.0, 1.0, 0.1)
