"""What the case states of the conditions that the rules ask for: in its section, or at the place that is its own.

Every stated state in which the instrument is fitted is judged for itself, with its own temperature, density, pressure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import TypeVar

from onedatum.case.leaf import Leaf, Value, Word
from onedatum.case.model.conditions import PLACED, condition_leaves
from onedatum.case.model.liquid import AMOUNTS, FREE, LEVEL, MAGNETIC, MASS, NON_MAGNETIC
from onedatum.case.model.probe import NO, YES
from onedatum.foundation.units import show
from onedatum.study.choosing.bench import Bench
from onedatum.study.choosing.numbers import with_numbers
from onedatum.study.choosing.principle import principle_of
from onedatum.study.desk import NONE, Desk
from onedatum.study.measuring import Measuring
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.stem import StemDetail
from onedatum.verdicts import COVERAGE
from onedatum.verdicts.rules import Fact, Facts, Quantity, quantities

IN_THE_CHAMBER = ("bypass",)
"""Principles that are judged by the conditions in a chamber, where those are stated."""
IN_THE_PIPE = ("magnetostrictive", "guided-radar")
"""Principles that a still pipe can be chosen for."""
BY_PLACE = dict(zip(PLACED, (IN_THE_CHAMBER, IN_THE_PIPE), strict=True))

AnyLeaf = TypeVar("AnyLeaf", bound=Leaf)
Reading = Callable[[Desk, Sequence[Condition]], "Fact | None"]


def facts_of(
    desk: Desk, states: StatesChapter, measuring: Measuring, detail: StemDetail | None
) -> list[tuple[Bench, Facts]]:
    """The facts of every state of the medium in which the instrument is fitted, worked numbers with them."""
    answers, principle = condition_leaves(desk.case.conditions), principle_of(desk)
    stated, places = dict(_stated(desk, answers)), _at_places(answers)
    found = []
    for conditions in _by_state(states):
        own = {name: fact for name, read in ELSEWHERE.items() if (fact := read(desk, conditions)) is not None}
        bench = Bench(desk, states, conditions, measuring, detail, principle, answers)
        found.append((bench, Facts(conditions[0].name, own | stated, places)))
    return with_numbers(desk, found)


def stated_alone(desk: Desk) -> Facts:
    """What is stated of the conditions, where no state is stated in which the instrument is fitted."""
    answers = condition_leaves(desk.case.conditions)
    return Facts("", dict(_stated(desk, answers)), _at_places(answers))


def _by_state(states: StatesChapter) -> Iterator[Sequence[Condition]]:
    """The conditions of each stated state: as it is, and at its coldest and hottest."""
    for _, conditions in groupby(states.fitted, key=lambda each: id(each.state)):
        yield tuple(conditions)


# ---------------------------------------------------------------- leaves


def _stated(desk: Desk, answers: Mapping[str, Leaf]) -> Iterator[tuple[str, Fact]]:
    """Of the section of conditions, whatever is said; what is left away by the listed default, marked as assumed."""
    for name, leaf in answers.items():
        desk.read.add(leaf.path)
        if name in quantities():
            fact = fact_of_leaf(quantities()[name], leaf) or _default(quantities()[name], leaf)
            if fact is not None:
                yield name, fact


def _at_places(answers: Mapping[str, Leaf]) -> Mapping[str, Mapping[str, Fact]]:
    """What is stated for a chamber or a pipe holds for the principles that measure there."""
    found: dict[str, dict[str, Fact]] = {}
    for path, leaf in answers.items():
        place, _, name = path.partition(".")
        if place in BY_PLACE and (fact := fact_of_leaf(quantities()[name], leaf)) is not None:
            for principle in BY_PLACE[place]:
                found.setdefault(principle, {})[name] = fact
    return found


def fact_of_leaf(quantity: Quantity, leaf: Leaf) -> Fact | None:
    """What a leaf says; None where it is not known."""
    if isinstance(leaf, Value):
        return fact_of_value(leaf)
    if leaf.state == NONE:
        return Fact(word=NONE, text=NONE, entry=leaf.path) if NONE in quantity.words else None
    if isinstance(leaf, Word) and leaf.known:
        return Fact(word=leaf.word, text=leaf.word, assumed=leaf.state == "assumed", entry=leaf.path)
    return None


def fact_of_value(leaf: Value) -> Fact | None:
    """A stated number with its range and its uncertainty; stated absence is zero."""
    if leaf.state == NONE:
        return Fact(text=NONE, entry=leaf.path)
    if leaf.si is None:
        return None
    ends = [end for end in (leaf.low, leaf.si, leaf.high) if end is not None]
    half = COVERAGE * leaf.uncertainty.standard if leaf.uncertainty is not None else 0.0
    return Fact(
        low=min(ends), high=max(ends), half=half, text=leaf.text, assumed=leaf.state == "assumed", entry=leaf.path
    )


def _default(quantity: Quantity, leaf: Leaf) -> Fact | None:
    """The listed default of what was left away: assumed, and still asked."""
    if not quantity.default or leaf.state == "faulty" or quantity.numeric:
        return None
    return Fact(word=quantity.default, text=f"{quantity.default}, assumed", assumed=True, entry=leaf.path)


def word_fact(word: str, entry: str = "") -> Fact:
    """A word that is known."""
    return Fact(word=word, text=word, entry=entry)


# ---------------------------------------------------------------- stated at another place


def _leaf(pick: Callable[[Desk], AnyLeaf], fact_of: Callable[[AnyLeaf], Fact | None]) -> Reading:
    """What one leaf says that the case states elsewhere."""

    def read(desk: Desk, _: Sequence[Condition]) -> Fact | None:
        leaf = pick(desk)
        desk.read.add(leaf.path)
        return fact_of(leaf)

    return read


def _value(pick: Callable[[Desk], Value]) -> Reading:
    """A number; its absence is zero."""
    return _leaf(pick, fact_of_value)


def _never_zero(pick: Callable[[Desk], Value]) -> Reading:
    """A number that every substance has: `none` says nothing of it."""
    return _leaf(pick, lambda leaf: fact_of_value(leaf) if leaf.known else None)


def _word(pick: Callable[[Desk], Word], words: Mapping[str, str]) -> Reading:
    """A word, in the words of the rules."""
    return _leaf(pick, lambda leaf: _told(words.get(_said(leaf), ""), leaf))


def _same(pick: Callable[[Desk], Word]) -> Reading:
    """A word that both know by the same name."""
    return _leaf(pick, lambda leaf: _told(_said(leaf), leaf))


def _said(leaf: Word) -> str:
    return NONE if leaf.state == NONE else leaf.word


def _told(word: str, leaf: Word) -> Fact | None:
    return word_fact(word, leaf.path) if word else None


def _wanted(desk: Desk, _: Sequence[Condition]) -> Fact | None:
    leaf = desk.case.wanted.of
    if desk.case.interface.lower_density.known:
        return word_fact("interface", desk.case.interface.lower_density.path)
    if not leaf.known:
        return None
    words = {LEVEL: LEVEL, MASS: MASS, "mass in air": MASS}
    return word_fact(words.get(leaf.word, "volume" if leaf.word in AMOUNTS else ""), leaf.path)


def _particles(to: Mapping[str, str]) -> Reading:
    return _word(lambda desk: desk.case.medium.particles, to)


def _ambient(desk: Desk, _: Sequence[Condition]) -> Fact | None:
    zone, site = desk.case.zone, desk.case.site.ambient_temperature
    desk.read.add(site.path)
    known = [end for end in (zone.ambient_min.si, site.low, site.si, site.high, zone.ambient_max.si) if end is not None]
    if not known:
        return None
    text = " to ".join(dict.fromkeys(show(end, "degC") for end in (min(known), max(known))))
    return Fact(low=min(known), high=max(known), text=text, entry=zone.ambient_max.path)


def _liquid(desk: Desk, _: Sequence[Condition]) -> Fact | None:
    medium = desk.case.medium
    if any(leaf.known for leaf in medium.bulk.leaves()):
        return word_fact("bulk solid", medium.bulk.moisture.path)
    return word_fact("liquid", medium.kind.path) if medium.kind.known else None


ELSEWHERE: Mapping[str, Reading] = {
    "duty.overfill": _word(
        lambda desk: desk.case.overfill.filling_stopped_by,
        {
            NONE: NONE,
            "this gauge": "shared with filling",
            "a separate gauge": "separate",
            "a person at the tank": "separate",
        },
    ),
    "output.wanted": _wanted,
    "error.allowed": _value(lambda desk: desk.case.wanted.error_allowed_of_level),
    "medium.kind": _liquid,
    "solids.kind": _particles({FREE: NONE}),
    "solids.magnetic": _particles({FREE: NO, NON_MAGNETIC: NO, MAGNETIC: YES}),
    "viscosity": _value(lambda desk: desk.case.medium.viscosity),
    "conductivity": _value(lambda desk: desk.case.medium.conductivity),
    "permittivity": _never_zero(lambda desk: desk.case.medium.permittivity),
    "permittivity.gas": _never_zero(lambda desk: desk.case.medium.gas_above.permittivity),
    "deposit.film_test": _word(lambda desk: desk.case.probe.film.stays, {YES: "film stays", NO: "film breaks"}),
    "flow.speed": _value(lambda desk: desk.case.medium.velocity_at_stem),
    "temperature.ambient": _ambient,
    "pressure.test": _value(lambda desk: desk.case.pressure.test),
    "headroom": _value(lambda desk: desk.case.nozzle.headroom_above_face),
    "nozzle.bore": _value(lambda desk: desk.case.nozzle.bore),
    "nozzle.height": _value(lambda desk: desk.case.nozzle.flange_face),
    "length.confirmed": _same(lambda desk: desk.case.probe.length_confirmed),
    "interface.upper_layer": _value(lambda desk: desk.case.interface.upper_layer_least),
    "zone.inside": _same(lambda desk: desk.case.zone.inside),
    "zone.outside": _same(lambda desk: desk.case.zone.at_head),
    "gas.group": _same(lambda desk: desk.case.zone.group),
    "float.bonded": _same(lambda desk: desk.case.charge.float_bonded),
    "epl.boundary": _word(lambda desk: desk.case.instrument.protection.boundary_wall, {"certified": YES, NONE: NO}),
}
"""By the name of the rules; what is not here is stated in the section of conditions, or worked by the chapters."""
