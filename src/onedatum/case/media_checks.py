"""Contradictions in what decides the permittivity of the medium, and in the reference section of a probe."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from onedatum.case.leaf import Leaf, Value
from onedatum.case.model import Case
from onedatum.case.model.liquid import BOILING_WATER, ETHANOL_WATER, STATED_DENSITY, TABLED, WATER
from onedatum.foundation.errors import Fault


def media_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in permittivity, mixture, bulk and reference section."""
    for check in _CHECKS:
        yield from check(case)


def _known(*leaves: Leaf) -> Iterator[Leaf]:
    return (leaf for leaf in leaves if leaf.known)


def _stated_once(case: Case) -> Iterator[Fault]:
    """A stated permittivity is that of the medium as it is, mixed or moist."""
    medium = case.medium
    if not medium.permittivity.known:
        return
    for leaf in _known(*medium.mixture.leaves(), *medium.bulk.leaves()):
        yield leaf.fault("left away beside medium.permittivity", "the one stated is that of the whole, as it is")


def _substance(case: Case) -> Iterator[Fault]:
    medium = case.medium
    if medium.substance.known and medium.kind.word in (ETHANOL_WATER, WATER, BOILING_WATER):
        yield medium.substance.fault("left away", f"{medium.kind.word} brings its own permittivity")


def _mixture(case: Case) -> Iterator[Fault]:
    mixture = case.medium.mixture
    if mixture.other.known and mixture.other_permittivity.known:
        why = "one liquid is mixed in, stated in one way"
        yield mixture.other_permittivity.fault("left away beside medium.mixture.other", why)


def _bulk(case: Case) -> Iterator[Fault]:
    """Grain is stated by its bulk density; of nothing else a permittivity is known."""
    medium = case.medium
    stated = next(_known(*medium.bulk.leaves()), None)
    if stated is None:
        return
    if medium.kind.word not in (STATED_DENSITY, TABLED, ""):
        why = "grain and powder are stated by the density of the bulk"
        yield medium.kind.fault(f"{STATED_DENSITY} beside medium.bulk", why)
    for leaf in _known(medium.substance, *medium.mixture.leaves()):
        yield leaf.fault("left away beside medium.bulk", "grain and powder are no liquid")


def _strength(case: Case) -> Iterator[Fault]:
    medium = case.medium
    least, greatest, strength = medium.strength_least, medium.strength_greatest, medium.strength
    if medium.kind.known and medium.kind.word != ETHANOL_WATER:
        for leaf in _known(least, greatest):
            yield leaf.fault("left away", f"there is no alcohol in {medium.kind.word}")
        return
    yield from _not_above(least, strength, "the strength", "the least is no more than it is now")
    yield from _not_above(strength, greatest, "the greatest strength", "the greatest is no less than it is now")
    if strength.si is None:
        yield from _not_above(least, greatest, "the greatest strength", "the least lies below the greatest")


def _not_above(low: Value, high: Value, called: str, why: str) -> Iterator[Fault]:
    if low.si is not None and high.si is not None and low.si > high.si:
        yield low.fault(f"at most {called}, {high.text}", why)


def _reference_section(case: Case) -> Iterator[Fault]:
    section, end = case.probe.reference_section, case.probe.active_to
    low, high = section.from_, section.to
    if low.si is not None and high.si is not None and high.si <= low.si:
        yield high.fault(f"above its lower end, {low.text}", "a reference section has a length")
    elif high.si is not None and end.si is not None and high.si > end.si:
        yield high.fault(f"at most the end of the active length, {end.text}", "it is a part of the rod")


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _stated_once,
    _substance,
    _mixture,
    _bulk,
    _strength,
    _reference_section,
)
