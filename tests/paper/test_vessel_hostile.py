"""The drawing of a vessel withstands every input: nothing to draw, wild numbers, sheets of any size."""

import re
from dataclasses import replace
from math import inf, nan
from xml.etree import ElementTree as Xml

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.paper.vessel.drawing import MOST_HEIGHT_PX, NO_DRAWING, TOO_SLENDER, vessel_height_px, vessel_svg
from onedatum.paper.vessel.model import Dimension, Polygon, Side, VesselDrawing
from tests.draws import DRAWS
from tests.paper import vessels
from tests.paper.metrics import SVG
from tests.paper.test_vessel_drawing import WIDE, drawn, texts, walls

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


@pytest.mark.parametrize(
    "contour",
    [
        (),
        ((0.0, 0.0),),
        ((0.0, 0.0), (1.0, 1.0)),
        ((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)),
        ((nan, 0.0), (1.0, inf), (0.0, nan)),
        ((1.0, 1.0),) * 4,
        ((0.0, 0.0), (1e-9, 0.0), (1e-9, 1e-9), (0.0, 1e-9)),
    ],
)
def test_nothing_to_draw_is_said(contour: tuple[tuple[float, float], ...]) -> None:
    assert texts(drawn(VesselDrawing(contour))) == [NO_DRAWING]


def test_an_upright_pipe_too_slender_for_the_sheet_is_said() -> None:
    slender = VesselDrawing(((0.0, 0.0), (0.05, 0.0), (0.05, 10.0), (0.0, 10.0)))
    assert texts(drawn(slender)) == [TOO_SLENDER]


def test_a_section_or_level_that_is_no_number_is_left_out() -> None:
    odd = replace(
        vessels.SHAPES["lying 45"], across=((nan, 0.0), (1.0, 1.0), (0.0, inf)), level_m=nan, stem=(nan, 0, 1)
    )
    shown = texts(drawn(odd))
    assert "Section across" not in shown
    assert "level" not in shown
    assert "4000 mm" in shown


def test_what_lies_far_away_does_not_shrink_the_vessel() -> None:
    box = VesselDrawing(SQUARE)
    far = replace(
        box,
        stem=(0.5, 0.0, 1e5),
        marks=(("typing error", 1e5),),
        dimensions=(Dimension((0.0, 0.0), (1e5, 0.0), "below", "far"),),
        datum_at=(1e5, 0.0),
    )
    assert walls(drawn(far)) == walls(drawn(box))
    assert texts(drawn(far)) == texts(drawn(box))


anything = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(-3, 3),
    st.sampled_from([0.0, 1e9, -1e9, 1e-12, 1e300, nan]),
)
points = st.lists(st.tuples(anything, anything), max_size=6).map(tuple)


@settings(max_examples=DRAWS, deadline=None)
@given(points, points, anything, anything, anything, st.text(max_size=40), st.sampled_from(["above", "below", "left"]))
def test_no_number_and_no_text_hangs_or_crashes(
    contour: Polygon, across: Polygon, a: float, b: float, c: float, text: str, side: Side
) -> None:
    vessel = VesselDrawing(
        contour=contour or SQUARE,
        across=across,
        axis=((a, b), (c, a)),
        tangents=(((a, a), (b, c)),),
        stem=(a, b, c),
        nozzle=(c, a, b, c),
        float_body=(a, c, b, a),
        level_m=b,
        level_words=text,
        datum_at=(c, b),
        deadwood=((text, a, b), (text, 0.2, 0.3)),
        marks=((text, c), (text, 0.5)),
        dimensions=(Dimension((a, b), (c, a), side, text, text), Dimension((0.0, 0.0), (1.0, b), side, text)),
        slope=text,
    )
    for high in (vessel_height_px(vessel), 300.0):
        svg = vessel_svg(vessel, WIDE, high)
        assert Xml.fromstring(svg).tag == f"{SVG}svg"
        assert len(svg) < 200_000
        assert "nan" not in re.sub(r">[^<]*<|aria-label=\"[^\"]*\"", "", svg)


@pytest.mark.parametrize("size", [(0, 0), (nan, 700), (760, nan), (-5, 700), (760, 90), (1e9, 1e9), (250, 170)])
def test_no_size_of_sheet_crashes(size: tuple[float, float]) -> None:
    for vessel in vessels.SHAPES.values():
        assert Xml.fromstring(vessel_svg(vessel, *size)).tag == f"{SVG}svg"


def test_a_contour_of_very_many_points_is_drawn_with_few() -> None:
    many = replace(vessels.sphere(), contour=vessels.ring(3.0, 50_000))
    assert len(drawn(many)) < 120_000
    assert vessel_height_px(many) <= MOST_HEIGHT_PX
