"""The sheet the vessel is drawn on."""

from html import escape

from onedatum.paper.ruler.svg import Style, Svg, attributes, number, points
from onedatum.paper.text import printable
from onedatum.paper.vessel.boxes import Corners
from onedatum.paper.vessel.model import Point, Segment


class Sheet(Svg):
    """The writer, which here also turns words along a dimension line."""

    def __init__(self, width_px: float, height_px: float, label: str, sheet: str) -> None:
        super().__init__(width_px, height_px, label, sheet)
        self.width_px = width_px

    def segment(self, segment: Segment, stroke: str, stroke_width: float = 1.0, dash: str = "") -> None:
        """A straight line between two points."""
        self.path(points(list(segment)), stroke, stroke_width, dash)

    def shape(self, corners: Corners, stroke: str, stroke_width: float, fill: str) -> None:
        """A closed figure."""
        self.path(points(list(corners)) + "Z" if corners else "", stroke, stroke_width, fill=fill)

    def turned_text(self, at: Point, angle_deg: float, text: str, style: Style) -> None:
        """A line of text centred on a point of its base line, turned."""
        if abs(angle_deg) < 0.01:
            self.text(at[0], at[1], text, style, "middle")
            return
        shown = printable(text).text
        place = f'transform="translate({number(at[0])} {number(at[1])}) rotate({number(angle_deg)})"'
        self._parts.append(f"<text {place}{attributes(shown, style, 'middle')}>{escape(shown)}</text>")
