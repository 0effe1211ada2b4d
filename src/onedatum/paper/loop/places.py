"""Where the elements of the loop stand: in order, clear of one another, spread by the room their labels need."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from onedatum.paper.loop.lines import Line
from onedatum.paper.loop.model import Kind, Part

Figure = Kind | Literal["arrow", "boundary", "terminals"]
Span = tuple[float, float]
CABLE_SHARE = 0.45
"""Share of the free width that goes into drawing the cable longer; the rest parts the elements."""
GAPS_PX = (14.0, 7.0, 7.0, 14.0)
"""Least air between two elements in each lane."""
CABLE_AIR_PX = 14.0


class Spans(NamedTuple):
    """How far an element reaches left and right of its place, in each of the four lanes."""

    above: Span | None = None
    """The words over the loop."""
    plus: Span | None = None
    """The conductor above."""
    minus: Span | None = None
    """The conductor below."""
    below: Span | None = None
    """The words under the loop."""


@dataclass(frozen=True, slots=True)
class Element:
    """A figure of the circuit diagram with its words."""

    figure: Figure
    spans: Spans
    part: Part | None = None
    at_end: bool = False
    """Whether it closes the loop, standing between the conductors."""
    above: tuple[Line, ...] = ()
    below: tuple[Line, ...] = ()
    joined: bool = False
    """Whether it keeps close to the element before."""


def stood(elements: tuple[Element, ...], left_px: float, right_px: float) -> list[tuple[Element, float]] | None:
    """Each element with its place; None where they do not fit."""
    lows, highs = packed(elements, left_px), packed_back(elements, right_px)
    free = min((high - low for low, high in zip(lows, highs, strict=True)), default=0.0)
    if free < 0:
        return None
    longer = with_longer_cables(elements, free * CABLE_SHARE)
    lows, highs = packed(longer, left_px), packed_back(longer, right_px)
    spots = zip(longer, lows, highs, shares(longer), strict=True)
    return with_full_cables([(element, low + share * (high - low)) for element, low, high, share in spots])


def packed(elements: tuple[Element, ...], left_px: float) -> list[float]:
    """The places when all stand as far to the left as they can."""
    lows: list[float] = []
    for i, element in enumerate(elements):
        wanted = [left_px - span[0] for span in element.spans if span is not None]
        for before, low in zip(elements[:i], lows, strict=True):
            wanted += [low + apart for apart in distances(before, element)]
        lows.append(max(wanted, default=left_px))
    return lows


def packed_back(elements: tuple[Element, ...], right_px: float) -> list[float]:
    """The places when all stand as far to the right as they can."""
    mirrored = tuple(
        replace(e, spans=Spans(*(None if s is None else (-s[1], -s[0]) for s in e.spans))) for e in reversed(elements)
    )
    return [-x for x in reversed(packed(mirrored, -right_px))]


def distances(before: Element, after: Element) -> list[float]:
    """How far two elements must stand apart, for each lane in which both reach."""
    lanes = zip(before.spans, after.spans, GAPS_PX, strict=True)
    return [a[1] + gap - b[0] for a, b, gap in lanes if a is not None and b is not None]


def shares(elements: tuple[Element, ...]) -> list[float]:
    """How far each goes from its left to its right extreme: never less than the one before, so distances hold."""
    steps = [0 if element.joined else 1 for element in elements[1:]]
    total = max(sum(steps), 1)
    found = [0.0]
    for step in steps:
        found.append(found[-1] + step / total)
    return [min(share, 1.0) for share in found[: len(elements)]]


def with_longer_cables(elements: tuple[Element, ...], free_px: float) -> tuple[Element, ...]:
    """The cables drawn longer by the free width."""
    each = free_px / max(sum(e.figure == "cable" for e in elements), 1)
    return tuple(reaching(e, e.spans.plus[1] + each / 2) if is_cable(e) and e.spans.plus else e for e in elements)


def with_full_cables(spots: list[tuple[Element, float]]) -> list[tuple[Element, float]]:
    """Each cable drawn up to what stands beside it, evenly to both sides."""
    full = list(spots)
    for i, (element, x) in enumerate(spots):
        if is_cable(element):
            rooms = [abs(x - y) + nearest(other, x - y) for j, (other, y) in enumerate(full) if j != i]
            half = min((room for room in rooms if room > 0), default=0.0) - CABLE_AIR_PX
            own = element.spans.plus[1] if element.spans.plus else 0.0
            full[i] = reaching(element, max(half, own)), x
    return full


def nearest(other: Element, side_px: float) -> float:
    """How much nearer than its place an element reaches, on the conductors, towards a cable to its right or left."""
    reach = [s for s in (other.spans.plus, other.spans.minus) if s is not None]
    return -max(s[1] if side_px > 0 else -s[0] for s in reach) if reach else 0.0


def reaching(element: Element, half_px: float) -> Element:
    """The same element as wide on both conductors."""
    return replace(element, spans=element.spans._replace(plus=(-half_px, half_px), minus=(-half_px, half_px)))


def is_cable(element: Element) -> bool:
    """Whether it can be drawn longer."""
    return element.figure == "cable"


def runs_between(spots: Sequence[tuple[Element, float]], lane: Literal["plus", "minus"]) -> list[Span]:
    """The pieces of a conductor that are drawn, between the figures that stand in it."""
    cuts: list[float] = []
    for element, x in spots:
        span: Span | None = getattr(element.spans, lane)
        if element.at_end:
            cuts.append(x)
        elif span is not None and element.figure not in ("arrow", "boundary"):
            cuts += [x + span[0], x + span[1]]
    return [(a, b) for a, b in zip(cuts[::2], cuts[1::2], strict=True) if b > a]
