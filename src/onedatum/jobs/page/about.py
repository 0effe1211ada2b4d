"""More about one value of the form: what stands beside it in its long form, what it may be, where else it is told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.asking import Ask
from onedatum.case.editing.target import Refusal, Target, target_of
from onedatum.case.form import FormField
from onedatum.case.kinds import Quantity
from onedatum.case.tree.node import Branch, Leaf, Node, Tree, node_at
from onedatum.case.trying import tree_tried
from onedatum.jobs.page.made import CaseText, Made

PART_LABELS = {
    "within": "within (any value as likely)",
    "min": "lowest",
    "max": "highest",
    "basis": "basis",
    "by": "by whom",
    "source": "source",
    "note": "note",
}
"""The parts of a long form that have a field, in this order; what else may stand there is kept as it is."""
BASES = ("stated", "assumed")


@dataclass(frozen=True)
class PartField:
    """One part of a long form."""

    path: str
    key: str
    label: str
    text: str
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class AboutView:
    """What is told of one value beside the value itself."""

    path: str
    parts: tuple[PartField, ...]
    allowed: str
    why: str
    units: tuple[str, ...]
    words: tuple[str, ...]
    """Words that may stand in place of a number."""
    place: str


def about_view(made: Made, field: FormField) -> AboutView | None:
    """More about the value of a field of the form; None where it has no long form."""
    try:
        target = target_of(field.path)
    except Refusal:
        return None
    if target.part or target.kind is None:
        return None
    tree, _ = tree_tried(made.case.text, f"{made.case.name}.yaml", dict(made.changes))
    node = node_at(tree, target.base)
    return AboutView(
        field.path,
        tuple(_parts(target, field.ask, node)),
        field.ask.allowed,
        field.ask.why,
        field.ask.units,
        field.ask.words if field.ask.form == "quantity" else (),
        str(field.place or ""),
    )


def part_text(case: CaseText, path: str) -> str | None:
    """What the file holds at a path that is no field of the form: a part, a value of an item that is not there yet.

    None where the path names nothing a case can hold.
    """
    try:
        target = target_of(path)
    except Refusal:
        return None
    if target.kind is None:
        return None
    tree: Tree = tree_tried(case.text, f"{case.name}.yaml", {})[0]
    node = node_at(tree, target.base)
    if target.part:
        node = node.items.get(target.part) if isinstance(node, Branch) else None
    return node.text.strip() if isinstance(node, Leaf) else ""


def _parts(target: Target, ask: Ask, node: Node | None) -> Iterator[PartField]:
    held = node.items if isinstance(node, Branch) else {}
    for key, label in PART_LABELS.items():
        if key in ("min", "max") and not ask.ranged:
            continue
        if key == "within" and not isinstance(target.kind, Quantity):
            continue
        text = held.get(key)
        said = text.text.strip() if isinstance(text, Leaf) else ""
        yield PartField(f"{target.base}.{key}", key, label, said, BASES if key == "basis" else ())
