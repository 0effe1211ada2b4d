"""Several judged runs of one measuring point: how it drifts between them, and when to look again.

Each drift runs from an error as left to the next error as found, point by point. The interval is proposed by the
methods of ILAC-G24 that the records allow: by steps, by drift, by the share found good. The shortest counts; the
steps, the wanted share and the longest interval are agreed by whoever answers for the measuring point.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

import numpy as np

from onedatum.foundation.errors import Fault, ProvingError
from onedatum.foundation.working import Entry, Sheet
from onedatum.physics.calibration import (
    Changes,
    change_m,
    change_u_m,
    drift_bound_m_per_s,
    drift_m_per_s,
    drift_scatter,
    drift_standard_m_per_s,
    interval_by_drift_s,
    interval_by_reliability_s,
    interval_by_steps_s,
)
from onedatum.proving.judged import Judged, JudgedPoint
from onedatum.proving.points import half_width, tolerance_faults
from onedatum.proving.readings import AS_FOUND
from onedatum.study.form import entry_json
from onedatum.verdicts import COVERAGE

MOST_RUNS = 500
LEAST_RUNS = 5
"""As found: fewer say nothing of a share; our own choice."""
GOOD = ("pass", "conditional pass")
DAY_S = 86400.0
_LONGEST_S = 3.1e9
"""A hundred years, beyond which nobody plans."""
_YEARS = (1950, 2200)
_LEAST_S, _LEAST_M = 3600.0, 1e-9
"""Within an hour nothing drifts that could be told, and nothing is known to less than a nanometre."""


@dataclass(frozen=True)
class IntervalRule:
    """What was agreed on intervals; the steps are usual, no standard sets them."""

    longer: float = 1.25
    shorter: float = 0.5
    good_share: float = 0.8
    """Of the tolerance: found within it, the interval may grow."""
    wanted_share: float = 0.95
    """Of the runs as found that shall lie within tolerance."""
    longest_s: float | None = None
    """Whatever the methods say; None where nobody limits it."""


@dataclass(frozen=True)
class PointDrift:
    """The drift at one point."""

    name: str
    rate_m_per_s: float
    rate_u_m_per_s: float
    changes: int
    told_from_zero: bool
    """Whether it exceeds twice its standard uncertainty."""


@dataclass(frozen=True)
class Proposal:
    """An interval by one method; None where the records do not allow it, with the reason."""

    method: str
    interval_s: float | None
    words: str


@dataclass(frozen=True)
class History:
    """What the records of one measuring point say together."""

    tag: str
    runs: int
    drifts: tuple[PointDrift, ...]
    proposals: tuple[Proposal, ...]
    interval_s: float | None
    due: datetime | None
    """None where no method could be used."""
    words: tuple[str, ...]
    sheet: tuple[Mapping[str, Any], ...]


def history_of(runs: Sequence[Judged], rule: IntervalRule | None = None) -> History:
    """Drift, interval and due date from judged runs in the order they were kept; raises ProvingError for a bad row."""
    agreed = rule or IntervalRule()
    faults = [*_wrong_rule(agreed), *_wrong_row(runs)]
    if faults:
        raise ProvingError(faults)
    return _Past(tuple(runs), agreed).history()


def _wrong_rule(rule: IntervalRule) -> list[Fault]:
    faults = []
    for name, value, low, high in (
        ("longer", rule.longer, 1.0, 3.0),
        ("shorter", rule.shorter, 0.1, 1.0),
        ("good_share", rule.good_share, 0.1, 1.0),
        ("wanted_share", rule.wanted_share, 0.5, 0.999),
        ("longest_s", DAY_S if rule.longest_s is None else rule.longest_s, 1.0, _LONGEST_S),
    ):
        if not low <= value <= high:
            faults.append(Fault(f"interval.{name}", f"{low:g} to {high:g}", f"{value:g}"))
    return faults


def _wrong_row(runs: Sequence[Judged]) -> list[Fault]:
    if not 1 <= len(runs) <= MOST_RUNS:
        return [Fault("history", f"1 to {MOST_RUNS} judged runs", f"{len(runs)}", "no history without a run")]
    faults = tolerance_faults(runs[-1].tolerance)
    for number, run in enumerate(runs):
        if run.when.tzinfo is None:
            faults.append(Fault(f"history[{number}].when", "a time with its offset from UTC", run.when.isoformat()))
        elif not _YEARS[0] <= run.when.year <= _YEARS[1]:
            allowed = f"a time from {_YEARS[0]} to {_YEARS[1]}"
            why = "a clock that was never set writes such dates"
            faults.append(Fault(f"history[{number}].when", allowed, run.when.isoformat(), why))
        if run.tag != runs[0].tag:
            why = "a history belongs to one measuring point"
            faults.append(Fault(f"history[{number}].tag", repr(runs[0].tag), repr(run.tag), why))
        names = [point.name for point in run.points]
        if len(set(names)) < len(names):
            faults.append(Fault(f"history[{number}].points", "each point once", "one twice", "it is no whole record"))
    if faults:
        return faults
    for number, (before, after) in enumerate(pairwise(runs), start=1):
        if after.when < before.when:
            allowed = f"no earlier than {before.when.isoformat()}, the run before"
            remedy = "Correct the date of the wrong record by a new one; the order in which they were kept is the truth"
            path = f"history[{number}].when"
            faults.append(Fault(path, allowed, after.when.isoformat(), "the clock went backwards", remedy=remedy))
    return faults


@dataclass
class _Past:
    """A history in the making."""

    runs: tuple[Judged, ...]
    rule: IntervalRule
    sheet: Sheet = field(default_factory=Sheet)

    def history(self) -> History:
        last = self.runs[-1]
        width = half_width(self.sheet, last.tolerance)
        drifts, fastest = self._drifts()
        proposals = (self._by_steps(width), self._by_drift(width, fastest), self._by_share())
        known = [each.interval_s for each in proposals if each.interval_s is not None]
        agreed = [] if self.rule.longest_s is None else [self.rule.longest_s]
        interval_s = min([*known, *agreed, _LONGEST_S]) if known or agreed else None
        words = self._words(interval_s, drifts, proposals)
        if last.verdict not in GOOD:
            interval_s = 0.0
        return History(
            last.tag,
            len(self.runs),
            drifts,
            proposals,
            interval_s,
            None if interval_s is None else last.when + timedelta(seconds=interval_s),
            words,
            tuple(entry_json(entry) for entry in self.sheet.entries.values()),
        )

    def _words(
        self, interval_s: float | None, drifts: Sequence[PointDrift], proposals: Sequence[Proposal]
    ) -> tuple[str, ...]:
        last, words = self.runs[-1], []
        if last.verdict not in GOOD:
            words.append(f"The last run, {last.kind}, says {last.verdict}: it is due now, before it is relied upon.")
        elif not any(proposal.interval_s is not None for proposal in proposals) and interval_s is not None:
            words.append("No method can propose an interval yet: the longest that was agreed stands.")
        elif interval_s is None:
            words.append("No method can propose an interval yet: keep the one that was agreed, and come back.")
        if drifts and not any(drift.told_from_zero for drift in drifts):
            words.append("No drift can be told from zero; the interval by drift rests on what may hide in it.")
        if any(run.case_hash != last.case_hash for run in self.runs):
            words.append("The case was changed between these runs: range, liquid or tolerance may have been others.")
        return tuple(words)

    # ------------------------------------------------------------ drift

    def _drifts(self) -> tuple[tuple[PointDrift, ...], Entry | None]:
        """The drift of every point that was read again, and the greatest it may be at any of them."""
        drifts, bounds = [], []
        k = self.sheet.give("drift.k", COVERAGE, "", "coverage factor of the drift", state="constant")
        for name, rows in self._changes().items():
            changes = self.sheet.gather(
                f"changes[{name}]",
                Changes(
                    *(np.array(column) for column in zip(*((t, c.value, u.value) for t, c, u in rows), strict=True))
                ),
                "changes from as left to the next as found",
                method="one for every time the instrument was left alone",
                rests_on=[entry for _, change, u in rows for entry in (change, u)],
            )
            rate = self.sheet.calc(f"drift[{name}]", drift_m_per_s, changes=changes)
            u = self.sheet.calc(f"drift_u[{name}]", drift_standard_m_per_s, changes=changes)
            self.sheet.calc(f"drift_scatter[{name}]", drift_scatter, changes=changes)
            bound = self.sheet.calc(
                f"drift_most[{name}]", drift_bound_m_per_s, rate_m_per_s=rate, coverage_factor=k, rate_u_m_per_s=u
            )
            if rate.value is not None and u.value is not None and bound.value is not None:
                told = abs(rate.value) > COVERAGE * u.value
                drifts.append(PointDrift(name, rate.value, u.value, len(rows), told))
                bounds.append(bound)
        meaning = "greatest drift of any point, with its uncertainty"
        fastest = self.sheet.select("drift.fastest", "greatest", meaning, bounds) if bounds else None
        return tuple(drifts), fastest

    def _changes(self) -> dict[str, list[tuple[float, Entry, Entry]]]:
        """Per point the times, the changes and their uncertainties."""
        found: dict[str, list[tuple[float, Entry, Entry]]] = {}
        for number, (left, right) in enumerate(pairwise(self.runs), start=1):
            time_s = (right.when - left.when).total_seconds()
            if right.kind != AS_FOUND or time_s < _LEAST_S or min(left.standard_u_m, right.standard_u_m) < _LEAST_M:
                continue
            for before, after in _same_points(left, right):
                name = f"{after.name}, {number}"
                row = time_s, self._change(name, before, after), self._change_u(name, left, right)
                if row[1].known and row[2].known:
                    found.setdefault(after.name, []).append(row)
        return found

    def _change(self, name: str, before: JudgedPoint, after: JudgedPoint) -> Entry:
        left = self._kept(f"as_left[{name}]", before.average_error_m, "average error as it was left")
        found = self._kept(f"as_found[{name}]", after.average_error_m, "average error as found")
        return self.sheet.calc(f"change[{name}]", change_m, shown="mm", found_m=found, left_m=left)

    def _change_u(self, name: str, left: Judged, right: Judged) -> Entry:
        was = self._kept(f"as_left_u[{name}]", left.standard_u_m, "its standard uncertainty")
        now = self._kept(f"as_found_u[{name}]", right.standard_u_m, "its standard uncertainty")
        return self.sheet.calc(f"change_u[{name}]", change_u_m, shown="mm", found_u_m=now, left_u_m=was)

    def _kept(self, name: str, value: float | None, meaning: str, suffix: str = "m") -> Entry:
        note = "from the record of the run"
        shown = {"m": "mm", "s": "d"}.get(suffix, "")
        return self.sheet.give(name, value, suffix, meaning, shown=shown, note=note)

    # ------------------------------------------------------------ intervals

    def _found(self) -> list[Judged]:
        return [run for run in self.runs if run.kind == AS_FOUND]

    def _by_steps(self, width: Entry) -> Proposal:
        found, method = self._found(), "by steps"
        if len(found) < 2 or found[-1].when <= found[-2].when:
            return Proposal(method, None, "two runs as found, one after the other, are needed")
        last = found[-1]
        error_m, rule = _largest(last), self.rule
        if last.verdict not in GOOD:
            factor, why = rule.shorter, "found out of tolerance"
        elif error_m is not None and round(error_m - rule.good_share * (width.value or 0.0), 9) <= 0.0:
            factor, why = rule.longer, f"found within {100.0 * rule.good_share:g} % of the tolerance"
        else:
            factor, why = 1.0, "found within tolerance, but not far from its end"
        before = (last.when - found[-2].when).total_seconds()
        step = self.sheet.give("interval.step", factor, "", f"step: {why}", source="common-practice")
        kept = self._kept("interval.before", before, "interval that was kept", "s")
        entry = self.sheet.calc("interval.by_steps", interval_by_steps_s, shown="d", interval_s=kept, factor=step)
        return Proposal(method, entry.value, why)

    def _by_drift(self, width: Entry, fastest: Entry | None) -> Proposal:
        method, last = "by drift", self.runs[-1]
        left_m = _largest(last)
        if fastest is None or left_m is None or not fastest.value:
            return Proposal(method, None, "a run as found after another one at the same points is needed")
        if left_m + last.guard_m >= (width.value or 0.0):
            return Proposal(method, None, "the last error leaves no room to drift inside the guard band")
        entry = self.sheet.calc(
            "interval.by_drift",
            interval_by_drift_s,
            shown="d",
            tolerance_m=width,
            guard_m=self._kept("last.guard", last.guard_m, "width of the guard band"),
            as_left_m=self._kept("last.error", left_m, "largest error of the last run, as it was left"),
            drift_m_per_s=fastest,
        )
        return Proposal(method, entry.value, "the point that may drift fastest reaches the limit of acceptance")

    def _by_share(self) -> Proposal:
        found, method = self._found(), "by the share found good"
        if len(found) < LEAST_RUNS:
            return Proposal(method, None, f"{LEAST_RUNS} runs as found are needed, {len(found)} are there")
        good = sum(run.verdict in GOOD for run in found)
        if good in (0, len(found)):
            return Proposal(
                method, None, f"{'all' if good else 'none'} of {len(found)} were found good: no rate follows"
            )
        mean_s = (found[-1].when - found[0].when).total_seconds() / (len(found) - 1)
        if mean_s <= 0.0:
            return Proposal(method, None, "the runs lie on one moment")
        entry = self.sheet.calc(
            "interval.by_share",
            interval_by_reliability_s,
            shown="d",
            interval_s=self._kept("interval.mean", mean_s, "mean interval between the runs as found", "s"),
            wanted_share=self.sheet.give(
                "interval.wanted_share", self.rule.wanted_share, "", "share wanted", shown="%"
            ),
            found_share=self._kept("interval.found_share", good / len(found), "share found within tolerance", ""),
        )
        return Proposal(method, entry.value, f"{good} of {len(found)} were found within tolerance")


def _same_points(left: Judged, right: Judged) -> list[tuple[JudgedPoint, JudgedPoint]]:
    """Points of both runs at the same level, both with an average."""
    return [
        (before, after)
        for after in right.points
        for before in left.points
        if abs(before.level_m - after.level_m) < 1e-6
        and before.average_error_m is not None
        and after.average_error_m is not None
    ]


def _largest(run: Judged) -> float | None:
    """The size of the largest error of a run; None where a point tells none."""
    errors = [error for point in run.points for error in (point.least_error_m, point.greatest_error_m)]
    sizes = [abs(error) for error in errors if error is not None]
    return max(sizes) if sizes and len(sizes) == len(errors) else None
