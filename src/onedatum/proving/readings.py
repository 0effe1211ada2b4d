"""What was read at a calibration, and whether it can be judged: plain records, and the faults that stand against them.

A run is taken whole or not at all: a reading that is missing, stands outside what can be measured, or rests on a
reference that is too coarse is told with its place and its remedy, and nothing is judged.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from math import isfinite
from typing import Literal

from onedatum.foundation.errors import Fault
from onedatum.foundation.units import show
from onedatum.physics.calibration import expanded_error_m, standard_m
from onedatum.physics.loop import level_at_current_m
from onedatum.proving.points import BOTH, Direction, Plan, PlannedPoint
from onedatum.verdicts import COVERAGE

AS_FOUND, AS_LEFT = "as found", "as left"
Kind = Literal["as found", "as left"]
MOST_READINGS = 1000
FARTHEST_SHARE = 0.05
"""Of the span: a reading this far from a planned point still belongs to it; half a step of eleven, our own choice."""
_LARGEST_A, _LARGEST_M = 0.1, 1000.0


@dataclass(frozen=True)
class Reading:
    """One reading: what the reference said, what the instrument showed."""

    cycle: int
    direction: Direction
    reference_m: float | None = None
    """Level by the reference, such as a dip."""
    reference_A: float | None = None
    """In place of the level: the current that was set."""
    shown_A: float | None = None
    """Loop current that was read."""
    shown_m: float | None = None
    """Level that the instrument showed by itself, on its display or digitally."""
    at: datetime | None = None


@dataclass(frozen=True)
class ReferenceInstrument:
    """What the levels were compared with."""

    name: str
    certificate: str
    expanded_m: float
    k: float
    digit_m: float
    """To which it was read."""

    @property
    def expanded_at_two_m(self) -> float:
        """Its expanded uncertainty with the factor that all are compared with."""
        return float(expanded_error_m(COVERAGE, standard_m(self.expanded_m, self.k)))


@dataclass(frozen=True)
class CurrentMeter:
    """What the loop current was read with."""

    name: str
    certificate: str
    expanded_A: float
    k: float
    digit_A: float


@dataclass(frozen=True)
class Ambient:
    """The surroundings of the run; None for what nobody noted."""

    temperature_K: float | None = None
    words: str = ""


@dataclass(frozen=True)
class TankReference:
    """The reference height of the tank: as its table states it, and as it was found with the tape."""

    stated_m: float
    found_m: float


@dataclass(frozen=True)
class Run:
    """Everything read in one go, before or after an adjustment."""

    tag: str
    kind: Kind
    case_hash: str
    """Of the case as it stood when this was read."""
    who: str
    when: datetime
    """Its beginning, with the offset from UTC."""
    reference: ReferenceInstrument
    readings: tuple[Reading, ...]
    meter: CurrentMeter | None = None
    shown_digit_m: float = 0.0
    """Of the level that the instrument shows."""
    ambient: Ambient = Ambient()
    tank_reference: TankReference | None = None
    remark: str = ""


@dataclass(frozen=True)
class Placed:
    """A reading at its planned point."""

    number: int
    """Of the reading in the run, from 0."""
    reading: Reading
    point: PlannedPoint

    @property
    def name(self) -> str:
        """How the reading is called: point, direction and cycle."""
        return f"{self.point.name}, {self.reading.direction} {self.reading.cycle}"


def level_of(reading: Reading, plan: Plan) -> float | None:
    """The level by the reference; that of the current set, where it was a current."""
    if reading.reference_m is not None or reading.reference_A is None:
        return reading.reference_m
    return float(level_at_current_m(reading.reference_A, plan.lower_range_value_m, plan.upper_range_value_m))


def tells_a_level(reading: Reading, plan: Plan) -> bool:
    """Whether the current is measurement information; beyond it the level is unknown, or the signal says failure."""
    return reading.shown_A is None or plan.saturation_low_A < reading.shown_A < plan.saturation_high_A


def placed(run: Run, plan: Plan) -> tuple[Placed, ...]:
    """The readings at their points, for a run without faults."""
    found = ((number, reading, _nearest(reading, plan)) for number, reading in enumerate(run.readings))
    return tuple(Placed(number, reading, point) for number, reading, point in found if point is not None)


def run_faults(run: Run, plan: Plan) -> tuple[Fault, ...]:
    """All that stands against judging a run by a plan; none where it can be judged."""
    head = [*_of_the_run(run, plan), *_of_instruments(run, plan)]
    if not 1 <= len(run.readings) <= MOST_READINGS:
        head.append(Fault("run.readings", f"1 to {MOST_READINGS} readings", f"{len(run.readings)}"))
        return tuple(head)
    each = [fault for number, reading in enumerate(run.readings) for fault in _of_reading(number, reading, run, plan)]
    return (*head, *each, *_of_times(run), *(() if each else _of_completeness(run, plan)))


def _of_the_run(run: Run, plan: Plan) -> Iterator[Fault]:
    if run.tag != plan.tag:
        why = "a calibration belongs to one measuring point"
        yield Fault(
            "run.tag", f"that of the plan, {plan.tag!r}", repr(run.tag), why, remedy="Bring plan and run together"
        )
    if run.case_hash != plan.case_hash:
        why = "the case has changed since the plan was made; range or tolerance may be others"
        remedy = "Plan again from the case as it is now, and check that the points still hold"
        yield Fault("run.case_hash", f"{plan.case_hash[:12]}", run.case_hash[:12] or "nothing", why, remedy=remedy)
    if run.kind not in (AS_FOUND, AS_LEFT):
        yield Fault("run.kind", f"{AS_FOUND} or {AS_LEFT}", repr(run.kind))
    if not run.who.strip():
        yield Fault("run.who", "the name of who read", "nothing", "a record without a name proves nothing")
    if run.when.tzinfo is None:
        remedy = "Write it with its offset, as 2026-11-20T09:30+00:00"
        yield Fault("run.when", "a time with its offset from UTC", run.when.isoformat(), "", remedy=remedy)


def _of_instruments(run: Run, plan: Plan) -> Iterator[Fault]:
    reference, meter = run.reference, run.meter
    sizes = [("reference.expanded_m", reference.expanded_m, 10.0), ("reference.digit_m", reference.digit_m, 1.0)]
    sizes.append(("shown_digit_m", run.shown_digit_m, 1.0))
    factors = [("reference.k", reference.k)]
    if meter is not None:
        sizes += [("meter.expanded_A", meter.expanded_A, 0.01), ("meter.digit_A", meter.digit_A, 0.01)]
        factors.append(("meter.k", meter.k))
    for name, size, most in sizes:
        if not (isfinite(size) and 0.0 <= size <= most):
            yield Fault(f"run.{name}", f"0 to {most:g} in SI", f"{size:g}")
    for name, factor in factors:
        if not (isfinite(factor) and 1.0 <= factor <= 5.0):
            yield Fault(f"run.{name}", "1 to 5", f"{factor:g}", "a coverage factor of 2 is usual")
    if _can_be(reference) and not 0.0 < reference.expanded_at_two_m <= plan.reference_tolerated_m * (1.0 + 1e-9):
        limit, got = show(plan.reference_tolerated_m, "mm"), show(reference.expanded_at_two_m, "mm")
        limit, got = f"{limit} (k = 2)", got if reference.k == COVERAGE else f"{got} (k = 2)"
        why = "a reference coarser than a third of the tolerance cannot tell a good instrument from a bad one"
        remedy = "Take a better reference, or agree a wider tolerance"
        yield Fault("run.reference.expanded_m", f"above 0 mm up to {limit}", got, why, remedy=remedy)
    if meter is None and any(reading.shown_A is not None for reading in run.readings):
        why = "a current is known no better than its meter"
        yield Fault("run.meter", "stated where currents were read", "none", why, remedy="State it with its uncertainty")
    tank = run.tank_reference
    if tank is not None and not all(isfinite(h) and 0.0 < h < _LARGEST_M for h in (tank.stated_m, tank.found_m)):
        yield Fault("run.tank_reference", "two heights above 0 m", f"{tank.stated_m:g} and {tank.found_m:g} m")
    kelvin = run.ambient.temperature_K
    if kelvin is not None and not (isfinite(kelvin) and 150.0 <= kelvin <= 400.0):
        yield Fault("run.ambient.temperature_K", "150 K to 400 K", f"{kelvin:g} K", "", remedy="Give it in kelvin")


def _can_be(reference: ReferenceInstrument) -> bool:
    """Whether its numbers are such that they can be compared."""
    return isfinite(reference.expanded_m) and isfinite(reference.k) and 1.0 <= reference.k <= 5.0


def _of_reading(number: int, reading: Reading, run: Run, plan: Plan) -> Iterator[Fault]:
    path = f"run.readings[{number}]"
    if not 1 <= reading.cycle <= plan.cycles:
        yield Fault(f"{path}.cycle", f"1 to {plan.cycles}, the cycles of the plan", f"{reading.cycle}")
    if reading.direction not in plan.directions:
        yield Fault(f"{path}.direction", " or ".join(plan.directions), repr(reading.direction))
    wrong = list(_wrong_numbers(path, reading))
    yield from wrong
    if wrong:
        return
    if (reading.reference_m is None) == (reading.reference_A is None):
        got = "neither" if reading.reference_m is None else "both"
        yield Fault(path, "with one reference, a level or a current that was set", got)
        return
    if reading.shown_A is None and reading.shown_m is None:
        remedy = "Read it again, or record that the signal was at failure, as 3.6 or 21 mA"
        yield Fault(path, "with a shown current or level", "neither", "nothing to compare", remedy=remedy)
    level = level_of(reading, plan) or 0.0
    if not plan.lowest_m <= level <= plan.highest_m:
        allowed = f"{show(plan.lowest_m, 'mm', 6)} to {show(plan.highest_m, 'mm', 6)}, where a level can be measured"
        why = "in a dead zone an instrument may show anything"
        remedy = "Read at the nearest planned level"
        yield Fault(f"{path}.reference_m", allowed, show(level, "mm", 6), why, remedy=remedy)
    elif _nearest(reading, plan) is None:
        points = ", ".join(show(point.level_m, "mm", 6) for point in plan.points)
        allowed = f"within {100.0 * FARTHEST_SHARE:g} % of the span of a planned point: {points}"
        yield Fault(f"{path}.reference_m", allowed, show(level, "mm", 6), "", remedy="Read there, or plan other points")


def _wrong_numbers(path: str, reading: Reading) -> Iterator[Fault]:
    for name, value, low, high in (
        ("reference_m", reading.reference_m, -_LARGEST_M, _LARGEST_M),
        ("shown_m", reading.shown_m, -_LARGEST_M, _LARGEST_M),
        ("reference_A", reading.reference_A, 0.0, _LARGEST_A),
        ("shown_A", reading.shown_A, 0.0, _LARGEST_A),
    ):
        if value is not None and not (isfinite(value) and low <= value <= high):
            unit = name.rpartition("_")[2]
            yield Fault(f"{path}.{name}", f"{low:g} to {high:g} {unit}", f"{value:g} {unit}")


def _of_times(run: Run) -> Iterator[Fault]:
    """A clock that goes backwards, within the run or from its beginning."""
    mixed = [
        n for n, r in enumerate(run.readings) if r.at is not None and (r.at.tzinfo is None) != (run.when.tzinfo is None)
    ]
    if mixed:
        yield Fault(f"run.readings[{mixed[0]}].at", "a time with its offset from UTC, as run.when", "one without")
        return
    before, name = run.when, "the beginning of the run"
    for number, reading in enumerate(run.readings):
        if reading.at is None:
            continue
        if reading.at < before:
            allowed = f"no earlier than {before.isoformat()}, {name}"
            remedy = "Set the clock right, and put the readings into the order in which they were taken"
            path = f"run.readings[{number}].at"
            yield Fault(path, allowed, reading.at.isoformat(), "the clock went backwards", remedy=remedy)
        before, name = max(before, reading.at), f"reading {number + 1}"


def _of_completeness(run: Run, plan: Plan) -> Iterator[Fault]:
    """Each point once in each cycle and direction of the plan."""
    counted = Counter((p.reading.direction, p.reading.cycle, p.point.name) for p in placed(run, plan))
    kinds = Counter(_kind(reading) for reading in run.readings)
    if len(kinds) > 1:
        got = " and ".join(sorted(kinds))
        yield Fault("run.readings", "all of one kind", got, "errors of unlike signals make no curve")
    for direction in (d for d in BOTH if d in plan.directions):
        for cycle in range(1, plan.cycles + 1):
            missing = [p.name for p in plan.points if counted[direction, cycle, p.name] == 0]
            yield from _missing(direction, cycle, missing, len(plan.points))
            twice = [p.name for p in plan.points if counted[direction, cycle, p.name] > 1]
            if twice:
                path = f"run.readings[cycle {cycle}, {direction}]"
                yield Fault(path, "each point once", f"more at {', '.join(twice)}", "", remedy="Count a new cycle")


def _kind(reading: Reading) -> str:
    """Which signals a reading has."""
    parts = [word for word, value in (("current", reading.shown_A), ("level", reading.shown_m)) if value is not None]
    return " with ".join(parts)


def _missing(direction: str, cycle: int, missing: list[str], points: int) -> Iterator[Fault]:
    if not missing:
        return
    whole = len(missing) == points
    path = f"run.readings[cycle {cycle}, {direction}]"
    got = f"no {direction}-run" if whole else f"none at {', '.join(missing)}"
    why = f"the plan asks for {points} points with the level going {direction}"
    remedy = f"Read what is missing, or plan without it{'; hysteresis is then not judged' if whole else ''}"
    yield Fault(path, "a reading at every planned point", got, why, remedy=remedy)


def _nearest(reading: Reading, plan: Plan) -> PlannedPoint | None:
    """The planned point a reading belongs to; None where it stands too far from all."""
    level = level_of(reading, plan)
    if level is None:
        return None
    point = min(plan.points, key=lambda each: abs(each.level_m - level))
    span = abs(plan.upper_range_value_m - plan.lower_range_value_m)
    return point if abs(point.level_m - level) <= FARTHEST_SHARE * span else None
