"""Limits that a site sets otherwise: shown in every verdict they touch; looser than a standard only with a reason."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import isclose

from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import hint
from onedatum.verdicts.rules.base import Rule, RuleBase
from onedatum.verdicts.rules.judge import judged
from onedatum.verdicts.rules.predicate import Atom, Join, Limit, Predicate
from onedatum.verdicts.rules.sweep import answers, limits

OWN = frozenset({"common practice, no source", "derived and checked"})
"""Tags of sources that are no standard's."""
NEAR = 1e-9


@dataclass(frozen=True)
class Override:
    """One limit of one rule, set otherwise by the site."""

    rule: str
    quantity: str
    was: float
    now: float
    text: str
    """As the site writes the new limit."""
    said_by: str = ""
    reason: str = ""


@dataclass(frozen=True)
class Overridden:
    """What an override did."""

    override: Override
    looser: bool
    """Whether the rule now lets pass what it did not."""
    of_standard: bool
    """Whether the limit it replaces rests on a published document."""

    @property
    def first_page(self) -> bool:
        """Whether it must stand on the first page."""
        return self.looser and self.of_standard


class OverrideError(OnedatumError):
    """A limit that cannot be set otherwise so; `part` names what of it is wrong: rule, quantity, was or reason."""

    def __init__(self, part: str, why: str) -> None:
        super().__init__(why)
        self.part = part


def with_overrides(base: RuleBase, overrides: Sequence[Override]) -> tuple[RuleBase, tuple[Overridden, ...]]:
    """The rules with the limits of the site, and what each of them did; errors name rule and remedy."""
    told: list[Overridden] = []
    for override in overrides:
        rule = _rule(base, override)
        new = _replaced(rule, override)
        done = Overridden(override, _looser(rule, new), _of_standard(rule))
        if done.first_page and not override.reason.strip():
            raise OverrideError(
                "reason",
                f"the limit of {override.quantity} in {override.rule} rests on a published document: "
                "setting it less safe needs a reason",
            )
        base = base.with_rules([new])
        told.append(done)
    return base, tuple(told)


def _rule(base: RuleBase, override: Override) -> Rule:
    rule = base.by_name.get(override.rule)
    if rule is None:
        raise OverrideError(
            "rule", f"no rule is called {override.rule!r}. {hint(override.rule, base.by_name)}".rstrip()
        )
    if override.quantity not in rule.names:
        near = hint(override.quantity, rule.names)
        raise OverrideError("quantity", f"{override.rule} does not read {override.quantity!r}. {near}".rstrip())
    marks = limits((rule,), override.quantity)
    if not any(_meant(mark, override) for mark in marks):
        raise OverrideError("was", f"{override.rule} sets no such limit for {override.quantity}")
    return rule


def _replaced(rule: Rule, override: Override) -> Rule:
    def moved(predicate: Predicate) -> Predicate:
        if isinstance(predicate, Join):
            return Join(predicate.word, tuple(moved(part) for part in predicate.parts))
        return _moved(predicate, override)

    return replace(
        rule,
        suits=moved(rule.suits),
        on_conditions=moved(rule.on_conditions),
        does_not_suit=moved(rule.does_not_suit),
    )


def _moved(atom: Atom, override: Override) -> Atom:
    limit = atom.limit
    if limit is None or atom.name != override.quantity or not _meant(limit.number, override):
        return atom
    return replace(atom, limit=Limit(override.now, limit.unit, override.text))


def _meant(limit: float, override: Override) -> bool:
    """Whether a limit is the one that the site sets otherwise."""
    return isclose(limit, override.was, rel_tol=NEAR, abs_tol=1e-15)


def _of_standard(rule: Rule) -> bool:
    return any(citation(source).source.tag not in OWN for source in rule.sources)


def _looser(old: Rule, new: Rule) -> bool:
    """Whether any answers are judged better than before."""
    for chosen in product(*(answers((old, new), name) for name in old.names)):
        facts = dict(zip(old.names, chosen, strict=True))
        if judged(new, facts).verdict.gravity < judged(old, facts).verdict.gravity:
            return True
    return False
