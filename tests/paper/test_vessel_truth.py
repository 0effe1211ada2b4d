"""The drawing of a vessel is true: one scale both ways, one height everywhere, lines where closed forms put them."""

from dataclasses import replace
from math import acos, cos, hypot, pi, radians, sqrt

import pytest

from onedatum.paper.ruler import PRINT
from onedatum.paper.vessel.breaks import shortened
from onedatum.paper.vessel.drawing import vessel_height_px, vessel_svg
from onedatum.paper.vessel.model import Dimension, Point, VesselDrawing
from onedatum.paper.vessel.polygon import crossings, cut, thickness
from tests.closeness import close, exact
from tests.paper import vessels
from tests.paper.strokes import Path, paths

TWO_DECIMALS = "coordinates are written with two decimals of a px"


def drawn(drawing: VesselDrawing) -> str:
    """As the paper prints it."""
    return vessel_svg(drawing, 760.0, vessel_height_px(drawing))


def outlines(svg: str) -> list[Path]:
    """Whole walls: closed, not filled, from the left."""
    found = [p for p in paths(svg) if p.closed and p.fill == "none" and p.stroke == PRINT.ink and p.width > 1]
    return sorted(found, key=lambda p: min(x for x, _ in p.points))


def fills(svg: str) -> list[Path]:
    """The liquid, from the left."""
    return sorted((p for p in paths(svg) if p.fill == PRINT.liquid), key=lambda p: min(x for x, _ in p.points))


def surfaces(svg: str) -> list[Path]:
    """The lines of the level, from the left."""
    found = [p for p in paths(svg) if p.stroke == PRINT.accent and p.width == 1.4]
    return sorted(found, key=lambda p: p.points[0][0])


def gaugeless(name: str) -> VesselDrawing:
    """A vessel whose wall is whole, so that it can be measured."""
    return replace(vessels.SHAPES[name], nozzle=None, stem=None, float_body=None)


@pytest.mark.parametrize("name", ["upright", "lying 1:100", "lying 45", "lying -30", "hopper", "sphere", "cone"])
def test_one_scale_both_ways_and_in_both_views(name: str) -> None:
    """Width, height and area of each figure against those of what was given; the area goes with the square."""
    vessel = gaugeless(name)
    figures = outlines(drawn(vessel))
    given = [Path(tuple(f), True, "", 0, "", "") for f in (vessel.contour, vessel.across) if f]
    assert len(figures) == len(given)
    scale = figures[0].size()[1] / given[0].size()[1]
    for shown, true in zip(figures, given, strict=True):
        assert close(shown.size()[0], true.size()[0] * scale, 0.05, TWO_DECIMALS)
        assert close(shown.size()[1], true.size()[1] * scale, 0.05, TWO_DECIMALS)
        assert close(shown.area(), true.area() * scale**2, 1e-3 * shown.area(), "two decimals on every corner")


def test_the_plumb_section_of_a_vessel_at_45_degrees_is_an_ellipse() -> None:
    """A plane at an angle cuts a cylinder of diameter D in an ellipse D wide and D / cos 45 high."""
    wide, high = outlines(drawn(gaugeless("lying 45")))[1].size()
    assert close(high / wide, 1 / cos(radians(45)), 5e-4, TWO_DECIMALS)


def test_the_level_is_one_height_and_ends_at_the_walls() -> None:
    """Sphere: half the chord at the height z is sqrt(R^2 - (R - z)^2), in both views."""
    vessel = gaugeless("sphere")
    svg = drawn(vessel)
    long = outlines(svg)[0]
    scale = long.size()[1] / 6.0
    foot = max(y for _, y in long.points)
    assert vessel.level_m is not None
    assert len(surfaces(svg)) == 2
    for line, radius in zip(surfaces(svg), (3.0, sqrt(3.0**2 - 1.5**2)), strict=True):
        (xa, ya), (xb, yb) = line.points
        half = sqrt(radius**2 - (3.0 - vessel.level_m) ** 2)
        assert exact(ya, yb)
        assert close(foot - ya, vessel.level_m * scale, 0.03, TWO_DECIMALS)
        inset = radius * (1 - cos(pi / 96)) * radius / half * scale
        assert close(xb - xa, 2 * half * scale, 2 * inset + 0.02, "96 straight sides lie within their circle")


def test_the_liquid_has_the_area_of_its_segment() -> None:
    """Segment of a circle filled to h: R^2 acos(1 - h/R) - (R - h) sqrt(2 R h - h^2)."""
    vessel = gaugeless("sphere")
    svg = drawn(vessel)
    R, h = 3.0, vessel.level_m or 0.0
    segment = R**2 * acos(1 - h / R) - (R - h) * sqrt(2 * R * h - h**2)
    share = fills(svg)[0].area() / outlines(svg)[0].area()
    assert close(share, segment / (pi * R**2), 1e-3, "a circle of 96 corners")


@pytest.mark.parametrize("name", ["upright", "lying 1:100", "lying 45", "lying -30", "hopper", "cone"])
def test_dimension_arrows_stand_as_far_apart_as_what_they_measure(name: str) -> None:
    vessel = gaugeless(name)
    svg = drawn(vessel)
    scale = outlines(svg)[0].size()[1] / Path(tuple(vessel.contour), True, "", 0, "", "").size()[1]
    tips = [p.points[0] for p in paths(svg) if p.fill == PRINT.secondary]
    apart = sorted(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(tips[::2], tips[1::2], strict=True))
    measured = sorted(hypot(d.end_m[0] - d.start_m[0], d.end_m[1] - d.start_m[1]) for d in vessel.dimensions)
    assert len(apart) == len(measured)
    for px, metres in zip(apart, measured, strict=True):
        assert close(px, metres * scale, 0.05, TWO_DECIMALS)


def test_names_are_led_from_their_true_height() -> None:
    vessel = gaugeless("upright")
    svg = drawn(vessel)
    (wall,) = outlines(svg)
    scale, foot = wall.size()[1] / 3.2, max(y for _, y in wall.points)
    leaders = sorted(p.points[0][1] for p in paths(svg) if p.width == 0.8 and len(p.points) == 3)
    heights = [*(z for _, z in vessel.marks), 1.85, (0.3 + 2.6) / 2]
    for px, z in zip(leaders, sorted(heights, reverse=True), strict=True):
        assert close(foot - px, z * scale, 0.03, TWO_DECIMALS)


def ends(path: Path) -> tuple[Point, Point]:
    """First and last point."""
    return path.points[0], path.points[-1]


def test_a_long_pipe_is_broken_but_no_height_is_moved() -> None:
    """A pipe of 100 diameters: bore and gauge keep their scale, the pieces right of a break their true height."""
    rise = 0.01
    vessel = vessels.pipe(40.0, 0.4, vessels.ONE_IN_100)
    svg = drawn(replace(vessel, nozzle=None, stem=None, float_body=None))
    runs = [p for p in paths(svg) if p.stroke == PRINT.ink and p.width == 2 and not p.closed]
    breaks = [p for p in paths(svg) if len(p.points) == 6]
    section = next(p for p in paths(svg) if p.closed and p.fill == "none" and len(p.points) > 20)
    scale = section.size()[0] / 0.4
    assert len(breaks) == 4, "two lengths left out, on either side of the gauge"
    left, right = min(runs, key=lambda p: ends(p)[0][0]), max(runs, key=lambda p: ends(p)[0][0])
    low_left = max(y for _, y in left.points)
    low_right = max(y for x, y in right.points if x == max(x for x, _ in right.points))
    assert close(low_left - low_right, 40.0 * rise * scale, 0.1, TWO_DECIMALS)
    assert min(section.size()) > 40, "thick enough to be read"


def test_a_pipe_of_200_diameters_is_drawn_and_its_level_runs_through_all_pieces() -> None:
    svg = drawn(vessels.pipe(80.0, 0.4))
    assert len(surfaces(svg)) == 4, "three pieces and the section"
    assert len({line.points[0][1] for line in surfaces(svg)}) == 1


def test_a_long_section_across_is_broken_too() -> None:
    across = ((-20.0, 0.0), (20.0, 0.0), (20.0, 2.0), (-20.0, 2.0))
    basin = VesselDrawing(
        contour=((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)),
        across=across,
        dimensions=(Dimension((-20.0, 0.0), (20.0, 0.0), "below", "40 m", "width", "across"),),
    )
    svg = drawn(basin)
    assert len([p for p in paths(svg) if len(p.points) == 6]) == 4
    wide, high = outlines(svg)[0].size()
    assert close(high / wide, 2 / 3, 2e-3, TWO_DECIMALS)
    assert high > 50, "the wide section does not press the vessel down to a line"


def test_lengths_are_shortened_evenly_to_a_sum() -> None:
    """Filling up: 1 + 2 + 3 + 3 = 9 with all longer lengths cut to 3."""
    assert exact(shortened([1.0, 10.0, 2.0, 7.0], 9.0), 3.0)
    assert exact(shortened([1.0, 2.0], 9.0), 2.0)


def test_thickness_is_the_width_of_a_strip_and_the_radius_of_a_disc() -> None:
    """2 area / girth: a strip 100 by 1 gives 100/101, a circle its radius."""
    strip = ((0.0, 0.0), (100.0, 0.0), (100.0, 1.0), (0.0, 1.0))
    assert close(thickness(strip), 100 / 101, 1e-12, "rounding")
    assert close(thickness(vessels.ring(3.0, 2000)), 3.0, 1e-4, "a circle of 2000 corners")


def test_a_figure_cut_at_a_height_keeps_what_lies_below() -> None:
    """Right triangle with legs of 4: below height 1 lies 4*4/2 - 3*3/2 = 3.5; there the wall is met at 0 and 3."""
    triangle = ((0.0, 0.0), (4.0, 0.0), (0.0, 4.0))
    below = Path(cut(triangle, 1, 1.0, True), True, "", 0, "", "")
    assert close(below.area(), 3.5, 1e-12, "rounding")
    assert close(crossings(triangle, 1.0), [0.0, 3.0], 1e-12, "rounding")
