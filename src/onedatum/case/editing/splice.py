"""What is put where in the text for one change; everything else of the text stays byte for byte."""

from __future__ import annotations

import re
from dataclasses import dataclass

from onedatum.case.editing.quoting import flow_of, quoted, written
from onedatum.case.editing.target import MAIN_KEYS, Refusal, Target, path_of
from onedatum.case.kinds import Listing, Quantity
from onedatum.case.own_data import KEYS as REFERENCE
from onedatum.case.reader import BASIS_KEYS
from onedatum.case.tree.node import Tree, node_at
from onedatum.case.tree.spots import Spot
from onedatum.foundation.errors import Fault, Place

INDENT = "  "
_OPEN = ("", "unknown", "none", "~", "null")
_LINE_BREAK = re.compile(r"\r\n|\r|\n")
_LINE_END = re.compile(r"[^\r\n]*")
_WORDS = frozenset({"by", "note", "source"})


@dataclass(frozen=True)
class Splice:
    """`text[start:end]` becomes `new`."""

    start: int
    end: int
    new: str


@dataclass(frozen=True)
class Plan:
    """What one change does: the splices, the paths whose leaves may differ by it, and what is stated afterwards."""

    splices: tuple[Splice, ...]
    touched: tuple[str, ...]
    beneath: str = ""
    """A path below which all may differ: a section that becomes a mapping."""
    half: bool = False
    """Whether the change itself is still to be made, in what was written out for it."""

    def applied(self, text: str) -> str:
        """The text with the splices made, the last first."""
        for splice in sorted(self.splices, key=lambda each: each.start, reverse=True):
            text = text[: splice.start] + splice.new + text[splice.end :]
        return text


@dataclass(frozen=True)
class Ground:
    """A text with its tree and its spots."""

    text: str
    tree: Tree
    root: Spot

    @property
    def newline(self) -> str:
        """How lines end in this text."""
        found = _LINE_BREAK.search(self.text)
        return found[0] if found else "\n"


def plan(ground: Ground, target: Target, text: str | None) -> Plan:
    """How a change is made; raises Refusal where it cannot be made in place."""
    spot, orders = ground.root, target.orders
    flow, key = spot.flow, (0, 0)
    for at, step in enumerate(target.steps):
        if spot.form == "leaf":
            return _section_from_word(ground, target, at, spot, key, flow, text)
        if (spot.form == "row") != isinstance(step, int):
            raise _not_here(ground, target, at, "a list" if spot.form == "row" else "a mapping")
        if set(spot.items) >= REFERENCE and at + 1 < len(target.steps):
            _refuse_below_reference(ground, target, at, spot)
        if step not in spot.items:
            return _insertion(ground, target, at, spot, key, flow or spot.flow, orders[at], text)
        key = spot.keys.get(step, (0, 0)) if isinstance(step, str) else (0, 0)
        flow = flow or spot.flow
        spot = spot.items[step]
    return _at_leaf(ground, target, spot, flow, text)


def _at_leaf(ground: Ground, target: Target, spot: Spot, flow: bool, text: str | None) -> Plan:
    if spot.form == "branch" and target.kind is not None and not isinstance(target.kind, Listing):
        return _in_long_form(ground, target, spot, text)
    if spot.form != "leaf":
        what = "a list" if spot.form == "row" else "a mapping"
        raise Refusal(
            Fault(
                target.path,
                "changed value by value",
                what,
                "its values would be lost",
                _place(ground, target.base),
                "Change the values in it",
            )
        )
    if not target.part:
        return Plan((_scalar(ground, spot, text, flow, target),), (target.base,))
    if text is None:
        return Plan((), ())
    inner = written(spot.text, True, isinstance(target.kind, Quantity)) if spot.text.strip() else "unknown"
    lead = " " if spot.empty else ""
    new = f"{lead}{{value: {inner}, {target.part}: {_value(target, text, True)}}}"
    base = target.base
    return Plan((Splice(spot.start, spot.end, new),), (base, f"{base}.value", f"{base}.{target.part}"))


def _in_long_form(ground: Ground, target: Target, spot: Spot, text: str | None) -> Plan:
    """The value, or one of the parts beside it, in a long form."""
    base = target.base
    wanted = target.part or next((key for key in MAIN_KEYS if key in spot.items), "value")
    found = spot.items.get(wanted)
    touched = (f"{base}.{wanted}", f"{base}.{wanted}.value", f"{base}.basis")
    if found is None:
        if text is None:
            return Plan((), ())
        entry = f"{wanted}: {_value(target, text, spot.flow)}"
        where = _place_for(ground, spot, wanted, target.leaf_order, (0, 0))
        return Plan((_entry(ground, spot, where, [entry]),), touched)
    if found.form == "branch" and "value" in found.items:
        found = found.items["value"]
    if found.form != "leaf":
        raise _not_here(ground, target, len(target.steps), "a list or a mapping")
    splices = [_scalar(ground, found, text, spot.flow, target)]
    basis = spot.items.get("basis")
    if not target.part and text is not None and basis is not None and basis.text == "assumed":
        splices.append(Splice(basis.start, basis.end, "stated"))
    return Plan(tuple(splices), touched)


def _section_from_word(
    ground: Ground, target: Target, at: int, spot: Spot, key: tuple[int, int], flow: bool, text: str | None
) -> Plan:
    """A value in a section that is written as a word: the section becomes a mapping or a list."""
    path = path_of(target.steps[:at])
    word = spot.text.strip()
    if text is None:
        return Plan((), ())
    step = target.steps[at]
    if word not in _OPEN or (spot.style and word in ("~", "null")):
        return _copied_section(ground, target, at, spot, path)
    if isinstance(step, int) and step != 0:
        raise _not_here(ground, target, at, "no list")
    in_line = spot.empty or not _LINE_BREAK.search(ground.text, key[1], spot.start)
    if flow or not key[1] or not in_line or spot.bare_key or spot.style in ("|", ">"):
        lead = ": " if spot.bare_key and key[1] else " " if spot.empty else ""
        return Plan((Splice(spot.start, spot.end, lead + _inline(target, at, text)),), (path,), path)
    column = _column(ground.text, key[0])
    colon = ground.text.index(":", key[1]) + 1
    end = _end_of_line(ground.text, spot.end)
    lines = _lines(target, at, text, ground.newline)
    indent = " " * (column + len(INDENT))
    block = ground.newline + ground.newline.join(indent + line for line in lines)
    return Plan((Splice(colon, spot.end, ""), Splice(end, end, block)), (path,), path)


def _copied_section(ground: Ground, target: Target, at: int, spot: Spot, path: str) -> Plan:
    """A section stated to be as the one before it: its values are written out, for one of them is to differ."""
    other = path_of((*target.steps[: at - 1], spot.text.strip().removeprefix("as ")))
    node = node_at(ground.tree, other) if spot.text.strip().startswith("as ") else None
    if node is None or at != len(target.steps) - 1:
        raise _not_here(ground, target, at, repr(spot.text))
    return Plan((Splice(spot.start, spot.end, flow_of(node)),), (path,), path, half=True)


def _insertion(
    ground: Ground,
    target: Target,
    at: int,
    spot: Spot,
    key: tuple[int, int],
    flow: bool,
    order: tuple[str, ...],
    text: str | None,
) -> Plan:
    """A key or an item that is not there yet."""
    if text is None:
        return Plan((), ())
    step = target.steps[at]
    if isinstance(step, int) and step != len(spot.items):
        raise _not_here(ground, target, at, f"{len(spot.items)} of them")
    path = path_of(target.steps[: at + 1])
    lines = [_inline(target, at, text, bare=True)] if flow else _lines(target, at, text, ground.newline)
    if isinstance(step, int):
        last = spot.items.get(step - 1)
        where = (last.end, True) if last else (spot.start + 1, False)
    else:
        where = _place_for(ground, spot, step, order, key)
    at_root = spot is ground.root and len(target.steps) > 1
    return Plan((_entry(ground, spot, where, lines, at_root),), (path,), path)


def _place_for(
    ground: Ground, spot: Spot, key: str, order: tuple[str, ...], own_key: tuple[int, int]
) -> tuple[int, bool]:
    """Where a new key goes, by the order of the model: the place, and whether it is behind something."""
    before = [k for k in spot.items if k in REFERENCE or (k in order and order.index(k) < order.index(key))]
    if before:
        return max(spot.items[k].end for k in before), True
    if spot.flow:
        return spot.start + 1, False
    if own_key[1] and _LINE_BREAK.search(ground.text, own_key[1], spot.start):
        return ground.text.index(":", own_key[1]) + 1, True
    return spot.start, False


def _entry(ground: Ground, spot: Spot, where: tuple[int, bool], lines: list[str], parted: bool = False) -> Splice:
    """The splice that puts new lines (in a flow: one) into a branch or a row, behind something or before all."""
    at, behind = where
    text, newline = ground.text, ground.newline
    if spot.flow:
        new = f", {lines[0]}" if behind else f"{lines[0]}, " if spot.items else lines[0]
        return Splice(at, at, new)
    indent = " " * spot.column
    if not behind:
        return Splice(at, at, "".join(line + newline + indent for line in lines))
    block = newline.join(f"{indent}{line}".rstrip(" ") for line in ([""] if parted else []) + lines)
    if at and text[at - 1] in "\r\n":
        return Splice(at, at, block + newline)
    end = _end_of_line(text, at)
    return Splice(end, end, newline + block)


def _lines(target: Target, at: int, text: str, newline: str) -> list[str]:
    """The steps from `at` on as lines of a block, the first without indent."""
    step, last = target.steps[at], at + 1 == len(target.steps)
    head = "-" if isinstance(step, int) else f"{written(step, False, True)}:"
    if last:
        return [f"{head} {_leaf_text(target, text, False)}"]
    inner = _lines(target, at + 1, text, newline)
    if isinstance(step, int):
        return [f"- {inner[0]}", *(INDENT + line for line in inner[1:])]
    return [head, *(INDENT + line for line in inner)]


def _inline(target: Target, at: int, text: str, bare: bool = False) -> str:
    """The same on one line; `bare` leaves out the outer braces, for an entry of a flow that is there."""
    if at == len(target.steps):
        return _leaf_text(target, text, True)
    step = target.steps[at]
    inner = _inline(target, at + 1, text)
    if isinstance(step, int):
        return inner if bare else f"[{inner}]"
    entry = f"{written(step, True, True)}: {inner}"
    return entry if bare else f"{{{entry}}}"


def _leaf_text(target: Target, text: str, in_flow: bool) -> str:
    """A leaf that is written for the first time."""
    if target.part:
        return f"{{value: unknown, {target.part}: {_value(target, text, True)}}}"
    return _value(target, text, in_flow)


def _value(target: Target, text: str, in_flow: bool, style: str = "") -> str:
    number = isinstance(target.kind, Quantity) and target.part not in BASIS_KEYS
    return written(text, in_flow, number, style)


def _scalar(ground: Ground, spot: Spot, text: str | None, in_flow: bool, target: Target) -> Splice:
    """The text of a leaf in place of the one that stands there; line ends behind a text in lines stay."""
    if text is None:
        new = quoted("") if target.part in _WORDS else "stated" if target.part == "basis" else "unknown"
    else:
        new = _value(target, text, in_flow, spot.style if spot.style in ("'", '"') else "")
    lead = ": " if spot.bare_key else " " if spot.empty else ""
    end = spot.end
    if spot.style in ("|", ">"):
        end = spot.start + len(ground.text[spot.start : spot.end].rstrip())
    return Splice(spot.start, end, lead + new)


def _refuse_below_reference(ground: Ground, target: Target, at: int, spot: Spot) -> None:
    step = target.steps[at]
    if step in spot.items and spot.items[step].form == "branch":
        return
    path = path_of(target.steps[: at + 1])
    file = spot.items["file"].text
    why = f"The section {path} stands in {file} and would be hidden as a whole"
    remedy = f"Change it in {file}"
    raise Refusal(Fault(target.path, "stated where its section stands", "a change in the case", why, None, remedy))


def _not_here(ground: Ground, target: Target, at: int, got: str) -> Refusal:
    path = path_of(target.steps[:at])
    step = target.steps[at] if at < len(target.steps) else ""
    allowed = f"in a list {path} that is long enough" if isinstance(step, int) else f"in a section {path} with keys"
    return Refusal(
        Fault(target.path, allowed, got, "", _place(ground, path), f"Write {path} out in the file of the case")
    )


def _place(ground: Ground, path: str) -> Place | None:
    node = node_at(ground.tree, path)
    return node.place if node is not None else None


def _end_of_line(text: str, at: int) -> int:
    found = _LINE_END.match(text, at)
    return found.end() if found else at


def _column(text: str, at: int) -> int:
    return at - max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) - 1
