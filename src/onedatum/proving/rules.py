"""Decision rules: how an error, known within an uncertainty, is held against its tolerance, and in which words.

The rule is agreed before the result is known and stands first on whatever reports it. The usual one here is the
non-binary rule with a guard band of one expanded uncertainty (ILAC-G8): what lies within the uncertainty of a limit is
called so, on either side, and nobody is made to believe a bare pass.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from typing import Literal

from onedatum.foundation.errors import Fault
from onedatum.physics.uncertainty import (
    GUARDED_ACCEPTANCE,
    GUARDED_REJECTION,
    SIMPLE,
    acceptance_limits,
    decide,
)
from onedatum.proving.points import Tolerance

NON_BINARY, TWO_PER_CENT = "non-binary acceptance", "guarded acceptance at two per cent"
RULES = (NON_BINARY, SIMPLE, GUARDED_ACCEPTANCE, GUARDED_REJECTION, TWO_PER_CENT)
Word = Literal["pass", "conditional pass", "conditional fail", "fail"]
WORDS: tuple[Word, ...] = ("pass", "conditional pass", "conditional fail", "fail")
"""In rising order of gravity."""
_NANOMETRES = 9
"""Decimals to which errors and limits are compared: the rounding of a subtraction decides nothing."""


@dataclass(frozen=True)
class Rule:
    """A decision rule, with the width of its guard band as a multiple of the expanded uncertainty (k = 2)."""

    name: str = NON_BINARY
    factor: float = 1.0

    @property
    def said(self) -> str:
        """The rule in one sentence, as it stands at the head of a result."""
        band = f"a guard band of {self.factor:g} times the expanded uncertainty (k = 2)"
        return {
            NON_BINARY: f"Non-binary, {band}: pass inside it, conditional pass up to the limit, conditional fail as "
            "far beyond the limit, fail farther out.",
            SIMPLE: "Simple acceptance: pass up to the limit; near the limit up to half of such decisions are wrong.",
            GUARDED_ACCEPTANCE: f"Guarded acceptance, {band} inside the limit: pass up to it, fail beyond.",
            GUARDED_REJECTION: f"Guarded rejection, {band} beyond the limit: fail only beyond it.",
            TWO_PER_CENT: "Guarded acceptance with the guard band that keeps false acceptance to two per cent of all "
            "items: pass up to it, fail beyond.",
        }.get(self.name, self.name)

    def faults(self, tolerance: Tolerance) -> list[Fault]:
        """What is wrong with the rule, or with it for this tolerance."""
        if self.name not in RULES:
            return [Fault("rule.name", f"one of {', '.join(RULES)}", repr(self.name)[:60])]
        if not (isfinite(self.factor) and 0.0 <= self.factor <= 5.0):
            return [Fault("rule.factor", "0 to 5", f"{self.factor:g}", "a width in expanded uncertainties")]
        if self.name == TWO_PER_CENT and (tolerance.low_m is None or tolerance.low_m != -(tolerance.high_m or 0.0)):
            why = "its guard band was fitted to limits equally far from zero"
            return [Fault("rule.name", "a rule for this tolerance", repr(self.name), why, remedy=f"Take {NON_BINARY}")]
        return []

    def word(self, error_m: float, tolerance: Tolerance, guard_m: float) -> Word:
        """What is said of one error."""
        if self.name == SIMPLE:
            return "pass" if _accepted(error_m, tolerance, SIMPLE, 0.0) else "fail"
        if self.name == GUARDED_REJECTION:
            return "pass" if _accepted(error_m, tolerance, GUARDED_REJECTION, guard_m) else "fail"
        if _accepted(error_m, tolerance, GUARDED_ACCEPTANCE, guard_m):
            return "pass"
        if self.name != NON_BINARY:
            return "fail"
        if _accepted(error_m, tolerance, SIMPLE, 0.0):
            return "conditional pass"
        return "conditional fail" if _accepted(error_m, tolerance, GUARDED_REJECTION, guard_m) else "fail"

    @property
    def inward(self) -> float:
        """Which way the limit of acceptance lies from that of the tolerance: 1 inside, -1 beyond, 0 on it."""
        return {SIMPLE: 0.0, GUARDED_REJECTION: -1.0}.get(self.name, 1.0)


def gravest(words: Iterable[Word]) -> Word:
    """The gravest of several words; of none it is a fail, for nothing was shown."""
    return max(words, key=WORDS.index, default="fail")


def _accepted(error_m: float, tolerance: Tolerance, rule: str, guard_m: float) -> bool:
    low, high = acceptance_limits(tolerance.low_m, tolerance.high_m, rule, guard_m)
    ends = (None if end is None else round(end, _NANOMETRES) for end in (low, high))
    return decide(round(error_m, _NANOMETRES), *ends) == "accepted"
