"""The figures of the circuit diagram, in the plain lines of IEC 60617 (from memory); dashed where unknown."""

from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin

from onedatum.paper.loop.elements import HALVES
from onedatum.paper.loop.places import Element, runs_between
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, Svg, points

WIRE, LINE, UNKNOWN_DASH, CHAIN = 1.5, 1.3, "4 2.5", "10 3 2 3"
CORNERS = 32
BOX_PX = 12.0
"""How far a box reaches beyond the conductors."""
CORE_PX, SHEATH_PX, FAN_PX = 6.0, 11.0, 20.0
BRACKET_PX, LIP_PX = 15.0, 6.0
HEAD_PX, AROUND_PX = 20.0, 5.0
PLUS, MINUS = "+", "−"


@dataclass(frozen=True, slots=True)
class Rails:
    """The heights of the two conductors on the sheet."""

    plus_px: float
    minus_px: float

    @property
    def mid_px(self) -> float:
        """Half way between."""
        return (self.plus_px + self.minus_px) / 2

    def moved(self, down_px: float) -> "Rails":
        """The same further down."""
        return Rails(self.plus_px + down_px, self.minus_px + down_px)


def draw_rails(svg: Svg, spots: tuple[tuple[Element, float], ...], rails: Rails, look: Look) -> None:
    """Both conductors, left out where a figure stands in them."""
    for a, b in runs_between(spots, "plus"):
        svg.line(a, rails.plus_px, b, rails.plus_px, look.ink, WIRE)
    for a, b in runs_between(spots, "minus"):
        svg.line(a, rails.minus_px, b, rails.minus_px, look.ink, WIRE)


def draw_figure(svg: Svg, element: Element, x_px: float, rails: Rails, look: Look) -> None:
    """One figure at its place."""
    dash = "" if element.part is None or element.part.known else UNKNOWN_DASH
    match element.figure:
        case "supply":
            draw_source(svg, x_px, rails, dash, element.at_end, look)
        case "transmitter":
            draw_transmitter(svg, x_px, rails, dash, element.at_end, look)
        case "input resistor" | "other":
            draw_resistor(svg, x_px, rails, dash, element.figure == "other", look)
        case "test resistor":
            draw_test_resistor(svg, x_px, rails, dash, look)
        case "barrier":
            draw_barrier(svg, x_px, rails, dash, look)
        case "isolator":
            draw_isolator(svg, x_px, rails, dash, look)
        case "cable":
            draw_cable(svg, element, x_px, rails, dash, look)
        case "arrow":
            draw_arrow(svg, x_px, rails, look)
        case "terminals":
            draw_terminals(svg, x_px, rails, look)
        case "boundary":
            pass


def draw_source(svg: Svg, x_px: float, rails: Rails, dash: str, closes: bool, look: Look) -> None:
    """A source of direct current: two parallel strokes, the long one positive; across the loop or in the conductor."""
    if not closes:
        half = HALVES["supply"]
        svg.line(x_px - half, rails.plus_px - 8, x_px - half, rails.plus_px + 8, look.ink, 2.6, dash)
        svg.line(x_px + half, rails.plus_px - 14, x_px + half, rails.plus_px + 14, look.ink, LINE, dash)
        return
    upper, lower = rails.mid_px - 4, rails.mid_px + 4
    svg.line(x_px, rails.plus_px, x_px, upper, look.ink, WIRE)
    svg.line(x_px, lower, x_px, rails.minus_px, look.ink, WIRE)
    svg.line(x_px - 13, upper, x_px + 13, upper, look.ink, LINE + 0.2, dash)
    svg.line(x_px - 7, lower, x_px + 7, lower, look.ink, 3.0, dash)
    sign = Style(look.readout_size, look.ink)
    svg.text(x_px + 8, upper - 6, PLUS, sign)
    svg.text(x_px + 8, lower + 14, MINUS, sign)


def draw_transmitter(svg: Svg, x_px: float, rails: Rails, dash: str, closes: bool, look: Look) -> None:
    """A circle with the letters of a level transmitter; it closes the loop, or stands in the conductor."""
    radius, y = (HEAD_PX, rails.mid_px) if closes else (HALVES["transmitter"], rails.plus_px)
    if closes:
        svg.line(x_px, rails.plus_px, x_px, y - radius, look.ink, WIRE)
        svg.line(x_px, y + radius, x_px, rails.minus_px, look.ink, WIRE)
        sign = Style(look.readout_size, look.ink)
        svg.text(x_px - 6, rails.plus_px + 15, PLUS, sign, "end")
        svg.text(x_px - 6, rails.minus_px - 7, MINUS, sign, "end")
    ring(svg, x_px, y, radius, look.ink, LINE, dash)
    svg.text(x_px, y + 4.5, "LT", Style(look.readout_size, look.ink, True), "middle")


def draw_shared_outline(svg: Svg, spots: tuple[tuple[Element, float], ...], rails: Rails, look: Look) -> None:
    """A thin chain line around an input resistor and the test resistor that is a part of it."""
    for (first, x), (second, x_next) in pairwise(spots):
        if second.joined and first.spans.minus is not None and second.spans.minus is not None:
            left, right = x + first.spans.minus[0] - AROUND_PX, x_next + second.spans.minus[1] + AROUND_PX
            top, foot = rails.minus_px - 25, rails.minus_px + BOX_PX
            corners = [(left, top), (right, top), (right, foot), (left, foot)]
            svg.path(points(corners) + "Z", look.secondary, 0.7, CHAIN)


def draw_resistor(svg: Svg, x_px: float, rails: Rails, dash: str, on_plus: bool, look: Look) -> None:
    """A plain rectangle in the conductor."""
    half, y = HALVES["other" if on_plus else "input resistor"], rails.plus_px if on_plus else rails.minus_px
    box(svg, x_px - half, y - 7.5, x_px + half, y + 7.5, look, dash)


def draw_test_resistor(svg: Svg, x_px: float, rails: Rails, dash: str, look: Look) -> None:
    """A smaller rectangle with a test point on either side of it."""
    y, reach, half = rails.minus_px, HALVES["test resistor"], 10.0
    box(svg, x_px - half, y - 5, x_px + half, y + 5, look, dash)
    for side in (-1, 1):
        svg.line(x_px + side * half, y, x_px + side * reach, y, look.ink, WIRE)
        x = x_px + side * (reach - 2)
        svg.line(x, y, x, y - 13, look.ink, 1.0)
        ring(svg, x, y, 1.6, look.ink, 1.0, fill=look.ink)
        ring(svg, x, y - 16, 3.0, look.ink, LINE)


def draw_barrier(svg: Svg, x_px: float, rails: Rails, dash: str, look: Look) -> None:
    """A box with the sign of a breakdown diode, whose lead goes to earth."""
    half, y, foot = HALVES["barrier"], rails.mid_px, rails.minus_px + BOX_PX
    box(svg, x_px - half, rails.plus_px - BOX_PX, x_px + half, foot, look, dash)
    svg.line(x_px, y - 26, x_px, y - 8, look.ink, 1.0)
    svg.path(points([(x_px - 8, y + 7), (x_px + 8, y + 7), (x_px, y - 7)]) + "Z", look.ink, 1.0)
    svg.path(points([(x_px - 11, y - 3), (x_px - 8, y - 7), (x_px + 8, y - 7), (x_px + 11, y - 11)]), look.ink, LINE)
    svg.line(x_px, y + 7, x_px, foot + 10, look.ink, 1.0)
    for i, wide in enumerate((11.0, 7.0, 3.0)):
        svg.line(x_px - wide, foot + 10 + 4 * i, x_px + wide, foot + 10 + 4 * i, look.ink, LINE)


def draw_isolator(svg: Svg, x_px: float, rails: Rails, dash: str, look: Look) -> None:
    """Two boxes with a gap between them in one housing: no conductor goes across."""
    half, top, foot = HALVES["isolator"], rails.plus_px - BOX_PX, rails.minus_px + BOX_PX
    sign = Style(look.readout_size, look.ink)
    for near, far in ((-5.0, -half), (5.0, half)):
        box(svg, x_px + near, top, x_px + far, foot, look, dash)
        svg.text(x_px + (near + far) / 2, rails.plus_px + 4, PLUS, sign, "middle")
        svg.text(x_px + (near + far) / 2, rails.minus_px + 4, MINUS, sign, "middle")


def draw_cable(svg: Svg, element: Element, x_px: float, rails: Rails, dash: str, look: Look) -> None:
    """Both conductors drawn together as the cores of a sheathed cable, and a bracket over its length."""
    _, half = element.spans.plus or (0.0, HALVES["cable"])
    left, right, y = x_px - half, x_px + half, rails.mid_px
    inner = left + FAN_PX, right - FAN_PX
    sheath = [(inner[0] + 6, y - SHEATH_PX), (inner[1] - 6, y - SHEATH_PX)]
    sheath += [(x, 2 * y - at) for x, at in reversed(sheath)]
    svg.path(points(sheath) + "Z", look.secondary, 1.0, dash, look.tint)
    for at, core in ((rails.plus_px, y - CORE_PX), (rails.minus_px, y + CORE_PX)):
        svg.path(points([(left, at), (inner[0], core), (inner[1], core), (right, at)]), look.ink, WIRE)
    over = rails.plus_px - BRACKET_PX
    svg.path(points([(left, over + LIP_PX), (left, over), (right, over), (right, over + LIP_PX)]), look.secondary, 0.9)


def draw_arrow(svg: Svg, x_px: float, rails: Rails, look: Look) -> None:
    """The direction of the current."""
    y = rails.plus_px
    svg.path(points([(x_px - 5, y - 4.5), (x_px + 6, y), (x_px - 5, y + 4.5)]) + "Z", look.ink, 0.3, fill=look.ink)
    svg.text(x_px, y + 18, "I", Style(look.readout_size, look.ink), "middle")


def draw_terminals(svg: Svg, x_px: float, rails: Rails, look: Look) -> None:
    """An end of the loop of which nothing is stated: two open terminals."""
    sign = Style(look.readout_size, look.ink)
    for y, text, away in ((rails.plus_px, PLUS, 17.0), (rails.minus_px, MINUS, -9.0)):
        ring(svg, x_px, y, 3.2, look.ink, LINE, fill=look.sheet)
        svg.text(x_px, y + away, text, sign, "middle")


def box(svg: Svg, left: float, top: float, right: float, foot: float, look: Look, dash: str) -> None:
    """A rectangle in lines."""
    svg.path(points([(left, top), (right, top), (right, foot), (left, foot)]) + "Z", look.ink, LINE, dash)


def ring(svg: Svg, x: float, y: float, radius: float, stroke: str, wide: float, dash: str = "", fill: str = "") -> None:
    """A circle, drawn as a polygon of many sides."""
    turns = [2 * pi * i / CORNERS for i in range(CORNERS)]
    svg.path(
        points([(x + radius * cos(t), y + radius * sin(t)) for t in turns]) + "Z", stroke, wide, dash, fill or "none"
    )
