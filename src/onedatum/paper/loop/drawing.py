"""The loop drawing as SVG: title, circuit diagram, supply budget, longest cable, notes; as high as it needs to be."""

from dataclasses import dataclass
from math import isfinite

from onedatum.paper.loop.circuit import MARGIN_PX, PITCH_PX, Circuit, circuit_of, draw_circuit
from onedatum.paper.loop.elements import UNKNOWN, arranged, border_words, has_barrier, texts_of
from onedatum.paper.loop.grid import Grid, draw_grid, grid_of
from onedatum.paper.loop.lines import Line, wrapped
from onedatum.paper.loop.model import LoopDrawing
from onedatum.paper.loop.words import description
from onedatum.paper.ruler.look import PRINT, Look
from onedatum.paper.ruler.svg import Style, Svg

NARROWEST_PX, LEAST_PX, WIDEST_PX = 240.0, 100.0, 10_000.0
GAP_PX, KEY_PX, MOST_LINES = 16.0, 22.0, 6
NO_PARTS = "No drawing: no element of the loop is stated."
TOO_MANY = "No drawing: the loop has too many elements for the width of this sheet; they are listed."
TOO_NARROW = "No drawing: this sheet is too narrow."


@dataclass(frozen=True, slots=True)
class Entry:
    """Lines of text that follow one another under the circuit diagram, with the number they explain."""

    lines: tuple[Line, ...]
    number: str = ""
    gap_px: float = 3.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that stands on the sheet, from the top."""

    title: tuple[Line, ...]
    circuit: Circuit | None
    list: tuple[Entry, ...]
    grid: Grid | None
    foot: tuple[Entry, ...]

    def height_px(self) -> float:
        """Height of the sheet."""
        blocks = [block_px(self.list), self.grid.height_px() if self.grid else 0.0, block_px(self.foot)]
        high = PITCH_PX * len(self.title) + (self.circuit.height_px + GAP_PX / 2 if self.circuit else 0.0)
        return MARGIN_PX + high + sum(block + GAP_PX for block in blocks if block) + 2


def loop_svg(drawing: LoopDrawing, width_px: float = 760.0, look: Look = PRINT) -> str:
    """The whole drawing as SVG text; the same bytes for the same loop."""
    width_px = held_px(width_px)
    sheet = sheet_of(drawing, width_px, look)
    svg = Svg(width_px, sheet.height_px(), description(drawing), look.sheet)
    y = MARGIN_PX + 2
    for line in sheet.title:
        svg.text(MARGIN_PX, y + PITCH_PX - 4, line.text, line.style)
        y += PITCH_PX
    if sheet.circuit is not None:
        draw_circuit(svg, sheet.circuit, y + GAP_PX / 2, look)
        y += sheet.circuit.height_px + GAP_PX / 2
    y = draw_entries(svg, sheet.list, y, look)
    if sheet.grid is not None:
        draw_grid(svg, sheet.grid, MARGIN_PX, y + GAP_PX, look)
        y += sheet.grid.height_px() + GAP_PX
    draw_entries(svg, sheet.foot, y, look)
    return svg.done()


def loop_height_px(drawing: LoopDrawing, width_px: float = 760.0, look: Look = PRINT) -> float:
    """The height of sheet that the drawing takes at a width."""
    return sheet_of(drawing, held_px(width_px), look).height_px()


def held_px(width_px: float) -> float:
    """A width of the sheet that can be drawn on."""
    return min(max(width_px, LEAST_PX), WIDEST_PX) if isfinite(width_px) else LEAST_PX


def sheet_of(drawing: LoopDrawing, width_px: float, look: Look) -> Sheet:
    """Everything laid out for a width."""
    room = width_px - 2 * MARGIN_PX
    if width_px < NARROWEST_PX:
        said = wrapped(TOO_NARROW, Style(look.mark_size, look.ink), room, MOST_LINES)
        return Sheet(said, None, (), None, ())
    title = wrapped(drawing.title, Style(look.readout_size, look.ink, True), room, 2)
    circuit = circuit_of(drawing, width_px, look)
    listed = () if circuit is not None and not circuit.numbered else list_of(drawing, circuit, room, look)
    return Sheet(title, circuit, listed, grid_of(drawing, room, look), foot_of(drawing, circuit, room, look))


def list_of(drawing: LoopDrawing, circuit: Circuit | None, room_px: float, look: Look) -> tuple[Entry, ...]:
    """The elements by their numbers, where their words have no room beside them."""
    plain = Style(look.mark_size, look.ink)
    found = []
    if circuit is None:
        said = TOO_MANY if drawing.parts else NO_PARTS
        found.append(Entry(wrapped(said, plain, room_px, MOST_LINES)))
    for number, part in enumerate(arranged(drawing), 1):
        lines = ", ".join(text for text in texts_of(part) if text)
        said = ": ".join(text for text in (part.name or part.kind, lines) if text)
        shown = wrapped(said, plain, room_px - KEY_PX, MOST_LINES)
        if UNKNOWN in " ".join(line.text for line in shown).lower():
            shown = tuple(line._replace(style=plain._replace(fill=look.blocks)) for line in shown)
        found.append(Entry(shown, str(number)))
    return tuple(found)


def foot_of(drawing: LoopDrawing, circuit: Circuit | None, room_px: float, look: Look) -> tuple[Entry, ...]:
    """The longest cable, then the notes; among them what the diagram has no place for."""
    soft, strong = Style(look.tick_size, look.ink), Style(look.readout_size, look.ink, True)
    notes = list(drawing.note)
    if drawing.earth and (circuit is None or circuit.numbered or not has_barrier(drawing)):
        notes.insert(0, f"earth: {drawing.earth}")
    if drawing.border is not None and circuit is None:
        notes.insert(0, f"boundary of the hazardous area: {border_words(drawing)}")
    found = [Entry(wrapped(drawing.longest, strong, room_px, MOST_LINES), gap_px=7.0)]
    found += [Entry(wrapped(note, soft, room_px, MOST_LINES)) for note in notes]
    return tuple(entry for entry in found if entry.lines)


def block_px(entries: tuple[Entry, ...]) -> float:
    """Height of some entries."""
    return sum(PITCH_PX * len(entry.lines) + entry.gap_px for entry in entries)


def draw_entries(svg: Svg, entries: tuple[Entry, ...], top_px: float, look: Look) -> float:
    """Entries one beneath the other; where they end."""
    y = top_px + GAP_PX if entries else top_px
    for entry in entries:
        left = MARGIN_PX + (KEY_PX if entry.number else 0.0)
        if entry.number:
            svg.text(MARGIN_PX, y + PITCH_PX - 3, entry.number, Style(look.mark_size, look.ink, True))
        for i, line in enumerate(entry.lines):
            svg.text(left, y + PITCH_PX * (i + 1) - 3, line.text, line.style)
        y += PITCH_PX * len(entry.lines) + entry.gap_px
    return y
