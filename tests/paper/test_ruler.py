"""The ruler: nothing overlaps, heights agree across the sheet, red only for what blocks, and no input breaks it."""

import re
from dataclasses import replace
from math import asin, inf, nan, pi, sqrt
from xml.etree import ElementTree as Xml

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.paper.model import Bracket, Mark, Nozzle, Ruler, Scale, Span, Stem, Stop
from onedatum.paper.ruler import PRINT, detail_svg, ruler_svg
from onedatum.paper.ruler.frame import frame_of
from tests.closeness import close, printed
from tests.draws import DRAWS
from tests.paper import sample
from tests.paper.metrics import SVG, overlapping, text_boxes

SIZES = [(760, 720), (760, 560), (900, 700), (620, 640), (1280, 640)]


def texts(svg: str) -> list[str]:
    return [box.text for box in text_boxes(svg)]


@pytest.mark.parametrize(("wide", "high"), SIZES)
def test_no_two_texts_overlap(wide: float, high: float) -> None:
    svg = ruler_svg(sample.ruler(), wide, high)
    assert len(texts(svg)) > 60
    assert overlapping(svg) == []


@pytest.mark.parametrize("level_m", [0.0, 0.05, 0.3, 1.0, 2.2, 2.71, 2.95, 3.02, 3.17])
def test_no_two_texts_overlap_at_any_level(level_m: float) -> None:
    svg = ruler_svg(replace(sample.ruler(), level_m=level_m))
    assert overlapping(svg) == []


def test_every_text_lies_on_the_sheet() -> None:
    for box in text_boxes(ruler_svg(sample.ruler())):
        assert box.left >= 0
        assert box.right <= 760
        assert box.top >= 0
        assert box.bottom <= 720


def test_the_readouts_are_the_numbers_of_the_sample() -> None:
    shown = texts(ruler_svg(sample.ruler()))
    assert {"1850", "72.83", "64.81", "14.370", "143.7", "3.501", "3134.7", "2393.8"} <= set(shown)


def test_the_hand_made_sample_holds_the_closed_form_of_its_volume() -> None:
    """Cap of a sphere, knuckle integrated in closed form, cylinder; the sum of discs must agree and give 5.636 m3."""
    R, r, c, depth = sample.CROWN_M, sample.KNUCKLE_M, sample.RADIUS_M - sample.KNUCKLE_M, sample.head_depth_m()
    cap = R * (1 - (R - depth) / (R - r))
    d = depth - cap
    knuckle = c**2 * d + c * (d * sqrt(r**2 - d**2) + r**2 * asin(d / r)) + r**2 * d - d**3 / 3
    head = pi * cap**2 * (3 * R - cap) / 3 + pi * knuckle
    full = 2 * head + pi * sample.RADIUS_M**2 * sample.SHELL_M
    summed = sample.volumes_m3()[1][-1] / (1 + 2 * 16e-6 * (14 - 20))
    assert full == printed("5.636")
    assert close(summed, full, 1e-4, "Simpson's rule across the two bends of the wall")


def test_a_label_stands_where_its_height_is() -> None:
    """Two numbers of the mm scale give the px of a metre; every other number of it must then agree."""
    scales = sample.scales()[:1]
    ruler = replace(sample.ruler(), marks=(), bands=(), scales=scales, level_m=None, outline=())
    boxes = {b.text: b for b in text_boxes(ruler_svg(ruler)) if len(b.text) == 4 and b.right < 380}
    middle = {int(text): (box.top + box.bottom) / 2 for text, box in boxes.items()}
    px_per_mm = (middle[1000] - middle[2800]) / 1800
    assert len(middle) > 8
    for value, y in middle.items():
        assert close(middle[1000] - y + 1000 * px_per_mm, value * px_per_mm, 0.02, "two decimals of a px")


def test_only_what_blocks_is_red() -> None:
    ruler = sample.ruler()
    peaceful = replace(ruler, marks=tuple(replace(m, blocks=False) for m in ruler.marks))
    assert PRINT.blocks in ruler_svg(ruler)
    assert PRINT.blocks not in ruler_svg(peaceful)


def test_above_the_end_of_the_loop_the_scales_say_so_and_stop() -> None:
    shown = texts(ruler_svg(sample.ruler()))
    assert "no reliable signal above" in shown
    assert {"96.3", "19.41", "194.1", "HH no signal"} <= set(shown)
    current = tuple(s for s in sample.scales() if s.name == "mA")
    alone = texts(ruler_svg(replace(sample.ruler(), scales=current, marks=())))
    assert "19" in alone
    assert "20" not in alone, "20 mA lies above the end of the loop"


def test_a_single_scale_that_stops_says_all_its_words() -> None:
    alone = replace(sample.ruler(), scales=tuple(s for s in sample.scales() if s.name in ("mm", "mA", "m³")))
    shown = " ".join(texts(ruler_svg(alone)))
    assert re.search(r"no reliable .*above.* 19\.41", shown)
    assert overlapping(ruler_svg(alone)) == []


def test_an_unknown_scale_keeps_its_place_and_asks() -> None:
    scales = tuple(replace(s, unknown="temperature") if s.name == "kg" else s for s in sample.scales())
    svg = ruler_svg(replace(sample.ruler(), scales=scales))
    assert "unknown, ask: temperature" in texts(svg)
    assert "?" in texts(svg)
    assert overlapping(svg) == []


def test_too_narrow_a_sheet_drops_the_least_needed_scales() -> None:
    svg = ruler_svg(sample.ruler(), 480, 640)
    shown = texts(svg)
    assert overlapping(svg) == []
    assert max(box.right for box in text_boxes(svg)) <= 480
    assert "mm" in shown
    assert "mA" in shown
    assert "L pure" not in shown


def test_too_many_marks_give_up_geometry_before_alarms() -> None:
    crowd = tuple(Mark(f"shelf {i}", 0.05 * i, "geometry") for i in range(60))
    shown = texts(ruler_svg(replace(sample.ruler(), marks=(*sample.marks(), *crowd)), 760, 520))
    assert {"CH critical", "URV 20 mA", "LRV 4 mA", "H alarm", "LL alarm"} <= set(shown)
    assert "shelf 30" not in shown


def test_a_wide_vessel_is_broken_off_and_never_squeezed() -> None:
    flat = replace(sample.ruler(), outline=((12.0, 0.0), (12.0, 3.0)), nozzle=None, stem=None)
    svg = ruler_svg(flat)
    assert overlapping(svg) == []
    assert "24000" in texts(svg)
    assert max(box.right for box in text_boxes(svg)) <= 760


def test_a_nozzle_off_the_axis_is_drawn_where_it_stands() -> None:
    """Its two walls stand a bore apart, at the scale that the diameter is drawn to."""
    off = replace(sample.ruler(), marks=(), bands=(), nozzle=Nozzle(0.2, 2.9, 3.17, 0.4), stem=None, level_m=None)
    svg = ruler_svg(off)
    ink = [n.attrib["d"] for n in Xml.fromstring(svg).iter(f"{SVG}path") if n.attrib.get("stroke-width") == "2"]
    walls = sorted(float(x) for d in ink for x, end in two_ends(d) if x == end)
    px_per_m = (max(float(x) for d in ink for x in re.findall(r"[ML]([\d.]+)", d)) - 16) / sample.RADIUS_M
    assert len(walls) == 2
    assert close(walls[1] - walls[0], 0.2 * px_per_m, 0.03, "two decimals of a px")
    assert close((walls[0] + walls[1]) / 2, 16 + 0.4 * px_per_m, 0.03, "two decimals of a px")


def two_ends(data: str) -> list[tuple[str, str]]:
    """The x of both ends of a straight line; nothing for a longer path."""
    xs = re.findall(r"[ML]([\d.]+)", data)
    return [(xs[0], xs[1])] if len(xs) == 2 else []


def test_a_detail_carries_its_letter_on_both_drawings() -> None:
    span = Span(sample.LOOP_END_M, 2.9)
    whole = ruler_svg(replace(sample.ruler(), brackets=(Bracket("A", span),)))
    detail = detail_svg(sample.ruler(), "A", span)
    assert "A" in texts(whole)
    assert overlapping(whole) == []
    assert overlapping(detail) == []
    assert {"Detail A", "HH no signal", "2717", "CH critical", "19.41", "no signal"} <= set(texts(detail))
    assert max(box.right for box in text_boxes(whole)) <= 760


@given(st.floats(), st.floats())
def test_no_span_of_a_detail_crashes(low: float, high: float) -> None:
    assert Xml.fromstring(detail_svg(sample.ruler(), "A", Span(low, high))).tag == f"{SVG}svg"


def test_the_same_ruler_gives_the_same_bytes() -> None:
    assert ruler_svg(sample.ruler()) == ruler_svg(sample.ruler())


@pytest.mark.parametrize(
    "ruler",
    [
        Ruler("", (), ()),
        Ruler("x", ((nan, nan), (0.0, inf)), (), level_m=nan),
        replace(sample.ruler(), outline=((1.0, 1.0), (1.0, 1.0)), marks=(), nozzle=None, stem=None, scales=()),
        replace(sample.ruler(), outline=(), marks=(), scales=(), level_m=1.0),
    ],
)
def test_nothing_to_draw_is_said(ruler: Ruler) -> None:
    assert texts(ruler_svg(ruler))[0].startswith("No drawing")


def test_without_an_outline_scales_and_marks_remain() -> None:
    shown = texts(ruler_svg(replace(sample.ruler(), outline=())))
    assert "Elevation" not in shown
    assert overlapping(ruler_svg(replace(sample.ruler(), outline=()))) == []
    assert {"CH critical", "1850", "3.501"} <= set(shown)


anything = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True), st.sampled_from([0.0, 1e9, -1e9, 1e-12, 1e300, nan])
)
pairs = st.lists(st.tuples(anything, anything), max_size=4)


@settings(max_examples=DRAWS)
@given(pairs, anything, anything, anything, st.text(max_size=30), st.lists(anything, min_size=2, max_size=3))
def test_no_number_and_no_text_hangs_or_crashes(
    outline: list[tuple[float, float]], a: float, b: float, level: float, text: str, values: list[float]
) -> None:
    odd = Scale(text, text, tuple(sorted(values)), tuple(values), 2, Stop(a, text))
    ruler = replace(
        sample.ruler(),
        datum=text,
        outline=tuple(outline) or sample.outline(),
        marks=(*sample.marks(), Mark(text, a, "alarm", blocks=True), Mark(text, b, "geometry", assumed=True)),
        scales=(odd, *sample.scales()),
        nozzle=Nozzle(a, b, level, a),
        stem=Stem(a, b, a, a, b, level),
        level_m=level,
    )
    svg = ruler_svg(ruler)
    assert Xml.fromstring(svg).tag == f"{SVG}svg"
    assert len(svg) < 800_000
    assert "nan" not in re.sub(r">[^<]*<|aria-label=\"[^\"]*\"", "", svg)


@pytest.mark.parametrize("size", [(0, 0), (nan, 700), (760, nan), (-5, 700), (760, 90), (1e9, 1e9)])
def test_no_size_of_sheet_crashes(size: tuple[float, float]) -> None:
    assert Xml.fromstring(ruler_svg(sample.ruler(), *size)).tag == f"{SVG}svg"


def test_the_ruler_says_which_section_it_shows() -> None:
    across = ruler_svg(replace(sample.ruler(), section="half section across"))
    assert "half section across, mm" in texts(across)
    assert "Elevation of the vessel, half section across, beside its scales" in across
    assert "half section, mm" in texts(ruler_svg(sample.ruler()))
    assert overlapping(across) == []


def test_a_mark_far_away_does_not_shrink_the_vessel() -> None:
    far = replace(sample.ruler(), marks=(*sample.marks(), Mark("typing error", 1e9, "alarm")))
    assert frame_of(far, 720) == frame_of(sample.ruler(), 720)
    assert "typing error" not in texts(ruler_svg(far))
