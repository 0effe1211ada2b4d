"""The PDF of a tank table: accessible, few pages, every row in it, and whatever the user wrote stays text."""

import re
from dataclasses import replace
from math import inf, nan
from typing import Any
from xml.etree import ElementTree as Xml

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.paper.model import Head
from onedatum.paper.table.as_pdf import table_data, table_pdf
from onedatum.paper.table.blocks import PAD_PT, ROWS_PER_BLOCK, SHEET_PT, SIZE_PT, layout_of, pages_of
from onedatum.paper.table.chart import HIGH_PX, WIDE_PX, chart_svg
from onedatum.paper.table.model import Column, TankTable, Zone
from tests.closeness import close
from tests.paper import table_sample as sample
from tests.paper.metrics import SVG, measured, overlapping, text_boxes
from tests.paper.test_document import HOSTILE, alternatives, read, words
from tests.paper.test_table_model import empty
from tests.paper.test_table_text import filled_with
from tests.pdf import pages_of as printed_pages


def test_it_is_tagged_titled_and_declares_accessibility() -> None:
    reader = read(table_pdf(sample.table()))
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Tank table of Lying tank B"
    assert b"pdfuaid:part" in root["/Metadata"].get_data()
    assert any(alt.startswith("Volume against level: 0.0 L at 0.0 mm") for alt in alternatives(reader))


@pytest.mark.parametrize(("step_mm", "rows", "pages"), [(150.0, 30, 1), (10.0, 310, 3), (1.0, 3010, 14)])
def test_many_rows_take_few_pages(step_mm: float, rows: int, pages: int) -> None:
    table = sample.table(step_mm)
    assert len(table.level.values) == rows
    assert len(read(table_pdf(table)).pages) == pages


@pytest.mark.parametrize("step_mm", [150.0, 10.0, 1.0])
def test_first_middle_and_last_row_are_in_it(step_mm: float) -> None:
    table = sample.table(step_mm)
    text = words(table_pdf(table))
    slopes = [value for value in table.slope.values if value is not None]
    middle = len(slopes) // 2
    for i in (0, 5, middle, len(slopes) - 1):
        level, volume = table.level.values[i], table.volume.values[i]
        assert re.search(rf"(?<!\d){level:.1f} (• |× )?{volume:.1f} {slopes[i]:.3f}(?!\d)", text), i
    assert "3000.0 28274.3 –" in text


def test_every_row_is_in_it_once() -> None:
    """All triples of figures in the text of the pages, in the order of the table."""
    table = sample.table()
    found = re.findall(r"(?<![\d.])(\d+\.\d) (?:• |× )?(\d+\.\d) (\d+\.\d{3}|–)(?![\d.])", words(table_pdf(table)))
    assert len(found) == 310
    for i, column in ((0, table.level), (1, table.volume)):
        exact = [value for value in column.values if value is not None]
        assert close([float(row[i]) for row in found], exact, 0.0500001, "half a unit of the last digit")


def test_it_says_everything_it_was_given() -> None:
    text = words(table_pdf(sample.table()))
    for said in (
        "28274.3 L at 3000.0 mm, the highest row of 310.",
        "invented example",
        "checker not stated",
        "tilt level, not tilted, assumed",
        "liquid density unknown",
        "linear between neighbouring rows",
        "42 L at 3000 mm, k = 2",
        "the outlet 90.0 mm 247.2 L",
        "the pump's limit unknown unknown",
        "at most 0.21 L or 0.05 mm off",
        "Rows of 0.0 to 9.0 mm are finer than the step.",
        "300.0 to 420.0 mm, do not use: the floating roof rests on its legs or floats",
        "no certificate of a legal calibration",
        "Levels 0.0 to 2300.0 mm heights over lowest inside point",
        "Levels 2310.0 to 3000.0 mm",
        "case 0a1b2c3d4e5f6071",
        "page 1 of 3",
    ):
        assert said in text, said


def test_names_and_units_stand_over_every_block() -> None:
    pages = printed_pages(table_pdf(sample.table()))
    assert [len(re.findall(r"L/mm", page)) for page in pages] == [0, 4, 4]


def test_the_same_table_gives_the_same_bytes() -> None:
    assert table_pdf(sample.table()) == table_pdf(sample.table())


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:12]))
def test_what_the_user_wrote_stays_text(text: str) -> None:
    pdf = table_pdf(filled_with(text))
    assert pdf.startswith(b"%PDF")
    assert len(read(pdf).pages) < 20


def test_markup_of_the_user_is_printed_as_written() -> None:
    table = replace(sample.table(150.0), statement="#evil[] <x> $a$ *b* @c")
    assert "#evil[] <x> $a$ *b* @c" in words(table_pdf(table))


def test_the_cautions_name_what_could_not_be_printed() -> None:
    text = words(table_pdf(replace(sample.table(150.0), head=Head("日本"))))
    assert "[U+65E5][U+672C]" in text
    assert "cannot print; their codes stand for them: U+65E5, U+672C." in text


def test_a_table_without_rows_is_a_paper() -> None:
    text = words(table_pdf(empty()))
    assert "The table has no rows." in text
    assert "No chart: fewer than two volumes." in text


def test_only_the_pages_with_signs_explain_them() -> None:
    pages = table_data(sample.table())["table"]["pages"]
    assert [[sign for sign, _ in page["legend"]] for page in pages] == [["•", "×"], []]


# ---------------------------------------------------------------- blocks


@given(st.integers(0, 3000), st.integers(1, 5))
def test_blocks_keep_every_row_in_order(count: int, beside: int) -> None:
    rows = [(str(i),) for i in range(count)]
    pages = pages_of(rows, beside)  # type: ignore[arg-type]
    assert [row for page in pages for block in page for row in block] == rows
    assert all(0 < len(block) <= ROWS_PER_BLOCK for page in pages for block in page)
    assert all(len(page) <= beside for page in pages)
    assert len(pages) == -(-count // (beside * ROWS_PER_BLOCK))


@given(st.floats(), st.integers(0, 9), st.text(max_size=60), st.text(max_size=30), st.booleans())
def test_every_block_fits_on_the_sheet(value: float, decimals: int, name: str, unit: str, with_ullage: bool) -> None:
    column = Column(name, unit, decimals, (value, 12345.678))
    table = TankTable(sample.head(), column, column, column, column if with_ullage else None)
    layout = layout_of(table)
    assert layout.beside * sum(layout.widths_pt) + (layout.beside - 1) * 13.0 <= SHEET_PT


def test_figures_and_names_fit_in_their_columns_by_the_font_file() -> None:
    table = sample.table(1.0)
    layout = layout_of(table)
    level, _, *others = layout.widths_pt
    for column, wide in zip(table.columns, (level, *others), strict=True):
        numbers = [f"{value:.{column.decimals}f}" for value in column.values if value is not None]
        assert max(measured(text, SIZE_PT, False) for text in numbers) <= wide - 2 * PAD_PT + 0.01
        assert max(measured(word, SIZE_PT, True) for word in column.name.split()) <= wide - 2 * PAD_PT + 0.01
    assert layout.beside == 4


# ---------------------------------------------------------------- the chart


def curve(svg: str) -> list[tuple[float, float]]:
    """The points of the curve: the path that is drawn strongest."""
    paths = {float(n.attrib["stroke-width"]): n.attrib["d"] for n in Xml.fromstring(svg).iter(f"{SVG}path")}
    pairs = re.findall(r"([-\d.]+) ([-\d.]+)", paths[max(paths)])
    return [(float(x), float(y)) for x, y in pairs]


def test_the_curve_of_a_lying_cylinder_turns_about_its_middle() -> None:
    """V(h) + V(2r - h) is the whole volume, whatever h: the circle is its own mirror image."""
    points = curve(chart_svg(replace(sample.table(10.0), fine=())))[10:]
    whole = points[-1][0] + 54.0
    by_height = {round(y, 2): x for x, y in points}
    top, bottom = points[-1][1], HIGH_PX - 40.0
    assert close(top, 26.0, 0.01, "two decimals of a px")
    mirrored = [(x, by_height.get(round(top + bottom - y, 2))) for x, y in points]
    pairs = [(a, b) for a, b in mirrored if b is not None]
    assert len(pairs) > 100
    assert close([a + b for a, b in pairs], [whole] * len(pairs), 0.03, "two decimals of a px, twice")


def test_axes_carry_units_and_nothing_overlaps() -> None:
    for step in (150.0, 10.0, 1.0):
        svg = chart_svg(sample.table(step))
        shown = [box.text for box in text_boxes(svg)]
        assert {"level, mm", "volume, L", "0", "3000", "20000"} <= set(shown)
        assert overlapping(svg) == []
        for box in text_boxes(svg):
            assert box.left >= 0 and box.right <= WIDE_PX and box.top >= 0 and box.bottom <= HIGH_PX, box
        assert len(curve(svg)) <= 402


anything = st.one_of(st.none(), st.floats(), st.sampled_from([0.0, 1e9, -1e9, 1e-12, 1e300, nan, inf]))


@given(st.lists(st.tuples(anything, anything), max_size=5), st.floats(), st.floats(), st.text(max_size=60))
def test_no_number_and_no_text_hangs_or_crashes_the_chart(
    rows: list[tuple[float | None, float | None]], low: float, high: float, text: str
) -> None:
    level = Column(text, text, 1, tuple(h for h, _ in rows))
    volume = Column(text, text, 1, tuple(v for _, v in rows))
    svg = chart_svg(TankTable(Head(text), level, volume, volume, zones=(Zone(low, high, text),)))
    assert Xml.fromstring(svg).tag == f"{SVG}svg"
    assert len(svg) < 60_000
