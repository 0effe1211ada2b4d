"""What the site sets: the rules with its own limits, its instruments, its order of preference."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Text
from onedatum.case.model.choosing import Criterion, OwnInstrument, OwnLimit
from onedatum.foundation.errors import Fault, OnedatumError, QuantityError
from onedatum.foundation.units import read_quantity, show
from onedatum.study.desk import Desk
from onedatum.verdicts.rules import (
    USUAL,
    Overridden,
    Override,
    Quantity,
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
        except _Misread as error:
            desk.faults.append(error.fault)
        except OnedatumError as error:
            desk.faults.append(_fault(row.rule, str(error)))
        else:
            told.extend(done)
    instruments = tuple(row for row in stated.instruments.items if isinstance(row, OwnInstrument))
    return Site(base, tuple(told), instruments, tuple(_criteria(desk)) or USUAL)


def _override(row: OwnLimit) -> Override:
    quantity = quantity_of(row.quantity.text)
    if not quantity.numeric:
        raise OnedatumError(f"{quantity.name} is told in words: only a number has a limit that can be set otherwise")
    was, now = (_limit(leaf, quantity) for leaf in (row.was, row.now))
    return Override(row.rule.text, quantity.name, was, now, row.now.text, row.said_by.text, row.reason.text)


def _limit(leaf: Text, quantity: Quantity) -> float:
    try:
        limit = read_quantity(leaf.text, quantity.dimension)
    except QuantityError as error:
        raise _Misread(Fault(leaf.path, error.allowed, error.got, error.why, leaf.place, error.remedy)) from None
    if limit < quantity.least:
        least = show(quantity.least, quantity.unit)
        raise _Misread(Fault(leaf.path, f"{least} or more", leaf.text, "nothing smaller can be", leaf.place))
    return limit


class _Misread(OnedatumError):
    """A limit that is no number of its kind, with its place."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(str(fault))
        self.fault = fault


def _fault(leaf: Text, why: str) -> Fault:
    return Fault(leaf.path, "a limit of the rules, set otherwise", leaf.text or "nothing", why, leaf.place)


def _criteria(desk: Desk) -> Iterator[str]:
    for row in desk.case.choosing.criteria.items:
        if isinstance(row, Criterion) and row.criterion.word:
            yield row.criterion.word
