"""The pages of choosing: the verdict on every principle, what would change it, the questions, the order."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.jobs.choosing.order import order_sheet
from onedatum.jobs.choosing.questions import question_sheet
from onedatum.jobs.choosing.selection import is_against, selection_sheet
from onedatum.jobs.choosing.told import NOT_CHOSEN, capital, flip_sentence
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.paper.choosing.model import Order, Questions, Selection
from onedatum.paper.model import Head
from onedatum.verdicts.rules.words import principle_title

NOT_JUDGED = "No principle is judged: the case states none of the conditions they turn on."
NOTHING_ASKED = "Nothing is asked: every number and every verdict of the case has what it needs."


@dataclass(frozen=True)
class SelectionView:
    """The selection sheet; without one, why. Unless `complete`, what would change the verdicts is asked for after."""

    head: Head
    sheet: Selection | None
    complete: bool
    questions: Questions | None = None
    words: str = ""


@dataclass(frozen=True)
class FlipView:
    """What would change the verdict on one principle."""

    principle: str
    title: str
    sentence: str


@dataclass(frozen=True)
class FlipsView:
    """What would change each verdict that stands against a principle."""

    flips: tuple[FlipView, ...]


@dataclass(frozen=True)
class QuestionsView:
    """The questions to the customer; without any, a sentence that says so."""

    head: Head
    sheet: Questions | None
    words: str = ""


@dataclass(frozen=True)
class OrderView:
    """The order; while no principle is chosen, a sentence that says so."""

    head: Head
    sheet: Order | None
    words: str = ""


def selection_view(case: CaseText, complete: bool) -> SelectionView:
    """The verdict on every principle; what would change them, and the questions, only where `complete`."""
    study = made_of(case, {}).study
    sheet = selection_sheet(study, with_flips=complete)
    questions = question_sheet(study) if complete and sheet is not None else None
    return SelectionView(head_of(study), sheet, complete, questions, NOT_JUDGED if sheet is None else "")


def flips_view(case: CaseText) -> FlipsView:
    """What would change each verdict."""
    choosing = made_of(case, {}).study.choosing
    if choosing is None:
        return FlipsView(())
    against = [name for name, verdict in choosing.verdicts.items() if is_against(verdict)]
    return FlipsView(
        tuple(FlipView(name, capital(principle_title(name)), flip_sentence(choosing, name)) for name in against)
    )


def questions_view(case: CaseText) -> QuestionsView:
    """The questions to the customer."""
    study = made_of(case, {}).study
    sheet = question_sheet(study)
    return QuestionsView(head_of(study), sheet, NOTHING_ASKED if sheet is None else "")


def order_view(case: CaseText) -> OrderView:
    """The order as it stands."""
    study = made_of(case, {}).study
    sheet = order_sheet(study)
    return OrderView(head_of(study), sheet, NOT_CHOSEN if sheet is None else "")
