"""How a probe is judged: beside another principle it is the alternative, and stops nothing."""

from __future__ import annotations

from onedatum.case.leaf import Leaf
from onedatum.case.model.instrument import CAPACITIVE
from onedatum.foundation.working import Entry
from onedatum.study.apart import HEIGHTS, Apart
from onedatum.study.desk import Desk, Sense


def by_capacitance(desk: Desk) -> bool:
    """Whether the level is measured by a capacitive probe."""
    return desk.case.instrument.principle.word == CAPACITIVE


def wanted(desk: Desk, *leaves: Leaf) -> bool:
    """Whether leaves are worked: always of the probe that is ordered, of an alternative only where one is known."""
    if by_capacitance(desk) or any(leaf.known for leaf in leaves):
        return True
    desk.skip(*leaves)
    return False


def apart(
    desk: Desk,
    key: str,
    words: tuple[str, str],
    value: Entry,
    sense: Sense,
    limit: Entry,
    meaning: str,
    by: Apart = HEIGHTS,
    safety: bool = False,
) -> None:
    """Put a number of the probe beside its limit; their distance stands on the sheet under the name of the check."""
    remark = not by_capacitance(desk)
    name = f"probe.margin_of_{key.removeprefix('rod-').replace('-', '_')}"
    desk.compare_apart(
        key, words, value, sense, limit, name, meaning, by=by, safety=safety and not remark, remark=remark
    )
