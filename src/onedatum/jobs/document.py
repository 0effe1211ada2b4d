"""Write the papers of a case."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from onedatum.case.model.instrument import CAPACITIVE
from onedatum.foundation.constants import VERSION
from onedatum.jobs.examine import examine
from onedatum.jobs.gauge_of_study import interface_float_of
from onedatum.jobs.legs_sheet import legs_order_lines
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.probe_sheet import probe_order_lines
from onedatum.jobs.statement_paper import statement_paper
from onedatum.jobs.stem_sheet import order_lines
from onedatum.jobs.write import free_name, write_json, write_whole
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

PICTURE_PX = 760.0
ENDINGS = ("", SAFETY, LOOP, ELEVATION, FIELD, CURVE)


@dataclass(frozen=True)
class Papers:
    """The study and the files written from it."""

    study: Study
    files: tuple[Path, ...]


def document(case: Path, out: Path, taken: set[str] | None = None) -> Papers:
    """Study a case and write its papers into a folder; raises OutputError.

    All of it as PDF and JSON, the sheets of safety, the loop as SVG, the elevation as DXF where the vessel is known;
    of a capacitive probe its field and what it holds by level as SVG.
    The papers bear the name of the case file, with a number behind it where `taken` holds that name already.
    """
    study = examine(case)
    stem = free_name(file_stem(case.stem), taken if taken is not None else set(), ENDINGS)
    whole, safety, loop, data = (out / f"{stem}{end}" for end in (".pdf", f"{SAFETY}.pdf", f"{LOOP}.svg", ".json"))
    paper = paper_of(study)
    statement = statement_paper(study, sampled(study)) if study.quantity is not None else None
    write_whole(whole, document_pdf(paper, statement))
    write_whole(safety, safety_pdf(paper))
    drawing = next(sheet.drawing for sheet in paper.safety if isinstance(sheet.drawing, LoopDrawing))
    write_whole(loop, loop_svg(drawing).encode("utf-8"))
    write_json(data, as_json(study, VERSION))
    files = [whole, data, safety, loop]
    if paper.ruler is not None:
        files.append(out / f"{stem}{ELEVATION}.dxf")
        elevation = Elevation(paper.head, paper.ruler, _order(study), interface_float_of(study))
        write_whole(files[-1], elevation_dxf(elevation))
    files.extend(_probe_drawings(paper, out, stem))
    return Papers(study, tuple(files))


def _probe_drawings(paper: Paper, out: Path, stem: str) -> Iterator[Path]:
    """Field and capacitance by level, each as a file of its own."""
    for picture in (each for sheet in paper.stem for each in sheet.pictures):
        is_field = isinstance(picture, FieldDrawing)
        svg = field_svg(picture, PICTURE_PX) if isinstance(picture, FieldDrawing) else curve_svg(picture, PICTURE_PX)
        path = out / f"{stem}{FIELD if is_field else CURVE}.svg"
        write_whole(path, svg.encode("utf-8"))
        yield path


def _order(study: Study) -> tuple[tuple[str, str], ...]:
    """The lines of the order of what measures."""
    measuring = study.measuring
    if study.detail is not None:
        return order_lines(study)
    if measuring.probe is not None and study.statement.case.instrument.principle.word == CAPACITIVE:
        return probe_order_lines(study, measuring.probe)
    return () if measuring.legs is None else legs_order_lines(study, measuring.legs)
