"""Which of the principles that suit comes first: criteria in an order that can be changed, and the reason in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.units import hint
from onedatum.verdicts.rules.principle import PrincipleVerdict
from onedatum.verdicts.verdict import Verdict


def _demands(each: PrincipleVerdict) -> int:
    return len({one.demand for one in each.requirements})


def _left(each: PrincipleVerdict) -> int:
    """Conditions, questions and requirements together: what nobody has sized yet is no advantage."""
    return len(each.conditions) + len(each.questions) + _demands(each)


CRITERION_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "verdict": "a better verdict",
        "orderable": "nothing left but requirements of the order",
        "left": "fewer conditions, questions and requirements together",
        "conditions": "fewer conditions",
        "questions": "fewer open questions",
        "requirements": "fewer requirements of the order",
    }
)
"""What each criterion puts first, in words."""
CRITERIA: Mapping[str, tuple[Callable[[PrincipleVerdict], int], str]] = MappingProxyType(
    {
        "verdict": (lambda each: each.verdict.gravity, "a better verdict"),
        "orderable": (lambda each: not each.order_only, "sooner to be ordered"),
        "left": (_left, "less left to settle"),
        "conditions": (lambda each: len(each.conditions), "fewer conditions"),
        "questions": (lambda each: len(each.questions), "fewer open questions"),
        "requirements": (_demands, "fewer requirements of the order"),
    }
)
USUAL = tuple(CRITERIA)
COUNTED = ("fewer", "less")
"""How the words of a criterion begin whose measure is a count that people can read."""


@dataclass(frozen=True)
class Place:
    """One principle in the order of preference."""

    rank: int
    verdict: PrincipleVerdict
    before: str = ""
    """The principle that comes next; empty for the last."""
    why: str = ""
    """Why it stands before that one, with a place for its name."""

    @property
    def reason(self) -> str:
        """Why it stands before the next; empty for the last."""
        return self.reason_before(self.before)

    def reason_before(self, name: str) -> str:
        """The same with the next one called by another name."""
        return self.why.format(name)


def ranked(verdicts: Sequence[PrincipleVerdict], criteria: Sequence[str] = USUAL) -> tuple[Place, ...]:
    """The principles that suit, alone or on conditions, the first first; equals keep the order they came in."""
    measures = [_criterion(name) for name in criteria]
    suiting = [each for each in verdicts if each.verdict in (Verdict.SUITS, Verdict.ON_CONDITIONS)]
    order = sorted(suiting, key=lambda each: [measure(each) for measure, _ in measures])
    places = [
        Place(number, each, after.principle, _why(each, after, measures))
        for number, (each, after) in enumerate(pairwise(order), 1)
    ]
    return (*places, *(Place(len(order), last) for last in order[-1:]))


def _criterion(name: str) -> tuple[Callable[[PrincipleVerdict], int], str]:
    if name not in CRITERIA:
        raise OnedatumError(f"no criterion is called {name!r}. {hint(name, CRITERIA)}".rstrip())
    return CRITERIA[name]


def _why(
    first: PrincipleVerdict,
    second: PrincipleVerdict,
    measures: Sequence[tuple[Callable[[PrincipleVerdict], int], str]],
) -> str:
    for measure, words in measures:
        if measure(first) < measure(second):
            counts = f": {measure(first)} against {measure(second)}" if words.startswith(COUNTED) else ""
            return f"{words} than {{}}{counts}"
    return "nothing parts it from {}"
