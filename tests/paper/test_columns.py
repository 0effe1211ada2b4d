"""The sketches of chamber and legs: heights to one scale, every word in its place, nothing breaks them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from math import inf, nan

import pytest

from onedatum.paper.columns import chamber, legs
from onedatum.paper.columns.model import ChamberSketch, LegsSketch, Mark
from onedatum.paper.columns.scene import HEIGHT_PX, TOP_PX
from onedatum.paper.document import document_pdf
from onedatum.paper.model import TopicSheet
from tests.paper import sample
from tests.paper.test_document import HOSTILE, words

CHAMBER = ChamberSketch(
    "Vessel and chamber",
    0.7,
    -0.25,
    0.85,
    0.35,
    0.302,
    (0.111, 0.371),
    0.241,
    (-0.18, 0.77),
    (Mark(0.0, "lower tap 0"), Mark(0.7, "upper tap 700 mm"), Mark(0.35, "level 350 mm", True)),
    (Mark(0.302, "level in the chamber 302 mm", True), Mark(0.043, "4 mA set at 43 mm")),
    "Heights to scale.",
)
LEGS = LegsSketch(
    "Vessel and legs",
    2.0,
    0.5,
    "the liquid itself",
    "water",
    True,
    1.0,
    False,
    (Mark(0.0, "lower tap 0"), Mark(2.0, "upper tap 2 m"), Mark(-0.5, "transmitter -0.5 m")),
    ("+ liquid", "+ gas", "= 12.6 kPa"),
    "Heights to scale.",
)
CHAMBERS = (
    CHAMBER,
    replace(CHAMBER, level_m=None, in_chamber_m=None, float_m=None, magnet_m=None, stem_m=None, left=(), right=()),
    replace(CHAMBER, level_m=nan, in_chamber_m=inf, left=(Mark(nan, "nowhere"), Mark(inf, "far"))),
    replace(CHAMBER, tap_distance_m=1e-9, bottom_m=0.0, top_m=0.0, stem_m=None),
    replace(CHAMBER, tap_distance_m=80.0, bottom_m=-1.0, top_m=81.0),
)
LEGSES = (
    LEGS,
    replace(LEGS, tap_distance_m=None, upper_filling=""),
    replace(LEGS, below_m=-3.0),
    replace(LEGS, below_m=0.0, high_at_lower=False, upper_filling="the gas above"),
    replace(LEGS, level_m=nan, left=(Mark(nan, "nowhere"),), lines=()),
    replace(LEGS, tap_distance_m=1e-9, below_m=0.0, left=()),
)


def texts(svg: str) -> list[str]:
    """The texts of a picture; parsing it proves that it is sound."""
    return [text for element in ET.fromstring(svg).iter() if (text := element.text or "").strip()]


def test_the_chamber_names_every_height() -> None:
    written = texts(chamber.chamber_svg(CHAMBER, 760.0))
    for mark in (*CHAMBER.left, *CHAMBER.right):
        assert mark.text in written
    assert {"vessel", "chamber", "stem"} <= set(written)


def test_the_legs_name_sides_and_columns() -> None:
    written = texts(legs.legs_svg(LEGS, 760.0))
    assert {"high", "low", "water", *LEGS.lines} <= set(written)
    exchanged = texts(legs.legs_svg(replace(LEGS, high_at_lower=False), 760.0))
    assert written.index("high") < written.index("low")
    assert exchanged.index("low") < exchanged.index("high")
    assert "air" in texts(legs.legs_svg(replace(LEGS, tap_distance_m=None, upper_filling=""), 760.0))


def test_heights_are_to_scale() -> None:
    """The surfaces in vessel and chamber stand apart as their heights do."""
    svg = chamber.chamber_svg(CHAMBER, 760.0)
    surfaces = [
        float(found)
        for found in re.findall(r'd="M[\d.]+ ([\d.]+)L[\d.]+ \1" fill="none" stroke="#0B4A68" stroke-width="1.6"', svg)
    ]
    assert len(surfaces) == 2
    low, high = -0.25, 0.85
    scale = HEIGHT_PX / ((high - low) * 1.16)
    assert abs(surfaces[1] - surfaces[0] - (0.35 - 0.302) * scale) < 0.02


@pytest.mark.parametrize("sketch", CHAMBERS)
def test_odd_chambers_are_drawn_inside_the_sheet(sketch: ChamberSketch) -> None:
    _inside(chamber.chamber_svg(sketch, 760.0))


@pytest.mark.parametrize("sketch", LEGSES)
def test_odd_legs_are_drawn_inside_the_sheet(sketch: LegsSketch) -> None:
    _inside(legs.legs_svg(sketch, 760.0))


def _inside(svg: str) -> None:
    assert "nan" not in svg
    assert "inf" not in svg.replace("information", "")
    bottom = TOP_PX + HEIGHT_PX + 20.0
    for y in re.findall(r' y="(-?[\d.]+)"', svg):
        assert -1.0 <= float(y) <= bottom


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_words_are_only_words(hostile: str) -> None:
    for sketch, draw in (
        (replace(CHAMBER, title=hostile, left=(Mark(0.1, hostile),), caption=hostile), chamber.chamber_svg),
        (replace(LEGS, title=hostile, lower_filling=hostile, lines=(hostile,)), legs.legs_svg),
    ):
        ET.fromstring(draw(sketch, 760.0))  # type: ignore[operator]


def test_both_stand_on_their_sheets_with_their_words() -> None:
    sheets = tuple(
        TopicSheet(title, "An answer.", (), drawing=drawing)
        for title, drawing in (("Chamber", CHAMBER), ("Legs", LEGS))
    )
    text = words(document_pdf(replace(sample.paper(), stem=sheets)))
    for part in ("level in the chamber 302 mm", "transmitter -0.5 m", "Heights to scale."):
        assert re.sub(r"\s+", "", part) in re.sub(r"\s+", "", text)
    assert "Vessel and legs" in legs.words_of(LEGS)
    assert "upper tap 700 mm" in chamber.words_of(CHAMBER)
