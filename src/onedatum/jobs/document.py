"""Write the papers of a case."""

from __future__ import annotations

import json
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from onedatum.foundation.constants import VERSION
from onedatum.jobs.examine import examine
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.write import write_whole
from onedatum.paper.document import document_pdf
from onedatum.paper.text import file_stem
from onedatum.study.form import as_json
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
    stem = _free(file_stem(case.stem), taken if taken is not None else set())
    pdf, data = out / f"{stem}.pdf", out / f"{stem}.json"
    write_whole(pdf, document_pdf(paper_of(study)))
    text = json.dumps(as_json(study, VERSION), ensure_ascii=False, indent=1, allow_nan=False)
    write_whole(data, (text + "\n").encode("utf-8", "replace"))
    return Papers(study, (pdf, data))


def _free(stem: str, taken: set[str]) -> str:
    """A name that no other paper of this run has; it joins the taken ones."""
    names = (stem if number == 1 else f"{stem}-{number}" for number in count(1))
    free = next(name for name in names if name not in taken)
    taken.add(free)
    return free
