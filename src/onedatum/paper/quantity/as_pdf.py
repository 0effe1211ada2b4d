"""The statement as an accessible PDF; the same pages stand in the paper of a case."""

from onedatum.paper.data import Data, drawing_data, foot_data, plain
from onedatum.paper.quantity.chart import budget_svg, histogram_svg, per_cent
from onedatum.paper.quantity.model import Budget, Statement
from onedatum.paper.table.model import Line
from onedatum.paper.table.words import NOTHING, UNKNOWN, value_of
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import typeset

TEMPLATE = "statement.typ"
MOST_MISSING = 40


def statement_pdf(statement: Statement) -> bytes:
    """The whole statement as PDF/UA-1; the same bytes for the same statement."""
    return typeset(TEMPLATE, statement_data(statement))


def statement_data(statement: Statement) -> Data:
    """Everything the template prints, each text reduced to what the fonts hold; what that cost joins the cautions."""
    missing: dict[str, None] = {}
    said = {
        "head": statement.head,
        "answer": statement.answer,
        "conditions": pairs(statement.conditions),
        "factors": pairs(statement.factors),
        "coverage": statement.coverage,
        "amounts": tuple(
            (a.label, a.value or UNKNOWN, a.uncertainty or NOTHING, a.relative or NOTHING, a.state, a.wanted)
            for a in statement.amounts
        ),
        "no_budget": statement.no_budget,
        "no_monte_carlo": statement.no_monte_carlo,
        "limits": statement.limits,
        "faults": statement.faults,
        "questions": statement.questions,
        "assumptions": statement.assumptions,
        "cautions": statement.cautions,
        "sources": statement.sources,
    }
    data: Data = plain_of(said, missing)
    data["budget"] = budget_data(statement.budget, missing)
    data["monte_carlo"] = monte_carlo_data(statement, missing)
    data["batch"] = batch_data(statement, missing)
    data["decision"] = decision_data(statement, missing)
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The statement", tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    return data


def plain_of(said: Data, missing: dict[str, None]) -> Data:
    """Each value as the template takes it."""
    return {name: plain(value, missing) for name, value in said.items()}


def pairs(lines: tuple[Line, ...]) -> tuple[tuple[str, str, str], ...]:
    """Label, value and state of each line."""
    return tuple((line.label, value_of(line), UNKNOWN if value_of(line) == UNKNOWN else line.state) for line in lines)


def budget_data(budget: Budget | None, missing: dict[str, None]) -> Data | None:
    """A budget with its bars."""
    if budget is None:
        return None
    said = {
        "of": budget.of,
        "value": budget.value,
        "expanded": budget.expanded,
        "relative": budget.relative,
        "coverage": budget.coverage,
        "shares": tuple((s.label, s.stated, s.contribution, per_cent(s.share), s.halved) for s in budget.shares),
        "notes": tuple(filter(None, (budget.improve, *budget.notes))),
    }
    return plain_of(said, missing) | {"chart": drawing_data(budget_svg(budget.shares))}


def monte_carlo_data(statement: Statement, missing: dict[str, None]) -> Data | None:
    """A Monte Carlo with its histogram."""
    found = statement.monte_carlo
    if found is None:
        return None
    said = {"lines": pairs(found.lines), "verdict": found.verdict, "notes": found.notes, "agrees": found.agrees}
    return plain_of(said, missing) | {"chart": drawing_data(histogram_svg(found.picture))}


def batch_data(statement: Statement, missing: dict[str, None]) -> Data | None:
    """A batch with its budget."""
    batch = statement.batch
    if batch is None:
        return None
    rows = tuple(tuple(cell or UNKNOWN for cell in row) for row in batch.rows)
    said = {"heads": batch.heads, "rows": rows, "lines": pairs(batch.lines)}
    return plain_of(said, missing) | {"budget": budget_data(batch.budget, missing)}


def decision_data(statement: Statement, missing: dict[str, None]) -> Data | None:
    """A decision, its rule first."""
    found = statement.decision
    if found is None:
        return None
    return plain_of({"rule": found.rule, "lines": pairs(found.lines), "verdict": found.verdict}, missing)
