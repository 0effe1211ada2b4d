"""What the current tells: measurement, failure, and the bands between that tell nothing."""

from __future__ import annotations

from dataclasses import replace

from onedatum.case.leaf import Value
from onedatum.foundation.errors import QuantityError
from onedatum.physics.loop import Bands, Limit, usual_bands
from onedatum.study.desk import Desk


def bands_of(desk: Desk) -> Bands:
    """The bands as receiver and range state them, else the usual ones of NE 43.

    Limits out of order are contradictions of the statement, told there; the usual bands stand in for them.
    """
    receiver, information = desk.case.loop.receiver, desk.case.range.saturation
    leaves = {
        "failure_low_A": receiver.failure_low,
        "information_low_A": information.low,
        "information_high_A": information.high,
        "failure_high_A": receiver.failure_high,
    }
    desk.read.update(leaf.path for leaf in leaves.values())
    stated = {name: _limit(leaf, leaf.si) for name, leaf in leaves.items() if leaf.si is not None}
    try:
        return replace(usual_bands(), **stated)
    except QuantityError:
        return usual_bands()


def _limit(leaf: Value, current_A: float) -> Limit:
    return Limit(current_A, "case", "stated in the case", leaf.note)
