"""The kinds of leaves of a case: how each is read, what it refuses, how it looks in the JSON Schema.

A leaf that cannot be read is noted as a fault and stays *faulty*, which counts as unknown; reading goes on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, core_schema

from onedatum import data
from onedatum.case.leaf import Leaf, Rows, Side, Text, Value, Word
from onedatum.case.reader import Notes, Stated, opened
from onedatum.case.tree import Branch, Node, Row
from onedatum.case.tree import Leaf as Scalar
from onedatum.case.uncertain import UNCERTAINTY_KEYS, uncertainty_of
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.units import dimension, hint, read_pressure, read_quantity
from onedatum.foundation.working import Interval, State, spell_limit, suffix_of_unit

PRESSURE = "pressure (either)"
_DIFFERENCES: Mapping[str, str] = {
    "temperature": "temperature difference",
    PRESSURE: "pressure difference",
    "pressure (absolute)": "pressure difference",
    "pressure (gauge)": "pressure difference",
}
"""What an uncertainty is measured in, where it is not the kind of the value itself."""
RANGE_KEYS = ("min", "max")


@dataclass(frozen=True)
class Kind:
    """What all kinds share: a title for people, the side that can know it, and the hook into pydantic."""

    title: str
    side: Side = "process"

    def read(self, node: Node, notes: Notes) -> Leaf:
        """The leaf at a node; what is wrong with it goes into the notes."""
        raise NotImplementedError

    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the leaf."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(node: Node, info: ValidationInfo) -> Leaf:
            return self.read(node, info.context)  # type: ignore[arg-type]

        return core_schema.with_info_plain_validator_function(read)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"title": self.title} | self.schema()

    def common(self, stated: Stated) -> dict[str, Any]:
        """The fields every leaf takes from what was stated."""
        return {
            "path": stated.path,
            "title": self.title,
            "side": self.side,
            "state": stated.state,
            "text": stated.text,
            "place": stated.place,
            "by": stated.by,
            "note": stated.note,
            "source": stated.source,
            "asked": stated.asked,
            "parts": tuple(
                (key, part.text)
                for key, part in stated.parts.items()
                if isinstance(part, Scalar) and key not in ("value", "normal")
            ),
        }


@dataclass(frozen=True)
class Quantity(Kind):
    """A number with its unit: `dimension` and the range allowed, in SI, in bracket notation."""

    dimension: str = "length"
    allowed: str = ""
    words: tuple[str, ...] = ()
    """Words that may stand in place of a number."""
    companions: Mapping[str, Kind] = field(default_factory=dict)
    why: str = ""
    """Why the range is what it is."""
    ranged: bool = False
    """Whether a chapter reads the ends of a range; elsewhere a range is refused rather than half read."""
    whole: bool = False
    """Whether it counts things, so that only a whole number makes sense."""
    example: str = ""
    """How the value may be stated, where the example of its dimension would mislead."""

    @property
    def stated_like(self) -> str:
        """An example of how the value is stated."""
        return self.example or dimension(self.dimension).example

    def read(self, node: Node, notes: Notes) -> Value:
        own = ("value", "normal", *RANGE_KEYS, *UNCERTAINTY_KEYS, *self.companions)
        stated = opened(node, notes, own)
        if stated.state not in ("stated", "assumed"):
            return self._unknown(stated, stated.state)
        count_before = notes.count
        if stated.text in self.words:
            value = Value(**self.common(stated), suffix=self.suffix, word=stated.text)
        else:
            value = self._number(stated, notes)
        if notes.count > count_before:
            return self._unknown(stated, "faulty")
        return value

    @property
    def suffix(self) -> str:
        """The unit suffix of the value in SI."""
        return "Pa_gauge" if self.dimension == PRESSURE else suffix_of_unit(dimension(self.dimension).si)

    def _unknown(self, stated: Stated, state: State) -> Value:
        return Value(**{**self.common(stated), "state": state}, suffix=self.suffix)

    def schema(self) -> dict[str, Any]:
        text = {"type": _TEXT, "examples": [self.stated_like, "unknown", *self.words]}
        keys = {key: {"type": _TEXT} for key in ("normal", *RANGE_KEYS, *UNCERTAINTY_KEYS)}
        return _either(text, keys | {key: kind.schema() for key, kind in self.companions.items()})

    def _number(self, stated: Stated, notes: Notes) -> Value:
        si, suffix = self._si(stated.leaf, self.dimension, notes)
        self._refuse_outside(si, suffix, stated.leaf, stated.path, notes)
        self._refuse_fraction(si, stated, notes)
        low, high = (self._end(stated, key, suffix, notes) for key in RANGE_KEYS)
        self._refuse_range(stated, notes)
        companions = {
            key: kind.read(node, notes) for key, kind in self.companions.items() if (node := stated.parts.get(key))
        }
        for key in self.companions.keys() - companions.keys():
            if stated.leaf is not None:
                notes.fault(stated.leaf, f"stated with {key}, as in {self.stated_like}", stated.text, path=stated.path)
        return Value(
            **self.common(stated),
            si=si,
            suffix=suffix,
            low=low,
            high=high,
            uncertainty=uncertainty_of(
                stated,
                notes,
                lambda node: self._size(node, si, notes),
                lambda node: self._si(node, "number", notes)[0],
            ),
            companions=companions,  # type: ignore[arg-type]
        )

    def _refuse_fraction(self, si: float | None, stated: Stated, notes: Notes) -> None:
        """What counts things is a whole number; a fraction is a slip or a range, and neither is guessed at."""
        if self.whole and si is not None and not si.is_integer() and stated.leaf is not None:
            why, remedy = "it counts things", f"State it as a whole number, as in {self.stated_like}"
            notes.fault(stated.leaf, "a whole number", stated.text, why, remedy, path=stated.path)

    def _refuse_range(self, stated: Stated, notes: Notes) -> None:
        ends = [stated.parts[key] for key in RANGE_KEYS if key in stated.parts]
        if ends and not self.ranged:
            why = "a range is not worked here yet, and half of it would be lost silently"
            notes.fault(
                ends[0], "one value, the end that is worse for the measurement", "a range", why, path=stated.path
            )

    def _end(self, stated: Stated, key: str, suffix: str, notes: Notes) -> float | None:
        """One end of a range; a pressure counts from where the value itself counts from."""
        node = stated.parts.get(key)
        si, own_suffix = self._si(node, self.dimension, notes)
        if si is not None and suffix and own_suffix != suffix and node is not None:
            reference = "(a)" if suffix == "Pa_abs" else "(g)"
            why = "all ends of a range count from the same"
            notes.fault(node, f"stated with {reference} as the value", getattr(node, "text", ""), why)
        self._refuse_outside(si, own_suffix, node, stated.path, notes)
        return si

    def _si(self, node: Node | None, dimension_word: str, notes: Notes) -> tuple[float | None, str]:
        if node is None:
            return None, ""
        if not isinstance(node, Scalar):
            notes.fault(node, dimension(dimension_word).allowed, "a list or a mapping")
            return None, ""
        try:
            if dimension_word == PRESSURE:
                pressure = read_pressure(node.text)
                return pressure.pressure_Pa, "Pa_abs" if pressure.reference == "absolute" else "Pa_gauge"
            return read_quantity(node.text, dimension_word), suffix_of_unit(dimension(dimension_word).si)
        except QuantityError as error:
            notes.fault(node, error.allowed, error.got, error.why, error.remedy)
            return None, ""

    def _refuse_outside(self, si: float | None, suffix: str, node: Node | None, path: str, notes: Notes) -> None:
        if si is None or not self.allowed or node is None or (interval := Interval.read(self.allowed)).holds(si):
            return
        notes.fault(node, self._in_words(interval, suffix), getattr(node, "text", ""), self.why, path=path)

    @property
    def allowed_in_words(self) -> str:
        """The range allowed, in the unit the value is usually stated in; "" where there is none."""
        return self._in_words(Interval.read(self.allowed), self.suffix) if self.allowed else ""

    def _in_words(self, interval: Interval, suffix: str) -> str:
        low, high = spell_limit(interval.low, suffix, self._shown), spell_limit(interval.high, suffix, self._shown)
        return f"{'above' if interval.open_low else 'from'} {low} {'and below' if interval.open_high else 'to'} {high}"

    @property
    def _shown(self) -> str:
        return dimension(self.dimension).shown

    def _size(self, node: Node, si: float | None, notes: Notes) -> float | None:
        """An uncertainty in SI: in the unit of the value, or as a share of it (%value)."""
        difference = _DIFFERENCES.get(self.dimension, self.dimension)
        of_value = self.dimension != "share of value"
        if of_value and isinstance(node, Scalar) and node.text.strip().endswith("%value"):
            share = self._si(node, "share of value", notes)[0]
            size = None if share is None or si is None else abs(si) * share
        else:
            size = self._si(node, difference, notes)[0]
        if size is not None and size < 0:
            notes.fault(node, "zero or more", getattr(node, "text", ""), "an uncertainty is a width")
            return None
        return size


@dataclass(frozen=True)
class Choice(Kind):
    """One of a few words."""

    words: tuple[str, ...] = ()
    elsewhere: str = ""
    """A table of words that have no place here, and what to use instead of each."""

    def read(self, node: Node, notes: Notes) -> Word:
        stated = opened(node, notes, ("value",))
        if stated.state not in ("stated", "assumed"):
            return Word(**self.common(stated))
        if stated.text not in self.words:
            allowed, remedy = f"one of: {'; '.join(self.words)}", self._instead(stated.text)
            notes.fault(stated.leaf or node, allowed, repr(stated.text), remedy=remedy)
            return Word(**{**self.common(stated), "state": "faulty"})
        return Word(**self.common(stated), word=stated.text)

    def _instead(self, word: str) -> str:
        """What to write in place of a word that is not offered."""
        known: Mapping[str, str] = data.table(self.elsewhere)["instead"] if self.elsewhere else {}
        return known.get(word.strip().lower()) or hint(word, self.words)

    def schema(self) -> dict[str, Any]:
        numbers = [int(word) for word in self.words if word.isdigit()]
        return _either({"enum": list(dict.fromkeys([*self.words, *numbers, "unknown", "none", None]))})


@dataclass(frozen=True)
class Listing(Kind):
    """A list of sections; `none` says that there is nothing to list."""

    of: Any = None
    """The class of the sections; they hold leaves only."""
    longest: int = 400
    whole: bool = False
    """Whether a row that says nothing is refused at its place."""

    def read(self, node: Node, notes: Notes) -> Rows:
        if isinstance(node, Branch):
            notes.fault(node, f"a list, each with {', '.join(self.of.keys().values())}", "a mapping")
            return Rows(node.path, self.title, self.side, "faulty", place=node.place)
        if not isinstance(node, Row):
            stated = opened(node, notes, ("value",))
            if stated.state in ("stated", "assumed"):
                notes.fault(node, f"a list, each with {', '.join(self.of.keys().values())}", repr(stated.text))
                return Rows(**{**self.common(stated), "state": "faulty"})
            return Rows(**self.common(stated))
        if len(node.items) > self.longest:
            notes.fault(node, f"at most {self.longest} of them", f"{len(node.items)}")
        for item in node.items[: self.longest] if self.whole else ():
            self._refuse_empty(item, notes)
        items = tuple(self.of.model_validate(item, context=notes) for item in node.items[: self.longest])
        text = f"{len(items)} listed"
        return Rows(node.path, self.title, self.side, "stated", text, node.place, items=items)

    def _refuse_empty(self, row: Node, notes: Notes) -> None:
        written = row.text.strip() if isinstance(row, Scalar) else ""
        empty = isinstance(row, Branch) and not row.items
        if empty or (isinstance(row, Scalar) and written in ("", "unknown", "none")):
            allowed = f"a mapping with the keys {', '.join(self.of.keys().values())}"
            notes.fault(row, allowed, written or "nothing", "a row that says nothing is left away")

    def schema(self) -> dict[str, Any]:
        keys = self.of.model_json_schema(by_alias=True)
        return {"anyOf": [{"type": "array", "items": keys}, {"enum": ["unknown", "none", None]}]}


@dataclass(frozen=True)
class FreeText(Kind):
    """Any text of reasonable length."""

    side: Side = "paper"
    longest: int = 2000

    def read(self, node: Node, notes: Notes) -> Text:
        stated = opened(node, notes, ("value",))
        if len(stated.text) > self.longest:
            notes.fault(stated.leaf or node, f"at most {self.longest} characters", f"{len(stated.text)} characters")
            return Text(**{**self.common(stated), "state": "faulty", "text": ""})
        return Text(**self.common(stated))

    def schema(self) -> dict[str, Any]:
        return _either({"type": _TEXT})


_TEXT = ["string", "number", "null"]
"""What a value may look like to an editor: the reader takes every value as text."""


def _either(plain: dict[str, Any], keys: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The plain form of a leaf or the long form, with the keys that its kind has beside the common ones."""
    common = {"value": plain, "basis": {"enum": ["stated", "assumed"]}}
    words = {key: {"type": _TEXT} for key in ("by", "note", "source")}
    properties = common | words | dict(keys or {})
    return {"anyOf": [plain, {"type": "object", "properties": properties, "additionalProperties": False}]}
