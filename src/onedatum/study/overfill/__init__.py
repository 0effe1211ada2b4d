"""Overfill: where the alarms must stand, whether they can come, how long there is."""

from onedatum.study.overfill.carried import ALARM_CARRIED
from onedatum.study.overfill.chapter import (
    OverfillChapter,
    Rooms,
    overfill_chapter,
    set_points_chapter,
    without_overfill,
)
from onedatum.study.overfill.levels import WITHOUT_HIGH
from onedatum.study.overfill.times import Forecast

__all__ = [
    "ALARM_CARRIED",
    "WITHOUT_HIGH",
    "Forecast",
    "OverfillChapter",
    "Rooms",
    "overfill_chapter",
    "set_points_chapter",
    "without_overfill",
]
