"""The drawing of a vessel: words clear of lines, dimensions clear of the vessel, and no input breaks it."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, radians, sin
from xml.etree import ElementTree as Xml

import pytest

from onedatum.paper.ruler import PRINT
from onedatum.paper.vessel.drawing import description, vessel_height_px, vessel_svg
from onedatum.paper.vessel.model import Dimension, VesselDrawing
from tests.closeness import close
from tests.draws import LONG
from tests.paper import vessels
from tests.paper.strokes import Line, Path, crossed_words, overlapping_words, paths, words

WIDE = 760.0
SIZES = [(760.0, 420.0), (760.0, 620.0), (1280.0, 640.0), (600.0, 500.0), (480.0, 400.0)]
TWO_SIZES = [(name, SIZES[(at + step) % len(SIZES)]) for at, name in enumerate(vessels.SHAPES) for step in (0, 2)]
every_shape = pytest.mark.parametrize("name", vessels.SHAPES)


def drawn(drawing: VesselDrawing) -> str:
    """As the paper prints it."""
    return vessel_svg(drawing, WIDE, vessel_height_px(drawing, WIDE))


@cache
def shape(name: str) -> str:
    """One of the shapes as the paper prints it, drawn once for all who look at it."""
    return drawn(vessels.SHAPES[name])


def texts(svg: str) -> list[str]:
    return [word.text for word in words(svg)]


def test_words_and_lines_are_read_back_as_they_are() -> None:
    """The reader of the drawings itself: a line through turned words is found, one beside them is not."""
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 99 99">'
    text = '<text transform="translate(50 50) rotate(-45)" font-size="10" text-anchor="middle">4000 mm</text>'
    through = f'{head}<path d="M50 60L70 60" stroke="x" fill="none"/><path d="M50 30L50 70" stroke="x" fill="none"/>'
    assert [line for _, line in crossed_words(f"{through}{text}</svg>")] == [((50.0, 30.0), (50.0, 70.0))]
    assert len(overlapping_words(f"{head}{text}{text}</svg>")) == 1


@every_shape
def test_no_line_runs_through_words_and_no_words_overlap(name: str) -> None:
    svg = shape(name)
    assert crossed_words(svg) == []
    assert overlapping_words(svg) == []


@pytest.mark.parametrize(
    ("name", "size"),
    [(name, SIZES[(number + step) % len(SIZES)]) for number, name in enumerate(vessels.SHAPES) for step in (0, 2)],
)
def test_at_any_size_words_stay_clear_and_on_the_sheet(name: str, size: tuple[float, float]) -> None:
    """Each shape at two sizes in turn."""
    wide, high = size
    svg = vessel_svg(vessels.SHAPES[name], wide, high)
    assert crossed_words(svg) == []
    assert overlapping_words(svg) == []
    for word in words(svg):
        assert all(0 <= x <= wide and 0 <= y <= high for x, y in word.corners()), word


@every_shape
def test_everything_that_was_given_is_named(name: str) -> None:
    vessel = vessels.SHAPES[name]
    shown = texts(shape(name))
    said = [*(d.text for d in vessel.dimensions), *(m for m, _ in vessel.marks), *(d for d, _, _ in vessel.deadwood)]
    for word in (*said, "datum", "Side elevation", *(["level"] if vessel.level_m else [])):
        assert word in shown, word
    assert ("Section across" in shown) == bool(vessel.across)


SHARES = (0.0, 0.02, 0.3, 0.5, 0.77, 0.98, 1.0, 1.3, -0.2)
FILLED = ("upright", "lying 1:100", "lying 45", "cone", "sphere")
LEVELS = [(name, share) for at, name in enumerate(FILLED) for share in (SHARES if LONG else SHARES[at % 2 :: 2])]
"""Each level in two or three of the vessels; in all of them where there is time for many draws."""


@pytest.mark.parametrize(("name", "share"), LEVELS)
def test_no_level_brings_words_into_the_way_of_lines(name: str, share: float) -> None:
    vessel = vessels.SHAPES[name]
    top = max(z for _, z in vessel.contour)
    svg = drawn(replace(vessel, level_m=share * top, level_words="level now 1234 mm"))
    assert crossed_words(svg) == []
    assert overlapping_words(svg) == []


def crosses(a: Line, b: Line) -> bool:
    """Whether two lines cross within both, by the sides on which their ends lie."""

    def side(line: Line, point: tuple[float, float]) -> float:
        (xa, ya), (xb, yb) = line
        return (xb - xa) * (point[1] - ya) - (yb - ya) * (point[0] - xa)

    return side(a, b[0]) * side(a, b[1]) < 0 and side(b, a[0]) * side(b, a[1]) < 0


def walls(svg: str) -> list[Line]:
    """The lines of the walls, the heaviest of the drawing but stem and flange."""
    return [
        line for p in paths(svg) if p.stroke == PRINT.ink and 1.0 <= p.width <= 2.0 and not p.dash for line in p.lines()
    ]


def dimension_lines(svg: str) -> list[Line]:
    """Dimension lines: straight, grey, their two arrows follow them."""
    found = paths(svg)
    return [
        p.lines()[0]
        for p, after in pairwise(found)
        if p.stroke == PRINT.secondary and p.width == 0.9 and len(p.points) == 2 and after.fill == PRINT.secondary
    ]


@every_shape
def test_dimension_lines_cross_neither_the_walls_nor_one_another(name: str) -> None:
    svg = shape(name)
    lines = dimension_lines(svg)
    assert len(lines) == len(vessels.SHAPES[name].dimensions)
    assert not any(crosses(line, wall) for line in lines for wall in walls(svg))
    assert not any(crosses(a, b) for i, a in enumerate(lines) for b in lines[i + 1 :])


def test_nested_dimensions_stand_in_rows_the_shortest_within() -> None:
    chain = tuple(Dimension((0.0, 0.0), (x, 0.0), "below", f"{x:.0f} m") for x in (4.0, 1.0, 3.0, 2.0))
    box = VesselDrawing(((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)), dimensions=chain)
    rows = sorted((line[0][1], abs(line[1][0] - line[0][0])) for line in dimension_lines(drawn(box)))
    assert [wide for _, wide in rows] == sorted(wide for _, wide in rows)
    assert all(b[0] - a[0] >= 14 for a, b in pairwise(rows)), "a line of words between two rows"


def test_nothing_is_red_and_the_level_is_named_and_signed() -> None:
    for name, vessel in vessels.SHAPES.items():
        svg = shape(name)
        assert PRINT.blocks not in svg
        signs = [p for p in paths(svg) if p.stroke == PRINT.accent and len(p.points) == 3 and p.closed]
        assert len(signs) <= 2
        assert bool(signs) <= (vessel.level_m is not None)
    assert len([p for p in paths(shape("sphere")) if p.stroke == PRINT.accent and p.closed]) == 2


def test_a_slope_too_small_to_be_seen_is_called_true() -> None:
    assert "axis rises 1:100; slope drawn true to scale" in texts(shape("lying 1:100"))
    assert "axis rises 45°" in texts(shape("lying 45"))
    assert not any("slope" in text for text in texts(shape("upright")))


def slope_sign(svg: str) -> Path:
    """The last of the drawing: the small triangle at the foot."""
    return next(p for p in reversed(paths(svg)) if p.closed and p.fill == "none")


@pytest.mark.parametrize("angle_deg", [20.0, -20.0, 45.0, -60.0, 70.0])
def test_the_small_triangle_leans_as_the_vessel_does(angle_deg: float) -> None:
    along, up = cos(radians(angle_deg)), sin(radians(angle_deg))
    corners = ((0.0, 0.0), (3 * along, 3 * up), (3 * along - up, 3 * up + along), (-up, along))
    leaning = VesselDrawing(corners, axis=(corners[0], corners[1]), slope="leaning")
    floored = VesselDrawing(corners, floor=(corners[0], corners[1]), slope="leaning")
    close(slope_sign(drawn(floored)).size(), slope_sign(drawn(leaning)).size(), 0.02, "lengths printed to 0.01 px")
    wide, high = slope_sign(drawn(leaning)).size()
    close(high / wide, abs(up / along), 0.01, "the ratio of two lengths printed to 0.01 px")
    left, right, tip = slope_sign(drawn(leaning)).points
    assert tip[0] == (right if angle_deg > 0 else left)[0]


def test_extension_lines_begin_at_the_vessel_though_the_measure_is_taken_beside_it() -> None:
    """The width of a cone on its tip, given at the height of the tip, is taken from its brim."""
    width = Dimension((-1.2, 0.0), (1.2, 0.0), "below", "2400 mm")
    svg = drawn(replace(vessels.bare(vessels.cone()), dimensions=(width,), marks=()))
    extensions = [p for p in paths(svg) if p.stroke == PRINT.secondary and p.width == 0.7]
    brim = min(y for line in walls(svg) for _, y in line)
    assert len(extensions) == 2
    for line in extensions:
        assert 0 < min(y for _, y in line.points) - brim < 4, "no more than the air between wall and line"


def test_the_same_vessel_gives_the_same_bytes() -> None:
    for name, vessel in list(vessels.SHAPES.items())[::4]:
        assert shape(name) == drawn(replace(vessel))


def test_the_words_for_those_who_cannot_see_it() -> None:
    said = description(vessels.SHAPES["lying 1:100"])
    for words_said in (
        "Side elevation of the vessel, true to scale, with its plumb section across.",
        "Level at 1000 mm.",
        "length between tangent lines 4000 mm",
        "Marks: outlet 120 mm",
        "heating coil 100 mm to 450 mm",
        "Axis rises 1:100.",
    ):
        assert words_said in said
    label = Xml.fromstring(shape("lying 1:100")).attrib["aria-label"]
    assert label == said
