"""Exit codes: the gravest wins."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from onedatum.foundation.errors import Fault
    from onedatum.study.result import Study

DONE = 0
NOT_CLEAR = 1
"""With --strict: something blocks the order or is undecided."""
OUTSIDE = 3
"""A value lies outside the validity of a formula."""
BAD_INPUT = 2
"""The input is wrong; the healthy part was worked all the same."""
OUR_FAULT = 70

_GRAVITY = (DONE, NOT_CLEAR, OUTSIDE, BAD_INPUT, OUR_FAULT)


def gravest(codes: Iterable[int]) -> int:
    """The gravest of the codes, 0 of none."""
    return max(codes, key=_GRAVITY.index, default=DONE)


def of_faults(faults: Iterable[Fault]) -> int:
    """The code for a list of faults."""
    return gravest(OUTSIDE if fault.kind == "validity" else BAD_INPUT for fault in faults)


def of_study(study: Study, strict: bool) -> int:
    """The code for a study."""
    unclear = NOT_CLEAR if strict and study.order != "not blocked" else DONE
    return gravest([of_faults(study.faults), unclear])
