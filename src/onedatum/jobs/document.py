"""Write the papers of a case."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from onedatum.foundation.constants import VERSION
from onedatum.jobs.examine import examine
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.statement_paper import statement_paper
from onedatum.jobs.write import free_name, write_json, write_whole
from onedatum.paper.document import document_pdf
from onedatum.paper.text import file_stem
from onedatum.study.form import as_json
from onedatum.study.monte_carlo import sampled
from onedatum.study.result import Study


@dataclass(frozen=True)
class Papers:
    """The study and the files written from it."""

    study: Study
    files: tuple[Path, ...]


def document(case: Path, out: Path, taken: set[str] | None = None) -> Papers:
    """Study a case and write its PDF and its JSON form into a folder; raises OutputError.

    The papers bear the name of the case file, with a number behind it where `taken` holds that name already.
    """
    study = examine(case)
    stem = free_name(file_stem(case.stem), taken if taken is not None else set())
    pdf, data = out / f"{stem}.pdf", out / f"{stem}.json"
    write_whole(pdf, document_pdf(paper_of(study), statement_paper(study, sampled(study))))
    write_json(data, as_json(study, VERSION))
    return Papers(study, (pdf, data))
