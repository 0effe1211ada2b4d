"""Reads a watch file: every fault is told at once, with its place, why, and what to write instead."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import get_args
from urllib.parse import urlsplit

from onedatum.case.tree import Branch, Leaf, Node, join_key, read_tree
from onedatum.foundation.errors import Fault, LogError, Place, QuantityError
from onedatum.foundation.moments import DAY_s
from onedatum.foundation.units import hint, read_one_of, read_quantity
from onedatum.logs.live.plan import (
    EXAMPLE,
    VERSION,
    HartSource,
    ModbusSource,
    OpcUaSource,
    Source,
    TagPlan,
    WatchPlan,
)
from onedatum.logs.live.registers import Form, Order, Point

UNIT_KINDS = ("length", "current", "share of span")
"""What a number may be in; a level, a current, or `%` of the span."""
TOP = ("watch", "every", "stale_after", "rate_over", "tags")
WAYS = ("modbus", "opc_ua", "hart")
OF_TAG = ("case", "case_tag", *WAYS, "limit", "frozen_after", "fastest")
OF_NUMBER = ("unit", "least", "most", "factor", "offset")
OF_LINE = ("tcp", "serial")
KEYS: Mapping[str, tuple[str, ...]] = {
    "modbus": (
        *(*OF_LINE, "baud", "parity", "stop_bits", "device", "registers", "address", "form", "words", "bytes"),
        *(*OF_NUMBER, "unknown_if"),
    ),
    "opc_ua": ("url", "node", *OF_NUMBER),
    "hart": (*OF_LINE, "address", "delay"),
}
USUAL_LIMIT_s = {"modbus": 2.0, "opc_ua": 4.0, "hart": 10.0}
USUAL_PORT = {"modbus": 502, "hart": 5094}
LONGEST_s = DAY_s
MOST_TAGS = 200
NODE = re.compile(r"(ns=\d+;)?(i=\d+|[sgb]=.+)")
"""How a node is written: namespace, kind, identifier (OPC UA part 6, from memory)."""
READ_ONLY = "a watch only reads, and nothing of a device can be set"
SETTING = ("write", "set", "setpoint", "command")
"""Words of a key by which somebody means to change something."""
WHY_ADDRESS = {
    "modbus": "registers are counted from 0, without the digit of their kind before",
    "hart": "it is the polling address of a transmitter, 0 as a rule, up to 15 before revision 6 and 63 from then on",
}
"""Of a number that is no address (the limits of HART from memory)."""


def read_plan(path: Path) -> WatchPlan:
    """Read a watch file; raises LogError with every fault and its place."""
    tree = read_tree(path)
    reader = _Reader(tree.file, path.parent)
    reader.faults += (
        replace(each, remedy=each.remedy.replace("onedatum: 1", f"watch: {VERSION}")) for each in tree.faults
    )
    if tree.broken or not tree.root.items:
        missing = Fault("tags", "stated with their cases and sources", "nothing", remedy=f"As in:\n{EXAMPLE}")
        raise LogError(reader.faults or [missing])
    found = reader.plan(tree.root, tree.content_hash())
    if reader.faults:
        raise LogError(reader.faults)
    return found


class _Reader:
    def __init__(self, file: str, folder: Path) -> None:
        self.file, self.folder = file, folder
        self.faults: list[Fault] = []

    def plan(self, root: Branch, content_hash: str) -> WatchPlan:
        """The whole file."""
        self._keys(root, TOP)
        if self._text(root, "watch") != VERSION:
            self._tell(root, "watch", f"stated, as watch: {VERSION}", self._text(root, "watch") or "nothing")
        every_s = self._time_s(root, "every", 1.0)
        stale_s = self._time_s(root, "stale_after", 5.0 * every_s)
        over_s = self._time_s(root, "rate_over", 600.0)
        if not every_s <= stale_s:
            why = "a value would be stale before the next can come"
            self._tell(root, "stale_after", f"{every_s:g} s or more, as every", f"{stale_s:g} s", why)
        if not over_s >= 20.0 * every_s:
            why = "a rate is taken from twenty readings or more"
            self._tell(root, "rate_over", f"{20.0 * every_s:g} s or more, 20 times every", f"{over_s:g} s", why)
        return WatchPlan(every_s, stale_s, over_s, self._tags(root), content_hash)

    def _tags(self, root: Branch) -> tuple[TagPlan, ...]:
        node = root.items.get("tags")
        if not isinstance(node, Branch) or not node.items:
            self._tell(root, "tags", "at least one tag with its case and its source", "none", "", f"As in:\n{EXAMPLE}")
            return ()
        if len(node.items) > MOST_TAGS:
            self._tell(root, "tags", f"at most {MOST_TAGS} tags", f"{len(node.items)}", "", "Part them in two files")
            return ()
        found = [each for each in (self._tag(node, tag, part) for tag, part in node.items.items()) if each is not None]
        modems = [each.source.line for each in found if isinstance(each.source, HartSource)]
        for tag in found:
            if isinstance(tag.source, HartSource) and modems.count(tag.source.line) > 1:
                why = "devices that share a current loop have no current of their own to read"
                got = f"{tag.source.line} twice"
                self._tell(node, tag.tag, "on a line of its own, for hart", got, why, "Read them over another way")
        return tuple(found)

    def _tag(self, tags: Branch, tag: str, node: Node) -> TagPlan | None:
        if not isinstance(node, Branch):
            self._tell(tags, tag, "keys: case and one of modbus, opc_ua, hart", "one value or a list")
            return None
        self._keys(node, OF_TAG)
        before = len(self.faults)
        case = self._text(node, "case")
        if not case:
            self._tell(node, "case", "the case file of the tag", "nothing", "its range makes a level of the signal")
        stated = [way for way in WAYS if way in node.items]
        if len(stated) != 1:
            allowed = f"given exactly one of {', '.join(WAYS)}"
            self._tell(node, "", allowed, " and ".join(stated) or "none", "it is how the tag is read")
            return None
        way = stated[0]
        part = node.items[way]
        if not isinstance(part, Branch):
            self._tell(node, way, f"stated with its {', '.join(KEYS[way])}", "one value or a list")
            return None
        self._keys(part, KEYS[way])
        limit_s = self._time_s(node, "limit", USUAL_LIMIT_s[way])
        frozen_s = self._time_s(node, "frozen_after", 0.0) if "frozen_after" in node.items else None
        fastest_m_per_s = self._quantity(node, "fastest", "velocity") if "fastest" in node.items else None
        source, unit = self._source(way, part)
        if source is None or len(self.faults) > before:
            return None
        return TagPlan(
            tag,
            self.folder / case,
            source,
            unit,
            limit_s,
            frozen_s,
            case_tag=self._text(node, "case_tag"),
            fastest_m_per_s=fastest_m_per_s,
        )

    def _source(self, way: str, part: Branch) -> tuple[Source | None, str]:
        if way == "hart":
            delay_s = self._time_s(part, "delay", 0.0) if "delay" in part.items else None
            return HartSource(
                *self._line(part, way), self._whole(part, "address", 0, 63, 0, WHY_ADDRESS[way]), delay_s
            ), "mA"
        unit, worth = self._unit(part)
        least, most = self._limit(part, "least", unit, worth), self._limit(part, "most", unit, worth)
        if not least < most and not self._has_fault(part, "least", "most", "unit"):
            self._tell(part, "most", f"above least, {least:g} {unit}", f"{most:g} {unit}")
        factor, offset = self._number(part, "factor", 1.0), self._number(part, "offset", 0.0)
        if factor == 0.0:
            self._tell(part, "factor", "other than 0", "0", "every reading would be the same")
        if way == "opc_ua":
            url, node = self._url(part), self._text(part, "node")
            if not NODE.fullmatch(node):
                got = repr(node) if node else "nothing"
                self._tell(part, "node", 'the identifier of a node, such as "ns=2;s=LT-201.current"', got)
            return OpcUaSource(url, node, least, most, factor, offset), unit
        return self._modbus(part, (least, most), (factor, offset)), unit

    def _modbus(self, part: Branch, limits: tuple[float, float], scale: tuple[float, float]) -> ModbusSource | None:
        line, host, port, serial = self._line(part, "modbus")
        registers = self._word(part, "registers", ("input", "holding"), "")
        form = self._word(part, "form", get_args(Form), "")
        words, bytes_ = (self._word(part, key, get_args(Order), "high first") for key in ("words", "bytes"))
        address = self._whole(part, "address", 0, 65535, why=WHY_ADDRESS["modbus"])
        device = self._whole(part, "device", 0, 255)
        baud = self._whole(part, "baud", 300, 1_000_000, 19200)
        parity = self._word(part, "parity", ("none", "even", "odd"), "even")
        stop_bits = self._whole(part, "stop_bits", 1, 2, 1)
        unknown = (self._whole(part, "unknown_if", -(2**63), 2**64 - 1),) if "unknown_if" in part.items else ()
        if self._has_fault(part, *KEYS["modbus"]):
            return None
        try:
            point = Point(part.path, form, *limits, words, bytes_, *scale, unknown)  # type: ignore[arg-type]
        except QuantityError as error:
            self._tell(part, "form", error.allowed, error.got, error.why)
            return None
        own = (baud, parity, stop_bits) if serial else ()
        named = " ".join(map(str, (line, *own)))
        return ModbusSource(named, host, port, serial, baud, parity, stop_bits, device, registers, address, point)

    # ---------------------------------------------------------------- parts of a source

    def _line(self, part: Branch, way: str) -> tuple[str, str, int, str]:
        tcp, serial = (self._text(part, key) for key in OF_LINE)
        if bool(tcp) == bool(serial):
            got = "both" if tcp else "neither"
            self._tell(part, "", "given one of tcp and serial", got, "it is where the device is reached")
            return "", "", 0, ""
        if serial:
            return serial, "", 0, serial
        try:
            url = urlsplit(f"//{tcp}")
            host, port = url.hostname or "", USUAL_PORT[way] if url.port is None else url.port
        except ValueError:
            host, port = "", 0
        if not host or not port or "/" in tcp or "@" in tcp:
            usual = 5020 if way == "modbus" else USUAL_PORT[way]
            self._tell(part, "tcp", f'a host with its port, such as "127.0.0.1:{usual}"', repr(tcp))
        return f"{host}:{port}", host, port, ""

    def _url(self, part: Branch) -> str:
        text = self._text(part, "url")
        try:
            url = urlsplit(text)
            sound = url.scheme == "opc.tcp" and bool(url.hostname) and url.port is not None
        except ValueError:
            sound = False
        if not sound:
            allowed = 'an address of a server, such as "opc.tcp://127.0.0.1:4840/"'
            self._tell(part, "url", allowed, repr(text) if text else "nothing")
        elif url.username or url.password:
            self._tell(part, "url", "without a name or a password", "one with them", "a session here has no user")
        return text

    def _unit(self, part: Branch) -> tuple[str, tuple[float, str]]:
        """The unit, and what one of it is in SI with its kind."""
        unit = self._text(part, "unit")
        try:
            return unit, read_one_of(f"1 {_spelt(unit)}", UNIT_KINDS)
        except QuantityError as error:
            why = error.why.partition(";")[0] if unit else "a bare number has no meaning"
            allowed = "a unit of length or current, or %, which is of the span"
            remedy = error.remedy or "Where the number stands for another, factor and offset make it one of these"
            self._tell(part, "unit", allowed, repr(unit) if unit else "nothing", why, remedy)
            return unit, (math.nan, "")

    def _limit(self, part: Branch, key: str, unit: str, worth: tuple[float, str]) -> float:
        text = self._text(part, key)
        if not worth[1]:
            return math.nan
        if not text:
            why = "a number without limits shows no wrong order and no garbage"
            self._tell(part, key, f"stated in {unit} or the like", "nothing", why)
            return math.nan
        try:
            return read_quantity(_spelt(text), worth[1]) / worth[0]
        except QuantityError as error:
            self._tell(part, key, error.allowed, error.got, error.why, error.remedy)
            return math.nan

    # ---------------------------------------------------------------- leaves

    def _time_s(self, node: Branch, key: str, usual_s: float) -> float:
        if key not in node.items:
            return usual_s
        found_s = self._quantity(node, key, "time")
        if found_s is None:
            return usual_s
        if not 0.01 <= found_s <= LONGEST_s:
            self._tell(node, key, "from 10 ms to a day", repr(self._text(node, key)))
            return usual_s
        return found_s

    def _quantity(self, node: Branch, key: str, kind: str) -> float | None:
        text = self._text(node, key)
        try:
            found = read_quantity(text, kind)
        except QuantityError as error:
            self._tell(node, key, error.allowed, error.got, error.why, error.remedy)
            return None
        if not found > 0.0:
            self._tell(node, key, "above 0", repr(text))
            return None
        return found

    def _number(self, part: Branch, key: str, usual: float) -> float:
        text = self._text(part, key)
        if not text and key not in part.items:
            return usual
        try:
            found = float(text)
        except ValueError:
            found = math.nan
        if not math.isfinite(found):
            self._tell(part, key, "a plain number", repr(text) if text else "nothing")
            return usual
        return found

    def _whole(self, part: Branch, key: str, least: int, most: int, usual: int | None = None, why: str = "") -> int:
        text = self._text(part, key)
        if not text and usual is not None and key not in part.items:
            return usual
        sound = text.removeprefix("-").isascii() and text.removeprefix("-").isdigit() and len(text) <= 20
        if not sound or not least <= int(text) <= most:
            self._tell(part, key, f"a whole number from {least} to {most}", repr(text) if text else "nothing", why)
            return least
        return int(text)

    def _word(self, part: Branch, key: str, words: tuple[str, ...], usual: str) -> str:
        text = self._text(part, key) or (usual if key not in part.items else "")
        if text not in words:
            remedy = hint(text, words, "") if text else ""
            self._tell(part, key, f"one of {', '.join(words)}", repr(text) if text else "nothing", "", remedy)
            return words[0]
        return text

    def _text(self, node: Branch, key: str) -> str:
        part = node.items.get(key)
        return part.text.strip() if isinstance(part, Leaf) else ""

    def _keys(self, node: Branch, known: tuple[str, ...]) -> None:
        for key in node.items:
            if key not in known:
                writes = any(word in SETTING for word in re.split(r"[^a-z]+", key.lower()))
                remedy = hint(key, known, f"Known: {', '.join(known)}")
                place = node.key_places.get(key, node.place)
                path = join_key(node.path, key)
                others = [name for name, keys in KEYS.items() if key in keys]
                why = READ_ONLY if writes else f"it goes with {' and '.join(others)}" if others else ""
                self.faults.append(Fault(path, "a key that is known here", repr(key), why, place, remedy))

    def _has_fault(self, part: Branch, *keys: str) -> bool:
        paths = {join_key(part.path, key) for key in keys}
        return any(fault.path in paths or fault.path == part.path for fault in self.faults)

    def _tell(self, at: Branch, key: str, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        place: Place = at.key_places.get(key, at.place)
        path = join_key(at.path, key) if key else at.path
        self.faults.append(Fault(path, allowed, got, why, place, remedy))


def _spelt(text: str) -> str:
    """A share as the units know it: `%` alone is of the span."""
    return f"{text[:-1]}%span" if text.endswith("%") else text
