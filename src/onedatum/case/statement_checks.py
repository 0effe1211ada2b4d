"""Checks of liquid and quantity as stated: what says one thing twice, and what does not go together."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from onedatum.case.model import Case
from onedatum.case.model.liquid import ETHANOL_WATER, OWN_EXPANSION, PETROLEUM, PURE_ALCOHOL, STATED_DENSITY
from onedatum.case.model.statement import ROUNDED, SIMPLE
from onedatum.foundation.errors import Fault


def statement_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in liquid, quantity, batch and tolerance."""
    for check in _CHECKS:
        yield from check(case)


def _wanted(case: Case) -> Iterator[Fault]:
    if case.wanted.of.word == PURE_ALCOHOL and case.medium.kind.known and case.medium.kind.word != ETHANOL_WATER:
        yield case.wanted.of.fault(
            "mass or volume at the reference temperature",
            f"there is no alcohol in {case.medium.kind.word}",
        )


def _strength_once(case: Case) -> Iterator[Fault]:
    medium = case.medium
    stated = [leaf for leaf in (medium.strength, medium.strength_by_mass, medium.us_proof) if leaf.known]
    for leaf in stated[1:]:
        yield leaf.fault(f"left away beside {stated[0].path}", "one strength, stated in one way")
    if stated and medium.kind.word == ETHANOL_WATER and medium.density.known:
        yield medium.density.fault(f"left away beside {stated[0].path}", "the density follows from the strength")


def _density_range(case: Case) -> Iterator[Fault]:
    """A range of the density is what one liquid may weigh; a density that follows a law has one, at one temperature."""
    medium, density = case.medium, case.medium.density
    if density.low is None and density.high is None:
        return
    remedy = "State the range of the temperature in medium.temperature: the range of the density follows from it"
    if any(leaf.known for leaf in medium.bulk.leaves()):
        why, remedy = "grain is stated by one density of its bulk", "State the range of its packing and moisture"
    elif medium.kind.word not in (STATED_DENSITY, ""):
        why = f"the density of {medium.kind.word} follows its temperature by a law or a table of its own"
    elif medium.expansion.known:
        why = "one density at one temperature is brought to the others by medium.expansion"
        remedy += "; or leave the expansion away"
    else:
        return
    yield Fault(density.path, "one value", "a range", why, density.place, remedy)


def _group(case: Case) -> Iterator[Fault]:
    medium = case.medium
    if medium.group.known and medium.kind.word not in (PETROLEUM, ""):
        yield medium.group.fault("left away", f"{medium.kind.word} has none")
    if medium.kind.word == PETROLEUM and medium.group.word not in (OWN_EXPANSION, "") and medium.expansion.known:
        yield medium.expansion.fault("left away", f"the tables give the expansion of {medium.group.word}")
    if case.quantity.arithmetic.word == ROUNDED and medium.kind.word not in (PETROLEUM, ""):
        yield case.quantity.arithmetic.fault("exact", f"no standard rounds the factors of {medium.kind.word}")


def _water_once(case: Case) -> Iterator[Fault]:
    stated = case.quantity
    if stated.free_water_level.known and stated.free_water.state in ("stated", "assumed"):
        yield stated.free_water.fault(
            "left away beside quantity.free_water_level", "two statements of one water bottom"
        )


def _tolerance(case: Case) -> Iterator[Fault]:
    stated = case.tolerance
    for least, most in (
        (stated.volume_at_least, stated.volume_at_most),
        (stated.mass_at_least, stated.mass_at_most),
    ):
        if least.si is not None and most.si is not None and least.si >= most.si:
            yield most.fault(f"above the least allowed, {least.text}", "nothing could keep within")
    if stated.rule.word == SIMPLE and stated.guard_factor.known:
        yield stated.guard_factor.fault("left away", "simple acceptance has no guard band")


def _batch(case: Case) -> Iterator[Fault]:
    before, after = case.batch.level_before, case.batch.level_after
    if before.si is not None and before.si == after.si:
        yield after.fault(f"another level than before, {before.text}", "nothing was delivered or taken")


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _wanted,
    _strength_once,
    _density_range,
    _group,
    _water_once,
    _tolerance,
    _batch,
)
