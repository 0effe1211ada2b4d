"""The one pass: what it keeps is what the rows give, however they come in batches and however long blocks become."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.numerics import Reals
from onedatum.logs.review import blocks
from onedatum.logs.review.blocks import Blocks, Series, spread_of
from onedatum.logs.review.events import Watched
from onedatum.logs.review.rows import CONTEXT, MEASURED, Rows, Walk
from onedatum.logs.review.runs import Runs
from onedatum.logs.review.samples import Spots, Stretches

SEED = 20260407


def rows(count: int, every_s: int = 60) -> Rows:
    """Levels that wander, with some rows that are none."""
    random = np.random.default_rng(SEED)
    level = 1.0 + np.cumsum(random.standard_normal(count)) * 1e-3
    level[random.random(count) < 0.05] = np.nan
    time_us = 1_772_323_200_000_000 + np.arange(count) * every_s * 1_000_000
    return Rows(time_us, level, np.full(count, MEASURED, dtype=np.int8), np.full(count, np.nan))


def cut(whole: Rows, size: int) -> list[Rows]:
    return [whole.cut(start, start + size) for start in range(0, len(whole), size)]


def blocks_of(parts: list[Rows]) -> Series:
    made = Blocks()
    for part in parts:
        made.add(part)
    return made.done()


@pytest.mark.parametrize("most", [10_000, 37])
def test_blocks_are_what_their_rows_give(most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Against numpy over the rows of each block, with blocks as they begin and made longer."""
    monkeypatch.setattr(blocks, "MOST", most)
    whole = rows(6000)
    series = blocks_of(cut(whole, 700))
    assert len(series) <= most
    index = whole.time_us // series.length_us
    assert series.index.tolist() == sorted(set(index.tolist()))
    for place, number in enumerate(series.index.tolist()):
        level, time_s = whole.level_m[index == number], whole.time_us[index == number] / 1e6
        known = np.isfinite(level)
        assert series.count[place] == np.count_nonzero(known)
        assert series.mean_m[place] == pytest.approx(np.mean(level[known]), abs=1e-12)
        slope = np.polyfit(time_s[known] - time_s[0], level[known], 1)[0]
        assert series.slope_m_per_s[place] == pytest.approx(slope, rel=1e-6, abs=1e-12)
        assert series.columns["min_m"][place] == np.min(level[known])
        assert series.columns["max_m"][place] == np.max(level[known])


def test_batches_do_not_matter_but_for_differences_across_their_edges() -> None:
    whole = rows(5000)
    one, many = blocks_of([whole]), blocks_of(cut(whole, 333))
    for key in ("n", "x", "xx", "tx", "rows", "first_us", "last_us"):
        assert one.columns[key] == pytest.approx(many.columns[key], rel=1e-12, abs=1e-12)
    assert abs(one.noise_count.sum() - many.noise_count.sum()) <= 2 * 16


def test_noise_from_second_differences_is_that_put_in() -> None:
    """White noise of 2 mm on a slope; classes two to a doubling leave some per cent."""
    random = np.random.default_rng(SEED)
    count = 20_000
    level = np.arange(count) * 1e-5 + 0.002 * random.standard_normal(count)
    time_us = np.arange(count) * 1_000_000
    series = blocks_of([Rows(time_us, level, np.zeros(count, dtype=np.int8), np.full(count, np.nan))])
    assert np.median(series.noise_m) == pytest.approx(0.002, rel=0.08)


@pytest.mark.parametrize("step_m", [1e-6, 1e-4, 1.6875e-4, 4e-4])
def test_noise_of_many_readings_is_their_standard_deviation(step_m: float) -> None:
    """White noise of 0.4 mm at rest, in steps up to as wide, with and without a reading in a hundred far off."""
    random = np.random.default_rng(SEED)
    count = 20_000
    level = np.round((1.2 + 4e-4 * random.standard_normal(count)) / step_m) * step_m
    wild = level + 0.05 * (np.arange(count) % 100 == 50)
    for shown in (level, wild):
        whole = Rows(np.arange(count) * 60_000_000, shown, np.zeros(count, dtype=np.int8), np.full(count, np.nan))
        assert spread_of(blocks_of([whole]).noise.sum(axis=0)) == pytest.approx(np.std(level), rel=0.04)


def watched(level: Reals, batch: int) -> Watched:
    """What happens within few rows of levels a minute apart."""
    whole = Rows(np.arange(len(level)) * 60_000_000, level, np.zeros(len(level), dtype=np.int8), level * np.nan)
    found, walk = Watched(), Walk()
    for part in [*cut(whole, batch), None]:
        for window in walk.on(part) if part is not None else walk.end():
            found.add(window, 7.0)
    return found


def test_the_step_of_readings_is_that_they_are_written_in_not_their_smallest_change() -> None:
    """A tank without noise that moves by 53 mm a row and more, written in 0.1 mm; and a spike of 200 mm at rest."""
    level = np.round(np.interp(np.arange(200), [0, 100, 110, 200], [0.5, 0.5, 1.0337, 1.0337]), 4)
    level[103:108] += np.array([3, -7, 11, -2, 5]) * 1e-4
    level[50] += 0.2
    found = watched(level, 70)
    assert found.step_m == pytest.approx(1e-4, rel=1e-6)
    assert [event.at_us // 60_000_000 for event in found.spikes.done()] == [50]


@pytest.mark.parametrize(("level", "step_m"), [([1.0, 1.0003], 3e-4), ([1.0, 1.0], None), ([1.0], None)])
def test_few_rows_tell_a_step_where_they_change(level: list[float], step_m: float | None) -> None:
    found = watched(np.array(level), 5).step_m
    assert found == (None if step_m is None else pytest.approx(step_m))


def test_readings_in_no_common_step_have_none() -> None:
    assert watched(np.random.default_rng(SEED).normal(1.0, 1e-3, 300), 70).step_m == 0.0


def test_every_row_is_judged_once_with_its_neighbours() -> None:
    whole, walk, judged = rows(1000), Walk(), list[int]()
    for part in [*cut(whole, 70), None]:
        for window in walk.on(part) if part is not None else walk.end():
            judged += window.rows.time_us[window.low : window.high].tolist()
            left = window.rows.time_us[: window.low]
            assert len(left) in (0, CONTEXT) or window.low == 0 or len(judged) <= CONTEXT + 70
    assert judged == whole.time_us.tolist()


def test_a_run_of_one_value_goes_over_batches() -> None:
    level = np.array([1.0, 2.0, *[3.0] * 25, 4.0])
    whole = Rows(np.arange(28) * 60_000_000, level, np.zeros(28, dtype=np.int8), np.full(28, np.nan))
    found = Runs(8)
    for part in cut(whole, 5):
        found.add(part, part.level_m)
    [run] = found.done()
    assert (run.count, run.value, run.from_us, run.to_us) == (25, 3.0, 2 * 60_000_000, 26 * 60_000_000)


def test_a_spike_is_a_spike_and_a_jump_is_a_jump() -> None:
    random = np.random.default_rng(SEED)
    level = 1.0 + 1e-4 * random.standard_normal(600)
    level[200] += 0.05
    level[400:] += 0.03
    whole = Rows(np.arange(600) * 60_000_000, level, np.zeros(600, dtype=np.int8), np.full(600, np.nan))
    found, walk = Watched(), Walk()
    for part in [*cut(whole, 150), None]:
        for window in walk.on(part) if part is not None else walk.end():
            found.add(window, 7.0)
    assert [event.at_us // 60_000_000 for event in found.spikes.done()] == [200]
    assert [event.to_us // 60_000_000 for event in found.jumps.done()] == [400]


def test_a_level_that_is_asked_for_comes_from_rows_near_it() -> None:
    whole = rows(400)
    steady = Rows(whole.time_us, np.linspace(0.0, 399e-4, 400), whole.kind, whole.current_A)
    at = int(whole.time_us[123]) + 20_000_000
    found, walk = Spots(np.array([at, at + 10**15])), Walk()
    for window in [*walk.on(steady), *walk.end()]:
        found.add(window, 60e6)
    assert list(found.found) == [at]
    assert found.found[at].level_m == pytest.approx((123 + 1 / 3) * 1e-4, abs=1e-9)


def test_rows_far_apart_tell_no_level_over_a_movement() -> None:
    """An hour from row to row: between 1.00 m and 1.20 m nothing is known, between 1.200 m and 1.201 m it is."""
    level = np.array([1.0, 1.0, 1.2, 1.201, 1.2])
    whole = Rows(np.arange(5) * 3_600_000_000, level, np.zeros(5, dtype=np.int8), np.full(5, np.nan))
    found, walk = Spots(np.array([int(1.5 * 3.6e9), int(2.5 * 3.6e9)])), Walk()
    for window in [*walk.on(whole), *walk.end()]:
        found.add(window, 3.6e9)
    assert [spot.level_m for spot in found.found.values()] == [pytest.approx(1.2005, abs=1e-9)]


def test_stretches_stay_few_and_spread_over_the_log() -> None:
    found, walk = Stretches(), Walk()
    whole = rows(400_000, 1)
    for part in [*cut(whole, 50_000), None]:
        for window in walk.on(part) if part is not None else walk.end():
            found.add(window)
    assert len(found.kept) <= 129
    starts = [each.time_us[0] for _, each in found.kept]
    assert max(np.diff(starts)) <= 4 * 1024 * 1_000_000 * 2
