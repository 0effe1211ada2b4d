"""A case with values tried on it that stand in no file: the tree of the file with other leaves, read as any other.

What is typed is read this way at every keystroke, so the text of the file is not made anew and not parsed again; what
is kept goes through `case/edit.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from onedatum.case.editing.target import Refusal, Target, target_of
from onedatum.case.reading import Statement, read_case_tree
from onedatum.case.tree import Branch, Leaf, Node, Row, Tree, join_index, join_key, parse_text
from onedatum.foundation.errors import Fault, Place


def read_tried(text: str, file_name: str, folder: Path, changes: Mapping[str, str | None]) -> Statement:
    """The statement of a case text with each path of `changes` put to its text; None or "" makes a value unknown.

    A path that names no value of a case, or a list that ends before it, is told as a fault. Raises nothing.
    """
    tree = _tree(text, file_name)
    faults: list[Fault] = []
    for path, stated in changes.items():
        try:
            tree = _with(tree, target_of(path), (stated or "").strip())
        except Refusal as refusal:
            faults.append(refusal.fault)
    found = read_case_tree(tree, folder)
    return replace(found, faults=(*faults, *found.faults)) if faults else found


@lru_cache(maxsize=16)
def _tree(text: str, file_name: str) -> Tree:
    return parse_text(text, file_name)


def _with(tree: Tree, target: Target, stated: str) -> Tree:
    root = _put(tree.root, target, 0, "", stated)
    if not isinstance(root, Branch):
        raise Refusal(Fault(target.path, "a value of a case", repr(stated)))
    return replace(tree, root=root)


def _put(node: Node | None, target: Target, at: int, path: str, stated: str) -> Node:
    """The node with the text of a target put below it; a section on the way that says nothing becomes one."""
    place = node.place if node is not None else Place("what is typed", 1, 1)
    if at == len(target.steps):
        return _leaf(node, target, place, stated)
    step = target.steps[at]
    if isinstance(step, int):
        return _put_item(node, target, at, path, stated)
    branch = node if isinstance(node, Branch) else Branch({}, place, path)
    below = branch.items.get(step)
    return replace(branch, items={**branch.items, step: _put(below, target, at + 1, join_key(path, step), stated)})


def _put_item(node: Node | None, target: Target, at: int, path: str, stated: str) -> Node:
    """The list with the text put into one of its items, or into a new one behind the last."""
    place = node.place if node is not None else Place("what is typed", 1, 1)
    row = node if isinstance(node, Row) else Row([], place, path)
    step = int(target.steps[at])
    items: list[Node | None] = [*row.items, None]
    if step >= len(items):
        raise Refusal(Fault(target.path, "an item that stands in the list, or the next", f"number {step}"))
    items[step] = _put(items[step], target, at + 1, join_index(path, step), stated)
    return replace(row, items=[item for item in items if item is not None])


def _leaf(node: Node | None, target: Target, place: Place, stated: str) -> Node:
    """A value with another text, or its part; what was assumed is stated now."""
    if target.kind is None or (not target.part and not isinstance(node, Branch)):
        return Leaf(stated, place, target.base)
    old = dict(node.items) if isinstance(node, Branch) else {}
    if isinstance(node, Leaf):
        old["value"] = node
    main = next((key for key in ("value", "normal") if key in old), "value")
    key = target.part or main
    if not target.part:
        old.pop("basis", None)
    return Branch({**old, key: Leaf(stated, place, join_key(target.base, key))}, place, target.base)
