"""Own data: a section kept in a file beside the case, taken in with ``{file: floats.yaml, entry: F-52}``.

The file is read by the same reader with the same limits; what the case states beside `file` and `entry` comes before
what the file holds. Every leaf keeps the place where it stands, so a fault points into the right file. A file that is
taken in refers to no further file: what a case rests on can be seen in the case.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from operator import is_
from pathlib import Path

from onedatum.case.reader import Notes
from onedatum.case.tree import Branch, Leaf, Node, Row, beside, join_index, join_key, read_tree
from onedatum.foundation.units import hint

KEYS = frozenset({"file", "entry"})
MOST = 50
"""References of one case; each may bring in a whole file."""


@dataclass
class OwnData:
    """Takes in the sections that a case keeps in files beside it."""

    folder: Path
    notes: Notes
    files: dict[str, str] = field(default_factory=dict)
    """Text of every file that was read, by name: part of what the study rests on."""
    _roots: dict[str, Branch | None] = field(default_factory=dict)
    """By name; None of a file that holds nothing but what was told of it."""
    _taken: int = 0

    def taken_in(self, node: Node) -> Node:
        """The node with every reference to a file replaced by what stands there."""
        if isinstance(node, Row):
            taken = [self.taken_in(item) for item in node.items]
            return node if all(map(is_, taken, node.items)) else replace(node, items=taken)
        if not isinstance(node, Branch):
            return node
        if set(node.items) >= KEYS:
            return self._joined(node)
        parts = {key: self.taken_in(item) for key, item in node.items.items()}
        return node if all(map(is_, parts.values(), node.items.values())) else replace(node, items=parts)

    def _joined(self, node: Branch) -> Branch:
        stated = {key: self.taken_in(item) for key, item in node.items.items() if key not in KEYS}
        kept = self._entry(node)
        if kept is None:
            return replace(node, items=stated)
        moved = self._without_references(_moved(kept, node.path))
        return replace(node, items={**moved.items, **stated}, key_places={**moved.key_places, **node.key_places})

    def _without_references(self, node: Branch) -> Branch:
        """What was taken in, without references of its own: a file that led to itself would never end."""
        refers = set(node.items) >= KEYS
        if refers:
            self.notes.fault(node.items["file"], "left away in a file that is taken in", "a further file")
        items: dict[str, Node] = {}
        for key, item in node.items.items():
            if not (refers and key in KEYS):
                items[key] = self._without_references(item) if isinstance(item, Branch) else item
        return replace(node, items=items)

    def _entry(self, node: Branch) -> Branch | None:
        file, entry = node.items["file"], node.items["entry"]
        self._taken += 1
        if self._taken > MOST:
            self.notes.fault(node, f"one of at most {MOST} sections kept in files", "one more")
            return None
        if not isinstance(file, Leaf) or not isinstance(entry, Leaf):
            self.notes.fault(node, "a file beside the case and an entry in it", "a list or a mapping")
            return None
        root = self._root(file)
        if root is None:
            return None
        found = root.items.get(entry.text)
        if not isinstance(found, Branch):
            remedy = hint(entry.text, root.items, f"There: {', '.join(root.items) or 'nothing'}")
            self.notes.fault(entry, f"an entry of {file.text}", repr(entry.text), remedy=remedy)
            return None
        return found

    def _root(self, file: Leaf) -> Branch | None:
        name = file.text
        if name not in self._roots:
            path = beside(self.folder, name)
            if path is None:
                self.notes.fault(
                    file, "the name of a file beside the case", repr(name), "no path leads out of its folder"
                )
                return None
            tree = read_tree(path)
            for fault in tree.faults:
                self.notes.tell(fault if fault.place else replace(fault, place=file.place))
            self._roots[name] = tree.root if tree.root.items or not tree.faults else None
            self.files[name] = tree.text
        return self._roots[name]


def _moved(node: Branch, path: str) -> Branch:
    """A branch as it would stand at another path; places stay."""
    items = {key: _at(item, join_key(path, key)) for key, item in node.items.items()}
    return replace(node, path=path, items=items)


def _at(node: Node, path: str) -> Node:
    if isinstance(node, Branch):
        return _moved(node, path)
    if isinstance(node, Row):
        return replace(node, path=path, items=[_at(item, join_index(path, i)) for i, item in enumerate(node.items)])
    return replace(node, path=path)
