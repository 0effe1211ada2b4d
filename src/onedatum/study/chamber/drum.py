"""A steam drum from start-up to its pressure: what a chamber set at one pressure shows at others."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.working import Sheet
from onedatum.physics.bypass import Thermometers, shown_by_setting_m
from onedatum.physics.media import boiling_point_K
from onedatum.study.chamber.chapter import ChamberChapter
from onedatum.study.chamber.column import Standing
from onedatum.study.over_pressures import PressureRow, over_pressures, pressures_up_to, rows_of


def pressure_rows(sheet: Sheet, chamber: ChamberChapter) -> tuple[PressureRow, ...]:
    """The level now as the setting shows it at lower pressures, the chamber as warm as set, but never boiling."""
    level, column = chamber.level.value, _hottest(chamber.now)
    pressure = chamber.now.condition.temperature.inputs.get("pressure_Pa_abs")
    set_ = (chamber.lower_set, chamber.upper_set, chamber.rows[0].above, chamber.rows[-1].above)
    ends = [entry.value for entry in set_ if entry.value is not None]
    if pressure is None or pressure.value is None or level is None or column is None or len(ends) < len(set_):
        return ()
    absolute = pressures_up_to(pressure.value)
    absolute = absolute[np.asarray(boiling_point_K(absolute)) > column]
    if absolute.size == 0:
        return ()
    stands = over_pressures(sheet, chamber.in_chamber.name, pressure, absolute)
    return () if stands is None else rows_of(absolute, np.asarray(shown_by_setting_m(stands, *ends)), level)


def _hottest(standing: Standing) -> float | None:
    """The hottest that is known of the column."""
    rows = standing.temperature.inputs.get("thermometers")
    if rows is not None and isinstance(rows.whole, Thermometers):
        return float(np.max(rows.whole.temperatures_K))
    return standing.temperature.value
