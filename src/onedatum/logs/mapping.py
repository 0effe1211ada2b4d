"""Which column of a log says what: stated in a file of its own, read with its places; nothing is guessed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from functools import cache
from math import isfinite
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from onedatum.case.tree import Branch, Leaf, Node, Row, join_key, read_tree
from onedatum.foundation.errors import Fault, LogError, Place, QuantityError
from onedatum.foundation.moments import us_of
from onedatum.foundation.units import hint, read_one_of, read_quantity

VERSION = "1"
COUNTS = "counts"
IN_TEXT = "in the text"
ISO = "iso"
SINCE_1970 = {"seconds since 1970": 1_000_000, "milliseconds since 1970": 1_000}
"""Microseconds in one of each."""
KINDS = ("length", "current", "voltage", "share of span")
LAYOUT = "%Y %m %d %H %M %S"
KEYS: Mapping[str, tuple[str, ...]] = {
    "": ("mapping", "time", "value", "tag", "temperature", "counts", "resistor", "csv"),
    "time": ("column", "form", "zone", "latest"),
    "value": ("column", "unit", "unit_column", "within"),
    "tag": ("column", "names"),
    "temperature": ("column", "unit"),
    "counts": ("at_4_mA", "at_20_mA"),
    "csv": ("separator", "decimal"),
}
FIRST_KEYS = ("onedatum: 1", f"mapping: {VERSION}")
"""Of a case, and of a mapping."""
SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
DECIMALS = ("point", "comma")
EXAMPLE = """mapping: 1
time: {column: time, form: iso, zone: in the text}
value: {column: level, unit: mm}"""


@dataclass(frozen=True)
class Worth:
    """What a number in some unit stands for: a level, or a current, on a straight line through two numbers."""

    is_level: bool
    at_0: float
    at_far: float
    far: float = 1.0
    """The second number: far enough from 0 that rounding counts for nothing."""


@dataclass(frozen=True)
class LogMapping:
    """The columns of a log and what their numbers mean."""

    time: str
    form: str
    zone: str
    value: str
    unit: str = ""
    unit_column: str = ""
    tag: str = ""
    names: Mapping[str, str] = field(default_factory=dict)
    """The tag of the case for a tag of the log, where they are called otherwise."""
    temperature: str = ""
    temperature_unit: str = "degC"
    counts: tuple[float, float] | None = None
    """At 4 mA and at 20 mA."""
    resistor_ohm: float | None = None
    within: tuple[float, str] | None = None
    """Half-width of a reading and its kind; None: what the case states of its level."""
    separator: str = ","
    decimal_comma: bool = False
    content_hash: str = ""
    clock: str = ""
    """Column of the time of day, where it stands beside the date and not behind it."""
    latest_us: int | None = None
    """No row is later, in microseconds since 1970; None: not stated."""

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns that a log must have."""
        named = (self.time, self.clock, self.value, self.unit_column, self.tag, self.temperature)
        return tuple(dict.fromkeys(name for name in named if name))


def read_mapping(path: Path) -> LogMapping:
    """Read a mapping file; raises LogError with every fault and its place."""
    tree = read_tree(path)
    reader = _Reader(tree.file)
    reader.faults += [replace(each, remedy=each.remedy.replace(*FIRST_KEYS)) for each in tree.faults]
    if tree.broken or (tree.faults and not tree.root.items):  # what follows from that is no fault of its own
        raise LogError(reader.faults)
    found = reader.mapping(tree.root, tree.content_hash())
    if reader.faults:
        raise LogError(reader.faults)
    return found


def missing_mapping(columns: Sequence[str]) -> Fault:
    """What to state, where no mapping was given."""
    there = f"; columns there: {', '.join(columns)[:200]}" if columns else ""
    remedy = f"Write a file as:\n{EXAMPLE}\nand name it with --map"
    why = f"which column is the time, which the value, and in which unit, is not guessed{there}"
    return Fault("--map", "a mapping file", "none", why, remedy=remedy)


@cache
def _of_one(unit: str) -> tuple[float, str]:
    return read_one_of(f"1 {'%span' if unit == '%' else unit}", KINDS)


class _Reader:
    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []

    def mapping(self, root: Branch, content_hash: str) -> LogMapping:
        """The whole file."""
        self._keys(root, "")
        if self._text(root, "mapping") != VERSION:
            self._tell("mapping", f"stated, as mapping: {VERSION}", self._text(root, "mapping") or "nothing", root)
        time, value = self._part(root, "time", True), self._part(root, "value", True)
        tag, temperature = self._part(root, "tag"), self._part(root, "temperature")
        csv = self._part(root, "csv")
        stamp = self._stamp(time)
        found = LogMapping(
            time=stamp[0],
            clock=stamp[1],
            form=self._form(time),
            zone=self._zone(time),
            value=self._column(value, "value"),
            unit=self._text(value, "unit"),
            unit_column=self._text(value, "unit_column"),
            tag=self._column(tag, "tag") if tag else "",
            names=self._names(tag),
            temperature=self._column(temperature, "temperature") if temperature else "",
            temperature_unit=self._temperature_unit(temperature),
            counts=self._counts(self._part(root, "counts")),
            resistor_ohm=self._quantity(root, "resistor", "resistance"),
            within=self._within(value),
            separator=SEPARATORS[self._word(csv, "separator", tuple(SEPARATORS), "comma")],
            decimal_comma=self._word(csv, "decimal", DECIMALS, "point") == "comma",
            content_hash=content_hash,
            latest_us=self._latest(time),
        )
        if value is not None:
            self._unit(found, value)
            if found.value and found.value in (found.time, found.clock):
                self._tell("value.column", "another column than that of time", repr(found.value), value)
        return found

    def _unit(self, found: LogMapping, value: Branch) -> None:
        if bool(found.unit) == bool(found.unit_column):
            got = "both" if found.unit else "neither"
            self._tell("value", "given one of unit and unit_column", got, value, "a bare number has no meaning")
        if found.unit and not self.faults:
            try:
                worth_of(found, found.unit)
            except QuantityError as error:
                self._tell("value.unit", error.allowed, repr(found.unit), value, error.why, error.remedy)

    def _form(self, time: Branch | None) -> str:
        form = self._text(time, "form")
        ok = form in (ISO, *SINCE_1970) or all(f"%{letter}" in form for letter in "YmdHM")
        if time is not None and not ok:
            allowed = f"one of {', '.join((ISO, *SINCE_1970))}, or a form with %Y %m %d %H %M (and %S, %f, %z)"
            self._tell("time.form", allowed, repr(form) if form else "nothing", time, "a form is not guessed")
        return form

    def _stamp(self, time: Branch | None) -> tuple[str, str]:
        """The column of the time and, where there are two, that of the time of day."""
        node = time.items.get("column") if time is not None else None
        if not isinstance(node, Row):
            return self._column(time, "time"), ""
        names = [each.text.strip() for each in node.items if isinstance(each, Leaf) and each.text.strip()]
        if len(names) != len(node.items) or len(set(names)) != 2:
            self._tell("time.column", "the name of a column, or those of date and time of day", "another list", node)
            return "", ""
        if self._text(time, "form") in SINCE_1970:
            self._tell("time.column", "one column where time is counted since 1970", "a list", node)
        return names[0], names[1]

    def _zone(self, time: Branch | None) -> str:
        zone = self._text(time, "zone")
        if time is None or zone == IN_TEXT or self._text(time, "form") in SINCE_1970:
            return zone
        try:
            if not zone:
                raise ValueError
            ZoneInfo(zone)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            allowed = f"a time zone by its name, such as UTC, or: {IN_TEXT}"
            why = "the offset of a local time, and its change in spring and autumn, follow from the zone"
            self._tell("time.zone", allowed, repr(zone) if zone else "nothing", time, why)
        return zone

    def _latest(self, time: Branch | None) -> int | None:
        text = self._text(time, "latest")
        if not text or time is None:
            return None
        try:
            found = datetime.fromisoformat(text)
            if found.tzinfo is None:
                zone = self._text(time, "zone")
                found = found.replace(tzinfo=UTC if zone in ("", IN_TEXT) else ZoneInfo(zone))
            return us_of(found)
        except (ValueError, OverflowError, ZoneInfoNotFoundError, OSError):
            allowed = "a day or a time, such as 2026-12-31 or 2026-12-31T06:00:00+01:00"
            self._tell("time.latest", allowed, repr(text), time, "no row later than it is believed")
            return None

    def _temperature_unit(self, part: Branch | None) -> str:
        unit = self._text(part, "unit")
        if part is not None and unit not in ("degC", "degF", "K"):
            self._tell("temperature.unit", "degC, degF or K", repr(unit) if unit else "nothing", part)
        return unit or "degC"

    def _word(self, csv: Branch | None, key: str, words: tuple[str, ...], usual: str) -> str:
        word = self._text(csv, key) or usual
        if csv is not None and word not in words:
            self._tell(f"csv.{key}", f"one of {', '.join(words)}", repr(word), csv)
            return usual
        return word

    def _counts(self, part: Branch | None) -> tuple[float, float] | None:
        if part is None:
            return None
        ends = []
        for key in KEYS["counts"]:
            try:
                ends.append(float(self._text(part, key)))
            except ValueError:
                self._tell(f"counts.{key}", "a number of counts", self._text(part, key) or "nothing", part)
        if len(ends) == 2 and not (all(map(isfinite, ends)) and ends[0] != ends[1]):
            self._tell("counts", "two different numbers", f"{ends[0]:g} and {ends[1]:g}", part)
        return (ends[0], ends[1]) if len(ends) == 2 else None

    def _names(self, tag: Branch | None) -> Mapping[str, str]:
        node = tag.items.get("names") if tag is not None else None
        if node is None:
            return {}
        if not isinstance(node, Branch):
            self._tell("tag.names", "tags of the log with tags of the cases", "one value", node)
            return {}
        return {key: part.text.strip() for key, part in node.items.items() if isinstance(part, Leaf)}

    def _within(self, value: Branch | None) -> tuple[float, str] | None:
        text = self._text(value, "within")
        if not text or value is None:
            return None
        try:
            half, kind = read_one_of(text, ("length", "current"))
        except QuantityError as error:
            self._tell("value.within", error.allowed, repr(text), value, error.why, error.remedy)
            return None
        if not half > 0.0:
            self._tell("value.within", "above 0", repr(text), value)
        return half, kind

    def _quantity(self, root: Branch, key: str, kind: str) -> float | None:
        text = self._text(root, key)
        if not text:
            return None
        try:
            found = read_quantity(text, kind)
        except QuantityError as error:
            self._tell(key, error.allowed, repr(text), root, error.why, error.remedy)
            return None
        if not found > 0.0:
            self._tell(key, "above 0", repr(text), root)
        return found

    def _part(self, root: Branch, key: str, needed: bool = False) -> Branch | None:
        node = root.items.get(key)
        if isinstance(node, Branch):
            self._keys(node, key)
            return node
        if node is not None or needed:
            got = "nothing" if node is None else "one value or a list"
            self._tell(key, f"stated with its {', '.join(KEYS[key])}", got, node or root, "it is not guessed")
        return None

    def _keys(self, node: Branch, path: str) -> None:
        for key in node.items:
            if key not in KEYS[path]:
                remedy = hint(key, KEYS[path], f"Known: {', '.join(KEYS[path])}")
                place = node.key_places.get(key, node.place)
                self.faults.append(Fault(join_key(path, key), "a key that is known here", repr(key), "", place, remedy))

    def _column(self, node: Branch | None, path: str) -> str:
        name = self._text(node, "column")
        if node is not None and not name:
            self._tell(f"{path}.column", "the name of a column of the log", "nothing", node)
        return name

    def _text(self, node: Branch | None, key: str) -> str:
        part = node.items.get(key) if node is not None else None
        return part.text.strip() if isinstance(part, Leaf) else ""

    def _tell(self, path: str, allowed: str, got: str, at: Node, why: str = "", remedy: str = "") -> None:
        place: Place = at.place
        if isinstance(at, Branch):
            key = path.rsplit(".", 1)[-1]
            place = at.key_places.get(key, at.place)
        self.faults.append(Fault(path, allowed, got, why, place, remedy))


def worth_of(mapping: LogMapping, unit: str) -> Worth:
    """What a number in this unit stands for; raises QuantityError."""
    from onedatum.physics.loop import current_A, current_of_voltage_A

    if unit == COUNTS:
        if mapping.counts is None:
            raise QuantityError("one that is known", COUNTS, "what they stand for is not stated", "State counts")
        low, high = mapping.counts
        far = max(low, high, key=abs)
        return Worth(False, float(current_A(0.0, low, high)), float(current_A(far, low, high)), far)
    value, kind = _of_one(unit)
    if kind == "length":
        return Worth(True, 0.0, value)
    if kind == "share of span":
        return Worth(False, float(current_A(0.0, 0.0, 1.0)), float(current_A(value, 0.0, 1.0)))
    if kind == "voltage":
        if mapping.resistor_ohm is None:
            raise QuantityError(
                "one that is known", unit, "on which resistor it is read is not stated", "State resistor"
            )
        value = float(current_of_voltage_A(value, mapping.resistor_ohm))
    return Worth(False, 0.0, value)
