"""Opening a node of the case tree: the plain form and the long form of a statement, and notes of what is wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from onedatum.case.tree import Branch, Leaf, Node, join_key
from onedatum.case.tree.limits import MAX_FAULTS
from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.units import hint
from onedatum.foundation.working import State

BASIS_KEYS = ("basis", "by", "note", "source")
FILE_KEYS = ("file", "entry")
FROM_FILE = "a section kept in a file beside the case is named by both: {file: site.yaml, entry: plant}"


@dataclass(frozen=True)
class Absent:
    """Stands where nothing was written."""

    path: str


@dataclass
class Notes:
    """Faults found while a case is read, each once and no more than people can use."""

    faults: list[Fault] = field(default_factory=list)
    count: int = 0
    """How often something was wrong, told or not: whoever reads a leaf sees by it whether the leaf is faulty."""

    def fault(self, node: Node, allowed: str, got: str, why: str = "", remedy: str = "", path: str = "") -> None:
        """Note what is wrong at a node."""
        self.tell(Fault(path or node.path, allowed, got, why, node.place, remedy))

    def tell(self, fault: Fault) -> None:
        """Note a fault, unless it is told already or enough are told."""
        self.count += 1
        if not self.full and fault not in self.faults:
            self.faults.append(fault)

    @property
    def full(self) -> bool:
        """Whether no further fault is told."""
        return len(self.faults) >= MAX_FAULTS


@dataclass(frozen=True)
class Stated:
    """What a node says: how it is known, the text of its value, and the parts beside it."""

    path: str
    state: State
    text: str = ""
    place: Place | None = None
    by: str = ""
    note: str = ""
    source: str = ""
    asked: bool = False
    leaf: Leaf | None = None
    parts: Mapping[str, Node] = field(default_factory=dict)


def opened(node: Node | Absent, notes: Notes, own: Sequence[str]) -> Stated:
    """Read the plain form ``key: value`` or the long form ``key: {value: ..., basis: ..., ...}``.

    `own` lists the keys of the long form that the kind of leaf knows beside basis, by, note and source.
    """
    if isinstance(node, Absent):
        return Stated(node.path, "unknown")
    if isinstance(node, Leaf):
        return _plain(node, node)
    if not isinstance(node, Branch):
        notes.fault(node, "one value", "a list")
        return Stated(node.path, "faulty", place=node.place)
    _refuse_strangers(node, (*own, *BASIS_KEYS), notes)
    main = node.items.get("value", node.items.get("normal"))
    if {"value", "normal"} <= set(node.items):
        notes.fault(node.items["normal"], "left away beside value", "both", "value and normal say the same")
    if main is None or not isinstance(main, Leaf):
        notes.fault(node, "a value with its notes, for example {value: 14 degC, within: 0.5 K}", "no value")
        return Stated(node.path, "faulty", place=node.place)
    words = {key: _word(node, key, notes) for key in BASIS_KEYS}
    if (basis := words.pop("basis") or "stated") not in ("stated", "assumed"):
        notes.fault(node.items["basis"], "stated or assumed", repr(basis))
        return Stated(node.path, "faulty", place=main.place)
    if basis == "assumed" and not any(words.values()):
        notes.fault(
            node.items["basis"], "given with by, note or source", "assumed alone", "an assumption says by whom or why"
        )
    plain = _plain(node, main)
    state: State = "assumed" if basis == "assumed" and plain.state == "stated" else plain.state
    parts = {key: part for key, part in node.items.items() if key in own and not _says_nothing(part)}
    return Stated(node.path, state, plain.text, main.place, **words, asked=plain.asked, leaf=main, parts=parts)


def _plain(node: Node, leaf: Leaf) -> Stated:
    text = leaf.text.strip()
    if leaf.faulty:
        return Stated(node.path, "faulty", place=leaf.place)
    if text in ("", "unknown"):
        return Stated(node.path, "unknown", place=leaf.place, asked=text == "unknown", leaf=leaf)
    if text == "none":
        return Stated(node.path, "none", text, leaf.place, leaf=leaf)
    return Stated(node.path, "stated", text, leaf.place, leaf=leaf)


def _says_nothing(part: Node) -> bool:
    """A part left open or `unknown`, or one whose fault is told already."""
    return isinstance(part, Leaf) and (part.faulty or part.text.strip() in ("", "unknown"))


def _word(node: Branch, key: str, notes: Notes) -> str:
    part = node.items.get(key)
    if part is not None and not isinstance(part, Leaf):
        notes.fault(part, "a text", "a list or a mapping", "it would be lost silently")
    return part.text if isinstance(part, Leaf) and not part.faulty else ""


def _refuse_strangers(node: Branch, known: Sequence[str], notes: Notes) -> None:
    for key in node.items:
        if key not in known:
            refuse_key(node, key, known, notes)


def refuse_key(node: Branch, key: str, known: Sequence[str], notes: Notes) -> None:
    """Note a key that has no place here, with the nearest that has."""
    if notes.full:
        notes.count += 1
        return
    path = join_key(node.path, key)
    place = node.key_places.get(key, node.place)
    remedy = FROM_FILE if key in FILE_KEYS else hint(key, known, f"Known: {', '.join(known)}")
    notes.tell(Fault(path, "a key that is known here", repr(key), "it would be lost silently", place, remedy))
