"""Which principles suit this case: the rules judged by what is stated and worked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD, CAPACITIVE, IN_CHAMBER
from onedatum.case.model.probe import BARE, BY_ROD, BY_TUBE
from onedatum.study.choosing.facts import facts_of
from onedatum.study.choosing.site import Site, site_of
from onedatum.study.desk import Desk
from onedatum.study.measuring import Measuring
from onedatum.study.states import StatesChapter
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

    @property
    def verdicts(self) -> Mapping[str, PrincipleVerdict]:
        """By principle, in the order of the rules."""
        return self.matrix.verdicts

    @property
    def of_stated(self) -> PrincipleVerdict | None:
        """The verdict on the principle of the case."""
        return self.verdicts.get(self.stated)

    @cached_property
    def blocking(self) -> tuple[Judgement, ...]:
        """What blocks the order of the principle of the case, whatever its verdict."""
        told = self.matrix.told(self.stated) if self.of_stated is not None else ()
        return tuple(each for each in told if each.rule.effect == BLOCKS)

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


def choosing_chapter(desk: Desk, states: StatesChapter, measuring: Measuring) -> Choosing | None:
    """Judge every principle; None where the case neither states conditions nor leaves the principle open."""
    asked = any(leaf.known or leaf.state == "none" for leaf in desk.case.conditions.leaves())
    if not asked and desk.case.instrument.principle.known:
        desk.skip(*desk.case.conditions.leaves())
        return None
    desk.beside_the_point.update(leaf.path for leaf in desk.case.conditions.leaves())  # the verdicts tell what to order
    site = site_of(desk)
    found = matrix(site.base, facts_of(desk, states, measuring, site))
    return Choosing(found, site, principle_of(desk))


def principle_of(desk: Desk) -> str:
    """The principle of the case by the name that the rules know it by."""
    word = desk.case.instrument.principle.word
    if word == CAPACITIVE:
        return _probe(desk)
    return {IN_CHAMBER: "bypass", BY_DIFFERENCE: "differential-pressure", BY_HEAD: "hydrostatic"}.get(
        word, "magnetostrictive" if word else ""
    )


def _probe(desk: Desk) -> str:
    """A probe by what it meets: its own earth before its coating, and what the medium asks of it."""
    probe = desk.case.probe
    if probe.earth.kind.word in (BY_ROD, BY_TUBE):
        return "capacitive-reference"
    return "capacitive-bare" if probe.rod.word == BARE else "capacitive-coated"
