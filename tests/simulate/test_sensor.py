"""What a sensor keeps of what it felt, and an instrument of how it is set: the answers to the questions asked last."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.numerics import Reals
from onedatum.simulate import instrument_of
from onedatum.simulate.instrument import MOST_SETTINGS
from onedatum.simulate.sensor import KEPT, LONGEST, Factors, Moves, Sensor, sensor_of
from tests.simulate.instruments import FLOAT, instrument, levels, state, studied

NONE: dict[str, Reals] = {}


def felt(own: Sensor, level_m: float, count: int = 1) -> Reals:
    return own.felt(np.full(count, level_m), np.full(count, instrument(FLOAT).temperature_K), NONE, NONE)


def test_the_question_asked_longest_ago_is_dropped_and_no_other() -> None:
    """What is kept comes back as the very same array; what was dropped is worked again, to the same numbers."""
    own = sensor_of(studied(FLOAT))
    assert own is not None
    asked_m = [0.5 + 0.01 * number for number in range(KEPT)]
    first = [felt(own, level_m) for level_m in asked_m]
    assert len({float(each[0]) for each in first}) == KEPT  # so an answer to another question would be seen
    assert felt(own, asked_m[0]) is first[0]
    felt(own, 1.5)  # one more than is kept: the second of the first questions is now the one asked longest ago
    kept = [*asked_m[2:], asked_m[0]]
    assert all(felt(own, level_m) is first[asked_m.index(level_m)] for level_m in kept)
    again = felt(own, asked_m[1])
    assert again is not first[1] and np.array_equal(again, first[1])


def test_long_questions_are_not_kept() -> None:
    own = sensor_of(studied(FLOAT))
    assert own is not None
    assert felt(own, 1.0, LONGEST) is felt(own, 1.0, LONGEST)
    assert felt(own, 1.0, LONGEST + 1) is not felt(own, 1.0, LONGEST + 1)


def test_the_setting_asked_for_longest_ago_is_dropped_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is felt at the two levels of a setting is asked of the sensor once for each setting that is kept."""
    own = instrument_of(studied(FLOAT))
    assert own is not None
    asked: list[Reals] = []
    felt_before = Sensor.felt

    def counted(self: Sensor, level_m: Reals, temperature_K: Reals, factors: Factors, moves: Moves) -> Reals:
        asked.append(level_m)
        return felt_before(self, level_m, temperature_K, factors, moves)

    monkeypatch.setattr(Sensor, "felt", counted)
    at = state(FLOAT, levels(FLOAT, 0.1, 0.5, 0.9))

    def settings(*numbers: int) -> int:
        """How many of these settings, each with another mass of the float, were worked."""
        asked.clear()
        for number in numbers:
            own.signal(at, constants={"instrument.float.mass": np.full(1, 1.0 + 1e-4 * number)})
        return sum(np.shape(each) == (2,) for each in asked)

    assert settings(*range(MOST_SETTINGS)) == MOST_SETTINGS
    assert settings(0) == 0
    assert settings(MOST_SETTINGS) == 1  # one more than is kept: of the first settings, number 1 goes
    assert settings(*range(2, MOST_SETTINGS), 0) == 0
    assert settings(1) == 1
