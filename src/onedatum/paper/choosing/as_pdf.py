"""The sheets of choosing as accessible PDFs; the pages of the selection stand in the papers of a case too."""

from onedatum.paper.choosing.model import Order, Questions, Selection
from onedatum.paper.data import Data, foot_data, plain
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import typeset

SELECTION, QUESTIONS, ORDER = "selection.typ", "questions.typ", "order.typ"
MOST_MISSING = 40


def selection_pdf(sheet: Selection) -> bytes:
    """The selection sheet as PDF/UA-1; the same bytes for the same sheet."""
    return typeset(SELECTION, sheet_data(sheet, "The selection sheet"))


def questions_pdf(sheet: Questions) -> bytes:
    """The questions to the customer as PDF/UA-1."""
    return typeset(QUESTIONS, sheet_data(sheet, "The question sheet"))


def order_pdf(sheet: Order) -> bytes:
    """The order as PDF/UA-1."""
    return typeset(ORDER, sheet_data(sheet, "The order sheet"))


def sheet_data(sheet: Selection | Questions | Order, where: str) -> Data:
    """Everything a template prints, each text reduced to what the fonts hold; what that cost joins the cautions."""
    missing: dict[str, None] = {}
    data: Data = plain(sheet, missing)
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence(where, tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    return data
