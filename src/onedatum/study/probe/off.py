"""What an error of the reading does to the order, and how it is told."""

from __future__ import annotations

from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.verdicts import Effect

ROUNDING_M = 1e-6
"""Less than this is left by the arithmetic, and by nothing else."""


def effect_of(desk: Desk, error: Entry, grave: Effect) -> Effect:
    """What an error does: it stops the order unless the error allowed holds it."""
    allowed = desk.take(desk.case.wanted.error_allowed_of_level, "mm").value
    small = allowed is not None and error.value is not None and abs(error.value) <= allowed
    return Effect.WARNING if small else grave


def off(error: Entry) -> tuple[str, str]:
    """Which way a reading is off, and by how much, without a sign to stumble over."""
    value = error.value or 0.0
    return ("high" if value > 0.0 else "low"), show(abs(value), error.shown or "mm")


def left_text(error: Entry) -> str:
    """What is left of an error, as people read it: what rounding leaves is nothing."""
    return "nothing" if error.value is not None and abs(error.value) < ROUNDING_M else error.text
