"""From the parts of a loop to the figures of its circuit diagram, in order, each with its words."""

from dataclasses import dataclass, replace

from onedatum.paper.loop.lines import Line, stands_whole, widest_px, wrapped
from onedatum.paper.loop.model import Kind, LoopDrawing, Part
from onedatum.paper.loop.places import Element, Figure, Span, Spans
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style

ORDER: dict[Kind, int] = {"supply": 0, "transmitter": 2}
AMONG = 1
BELOW: tuple[Kind, ...] = ("input resistor", "test resistor")
UNKNOWN = "unknown"
LINES_OF_TEXT, LINES_OF_LABEL = 3, 8

TERMINAL_PX, ARROW_PX, BOUNDARY_PX, EARTH_PX = 5.0, 9.0, 5.0, 12.0
ENDS: dict[Kind, Span] = {"supply": (-13.0, 16.0), "transmitter": (-20.0, 20.0)}
HALVES: dict[Kind, float] = {
    "supply": 5.0,
    "barrier": 20.0,
    "isolator": 28.0,
    "input resistor": 17.0,
    "test resistor": 17.0,
    "other": 20.0,
    "cable": 34.0,
    "transmitter": 16.0,
}


@dataclass(frozen=True, slots=True)
class Words:
    """How the words at the elements are set: the widest a label may be, or numbers that a list explains."""

    look: Look
    room_px: float = 0.0
    numbers: bool = False

    def name_style(self) -> Style:
        """The name of an element."""
        return Style(self.look.mark_size, self.look.ink, True)

    def line_style(self, text: str) -> Style:
        """What stands under the name; what is missing is red besides saying so."""
        missing = UNKNOWN in text.lower()
        return Style(self.look.tick_size, self.look.blocks if missing else self.look.ink)


def arranged(drawing: LoopDrawing) -> tuple[Part, ...]:
    """The supply first, the transmitter last, the others in the order given."""
    return tuple(sorted(drawing.parts, key=lambda part: ORDER.get(part.kind, AMONG)))


def texts_of(part: Part) -> tuple[str, ...]:
    """The lines of an element; one of them says so where it is not known."""
    said = part.known or any(UNKNOWN in line.lower() for line in part.lines)
    return part.lines if said else (*part.lines, UNKNOWN)


def elements_of(drawing: LoopDrawing, words: Words) -> tuple[Element, ...] | None:
    """All figures from the left to the right; None where a label does not stand whole in the room."""
    parts = arranged(drawing)
    labels = [label_of(part, number, words) for number, part in enumerate(parts, 1)]
    earth = earth_of(drawing, words)
    if earth is None or any(label is None for label in labels):
        return None
    found = figures(parts, [label or () for label in labels], earth)
    if drawing.border is not None:
        found.insert(border_place(found), plain("boundary", BOUNDARY_PX, ("above", "plus", "minus", "below")))
    return tuple(found)


def figures(parts: tuple[Part, ...], labels: list[tuple[Line, ...]], earth: tuple[Line, ...]) -> list[Element]:
    """The elements with the ends of the loop, and an arrow for the current in each loop."""
    found = [] if parts[0].kind == "supply" else [terminals(), arrow()]
    barriers = 0
    for i, (part, label) in enumerate(zip(parts, labels, strict=True)):
        closes = (i == 0 and part.kind == "supply") or (i == len(parts) - 1 and part.kind == "transmitter")
        barriers += part.kind == "barrier"
        element = element_of(part, label, earth if part.kind == "barrier" and barriers == 1 else (), closes)
        joined = part.kind == "test resistor" and i > 0 and parts[i - 1].kind == "input resistor"
        found.append(replace(element, joined=joined))
        if part.kind == "isolator" or (closes and part.kind == "supply"):
            found.append(arrow())
    return found if parts[-1].kind == "transmitter" else [*found, terminals()]


def element_of(part: Part, label: tuple[Line, ...], earth: tuple[Line, ...], closes: bool) -> Element:
    """One part as a figure, with the room that it and its words take."""
    half = HALVES[part.kind]
    span = ENDS[part.kind] if closes else (-half, half)
    words = word_span(label, span, part.kind if closes else "")
    if part.kind in BELOW:
        return Element(part.kind, Spans(minus=span, below=words), part, below=label)
    on_both = closes or part.kind in ("barrier", "isolator", "cable")
    low, high = word_span(earth, (0.0, 0.0), "")
    under = (min(low, -EARTH_PX), max(high, EARTH_PX)) if part.kind == "barrier" else None
    spans = Spans(above=words, plus=span, minus=span if on_both else None, below=under)
    return Element(part.kind, spans, part, closes, above=label, below=earth)


def word_span(lines: tuple[Line, ...], span: Span, end: str) -> Span:
    """How far the words of a figure reach: flush with it at the ends of the loop, else evenly."""
    wide = widest_px(lines)
    if end == "supply":
        return span[0], span[0] + wide
    if end == "transmitter":
        return span[1] - wide, span[1]
    return -wide / 2, wide / 2


def label_of(part: Part, number: int, words: Words) -> tuple[Line, ...] | None:
    """Name and lines of a part, or its number."""
    if words.numbers:
        return (Line(str(number), words.name_style()),)
    texts = [(part.name, words.name_style()), *((text, words.line_style(text)) for text in texts_of(part))]
    return whole_lines(texts, words.room_px)


def earth_of(drawing: LoopDrawing, words: Words) -> tuple[Line, ...] | None:
    """The words at the earth of a barrier; none where a list gives them."""
    if words.numbers or not has_barrier(drawing):
        return ()
    return whole_lines([(drawing.earth, words.line_style(drawing.earth))], words.room_px)


def whole_lines(texts: list[tuple[str, Style]], room_px: float) -> tuple[Line, ...] | None:
    """All texts in lines; None where one would have to be cut or broken within a word, or they are too many."""
    if not all(stands_whole(text, style, room_px, LINES_OF_TEXT) for text, style in texts):
        return None
    lines = tuple(line for text, style in texts for line in wrapped(text, style, room_px, LINES_OF_TEXT))
    return lines if len(lines) <= LINES_OF_LABEL else None


def has_barrier(drawing: LoopDrawing) -> bool:
    """Whether there is a shunt-diode barrier, which stands on an earth."""
    return any(part.kind == "barrier" for part in drawing.parts)


def border_place(found: list[Element]) -> int:
    """Where the boundary to the hazardous area stands: after barriers and isolators, else before the cable."""
    kinds = [element.figure for element in found]
    guarded = [i + 1 for i, kind in enumerate(kinds) if kind in ("barrier", "isolator")]
    if guarded:
        return guarded[-1]
    return next((i for i, kind in enumerate(kinds) if kind in ("cable", "transmitter") and i > 0), len(kinds) - 1)


def plain(figure: Figure, half_px: float, lanes: tuple[str, ...]) -> Element:
    """A figure without words."""
    return Element(figure, Spans(**dict.fromkeys(lanes, (-half_px, half_px))))


def arrow() -> Element:
    """The arrow of the current."""
    return plain("arrow", ARROW_PX, ("plus",))


def terminals() -> Element:
    """An open end of the loop."""
    spans = plain("terminals", TERMINAL_PX, ("plus", "minus")).spans
    return Element("terminals", spans, at_end=True)


def border_words(drawing: LoopDrawing) -> str:
    """Both sides of the boundary in one line."""
    border = drawing.border
    return "" if border is None else " | ".join(text for text in (border.text_left, border.text_right) if text)
