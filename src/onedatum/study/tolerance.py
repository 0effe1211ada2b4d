"""Chapter tolerance: whether the quantity keeps within the limits set for it, by the rule the case names first."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.statement import GUARDED_REJECTION, SIMPLE
from onedatum.foundation.working import Entry
from onedatum.physics.uncertainty import (
    Decision,
    acceptance_limits,
    conformance_probability,
    decide,
    guard_band,
    specific_risk,
)
from onedatum.study.budget import COVERAGE_FACTOR, Budget
from onedatum.study.desk import Desk


@dataclass(frozen=True)
class ToleranceChapter:
    """The decision, and what it rests on."""

    rule: str
    least: Entry | None
    most: Entry | None
    guard: Entry
    accepted_from: Entry | None
    accepted_to: Entry | None
    probability: Entry
    risk: Entry
    """Of what stands at the limit of acceptance: the probability that it does not conform."""
    decision: Decision


def tolerance_chapter(desk: Desk, budget: Budget | None) -> ToleranceChapter | None:
    """Decide on the wanted quantity; None where no limit is set, or nothing is known to decide by."""
    least, most = _limits(desk, budget)
    if least is None and most is None:
        return None
    stated = desk.case.tolerance
    rule = desk.word(stated.rule, "the rule by which the quantity is held against its limits")
    factor = None if rule in (SIMPLE, "") else desk.take(stated.guard_factor)
    if budget is None or not rule or (factor is not None and factor.value is None):
        return None
    return _Decided(desk, budget, rule, least, most, factor).chapter()


@dataclass(frozen=True)
class _Decided:
    """A decision in the making: all that it rests on is known."""

    desk: Desk
    budget: Budget
    rule: str
    least: Entry | None
    most: Entry | None
    factor: Entry | None

    def chapter(self) -> ToleranceChapter:
        """The decision with its entries."""
        ends = self.least.value if self.least else None, self.most.value if self.most else None
        factor = 0.0 if self.factor is None else self.factor.value or 0.0
        width = guard_band(self.budget.expanded.value or 0.0, factor)
        low, high = acceptance_limits(*ends, self.rule, width)
        value, u = self.budget.of.value or 0.0, self.budget.standard.value or 0.0
        band = "factor times the expanded uncertainty; none by simple acceptance"
        inward = -1.0 if self.rule == GUARDED_REJECTION else 1.0
        return ToleranceChapter(
            self.rule,
            self.least,
            self.most,
            self._width("guard_band", width, "width of the guard band", band),
            None if low is None else self._width("accepted_from", low, "least value that is accepted", _ENDS),
            None if high is None else self._width("accepted_to", high, "greatest value that is accepted", _ENDS),
            self._share("probability", conformance_probability(value, u, *ends), *_PROBABILITY),
            self._share("risk", specific_risk(inward * factor, COVERAGE_FACTOR), *_RISK),
            decide(value, low, high),
        )

    def _width(self, name: str, value: float, meaning: str, method: str) -> Entry:
        """A number in the unit of the quantity."""
        return self._record(name, value, meaning, method, "jcgm-106: 8", self.budget.of.suffix, self.budget.of.shown)

    def _share(self, name: str, value: float, meaning: str, method: str, source: str) -> Entry:
        """A probability."""
        return self._record(name, value, meaning, method, source, "", "%")

    def _record(
        self, name: str, value: float, meaning: str, method: str, source: str, suffix: str, shown: str
    ) -> Entry:
        rests = (self.budget.of, self.budget.expanded, self.least, self.most, self.factor)
        return self.desk.sheet.record(
            f"tolerance.{name}",
            value,
            suffix,
            meaning,
            method=method,
            source=source,
            rests_on=[entry for entry in rests if entry is not None],
            shown=shown,
        )


_ENDS = "limit and guard band"
_PROBABILITY = (
    "probability that the quantity keeps within its limits",
    "share of the normal distribution of the result between the limits",
    "jcgm-106: 7",
)
_RISK = (
    "probability that what stands at the limit of acceptance does not conform",
    "share of a normal distribution beyond the limit, as far away as the guard band is wide",
    "ilac-g8: guard bands",
)


def _limits(desk: Desk, budget: Budget | None) -> tuple[Entry | None, Entry | None]:
    """The limits in the unit of the wanted quantity; those in the other are a fault, for they would be lost."""
    stated = desk.case.tolerance
    volume, mass = (stated.volume_at_least, stated.volume_at_most), (stated.mass_at_least, stated.mass_at_most)
    wanted, other = (mass, volume) if budget is not None and budget.of.suffix == "kg" else (volume, mass)
    for leaf in other:
        if leaf.known and budget is not None:
            desk.faults.append(leaf.fault("left away", f"the budget is made for: {budget.of.meaning}"))
    return _entry(desk, wanted[0]), _entry(desk, wanted[1])


def _entry(desk: Desk, leaf: Value) -> Entry | None:
    return desk.take(leaf) if leaf.known else None
