"""A calibration for the tests of command, pages and papers: the invented receiver, its readings, made ones of a size.

The readings are made from the straight line of the range, 100 mm at 4 mA to 2800 mm at 20 mA (IEC 60381-1), with an
error that the test chooses.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

EXAMPLES = Path(__file__).parents[1] / "examples"
CASE = EXAMPLES / "spirit_receiver.yaml"
POINTS = EXAMPLES / "proving" / "spirit_receiver_as_found.csv"
TAG = "LT-201"
BEGIN = datetime(2026, 11, 20, 8, 0, tzinfo=UTC)
FIELDS = {
    "who": "A. Reader",
    "reference": "dip tape 7",
    "reference_certificate": "K-2031",
    "reference_u": "1.0 mm",
    "reference_k": "2",
    "reference_digit": "1 mm",
    "meter": "loop meter 3",
    "meter_certificate": "K-2044",
    "meter_u": "4 uA",
    "meter_k": "2",
    "meter_digit": "1 uA",
}
LEVELS_MM = (100.0, 775.0, 1450.0, 2125.0, 2697.0)
"""Of the plan with five points; the last stays below where filling must stop."""


def case_in(folder: Path, name: str = "receiver") -> Path:
    """A copy of the case in a folder of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    return Path(shutil.copy(CASE, folder / f"{name}.yaml"))


def lines(error_mm: Callable[[float], float], begin: datetime = BEGIN, cycles: int = 3, down: bool = True) -> str:
    """A file of readings with this error of the current output at each level."""
    rows = ["cycle,direction,reference level [mm],shown current [mA],time"]
    at = begin
    for cycle in range(1, cycles + 1):
        for direction in ("up", "down") if down else ("up",):
            for level in LEVELS_MM if direction == "up" else reversed(LEVELS_MM):
                current_mA = 4.0 + 16.0 * (level + error_mm(level) - 100.0) / 2700.0
                at += timedelta(minutes=20)
                rows.append(f"{cycle},{direction},{level},{current_mA:.6f},{at.isoformat()}")
    return "\n".join(rows) + "\n"


def options(**others: str) -> list[str]:
    """The fields as options of the command."""
    found = {**FIELDS, **others}
    return [word for key, text in found.items() for word in (f"--{key.replace('_', '-')}", text)]


def visits(case: Path) -> None:
    """Four visits to an invented receiver beside its case: a slope that drifts, once set right."""
    from onedatum.jobs.examine import examine
    from onedatum.jobs.proving.entry import KINDS
    from onedatum.jobs.proving.plan import plan_of
    from onedatum.jobs.proving.records import place_beside, record_run
    from onedatum.proving import read_readings

    study = examine(case)
    plan = plan_of(study)
    for days, slope_mm, kind, trims in (
        (-1095.0, 8.0, "found", "none"),
        (-730.0, 13.9, "found", "none"),
        (-728.0, 0.8, "left", "span of the level trimmed by 13 mm at 2700 mm"),
        (-364.0, 5.6, "found", "none"),
        (0.0, 9.8, "found", "none"),
    ):
        content = lines(sloping(slope_mm), BEGIN + timedelta(days=days))
        fields = {**FIELDS, "trims": trims, "checked_by": "B. Checker"}
        record_run(place_beside(case), study, plan, KINDS[kind], fields, read_readings(content))


def sloping(most_mm: float) -> Callable[[float], float]:
    """An error that grows with the level, to so much at the highest point."""
    return lambda level: 0.6 + most_mm * (level - 100.0) / 2597.0
