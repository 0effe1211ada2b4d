"""What the site sets: the rules with its own limits, its instruments, its order of preference."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from onedatum.case.leaf import Text
from onedatum.case.model.choosing import Criterion, OwnChoice, OwnInstrument, OwnLimit
from onedatum.foundation.errors import Fault, OnedatumError, Place, QuantityError
from onedatum.foundation.units import read_quantity, show
from onedatum.study.desk import Desk
from onedatum.verdicts.rules import (
    USUAL,
    Overridden,
    Override,
    OverrideError,
    Quantity,
    RuleBase,
    quantity_of,
    rule_base,
    with_overrides,
)
from onedatum.verdicts.rules.sweep import limits
from onedatum.verdicts.rules.words import number_words


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


class Limits(NamedTuple):
    """The rules with the limits of the site, what each did, and what is wrong with those that cannot be."""

    base: RuleBase
    overridden: tuple[Overridden, ...]
    faults: tuple[Fault, ...]


def site_of(desk: Desk) -> Site:
    """Read what the case or the file beside it brings; what cannot be used is a fault at its place."""
    stated = desk.case.choosing
    desk.read.update(leaf.path for leaf in stated.leaves())
    read = site_limits(stated)
    desk.faults.extend(read.faults)
    instruments = tuple(row for row in stated.instruments.items if isinstance(row, OwnInstrument))
    return Site(read.base, read.overridden, instruments, tuple(_criteria(desk)) or USUAL)


def site_limits(stated: OwnChoice) -> Limits:
    """Set the limits of the site in their order; one that cannot be is left as the rules have it."""
    base, told, faults = rule_base(), list[Overridden](), list[Fault]()
    for row in stated.limits.items:
        if not isinstance(row, OwnLimit) or any(leaf.state == "faulty" for leaf in row.leaves()):
            continue
        missing = tuple(_missing(row))
        faults.extend(missing)
        if missing or _place(row) is None:
            continue
        try:
            base, done = with_overrides(base, [_override(row)])
        except _Misread as error:
            faults.append(error.fault)
        except OverrideError as error:
            faults.append(_fault(row, error, base))
        else:
            told.extend(done)
    return Limits(base, tuple(told), tuple(faults))


# ---------------------------------------------------------------- one row


def _place(row: OwnLimit) -> Place | None:
    """Where the row stands: at the first of its keys; None of a row in which nothing stands, which its reader tells."""
    return min((leaf.place for leaf in row.leaves() if leaf.place is not None), default=None)


def _missing(row: OwnLimit) -> Iterator[Fault]:
    """What a limit cannot do without, at the row where it stands nowhere."""
    place = _place(row)
    for leaf, what in (
        (row.rule, "the name of a rule, for example magnetostrictive/viscosity"),
        (row.quantity, "the quantity that the rule limits, for example viscosity"),
        (row.was, "the limit as the rule has it, with its unit"),
        (row.now, "the limit of the site, with its unit"),
    ):
        if place is not None and not leaf.known:
            got = leaf.text or "nothing"
            yield Fault(leaf.path, what, got, "no limit can be set otherwise without it", leaf.place or place)


def _override(row: OwnLimit) -> Override:
    try:
        quantity = quantity_of(row.quantity.text)
    except OnedatumError as error:
        raise _Misread(row.quantity.fault("a quantity that the rules read", str(error))) from None
    if not quantity.numeric:
        why = f"{quantity.name} is told in words: only a number has a limit that can be set otherwise"
        raise _Misread(row.quantity.fault("a quantity that is a number", why))
    was, now = (_limit(leaf, quantity) for leaf in (row.was, row.now))
    said_by, reason = (leaf.text if leaf.known else "" for leaf in (row.said_by, row.reason))
    return Override(row.rule.text, quantity.name, was, now, row.now.text, said_by, reason)


ALLOWED = {
    "rule": "the name of a rule",
    "quantity": "a quantity that the rule limits",
    "was": "a limit that the rule has",
    "reason": "stated",
}
"""What each part of a limit may be, by its key."""


def _fault(row: OwnLimit, error: OverrideError, base: RuleBase) -> Fault:
    leaf: Text = {"rule": row.rule, "quantity": row.quantity, "was": row.was, "reason": row.reason}[error.part]
    remedy = ""
    if error.part == "was":
        marks = limits((base.by_name[row.rule.text],), row.quantity.text)
        remedy = f"It has: {', '.join(number_words(row.quantity.text, mark) for mark in marks)}"
    got = leaf.text or "nothing"
    return Fault(leaf.path, ALLOWED[error.part], got, str(error), leaf.place or _place(row), remedy)


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


def _criteria(desk: Desk) -> Iterator[str]:
    for row in desk.case.choosing.criteria.items:
        if isinstance(row, Criterion) and row.criterion.word:
            yield row.criterion.word
