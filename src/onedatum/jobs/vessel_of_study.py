"""The vessel of a study from the side, as the paper room draws it, with the measures that make it."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from onedatum.case.model.vessel import BY_TABLE, FLAT, LYING, ON_HOPPER, RECTANGULAR, UPRIGHT
from onedatum.foundation.units import in_print
from onedatum.foundation.working import spell
from onedatum.jobs.gauge_of_study import float_of, nozzle_of, stem_of
from onedatum.paper.vessel.model import Dimension, Point, Segment, VesselDrawing
from onedatum.study.outline import axis, outline, side_view, tangents
from onedatum.study.result import Study

MARKS = (
    ("vessel.outlet", "outlet"),
    ("vessel.pump_limit", "pump limit"),
    ("overfill.CH", "CH"),
    ("overfill.high_high", "HH"),
)
SEEN_ACROSS = (LYING, RECTANGULAR, ON_HOPPER)
ROUND_SIGN, LENGTH, DIAMETER = "Ø", "length between the tangent lines", "inside diameter"
BOX_CORNERS = 4


def vessel_of(study: Study) -> VesselDrawing | None:
    """The drawing; None while the vessel is unknown, and where only a table says what it holds."""
    contour, shape = side_view(study), study.statement.case.vessel.shape.word
    if not contour or shape == BY_TABLE:
        return None
    level = study.value("level.surface")
    return VesselDrawing(
        contour=contour,
        across=_across(study) if shape in SEEN_ACROSS else (),
        axis=axis(study),
        floor=next(iter(_box_lines(study)), None),
        tangents=_tangents(study),
        stem=_stem(study),
        nozzle=_nozzle(study),
        float_body=_float(study, level),
        level_m=level,
        level_words=in_print(f"level {study.sheet['level.surface'].text}") if level is not None else "level",
        datum_at=(0.0, 0.0),
        deadwood=tuple(_deadwood(study)),
        marks=tuple((words, height) for name, words in MARKS if (height := study.value(name)) is not None),
        dimensions=tuple(_dimensions(study, shape)),
        slope=_slope(study),
    )


def _text(study: Study, name: str) -> str:
    return in_print(study.sheet[name].text)


def _across(study: Study) -> tuple[Point, ...]:
    """The plumb section at the gauge, both halves."""
    half = outline(study)
    return (*half, *((-wide, height) for wide, height in reversed(half) if wide > 0.0))


def _stem(study: Study) -> tuple[float, float, float] | None:
    stem = stem_of(study)
    return None if stem is None else (0.0, *stem)


def _nozzle(study: Study) -> tuple[float, float, float, float] | None:
    nozzle = nozzle_of(study)
    return None if nozzle is None else (0.0, *nozzle)


def _float(study: Study, level: float | None) -> tuple[float, float, float, float] | None:
    wide, high, deep = float_of(study)
    if level is None or wide is None or high is None or deep is None:
        return None
    return 0.0, wide, level - deep, level - deep + high


def _deadwood(study: Study) -> Iterator[tuple[str, float, float]]:
    for number, part in enumerate(study.statement.case.vessel.deadwood.items, start=1):
        if part.from_.si is not None and part.to.si is not None:
            yield in_print(part.name.text or f"part {number}"), part.from_.si, part.to.si


def _slope(study: Study) -> str:
    for name in ("vessel.slope", "vessel.slope_of_tilt"):
        if value := study.value(name):
            way = "rises" if value > 0.0 else "falls"
            if study.statement.case.vessel.shape.word == UPRIGHT:
                way = "leans"
            return f"{'floor' if axis(study) is None else 'axis'} {way} {_ratio(abs(value))}"
    return ""


def _ratio(slope: float) -> str:
    """Rise to run, the less of them 1."""
    return f"1:{1.0 / slope:.4g}" if slope <= 1.0 else f"{slope:.4g}:1"


def _box_lines(study: Study) -> tuple[Segment, ...]:
    """Floor and ceiling of a box, each from the near end to the far one."""
    side = side_view(study)
    if study.statement.case.vessel.shape.word != RECTANGULAR or len(side) != BOX_CORNERS:
        return ()
    return tuple(sorted([(side[0], side[1]), (side[3], side[2])], key=lambda line: line[0][1]))


def _tangents(study: Study) -> tuple[Segment, ...]:
    """The tangent lines of the curved ends; that of a flat one is the end itself."""
    line = axis(study)
    return tuple(each for each in tangents(study) if line is None or not _is_end(each, line))


def _is_end(across: Segment, line: Segment) -> bool:
    (xa, za), (xb, zb) = across
    least = 1e-6 * hypot(xb - xa, zb - za)
    return any(hypot(x - (xa + xb) / 2, z - (za + zb) / 2) <= least for x, z in line)


def _ends(study: Study, shape: str) -> tuple[Segment, ...]:
    """Both ends of a cylinder's shell: its tangent lines, and the line of an end that is flat."""
    vessel, line, wide = study.statement.case.vessel, axis(study), study.value("vessel.inside_diameter")
    heads = {LYING: (vessel.near_end, vessel.far_end), UPRIGHT: (vessel.bottom_head, vessel.top_head)}.get(shape, ())
    curved = iter(_tangents(study))
    if line is None or wide is None or not heads:
        return ()
    flat = zip(line, (head.form.word == FLAT for head in heads), strict=True)
    found = [_square_to(line, end, wide / 2) if is_flat else next(curved, None) for end, is_flat in flat]
    return tuple(each for each in found if each is not None)


def _square_to(line: Segment, at: Point, reach: float) -> Segment:
    """The line through a point square to another, as far to both sides, its lower end first on a lying one."""
    (xa, za), (xb, zb) = line
    share = reach / hypot(xb - xa, zb - za)
    along, up = (xb - xa) * share, (zb - za) * share
    return (at[0] + up, at[1] - along), (at[0] - up, at[1] + along)


def _dimensions(study: Study, shape: str) -> Iterator[Dimension]:
    ends, box = _ends(study, shape), _box_lines(study)
    if shape == LYING and len(ends) == 2:
        yield from _lying(study, ends)
    elif shape == UPRIGHT and len(ends) == 2:
        yield from _upright(study, ends)
    elif len(box) == 2:
        yield from _box(study, box)
    else:
        yield from _overall(study, shape)
    if shape in (RECTANGULAR, ON_HOPPER):
        section = _across(study)
        half, low = max(y for y, _ in section), min(z for _, z in section)
        yield Dimension((-half, low), (half, low), "below", _text(study, "vessel.width"), "inside width", "across")


def _lying(study: Study, ends: tuple[Segment, ...]) -> Iterator[Dimension]:
    """Length between the tangent lines, diameter, depth of the near end, and where the gauge stands."""
    (near_low, near_high), (far_low, far_high) = ends
    yield Dimension(near_low, far_low, "below", _length(study), LENGTH)
    yield Dimension(far_low, far_high, "right", _diameter(study), DIAMETER)
    yield from _station(study, near_low, "station of the gauge from the near tangent line")
    line = axis(study)
    if line is not None and (depth := study.value("vessel.near_end.depth")):
        middle = ((near_low[0] + near_high[0]) / 2, (near_low[1] + near_high[1]) / 2)
        told = in_print(spell(depth, "m", study.sheet["vessel.near_end.depth"].shown))
        yield Dimension(line[0], middle, "above", told, "depth of the near end")


def _upright(study: Study, ends: tuple[Segment, ...]) -> Iterator[Dimension]:
    """Length between the tangent lines, diameter, and the height along the axis where heads add to it."""
    (low_left, low_right), (high_left, _) = (sorted(pair) for pair in ends)
    yield Dimension(low_left, high_left, "left", _length(study), LENGTH)
    yield Dimension(low_left, low_right, "below", _diameter(study), DIAMETER)
    line = axis(study)
    if line is not None and _tangents(study):
        yield Dimension(*line, "left", _text(study, "vessel.inside_height"), "inside height")


def _box(study: Study, box: tuple[Segment, ...]) -> Iterator[Dimension]:
    """Length of the floor, height of the far wall, and where the gauge stands."""
    (near, far), (_, top) = box
    yield Dimension(near, far, "below", _text(study, "vessel.length"), "inside length")
    yield Dimension(far, top, "right", _text(study, "vessel.height"), "inside height")
    yield from _station(study, near, "station of the gauge from the near end")


def _station(study: Study, start: Point, name: str) -> Iterator[Dimension]:
    if "vessel.gauge_station" in study.sheet:
        yield Dimension(start, (0.0, 0.0), "below", _text(study, "vessel.gauge_station"), name)


def _overall(study: Study, shape: str) -> Iterator[Dimension]:
    """Width and height over all."""
    contour = side_view(study)
    left, right = min(x for x, _ in contour), max(x for x, _ in contour)
    low, high = min(z for _, z in contour), max(z for _, z in contour)
    shown = study.sheet["vessel.inside_height"].shown or "mm"
    width, height = (in_print(spell(size, "m", shown)) for size in (right - left, high - low))
    if shape == ON_HOPPER:
        yield Dimension((left, low), (right, low), "below", _text(study, "vessel.length"), "inside length")
    else:
        yield Dimension((left, low), (right, low), "below", f"{ROUND_SIGN} {width}", "greatest inside diameter")
    yield Dimension((right, low), (right, high), "right", height, "inside height over all")


def _diameter(study: Study) -> str:
    return f"{ROUND_SIGN} {_text(study, 'vessel.inside_diameter')}"


def _length(study: Study) -> str:
    name = "vessel.cylinder_length" if "vessel.cylinder_length" in study.sheet else "vessel.shell_length"
    return _text(study, name)
