"""The four verdict words and how they merge.

Over rules, cross rules and states: does not suit > undecided > suits on conditions > suits. An unknown must not hide a
certain no, and a condition must not hide an open question.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum


class Verdict(Enum):
    """What is said of a principle, a rule, a check; in rising order of gravity."""

    SUITS = "suits"
    ON_CONDITIONS = "suits on conditions"
    UNDECIDED = "undecided"
    DOES_NOT_SUIT = "does not suit"

    @property
    def gravity(self) -> int:
        """Its rank in the merge: the gravest wins."""
        return _GRAVITY[self]


_GRAVITY = {verdict: rank for rank, verdict in enumerate(Verdict)}


class Knowledge(Enum):
    """Why a deciding quantity is not known, if it is not."""

    KNOWN = "known"
    ASK = "the customer knows it"
    OURS = "ours to choose"


def merge(verdicts: Iterable[Verdict]) -> Verdict:
    """The gravest of the verdicts; of none at all, undecided: nothing was judged."""
    return max(verdicts, key=lambda verdict: verdict.gravity, default=Verdict.UNDECIDED)


def of_unknown(knowledge: Knowledge, could_fail: bool = True) -> Verdict:
    """The verdict of a test whose deciding quantity is not known.

    What the customer knows is asked for: undecided, unless no answer could turn it into *does not suit*. What is ours
    to choose becomes a requirement of the order: suits on conditions.
    """
    if knowledge is Knowledge.KNOWN:
        raise ValueError("a known quantity is judged by its value")
    if knowledge is Knowledge.ASK and could_fail:
        return Verdict.UNDECIDED
    return Verdict.ON_CONDITIONS
