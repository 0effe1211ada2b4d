"""A small SVG writer: shapes and lines of text, always finite, always escaped, the same bytes for the same calls."""

from functools import lru_cache
from html import escape
from math import isfinite
from typing import Literal, NamedTuple

from onedatum.paper.text import FALLBACK_FAMILY, FAMILY, needs_fallback, printable, width

Anchor = Literal["start", "middle", "end"]
FAMILIES = f"'{FAMILY}','Sofia Sans Semi Condensed','{FALLBACK_FAMILY}',sans-serif"
FARTHEST_PX = 1e5
FALLBACK_SCALE = 0.88  # the fallback is drawn larger on its body than the main family
ELLIPSIS = "…"


class Style(NamedTuple):
    """How a line of text is set."""

    size: float
    fill: str
    bold: bool = False


def number(value: float) -> str:
    """A coordinate with at most two decimals, held inside the sheet even when the value is not."""
    if not -FARTHEST_PX < value < FARTHEST_PX:
        value = min(max(value, -FARTHEST_PX), FARTHEST_PX) if isfinite(value) else 0.0
    text = f"{value:.2f}"
    if text[-1] != "0":
        return text
    short = text.rstrip("0").rstrip(".")
    return "0" if short == "-0" else short


def points(pairs: list[tuple[float, float]]) -> str:
    """Path data through the given points."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in pairs) if pairs else ""


def fit(text: str, style: Style, room: float) -> str:
    """Text made printable and cut with an ellipsis so that it takes no more than the given room."""
    short = printable(text).text
    if text_width(short, style) <= room:
        return short
    short = short[: max(1, int(room))]
    while short and text_width(short + ELLIPSIS, style) > room:
        short = short[:-1]
    return short.rstrip() + ELLIPSIS


@lru_cache(maxsize=4096)
def text_width(text: str, style: Style) -> float:
    """Width of a line as this writer sets it."""
    return width(text, set_size(text, style), style.bold)


def set_size(text: str, style: Style) -> float:
    """Size at which a line is set: a little smaller in the fallback family."""
    return style.size * FALLBACK_SCALE if needs_fallback(text) else style.size


class Svg:
    """Collects elements; `done` gives the file."""

    def __init__(self, width_px: float, height_px: float, label: str, sheet: str, stroked: bool = False) -> None:
        """`stroked` draws the halo of a text as its own stroke in place of a box beneath it."""
        self._stroked = stroked
        self._size = f"{number(width_px)} {number(height_px)}"
        self._label = label
        self._parts: list[str] = []
        self._defs: list[str] = []
        self.rect(0, 0, width_px, height_px, sheet)

    def path(self, data: str, stroke: str, stroke_width: float = 1.0, dash: str = "", fill: str = "none") -> None:
        """A line or outline; an empty path is left out."""
        if data:
            dashes = f' stroke-dasharray="{dash}"' if dash else ""
            self._parts.append(
                f'<path d="{data}" fill="{fill}" stroke="{stroke}" stroke-width="{number(stroke_width)}"{dashes}/>'
            )

    def line(
        self, x1: float, y1: float, x2: float, y2: float, stroke: str, stroke_width: float = 1.0, dash: str = ""
    ) -> None:
        """A straight line."""
        self.path(points([(x1, y1), (x2, y2)]), stroke, stroke_width, dash)

    def rect(self, x: float, y: float, wide: float, high: float, fill: str, opacity: float = 1.0) -> None:
        """A filled rectangle; nothing for no area."""
        if wide > 0 and high > 0:
            box = f'x="{number(x)}" y="{number(y)}" width="{number(wide)}" height="{number(high)}"'
            self._parts.append(
                f'<rect {box} fill="{fill}"{"" if opacity == 1 else f" opacity={chr(34)}{number(opacity)}{chr(34)}"}/>'
            )

    def text(self, x: float, y: float, text: str, style: Style, anchor: Anchor = "start", halo: str = "") -> None:
        """A line of text on its base line; `halo` lays that colour beneath it."""
        shown = printable(text).text
        if not shown:
            return
        around = ""
        if halo and self._stroked:
            around = f' stroke="{halo}" stroke-width="4" stroke-linejoin="round" paint-order="stroke"'
        elif halo:
            wide = text_width(shown, style)
            left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            self.rect(left - 2, y - style.size * 0.78, wide + 4, style.size * 0.98, halo)
        self._parts.append(
            f'<text x="{number(x)}" y="{number(y)}"{attributes(shown, style, anchor)}{around}>{escape(shown)}</text>'
        )

    def upright_text(self, x: float, y: float, text: str, style: Style) -> None:
        """A line of text that reads upwards, centred on the point."""
        shown = printable(text).text
        place = f'transform="translate({number(x)} {number(y)}) rotate(-90)"'
        self._parts.append(f"<text {place}{attributes(shown, style, 'middle')}>{escape(shown)}</text>")

    def clip(self, name: str, data: str) -> None:
        """Define a clipping shape."""
        self._defs.append(f'<clipPath id="{name}"><path d="{data}Z"/></clipPath>')

    def hatch(self, name: str, step: float, angle: float, stroke: str, stroke_width: float) -> None:
        """Define a pattern of parallel lines; angle 0 is upright."""
        size = number(step)
        turn = f' patternTransform="rotate({number(angle)})"' if angle else ""
        line = f'<path d="M{number(step / 2)} 0V{size}" stroke="{stroke}" stroke-width="{number(stroke_width)}"/>'
        self._defs.append(
            f'<pattern id="{name}" width="{size}" height="{size}" patternUnits="userSpaceOnUse"{turn}>{line}</pattern>'
        )

    def open_clip(self, name: str) -> None:
        """Everything until `close_group` is clipped to the named shape."""
        self._parts.append(f'<g clip-path="url(#{name})">')

    def open_group(self, name: str) -> None:
        """Everything until `close_group` belongs to a named part of the drawing."""
        self._parts.append(f'<g class="{name}">')

    def open_hidden(self) -> None:
        """Everything until `close_group` is there but not seen."""
        self._parts.append('<g visibility="hidden">')

    def open_moved(self, name: str, x: float, y: float) -> None:
        """The same, drawn from the given point."""
        self._parts.append(f'<g class="{name}" transform="translate({number(x)} {number(y)})">')

    def close_group(self) -> None:
        """End a group."""
        self._parts.append("</g>")

    def done(self) -> str:
        """The whole drawing."""
        wide, high = self._size.split()
        head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self._size}" width="{wide}" height="{high}"'
        label = escape(printable(self._label).text)
        return "\n".join(
            [f'{head} role="img" aria-label="{label}">', "<defs>", *self._defs, "</defs>", *self._parts, "</svg>\n"]
        )


def attributes(text: str, style: Style, anchor: Anchor) -> str:
    """Font attributes of a line of text."""
    weight = ' font-weight="700"' if style.bold else ""
    aligned = "" if anchor == "start" else f' text-anchor="{anchor}"'
    size = number(set_size(text, style))
    return f' font-family="{FAMILIES}" font-size="{size}"{weight}{aligned} fill="{style.fill}"'
