"""Proving a level measurement: plan the points, take the readings, judge them, and say when to look again.

    plan = plan_points(study)                          # points, order, how good the reference must be
    form = write_form(plan)                            # the empty form, as a file of lines
    readings = read_readings(content, "found.csv")     # what was filled in
    run = Run(tag=..., kind="as found", readings=readings, ...)
    judged = judge(plan, run, Rule())                  # verdict per point and run, every number on a sheet
    past = history_of([judged, ...])                   # drift, interval, next due date

Whatever cannot be planned, read or judged as a whole raises `ProvingError`, whose faults name place and remedy.
`as_data` and `from_data` turn plan, run and judged result into plain data and back. Nothing here writes a record or
asks the clock: records come in as arguments and go out as results. `proving.causes` ranks what may be wrong.
"""

from onedatum.foundation.errors import ProvingError
from onedatum.proving.entry_csv import read_readings, write_form
from onedatum.proving.form import as_data, from_data
from onedatum.proving.history import History, IntervalRule, history_of
from onedatum.proving.judged import Judged
from onedatum.proving.judging import judge
from onedatum.proving.points import ELEVEN, FIVE, SIX, Plan, Tolerance, plan_points
from onedatum.proving.readings import (
    Ambient,
    CurrentMeter,
    Reading,
    ReferenceInstrument,
    Run,
    TankReference,
    run_faults,
)
from onedatum.proving.rules import RULES, Rule

__all__ = [
    "ELEVEN",
    "FIVE",
    "RULES",
    "SIX",
    "Ambient",
    "CurrentMeter",
    "History",
    "IntervalRule",
    "Judged",
    "Plan",
    "ProvingError",
    "Reading",
    "ReferenceInstrument",
    "Rule",
    "Run",
    "TankReference",
    "Tolerance",
    "as_data",
    "from_data",
    "history_of",
    "judge",
    "plan_points",
    "read_readings",
    "run_faults",
    "write_form",
]
