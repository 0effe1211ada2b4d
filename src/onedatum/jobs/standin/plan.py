"""Which faults come when, as a file states it: of links, of instruments, and currents that are held.

    faults: 1
    plan:
      - {at: 30 s, for: 10 s, link: drop, on: modbus}
      - {at: 1 min, for: 30 s, link: delay, by: 2 s}
      - {at: 2 min, for: 10 min, over: 5 min, instrument: density, size: -2 %, tag: LT-201}
      - {at: 20 min, for: 1 min, output: 3.6 mA}

`at` is counted from the start, by the clock of the tanks, as is `for`; without `for` a fault stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf
from pathlib import Path
from typing import NoReturn

from onedatum.case.tree import Branch, Leaf, Node, Row, join_key, read_tree
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.units import hint, read_quantity
from onedatum.jobs.standin import WAYS
from onedatum.jobs.standin.links import DELAY, KINDS, LinkFault
from onedatum.jobs.standin.tanks import StandinError, Tank
from onedatum.simulate import Held, Put, kind

VERSION = "1"
MOST = 1_000
MOST_A = 0.025
BROKEN = "broken wire"
OF_ALL = ("at", "for")
KEYS = {"link": ("on", "tag", "by"), "instrument": ("tag", "size", "over"), "output": ("tag",)}
BY_SUFFIX = {"m": "length", "A": "current", "K": "temperature difference", "ohm": "resistance"}


@dataclass(frozen=True)
class Plan:
    """What a file states."""

    links: tuple[LinkFault, ...] = ()
    instruments: tuple[tuple[str, Put | Held], ...] = ()
    """By tag."""


def read_plan(path: Path, tanks: Sequence[Tank]) -> Plan:
    """Read a file of faults for these tanks; raises StandinError with every fault and its place."""
    tree = read_tree(path)
    reader = _Reader(tuple(tanks))
    reader.faults += (
        replace(each, remedy=each.remedy.replace("onedatum: 1", f"faults: {VERSION}")) for each in tree.faults
    )
    found = reader.plan(tree.root)
    if reader.faults:
        raise StandinError(reader.faults)
    return found


class _Stop(Exception):
    """What stands here cannot be read; it was told."""


class _Reader:
    def __init__(self, tanks: tuple[Tank, ...]) -> None:
        self.tanks = tanks
        self.faults: list[Fault] = []

    def plan(self, root: Branch) -> Plan:
        """The whole file."""
        self._keys(root, ("faults", "plan"))
        if self._text(root, "faults") != VERSION:
            self._tell(root, "faults", f"stated, as faults: {VERSION}", self._text(root, "faults") or "nothing")
        row = root.items.get("plan")
        if not isinstance(row, Row):
            self._tell(root, "plan", "a list of faults", "nothing" if row is None else "no list")
            return Plan()
        if len(row.items) > MOST:
            self._tell(root, "plan", f"at most {MOST} faults", str(len(row.items)))
            return Plan()
        links: list[LinkFault] = []
        instruments: list[tuple[str, Put | Held]] = []
        for item in row.items:
            try:
                found = self._one(item)
            except _Stop:
                continue
            if isinstance(found, LinkFault):
                links.append(found)
            else:
                instruments += found
        return Plan(tuple(links), tuple(instruments))

    def _one(self, item: Node) -> LinkFault | list[tuple[str, Put | Held]]:
        if not isinstance(item, Branch):
            self.faults.append(Fault(item.path, "a fault with its keys", "one value or a list", "", item.place))
            raise _Stop
        sorts = [sort for sort in KEYS if sort in item.items]
        if len(sorts) != 1:
            got = " and ".join(sorts) or "none of them"
            self._stop(item, "", f"a fault with one of the keys {', '.join(KEYS)}", got)
        self._keys(item, (*OF_ALL, sorts[0], *KEYS[sorts[0]]))
        at_s = self._quantity(item, "at", "time")
        for_s = self._quantity(item, "for", "time") if "for" in item.items else inf
        tag = self._text(item, "tag")
        if tag and tag not in [tank.tag for tank in self.tanks]:
            self._stop(item, "tag", f"one of {', '.join(tank.tag for tank in self.tanks)[:200]}", repr(tag))
        if at_s < 0.0:
            self._stop(item, "at", "0 s or later", self._text(item, "at"))
        if not for_s > 0.0:
            self._stop(item, "for", "above 0 s", self._text(item, "for"))
        if sorts[0] == "link":
            return self._link(item, at_s, for_s, tag)
        tanks = [tank for tank in self.tanks if tag in ("", tank.tag)]
        if sorts[0] == "output":
            held = self._output(item, at_s, for_s)
            return [(tank.tag, held) for tank in tanks]
        put = self._instrument(item, at_s, for_s, tanks)
        return [(tank.tag, put) for tank in tanks]

    def _link(self, item: Branch, at_s: float, for_s: float, tag: str) -> LinkFault:
        word = self._word(item, "link", tuple(KINDS))
        way = self._word(item, "on", (*WAYS, "all")) if "on" in item.items else "all"
        by_s = self._quantity(item, "by", "time") if "by" in item.items or word == DELAY else 0.0
        try:
            return LinkFault(word, at_s, for_s, "" if way == "all" else way, tag, by_s)
        except QuantityError as error:
            self._stop(item, "link", error.allowed, error.got, error.why)

    def _output(self, item: Branch, at_s: float, for_s: float) -> Held:
        if self._text(item, "output") == BROKEN:
            return Held(0.0, at_s, for_s)
        value_A = self._quantity(item, "output", "current")
        if not 0.0 <= value_A <= MOST_A:
            self._stop(item, "output", f"from 0 to {1000 * MOST_A:g} mA, or {BROKEN}", self._text(item, "output"))
        return Held(value_A, at_s, for_s)

    def _instrument(self, item: Branch, at_s: float, for_s: float, tanks: Sequence[Tank]) -> Put:
        kinds = [key for key in tanks[0].running.kinds if all(key in tank.running.kinds for tank in tanks)]
        word = self._word(item, "instrument", tuple(kinds))
        own, over_s = kind(word), self._quantity(item, "over", "time") if "over" in item.items else 0.0
        size = None if word == "stuck" and "size" not in item.items else self._size(item, own.suffix)
        if size is not None and size < own.least:
            self._stop(item, "size", f"at least {own.least:g} {own.suffix}".strip(), self._text(item, "size"))
        if over_s < 0.0 or (word == "stuck" and over_s):
            self._stop(item, "over", "a time, and not with stuck", self._text(item, "over"))
        put = Put(word, size, at_s, for_s, over_s)
        self._try(item, put, tanks)
        return put

    def _try(self, item: Branch, put: Put, tanks: Sequence[Tank]) -> None:
        """Work the whole size once, so that what cannot be worked is told now and not under way."""
        for tank in tanks:
            before = list(tank.running.faults)
            tank.running.faults[:] = [Put(put.key, put.size, 0.0)]
            try:
                tank.running.at(0.0)
            except (QuantityError, ArithmeticError, ValueError) as error:
                self._stop(item, "size", f"one that {tank.tag} can have", self._text(item, "size"), str(error))
            finally:
                tank.running.faults[:] = before

    def _size(self, item: Branch, suffix: str) -> float:
        """A size with its unit; a share as a per cent or a bare number."""
        text = self._text(item, "size")
        if suffix:
            return self._quantity(item, "size", BY_SUFFIX[suffix])
        try:
            return read_quantity(text.removesuffix("%").strip(), "number") / (100.0 if text.endswith("%") else 1.0)
        except QuantityError as error:
            self._stop(item, "size", "a share, for example 2 % or 0.02", error.got, error.why)

    # ------------------------------------------------------------ parts

    def _quantity(self, item: Branch, key: str, dimension: str) -> float:
        try:
            return read_quantity(self._text(item, key), dimension)
        except QuantityError as error:
            self._stop(item, key, error.allowed, error.got, error.why, error.remedy)

    def _word(self, item: Branch, key: str, words: tuple[str, ...]) -> str:
        word = self._text(item, key)
        if word not in words:
            self._stop(item, key, f"one of {', '.join(words)}", repr(word), remedy=hint(word, words, ""))
        return word

    def _keys(self, node: Branch, known: tuple[str, ...]) -> None:
        for key in node.items:
            if key not in known:
                place = node.key_places.get(key, node.place)
                remedy = hint(key, known, f"Known here: {', '.join(known)}")
                path = join_key(node.path, key)
                self.faults.append(Fault(path, "a key that is known here", repr(key), "", place, remedy))

    def _text(self, node: Branch, key: str) -> str:
        part = node.items.get(key)
        return " ".join(part.text.split()) if isinstance(part, Leaf) else ""

    def _stop(self, at: Branch, key: str, allowed: str, got: str, why: str = "", remedy: str = "") -> NoReturn:
        self._tell(at, key, allowed, got, why, remedy)
        raise _Stop

    def _tell(self, at: Branch, key: str, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        place = at.key_places.get(key, at.place)
        path = join_key(at.path, key) if key else at.path
        self.faults.append(Fault(path, allowed, got or "nothing", why, place, remedy))
