"""The paper of one case: its answer, the ruler, the findings, every number with its working."""

from dataclasses import replace
from itertools import chain
from string import ascii_uppercase
from typing import NamedTuple

from onedatum.paper.choosing.as_pdf import sheet_data
from onedatum.paper.choosing.model import Selection
from onedatum.paper.columns.chamber import chamber_svg
from onedatum.paper.columns.chamber import words_of as chamber_words
from onedatum.paper.columns.legs import legs_svg
from onedatum.paper.columns.legs import words_of as legs_words
from onedatum.paper.columns.model import ChamberSketch, LegsSketch
from onedatum.paper.data import Data, drawing_data, foot_data, plain
from onedatum.paper.echo.drawing import echo_svg
from onedatum.paper.echo.drawing import words_for as echo_words
from onedatum.paper.echo.model import EchoDrawing
from onedatum.paper.field.chart import curve_svg
from onedatum.paper.field.chart import words_of as curve_words
from onedatum.paper.field.drawing import field_svg
from onedatum.paper.field.drawing import words_of as field_words
from onedatum.paper.field.model import CurveDrawing, FieldDrawing
from onedatum.paper.loop.drawing import loop_svg
from onedatum.paper.loop.words import caption as loop_caption
from onedatum.paper.loop.words import words_of as loop_words
from onedatum.paper.marks_table import marks_table
from onedatum.paper.maths import settable, spoken
from onedatum.paper.model import Bracket, Paper, Ruler, Table, TopicSheet
from onedatum.paper.quantity.as_pdf import statement_data
from onedatum.paper.quantity.model import Statement
from onedatum.paper.ruler import detail_svg, ruler_svg
from onedatum.paper.text import breakable, missing_sentence, printable
from onedatum.paper.typeset import typeset
from onedatum.paper.vessel.drawing import caption, vessel_height_px, vessel_svg, words_of
from onedatum.paper.vessel.model import VesselDrawing

TEMPLATE, SAFETY = "paper.typ", "safety_papers.typ"
SHEET_WIDTH_PX = 760.0
LEAST_HEIGHT_PX, MOST_HEIGHT_PX = 470.0, 790.0
ROW_PX = 14.3
PAGE_PX = 1005.0


def document_pdf(paper: Paper, statement: Statement | None = None, selection: Selection | None = None) -> bytes:
    """The whole paper as PDF/UA-1, with the verdicts on the principles and the statement of the quantity in it.

    The same bytes for the same paper.
    """
    return typeset(TEMPLATE, document_data(paper, statement, selection))


def safety_pdf(paper: Paper) -> bytes:
    """The sheets that touch safety as a PDF/UA-1 of their own, for those who need no more."""
    return typeset(SAFETY, document_data(replace(paper, vessel=None, sheet=(), numbers=(), stem=())))


def document_data(paper: Paper, statement: Statement | None = None, selection: Selection | None = None) -> Data:
    """Everything the template prints, each text reduced to what the fonts hold; what that cost joins the cautions."""
    filled = with_brackets(with_marks(paper))
    missing: dict[str, None] = {}
    data: Data = plain(without_drawings(filled), missing)
    data["ruler"] = ruler_data(filled.ruler, filled.marks)
    data["vessel"] = vessel_data(filled.vessel)
    data["foot"] = foot_data(data["head"])
    data["statement"] = statement_data(statement) if statement else None
    data["selection"] = sheet_data(selection, "The selection sheet") if selection else None
    for name, sheets in (("stem", filled.stem), ("safety", filled.safety)):
        for sheet, shown in zip(sheets, data[name], strict=True):
            shown["drawing"] = sheet_drawing_data(sheet)
            shown["pictures"] = [picture_data(picture) for picture in sheet.pictures]
    set_details(filled, data)
    set_formulas(filled, data)
    note_missing(filled, data, missing)
    return data


def without_drawings(paper: Paper) -> Paper:
    """The paper without what is drawn: drawings are set as images."""
    stem, safety = (
        tuple(replace(sheet, drawing=None, pictures=()) for sheet in sheets) for sheets in (paper.stem, paper.safety)
    )
    return replace(paper, ruler=None, vessel=None, stem=stem, safety=safety)


def with_marks(paper: Paper) -> Paper:
    """The table of marks made from the ruler where none was handed over."""
    return replace(paper, marks=marks_table(paper.ruler)) if paper.ruler and not paper.marks.rows else paper


def with_brackets(paper: Paper) -> Paper:
    """A letter on the ruler for each finding that has a detail."""
    spans = [f.detail for f in paper.findings if f.detail is not None]
    brackets = tuple(Bracket(letter, span) for letter, span in zip(ascii_uppercase, spans, strict=False))
    return replace(paper, ruler=replace(paper.ruler, brackets=brackets)) if paper.ruler else paper


def set_details(paper: Paper, data: Data) -> None:
    """Draw the detail of each finding under the letter it has on the ruler."""
    letters = iter(paper.ruler.brackets if paper.ruler else ())
    for finding, shown in zip(paper.findings, data["findings"], strict=True):
        bracket = next(letters, None) if finding.detail is not None else None
        shown["detail"] = None
        if bracket is not None and paper.ruler is not None:
            shown["detail"] = drawing_data(detail_svg(paper.ruler, bracket.letter, bracket.span))


def ruler_data(ruler: Ruler | None, marks: Table) -> Data | None:
    """The drawing, as high as the table of marks beneath it leaves room for."""
    if ruler is None:
        return None
    height = min(max(PAGE_PX - ROW_PX * (len(marks.rows) + 1), LEAST_HEIGHT_PX), MOST_HEIGHT_PX)
    return drawing_data(ruler_svg(ruler, SHEET_WIDTH_PX, height))


def vessel_data(vessel: VesselDrawing | None) -> Data | None:
    """The vessel from the side, as high as it needs, with its caption."""
    if vessel is None:
        return None
    height = vessel_height_px(vessel, SHEET_WIDTH_PX)
    return drawing_data(vessel_svg(vessel, SHEET_WIDTH_PX, height)) | {"caption": caption(vessel)}


class Drawn(NamedTuple):
    """A drawing and what is said beneath it."""

    svg: str
    caption: str


def sheet_svg(sheet: TopicSheet, width_px: float) -> Drawn | None:
    """The drawing of a sheet with its caption: the loop, a received record, columns beside one another."""
    match sheet.drawing:
        case None:
            return None
        case EchoDrawing():
            return Drawn(echo_svg(sheet.drawing, width_px), sheet.drawing.caption)
        case ChamberSketch():
            return Drawn(chamber_svg(sheet.drawing, width_px), sheet.drawing.caption)
        case LegsSketch():
            return Drawn(legs_svg(sheet.drawing, width_px), sheet.drawing.caption)
    return Drawn(loop_svg(sheet.drawing, width_px), loop_caption(sheet.drawing))


def sheet_drawing_data(sheet: TopicSheet) -> Data | None:
    """The drawing of a sheet as the template takes it."""
    drawn = sheet_svg(sheet, SHEET_WIDTH_PX)
    return None if drawn is None else drawing_data(drawn.svg) | {"caption": drawn.caption}


def picture_svg(picture: FieldDrawing | CurveDrawing, width_px: float) -> str:
    """A drawing that stands further down on a sheet."""
    return curve_svg(picture, width_px) if isinstance(picture, CurveDrawing) else field_svg(picture, width_px)


def picture_data(picture: FieldDrawing | CurveDrawing) -> Data:
    """The same as the template takes it."""
    return drawing_data(picture_svg(picture, SHEET_WIDTH_PX)) | {"caption": picture.caption}


def picture_words(picture: FieldDrawing | CurveDrawing) -> str:
    """The words that stand in it."""
    return curve_words(picture) if isinstance(picture, CurveDrawing) else field_words(picture)


def drawn_words(sheet: TopicSheet) -> tuple[str, ...]:
    """The words that stand in the drawings of a sheet."""
    return (*opening_words(sheet), *(picture_words(picture) for picture in sheet.pictures))


def opening_words(sheet: TopicSheet) -> tuple[str, ...]:
    """The words that stand in the drawing a sheet opens with."""
    match sheet.drawing:
        case None:
            return ()
        case EchoDrawing():
            return (echo_words(sheet.drawing),)
        case ChamberSketch():
            return (chamber_words(sheet.drawing),)
        case LegsSketch():
            return (legs_words(sheet.drawing),)
    return tuple(loop_words(sheet.drawing))


def set_formulas(paper: Paper, data: Data) -> None:
    """Replace the formulas of the sheet by maths that is known to be sound, or by their plain text."""
    entries = list(chain.from_iterable(c.entries for c in paper.sheet))
    sound = settable({m for e in entries for m in (e.formula, e.numbers)})
    printed = chain.from_iterable(c["entries"] for c in data["sheet"])
    for entry, shown in zip(entries, printed, strict=True):
        shown["formula"] = formula_data(entry.formula, sound)
        shown["numbers"] = formula_data(entry.numbers, sound)


def formula_data(maths: str, sound: set[str]) -> Data | None:
    """Maths with its plain reading; the reading alone where it cannot be set."""
    if not maths.strip():
        return None
    return {"maths": maths if maths in sound else None, "alt": breakable(spoken(maths))}


def note_missing(paper: Paper, data: Data, missing: dict[str, None]) -> None:
    """Say on the paper itself which characters could not be printed."""
    if paper.ruler is not None:
        words = (paper.ruler.datum, *(m.name for m in paper.ruler.marks), *(s.name for s in paper.ruler.scales))
        missing.update(dict.fromkeys(c for w in words for c in printable(w).missing))
    if paper.vessel is not None:
        missing.update(dict.fromkeys(c for w in words_of(paper.vessel) for c in printable(w).missing))
    for sheet in (*paper.stem, *paper.safety):
        missing.update(dict.fromkeys(c for w in drawn_words(sheet) for c in printable(w).missing))
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The case", tuple(missing)[:40])]
