"""Which principles suit this case: the rules judged by what is stated and worked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from onedatum.study.choosing.brought import site_faults
from onedatum.study.choosing.facts import facts_of, stated_alone
from onedatum.study.choosing.own import Own, own_instruments
from onedatum.study.choosing.principle import principle_of
from onedatum.study.choosing.site import Site, site_of
from onedatum.study.desk import Desk
from onedatum.study.measuring import Measuring
from onedatum.study.states import StatesChapter
from onedatum.study.stem import StemDetail
from onedatum.verdicts import Effect
from onedatum.verdicts.rules import (
    Flip,
    Judgement,
    Matrix,
    Place,
    PrincipleVerdict,
    Question,
    flip_of,
    matrix,
    questions_of,
    ranked,
)

BLOCKS = Effect.BLOCKS.value
"""The effect of a rule across chapters that stands against the order, not against a principle."""


@dataclass(frozen=True)
class Choosing:
    """The verdict on every principle; flips and questions are worked when they are asked for."""

    matrix: Matrix
    site: Site
    stated: str
    """The principle of the case by the name that the rules know it by; empty where none is stated."""
    own: tuple[Own, ...] = ()
    """What is said of each instrument whose figures the user brings."""

    @property
    def verdicts(self) -> Mapping[str, PrincipleVerdict]:
        """By principle, in the order of the rules."""
        return self.matrix.verdicts

    @property
    def entries(self) -> frozenset[str]:
        """The names of the entries that its facts are taken from."""
        told = [each for facts in self.matrix.states for each in (facts.stated, *facts.of_principle.values())]
        return frozenset(fact.entry for facts in told for fact in facts.values() if fact.entry)

    @property
    def of_stated(self) -> PrincipleVerdict | None:
        """The verdict on the principle of the case."""
        return self.verdicts.get(self.stated)

    @cached_property
    def blocking(self) -> tuple[Judgement, ...]:
        """What blocks the order of the principle of the case, whatever its verdict; unstated, of each of them."""
        if self.of_stated is not None:
            return self.blocking_of(self.stated)
        every = [self.blocking_of(name) for name in self.verdicts]
        shared = set.intersection(*({each.rule.name for each in found} for found in every)) if every else set()
        return tuple(each for each in every[0] if each.rule.name in shared) if shared else ()

    def blocking_of(self, principle: str) -> tuple[Judgement, ...]:
        """What blocks the order of a principle, whatever its verdict."""
        return tuple(each for each in self.matrix.told(principle) if each.rule.effect == BLOCKS)

    def only_ordering_left(self, principle: str) -> bool:
        """Whether the rules leave nothing of a principle but requirements of the order, and block none."""
        return self.verdicts[principle].order_only and not self.blocking_of(principle)

    @cached_property
    def ranking(self) -> tuple[Place, ...]:
        """Those that suit, the first first."""
        return ranked(tuple(self.verdicts.values()), self.site.criteria)

    @cached_property
    def questions(self) -> tuple[Question, ...]:
        """The shortest list of answers after which nothing is undecided, those that decide most first."""
        return questions_of(self.matrix)

    @cached_property
    def flips(self) -> Mapping[str, Flip | None]:
        """What would turn each verdict that stands against a principle."""
        states = self.matrix.states
        return {name: flip_of(self.matrix.base, states, verdict) for name, verdict in self.verdicts.items()}


def choosing_chapter(
    desk: Desk, states: StatesChapter, measuring: Measuring, detail: StemDetail | None
) -> Choosing | None:
    """Judge every principle; None where the case neither states conditions nor leaves the principle open."""
    asked = any(leaf.known or leaf.state == "none" for leaf in desk.case.conditions.leaves())
    if not asked and desk.case.instrument.principle.known:
        desk.skip(*desk.case.conditions.leaves())
        desk.faults.extend(site_faults(desk.case.choosing))
        return None
    desk.beside_the_point.update(leaf.path for leaf in desk.case.conditions.leaves())  # the verdicts tell what to order
    site = site_of(desk)
    told = facts_of(desk, states, measuring, detail)
    found = matrix(site.base, [facts for _, facts in told] or [stated_alone(desk)])
    return Choosing(found, site, principle_of(desk), own_instruments(desk, site, told))
