"""Plans and runs for the tests, all invented: readings with a given error at every point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from onedatum.case.reading import read_case
from onedatum.proving import CurrentMeter, Plan, Reading, ReferenceInstrument, Run, Tolerance, plan_points
from onedatum.study.result import Study
from onedatum.study.study import study

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
BEGIN = datetime(2026, 11, 20, 8, 0, tzinfo=UTC)
MM = 1e-3
TAPE = ReferenceInstrument("dip tape (invented)", "C-1 (invented)", 2.0 * MM, 2.0, 0.0)
METER = CurrentMeter("meter (invented)", "C-2 (invented)", 0.0, 2.0, 0.0)


@cache
def examined(name: str) -> Study:
    """The study of an example."""
    return study(read_case(EXAMPLES / f"{name}.yaml"))


@cache
def plan_of(name: str = "spirit_receiver", **wishes: Any) -> Plan:
    """A plan of an example; the receiver on the bench by default, so that no point is moved."""
    return plan_points(examined(name), **({"filled": False} | wishes))


def within(limit_mm: float) -> Tolerance:
    """The same limit on both sides of zero."""
    return Tolerance(-limit_mm * MM, limit_mm * MM)


def run_of(plan: Plan, error_mm: Callable[[float, str, int], float], **other: Any) -> Run:
    """A run whose readings are off by what is asked for, by share of the span, direction and cycle."""
    readings = [
        Reading(cycle, direction, p.level_m, shown_m=p.level_m + MM * error_mm(p.share, direction, cycle))
        for cycle in range(1, plan.cycles + 1)
        for direction in plan.directions
        for p in (plan.points if direction == "up" else reversed(plan.points))
    ]
    parts: dict[str, Any] = {
        "tag": plan.tag,
        "kind": "as found",
        "case_hash": plan.case_hash,
        "who": "technician (invented)",
        "when": BEGIN,
        "reference": TAPE,
        "readings": tuple(readings),
    }
    return Run(**(parts | other))


def even(error_mm: float) -> Callable[[float, str, int], float]:
    """The same error everywhere."""
    return lambda share, direction, cycle: error_mm


def with_reading(run: Run, number: int, **changed: Any) -> Run:
    """The run with one reading otherwise."""
    readings = list(run.readings)
    readings[number] = replace(readings[number], **changed)
    return replace(run, readings=tuple(readings))


def timed(run: Run) -> Run:
    """The run with a time at every reading, ten minutes apart."""
    times = (BEGIN + timedelta(minutes=10 * (number + 1)) for number in range(len(run.readings)))
    return replace(run, readings=tuple(replace(r, at=at) for r, at in zip(run.readings, times, strict=True)))
