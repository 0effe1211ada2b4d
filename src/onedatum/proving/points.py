"""The plan of a calibration: at which levels to read, how often, and how good the reference must be.

Points stand at shares of the span. One that a dead zone or the end of what can be measured forbids is moved to the
nearest level that can be reached, and so is one to which the tank may not be filled; the plan says which and why.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Any, Literal

from onedatum.foundation.errors import Fault, ProvingError
from onedatum.foundation.units import show, whole
from onedatum.foundation.working import Entry, Sheet
from onedatum.physics.calibration import half_width_m, reference_expanded_m, share_level_m
from onedatum.physics.loop import current_A, span_share
from onedatum.physics.overfill import margin_m
from onedatum.study.form import entry_json
from onedatum.study.result import Study

Direction = Literal["up", "down"]
BOTH: tuple[Direction, ...] = ("up", "down")
FIVE = (0.0, 0.25, 0.5, 0.75, 1.0)
SIX = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
ELEVEN = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
MOST_POINTS, MOST_CYCLES = 21, 10
USUAL_RATIO, TOLERATED_RATIO = 4.0, 3.0
"""Of the tolerance over the expanded uncertainty of the reference: common practice, no source."""
CLEAR_MM = 20
"""How far a point stays below the level at which filling must stop: our own choice."""
_MM_M = 1e-3
_FILLED = ("overfill.set_points.HH", "overfill.high_high", "overfill.CH")

CAUTION_FILLING = (
    "Points up to which the tank is filled stay below the level at which filling is to be stopped; alarms and trips "
    "stay in force, and bypassing one for a test is for the procedures of the site."
)
CAUTION_UNKNOWN_END = (
    "No level is known at which filling must stop: before the tank is filled for a point, settle it by the procedures "
    "of the site."
)
CAUTION_DIPPING = "Dipping, opening of the tank and static charge follow the rules of the site and its permits."


@dataclass(frozen=True)
class Tolerance:
    """The least and the greatest error allowed; None where there is no such limit."""

    low_m: float | None
    high_m: float | None

    def words(self, digits: int = 4) -> str:
        """Both limits, the least error first."""
        return " to ".join("no limit" if end is None else show(end, "mm", digits) for end in (self.low_m, self.high_m))


@dataclass(frozen=True)
class PlannedPoint:
    """One level to read at."""

    wanted_share: float
    share: float
    """Of the span, after a move."""
    level_m: float
    current_A: float
    moved: str
    """Why it stands elsewhere than was wanted; empty where it does not."""

    @property
    def name(self) -> str:
        """How the point is called: by the share that was wanted."""
        return f"{100.0 * self.wanted_share:.4g} %"


@dataclass(frozen=True)
class Plan:
    """What is to be read."""

    tag: str
    case_hash: str
    lower_range_value_m: float
    upper_range_value_m: float
    saturation_low_A: float
    saturation_high_A: float
    lowest_m: float
    highest_m: float
    """Between these the instrument can tell a level."""
    tolerance: Tolerance
    reference_expanded_m: float
    """The usual limit of the reference, a quarter of the tolerance."""
    reference_tolerated_m: float
    """What is tolerated with a word, a third of it."""
    cycles: int
    directions: tuple[Direction, ...]
    points: tuple[PlannedPoint, ...]
    left_out: tuple[str, ...]
    """Points that would fall together with another, each with the reason."""
    cautions: tuple[str, ...]
    working: tuple[Mapping[str, Any], ...]
    """The entries behind the numbers."""


def plan_points(
    study: Study,
    shares: Sequence[float] = FIVE,
    cycles: int = 3,
    directions: Sequence[Direction] = BOTH,
    tolerance: Tolerance | None = None,
    filled: bool = True,
) -> Plan:
    """Plan the points of a case; raises ProvingError with every fault where it cannot be planned.

    tolerance: of the error of the level; without it that which the case states, on both sides of zero.
    filled: whether the tank itself is filled to the points; a float moved by hand or a bench may go further.
    """
    allowed = tolerance or _stated(study)
    faults = [*_wrong_wishes(shares, cycles, directions), *_wrong_tolerance(allowed), *_unknown(study)]
    if faults or allowed is None:
        raise ProvingError(faults)
    return _Planner(study, Sheet(), allowed, filled).plan(sorted(shares), cycles, tuple(directions))


def plan_faults(plan: Plan) -> list[Fault]:
    """What is wrong with a plan that was kept and brought back: nothing may be judged by a plan that holds no water."""
    remedy = "Plan again from the case"
    levels, shares = [p.level_m for p in plan.points], [p.share for p in plan.points]
    numbers = [plan.lower_range_value_m, plan.upper_range_value_m, plan.lowest_m, plan.highest_m, *levels, *shares]
    wrong = {
        "range": plan.lower_range_value_m == plan.upper_range_value_m,
        "saturation": not 0.0 <= plan.saturation_low_A < plan.saturation_high_A <= 0.1,
        "levels": not all(isfinite(number) and abs(number) <= 1000.0 for number in numbers)
        or plan.lowest_m >= plan.highest_m
        or not all(plan.lowest_m <= level <= plan.highest_m for level in levels),
        "points": not 2 <= len(set(shares)) == len(plan.points) <= MOST_POINTS
        or len({p.name for p in plan.points}) < len(plan.points),
        "reference": not 0.0 < plan.reference_expanded_m <= plan.reference_tolerated_m,
        "cycles": not 1 <= plan.cycles <= MOST_CYCLES or plan.directions not in (BOTH, ("up",), ("down",)),
    }
    faults = [
        Fault(f"plan.{part}", "as it was planned", "another", "", None, remedy) for part, bad in wrong.items() if bad
    ]
    return [*faults, *_wrong_tolerance(plan.tolerance)]


def tolerance_faults(tolerance: Tolerance) -> list[Fault]:
    """What is wrong with a tolerance."""
    return _wrong_tolerance(tolerance)


def half_width(sheet: Sheet, tolerance: Tolerance) -> Entry:
    """Half the width of a tolerance on a sheet; with one limit its distance from zero."""
    ends = [
        sheet.give(f"tolerance.{side}", value, "m", f"{word} error allowed", shown="mm")
        for side, value, word in (("low", tolerance.low_m, "least"), ("high", tolerance.high_m, "greatest"))
        if value is not None
    ]
    if len(ends) == 2:
        return sheet.calc(
            "tolerance.half_width", half_width_m, shown="mm", lower_limit_m=ends[0], upper_limit_m=ends[1]
        )
    size = abs(ends[0].value or 0.0)
    how = "the distance of the one limit from zero"
    words = {"method": how, "source": "derived", "shown": "mm"}
    return sheet.record("tolerance.half_width", size, "m", "size of the one limit", rests_on=ends, **words)


def _stated(study: Study) -> Tolerance | None:
    allowed_m = study.statement.case.wanted.error_allowed_of_level.si
    return None if allowed_m is None else Tolerance(-allowed_m, allowed_m)


def _wrong_wishes(shares: Sequence[float], cycles: int, directions: Sequence[str]) -> list[Fault]:
    faults = []
    if not 2 <= len(shares) <= MOST_POINTS:
        faults.append(Fault("plan.shares", f"2 to {MOST_POINTS} shares of the span", f"{len(shares)}"))
    for number, share in enumerate(shares):
        if not (isfinite(share) and 0.0 <= share <= 1.0):
            got = f"{100.0 * share:.6g} %"
            faults.append(Fault(f"plan.shares[{number}]", "0 % to 100 % of the span", got, "the signal ends there"))
    if len(set(shares)) != len(shares):
        faults.append(Fault("plan.shares", "each share once", "one twice", "", remedy="Ask for more cycles instead"))
    if not 1 <= cycles <= MOST_CYCLES:
        faults.append(Fault("plan.cycles", f"1 to {MOST_CYCLES}", f"{cycles}", "three or more are usual"))
    if tuple(directions) not in ((*BOTH,), ("up",), ("down",)):
        faults.append(Fault("plan.directions", "up and down, up, or down", ", ".join(map(str, directions)) or "none"))
    return faults


def _wrong_tolerance(tolerance: Tolerance | None) -> list[Fault]:
    path = "wanted.error_allowed_of_level"
    if tolerance is None:
        remedy = "State it in the case, or give the limits of the error with the plan"
        return [Fault(path, "known", "unknown", "without a tolerance nothing can be judged", remedy=remedy)]
    low, high = tolerance.low_m, tolerance.high_m
    ends = [end for end in (low, high) if end is not None]
    if not ends:
        return [Fault("tolerance", "one limit or two", "none", "without a limit nothing can be judged")]
    got = tolerance.words()
    if not all(isfinite(end) and abs(end) <= 10.0 for end in ends):
        return [Fault("tolerance", "within 10 m either way", got, "an error of a level is smaller")]
    if (low is not None and low > 0.0) or (high is not None and high < 0.0) or not any(ends):
        return [Fault("tolerance", "about zero, least error first", got, "an error of nothing must be allowed")]
    return []


def _unknown(study: Study) -> list[Fault]:
    """What must be known of the case before a point can be set."""
    faults = [
        Fault(name, "known", "unknown", "the points stand at shares of the range", remedy="State it in the case")
        for name in ("range.4 mA", "range.20 mA", "range.saturation.low", "range.saturation.high")
        if name not in study.sheet or study.sheet[name].value is None
    ]
    reach = study.measuring.levels
    ends = (None, None) if reach is None else (reach.lowest.value, reach.highest.value)
    for end, word in zip(ends, ("lowest", "highest"), strict=True):
        if end is None:
            why, remedy = "a point must not stand in a dead zone", "State instrument and vessel in full"
            faults.append(Fault(f"the {word} level that can be measured", "known", "unknown", why, remedy=remedy))
    return faults


@dataclass(frozen=True)
class _Planner:
    """A plan in the making: all that it rests on is known."""

    study: Study
    sheet: Sheet
    tolerance: Tolerance
    filled: bool

    def plan(self, shares: Sequence[float], cycles: int, directions: tuple[Direction, ...]) -> Plan:
        lower, upper = self._copied("range.4 mA"), self._copied("range.20 mA")
        low, low_why = self._low()
        high, high_why = self._high()
        if (low.value or 0.0) >= (high.value or 0.0):
            got = f"{low.text} and {high.text}"
            raise ProvingError([Fault("the levels that can be reached", "apart", got, f"{low_why}; {high_why}")])
        points, left_out = self._points(shares, (lower, upper), (low, low_why), (high, high_why))
        usual, tolerated = self._reference()
        if self.sheet.faults:
            raise ProvingError(self.sheet.faults)
        if len(points) < 2:
            why = "; ".join(left_out)
            raise ProvingError([Fault("plan.shares", "two levels or more that can be reached", "one", why)])
        statement, reach = self.study.statement, self.study.measuring.reach
        return Plan(
            statement.case.tag.text,
            statement.content_hash,
            lower.value or 0.0,
            upper.value or 0.0,
            self.study.sheet["range.saturation.low"].value or 0.0,
            self.study.sheet["range.saturation.high"].value or 0.0,
            reach.lowest.value or 0.0,
            reach.highest.value or 0.0,
            self.tolerance,
            usual.value or 0.0,
            tolerated.value or 0.0,
            cycles,
            directions,
            tuple(points),
            tuple(left_out),
            self._cautions(),
            tuple(entry_json(entry) for entry in self.sheet.entries.values()),
        )

    def _points(
        self, shares: Sequence[float], ends: tuple[Entry, Entry], low: tuple[Entry, str], high: tuple[Entry, str]
    ) -> tuple[list[PlannedPoint], list[str]]:
        points: list[PlannedPoint] = []
        left_out: list[str] = []
        for share in shares:
            point = self._point(share, ends, low, high)
            twin = next((other for other in points if abs(other.level_m - point.level_m) < 0.5 * _MM_M), None)
            if twin is None:
                points.append(point)
            elif not point.moved and twin.moved:
                points[points.index(twin)] = point
                left_out.append(f"{twin.name} falls together with {point.name}: {twin.moved}")
            else:
                left_out.append(f"{point.name} falls together with {twin.name}: {point.moved}")
        return points, left_out

    def _point(
        self, share: float, ends: tuple[Entry, Entry], low: tuple[Entry, str], high: tuple[Entry, str]
    ) -> PlannedPoint:
        name = f"{100.0 * share:.4g} %"
        lower, upper = ends
        wanted = self.sheet.give(f"point.share[{name}]", share, "", "share of the span wanted", shown="%span")
        meaning = "level at the share wanted"
        level = self.sheet.calc(
            f"point.wanted[{name}]",
            share_level_m,
            shown="mm",
            meaning=meaning,
            share=wanted,
            lower_range_value_m=lower,
            upper_range_value_m=upper,
        )
        moved = ""
        if level.value is not None and level.value < (low[0].value or 0.0):
            level, moved = low
        elif level.value is not None and level.value > (high[0].value or 0.0):
            level, moved = high
        current = self.sheet.calc(
            f"point.current[{name}]",
            current_A,
            shown="mA",
            level_m=level,
            lower_range_value_m=lower,
            upper_range_value_m=upper,
        )
        reached = self.sheet.calc(
            f"point.reached[{name}]",
            span_share,
            shown="%span",
            level_m=level,
            lower_range_value_m=lower,
            upper_range_value_m=upper,
        )
        return PlannedPoint(share, reached.value or 0.0, level.value or 0.0, current.value or 0.0, moved)

    def _low(self) -> tuple[Entry, str]:
        limit = self._taken(self.study.measuring.reach.lowest)
        return self._inside("point.lowest", limit, True), f"{limit.text} is the lowest level that can be measured"

    def _high(self) -> tuple[Entry, str]:
        reach = self._taken(self.study.measuring.reach.highest)
        ends = [(reach, "is the highest level that can be measured")]
        if self.filled:
            ends += [
                (self._clear_of(name), f"is {CLEAR_MM} mm below where filling must stop") for name in self._stops()
            ]
        limit, words = min(ends, key=lambda end: end[0].value or 0.0)
        return self._inside("point.highest", limit, False), f"{limit.text} {words}"

    def _clear_of(self, name: str) -> Entry:
        """A level at which filling must stop, less what a filling may overshoot."""
        clear = self.sheet.give(
            f"point.clear_of[{name}]",
            CLEAR_MM * _MM_M,
            "m",
            "how far a point stays below it",
            state="assumed",
            shown="mm",
            note="our own choice; a filling overshoots",
        )
        meaning = f"highest level to fill to for a reading: {self.study.sheet[name].meaning}"
        return self.sheet.calc(
            f"point.below[{name}]",
            margin_m,
            shown="mm",
            meaning=meaning,
            limit_m=self._copied(name),
            value_m=clear,
        )

    def _stops(self) -> list[str]:
        sheet = self.study.sheet
        return [name for name in _FILLED if name in sheet and sheet[name].value is not None]

    def _inside(self, name: str, limit: Entry, up: bool) -> Entry:
        """A limit in whole millimetres that do not pass it."""
        millimetres = float(whole(limit.value or 0.0, "mm", up=up).split()[0].replace("\u2212", "-"))
        words = {"method": f"whole millimetres, rounded {'up' if up else 'down'}", "source": "derived", "shown": "mm"}
        meaning = "lowest level to read at" if up else "highest level to read at"
        return self.sheet.record(name, millimetres * _MM_M, "m", meaning, rests_on=[limit], **words)

    def _reference(self) -> tuple[Entry, Entry]:
        """The limits of the reference: the usual, and what is tolerated."""
        width = half_width(self.sheet, self.tolerance)
        found = []
        for word, ratio in (("usual", USUAL_RATIO), ("tolerated", TOLERATED_RATIO)):
            asked = self.sheet.give(
                f"reference.ratio[{word}]",
                ratio,
                "",
                f"tolerance over the uncertainty of the reference, {word}",
                state="constant",
                source="common-practice",
            )
            name = f"reference.U_most[{word}]"
            found.append(self.sheet.calc(name, reference_expanded_m, shown="mm", tolerance_m=width, ratio=asked))
        return found[0], found[1]

    def _cautions(self) -> tuple[str, ...]:
        if not self.filled:
            return (CAUTION_DIPPING,)
        return (CAUTION_FILLING if self._stops() else CAUTION_UNKNOWN_END, CAUTION_DIPPING)

    def _copied(self, name: str) -> Entry:
        return self._taken(self.study.sheet[name])

    def _taken(self, entry: Entry) -> Entry:
        """A number of the study, put down again with the place it comes from."""
        if entry.name in self.sheet:
            return self.sheet[entry.name]
        note = entry.note or (f"worked in the study of the case as {entry.name}" if entry.inputs else "")
        state = "stated" if entry.state == "computed" else entry.state
        return self.sheet.give(
            entry.name,
            entry.value,
            entry.suffix,
            entry.meaning,
            state=state,
            shown=entry.shown,
            path=entry.path or entry.name,
            place=entry.place,
            note=note,
            source=entry.source,
        )
