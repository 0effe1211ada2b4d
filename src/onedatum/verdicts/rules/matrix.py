"""The verdict on every principle, and what is told beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from onedatum.verdicts.rules.base import JOINS, OF_OWN, RuleBase
from onedatum.verdicts.rules.facts import Facts
from onedatum.verdicts.rules.judge import Judgement, judged
from onedatum.verdicts.rules.principle import PrincipleVerdict, principle_verdict
from onedatum.verdicts.verdict import Verdict


@dataclass(frozen=True)
class Matrix:
    """What the rules say of a case."""

    base: RuleBase
    states: tuple[Facts, ...]
    verdicts: Mapping[str, PrincipleVerdict]

    def told(self, principle: str) -> Iterator[Judgement]:
        """Rules across chapters that do not join the verdict: what blocks the order, warns, or belongs on a permit.

        What is not known is not told here: the chapter that it belongs to asks for it.
        """
        for rule in self.base.of(principle):
            if rule.effect in (JOINS, OF_OWN):
                continue
            for state in self.states:
                found = judged(rule, {name: state.of(principle, name) for name in rule.names})
                if found.conditional or found.verdict is Verdict.DOES_NOT_SUIT:
                    yield found
                    break


def matrix(base: RuleBase, states: Sequence[Facts], principles: Sequence[str] = ()) -> Matrix:
    """Judge the principles, all of them where none is named."""
    chosen, apart = principles or base.principles, _apart([state.kept() for state in states])
    return Matrix(base, apart, {each: principle_verdict(base, each, apart) for each in chosen})


def _apart(states: Sequence[Facts]) -> tuple[Facts, ...]:
    """The states that differ in what is known of them; of those alike the first."""
    return tuple({state.content: state for state in reversed(states)}.values())[::-1]
