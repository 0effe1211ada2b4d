"""The circuit diagram on its sheet: the widest labels with which everything stands clear, and the heights."""

from dataclasses import dataclass

from onedatum.paper.loop.elements import Words, elements_of
from onedatum.paper.loop.lines import Line, wrapped
from onedatum.paper.loop.model import LoopDrawing
from onedatum.paper.loop.places import Element, stood
from onedatum.paper.loop.symbols import Rails, draw_figure, draw_rails, draw_shared_outline
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Anchor, Style, Svg

MARGIN_PX, PITCH_PX = 10.0, 14.0
ROOMS_PX = (180.0, 160.0, 142.0, 126.0, 112.0, 100.0, 88.0, 78.0, 68.0)
LOOP_PX, OVER_PX, UNDER_PX, UNDER_EARTH_PX = 88.0, 27.0, 27.0, 48.0
BORDER_GAP_PX, BORDER_LINES = 9.0, 3
BORDER_DASH = "9 4"


@dataclass(frozen=True, slots=True)
class Boundary:
    """The boundary to the hazardous area: where it stands and the words on both sides."""

    x_px: float
    left: tuple[Line, ...]
    right: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Circuit:
    """The circuit diagram with everything in its place, heights counted from its own top."""

    spots: tuple[tuple[Element, float], ...]
    boundary: Boundary | None
    rails: Rails
    height_px: float
    numbered: bool
    """Whether the elements carry numbers that a list explains."""


def circuit_of(drawing: LoopDrawing, width_px: float, look: Look) -> Circuit | None:
    """The circuit diagram for a width; None where there is nothing to draw or no room for it."""
    if not drawing.parts:
        return None
    for words in (*(Words(look, room) for room in ROOMS_PX), Words(look, numbers=True)):
        elements = elements_of(drawing, words)
        spots = None if elements is None else stood(elements, MARGIN_PX, width_px - MARGIN_PX)
        if spots is not None:
            return with_heights(tuple(spots), boundary_of(drawing, spots, width_px, look), words.numbers)
    return None


def boundary_of(
    drawing: LoopDrawing, spots: list[tuple[Element, float]], width_px: float, look: Look
) -> Boundary | None:
    """The boundary with its words, each as wide as its side of the sheet lets it be."""
    places = [x for element, x in spots if element.figure == "boundary"]
    if drawing.border is None or not places:
        return None
    x, style = places[0], Style(look.mark_size, look.ink, True)
    room = x - BORDER_GAP_PX - MARGIN_PX, width_px - MARGIN_PX - x - BORDER_GAP_PX
    left = wrapped(drawing.border.text_left, style, room[0], BORDER_LINES)
    return Boundary(x, left, wrapped(drawing.border.text_right, style, room[1], BORDER_LINES))


def with_heights(spots: tuple[tuple[Element, float], ...], boundary: Boundary | None, numbered: bool) -> Circuit:
    """From the top: words of the boundary, words over the loop, the loop, words under it."""
    head = 0.0 if boundary is None else max(len(boundary.left), len(boundary.right)) * PITCH_PX + 6
    over = max(len(element.above) for element, _ in spots) * PITCH_PX
    plus = head + over + OVER_PX - 2
    depths = [under_px(element) + PITCH_PX * (len(element.below) - 1) for element, _ in spots if element.below]
    barrier = any(element.figure == "barrier" for element, _ in spots)
    foot = max([*depths, UNDER_EARTH_PX - PITCH_PX if barrier else 12.0])
    return Circuit(spots, boundary, Rails(plus, plus + LOOP_PX), plus + LOOP_PX + foot + 6, numbered)


def under_px(element: Element) -> float:
    """How far under the loop the first words of an element stand."""
    return UNDER_EARTH_PX if element.figure == "barrier" else UNDER_PX


def draw_circuit(svg: Svg, circuit: Circuit, top_px: float, look: Look) -> None:
    """From the back to the front: boundary, conductors, figures, words."""
    rails = circuit.rails.moved(top_px)
    if circuit.boundary is not None:
        draw_boundary(svg, circuit.boundary, top_px, top_px + circuit.height_px, look)
    draw_rails(svg, circuit.spots, rails, look)
    draw_shared_outline(svg, circuit.spots, rails, look)
    for element, x in circuit.spots:
        draw_figure(svg, element, x, rails, look)
        first = rails.plus_px - OVER_PX - PITCH_PX * (len(element.above) - 1)
        draw_words(svg, element, x, element.above, first)
        draw_words(svg, element, x, element.below, rails.minus_px + under_px(element))


def draw_boundary(svg: Svg, boundary: Boundary, top_px: float, foot_px: float, look: Look) -> None:
    """A dashed line through the whole diagram, the words on both sides at its top."""
    svg.line(boundary.x_px, top_px, boundary.x_px, foot_px, look.ink, 1.2, BORDER_DASH)
    sides: tuple[tuple[tuple[Line, ...], float, Anchor], ...] = (
        (boundary.left, -BORDER_GAP_PX, "end"),
        (boundary.right, BORDER_GAP_PX, "start"),
    )
    for lines, away, anchor in sides:
        for i, line in enumerate(lines):
            svg.text(boundary.x_px + away, top_px + 9 + PITCH_PX * i, line.text, line.style, anchor)


def draw_words(svg: Svg, element: Element, x_px: float, lines: tuple[Line, ...], first_px: float) -> None:
    """The words of an element, flush with the ends of the loop, else centred."""
    anchor: Anchor = "middle"
    if element.at_end:
        span = element.spans.plus or (0.0, 0.0)
        anchor, x_px = ("start", x_px + span[0]) if element.figure == "supply" else ("end", x_px + span[1])
    for i, line in enumerate(lines):
        svg.text(x_px, first_px + PITCH_PX * i, line.text, line.style, anchor)
