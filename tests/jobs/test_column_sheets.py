"""The sheets of chamber and legs: cautions first, the numbers of the sheet, the sketch from the same numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from onedatum.foundation.units import in_print
from onedatum.jobs.chamber_sheet import chamber_sheet
from onedatum.jobs.document import document
from onedatum.jobs.legs_sheet import legs_sheet
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.stem_sheet import order_lines
from onedatum.paper.columns.model import ChamberSketch, LegsSketch
from onedatum.paper.model import TopicSheet
from onedatum.study.cautions import BOILER, DEFERENCE, LEGS, PRESSURE
from tests.closeness import close
from tests.study.test_drum import CHAMBER_MEAN, DRUM, SLOPING, drum
from tests.study.test_legs import CASES, INTERFACE, WET, tank
from tests.study.variants import study_with, text_with


def said(sheet: TopicSheet) -> str:
    """All words of a sheet."""
    cells = [cell for table in sheet.tables for row in (table.head, *table.rows) for cell in row]
    notes = [part for note in sheet.notes for part in (note.text, note.detail)]
    return "\n".join([sheet.answer, *sheet.cautions, *cells, *(table.note for table in sheet.tables), *notes])


def chamber_of(*changes: tuple[str, str]) -> TopicSheet:
    """The sheet of the chamber of the drum."""
    sheet = chamber_sheet(drum(*changes))
    assert sheet is not None
    return sheet


def test_the_chamber_says_what_it_is_no_substitute_for() -> None:
    sheet = chamber_of()
    assert sheet.cautions == (BOILER, PRESSURE, DEFERENCE)
    assert "Swell and shrink" in said(sheet)
    assert "plugged lower tap" in said(sheet)


@pytest.mark.parametrize(
    "name",
    ["chamber.set[4 mA]", "chamber.set[20 mA]", "chamber.factor[normal]", "chamber.shown_with_float[start-up]",
     "stem.length_needed", "chamber.room_below", "magnet.strength_far[normal]", "chamber.lag"],
)  # fmt: skip
def test_the_chamber_prints_the_numbers_of_the_sheet(name: str) -> None:
    assert in_print(drum().sheet[name].text) in said(chamber_of())


def test_the_sketch_stands_on_the_same_numbers() -> None:
    drawing, found = chamber_of().drawing, drum()
    assert isinstance(drawing, ChamberSketch)
    assert drawing.in_chamber_m == found.value("chamber.level[normal]")
    assert drawing.float_m is not None
    close(
        drawing.float_m[0],
        (drawing.in_chamber_m or 0.0) - (found.value("float.immersion[normal]") or 0.0),
        1e-12,
        "one",
    )
    assert drawing.stem_m is not None
    close(drawing.stem_m[1] - drawing.stem_m[0], 0.950, 1e-12, "its length as stated")


@pytest.mark.parametrize(
    "changes",
    [
        (CHAMBER_MEAN, SLOPING),
        (CHAMBER_MEAN, "mean: unknown"),
        ("taps_apart: 700 mm\n  inside", "taps_apart: unknown\n  inside"),
        ("  below_lower_tap: 250 mm\n", ""),
        ("outside_diameter: 48 mm", "outside_diameter: unknown"),
        ("print_units: metric", "print_units: metric"),
    ],
)
def test_whatever_is_not_known_there_is_a_sheet(changes: tuple[str, str]) -> None:
    found = drum(changes) if changes[0] in DRUM.read_text(encoding="utf-8") else drum()
    sheet = chamber_sheet(found)
    assert sheet is not None
    assert sheet.answer
    assert paper_of(found).stem[0].title == "Bypass chamber"


def test_us_customary_in_table_and_sketch() -> None:
    found = drum(("date: 2026-11-26", "date: 2026-11-26\nprint_units: US customary"))
    sheet = chamber_sheet(found)
    assert sheet is not None
    assert isinstance(sheet.drawing, ChamberSketch)
    marks = [mark.text for mark in (*sheet.drawing.left, *sheet.drawing.right)]
    assert not any(" mm" in mark for mark in marks if "700" not in mark)


def test_the_legs_print_every_column_with_its_sign() -> None:
    sheet = legs_sheet(study_with(example=WET))
    assert sheet is not None
    assert sheet.cautions == (LEGS, DEFERENCE)
    assert isinstance(sheet.drawing, LegsSketch)
    lines = "\n".join(sheet.drawing.lines)
    for part in ("+ liquid", "+ gas", "+ leg", "High side less low side now"):
        assert part in lines
    for name in ("legs.range[4 mA]", "legs.range[20 mA]", "legs.span", "legs.shift_by_whole", "legs.shown[hottest]"):
        assert in_print(study_with(example=WET).sheet[name].text) in said(sheet)


def test_one_tap_speaks_of_one_side() -> None:
    sheet = legs_sheet(tank(*CASES["PR01"][0]))
    assert sheet is not None
    words = said(sheet)
    assert "the pressure of the gas comes on top" in words
    assert "acts on both sides" not in words
    assert "the only tap" in words


def test_an_interface_names_both_liquids() -> None:
    sheet = legs_sheet(tank(*INTERFACE))
    assert sheet is not None
    assert "lower liquid" in said(sheet)
    assert isinstance(sheet.drawing, LegsSketch)
    assert any("upper liquid" in line for line in sheet.drawing.lines)


def test_a_transmitter_above_its_tap_takes_its_leg_off() -> None:
    sheet = legs_sheet(tank(("below_lower_tap: 0.5 m", "below_lower_tap: -0.5 m")))
    assert sheet is not None
    assert isinstance(sheet.drawing, LegsSketch)
    assert any(line.strip().startswith("\u2212 leg") for line in sheet.drawing.lines)


def test_a_level_alone_has_no_ruler() -> None:
    """Its whole papers are those of the README."""
    assert paper_of(study_with(example=WET)).ruler is None


def test_the_order_of_a_stem_outside_asks_for_no_nozzle() -> None:
    lines = dict(order_lines(drum()))
    assert not any("nozzle" in what or "flange" in what for what in lines)
    assert lines["length of the stem"] == "950 mm"
    assert lines["temperature of the medium"].startswith("251.8")


UPRIGHT = """  shape: vertical cylinder
  inside_diameter: 80 in
  shell_length: 110 in
  bottom_head: {form: flat}
  top_head: {form: flat}
  datum: lowest inside point
  deadwood: none
"""


def test_pressure_on_a_vessel_with_a_quantity_has_its_elevation(tmp_path: Path) -> None:
    """The lines of the order are those of what measures: no float is asked for."""
    text = text_with(
        ("  datum: lower tap\n", UPRIGHT),
        ("  of: level\n", "  of: mass\n"),
        ("  taps_apart: 100 in", "  lower_tap: 0 in\n  taps_apart: 100 in"),
        example=WET,
    )
    case_file = tmp_path / "wet.yaml"
    case_file.write_text(text, encoding="utf-8")
    papers = document(case_file, tmp_path)
    assert any(file.name.endswith("elevation.dxf") for file in papers.files)
    assert papers.study.quantity is not None
