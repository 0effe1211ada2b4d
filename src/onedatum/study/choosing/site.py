"""What the site sets: the rules with its own limits, its instruments, its order of preference."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Text
from onedatum.case.model.choosing import Criterion, OwnInstrument, OwnLimit
from onedatum.foundation.errors import Fault, OnedatumError, QuantityError
from onedatum.foundation.units import read_quantity
from onedatum.study.desk import Desk
from onedatum.verdicts.rules import (
    USUAL,
    Overridden,
    Override,
    RuleBase,
    quantity_of,
    rule_base,
    with_overrides,
)


@dataclass(frozen=True)
class Site:
    """The rules as the site has them, what it changed, and what it prefers."""

    base: RuleBase
    overridden: tuple[Overridden, ...]
    instruments: tuple[OwnInstrument, ...]
    criteria: tuple[str, ...]

    def touching(self, rule: str) -> tuple[Overridden, ...]:
        """The limits of a rule that the site sets otherwise."""
        return tuple(each for each in self.overridden if each.override.rule == rule)


def site_of(desk: Desk) -> Site:
    """Read what the case or the file beside it brings; what cannot be used is a fault at its place."""
    stated = desk.case.choosing
    desk.read.update(leaf.path for leaf in stated.leaves())
    base, told = rule_base(), list[Overridden]()
    for row in stated.limits.items:
        if not isinstance(row, OwnLimit):
            continue
        try:
            base, done = with_overrides(base, [_override(row)])
        except QuantityError as error:
            desk.faults.append(Fault(row.now.path, error.allowed, error.got, error.why, row.now.place, error.remedy))
        except OnedatumError as error:
            desk.faults.append(_fault(row.rule, str(error)))
        else:
            told.extend(done)
    instruments = tuple(row for row in stated.instruments.items if isinstance(row, OwnInstrument))
    return Site(base, tuple(told), instruments, tuple(_criteria(desk)) or USUAL)


def _override(row: OwnLimit) -> Override:
    quantity = quantity_of(row.quantity.text)
    was, now = (read_quantity(leaf.text, quantity.dimension) for leaf in (row.was, row.now))
    return Override(row.rule.text, quantity.name, was, now, row.now.text, row.said_by.text, row.reason.text)


def _fault(leaf: Text, why: str) -> Fault:
    return Fault(leaf.path, "a limit of the rules, set otherwise", leaf.text or "nothing", why, leaf.place)


def _criteria(desk: Desk) -> Iterator[str]:
    for row in desk.case.choosing.criteria.items:
        if isinstance(row, Criterion) and row.criterion.word:
            yield row.criterion.word
