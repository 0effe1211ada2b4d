"""Where each node of a tree stands in its text, from its first sign to its last, for an edit at its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ruamel.yaml.events import Event

_COLON = re.compile(r"\s*:")


@dataclass(slots=True)
class Spot:
    """A node in the text: `text[start:end]`, comments behind it left out."""

    form: str
    """`leaf`, `branch` or `row`."""
    start: int
    end: int
    column: int
    flow: bool = False
    """Whether it stands in braces or brackets of its own."""
    text: str = ""
    style: str = ""
    """The quote or the sign of a text in lines; "" for a plain text."""
    empty: bool = False
    """Whether nothing stands there: `start` is the place behind the colon."""
    bare_key: bool = False
    """Whether it is empty and even the colon is missing."""
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)
    """Of a branch: where each key starts and ends."""
    items: dict[Any, Spot] = field(default_factory=dict)
    """By key or by index."""

    def moved(self, by: int) -> Spot:
        """The same so many characters further on, in lines of their own."""
        keys = {key: (start + by, end + by) for key, (start, end) in self.keys.items()}
        items = {key: item.moved(by) for key, item in self.items.items()}
        start, end = self.start + by, self.end + by
        return Spot(
            self.form, start, end, self.column, self.flow, self.text, self.style, self.empty, self.bare_key, keys, items
        )


def spots_of(events: tuple[Event, ...], text: str) -> Spot | None:
    """The spot of the root; None where the text holds no node. The events are those of a whole text."""
    from ruamel.yaml.events import NodeEvent

    run = iter(events)
    for event in run:
        if isinstance(event, NodeEvent):
            return _spot(event, run, text)
    return None


def comments_of(root: Spot, text: str) -> list[str]:
    """Every comment of the text, in order: a number sign outside of every scalar, up to the end of its line."""
    found: list[str] = []
    at = 0
    for start, end in [*_scalars(root), (len(text), len(text))]:
        found += re.findall(r"#[^\r\n]*", text[at:start])
        at = end
    return found


def _scalars(spot: Spot) -> Iterator[tuple[int, int]]:
    """The places of keys and of leaves, in the order of the text."""
    if spot.form == "leaf":
        yield spot.start, spot.end
    for key, item in spot.items.items():
        if key in spot.keys:
            yield spot.keys[key]
        yield from _scalars(item)


def _spot(event: Event, run: Iterator[Event], text: str) -> Spot:
    from ruamel.yaml import events

    start, end, column = event.start_mark.index, event.end_mark.index, event.start_mark.column
    if isinstance(event, events.MappingStartEvent):
        return _branch(Spot("branch", start, end, column, bool(event.flow_style)), run, text)
    if isinstance(event, events.SequenceStartEvent):
        return _row(Spot("row", start, end, column, bool(event.flow_style)), run, text)
    value = str(getattr(event, "value", ""))
    style = getattr(event, "style", None) or ""
    empty = start == end
    return Spot("leaf", start, end, column, text=value, style=style, empty=empty)


def _branch(spot: Spot, run: Iterator[Event], text: str) -> Spot:
    from ruamel.yaml.events import MappingEndEvent

    for event in run:
        if isinstance(event, MappingEndEvent):
            return _closed(spot, event)
        key = _spot(event, run, text)
        value = _spot(next(run), run, text)
        if value.empty:
            colon = _COLON.match(text, key.end)
            value.start = value.end = colon.end() if colon else key.end
            value.bare_key = colon is None
        name = key.text if key.form == "leaf" and key.text not in spot.items else f"\0{len(spot.items)}"
        spot.keys[name] = (key.start, key.end)
        spot.items[name] = value
        spot.end = value.end
    return spot


def _row(spot: Spot, run: Iterator[Event], text: str) -> Spot:
    from ruamel.yaml.events import SequenceEndEvent

    for event in run:
        if isinstance(event, SequenceEndEvent):
            return _closed(spot, event)
        item = _spot(event, run, text)
        if item.empty:
            item.start = item.end = spot.end
            item.bare_key = True
        spot.items[len(spot.items)] = item
        spot.end = item.end
    return spot


def _closed(spot: Spot, event: Event) -> Spot:
    if spot.flow:
        spot.end = event.end_mark.index
    return spot
