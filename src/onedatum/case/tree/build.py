"""The builder of trees: takes the events of a YAML parser one by one, keeps nodes and faults.

It holds its own stack, so depth costs no recursion, and a text that breaks off leaves what was built before.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from onedatum.case.tree.limits import MAX_DEPTH, MAX_FAULTS, MAX_KEY, MAX_NODES, MAX_TEXT
from onedatum.case.tree.node import Branch, Leaf, Node, Row, join_index, join_key
from onedatum.case.tree.source import HOLE, INVISIBLE
from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.units.grammar import quoted

if TYPE_CHECKING:
    from ruamel.yaml.events import Event, NodeEvent, ScalarEvent

_NOT_STATED = frozenset({"", "~", "null", "Null", "NULL"})


class Stop(Exception):
    """Nothing more of this file is worth reading; the fault is told."""


@dataclass(slots=True)
class _Open:
    """A branch or row that is being filled."""

    node: Branch | Row
    dropped: bool
    """Its content goes nowhere: it is a second value of one key, or stands where a key should."""
    is_key: bool = False
    key: str | None = None
    """The key that waits for its value."""
    drop_value: bool = False

    @property
    def wants_key(self) -> bool:
        return isinstance(self.node, Branch) and self.key is None


class Builder:
    """Builds one tree."""

    def __init__(self, file: str, faults: list[Fault]) -> None:
        self.file = file
        self.faults = list(faults)
        self.broken = False
        """Whether the text broke off."""
        self._open: list[_Open] = []
        self._root: Node | None = None
        self._documents = 0
        self.nodes = 0
        self._last_leaf: tuple[Branch | Row, str | int] | None = None
        self.last_place = Place(file, 1, 1)

    def finished_root(self) -> Branch:
        """The root as far as it was built; always a branch. A file without any content is a fault."""
        if not self._documents and not self.faults:
            self._tell_no_branch("nothing", Place(self.file, 1, 1))
        if isinstance(self._root, Branch):
            return self._root
        return Branch({}, Place(self.file, 1, 1), "")

    def break_off(self, fault: Fault) -> None:
        """The text ends in a syntax error: the leaf before it may be garbled, the key before it has no value."""
        self.broken = True
        self.faults.append(fault)
        if self._last_leaf is not None:
            holder, key = self._last_leaf
            _spoil(holder, key)
        here = self._open[-1] if self._open else None
        if here and here.key and isinstance(here.node, Branch) and not (here.dropped or here.drop_value):
            place = here.node.key_places[here.key]
            here.node.items[here.key] = Leaf("", place, join_key(here.node.path, here.key), faulty=True)

    def take(self, event: Event) -> None:
        """Take the next event."""
        from ruamel.yaml import events

        self.last_place = self._place(event)
        if isinstance(event, events.NodeEvent):
            self._node(event)
        elif isinstance(event, events.CollectionEndEvent):
            self._close()
        elif isinstance(event, events.DocumentStartEvent):
            self._document(event)

    def _document(self, event: Event) -> None:
        self._documents += 1
        place = self._place(event)
        if self._documents > 1:
            self._tell(self.file, "one document", "a second one", "One file is one case", place, "Delete from --- on")
            raise Stop
        if getattr(event, "version", None) or getattr(event, "tags", None):
            why = "A directive (a line that begins with %) is not read"
            self._tell(self.file, "YAML without directives", "a directive", why, place, "Delete that line")

    def _node(self, event: NodeEvent) -> None:
        from ruamel.yaml import events

        self._count(event)
        as_key = bool(self._open) and self._open[-1].wants_key
        path = self._path_here()
        clean = self._without_tricks(event, path)
        if isinstance(event, events.ScalarEvent) and as_key:
            self._key(event, clean)
        elif isinstance(event, (events.MappingStartEvent, events.SequenceStartEvent)):
            self._open_collection(event, path, as_key)
        elif as_key:
            self._expect_value(None)
        else:
            self._attach(self._leaf(event, path, clean))

    def _count(self, event: NodeEvent) -> None:
        self.nodes += 1
        if self.nodes > MAX_NODES:
            got = f"more than {MAX_NODES:,}"
            self._tell(
                self.file, f"at most {MAX_NODES:,} keys and values", got, "No case is so large", self._place(event)
            )
            raise Stop

    def _without_tricks(self, event: NodeEvent, path: str) -> bool:
        """Whether a node carries no tag, anchor or alias; tells it if it does."""
        from ruamel.yaml.events import AliasEvent

        place = self._place(event)
        if isinstance(event, AliasEvent):
            got, why = quoted(f"*{event.anchor}"), "Values are not shared by name"
            self._tell(path, "written out", got, why, place, "Write the value here again")
            return False
        if event.anchor is not None:
            got, why = quoted(f"&{event.anchor}"), "Values are not shared by name"
            self._tell(path, "written out", got, why, place, "Write the value without the anchor")
        tag = getattr(event, "tag", None)
        if tag is not None:
            written = str(tag).replace("tag:yaml.org,2002:", "!!")
            self._tell(path, "a value without a tag", quoted(written), "Tags are not read", place, "Delete the tag")
        return event.anchor is None and tag is None

    def _key(self, event: ScalarEvent, clean: bool) -> None:
        """A key: a short plain text that its branch does not hold yet."""
        branch = self._open[-1].node
        key, place = str(event.value), self._place(event)
        if not key or len(key) > MAX_KEY or not key.isprintable() or HOLE in key:
            allowed = f"a word of at most {MAX_KEY} characters"
            self._tell(self._path_here() or self.file, f"a key that is {allowed}", quoted(key), "", place)
            self._expect_value(None)
        elif isinstance(branch, Branch) and key in branch.key_places:
            first = branch.key_places[key]
            why = f"It stands first in line {first.line}, column {first.column}"
            remedy = "Keep one of the two"
            self._tell(join_key(branch.path, key), "stated once", "it a second time", why, place, remedy)
            self._expect_value(key)
        elif isinstance(branch, Branch):
            branch.key_places[key] = place
            self._open[-1].key = key
            self._open[-1].drop_value = not clean

    def _expect_value(self, key: str | None) -> None:
        """The next node is the value of a key that is of no use."""
        self._open[-1].key = "" if key is None else key
        self._open[-1].drop_value = True

    def _open_collection(self, event: NodeEvent, path: str, as_key: bool) -> None:
        from ruamel.yaml.events import MappingStartEvent

        place = self._place(event)
        if len(self._open) >= MAX_DEPTH:
            self._tell(path, f"at most {MAX_DEPTH} levels deep", "one more", "No case is so deep", place)
            raise Stop
        node: Branch | Row = Branch({}, place, path) if isinstance(event, MappingStartEvent) else Row([], place, path)
        if as_key:
            self._tell(path or self.file, "a key that is a word", "a list or a branch", "", place)
            self._open.append(_Open(node, dropped=True, is_key=True))
            return
        self._open.append(_Open(node, dropped=self._attach(node)))

    def _close(self) -> None:
        closed = self._open.pop()
        if closed.is_key:
            self._expect_value(None)

    def _leaf(self, event: NodeEvent, path: str, clean: bool) -> Leaf:
        place = self._place(event)
        text = str(getattr(event, "value", ""))
        is_quoted = getattr(event, "style", None) not in (None, "")
        if not is_quoted and text in _NOT_STATED:
            return Leaf("", place, path, faulty=not clean)
        if len(text) > MAX_TEXT:
            self._tell(path, f"at most {MAX_TEXT:,} characters", f"{len(text):,}", "", place)
            return Leaf("", place, path, is_quoted, faulty=True)
        if INVISIBLE.search(text):
            if HOLE not in text:
                why = "An escape in double quotes makes one"
                self._tell(path, "text without control characters", quoted(text), why, place, "Use 'single quotes'")
            return Leaf(text, place, path, is_quoted, faulty=True)
        return Leaf(text, place, path, is_quoted, faulty=not clean)

    def _attach(self, node: Node) -> bool:
        """Put a node where it belongs; whether it is dropped instead."""
        if not self._open:
            return self._attach_root(node)
        parent = self._open[-1]
        dropped = parent.dropped or parent.drop_value
        if isinstance(parent.node, Row):
            parent.node.items.append(node)
            self._last_leaf = (parent.node, len(parent.node.items) - 1)
        elif parent.key is not None:
            if not dropped:
                parent.node.items[parent.key] = node
                self._last_leaf = (parent.node, parent.key)
            parent.key, parent.drop_value = None, False
        return dropped

    def _attach_root(self, node: Node) -> bool:
        self._root = node
        if not isinstance(node, Branch):
            empty = isinstance(node, Leaf) and not node.text and not node.faulty
            got = "nothing" if empty else "a list" if isinstance(node, Row) else "a single value"
            self._tell_no_branch(got, node.place)
        return False

    def _tell_no_branch(self, got: str, place: Place) -> None:
        remedy = "Write key: value lines, the first of them onedatum: 1"
        self._tell(self.file, "keys with values", got, "", place, remedy)

    def _path_here(self) -> str:
        """The path of the node that comes next."""
        if not self._open:
            return ""
        here = self._open[-1]
        if isinstance(here.node, Row):
            return join_index(here.node.path, len(here.node.items))
        return join_key(here.node.path, here.key) if here.key else here.node.path

    def _place(self, event: Event) -> Place:
        mark = event.start_mark
        return Place(self.file, mark.line + 1, mark.column + 1)

    def _tell(self, path: str, allowed: str, got: str, why: str, place: Place, remedy: str = "") -> None:
        self.faults.append(Fault(path or self.file, allowed, got, why, place, remedy))
        if len(self.faults) >= MAX_FAULTS:
            raise Stop


def _spoil(holder: Branch | Row, key: str | int) -> None:
    """Mark the leaf under a key or index as faulty."""
    items: Any = holder.items
    if isinstance(items[key], Leaf):
        items[key] = replace(items[key], faulty=True)
