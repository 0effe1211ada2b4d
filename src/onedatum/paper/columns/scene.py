"""What both sketches share: heights to one scale, the vessel broken off on its left, taps, liquids, labels in order."""

from collections.abc import Sequence
from math import isfinite

from onedatum.paper.columns.model import Mark
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.place import place_labels
from onedatum.paper.ruler.svg import Style, Svg, fit, points

LABEL, QUIET = Style(11.0, PRINT.ink), Style(11.0, PRINT.secondary)
STRONG = Style(11.5, PRINT.ink, True)
TOP_PX, HEIGHT_PX, FOOT_PX, GAP_PX = 26.0, 300.0, 18.0, 13.0
VESSEL_LEFT_PX, VESSEL_WIDE_PX = 168.0, 130.0
LABEL_ROOM_PX, LEADER_PX = 146.0, 14.0


class Scene:
    """A drawing in which one height has one place."""

    def __init__(self, width_px: float, words: str, heights_m: Sequence[float]) -> None:
        held = [height for height in heights_m if isfinite(height)] or [0.0, 1.0]
        low, high = min(held), max(held)
        room = max(high - low, 1e-3)
        self.low_m, self.high_m = low - 0.08 * room, high + 0.08 * room
        self.width_px = width_px
        self.svg = Svg(width_px, TOP_PX + HEIGHT_PX + FOOT_PX, words, PRINT.sheet)

    def y(self, height_m: float) -> float:
        """Where a height is drawn."""
        share = (height_m - self.low_m) / (self.high_m - self.low_m)
        return TOP_PX + HEIGHT_PX * (1.0 - min(max(share, 0.0), 1.0))

    @property
    def wall_px(self) -> float:
        """The wall that the taps are in."""
        return VESSEL_LEFT_PX + VESSEL_WIDE_PX

    def vessel(self, level_m: float | None, taps_m: Sequence[float]) -> None:
        """The vessel broken off at its left, with its liquid and its taps."""
        top, foot = TOP_PX + 2, TOP_PX + HEIGHT_PX - 2
        if level_m is not None:
            surface = self.y(level_m)
            self.svg.rect(VESSEL_LEFT_PX, surface, VESSEL_WIDE_PX, foot - surface, PRINT.liquid)
            self.svg.line(VESSEL_LEFT_PX, surface, self.wall_px, surface, PRINT.accent, 1.6)
        gaps = sorted(self.y(tap) for tap in taps_m)
        edge = top
        for gap in gaps:
            self.svg.line(self.wall_px, edge, self.wall_px, gap - 4, PRINT.ink, 1.6)
            edge = gap + 4
        self.svg.line(self.wall_px, edge, self.wall_px, foot, PRINT.ink, 1.6)
        self.svg.line(VESSEL_LEFT_PX, top, self.wall_px, top, PRINT.hairline)
        self.svg.line(VESSEL_LEFT_PX, foot, self.wall_px, foot, PRINT.hairline)
        self._broken(top, foot)
        self.svg.text(VESSEL_LEFT_PX + VESSEL_WIDE_PX / 2, TOP_PX - 8, "vessel", QUIET, "middle")

    def _broken(self, top: float, foot: float) -> None:
        """A wavering line where the vessel goes on."""
        steps = 12
        line = [
            (VESSEL_LEFT_PX + (3.0 if step % 2 else -3.0), top + (foot - top) * step / steps)
            for step in range(steps + 1)
        ]
        self.svg.path(points(line), PRINT.hairline)

    def pipe(self, height_m: float, to_px: float, filled: bool) -> None:
        """A tap with the pipe that leads from it."""
        y = self.y(height_m)
        if filled:
            self.svg.rect(self.wall_px, y - 4, to_px - self.wall_px, 8, PRINT.liquid)
        for side in (-4, 4):
            self.svg.line(self.wall_px, y + side, to_px, y + side, PRINT.ink, 1.2)

    def labels_left(self, marks: Sequence[Mark]) -> None:
        """Words at heights in the vessel, left of it."""
        self._labels(marks, VESSEL_LEFT_PX - 6, -1.0)

    def labels_right(self, marks: Sequence[Mark], at_px: float) -> None:
        """Words at heights on the right, behind a place."""
        self._labels(marks, at_px, 1.0)

    def _labels(self, marks: Sequence[Mark], at_px: float, way: float) -> None:
        shown = sorted((mark for mark in marks if isfinite(mark.height_m)), key=lambda mark: -mark.height_m)
        wanted = [self.y(mark.height_m) for mark in shown]
        room = self.width_px - at_px - LEADER_PX - 10 if way > 0 else at_px - LEADER_PX - 6
        places = place_labels(wanted, GAP_PX, TOP_PX + 4, TOP_PX + HEIGHT_PX - 2)
        for mark, from_y, y in zip(shown, wanted, places, strict=True):
            style = STRONG if mark.strong else LABEL
            self.svg.line(at_px, from_y, at_px + way * LEADER_PX, y, PRINT.hairline, 0.8)
            text = fit(mark.text, style, max(room, 40.0))
            self.svg.text(at_px + way * (LEADER_PX + 3), y + 4, text, style, "start" if way > 0 else "end")
