"""What an error of the reading does to the order, and how it is told."""

from __future__ import annotations

from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.verdicts import Effect

ROUNDING_M = 1e-6
"""Less than this is left by the arithmetic, and by nothing else."""

WORTH_A_WORD = 0.1
"""Share of the error allowed from which an error of the reading is a finding."""


def effect_of(desk: Desk, error: Entry, grave: Effect) -> Effect:
    """What an error does: it stops the order unless the error allowed holds it."""
    allowed = desk.take(desk.case.wanted.error_allowed_of_level, "mm").value
    small = allowed is not None and error.value is not None and abs(error.value) <= allowed
    return Effect.WARNING if small else grave


def far_below_allowed(desk: Desk, error_m: float) -> bool:
    """Whether an error is not worth a word beside the error allowed; its row in the table stays."""
    allowed = desk.case.wanted.error_allowed_of_level.si
    return allowed is not None and abs(error_m) < WORTH_A_WORD * allowed


def off(error: Entry) -> tuple[str, str]:
    """Which way a reading is off, and by how much, without a sign to stumble over."""
    value = error.value or 0.0
    return ("high" if value > 0.0 else "low"), show(abs(value), error.shown or "mm")


def left_text(error: Entry) -> str:
    """What is left of an error, as people read it: what rounding leaves is nothing."""
    return "nothing" if error.value is not None and abs(error.value) < ROUNDING_M else error.text
