"""The plan of a calibration from a case: as text, as data, as the empty form to be filled in at the tank."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from onedatum.foundation.errors import Fault, ProvingError, QuantityError
from onedatum.foundation.units import read_quantity, show
from onedatum.jobs.write import json_bytes, write_whole
from onedatum.paper.text import file_stem
from onedatum.proving import Plan, Reading, Tolerance, as_data, from_data, plan_points, read_readings, write_form
from onedatum.study.result import Study

USUAL_POINTS, USUAL_CYCLES = 5, 3
MOST_BYTES = 4_000_000


@dataclass(frozen=True)
class Wished:
    """How the plan is wanted."""

    points: int = USUAL_POINTS
    cycles: int = USUAL_CYCLES
    upwards_only: bool = False
    """Without the way down hysteresis is not judged."""
    tolerance: str = ""
    """Error of the level allowed on both sides, with its unit; empty: as the case states it."""
    filled: bool = True
    """Whether the tank itself is filled to the points."""


def plan_of(study: Study, wished: Wished | None = None) -> Plan:
    """The plan of a case; raises ProvingError with every fault."""
    wished = wished or Wished()
    if not 2 <= wished.points <= 21:
        raise ProvingError([Fault("points", "2 to 21", f"{wished.points}")])
    shares = tuple(number / (wished.points - 1) for number in range(wished.points))
    directions: tuple[Any, ...] = ("up",) if wished.upwards_only else ("up", "down")
    return plan_points(study, shares, wished.cycles, directions, _tolerance(wished.tolerance), wished.filled)


def _tolerance(text: str) -> Tolerance | None:
    if not text.strip():
        return None
    try:
        size_m = read_quantity(text, "length")
    except QuantityError as error:
        raise ProvingError([Fault("tolerance", error.allowed, error.got, error.why, remedy=error.remedy)]) from None
    return Tolerance(-size_m, size_m)


def plan_text(plan: Plan) -> str:
    """The plan in words, for whoever goes to the tank."""
    lines = [f"Calibration of {plan.tag}: {plan.cycles} cycles, {' and '.join(plan.directions)}"]
    lines.append(f"error allowed       {plan.tolerance.words()}")
    usual, tolerated = (show(u, "mm", 3) for u in (plan.reference_expanded_m, plan.reference_tolerated_m))
    lines.append(f"reference           known to {usual} (k = 2) or better; up to {tolerated} is tolerated")
    lines.append("point        level       current")
    for point in plan.points:
        moved = f"  moved: {point.moved}" if point.moved else ""
        lines.append(f"{point.name:<8}{show(point.level_m, 'mm', 5):>12}{show(point.current_A, 'mA', 5):>14}{moved}")
    lines += [f"left out: {words}" for words in plan.left_out]
    lines += [f"caution: {words}" for words in plan.cautions]
    return "\n".join(lines) + "\n"


def plan_json(plan: Plan) -> dict[str, Any]:
    """The plan as data."""
    return as_data(plan)


def form_csv(plan: Plan, level: bool = True) -> bytes:
    """The empty form as a file of lines."""
    return write_form(plan, level=level).encode("utf-8")


def write_plan(plan: Plan, case: Path, out: Path) -> tuple[Path, ...]:
    """Write text, data and empty form into a folder; raises OutputError."""
    stem = f"{file_stem(case.stem)}-calibration"
    parts = {
        f"{stem}-plan.txt": plan_text(plan).encode("utf-8"),
        f"{stem}-plan.json": json_bytes(plan_json(plan)),
        f"{stem}-points.csv": form_csv(plan),
    }
    for name, content in parts.items():
        write_whole(out / name, content)
    return tuple(out / name for name in parts)


def read_points(path: Path) -> tuple[Reading, ...]:
    """The readings of a file; raises ProvingError with line and column of every fault."""
    return read_readings(file_bytes(path, "prove plan writes an empty form"), path.name)


def read_plan(path: Path) -> Plan:
    """A plan that was written before; raises ProvingError."""
    remedy = "Write the plan again with prove plan"
    try:
        found = from_data(json.loads(file_bytes(path, remedy)))
    except (ValueError, RecursionError):
        raise ProvingError([Fault(str(path), "the JSON of a plan", "something else", remedy=remedy)]) from None
    if not isinstance(found, Plan):
        raise ProvingError([Fault(str(path), "a plan", "another record", remedy=remedy)])
    return found


def file_bytes(path: Path, remedy: str) -> bytes:
    """A file of a bounded size; raises ProvingError."""
    try:
        if not path.is_file():
            got = "a folder" if path.is_dir() else "a device or a pipe" if path.exists() else "none"
            raise ProvingError([Fault(str(path), "a file", got, remedy=remedy)])
        if path.stat().st_size > MOST_BYTES:
            raise ProvingError([Fault(str(path), f"a file of at most {MOST_BYTES} bytes", "a longer one")])
        return path.read_bytes()
    except OSError as error:
        why = error.strerror or str(error)
        raise ProvingError([Fault(str(path), "a file that can be read", "an error", why)]) from None
