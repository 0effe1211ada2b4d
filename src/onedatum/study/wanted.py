"""Chapter wanted: is what the customer asks of the measurement reached?"""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.overfill.levels import margin_m
from onedatum.physics.uncertainty.margin import share_margin
from onedatum.study.budget import Budget
from onedatum.study.desk import Desk


def wanted_chapter(desk: Desk, budget: Budget | None, level_u: Entry) -> None:
    """Compare the budget and the level with what is wanted, as far as it is stated."""
    wanted = desk.case.wanted
    if wanted.U.known and budget is not None:
        limit = desk.take(wanted.U, "%value")
        margin = desk.calc("wanted.margin", share_margin, shown="%value", limit=limit, value=budget.relative)
        title = f"the uncertainty wanted of the {wanted.of.word or 'quantity'} is reached"
        desk.compare(title, budget.relative, "at most", limit, margin)
    if wanted.error_allowed_of_level.known:
        limit = desk.take(wanted.error_allowed_of_level, "mm")
        margin = desk.calc(
            "wanted.level_margin",
            margin_m,
            shown="mm",
            meaning="from the uncertainty of the level to the error allowed",
            limit_m=limit,
            value_m=level_u,
        )
        desk.compare("the error allowed of the level is kept", level_u, "at most", limit, margin)
