"""The paper on which part may be wrong: everything is printed, whatever the texts are; the charts draw what they say.

PDF/UA-1 is ISO 14289-1; the file says of itself in the metadata that it keeps it.
"""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from onedatum.paper.causes.as_pdf import which_part_pdf
from onedatum.paper.causes.chart import NO_CHART, level_svg, pattern_svg
from onedatum.paper.causes.model import Explanation, LevelChart, Mark, Pattern, Prior, Trace, WhichPart
from onedatum.paper.model import Head, Note
from tests.pdf import pages_of

NASTY = "#eval(1) $x$ \\ <b> \u0007 日本 " + "W" * 300
READ = (Mark(500.0, 6.3), Mark(1450.0, 11.9), Mark(1450.0, 11.8, False))
SOUND = Trace("sound instrument", (Mark(500.0, 6.4), Mark(1450.0, 12.0), Mark(1450.0, 12.0, False)))
CHART = LevelChart("current", "mA", READ, SOUND, (Trace("explanation 1", READ, 1), Trace("explanation 3", READ, 3)))
PATTERN = Pattern("1. the float sticks", 1, "mA", (Mark(500.0, -0.1),), (Mark(500.0, -0.09), Mark(1450.0, -0.09)))
PAPER = WhichPart(
    head=Head("LT-1", "invented"),
    answer="The readings agree best with: the float sticks (70 %).",
    said=("Competing: something that is not on the list (30 %).",),
    cautions=("This ranks explanations by stated priors; it finds no cause.",),
    heads=("row", "level came", "dip, mm", "current, mA"),
    rows=(("1", "from below", "500", "6.3"), ("2", "–", "1450", "11.9")),
    chart=CHART,
    patterns=(PATTERN,) * 4,
    explanations=(Explanation("1", "70 %", "the float sticks", "level 0.5 m", "frozen", ("the datum",)),),
    unlikely="the tank table is off",
    further=(Note("read the level that the transmitter tells", "0.5 bit"),),
    priors_said="Priors: a table [common practice, no source].",
    priors=(Prior("the float sticks", "8 %", "even"),),
    spreads=(("dip", "2.0 mm"),),
)


def words_of(paper: WhichPart) -> str:
    return " ".join("".join(pages_of(which_part_pdf(paper))).split())


def hostile() -> WhichPart:
    """Every text replaced by what would break a paper that trusted it."""
    lines = (NASTY,) * 3
    nothing = float("nan")
    return WhichPart(
        Head(NASTY, NASTY), NASTY, lines, lines, ("row", NASTY), ((NASTY, NASTY),) * 60,
        LevelChart(NASTY, NASTY, (Mark(nothing, nothing),), Trace(NASTY, (Mark(nothing, nothing),)), ()),
        (replace(PATTERN, title=NASTY, unit=NASTY, place=99),) * 6,
        (Explanation(NASTY, NASTY, NASTY, NASTY, NASTY, lines),) * 20,
        NASTY, (Note(NASTY, NASTY),) * 3, NASTY, (Prior(NASTY, NASTY, NASTY),) * 30, ((NASTY, NASTY),) * 12,
    )  # fmt: skip


def test_everything_is_printed_the_caution_before_the_explanations() -> None:
    words = words_of(PAPER)
    for wanted in ("70 %", "not told apart from: the datum", "0.5 bit", "no source", "Below 1 % each: the tank table"):
        assert wanted in words
    assert words.index("it finds no cause") < words.index("Explanations, the likeliest first")


def test_the_paper_is_accessible_and_the_same_every_time() -> None:
    content = which_part_pdf(PAPER)
    assert content == which_part_pdf(PAPER)
    metadata = PdfReader(BytesIO(content)).trailer["/Root"]["/Metadata"].get_data().decode()
    assert re.search(r"<pdfuaid:part>1</pdfuaid:part>", metadata)


def test_hostile_texts_are_printed_as_texts_and_what_the_fonts_lack_is_told() -> None:
    words = words_of(hostile())
    assert "#eval(1) $x$" in words
    assert "The paper" in words


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_no_chart_breaks_on_what_is_no_number(value: float) -> None:
    odd = (Mark(500.0, value), Mark(value, 4.0))
    chart = replace(CHART, read=odd, sound=Trace("sound", (Mark(500.0, value), Mark(value, 4.0))), explained=())
    assert NO_CHART in level_svg(chart)
    for svg in (level_svg(chart), pattern_svg(replace(PATTERN, read=odd))):
        ElementTree.fromstring(svg)
        assert "nan" not in svg and "inf" not in svg.replace("information", "")


def test_a_chart_tells_in_words_what_it_draws() -> None:
    svg = level_svg(CHART)
    assert "6.300 mA read and 6.400 expected at 500 mm" in svg
    assert svg.count("stroke-dasharray") >= 4  # two explanations, each in the drawing and in the key
    assert "the float sticks. Predicted less expected: -0.090 mA at 500 mm" in pattern_svg(PATTERN)
    ElementTree.fromstring(svg)


def test_one_level_alone_is_drawn() -> None:
    one = (Mark(1350.0, 11.5),)
    chart = LevelChart("current", "mA", one, Trace("sound", (Mark(1350.0, 11.4),)), (Trace("explanation 1", one, 1),))
    assert "11.500 mA read" in level_svg(chart)
    ElementTree.fromstring(pattern_svg(replace(PATTERN, read=one, predicted=one)))
