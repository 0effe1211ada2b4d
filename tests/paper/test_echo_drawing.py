"""The picture of a received record: what is taken stands where it came, a fault is said, nothing breaks it."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from math import inf, nan

import pytest

from onedatum.paper.document import document_pdf
from onedatum.paper.echo.drawing import echo_svg, words_for
from onedatum.paper.echo.model import EchoDrawing, Taken, Window
from onedatum.paper.model import TopicSheet
from tests.paper import sample
from tests.paper.test_document import HOSTILE, words

TIMES = tuple(float(i) for i in range(200))
PULSE = tuple(1.0 if i == 80 else 0.0 for i in range(200))
DRAWING = EchoDrawing(
    "Record",
    TIMES,
    PULSE,
    PULSE,
    0.3,
    (Window(70.0, 90.0, "float"),),
    (Taken(80.0, "float 224 mm"),),
    caption="A record.",
)


def shown(drawing: EchoDrawing) -> list[str]:
    """The texts of the picture; parsing it proves that it is sound."""
    return [text for element in ET.fromstring(echo_svg(drawing, 760.0)).iter() if (text := element.text or "").strip()]


def test_it_names_what_was_taken() -> None:
    written = shown(DRAWING)
    for text in ("float", "float 224 mm", "received", "filtered", "threshold", "time of flight, us"):
        assert text in written


def test_a_fault_is_said_in_place_of_the_names() -> None:
    faulty = replace(DRAWING, fault="no reading: no echo of the float", taken=())
    assert "no reading: no echo of the float" in shown(faulty)
    assert "float" not in shown(faulty)
    assert "no echo of the float" in words_for(faulty)


def test_words_for_those_who_cannot_see_it() -> None:
    assert (
        words_for(DRAWING)
        == "Record: the received record and the filtered one over time. taken: float 224 mm at 80.00 us."
    )


@pytest.mark.parametrize("times", [(), (1.0,), (nan, inf)])
def test_without_a_record_it_says_so(times: tuple[float, ...]) -> None:
    assert shown(replace(DRAWING, times_us=times)) == ["No record to draw."]


@pytest.mark.parametrize("text", HOSTILE)
def test_what_stands_in_it_stays_text(text: str) -> None:
    hostile = replace(DRAWING, title=text, fault=text, windows=(Window(1.0, 2.0, text),), taken=(Taken(5.0, text),))
    ET.fromstring(echo_svg(hostile, 760.0))


def test_strange_numbers_do_not_break_it() -> None:
    strange = replace(DRAWING, received=(nan, inf, -1e30, *PULSE[3:]), threshold=nan, taken=(Taken(nan, "x"),))
    ET.fromstring(echo_svg(strange, 760.0))


def test_the_sheet_prints_it_with_its_caption() -> None:
    sheet = TopicSheet("Stem and float", "It holds.", ("Careful.",), (), DRAWING)
    text = words(document_pdf(replace(sample.paper(), stem=(sheet,))))
    assert "Stem and float" in text
    assert "A record." in text
