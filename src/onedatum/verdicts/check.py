"""A check: one number of the study against one limit, with the uncertainty of their difference.

The comparison uses the margin and twice its standard uncertainty; where they overlap the check is undecided, and not
passed where the limit is one of safety. Where no uncertainty was stated the bare margin decides, and that is said.
"""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.verdicts.verdict import Knowledge, Verdict, of_unknown

COVERAGE = 2.0


@dataclass(frozen=True)
class Limit:
    """What is compared: the two numbers in print, with the names they have on the sheet."""

    value: str
    value_entry: str
    limit: str
    limit_entry: str
    sense: str
    """"at most" or "at least"."""


@dataclass(frozen=True)
class Check:
    """The outcome of one comparison."""

    title: str
    verdict: Verdict
    limit: Limit
    safety: bool
    uncertainty_stated: bool
    reason: str = ""
    waits_for: tuple[str, ...] = ()
    key: str = ""
    """A name that is its own among the checks of a study."""
    remark: bool = False
    """Whether a failure is only remarked, and does not stand against the order."""
    fails: str = ""
    """What is said where it fails."""


def check(
    title: str,
    limit: Limit,
    margin: float | None,
    *,
    standard_uncertainty: float | None = None,
    safety: bool = False,
    waits_for: tuple[str, ...] = (),
    knowledge: Knowledge = Knowledge.KNOWN,
) -> Check:
    """Judge a margin: zero or more passes. `margin` None waits for what is named in `waits_for`."""
    if margin is None:
        verdict = of_unknown(Knowledge.ASK if knowledge is Knowledge.KNOWN else knowledge)
        return Check(title, verdict, limit, safety, True, "a number is missing", waits_for)
    if standard_uncertainty is None:
        verdict = Verdict.SUITS if margin >= 0 else Verdict.DOES_NOT_SUIT
        return Check(title, verdict, limit, safety, False)
    half = COVERAGE * standard_uncertainty
    if margin >= half:
        return Check(title, Verdict.SUITS, limit, safety, True)
    if margin < -half:
        return Check(title, Verdict.DOES_NOT_SUIT, limit, safety, True)
    if safety:
        return Check(title, Verdict.DOES_NOT_SUIT, limit, safety, True, "not passed: within its uncertainty (k = 2)")
    return Check(title, Verdict.UNDECIDED, limit, safety, True, "within its uncertainty (k = 2)")
