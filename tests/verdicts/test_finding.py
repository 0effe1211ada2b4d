"""What a finding does, and in which order findings are read."""

from __future__ import annotations

from itertools import permutations, product

import pytest

from onedatum.verdicts import Effect, Finding, gravest


def findings(effects: tuple[Effect, ...]) -> list[Finding]:
    """Findings with these effects; all else about them is the same, so that only identity tells them apart."""
    return [Finding("key", "title", effect, ()) for effect in effects]


@pytest.mark.parametrize(
    ("graver", "lighter"),
    [(Effect.BLOCKS, Effect.WARNING), (Effect.WARNING, Effect.HOLDS), (Effect.BLOCKS, Effect.HOLDS)],
)
def test_what_blocks_is_read_before_a_warning_and_a_warning_before_what_holds(graver: Effect, lighter: Effect) -> None:
    assert graver.gravity < lighter.gravity
    assert [each.effect for each in gravest(findings((lighter, graver)))] == [graver, lighter]


@pytest.mark.parametrize("order", list(permutations(Effect)))
def test_the_order_they_come_in_does_not_matter_across_effects(order: tuple[Effect, ...]) -> None:
    assert [each.effect for each in gravest(findings(order))] == [Effect.BLOCKS, Effect.WARNING, Effect.HOLDS]


def test_findings_alike_keep_their_order_none_is_lost_and_sorting_again_changes_nothing() -> None:
    for effects in product(Effect, repeat=4):
        given = findings(effects)
        found = gravest(given)
        for effect in Effect:
            alike = [id(each) for each in given if each.effect is effect]
            assert [id(each) for each in found if each.effect is effect] == alike
        assert [id(each) for each in gravest(found)] == [id(each) for each in found]
        assert [each.effect for each in given] == list(effects), "what was handed in is left as it was"


def test_no_findings_are_none_and_any_sequence_will_do() -> None:
    assert gravest(()) == []
    (finding,) = gravest(tuple(findings((Effect.HOLDS,))))
    assert (finding.ways_out, finding.uncertainty_stated, finding.safety) == ((), True, False)
