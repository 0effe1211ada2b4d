"""The ruler of the page: the drawing without what moves, what moves it, and the table of all marks in all scales."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from math import isfinite
from string import ascii_uppercase

from onedatum.foundation.errors import Fault
from onedatum.foundation.units import in_unit, show
from onedatum.jobs.page.level import level_of, typed_units
from onedatum.jobs.page.scales import SIGNAL, PageScale, page_scales
from onedatum.jobs.paper_of_study import detail_of
from onedatum.jobs.ruler_of_study import marks_of, ruler_with
from onedatum.paper import model as paper
from onedatum.paper.ruler import SCREEN, Look, Placed, all_fit, detail_svg, ruler_drawing
from onedatum.study.result import Study

LEVEL_LINE = "level line"
FULL_NAMES = {
    ("level.measurable_high", "dead zone"): "dead zone, upper",
    ("level.measurable_low", "dead zone"): "dead zone, lower",
}
"""Names in the table where the ruler's own names are not alone."""
SHORT = {"%": 1, "mA": 2, "kg": 0, "L pure": 0, "US gal": 0}
SHORTEST = {**SHORT, "in": 1, "µs": 0}
"""Decimals of the readouts where the drawing is too narrow for all scales with all decimals."""
NARROW: tuple[tuple[dict[str, int], float, float], ...] = (
    (SHORT, 0.32, 2.0),
    (SHORT, 0.25, 2.0),
    (SHORT, 0.19, 2.0),
    (SHORTEST, 0.16, 1.5),
)
"""What is tried there in turn: decimals, share of the width for the half section, least distance between words."""
LARGE_PX = 780.0
LARGE = replace(SCREEN, tick_size=11.5, mark_size=12.0, readout_size=14.0)
"""From this width on the words are larger, where all scales then have room."""
NO_ELEVATION_PX = 480.0
"""A narrower drawing has no elevation."""
REACHES = (
    ("level.measurable_low", "level.measurable_high"),
    ("probe.active_from", "probe.active_to"),
    ("legs.lower_tap", "legs.upper_tap_height"),
    ("range.low", "range.high"),
)
"""What limits the levels that can be measured, by principle; the first that is known counts."""


@dataclass(frozen=True, slots=True)
class Lane:
    """Where one scale stands: its spine, the side its numbers are on (-1 left, 1 right), left edge and width.

    `decimals` is what the readout over the drawing has room for; table and words have all.
    """

    key: str
    decimals: int
    spine_px: float
    side: int
    left_px: float
    width_px: float


@dataclass(frozen=True, slots=True)
class Label:
    """Where the words of a mark stand: its height tells which mark it is."""

    label: str
    height_m: float
    left_px: float
    right_px: float
    words_px: float


@dataclass(frozen=True, slots=True)
class FloatPlace:
    """What moves the float: it dips by its immersion and comes to rest on the tip of the stem."""

    x_px: float
    immersion_m: float
    tip_m: float


@dataclass(frozen=True, slots=True)
class Geometry:
    """What the browser needs to move the level line over the drawing; px are those of the drawing."""

    width_px: float
    height_px: float
    top_px: float
    bottom_px: float
    high_m: float
    px_per_m: float
    scales_px: float
    right_px: float
    band_px: float
    readout_px: float
    lanes: tuple[Lane, ...]
    labels: tuple[Label, ...]
    float_: FloatPlace | None

    def json(self) -> dict[str, object]:
        """As the browser gets it."""
        float_ = None if self.float_ is None else _plain(self.float_)
        lists = {"lanes": tuple(map(_plain, self.lanes)), "labels": tuple(map(_plain, self.labels))}
        return {**_plain(self), **lists, "float_": float_}


@dataclass(frozen=True, slots=True)
class SeeMark:
    """A mark by its full name, with its words on the ruler and the entry that it shows."""

    name: str
    label: str
    height_m: float
    entry: str
    blocks: bool
    assumed: bool


@dataclass(frozen=True, slots=True)
class Row:
    """A mark or the level line in every scale."""

    name: str
    entry: str
    cells: tuple[str, ...]
    blocks: bool = False
    assumed: bool = False
    is_level: bool = False


@dataclass(frozen=True)
class SeeView:
    """All of "See it"."""

    svg: str
    geometry: Geometry | None
    scales: tuple[PageScale, ...]
    marks: tuple[SeeMark, ...]
    rows: tuple[Row, ...]
    span_m: tuple[float, float] | None
    """The levels that the line can be set to."""
    reach_m: tuple[float, float] | None
    """The levels that can be measured."""
    level_m: float | None
    level_text: str
    left_out: tuple[str, ...]
    """Names of the scales that the drawing has no room for; the table has them."""
    details: Mapping[str, str]
    """By finding the drawing of the marks that it turns on, enlarged; its letter stands beside the ruler too."""

    def json(self) -> dict[str, object]:
        """As the browser gets it."""
        geometry = None if self.geometry is None else self.geometry.json()
        return {
            "scales": [scale.json() for scale in self.scales],
            "units": {name: list(found) for name, found in typed_units(self.scales).items()},
            "marks": list(map(_plain, self.marks)),
            "geometry": geometry,
            "span_m": None if self.span_m is None else list(self.span_m),
            "reach_m": None if self.reach_m is None else list(self.reach_m),
            "level_m": self.level_m,
        }


def _plain(record: Lane | Label | FloatPlace | Geometry | SeeMark) -> dict[str, object]:
    """The fields of a record by name."""
    return {each.name: getattr(record, each.name) for each in fields(record)}


def see_view(
    study: Study,
    width_px: float,
    height_px: float,
    level_m: float | None = None,
    scales: tuple[PageScale, ...] | None = None,
) -> SeeView:
    """The drawing at this size; `level_m` is where the level line first stands, else it stands at the level now.

    The parts that follow the level (classes `moves-liquid`, `moves-float`, `moves-line`) are drawn there in groups
    that are moved by their `transform`; the readouts (class `readouts`) serve readers without JavaScript. Whoever has
    the scales of the study already hands them on.
    """
    scales = page_scales(study) if scales is None else scales
    span_m = (scales[0].levels_m[0], scales[0].levels_m[-1]) if scales else None
    level = _held(study.value("level_now") if level_m is None else level_m, span_m)
    ruler = replace(ruler_with(study, tuple(map(_drawn, scales))), level_m=level)
    brackets = _brackets(study)
    ruler = replace(ruler, brackets=tuple(brackets.values()))
    if width_px < NO_ELEVATION_PX:
        ruler = replace(ruler, outline=(), nozzle=None, stem=None)
    svg, placed, look = _roomiest(ruler, width_px, height_px)
    marks = tuple(_marks(study))
    lanes = () if placed is None else placed.lanes
    drawn = {lane.scale.name for lane in lanes}
    return SeeView(
        svg=svg,
        geometry=None if placed is None else _geometry(placed, ruler, scales, width_px, height_px, look),
        scales=scales,
        marks=marks,
        rows=_rows(scales, marks, level),
        span_m=span_m,
        reach_m=_reach(study, span_m),
        level_m=level,
        level_text="" if level is None else show(level, "mm"),
        left_out=tuple(scale.kind.name for scale in scales if scale.kind.name not in drawn),
        details={key: detail_svg(ruler, each.letter, each.span, SCREEN) for key, each in brackets.items()},
    )


def _brackets(study: Study) -> dict[str, paper.Bracket]:
    """A letter beside the ruler for each finding that has a detail, by the key of the finding."""
    spans = [(each.key, detail_of(study, each)) for each in study.findings]
    found = [(key, span) for key, span in spans if span is not None]
    return {key: paper.Bracket(letter, span) for letter, (key, span) in zip(ascii_uppercase, found, strict=False)}


def level_looked_at(study: Study, scales: Sequence[PageScale], text: str) -> float | Fault | None:
    """The level that is typed, as a reading on any scale or the name of a mark; None where nothing is typed."""
    if not text.strip():
        return None
    return level_of(text, scales, {mark.name: mark.height_m for mark in _marks(study)})


def _held(level_m: float | None, span_m: tuple[float, float] | None) -> float | None:
    """A level held between the ends of the heights."""
    if level_m is None or span_m is None or not isfinite(level_m):
        return None
    return min(max(level_m, span_m[0]), span_m[1])


def _drawn(scale: PageScale) -> paper.Scale:
    """A scale as the ruler draws it; only the signal says on the drawing why it stops."""
    kind = scale.kind
    stops = scale.above if kind.entry.startswith(SIGNAL) else None
    return paper.Scale(
        name=kind.name,
        group=kind.group,
        heights_m=scale.drawn[0],
        values=scale.drawn[1],
        decimals=kind.decimals,
        stops_at=None if stops is None else paper.Stop(stops.level_m, stops.words),
        unknown=scale.unknown or None,
        assumed=scale.assumed,
    )


def _roomiest(ruler: paper.Ruler, width_px: float, height_px: float) -> tuple[str, Placed | None, Look]:
    """The drawing in the largest words in which all scales have room; the narrowest where none has.

    Each try leaves the scales more room than the one before, so what fits is looked for by halves.
    """
    tries: list[tuple[Mapping[str, int], Look]] = [({}, LARGE)] if width_px >= LARGE_PX else []
    tries.append(({}, SCREEN))
    tries += [(decimals, replace(SCREEN, elevation_share=share, air=air)) for decimals, share, air in NARROW]
    first = bisect_left(tries, True, key=lambda each: all_fit(_with(each[0], ruler), width_px, height_px, each[1]))
    decimals, look = tries[min(first, len(tries) - 1)]
    return *ruler_drawing(_with(decimals, ruler), width_px, height_px, look), look


def _with(decimals: Mapping[str, int], ruler: paper.Ruler) -> paper.Ruler:
    """The ruler with these decimals in the readouts of the scales named."""
    if decimals.keys().isdisjoint(scale.name for scale in ruler.scales):
        return ruler
    scales = (replace(s, decimals=decimals[s.name]) if s.name in decimals else s for s in ruler.scales)
    return replace(ruler, scales=tuple(scales))


def _geometry(
    placed: Placed, ruler: paper.Ruler, scales: Sequence[PageScale], width_px: float, height_px: float, look: Look
) -> Geometry:
    """Where everything stands that the level line meets."""
    keys = {scale.kind.name: scale.kind.key for scale in scales}
    frame = placed.frame
    return Geometry(
        width_px=width_px,
        height_px=height_px,
        top_px=frame.top_px,
        bottom_px=frame.bottom_px,
        high_m=frame.high_m,
        px_per_m=frame.px_per_m,
        scales_px=placed.column.scales_px,
        right_px=placed.right_px,
        band_px=SCREEN.band_height,
        readout_px=look.readout_size,
        lanes=tuple(
            Lane(keys[lane.scale.name], lane.scale.decimals, lane.spine_px, lane.side, lane.left_px, lane.width_px)
            for lane in placed.lanes
        ),
        labels=tuple(
            Label(each.mark.name, each.mark.height_m, placed.column.left_px, placed.column.numbers_px, each.words_y)
            for each in placed.column.labels
        ),
        float_=_float(placed, ruler.stem),
    )


def _float(placed: Placed, stem: paper.Stem | None) -> FloatPlace | None:
    """Where the float is drawn, if it is."""
    if placed.view is None or stem is None or stem.float_immersion_m is None:
        return None
    return FloatPlace(placed.view.x(stem.offset_m), stem.float_immersion_m, stem.tip_m)


def _marks(study: Study) -> list[SeeMark]:
    """Every mark from the top, those of one height in the order of the ruler."""
    found = [
        SeeMark(
            FULL_NAMES.get((entry, mark.name), mark.name), mark.name, mark.height_m, entry, mark.blocks, mark.assumed
        )
        for entry, mark in marks_of(study)
        if isfinite(mark.height_m)
    ]
    return sorted(found, key=lambda mark: -mark.height_m)


def _reach(study: Study, span_m: tuple[float, float] | None) -> tuple[float, float] | None:
    """The levels that can be measured, held between the ends of the heights."""
    for low, high in REACHES:
        ends = _held(study.value(low), span_m), _held(study.value(high), span_m)
        if ends[0] is not None and ends[1] is not None and ends[0] < ends[1]:
            return ends[0], ends[1]
    return span_m


def _rows(scales: Sequence[PageScale], marks: Sequence[SeeMark], level_m: float | None) -> tuple[Row, ...]:
    """The marks and the level line from the top; the level line has its row even while it has no level."""
    heights = [*(mark.height_m for mark in marks), level_m or 0.0]
    columns = [_column(scale, heights) for scale in scales]
    *cells, at_level = [tuple(column[row] for column in columns) for row in range(len(heights))]
    if level_m is None:
        at_level = ("?",) * len(scales)
    rows = [
        Row(mark.name, mark.entry, read, mark.blocks, mark.assumed) for mark, read in zip(marks, cells, strict=True)
    ]
    rows.append(Row(LEVEL_LINE, "level_now", at_level, is_level=True))
    placed = sorted(zip(heights, rows, strict=True), key=lambda pair: (-pair[0], pair[1].is_level))
    return tuple(row for _, row in placed)


def cell(scale: PageScale, level_m: float | None) -> str:
    """The reading with the decimals of its scale; `?` where it is unknown, what is said beyond the ends."""
    return "?" if level_m is None else _column(scale, [level_m])[0]


def _column(scale: PageScale, levels_m: Sequence[float]) -> list[str]:
    """What a scale reads at every level."""
    kind = scale.kind
    if scale.unknown:
        return ["?"] * len(levels_m)
    if not kind.entry:
        return [_decimal(in_unit(level, kind.unit), kind.decimals) for level in levels_m]
    nothing = "no signal" if kind.entry.startswith(SIGNAL) else "–"
    return [nothing if value is None else _decimal(value, kind.decimals) for value in scale.read(levels_m)]


def _decimal(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return (text.lstrip("-") if float(text) == 0.0 else text).replace("-", "−")
