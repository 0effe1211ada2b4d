"""Vessels known by points: a measured profile, a tank table, the bottom of a strapped tank."""

from __future__ import annotations

import numpy as np

from onedatum.case.leaf import Rows
from onedatum.foundation.working import Entry
from onedatum.physics import vessels
from onedatum.physics.vessels import Batches, Profile, metered_rows, tabled_vessel
from onedatum.study.desk import Desk
from onedatum.study.vessel.shell import BARE
from onedatum.study.vessel.table_check import table_is_usable


def profile_of(desk: Desk) -> Entry:
    """The profile as stated; unknown while a point is."""
    return desk.held(desk.case.vessel.profile, Profile, ("height", "radius"), "measured profile", "mm")


def filled_points(desk: Desk, stated: Rows, meaning: str) -> Entry:
    """Levels and volumes as stated, a short table."""
    return desk.held(stated, vessels.Rows, ("level", "volume"), meaning, "mm")


def by_its_table(desk: Desk) -> Entry:
    """The vessel by the table the case brings along, or by the liquid calibration it states."""
    batches = desk.case.vessel.batches
    rows = _calibrated(desk) if batches.state == "stated" else _brought_along(desk)
    return desk.calc(BARE, tabled_vessel, shown="mm", rows=rows)


def bottom_rows(desk: Desk) -> Entry | None:
    """The bottom below the lowest course: by metered batches, else by points; None where there is none."""
    vessel = desk.case.vessel
    if vessel.batches.state == "stated":
        return _calibrated(desk)
    if vessel.bottom_points.state == "none":
        desk.read.add(vessel.bottom_points.path)
        return None
    return filled_points(desk, vessel.bottom_points, "bottom by points of a liquid calibration or a survey")


def _calibrated(desk: Desk) -> Entry:
    vessel = desk.case.vessel
    keys = "level", "metered", "meter_temperature", "tank_temperature"
    return desk.body(
        "table.rows",
        metered_rows,
        {
            "batches": desk.held(vessel.batches, Batches, keys, "metered batches", "mm"),
            "meter_factor": desk.take(vessel.metering.meter_factor),
            "liquid_expansion_per_K": desk.take(vessel.metering.liquid_expansion),
            "shell_expansion_per_K": desk.take(vessel.shell_expansion),
            "table_temperature_K": desk.take(vessel.table_temperature),
        },
    )


def _brought_along(desk: Desk) -> Entry:
    """The rows of the file; a table that cannot be used is told row by row and left out."""
    leaf, table = desk.case.table.read_from, desk.table
    desk.read.add(leaf.path)
    rows = None if table is None else vessels.Rows(np.array(table.levels_m), np.array(table.volumes_m3))
    if table is not None and rows is not None and not table_is_usable(desk, table, rows, leaf.path):
        rows = None
    note = "" if table is None else f"{len(table.levels_m)} rows of {leaf.text}"
    return desk.sheet.hold(
        "table.rows", rows, "rows of the tank table", shown="mm", path=leaf.path, place=leaf.place, note=note
    )
