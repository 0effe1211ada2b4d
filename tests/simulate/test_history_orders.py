"""Histories: movements that are ordered, a valve that lets liquid in, and a dip that is written down wrong."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.moments import DAY_s, HOUR_s
from onedatum.simulate.history import Order, Trouble, history
from tests.simulate.instruments import FLOAT, studied
from tests.simulate.test_history import QUIET, SOUND, HALF_s, of, with_troubles


def test_an_order_ends_at_its_level_is_booked_and_is_followed_by_its_rest() -> None:
    orders = (Order(2 * DAY_s, 0.12, 3e-3, rests_s=HOUR_s), Order(2 * DAY_s + HOUR_s, 2.4, 2e-3, rests_s=2 * DAY_s))
    found = of(replace(QUIET, orders=orders))
    ends = [move for move in found.tank.moves if move.start_s >= 2 * DAY_s][:2]
    assert [each.volume_m3 > 0.0 for each in ends] == [False, True]
    for move, order in zip(ends, orders, strict=True):
        after_s = int(np.searchsorted(found.tank.time_s, move.end_s + 60.0))
        assert found.tank.level_m[after_s] == pytest.approx(order.to_m, abs=5e-4)  # warmth moves it by 0.1 mm at most
        assert abs(move.volume_m3) / (move.end_s - move.start_s) == pytest.approx(order.rate_m3_per_s)
        assert any(abs(each.volume_m3 - move.volume_m3) < 0.02 for each in found.booked)
    rest = (found.tank.time_s > ends[1].end_s + 60.0) & (found.tank.time_s < ends[1].end_s + 2 * DAY_s)
    assert not found.tank.flow[rest].any()
    before = found.tank.time_s < 2 * DAY_s
    assert np.array_equal(found.tank.level_m[before], of(QUIET).tank.level_m[before])


def test_a_valve_that_passes_fills_by_flow_times_time_whatever_the_level() -> None:
    found = with_troubles(Trouble("inflow", HALF_s, 30e-3 / DAY_s))
    moved_kg = sum(
        each.volume_m3 * np.mean(found.vessel.density_kg_per_m3(found.tank.temperature_K)) for each in found.tank.moves
    )
    gained_kg = found.tank.mass_kg[-1] - found.tank.mass_kg[0] - moved_kg
    # 30 L/day for four days at 890 to 900 kg/m3; movements at the mean density are off by some kilogrammes at most
    assert gained_kg == pytest.approx(0.120 * 895.0, abs=5.0)
    assert found.tank.leaked_kg[-1] == 0.0


def test_a_dip_written_down_wrong_is_off_by_what_was_stated_and_no_other_is() -> None:
    sound = of(SOUND)
    place_s = sound.dips[1].time_s
    wrong = with_troubles(Trouble("misread", place_s - 60.0, 0.1, until_s=place_s + 60.0), plan=SOUND)
    off_m = [b.level_m - a.level_m for a, b in zip(sound.dips, wrong.dips, strict=True)]
    assert off_m == pytest.approx([0.1 if at == 1 else 0.0 for at in range(len(off_m))], abs=1e-9)


@pytest.mark.parametrize(
    ("orders", "words"),
    [
        ((Order(9 * DAY_s, 1.0, 1e-3),), "within the history"),
        ((Order(DAY_s, 1.0, 1e-3), Order(0.0, 1.0, 1e-3)), "each after the last"),
        ((Order(DAY_s, 4.0, 1e-3),), "Order.to_m lies inside the vessel"),
        ((Order(DAY_s, 3.01, 1e-3),), "2 % of the vessel left free"),
        ((Order(DAY_s, 1.0, 0.0),), "above 0"),
        ((Order(DAY_s, 1.0, 1e-3, rests_s=-1.0),), "0 or more"),
    ],
)
def test_an_order_that_cannot_be_is_refused(orders: tuple[Order, ...], words: str) -> None:
    with pytest.raises(QuantityError, match=words):
        history(studied(FLOAT), replace(QUIET, orders=orders))
