"""The page of the sheets: each subject with its drawings, tables and cautions, as the papers print them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.picture import Picture, picture
from onedatum.jobs.paper_of_study import head_of, measuring_sheets, notes_of
from onedatum.jobs.safety_sheets import safety_sheets
from onedatum.jobs.vessel_of_study import vessel_of
from onedatum.paper.document import picture_svg, sheet_svg
from onedatum.paper.model import Head, Note, SheetTable, TopicSheet
from onedatum.paper.vessel.drawing import caption, vessel_height_px, vessel_svg
from onedatum.study.result import Study

WIDE_PX = 760.0


@dataclass(frozen=True)
class SheetView:
    """One sheet on one subject; `key` is where the page leads to it."""

    key: str
    title: str
    answer: str
    cautions: tuple[str, ...]
    drawing: Picture | None
    tables: tuple[SheetTable, ...]
    pictures: tuple[Picture, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True)
class SheetsView:
    """Every sheet of a case: the vessel, what measures, what touches safety."""

    head: Head
    faults: tuple[Note, ...]
    sheets: tuple[SheetView, ...]


def sheets_view(case: CaseText) -> SheetsView:
    """The sheets of a case with their drawings."""
    study = made_of(case, {}).study
    found = (*_vessel(study), *map(_sheet, (*measuring_sheets(study), *safety_sheets(study))))
    keyed = tuple(_numbered(found))
    return SheetsView(head_of(study), notes_of(study).faults, keyed)


def _vessel(study: Study) -> Iterator[SheetView]:
    drawing = vessel_of(study)
    if drawing is not None:
        svg = vessel_svg(drawing, WIDE_PX, vessel_height_px(drawing, WIDE_PX))
        yield SheetView("vessel", "Vessel", "", (), picture(svg, "vessel", caption(drawing)), (), (), ())


def _sheet(sheet: TopicSheet) -> SheetView:
    key = "-".join("".join(c if c.isascii() and c.isalnum() else " " for c in sheet.title.lower()).split())
    opening = sheet_svg(sheet, WIDE_PX)
    pictures = (
        picture(picture_svg(each, WIDE_PX), f"{key}-{i}", each.caption) for i, each in enumerate(sheet.pictures)
    )
    return SheetView(
        key=key,
        title=sheet.title,
        answer=sheet.answer,
        cautions=sheet.cautions,
        drawing=None if opening is None else picture(opening.svg, key, opening.caption),
        tables=sheet.tables,
        pictures=tuple(pictures),
        notes=sheet.notes,
    )


def _numbered(sheets: tuple[SheetView, ...]) -> Iterator[SheetView]:
    """Each under a key of its own."""
    seen: set[str] = set()
    for each in sheets:
        if each.key in seen:
            raise ValueError(f"the title of a sheet must be its own; got {each.title!r} twice")
        seen.add(each.key)
        yield each
