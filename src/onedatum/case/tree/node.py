"""The tree of a file: leaves, branches and rows, each knowing its path and its place. All values are text."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from onedatum.foundation.errors import Fault, Place

_PLAIN_KEY = re.compile(r'[^.\[\]"]+')
_STEP = re.compile(r'\.?(?:"((?:[^"\\]|\\.)*)"|\[(\d+)\]|([^.\[\]"]+))')


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


def join_key(path: str, key: str) -> str:
    """The path of a key below another path: `loop` and `cable` give `loop.cable`."""
    if not _PLAIN_KEY.fullmatch(key):
        key = '"' + key.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return f"{path}.{key}" if path else key


def join_index(path: str, index: int) -> str:
    """The path of a value in a row: `states` and 2 give `states[2]`."""
    return f"{path}[{index}]"


def node_at(tree: Tree, path: str) -> Node | None:
    """The node at a path, or None where nothing stands there; "" is the root."""
    node: Node = tree.root
    at = 0
    while at < len(path):
        step = _STEP.match(path, at)
        if step is None:
            return None
        below = _below(node, step)
        if below is None:
            return None
        node, at = below, step.end()
    return node


def _below(node: Node, step: re.Match[str]) -> Node | None:
    if step[2] is not None:
        index = int(step[2]) if len(step[2]) < 9 else -1
        return node.items[index] if isinstance(node, Row) and 0 <= index < len(node.items) else None
    key = step[3] if step[1] is None else re.sub(r"\\(.)", r"\1", step[1])
    return node.items.get(key) if isinstance(node, Branch) else None
