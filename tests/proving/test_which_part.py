"""A small turn of the proof: faults put into every example, and the bars that the long one holds."""

from __future__ import annotations

import pytest

from soak.proofs.which_part import EXAMPLES, FIRST, FIRST_THREE, Score, scored
from tests.draws import LONG

SEED = 8
FAULTS = 15 if LONG else 8
"""For each set of levels; the proof itself puts in 25."""


@pytest.fixture(scope="module")
def score() -> Score:
    return scored(SEED, plans=2, faults=FAULTS, with_bound=False)


def test_the_true_cause_comes_first_and_among_the_first_three(score: Score) -> None:
    assert len(score.outcomes) == 2 * FAULTS * len(EXAMPLES)
    assert score.within(1) >= FIRST
    assert score.within(3) >= FIRST_THREE


def test_every_example_is_in_it_and_no_group_swallows_the_list(score: Score) -> None:
    assert {each.example for each in score.outcomes} == set(EXAMPLES)
    assert all(len(keys) <= 4 for alike in score.alike.values() for keys in alike)


def test_sound_instruments_are_mostly_held_sound(score: Score) -> None:
    """A false alarm is a fault that is likelier than nothing being wrong: with the odds stated, one in ten or so."""
    assert sum(score.sound) >= 0.7 * len(score.sound)
