"""The papers of a case: what each is, and all of them made into a folder that is gone afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from onedatum.foundation.errors import Fault
from onedatum.jobs.card import CARD, card_of_study, usual_step, write_card
from onedatum.jobs.document import CHOICE, CURVE, ELEVATION, FIELD, LOOP, ORDER, QUESTIONS, SAFETY, papers_of
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.table import File
from onedatum.jobs.quantity import quantity_of, write_quantity
from onedatum.jobs.reading import for_sensors
from onedatum.jobs.table import table_of_study, write_table
from onedatum.paper.text import file_stem
from onedatum.study.monte_carlo import UNTIL_SETTLED
from onedatum.study.result import Study


@dataclass(frozen=True)
class Kind:
    """A paper: what its name ends in, and what it is."""

    ending: str
    title: str
    words: str


KINDS = (
    Kind(".pdf", "The whole job", "answer, ruler, findings, sheets, and every number with its working"),
    Kind(f"{CHOICE}.pdf", "Selection", "the verdict on every principle with its reasons"),
    Kind(f"{QUESTIONS}.pdf", "Questions to the customer", "the shortest list that decides, with room for the answers"),
    Kind(f"{ORDER}.pdf", "Order", "every line of what is ordered, and what blocks it"),
    Kind(f"{SAFETY}.pdf", "Sheets of safety", "loop, alarms, hazardous area, circuit, static charge, safety function"),
    Kind(f"{LOOP}.svg", "Drawing of the loop", "the loop with its voltages"),
    Kind(f"{ELEVATION}.dxf", "Elevation", "vessel, instrument and marks, for a drawing office"),
    Kind(f"{FIELD}.svg", "Field of the probe", "lines of equal potential between probe and wall"),
    Kind(f"{CURVE}.svg", "Capacitance by level", "with the straight line of its setting"),
    Kind("-quantity.pdf", "Quantity statement", "the quantity with its uncertainty, linear and by Monte Carlo"),
    Kind("-quantity.json", "Quantity statement as data", "SI, unrounded"),
    Kind("-table.pdf", "Tank table", "rows, chart, and what the table holds on"),
    Kind("-table.xlsx", "Tank table as a workbook", "the same rows"),
    Kind("-table.csv", "Tank table for programs", "the same rows, comma separated"),
    Kind("-table.txt", "Tank table as text", "the same rows in columns"),
    Kind("-table.json", "Tank table as data", "SI, unrounded"),
    Kind(
        f"{CARD}.pdf", "Card of the signal", "what a meter shows at the marks and at every step, to be read on a ladder"
    ),
    Kind(f"{CARD}.txt", "Card of the signal as text", "the same rows in columns"),
    Kind(f"{CARD}.csv", "Card of the signal for programs", "the same rows, comma separated"),
    Kind(f"{CARD}.json", "Card of the signal as data", "SI, unrounded"),
    Kind(".json", "The whole job as data", "every number in SI, unrounded"),
)
"""Every paper there can be; which of them a case gives follows from what it states."""


@dataclass(frozen=True)
class Made:
    """One paper that was made."""

    kind: Kind
    file: File


def made_papers(case: CaseText) -> tuple[Made, ...]:
    """Every paper of a case, in the order of `KINDS`; it takes seconds. Raises OutputError."""
    study, stem = made_of(case, {}).study, file_stem(case.name)
    with TemporaryDirectory(prefix="onedatum-") as folder:
        files = [File(path.name, path.read_bytes()) for path in _written(study, stem, Path(folder))]
    found = {file.name.removeprefix(stem): file for file in files}
    return tuple(Made(kind, found[kind.ending]) for kind in KINDS if kind.ending in found)


def _written(study: Study, stem: str, out: Path) -> Iterator[Path]:
    named = Path(f"{stem}.yaml")
    yield from papers_of(study, out, stem).files
    if study.quantity is not None:
        chosen = UNTIL_SETTLED if study.budget is not None else None
        yield from write_quantity(quantity_of(study, chosen), named, out, set())
    yield from write_table(table_of_study(study), named, out)
    card = card_of_study(for_sensors(study.statement, study), usual_step(study))
    if not isinstance(card, Fault):
        yield from write_card(card, stem, out)
