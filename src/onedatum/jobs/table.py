"""The tank table of a case: as text, CSV, XLSX, PDF and JSON."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.units import read_quantity
from onedatum.jobs.examine import examine
from onedatum.jobs.table_paper import LINEAR, table_paper
from onedatum.jobs.write import free_name, write_json, write_whole
from onedatum.paper.table.model import TankTable
from onedatum.paper.text import file_stem
from onedatum.study.form import head_json
from onedatum.study.result import Study
from onedatum.study.table import VesselTable, table_of

FORM = 1
"""Version of the JSON form of a table."""


@dataclass(frozen=True)
class TableOfCase:
    """The study of a case and its table; without one, what stands against it."""

    study: Study
    table: VesselTable | None
    fault: Fault | None = None

    @cached_property
    def paper(self) -> TankTable | None:
        """The table as the papers print it."""
        return table_paper(self.study, self.table) if self.table else None


def step_of(text: str | None, said_as: str = "--step") -> float | Fault | None:
    """The step asked for; `said_as` names where it comes from in faults."""
    if text is None:
        return None
    try:
        step = read_quantity(text, "length")
    except QuantityError as error:
        return Fault(said_as, error.allowed, error.got, error.why, remedy=error.remedy)
    if step <= 0.0:
        return Fault(said_as, "a length above 0 mm", text, "rows rise by it")
    return step


def table(case: Path, step_m: float | None = None) -> TableOfCase:
    """Study a case and make its table."""
    return table_of_study(examine(case), step_m)


def table_of_study(study: Study, step_m: float | None = None) -> TableOfCase:
    """The table of a study; without one, what stands against it."""
    found = table_of(study, step_m)
    return TableOfCase(study, None, found) if isinstance(found, Fault) else TableOfCase(study, found)


def write_table(made: TableOfCase, case: Path, out: Path, taken: set[str] | None = None) -> tuple[Path, ...]:
    """Write the table in every form into a folder; raises OutputError.

    The files bear the name of the case file, with a number behind it where `taken` holds that name already.
    """
    paper = made.paper
    if paper is None:
        return ()
    stem = f"{free_name(file_stem(case.stem), taken if taken is not None else set())}-table"
    written = []
    for ending, content in FORMS.items():
        file = out / f"{stem}.{ending}"
        write_whole(file, content(paper))
        written.append(file)
    data = out / f"{stem}.json"
    write_json(data, table_json(made))
    return (*written, data)


def table_json(made: TableOfCase) -> dict[str, Any]:
    """The table in SI, unrounded, with what it rests on."""
    head = {"form": FORM, **head_json(made.study, VERSION)}
    if made.table is None:
        return {**head, "table": None}
    rows = made.table.rows
    after = rows.after
    return {
        **head,
        "table": {
            "datum": made.study.statement.case.vessel.datum.word,
            "step_m": made.table.step_m,
            "interpolation": LINEAR,
            "level_m": rows.levels_m.tolist(),
            "volume_m3": rows.volumes_m3.tolist(),
            "finer": list(made.table.finer),
            "largest_error": {
                "error_m3": after.by_volume.error_m3,
                "at_level_m": after.by_volume.level_m,
                "as_level_m": after.by_level.error_m,
                "as_level_at_m": after.by_level.level_m,
                "before_finer_rows_m3": rows.before.by_volume.error_m3,
            },
            "unusable_between_m": list(made.table.zone_m) if made.table.zone_m else None,
        },
    }


def _text(paper: TankTable) -> bytes:
    from onedatum.paper.table.as_text import table_text

    return table_text(paper).encode("utf-8", "replace")


def _csv(paper: TankTable) -> bytes:
    from onedatum.paper.table.as_csv import table_csv

    return table_csv(paper).encode("utf-8", "replace")


def _xlsx(paper: TankTable) -> bytes:
    from onedatum.paper.table.as_xlsx import table_xlsx

    return table_xlsx(paper)


def _pdf(paper: TankTable) -> bytes:
    from onedatum.paper.table.as_pdf import table_pdf

    return table_pdf(paper)


FORMS: dict[str, Callable[[TankTable], bytes]] = {"txt": _text, "csv": _csv, "xlsx": _xlsx, "pdf": _pdf}
"""By the ending of its file, what writes a table."""
