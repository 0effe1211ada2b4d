"""What a sensor keeps of what it felt: the answers to the questions asked last."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.simulate.sensor import KEPT, LONGEST, Sensor, sensor_of
from tests.simulate.instruments import FLOAT, instrument, studied

NONE: dict[str, Reals] = {}


def felt(own: Sensor, level_m: float, count: int = 1) -> Reals:
    return own.felt(np.full(count, level_m), np.full(count, instrument(FLOAT).temperature_K), NONE, NONE)


def test_the_question_asked_longest_ago_is_dropped_and_no_other() -> None:
    """What is kept comes back as the very same array; what was dropped is worked again, to the same numbers."""
    own = sensor_of(studied(FLOAT))
    assert own is not None
    levels = [0.5 + 0.01 * number for number in range(KEPT)]
    first = [felt(own, level_m) for level_m in levels]
    assert len({float(each[0]) for each in first}) == KEPT  # so an answer to another question would be seen
    assert felt(own, levels[0]) is first[0]
    felt(own, 1.5)  # one more than is kept: the second of the first questions is now the one asked longest ago
    kept = [*levels[2:], levels[0]]
    assert all(felt(own, level_m) is first[levels.index(level_m)] for level_m in kept)
    again = felt(own, levels[1])
    assert again is not first[1] and np.array_equal(again, first[1])


def test_long_questions_are_not_kept() -> None:
    own = sensor_of(studied(FLOAT))
    assert own is not None
    assert felt(own, 1.0, LONGEST) is felt(own, 1.0, LONGEST)
    assert felt(own, 1.0, LONGEST + 1) is not felt(own, 1.0, LONGEST + 1)
