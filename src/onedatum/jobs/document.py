"""Write the papers of a case."""

from __future__ import annotations

import json
from dataclasses import dataclass
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


def document(case: Path, out: Path) -> Papers:
    """Study a case and write its PDF and its JSON form into a folder; raises OutputError.

    The papers bear the name of the case file: two cases of a folder may share a tag, never a name.
    """
    study = examine(case)
    stem = file_stem(case.stem)
    pdf, data = out / f"{stem}.pdf", out / f"{stem}.json"
    write_whole(pdf, document_pdf(paper_of(study)))
    text = json.dumps(as_json(study, VERSION), ensure_ascii=False, indent=1, allow_nan=False)
    write_whole(data, (text + "\n").encode("utf-8", "replace"))
    return Papers(study, (pdf, data))
