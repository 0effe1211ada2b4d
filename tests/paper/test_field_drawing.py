"""Pictures of a probe, field and capacitance by level: no word over another, nothing outside, nothing breaks them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from math import exp, inf, log, nan
from pathlib import Path

import pytest

from onedatum.jobs.document import document
from onedatum.jobs.probe_pictures import curve_drawing, field_drawing
from onedatum.jobs.probe_sheet import probe_sheet
from onedatum.paper.document import document_pdf
from onedatum.paper.field import chart, drawing
from onedatum.paper.field.model import CurveDrawing, FieldDrawing, FieldLine, Mark, Rod
from onedatum.paper.field.pane import EARTH_PX
from onedatum.paper.model import TopicSheet
from onedatum.paper.table.chart import Axis
from tests.draws import LONG
from tests.paper import sample
from tests.paper.metrics import overlapping, text_boxes
from tests.paper.test_document import HOSTILE, words
from tests.study.test_probe import BARE, CAUSTIC, GLAND, OIL, STEEL, probe
from tests.study.test_probe_field import BOX, LYING, MEASURES, OILY, SHAPE, TUBE, UP_TO, headed, shaped
from tests.study.variants import text_with

WIDE_PX = 760.0


def line(share: int) -> FieldLine:
    """A line of a coaxial rod of 5 mm in a tank of 1 m, closed 50 mm under it."""
    radius = exp(log(0.005) * share / 100)
    return FieldLine(f"{share} %", ((0.0, 0.05), (radius / 2, 0.06), (radius, 0.2), (radius, 2.0)), share == 50)


FIELD = FieldDrawing(
    "Field of the probe",
    Rod(0.005, 0.007, 0.102, 0.1, 0.02),
    ((1.0, 0.0), (1.0, 2.0)),
    tuple(line(share) for share in (90, 70, 50, 30, 10)),
    1.2,
    "level 1200 mm",
    "Hatched: earth.",
)
CURVE = CurveDrawing(
    "Capacitance by level",
    (100.0, 500.0, 1000.0, 1900.0),
    (20.0, 31.0, 42.0, 66.0),
    (-20.0, 4.0, 0.0, 12.0),
    ((200.0, 23.0), (1800.0, 61.0)),
    "mm",
    "pF",
    "by the field",
    "straight line of the setting",
    (Mark(150.0, "4 mA"), Mark(1850.0, "20 mA")),
    "The line is laid through two points.",
)
FIELDS = (
    FIELD,
    replace(FIELD, rod=Rod(0.005, 0.005, 0.1, 0.1, 0.02)),
    replace(FIELD, rod=Rod(0.005, 0.005, 0.1, 0.1, None), wall=((0.0125, 0.05), (0.0125, 2.0))),
    replace(FIELD, wall=((20.0, 0.0), (20.0, 2.0))),
    replace(FIELD, wall=((0.0, 0.0), (0.3, 0.02), (1.0, 0.4), (1.0, 1.8), (0.03, 2.0))),
    replace(FIELD, level_m=0.0, level_words="level 0 mm"),
    replace(FIELD, level_m=9.0, lines=()),
    replace(FIELD, rod=Rod(0.5, 0.6, 0.12, 0.1, 0.7)),
)
CURVES = (
    CURVE,
    replace(CURVE, errors=(0.0,) * 4),
    replace(CURVE, held=(5.0,) * 4, line=((200.0, 5.0), (1800.0, 5.0))),
    replace(CURVE, ends=(Mark(900.0, "20 mA"), Mark(905.0, "4 mA"))),
    replace(CURVE, ends=(Mark(150.0, "4 mA"), Mark(9e9, "20 mA"))),
    replace(CURVE, levels=(4e-9, 5e-9, 6e-9, 7e-9), ends=()),
    replace(CURVE, levels=(0.0, 1e6, 2e6, 3e6), held=(1e9, 2e9, 3e9, 4e9), errors=(-1e6, 1e6, 0.0, 1.0)),
    replace(CURVE, line=((200.0, 1e9), (1800.0, -1e9))),
)


def texts(svg: str) -> list[str]:
    """The texts of a picture; parsing it proves that it is sound."""
    return [text for element in ET.fromstring(svg).iter() if (text := element.text or "").strip()]


def sound(svg: str) -> None:
    """No text over another or beyond the sheet, no number that is none."""
    root = ET.fromstring(svg)
    wide, high = float(root.attrib["width"]), float(root.attrib["height"])
    assert overlapping(svg) == []
    assert not re.search(r"\b(nan|inf)\b", svg)
    for box in text_boxes(svg):
        assert box.left >= -0.5 and box.right <= wide + 0.5, box
        assert box.top >= -0.5 and box.bottom <= high + 0.5, box


# ---------------------------------------------------------------- as drawn


@pytest.mark.parametrize("width", [420.0, WIDE_PX, 1200.0])
@pytest.mark.parametrize("field", FIELDS)
def test_no_word_of_the_field_lies_over_another(field: FieldDrawing, width: float) -> None:
    sound(drawing.field_svg(field, width))


@pytest.mark.parametrize("width", [560.0, WIDE_PX, 1200.0])
@pytest.mark.parametrize("curve", CURVES)
def test_no_word_of_the_chart_lies_over_another(curve: CurveDrawing, width: float) -> None:
    sound(chart.curve_svg(curve, width))


def test_the_field_says_level_and_windows_and_names_lines() -> None:
    written = texts(drawing.field_svg(FIELD, WIDE_PX))
    assert {"level 1200 mm", "the end of the rod", "the ring in the roof"} <= set(written)
    assert sum(word.endswith(" mm") for word in written) == 4, "the level and a bar to each window"
    assert "10 %" in written
    tube = texts(drawing.field_svg(FIELDS[2], WIDE_PX))
    assert "the surface" in tube
    assert "the ring in the roof" not in tube


def test_every_window_is_to_one_scale_both_ways() -> None:
    """The whole vessel: 2 m wide and 2 m high, so its wall is a square; a bar of 1000 mm is half of it."""
    svg = drawing.field_svg(FIELD, WIDE_PX)
    pane = drawing.whole(FIELD, WIDE_PX)
    (left, top), (right, foot) = pane.at((-1.0, 2.0)), pane.at((1.0, 0.0))
    assert abs((right - left) - (foot - top)) < 1e-6
    bars = re.findall(r'd="M([\d.]+) [\d.]+L\1 [\d.]+L([\d.]+) [\d.]+L\2 [\d.]+" fill="none"', svg)
    assert abs((float(bars[0][1]) - float(bars[0][0])) - 0.5 * (right - left)) < 0.03


def test_earth_is_hatched_and_liquid_tinted_and_both_sides_are_alike() -> None:
    svg = drawing.field_svg(FIELD, WIDE_PX)
    assert f'stroke="url(#earth)" stroke-width="{2 * EARTH_PX:g}"' in svg
    assert svg.count('fill="#D6E6EE"') == 2, "the ring is in the gas"
    assert svg.count('stroke-width="1.3"') % 2 == 0, "the heavy line either side"
    assert "#962917" not in svg, "red is for what blocks"


def test_the_chart_names_what_it_shows() -> None:
    written = texts(chart.curve_svg(CURVE, WIDE_PX))
    for word in ("4 mA", "20 mA", "by the field", "straight line of the setting", "set here", "capacitance, pF",
                 "reads high, mm", "level, mm"):  # fmt: skip
        assert word in written
    assert "reads off by -20 mm at most, at 100 mm" in chart.words_of(CURVE)


def test_the_straight_line_meets_its_two_points_and_stays_inside() -> None:
    svg = chart.curve_svg(CURVE, WIDE_PX)
    dashed = re.findall(r'd="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)" fill="none" stroke="#4C5963"[^>]*dash', svg)
    x_1, y_1, x_2, y_2 = map(float, dashed[0])
    held = chart.roomy([20.0, 31.0, 42.0, 66.0, 23.0, 61.0], chart.TOP_PX + chart.UPPER_PX, chart.TOP_PX)
    across = Axis(100.0, 1900.0, chart.LEFT_PX, WIDE_PX - chart.RIGHT_PX)
    for level, value in CURVE.line:
        on_line = y_1 + (y_2 - y_1) * (across.at(level) - x_1) / (x_2 - x_1)
        assert abs(on_line - held.at(value)) < 0.05
    assert min(y_1, y_2) >= chart.TOP_PX and max(y_1, y_2) <= chart.TOP_PX + chart.UPPER_PX


# ---------------------------------------------------------------- what is no picture


@pytest.mark.parametrize(
    "field",
    [
        replace(FIELD, wall=()),
        replace(FIELD, wall=((nan, 0.0), (inf, 2.0))),
        replace(FIELD, level_m=nan),
        replace(FIELD, rod=Rod(0.0, 0.0, 0.1, 0.1)),
        replace(FIELD, wall=((1.0, 2.0), (1.0, 2.0))),
    ],
)
def test_no_field_is_said(field: FieldDrawing) -> None:
    assert texts(drawing.field_svg(field, WIDE_PX)) == ["No field to draw."]


@pytest.mark.parametrize("levels", [(), (1.0,), (nan, inf), (5.0, 5.0)])
def test_no_curve_is_said(levels: tuple[float, ...]) -> None:
    assert texts(chart.curve_svg(replace(CURVE, levels=levels), WIDE_PX)) == ["No curve to draw."]
    assert chart.words_of(replace(CURVE, levels=levels))


def test_strange_numbers_do_not_break_it() -> None:
    strange = FieldLine("30 %", ((nan, 0.1), (0.01, inf), (0.02, 0.5)))
    sound(drawing.field_svg(replace(FIELD, lines=(strange, FieldLine("10 %", ()))), WIDE_PX))
    sound(chart.curve_svg(replace(CURVE, held=(nan, 31.0, inf, 66.0), errors=(nan,) * 4), WIDE_PX))
    sound(chart.curve_svg(replace(CURVE, line=((nan, 1.0), (2.0, inf))), WIDE_PX))


@pytest.mark.parametrize("text", HOSTILE)
def test_what_stands_in_it_stays_text(text: str) -> None:
    ET.fromstring(
        drawing.field_svg(
            replace(FIELD, title=text, level_words=text, lines=(FieldLine(text, line(10).points),)), WIDE_PX
        )
    )
    hostile = replace(CURVE, title=text, unit=text, held_unit=text, curve_words=text, ends=(Mark(150.0, text),))
    ET.fromstring(chart.curve_svg(hostile, WIDE_PX))


# ---------------------------------------------------------------- of whole cases

CASES: tuple[tuple[tuple[str, str], ...], ...] = (
    OILY,
    (*STEEL, GLAND),
    (*BARE, *OIL, TUBE),
    (*OILY, headed("{form: ellipsoidal 2:1}"), (UP_TO, "active_to: 3075 mm")),
    (*OILY, (SHAPE, LYING.replace("2300 mm", "2600 mm")), (UP_TO, "active_to: 2600 mm")),
    (*OILY, (SHAPE, BOX), (UP_TO, "active_to: 2500 mm")),
    (*OILY, (MEASURES, "  inside_diameter: 40 m\n  shell_length: 2500 mm\n")),
    (*OILY, (MEASURES, "  inside_diameter: 200 mm\n  shell_length: 2500 mm\n")),
    (*OILY, ("date: 2026-11-26", "date: 2026-11-26\nprint_units: US customary")),
    (*OILY, ("  set_low: 150 mm\n", "")),
)


@pytest.mark.parametrize("changes", CASES if LONG else CASES[::2])
def test_pictures_of_cases_have_no_word_over_another(changes: tuple[tuple[str, str], ...]) -> None:
    chapter = probe(*changes).measuring.probe
    assert chapter is not None
    field, curve = field_drawing(chapter), curve_drawing(chapter)
    assert field is not None and curve is not None
    sound(drawing.field_svg(field, WIDE_PX))
    sound(chart.curve_svg(curve, WIDE_PX))
    assert re.search(
        r"hold (0\.99[0-9]+|1\.000[0-9]+) and (0\.99[0-9]+|1\.000[0-9]+) of the capacitance", field.caption
    )


def test_without_a_field_the_chart_is_of_the_closed_form_and_says_why() -> None:
    chapter = probe().measuring.probe
    assert chapter is not None
    assert field_drawing(chapter) is None
    curve = curve_drawing(chapter)
    assert curve is not None
    assert set(curve.errors) == {0.0}
    assert "an earthed rod beside it" in curve.caption
    held = chapter.setting[1].capacitance.value or 0.0
    assert abs(curve.line[1][1] - held * 1e12) < 1e-6
    sheet = probe_sheet(probe())
    assert sheet is not None
    told = [table for table in sheet.tables if table.title == "In this tank, by the field"]
    assert "earthed rod beside it" in told[0].rows[0][1]


@pytest.mark.parametrize(
    "changes", [(("core_diameter: 10 mm", "core_diameter: unknown"),), (("4 mA: 150 mm", "4 mA: unknown"),)]
)
def test_what_is_not_known_is_not_drawn(changes: tuple[tuple[str, str], ...]) -> None:
    chapter = probe(*changes).measuring.probe
    assert chapter is not None
    assert curve_drawing(chapter) is None
    assert field_drawing(chapter) is None


def test_the_sheet_prints_both_with_their_captions() -> None:
    sheet = TopicSheet("Capacitive probe", "It holds.", ("Careful.",), pictures=(CURVE, FIELD))
    text = re.sub(r"\s+", "", words(document_pdf(replace(sample.paper(), stem=(sheet,)))))
    for part in ("Hatched: earth.", "The line is laid through two points."):
        assert re.sub(r"\s+", "", part) in text


def test_both_are_files_beside_the_papers(tmp_path: Path) -> None:
    case = tmp_path / "oil.yaml"
    case.write_text(text_with(*OILY, example=CAUSTIC), encoding="utf-8")
    names = {file.name: file for file in document(case, tmp_path / "out").files}
    assert {"oil-field.svg", "oil-capacitance.svg"} <= set(names)
    for name in ("oil-field.svg", "oil-capacitance.svg"):
        sound(names[name].read_text(encoding="utf-8"))


def test_a_lying_tank_is_drawn_by_its_equivalent_wall() -> None:
    chapter = shaped(LYING, "2300 mm").measuring.probe
    assert chapter is not None
    field = field_drawing(chapter)
    assert field is not None
    assert "two sides and two ends" in field.caption
