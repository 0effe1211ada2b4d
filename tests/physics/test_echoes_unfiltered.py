"""When an echo came without a filter: the noise that a raw zero leaves, the polarity, what is not there."""

from __future__ import annotations

import numpy as np

from onedatum.physics.echoes import Window, by_threshold, by_zero_crossing
from tests.closeness import close, exact
from tests.physics.echo_draws import DOUBLET, MIDDLE, NS, RICKER, SAMPLING, arriving, chance, noisy
from tests.reference import case

RECORDS = 6000


def test_the_raw_zero_crossing_is_as_noisy_as_its_formula() -> None:
    stated, random = case("floats-F10b"), chance(5)
    times = random.uniform(45e-6, 55e-6, RECORDS)
    found = by_zero_crossing(noisy(times, 0.01, random), RICKER, SAMPLING, (MIDDLE,))
    stated.check(float(np.std(found.delays_s[:, 0] - times)) / NS)


def test_the_zero_of_a_doublet_is_its_middle() -> None:
    """Its slope there is 1/sigma: sqrt(2/3) of noise times width (derived)."""
    random = chance(9)
    times = random.uniform(45e-6, 55e-6, RECORDS)
    errors = by_zero_crossing(noisy(times, 0.01, random, DOUBLET), DOUBLET, SAMPLING, (MIDDLE,)).delays_s[:, 0] - times
    close(np.std(errors), np.sqrt(2 / 3) * 0.01 * 2e-6, 0.04 * 16e-9, "6000 records scatter by 0.9 %")


def test_simpler_ways_take_the_polarity_and_the_height() -> None:
    records, window = -arriving([50e-6]), (Window(300, 700, -1.0),)
    upright = (Window(300, 700),)
    exact(
        by_threshold(records, SAMPLING, window, 0.5).delays_s, by_threshold(-records, SAMPLING, upright, 0.5).delays_s
    )
    exact(by_threshold(records, SAMPLING, window, 0.5).heights_V, [[-1.0]])
    exact(by_zero_crossing(records, RICKER, SAMPLING, window).heights_V, [[-1.0]])
    close(by_zero_crossing(records, RICKER, SAMPLING, window).delays_s, [[50e-6]], 2e-10, "bend between two samples")


def test_a_threshold_or_a_zero_that_is_not_there_gives_nothing() -> None:
    weak = by_threshold(0.4 * arriving([50e-6]), SAMPLING, (MIDDLE,), 0.5)
    cut = by_zero_crossing(arriving([50e-6]), RICKER, SAMPLING, (Window(300, 510),))
    for found in (weak, cut):
        assert np.isnan(found.delays_s).all() and np.isnan(found.heights_V).all()
