"""The verdicts on the principles as plain data: matrix, ranking, questions, what would turn them."""

from __future__ import annotations

from math import isfinite
from typing import Any

from onedatum.foundation.units import dimension
from onedatum.foundation.working import suffix_of_unit
from onedatum.study.choosing.chapter import Choosing
from onedatum.study.result import Study
from onedatum.verdicts.rules import (
    Change,
    Fact,
    Flip,
    Judgement,
    Overridden,
    PrincipleVerdict,
    Question,
    quantities,
)
from onedatum.verdicts.rules.predicate import Atom
from onedatum.verdicts.rules.words import flip_words, limit_words, quantity_title, spelled


def choosing_json(study: Study) -> dict[str, Any] | None:
    """All of it; None where no principle was judged."""
    choosing = study.choosing
    if choosing is None:
        return None
    return {
        "stated": choosing.stated or None,
        "states": [facts.state for facts in choosing.matrix.states],
        "principles": [principle_json(study, choosing, name) for name in choosing.verdicts],
        "ranking": [
            {"rank": place.rank, "principle": place.verdict.principle, "reason": place.reason}
            for place in choosing.ranking
        ],
        "questions": [_question(question) for question in choosing.questions],
        "limits_of_the_site": [_override(done) for done in choosing.site.overridden],
    }


def principle_json(study: Study, choosing: Choosing, name: str) -> dict[str, Any]:
    """The verdict on one principle with every judgement, what would turn it, and how the order stands."""
    verdict, flip = choosing.verdicts[name], choosing.flips[name]
    return {
        "principle": name,
        "verdict": verdict.verdict.value,
        "order_requirements_only": verdict.order_only,
        "order": study.order,
        "blocking": study.blocking,
        "can_be_ordered_now": study.can_be_ordered(name),
        "blocks_the_order": [each.rule.name for each in choosing.blocking_of(name)],
        "build": dict(verdict.build),
        "rules": [_judgement(choosing, each) for each in verdict.judgements],
        "no_influence": [each.condition for each in choosing.matrix.base.without_influence if each.principle == name],
        "requirements": _requirements(verdict),
        "questions": list(verdict.questions),
        "told_beside": [_judgement(choosing, each) for each in choosing.matrix.told(name)],
        "flip": None if flip is None else _flip(choosing, flip),
    }


def _judgement(choosing: Choosing, each: Judgement) -> dict[str, Any]:
    rule = each.rule
    return {
        "rule": rule.name,
        "condition": rule.condition or None,
        "effect": rule.effect,
        "verdict": each.verdict.value,
        "state": each.state or None,
        "because": [_compared(atom, fact) for atom, fact in each.because],
        "action": rule.action if each.conditional else None,
        "requires": [spelled(part) for part in each.requires],
        "asks": list(each.asks),
        "reason": rule.reason,
        "sources": list(rule.sources),
        "limits_of_the_site": [done.override.quantity for done in choosing.site.touching(rule.name)],
    }


def _compared(atom: Atom, fact: Fact) -> dict[str, Any]:
    told = {"quantity": atom.name, "title": quantity_title(atom.name), **_fact(atom.name, fact)}
    if atom.limit is None:
        return told | {"sign": atom.sign, "words": list(atom.words)}
    number = {_key("limit", atom.name): atom.limit.number}
    return told | {"sign": atom.sign, **number, "limit_in_words": limit_words(atom)}


def _fact(name: str, fact: Fact) -> dict[str, Any]:
    """What is known; a number in SI, under a key that ends in its unit."""
    told: dict[str, Any] = {
        "known": fact.known,
        "assumed": fact.assumed,
        "text": fact.text,
        "entry": fact.entry or None,
    }
    if not fact.known:
        return told | {"knowledge": fact.knowledge.value, "waits_for": list(fact.waits_for)}
    if not quantities()[name].numeric:
        return told | {"word": fact.word}
    numbers = {_key("low", name): fact.low, _key("high", name): fact.high}
    if fact.half and isfinite(fact.half):
        numbers[_key("expanded_uncertainty", name)] = fact.half
    return told | numbers


def _key(word: str, name: str) -> str:
    suffix = suffix_of_unit(dimension(quantities()[name].dimension).si)
    return f"{word}_{suffix}" if suffix else word


def _requirements(verdict: PrincipleVerdict) -> list[dict[str, Any]]:
    return [
        {"demand": spelled(each.demand), "rule": each.rule.name if each.rule is not None else None}
        for each in verdict.requirements
    ]


def _question(question: Question) -> dict[str, Any]:
    quantity = quantities()[question.name]
    return {
        "quantity": question.name,
        "question": quantity.title,
        "knows": quantity.knows,
        "unit": quantity.unit or None,
        "words": list(quantity.words),
        "decides": [{"principle": principle, "rule": rule} for principle, rule in question.decides],
    }


def _flip(choosing: Choosing, flip: Flip) -> dict[str, Any]:
    return {
        "turns_to": flip.turns_to.value,
        "in_words": flip_words(flip, choosing.matrix.base.rules),
        "changes": [_change(change) for change in flip.changes],
    }


def _change(change: Change) -> dict[str, Any]:
    return {
        "quantity": change.name,
        "size": change.size,
        "was": _fact(change.name, change.was),
        "to": _fact(change.name, change.to),
    }


def _override(done: Overridden) -> dict[str, Any]:
    each = done.override
    return {
        "rule": each.rule,
        "quantity": each.quantity,
        _key("was", each.quantity): each.was,
        _key("now", each.quantity): each.now,
        "text": each.text,
        "said_by": each.said_by,
        "reason": each.reason,
        "looser": done.looser,
        "of_a_published_document": done.of_standard,
    }
