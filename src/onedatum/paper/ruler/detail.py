"""A detail of the ruler, enlarged: marks that lie too close to be told apart on the whole height."""

from math import isfinite

from onedatum.paper.model import Mark, Ruler, Scale, Span
from onedatum.paper.ruler.frame import Frame
from onedatum.paper.ruler.look import PRINT, Look
from onedatum.paper.ruler.marks import height_text, name_style
from onedatum.paper.ruler.place import place_labels
from onedatum.paper.ruler.scales import TICK_PX, rule_field, stop_colour
from onedatum.paper.ruler.strokes import RESPONSE_HATCH, mark_stroke
from onedatum.paper.ruler.svg import Style, Svg, fit, number, points
from onedatum.paper.ruler.tables import usable, value_at
from onedatum.paper.ruler.ticks import decimal, scale_ticks

WIDTH_PX, HEIGHT_PX = 340.0, 150.0
NAMES_PX, NUMBERS_PX, LEFT_PX, RIGHT_PX = 4.0, 128.0, 146.0, 276.0
FIELD_PX = 40.0
THINNEST_M, WIDEST_M = 1e-6, 1e6


def detail_svg(ruler: Ruler, letter: str, span: Span, look: Look = PRINT) -> str:
    """The detail with its letter; marks left with their heights, the output on the right; nothing for no span."""
    marks = sorted((m for m in ruler.marks if span.low_m <= m.height_m <= span.high_m), key=lambda m: -m.height_m)
    names = ", ".join(f"{m.name} {height_text(m)} mm" for m in marks)
    svg = Svg(WIDTH_PX, HEIGHT_PX, f"Detail {letter}, enlarged: {names}", look.sheet)
    if not (isfinite(span.low_m) and isfinite(span.high_m) and THINNEST_M < span.high_m - span.low_m < WIDEST_M):
        return svg.done()
    margin = 0.12 * (span.high_m - span.low_m)
    frame = Frame(span.low_m - margin, span.high_m + margin, 24.0, HEIGHT_PX - 4)
    output = next((s for s in ruler.scales if s.stops_at is not None and s.name == "mA" and usable(s)), None)
    draw_heads(svg, letter, output, look)
    draw_fields(svg, ruler, output, frame, look, f"{RESPONSE_HATCH}-{letter}")
    draw_height_ticks(svg, frame, look)
    draw_marks(svg, marks, output, frame, look)
    return svg.done()


def draw_heads(svg: Svg, letter: str, output: Scale | None, look: Look) -> None:
    """The letter, and the units of both sides."""
    soft, bold = Style(look.tick_size, look.secondary), Style(look.mark_size, look.ink, True)
    svg.text(NUMBERS_PX, 12, "mm", soft, "end")
    svg.text((LEFT_PX + RIGHT_PX) / 2, 12, f"Detail {letter}", bold, "middle")
    if output is not None:
        svg.text(RIGHT_PX + 18, 12, output.name, soft)


def draw_fields(svg: Svg, ruler: Ruler, output: Scale | None, frame: Frame, look: Look, hatch: str) -> None:
    """What comes in during the response time on the left, the field without signal on the right.

    `hatch` is the name of its hatching, another than that of the ruler: both may stand on one page.
    """
    svg.hatch(hatch, 5, -45, look.ink, 0.8)
    for band in ruler.bands:
        if band.kind == "response time":
            top, foot = frame.y(band.high_m), frame.y(band.low_m)
            svg.rect(LEFT_PX, top, 9, foot - top, f"url(#{hatch})")
    if output is not None and output.stops_at is not None:
        foot = frame.y(output.stops_at.height_m)
        rule_field(svg, RIGHT_PX - FIELD_PX, RIGHT_PX, frame.top_px, foot, stop_colour(ruler, look))
        svg.line(RIGHT_PX, foot, RIGHT_PX, frame.bottom_px, look.ink, 0.9)


def draw_height_ticks(svg: Svg, frame: Frame, look: Look) -> None:
    """The spine of the heights with its ticks; the marks carry the numbers."""
    heights = Scale("mm", "", (frame.low_m, frame.high_m), (frame.low_m * 1000, frame.high_m * 1000), 0)
    ticks = scale_ticks(heights, frame.low_m, frame.high_m, frame.px_per_m)
    way = (f"M{number(LEFT_PX)} {number(frame.y(t.height_m))}h{number(-TICK_PX[t.rank] * 0.6)}" for t in ticks)
    svg.line(LEFT_PX, frame.top_px, LEFT_PX, frame.bottom_px, look.ink, 0.9)
    svg.path("".join(way), look.ink, 0.8)


def draw_marks(svg: Svg, marks: list[Mark], output: Scale | None, frame: Frame, look: Look) -> None:
    """Lines at the true heights; names, heights and output moved apart on both sides by the same rule."""
    lines = [frame.y(m.height_m) for m in marks]
    places = place_labels(lines, look.row_gap, frame.top_px + 4, frame.bottom_px - 6)
    for mark, line, place in zip(marks, lines, places, strict=True):
        stroke, style = mark_stroke(mark, look), name_style(mark, look)
        svg.line(LEFT_PX, line, RIGHT_PX, line, stroke.colour, stroke.width, stroke.dash)
        svg.path(points([(NUMBERS_PX + 2, place), (LEFT_PX - 6, line), (LEFT_PX, line)]), stroke.colour, 0.8)
        svg.text(NAMES_PX, place + 4, fit(mark.name, style, NUMBERS_PX - NAMES_PX - 36), style)
        svg.text(NUMBERS_PX, place + 4, height_text(mark), style, "end")
        if output is not None:
            value = value_at(output, mark.height_m)
            svg.path(points([(RIGHT_PX, line), (RIGHT_PX + 4, line), (RIGHT_PX + 14, place)]), stroke.colour, 0.8)
            svg.text(RIGHT_PX + 18, place + 4, "no signal" if value is None else decimal(value, 2), style)
