"""Changing values in the text of a case, at their places: comments, order, quotes and blank lines stay as they are.

A change puts a text as the value of a path. Where the value stands in a long form, only `value` changes and what stands
beside it stays; a value that was assumed becomes stated, since a person now says it. A text that stands there already
changes nothing, so a form may send every field it has; an assumption is confirmed by the path of its `basis`. None or
"" takes a value away: it becomes `unknown`. A section written `none` or `unknown` becomes a mapping of the values
given: the others of it are then unknown. A section kept in a file beside the case is not looked into: the value goes
into the case, beside `file`, and comes before what the file says of it, with all that stands beside it there.

Every edit is read again before it is given back: the value must be what was put in, all else as it was. A change that
cannot be made so, or that its kind refuses, is left out and told as a fault; the other changes are made.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from onedatum.case.editing.splice import Ground, Plan, plan
from onedatum.case.editing.target import MAIN_KEYS, Refusal, Target, target_of
from onedatum.case.reader import Notes
from onedatum.case.tree.limits import MAX_TEXT
from onedatum.case.tree.node import Branch, Leaf, Node, Row, Tree, node_at
from onedatum.case.tree.parse import parse_traced
from onedatum.case.tree.source import INVISIBLE
from onedatum.case.tree.spots import comments_of
from onedatum.foundation.errors import Fault
from onedatum.foundation.units.grammar import quoted

MARK = "\ufeff"
"""A byte order mark at the start of a text; it stays."""


@dataclass(frozen=True)
class Edited:
    """The text with the changes that could be made, and why the others were not."""

    text: str
    faults: tuple[Fault, ...] = ()


def edited(text: str, changes: Mapping[str, str | None], file_name: str = "<text>") -> Edited:
    """The text of a case with each path of `changes` put to its text; None or "" takes a value away.

    Paths are those of the model: `vessel.inside_diameter`, `states[1].pressure`, `range.4 mA`; a part of a long form is
    a step further: `medium.strength.at`, `level_now.within`, `medium.viscosity.basis`. Changes to one value and its
    parts are made together or not at all. An item one behind the last of a list is a new one. Raises nothing.
    """
    mark = MARK if text.startswith(MARK) else ""
    faults: list[Fault] = []
    body = text.removeprefix(MARK)
    for group in _by_leaf(changes, faults):
        try:
            body = _with_group(body, group, file_name)
        except Refusal as refusal:
            faults.append(refusal.fault)
    return Edited(mark + body, tuple(dict.fromkeys(faults)))


Group = list[tuple[Target, str | None]]


def _by_leaf(changes: Mapping[str, str | None], faults: list[Fault]) -> Iterator[Group]:
    """The changes by the leaf they belong to, the value before its parts; what cannot be taken is noted."""
    groups: dict[str, Group] = {}
    for path, text in changes.items():
        try:
            target = target_of(path)
            groups.setdefault(target.base, []).append((target, _fit(target, text)))
        except Refusal as refusal:
            faults.append(refusal.fault)
            groups.setdefault(path, [])
    for group in groups.values():
        yield sorted(group, key=lambda change: change[0].part != "")


def _fit(target: Target, text: str | None) -> str | None:
    """The text as it can be written on one line; None for nothing."""
    fit = (text or "").strip()
    if target.words and fit and fit not in target.words:
        raise Refusal(Fault(target.path, f"one of: {'; '.join(target.words)}", quoted(fit), "It names a whole section"))
    if len(fit) > MAX_TEXT:
        raise Refusal(Fault(target.path, f"at most {MAX_TEXT:,} characters", f"{len(fit):,}"))
    if INVISIBLE.search(fit) or any(sign in fit for sign in "\t\n\r"):
        why = "A value is one line of text"
        raise Refusal(Fault(target.path, "without line breaks, tabs and control characters", quoted(fit), why))
    return fit or None


def _with_group(text: str, group: Group, file_name: str) -> str:
    """The text with the changes to one leaf; raises Refusal where one of them cannot be made."""
    first = _ground(text, file_name)
    ground = first
    for target, wanted in group:
        for _ in range(2):
            if _stands(ground.tree, target) == wanted:
                break
            made = plan(ground, target, wanted)
            if not made.splices:
                break
            ground = _made(ground, made, target, wanted)
            if not made.half:
                break
    if ground is not first:
        _refuse_unread(first, ground, group)
    return ground.text


def _ground(text: str, file_name: str) -> Ground:
    traced = parse_traced(text, file_name)
    root = traced.root
    if root is None or root.form != "branch":
        got = "one that breaks off" if traced.tree.broken else "one without keys"
        whole = Fault(file_name, "a file of keys with values that can be read to its end", got)
        raise Refusal(next(iter(traced.tree.faults), whole))
    return Ground(text, traced.tree, root)


def _made(ground: Ground, made: Plan, target: Target, wanted: str | None) -> Ground:
    """The text with a plan carried out; raises Refusal unless it reads as meant and nothing else has changed."""
    try:
        after = _ground(made.applied(ground.text), ground.tree.file)
    except Refusal as refusal:
        raise _not_as_meant(ground, target, wanted, refusal.fault.sentence()) from None
    new_faults = {_told(fault) for fault in after.tree.faults} - {_told(fault) for fault in ground.tree.faults}
    if new_faults:
        raise _not_as_meant(ground, target, wanted, "The file could not be read as before")
    if _others(ground.tree, made) != _others(after.tree, made):
        raise _not_as_meant(ground, target, wanted, "Another value would change")
    if comments_of(ground.root, ground.text) != comments_of(after.root, after.text):
        raise _not_as_meant(ground, target, wanted, "A comment would be lost")
    if not made.half and not _reads_as(after.tree, target, wanted):
        raise _not_as_meant(ground, target, wanted, "It would not read as it is meant")
    return after


def _not_as_meant(ground: Ground, target: Target, wanted: str | None, why: str) -> Refusal:
    node = node_at(ground.tree, target.base)
    place = node.place if node is not None else None
    got = quoted(wanted) if wanted is not None else "nothing"
    return Refusal(
        Fault(
            target.path, "stated where it can be put in its place", got, why, place, "Change it in the file of the case"
        )
    )


def _told(fault: Fault) -> tuple[str, str, str]:
    return fault.path, fault.allowed, fault.got


def _others(tree: Tree, made: Plan) -> dict[str, tuple[str, bool]]:
    """Every leaf that a plan must leave as it is."""
    return {
        leaf.path: (leaf.text.strip(), leaf.faulty)
        for leaf in _leaves(tree.root)
        if leaf.path not in made.touched and not _beneath(leaf.path, made.beneath)
    }


def _beneath(path: str, above: str) -> bool:
    return bool(above) and path.startswith(above) and path[len(above) : len(above) + 1] in (".", "[")


def _leaves(node: Node) -> Iterator[Leaf]:
    if isinstance(node, Leaf):
        yield node
    elif isinstance(node, Row):
        for item in node.items:
            yield from _leaves(item)
    else:
        for item in node.items.values():
            yield from _leaves(item)


def _stands(tree: Tree, target: Target) -> str | None:
    """The text that stands for a target; None where nothing stands."""
    node = node_at(tree, target.base)
    if target.part:
        node = node.items.get(target.part) if isinstance(node, Branch) else None
    if isinstance(node, Branch) and target.kind is not None:
        node = next((node.items[key] for key in MAIN_KEYS if key in node.items), None)
    return node.text.strip() or None if isinstance(node, Leaf) and not node.faulty else None


def _reads_as(tree: Tree, target: Target, wanted: str | None) -> bool:
    """Whether what stands for a target says what was wanted; nothing is as good as its word."""
    nothing = "stated" if target.part == "basis" else "unknown"
    return (_stands(tree, target) or nothing) == (wanted or nothing)


def _refuse_unread(before: Ground, after: Ground, group: Group) -> None:
    """Refuse what the kind of the leaf does not take; what was wrong with it before may stay wrong."""
    target = group[0][0]
    if target.kind is None:
        return
    told: list[set[tuple[str, str, str]]] = []
    found: list[Fault] = []
    for ground in (before, after):
        notes = Notes()
        node = node_at(ground.tree, target.base)
        if node is not None:
            target.kind.read(node, notes)
        found = notes.faults
        told.append({_told(fault) for fault in found})
    fresh = [fault for fault in found if _told(fault) not in told[0]]
    if fresh:
        raise Refusal(fresh[0])
