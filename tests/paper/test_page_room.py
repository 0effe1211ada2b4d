"""What is printed keeps its room on the page: wide formulas, long values, the word of a finding over its title."""

import io
from dataclasses import replace

import pytest
from pypdf import PageObject, PdfReader

from onedatum.paper.document import document_pdf
from onedatum.paper.model import Chapter, Entry, Finding, Input, Link, Paper
from tests.paper import sample
from tests.pdf import pages_of

Placed = tuple[float, float, str]
"""A piece of text with where it starts on the page, in points from the left and from the bottom."""


def placed(page: PageObject) -> list[Placed]:
    """Every piece of text of a page with its place."""
    found: list[Placed] = []

    def note(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            across, up = (tm[4] * cm[i] + tm[5] * cm[i + 2] + cm[i + 4] for i in (0, 1))
            found.append((across, up, text.strip()))

    page.extract_text(visitor_text=note)
    return found


def pages(paper: Paper) -> list[list[Placed]]:
    return [placed(page) for page in PdfReader(io.BytesIO(document_pdf(paper))).pages]


def shown(page: PageObject) -> list[str]:
    """The lines of a page as they stand."""
    return page.extract_text().splitlines()


def of_entry(entry: Entry) -> Paper:
    """A paper whose working is one number."""
    return replace(sample.paper(), sheet=(Chapter("Working", (entry,)),))


def test_a_formula_wider_than_the_page_is_set_within_its_margins() -> None:
    wide = " + ".join(f"123456.78 dot 987654.{i}" for i in range(30))
    entry = Entry("loop.sum", "sum", "1", "computed", f"s = {wide}", f"s = {wide}")
    right = max(across for page in pages(of_entry(entry)) for across, _, _ in page)
    width = float(PdfReader(io.BytesIO(document_pdf(of_entry(entry)))).pages[0].mediabox.width)
    assert right < width - 30.0


def test_a_long_value_does_not_press_the_meanings_beside_it_to_a_word_a_line() -> None:
    words = [f"word{i}z" for i in range(6)]
    long = Input("W", "whole", "vessel.bare", "a vessel of " + "many parts and " * 12)
    inputs = (Input("h", " ".join(words), "", "1 m"), long)
    entry = Entry("vessel.volume", "volume", "1 m3", "computed", "V = W", inputs=inputs)
    lines = [line for page in PdfReader(io.BytesIO(document_pdf(of_entry(entry)))).pages for line in shown(page)]
    assert sum(any(word in line for word in words) for line in lines) <= 2


@pytest.mark.parametrize("ways", [4, 5, 9, 11])
def test_the_effect_of_a_finding_stands_on_the_page_of_its_title(ways: int) -> None:
    """The counts are those at which a page ended between the two."""

    def found(i: int) -> Finding:
        chain = tuple(Link(f"link {j} " + "word " * 10, "1 mm") for j in range(2 + i * ways % 5))
        return Finding(f"Title{i}x", f"Effect{i}x", chain, tuple(f"way {way}" for way in range(ways)))

    paper = replace(sample.paper(), findings=tuple(found(i) for i in range(12)))
    for text in pages_of(document_pdf(paper)):
        assert all((f"Title{i}x" in text) == (f"Effect{i}x" in text) for i in range(12))
