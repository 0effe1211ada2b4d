"""The level from a difference of pressures; over a boiling drum from start-up to the pressure of the setting."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import Entry, Sheet
from onedatum.physics.pressure import level_of_difference_m, level_of_head_m
from onedatum.study.legs.chapter import LegsChapter
from onedatum.study.over_pressures import PressureRow, over_pressures, pressures_up_to, rows_of


def pressure_rows_of_legs(sheet: Sheet, legs: LegsChapter) -> tuple[PressureRow, ...]:
    """The level now as the range shows it at lower pressures; nothing for a liquid whose temperature is stated."""
    level, pressure = legs.level.value, legs.set_for.condition.temperature.inputs.get("pressure_Pa_abs")
    if pressure is None or pressure.value is None or level is None:
        return ()
    absolute = pressures_up_to(pressure.value)
    felt = over_pressures(sheet, legs.net.name, pressure, absolute)
    shown = None if felt is None else shown_of(legs, felt)
    return () if shown is None else rows_of(absolute, np.asarray(shown), level)


def shown_of(legs: LegsChapter, net_Pa: Real) -> Real | None:
    """Level above the lower tap that the range makes of a difference, side of the lower tap less that of the upper."""
    set_ = legs.set_for
    if legs.taps is None or set_.upper_leg is None:
        head = _known(legs.below, set_.liquid, set_.lower_leg, legs.gravity)
        return None if head is None else level_of_head_m(net_Pa, *head)
    columns = (legs.taps.distance, legs.below, set_.liquid, set_.gas, set_.lower_leg, set_.upper_leg, legs.gravity)
    known = _known(*columns)
    return None if known is None else level_of_difference_m(net_Pa, *known)


def level_of(legs: LegsChapter, difference_Pa: float) -> float | None:
    """Level above the datum at a difference of pressures, high side less low side; None while something is unknown."""
    shown = shown_of(legs, difference_Pa if legs.high_at_lower else -difference_Pa)
    return None if shown is None or legs.tap.value is None else float(shown) + legs.tap.value


def _known(*entries: Entry) -> list[float] | None:
    values = [entry.value for entry in entries if entry.value is not None]
    return values if len(values) == len(entries) else None
