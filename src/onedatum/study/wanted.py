"""Chapter wanted: is what the customer asks of the measurement reached?"""

from __future__ import annotations

from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.physics.uncertainty import expanded_share, share_margin
from onedatum.study.budget import Budget
from onedatum.study.desk import Desk, Want


def wanted_chapter(desk: Desk, budget: Budget | None, level_u: Entry, open_: tuple[str, ...] = ()) -> None:
    """Compare the budget and the level with what is wanted; what is `open_`, by path, no budget counts yet."""
    if desk.case.wanted.U.known and budget is not None:
        _uncertainty(desk, budget, open_)
    elif desk.case.wanted.U.known:
        title = "a level, with its uncertainty, at which the uncertainty wanted is to hold"
        desk.wants.setdefault("level_now", Want(title, "process", "whether the uncertainty wanted is reached"))
    if desk.case.wanted.error_allowed_of_level.known:
        _level(desk, level_u)


def _uncertainty(desk: Desk, budget: Budget, open_: tuple[str, ...]) -> None:
    """The uncertainty of the quantity, at the coverage factor it is wanted with."""
    wanted = desk.case.wanted
    quantity = desk.word(wanted.of, "what the uncertainty is wanted of") or "quantity"
    meaning = f"expanded uncertainty, with the factor wanted, of: {budget.of.meaning}"
    uncertainty_reached(desk, "wanted", budget, (wanted.U, wanted.k), quantity, meaning, open_)


def uncertainty_reached(
    desk: Desk,
    part: str,
    budget: Budget,
    wanted: tuple[Value, Value],
    quantity: str,
    meaning: str,
    open_: tuple[str, ...] = (),
) -> None:
    """Compare a budget with the uncertainty wanted and its coverage factor, under names that start with `part`."""
    share, k = wanted
    limit = desk.take(share, "%value")
    reached = desk.calc(
        f"{part}.reached",
        expanded_share,
        shown="%",
        meaning=meaning,
        standard_share=budget.relative_standard,
        coverage_factor=desk.take(k),
    )
    margin = desk.calc(f"{part}.margin", share_margin, shown="%", limit=limit, value=reached)
    words = (
        f"the uncertainty wanted of the {quantity} is reached",
        f"The uncertainty wanted of the {quantity} is missed",
    )
    key, sense = f"{part}-uncertainty", "at most"
    if open_:
        value = f"more than {reached.text}" if reached.known else "not known"
        desk.judge(key, words, value, sense, limit.text, None, waits_for=open_)
        return
    desk.compare(key, words, reached, "at most", limit, margin)


def _level(desk: Desk, level_u: Entry) -> None:
    limit = desk.take(desk.case.wanted.error_allowed_of_level, "mm")
    words = "the error allowed of the level is kept", "The error allowed of the level is not kept"
    meaning = "from the uncertainty of the level to the error allowed"
    desk.compare_apart("wanted-level", words, level_u, "at most", limit, "wanted.level_margin", meaning)
