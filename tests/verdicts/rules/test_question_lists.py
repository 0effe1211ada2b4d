"""The list of questions against every list there could be, of up to twelve missing answers.

`EveryList` evaluates the excluding bands in two values for every answer to a list and to all that is left unasked: it
shares nothing with the judging that the list of the tool comes from. `dev.py soak question_lists` tries many more.
"""

from __future__ import annotations

import random
from itertools import combinations

import pytest

from onedatum.verdicts import Knowledge
from onedatum.verdicts.rules import Fact, Facts, RuleBase, quantities, read_rules, rule_base
from soak.proofs.question_lists import EveryList, lists_of, open_cases

YES_NO = [name for name, row in quantities().items() if row.words == ("yes", "no") and row.side == "process"][:12]
ONE = ("bypass",)


def base_of(*excluding: str) -> RuleBase:
    """A small invented base: rules that suit or exclude one principle, by the words that exclude it."""
    rows = [
        {
            "name": f"rule {number}",
            "principle": "bypass",
            "suits": f"not ({band})",
            "does_not_suit": band,
            "reason": "invented",
            "sources": ["derived"],
        }
        for number, band in enumerate(excluding)
    ]
    table = {"principles": ["bypass"], "conditions": [], "rules": rows, "cross": [], "without_influence": []}
    return read_rules(table, quantities())


def unknown_all() -> Facts:
    return Facts("", {name: Fact(Knowledge.ASK, waits_for=(name,)) for name in YES_NO})


def drawn(chance: random.Random) -> RuleBase:
    """Two to five rules over some of twelve names; each name points the same way in all of them."""

    def band() -> str:
        parts = [chance.sample(YES_NO, chance.randint(1, 3)) for _ in range(chance.randint(1, 2))]
        return " or ".join(f"({' and '.join(f'{name} = yes' for name in part)})" for part in parts)

    return base_of(*(band() for _ in range(chance.randint(2, 5))))


@pytest.mark.parametrize(
    ("excluding", "asked"),
    [
        # By hand. Where a excludes alone, b decides nothing: with a it is excluded, without a it suits.
        (("a = yes", "a = yes and b = yes"), "a"),
        (("a = yes and b = yes",), "a b"),
        (("a = yes or b = yes", "c = yes"), "a b c"),
        (("a = yes and b = yes", "a = yes and b = yes and c = yes"), "a b"),
        (("a = yes", "b = yes and a = no"), "a b"),
    ],
)
def test_small_lists_by_hand(excluding: tuple[str, ...], asked: str) -> None:
    names = dict(zip("abc", YES_NO, strict=False))
    told = (" ".join(names.get(word, word) for word in band.split(" ")) for band in excluding)
    base, wanted = base_of(*told), frozenset(names[letter] for letter in asked.split())
    assert lists_of(base, unknown_all(), ONE) == wanted
    assert EveryList(base, unknown_all(), ONE, YES_NO).shortest == (wanted,)


def test_of_twelve_answers_no_shorter_list_is_enough_in_invented_rules() -> None:
    chance, longest = random.Random(12), 0
    for _ in range(40):
        base = drawn(chance)
        told = lists_of(base, unknown_all(), ONE)
        longest = max(longest, len(told))
        assert told in EveryList(base, unknown_all(), ONE, YES_NO).shortest
    assert longest >= 8


def test_of_twelve_answers_no_shorter_list_is_enough_in_the_rules() -> None:
    asked = 0
    for case, principles, unknown in open_cases(rule_base(), 6, seed=2, principles=2, builds=8):
        assert len(unknown) == 12
        told, lists = lists_of(rule_base(), case, principles), EveryList(rule_base(), case, principles, unknown)
        asked += len(told)
        assert lists.enough(tuple(told))
        shorter = [some for count in range(len(told)) for some in combinations(unknown, count)]
        assert not [some for some in shorter if lists.enough(some)]
    assert asked >= 12
