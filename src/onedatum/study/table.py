"""The tank table of a study: rows, what lies between them, and everything a table must say of itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.case.leaf import Leaf, Value
from onedatum.foundation.errors import Fault, ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import Body, TableRows, rows
from onedatum.study.result import Study

USUAL_STEP_M = 0.01
"""Rows a centimetre apart: common practice, no source."""
LEAST_ROW_M = 0.0005
"""Rows are not made closer than half a millimetre."""


@dataclass(frozen=True)
class VesselTable:
    """The rows of the table of a vessel and their step."""

    rows: TableRows
    step_m: float
    step_stated: bool
    finer: tuple[bool, ...]
    """Rows that stand between those of the step."""
    zone_m: tuple[float, float] | None
    """Levels between which a floating roof lands: their volumes serve no quantity."""


def table_of(study: Study, step_m: float | None = None) -> VesselTable | Fault:
    """The table of the vessel; what stands against it as a fault."""
    if study.vessel is None:
        why = "a table needs a vessel: state vessel.shape and its measures"
        return Fault("vessel.shape", "stated, for a table", "none", why, study.statement.case.vessel.shape.place)
    body = study.vessel.body.whole
    if not isinstance(body, Body):
        waiting = ", ".join(study.vessel.body.waits_for) or "the vessel"
        return Fault("vessel", "known, for a table", f"unknown: waits for {waiting}", "")
    stated = study.statement.case.table.step
    step = step_m if step_m is not None else stated.si if stated.si is not None else USUAL_STEP_M
    low, high = float(body.low_m), float(body.high_m)
    try:
        made = rows(body.volume_below_m3, body.area_m2, low, high, step, finest_m=_finest(step))
    except ValidityError as error:
        return Fault("table.step", error.allowed, error.got, error.why, stated.place)
    return VesselTable(made, step, step_m is not None or stated.known, _finer(made.levels_m, step), _zone(study))


def _finer(levels_m: Reals, step_m: float) -> tuple[bool, ...]:
    """Whether a row is nearer to a neighbour than the step; the odd ends of a table are no finer rows."""
    close = np.diff(levels_m) < step_m * (1.0 - 1e-6)
    close[[0, -1]] &= len(close) > 1 and bool(np.any(close[1:-1]))
    finer = np.concatenate([close, [False]]) | np.concatenate([[False], close])
    return tuple(bool(each) for each in finer)


def _finest(step_m: float) -> float:
    """The closest that rows are made: the step in tenths, down to half a millimetre."""
    finest = step_m / 10.0
    while finest / 10.0 >= LEAST_ROW_M:
        finest /= 10.0
    return finest


def _zone(study: Study) -> tuple[float, float] | None:
    roof = study.statement.case.vessel.floating_roof
    if not roof.mass.known or roof.lands_at.si is None or roof.floats_at.si is None:
        return None
    return roof.lands_at.si, roof.floats_at.si


def measures(study: Study) -> tuple[Leaf, ...]:
    """What the case states of the vessel, in its order, temperatures apart."""
    vessel = study.statement.case.vessel
    apart = ("datum", "shell_expansion", "table_temperature", "shell_temperature", "metal")
    found: dict[str, Leaf] = {}
    for leaf in vessel.leaves():
        if leaf.path.removeprefix("vessel.") not in apart and (leaf.known or _is_none(leaf)):
            found.setdefault(leaf.path, leaf)
    return tuple(found.values())


def _is_none(leaf: Leaf) -> bool:
    return leaf.state == "none" and not isinstance(leaf, Value)
