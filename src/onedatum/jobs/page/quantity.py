"""The page of the quantity: the statement as the papers print it, its budget and its Monte Carlo with their charts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.page.picture import Picture, picture
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.quantity import QuantityOfCase, quantity_json, quantity_of
from onedatum.paper.model import Head
from onedatum.paper.quantity.chart import budget_svg, histogram_svg, per_cent
from onedatum.paper.quantity.model import Budget, Statement
from onedatum.study.monte_carlo import UNTIL_SETTLED, Chosen


@dataclass(frozen=True)
class BudgetView:
    """A budget, its shares in words, its bars."""

    budget: Budget
    shares: tuple[str, ...]
    chart: Picture


@dataclass(frozen=True)
class QuantityView:
    """The statement with its charts; without one, why. Without a Monte Carlo, whether one can be drawn."""

    head: Head
    statement: Statement | None
    budget: BudgetView | None = None
    batch: BudgetView | None = None
    histogram: Picture | None = None
    can_draw: bool = False
    words: str = ""


def quantity_view(case: CaseText) -> QuantityView:
    """The statement with its linear budget alone."""
    return _view(_made(case, None))


def drawn_view(case: CaseText) -> QuantityView:
    """The statement with its Monte Carlo; it takes seconds."""
    return _view(_made(case, UNTIL_SETTLED))


def quantity_data(case: CaseText) -> dict[str, Any]:
    """The statement in SI, unrounded; where none is wanted, what stands against it."""
    made = _made(case, None)
    if made.study.quantity is None:
        return {"statement": None, "sentence": "" if made.fault is None else made.fault.sentence()}
    return {"statement": quantity_json(made), "sentence": ""}


def _made(case: CaseText, chosen: Chosen | None) -> QuantityOfCase:
    study = made_of(case, {}).study
    return quantity_of(study, chosen if study.budget is not None else None)


def _view(made: QuantityOfCase) -> QuantityView:
    head = head_of(made.study)
    if made.study.quantity is None:
        return QuantityView(head, None, words="" if made.fault is None else made.fault.sentence())
    paper = made.paper
    sampled = paper.monte_carlo
    return QuantityView(
        head,
        paper,
        _budget(paper.budget, "budget"),
        _budget(paper.batch.budget, "batch") if paper.batch is not None else None,
        None if sampled is None else picture(histogram_svg(sampled.picture), "monte-carlo"),
        paper.budget is not None and sampled is None,
    )


def _budget(budget: Budget | None, name: str) -> BudgetView | None:
    if budget is None:
        return None
    shares = tuple(per_cent(each.share) for each in budget.shares)
    return BudgetView(budget, shares, picture(budget_svg(budget.shares), name))
