"""Write the papers of a case."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from onedatum.foundation.constants import VERSION
from onedatum.jobs.choosing.order import measuring_lines, order_sheet
from onedatum.jobs.choosing.questions import question_sheet
from onedatum.jobs.choosing.selection import selection_sheet
from onedatum.jobs.examine import examine
from onedatum.jobs.gauge_of_study import interface_float_of
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.statement_paper import statement_paper
from onedatum.jobs.write import free_name, json_bytes, write_whole
from onedatum.paper.choosing.as_pdf import order_pdf, questions_pdf, selection_pdf
from onedatum.paper.choosing.model import Selection
from onedatum.paper.document import document_pdf, safety_pdf
from onedatum.paper.dxf.elevation import elevation_dxf
from onedatum.paper.dxf.model import Elevation
from onedatum.paper.field.chart import curve_svg
from onedatum.paper.field.drawing import field_svg
from onedatum.paper.field.model import FieldDrawing
from onedatum.paper.loop.drawing import loop_svg
from onedatum.paper.loop.model import LoopDrawing
from onedatum.paper.model import Paper
from onedatum.paper.text import file_stem
from onedatum.study.form import as_json
from onedatum.study.monte_carlo import sampled
from onedatum.study.result import Study

SAFETY, LOOP, ELEVATION, FIELD, CURVE = "-safety", "-loop", "-elevation", "-field", "-capacitance"
"""What the names of the sheets of safety, of the drawings of loop, elevation, field and capacitance end in."""
CHOICE, QUESTIONS, ORDER = "-selection", "-questions", "-order"
"""The same of the sheets of choosing."""

PICTURE_PX = 760.0
ENDINGS = ("", SAFETY, LOOP, ELEVATION, FIELD, CURVE, CHOICE, QUESTIONS, ORDER)


@dataclass(frozen=True)
class Papers:
    """The study and the files written from it."""

    study: Study
    files: tuple[Path, ...]


def document(case: Path, out: Path, taken: set[str] | None = None) -> Papers:
    """Study a case and write its papers into a folder; raises OutputError.

    All of it as PDF and JSON, the sheets of safety, the loop as SVG, the elevation as DXF where the vessel is known;
    of a capacitive probe its field and what it holds by level as SVG; the order, what is asked of the customer where
    anything is, and the verdict on every principle where one was judged. Where no instrument is chosen the verdicts and
    the questions come first, and there is neither loop nor order.
    The papers bear the name of the case file, with a number behind it where `taken` holds that name already.
    """
    return papers_of(
        examine(case), out, free_name(file_stem(case.stem), taken if taken is not None else set(), ENDINGS)
    )


def papers_of(study: Study, out: Path, stem: str) -> Papers:
    """Write the papers of a study into a folder, under names that begin with `stem`; raises OutputError."""
    paper, selection = paper_of(study), selection_sheet(study)
    of_case, of_choosing = _papers_of_case(study, paper, selection), _choosing_sheets(study, selection)
    parts = (of_case, of_choosing) if study.has_instrument else (of_choosing, of_case)
    files = []
    for ending, data in chain(*parts):
        files.append(out / f"{stem}{ending}")
        write_whole(files[-1], data)
    return Papers(study, tuple(files))


def _papers_of_case(study: Study, paper: Paper, selection: Selection | None) -> Iterator[tuple[str, bytes]]:
    """What is told of the case itself, each with the ending of its name."""
    statement = statement_paper(study, sampled(study)) if study.quantity is not None else None
    yield ".pdf", document_pdf(paper, statement, selection)
    yield ".json", json_bytes(as_json(study, VERSION))
    if paper.safety:
        yield f"{SAFETY}.pdf", safety_pdf(paper)
    for sheet in paper.safety:
        if isinstance(sheet.drawing, LoopDrawing):
            yield f"{LOOP}.svg", loop_svg(sheet.drawing).encode("utf-8")
    if paper.ruler is not None:
        elevation = Elevation(paper.head, paper.ruler, measuring_lines(study), interface_float_of(study))
        yield f"{ELEVATION}.dxf", elevation_dxf(elevation)
    yield from _probe_drawings(paper)


def _probe_drawings(paper: Paper) -> Iterator[tuple[str, bytes]]:
    """Field and capacitance by level, each as a file of its own."""
    for picture in (each for sheet in paper.stem for each in sheet.pictures):
        is_field = isinstance(picture, FieldDrawing)
        svg = field_svg(picture, PICTURE_PX) if isinstance(picture, FieldDrawing) else curve_svg(picture, PICTURE_PX)
        yield f"{FIELD if is_field else CURVE}.svg", svg.encode("utf-8")


def _choosing_sheets(study: Study, selection: Selection | None) -> Iterator[tuple[str, bytes]]:
    """Selection, questions to the customer and order, each as a file of its own."""
    questions, order = question_sheet(study), order_sheet(study)
    if selection is not None:
        yield f"{CHOICE}.pdf", selection_pdf(selection)
    if questions is not None:
        yield f"{QUESTIONS}.pdf", questions_pdf(questions)
    if order is not None:
        yield f"{ORDER}.pdf", order_pdf(order)
