"""The statement as plain text of at most 80 columns."""

from collections.abc import Iterable, Iterator

from onedatum.paper.model import Note
from onedatum.paper.quantity.chart import per_cent
from onedatum.paper.quantity.model import Amount, Batch, Budget, Decision, Limit, MonteCarlo, Statement
from onedatum.paper.table.as_text import hanging, labelled
from onedatum.paper.table.lines import left, right, wrapped
from onedatum.paper.table.model import Line
from onedatum.paper.table.words import NOTHING, UNKNOWN, plain, shortened, value_of

WIDTH = 80
INDENT = "  "
LABEL = 38
VALUE, SPREAD, SHARE = 14, 14, 8


def statement_text(statement: Statement) -> str:
    """The whole statement."""
    lines = [line.rstrip() for line in _lines(statement)]
    return "\n".join(lines) + "\n"


def _lines(statement: Statement) -> Iterator[str]:
    head = statement.head
    yield from wrapped(plain(f"Quantity statement of {head.tag}  {head.service}"), WIDTH)
    yield from wrapped(plain(statement.answer), WIDTH)
    yield from _notes("To correct in the case", statement.faults)
    yield from _pairs("Read at", statement.conditions)
    yield from _amounts(statement)
    yield from _pairs("Factors", statement.factors)
    yield from (
        _budget("Uncertainty", statement.budget) if statement.budget else _said("Uncertainty", statement.no_budget)
    )
    yield from _monte_carlo(statement.monte_carlo)
    yield from _said("Monte Carlo", statement.no_monte_carlo)
    yield from _batch(statement.batch)
    yield from _limits(statement.limits)
    yield from _decision(statement.decision)
    yield from _notes("Ask the customer", statement.questions)
    yield from _notes("Assumed", statement.assumptions)
    yield from _titled("Cautions", (line for caution in statement.cautions for line in hanging(plain(caution))))


def _titled(title: str, lines: Iterable[str]) -> Iterator[str]:
    found = list(lines)
    if found:
        yield from ("", title, *found)


def _said(title: str, words: str) -> Iterator[str]:
    yield from _titled(title, hanging(plain(words)) if words else ())


def _pairs(title: str, pairs: Iterable[Line]) -> Iterator[str]:
    yield from _titled(title, (row for line in pairs for row in labelled(plain(line.label), plain(value_of(line)))))


def _notes(title: str, notes: Iterable[Note]) -> Iterator[str]:
    words = (f"{note.text} ({note.detail})" if note.detail else note.text for note in notes)
    yield from _titled(title, (line for text in words for line in hanging(plain(text))))


def _row(cells: tuple[str, ...], widths: tuple[int, ...], mark: str = " ") -> Iterator[str]:
    """A label that may need lines of its own, and figures at the right."""
    label, *figures = cells
    *over, last = wrapped(label, LABEL - 2)
    yield from (INDENT + line for line in over)
    beside = "".join(
        "  " + right(shortened(figure, width), width) for figure, width in zip(figures, widths, strict=True)
    )
    yield f"{mark} {left(last, LABEL - 2)}{beside}"


def _amounts(statement: Statement) -> Iterator[str]:
    widths = (VALUE, SPREAD, SHARE)
    yield from ("", "Quantities")
    yield from _row(("", "", statement.coverage, "share"), widths)
    for amount in statement.amounts:
        yield from _row(_cells(amount), widths, "*" if amount.wanted else " ")
    if any(amount.wanted for amount in statement.amounts):
        yield from wrapped("* the quantity the budget below is made for", WIDTH)


def _cells(amount: Amount) -> tuple[str, ...]:
    value = plain(amount.value) or UNKNOWN
    return plain(amount.label), value, plain(amount.uncertainty) or NOTHING, plain(amount.relative) or NOTHING


def _budget(title: str, budget: Budget) -> Iterator[str]:
    yield from ("", title)
    yield from wrapped(
        plain(f"{budget.of}: {budget.value}, {budget.expanded} ({budget.coverage}), {budget.relative}"), WIDTH
    )
    widths = (SPREAD, SHARE, SPREAD)
    yield from _row(("input", "contributes", "share", "U if halved"), widths)
    for share in budget.shares:
        label = f"{share.label} ({share.stated})" if share.stated else share.label
        yield from _row((plain(label), plain(share.contribution), per_cent(share.share), plain(share.halved)), widths)
    for words in filter(None, (budget.improve, *budget.notes)):
        yield from hanging(plain(words))


def _monte_carlo(found: MonteCarlo | None) -> Iterator[str]:
    if found is None:
        return
    yield from _pairs("Monte Carlo", found.lines)
    for words in (found.verdict, *found.notes):
        yield from hanging(plain(words))


def _batch(batch: Batch | None) -> Iterator[str]:
    if batch is None:
        return
    yield from ("", "Batch")
    widths = (VALUE - 2,) * (len(batch.heads) - 1)
    yield from _row(tuple(map(plain, batch.heads)), widths)
    for cells in batch.rows:
        label, *figures = (plain(cell) for cell in cells)
        yield from _row((label, *(figure or UNKNOWN for figure in figures)), widths)
    for line in batch.lines:
        yield from labelled(plain(line.label), plain(value_of(line)))
    if batch.budget is not None:
        yield from _budget("Uncertainty of the batch", batch.budget)


def _limits(limits: tuple[Limit, ...]) -> Iterator[str]:
    for limit in limits:
        yield from ("", f"Limit: {plain(limit.document)}")
        yield from labelled("what", plain(limit.words))
        yield from labelled("limit", plain(f"{limit.limit} [{limit.tag}]"))
        yield from labelled("reached", plain(limit.reached))
        yield from labelled("", plain(limit.verdict))


def _decision(decision: Decision | None) -> Iterator[str]:
    if decision is None:
        return
    yield from ("", "Decision")
    yield from labelled("rule, agreed before", plain(decision.rule))
    for line in decision.lines:
        yield from labelled(plain(line.label), plain(value_of(line)))
    yield from labelled("result", plain(decision.verdict))
