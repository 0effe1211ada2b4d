"""The papers: what the JSON form says stands in the PDF, whatever the tag; test_readme_papers repeats them."""

from __future__ import annotations

import io
import json
import random
import re
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from onedatum.foundation.constants import VERSION
from onedatum.foundation.units import in_print
from onedatum.jobs.document import document
from onedatum.jobs.examine import examine
from onedatum.jobs.paper_of_study import BUDGET_LINES, paper_of
from onedatum.paper.document import document_pdf
from onedatum.study.form import as_json
from tests.jobs.conftest import Papers
from tests.pdf import pages_of
from tests.study.variants import WITH_BARRIER, WITH_ISOLATOR, text_with

SEED = 20261125
BARE = "onedatum: 1\ninvented: yes\n"
STRANGE_TAG = "日本-Ω⌀1"


def folded(text: str) -> str:
    """A text without its white space."""
    return re.sub(r"\s+", "", text)


class Printed:
    """What stands in a PDF, white space aside."""

    def __init__(self, pdf: Path) -> None:
        self.pages = pages_of(pdf.read_bytes())
        self._folded = folded("".join(self.pages))

    def __contains__(self, part: str) -> bool:
        return folded(part) in self._folded


text_of = cache(Printed)
"""Several tests read the same PDF."""


@pytest.mark.parametrize("case", [WITH_BARRIER, WITH_ISOLATOR])
def test_numbers_of_the_json_stand_in_the_pdf(case: Path, papers: Papers) -> None:
    pdf, data, *_ = papers(case)
    sheet = json.loads(data.read_text(encoding="utf-8"))["sheet"]
    lines = random.Random(SEED).sample(
        [entry for entry in sheet if "inputs" in entry and not any(part in entry["name"] for part in BUDGET_LINES)], 20
    )
    text = text_of(pdf)
    for entry in lines:
        for part in (entry["name"], in_print(entry["shown"])):
            assert part in text, entry


def test_the_pdf_is_tagged_titled_and_says_that_it_is_invented(papers: Papers) -> None:
    pdf, *_ = papers(WITH_BARRIER)
    reader = PdfReader(io.BytesIO(pdf.read_bytes()))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"]
    assert b"pdfuaid" in root["/Metadata"].get_object().get_data()
    assert len(text_of(pdf).pages) == len(reader.pages)
    assert all("invented" in page for page in text_of(pdf).pages)


def test_a_tag_that_no_font_holds_does_not_break_the_papers(tmp_path: Path) -> None:
    case = tmp_path / "strange.yaml"
    case.write_text(f"{BARE}tag: {STRANGE_TAG}\n", encoding="utf-8")
    files = {file.name: file for file in document(case, tmp_path / "papers").files}
    pdf, data = files["strange.pdf"], files["strange.json"]
    text = text_of(pdf)
    assert json.loads(data.read_text(encoding="utf-8"))["case"]["tag"] == STRANGE_TAG
    assert "-Ω⌀1" in text
    assert "U+65E5" in text
    assert pdf.parent == tmp_path / "papers"


@pytest.mark.parametrize(
    "changes",
    [
        (
            ("inside_diameter: 1600 mm", "inside_diameter: unknown"),
            ("tag: LT-201", "tag: '#evil[] <x> $ \\ @ *'"),
            ("mass: 72.0 g", "mass: 120 g"),
        ),
        (
            ("{value: 1850 mm, within: 0.5 mm}", "unknown"),
            ("kind: ethanol-water", "kind: water"),
            ("20 mA: 2800 mm", "20 mA: 100 mm"),
        ),
        (
            ("knuckle_radius: 160 mm", "knuckle_radius: 1700 mm"),
            ("4 mA: 100 mm", "4 mA: 2800 mm"),
            ("20 mA: 2800 mm", "20 mA: 100 mm"),
        ),
    ],
)
def test_papers_are_written_whatever_is_unknown_or_wrong(changes: tuple[tuple[str, str], ...], tmp_path: Path) -> None:
    """Vessel, float and range are set wrong together, for none touches another: a whole paper takes long."""
    case = tmp_path / "case.yaml"
    case.write_text(text_with(*changes, example=WITH_ISOLATOR), encoding="utf-8")
    found = examine(case)
    assert len(PdfReader(io.BytesIO(document_pdf(paper_of(found)))).pages) > 5
    assert as_json(found, VERSION)["sheet"]


def test_every_paper_carries_the_caution(papers: Papers) -> None:
    pdf, *_ = papers(WITH_ISOLATOR)
    said = "The check supports the competent person; it replaces neither certificate nor inspection."
    assert said in text_of(pdf)


def test_a_case_without_conditions_gets_no_selection(papers: Papers) -> None:
    names = [file.name for file in papers(WITH_ISOLATOR)]
    assert "spirit_receiver_isolator-order.pdf" in names
    assert not any("selection" in name for name in names)


def test_papers_of_cases_into_one_folder_do_not_overwrite_each_other(tmp_path: Path) -> None:
    """Nor do two of one name, nor the sheets of one case the papers of another that is called like them."""
    taken: set[str] = set()
    names = []
    for case in ("same.yaml", "same.yml", "same-safety.yaml"):
        (tmp_path / case).write_text(BARE, encoding="utf-8")
        names.append([file.name for file in document(tmp_path / case, tmp_path / "papers", taken).files])
    first, second, third = names
    assert set(first) == {f"same{end}" for end in (".pdf", ".json", "-safety.pdf", "-selection.pdf", "-questions.pdf")}
    assert second == [name.replace("same", "same-2", 1) for name in first]
    assert len(first) == len(third) == 5
    written = {*first, *second, *third}
    assert len(written) == len(first) + len(second) + len(third)
    assert {file.name for file in (tmp_path / "papers").iterdir()} == written
