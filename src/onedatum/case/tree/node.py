"""The tree of a file: leaves, branches and rows, each knowing its path and its place. All values are text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256

from onedatum.foundation.errors import Fault, Place

_PLAIN_KEY = re.compile(r'[^.\[\]"]+')
_STEP = re.compile(r'\.?(?:"((?:[^"\\]|\\.)*)"|\[(\d{1,8})\]|([^.\[\]"]+))')

Step = str | int
"""One step of a path: a key, or the number of an item."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """One value as it was written; "" where nothing is stated (nothing written, `null` or `~`)."""

    text: str
    place: Place
    path: str
    quoted: bool = False
    faulty: bool = False
    """Its fault is already told; it counts as unknown."""


@dataclass(frozen=True, slots=True)
class Branch:
    """Keys with their values, in the order of the file."""

    items: dict[str, Node]
    place: Place
    path: str
    key_places: dict[str, Place] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Row:
    """Values in order, counted from 0 in paths."""

    items: list[Node]
    place: Place
    path: str


Node = Leaf | Branch | Row


@dataclass(frozen=True, slots=True)
class Tree:
    """What a file states, and what is wrong with the file itself."""

    root: Branch
    faults: tuple[Fault, ...]
    file: str
    text: str
    """The file as read; "" where it could not be."""
    broken: bool = False
    """Reading broke off: what the root does not hold may stand in the file all the same."""

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong with the file itself."""
        return not self.faults

    def content_hash(self, beside: Mapping[str, str] | None = None) -> str:
        """SHA-256 of the text, and of the contents of files that it names, by their names."""
        digest = sha256(self.text.encode("utf-8", "surrogatepass"))
        for name, content in sorted((beside or {}).items()):
            digest.update(f"\0{name}\0{content}".encode("utf-8", "surrogatepass"))
        return digest.hexdigest()


def lower(branch: Branch, lines: int) -> Branch:
    """The branch as it is with so many more lines above it."""
    keys = {key: _further_down(at, lines) for key, at in branch.key_places.items()}
    items = {key: _lower(item, lines) for key, item in branch.items.items()}
    return Branch(items, _further_down(branch.place, lines), branch.path, keys)


def _lower(node: Node, lines: int) -> Node:
    if isinstance(node, Branch):
        return lower(node, lines)
    place = _further_down(node.place, lines)
    if isinstance(node, Row):
        return Row([_lower(item, lines) for item in node.items], place, node.path)
    return Leaf(node.text, place, node.path, node.quoted, node.faulty)


def _further_down(place: Place, lines: int) -> Place:
    return Place(place.file, place.line + lines, place.column)


def join_key(path: str, key: str) -> str:
    """The path of a key below another path: `loop` and `cable` give `loop.cable`."""
    if not _PLAIN_KEY.fullmatch(key):
        key = '"' + key.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return f"{path}.{key}" if path else key


def join_index(path: str, index: int) -> str:
    """The path of a value in a row: `states` and 2 give `states[2]`."""
    return f"{path}[{index}]"


def steps_of(path: str) -> tuple[tuple[Step, ...], str]:
    """The steps of a path, and what is left of it from the first place that is none: "" for a whole path."""
    steps: list[Step] = []
    at = 0
    while at < len(path):
        found = _STEP.match(path, at)
        if found is None:
            break
        if found[2] is not None:
            steps.append(int(found[2]))
        else:
            steps.append(found[3] if found[1] is None else re.sub(r"\\(.)", r"\1", found[1]))
        at = found.end()
    return tuple(steps), path[at:]


def node_at(tree: Tree, path: str) -> Node | None:
    """The node at a path, or None where nothing stands there; "" is the root."""
    steps, rest = steps_of(path)
    node: Node | None = None if rest else tree.root
    for step in steps:
        node = None if node is None else _below(node, step)
    return node


def _below(node: Node, step: Step) -> Node | None:
    if isinstance(step, int):
        return node.items[step] if isinstance(node, Row) and step < len(node.items) else None
    return node.items.get(step) if isinstance(node, Branch) else None
