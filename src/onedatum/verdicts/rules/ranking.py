"""Which of the principles that suit comes first: criteria in an order that can be changed, and the reason in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
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
    reason: str
    """Why it stands before the next; empty for the last."""


def ranked(verdicts: Sequence[PrincipleVerdict], criteria: Sequence[str] = USUAL) -> tuple[Place, ...]:
    """The principles that suit, alone or on conditions, the first first; equals keep the order they came in."""
    measures = [_criterion(name) for name in criteria]
    suiting = [each for each in verdicts if each.verdict in (Verdict.SUITS, Verdict.ON_CONDITIONS)]
    order = sorted(suiting, key=lambda each: [measure(each) for measure, _ in measures])
    return tuple(
        Place(number, each, _reason(each, order[number] if number < len(order) else None, measures))
        for number, each in enumerate(order, 1)
    )


def _criterion(name: str) -> tuple[Callable[[PrincipleVerdict], int], str]:
    if name not in CRITERIA:
        raise OnedatumError(f"no criterion is called {name!r}. {hint(name, CRITERIA)}".rstrip())
    return CRITERIA[name]


def _reason(
    first: PrincipleVerdict,
    second: PrincipleVerdict | None,
    measures: Sequence[tuple[Callable[[PrincipleVerdict], int], str]],
) -> str:
    if second is None:
        return ""
    for measure, words in measures:
        if measure(first) < measure(second):
            counts = f": {measure(first)} against {measure(second)}" if words.startswith(COUNTED) else ""
            return f"{words} than {second.principle}{counts}"
    return f"nothing parts it from {second.principle}"
