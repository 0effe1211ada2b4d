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

    A path that names no value of a case, or a list that ends before it, is told as a fault; an item one behind the last
    of a list is a new one. Raises nothing.
    """
    tree, faults = tree_tried(text, file_name, changes)
    found = read_case_tree(tree, folder)
    return replace(found, faults=(*faults, *found.faults)) if faults else found


def tree_tried(text: str, file_name: str, changes: Mapping[str, str | None]) -> tuple[Tree, list[Fault]]:
    """The tree of a case text with what is tried on it, and what of that names no place in it."""
    tree = _tree(text, file_name)
    faults: list[Fault] = []
    for path, stated in changes.items():
        try:
            tree = _with(tree, target_of(path), (stated or "").strip())
        except Refusal as refusal:
            faults.append(refusal.fault)
    return tree, faults


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
        row = node if isinstance(node, Row) else Row([], place, path)
        if step > len(row.items):
            raise Refusal(Fault(target.path, "an item that stands in the list, or the next", f"number {step}"))
        old = row.items[step] if step < len(row.items) else None
        put = _put(old, target, at + 1, join_index(path, step), stated)
        return replace(row, items=[*row.items[:step], put, *row.items[step + 1 :]])
    branch = node if isinstance(node, Branch) else Branch({}, place, path)
    below = branch.items.get(step)
    return replace(branch, items={**branch.items, step: _put(below, target, at + 1, join_key(path, step), stated)})


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
