"""The permittivity of the medium: as stated, or by its law; how far off it may be, and what it may become."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from onedatum.case.leaf import Value
from onedatum.case.model.liquid import ETHANOL_WATER, STATED_DENSITY
from onedatum.foundation.working import Entry
from onedatum.physics.uncertainty import expanded
from onedatum.study.desk import Desk
from onedatum.study.probe.called import called
from onedatum.study.probe.laws import At, Law, Spread, ends_around, held_liquid, law_of
from onedatum.study.sensitivity import standard_of
from onedatum.study.states import COLDEST, HOTTEST, StatesChapter
from onedatum.verdicts import COVERAGE

WORKED = "medium.permittivity_worked"
ENDS = (("low", "least"), ("high", "greatest"))


@dataclass(frozen=True)
class Other:
    """What the permittivity may be in place of its value."""

    key: str
    """How its entries are called."""
    text: str
    permittivity: Entry
    uncertain: bool = False
    """Whether it is so from the start, and no change: a setting at two levels takes it in."""


@dataclass(frozen=True)
class Permittivity:
    """The permittivity of the liquid in which the probe is set, and what else it may be."""

    value: Entry
    others: tuple[Other, ...]
    worked: bool
    """Whether a law gave it; a stated one says nothing of warmth and composition but by its range."""


def permittivity_of(desk: Desk, states: StatesChapter, gas: Entry) -> Permittivity:
    """Stated before worked; what has no law is asked for."""
    stated, law = desk.case.medium.permittivity, law_of(desk)
    if stated.state != "unknown" or law is None:
        if stated.known and desk.case.medium.substance.known:
            held_liquid(desk, desk.case.medium.substance)
        return Permittivity(desk.take(stated), tuple(_as_stated(desk, stated)), False)
    desk.skip(stated)
    now = states.now
    liquid = states.liquid.mass_fraction
    at = At("", now.name, now.temperature, now.density, gas, liquid, with_ends=True, called=called(desk))
    found = law(desk, at, WORKED)
    later = (*_uncertain(found), *_warmer(desk, states, law, at), *_composed(desk, law, at))
    return Permittivity(found.value, later, True)


# ---------------------------------------------------------------- as stated


def _as_stated(desk: Desk, stated: Value) -> Iterator[Other]:
    """The ends of the range stated, and of the uncertainty."""
    entry = desk.take(stated)
    around = float(expanded(standard_of(entry), COVERAGE))
    if entry.known and around > 0.0:
        width = desk.sheet.record(
            f"{stated.path}_half_width",
            around,
            "",
            "what the relative permittivity may be off by, either way",
            method="twice its standard uncertainty",
            source="jcgm-100: 6.2.1",
            rests_on=[entry],
        )
        yield from _uncertain(ends_around(desk, stated.path, entry, width))
    for which, word in ENDS:
        if (stated.low if which == "low" else stated.high) is not None:
            yield Other(f"permittivity_{word}", f"permittivity at its {word}", desk.end(stated, which, word))


def _uncertain(found: Spread) -> Iterator[Other]:
    """As low and as high as it may be from the start."""
    for word, entry in (("least", found.least), ("greatest", found.greatest)):
        if entry is not None:
            text = f"permittivity at its {word} within what is not known of it"
            yield Other(f"permittivity_within_{word}", text, entry, uncertain=True)


# ---------------------------------------------------------------- by its law


def _warmer(desk: Desk, states: StatesChapter, law: Law, at: At) -> Iterator[Other]:
    """In every other condition of the liquid, its coldest and its hottest among them."""
    for condition in states.fitted:
        if condition is not states.now and condition.temperature is not states.now.temperature:
            there = replace(at, temperature=condition.temperature, density=condition.density)
            yield _other(desk, law, there, f"state {condition.name}", _called(desk, condition.name))
    medium = desk.case.medium
    ranged = medium.density.low is not None or medium.density.high is not None
    if medium.kind.word == STATED_DENSITY and not medium.expansion.known and not ranged:
        yield from _ends_of_warmth(desk, law, at)


def _ends_of_warmth(desk: Desk, law: Law, at: At) -> Iterator[Other]:
    """A density of one temperature alone makes no condition of the ends; the permittivity does not ask for it."""
    stated = desk.case.medium.temperature
    for which, name in (("low", COLDEST), ("high", HOTTEST)):
        if (stated.low if which == "low" else stated.high) is not None:
            there = replace(at, temperature=desk.end(stated, which, name))
            yield _other(desk, law, there, f"state {name}", _called(desk, name))


def _called(desk: Desk, name: str) -> str:
    word = called(desk)
    return f"{word} at its {name}" if name in (COLDEST, HOTTEST) else f"{word} in the state {name}"


def _composed(desk: Desk, law: Law, at: At) -> Iterator[Other]:
    """With every part of it at the ends that are stated."""
    medium = desk.case.medium
    if medium.kind.word == ETHANOL_WATER:
        for leaf, word in ((medium.strength_least, "least"), (medium.strength_greatest, "greatest")):
            if leaf.known:
                there = replace(at, other={medium.strength.path: desk.take(leaf, "%vol")})
                yield _other(desk, law, there, f"strength_{word}", f"strength at its {word}")
    for leaf, key, noun in (
        (medium.mixture.share, "share", "share mixed in"),
        (medium.bulk.moisture, "moisture", "moisture"),
        (medium.bulk.packing, "packing", "packing of the grains"),
    ):
        for which, word in ENDS:
            if (leaf.low if which == "low" else leaf.high) is not None:
                shown = "%mass" if key == "moisture" else "%vol"
                there = replace(at, other={leaf.path: desk.end(leaf, which, word, shown)})
                yield _other(desk, law, there, f"{key}_{word}", f"{noun} at its {word}")


def _other(desk: Desk, law: Law, at: At, label: str, text: str) -> Other:
    there = replace(at, label=label, text=text, with_ends=False)
    return Other(f"liquid[{label}]", text, law(desk, there, WORKED).value)
