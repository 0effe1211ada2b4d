"""What the current tells: measurement, failure, and the bands between that tell nothing."""

from __future__ import annotations

from dataclasses import replace

from onedatum.case.leaf import Value
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.loop import Bands, Limit, usual_bands
from onedatum.study.apart import CURRENTS
from onedatum.study.desk import Desk, Sense


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


def failures_seen(desk: Desk, bands: Bands, worst: Entry) -> None:
    """Whether the receiver takes the failure currents of the transmitter for failures."""
    transmitter = desk.case.loop.transmitter
    ends: tuple[tuple[str, Entry, Sense, Limit], ...] = (
        ("high", worst, "at least", bands.failure_high_A),
        ("low", desk.take(transmitter.current_failure_low, "mA"), "at most", bands.failure_low_A),
    )
    for end, current, sense, limit in ends:
        edge = desk.sheet.give(
            f"loop.failure_{end}_seen",
            limit.value,
            "A",
            f"current {'from' if end == 'high' else 'up to'} which the receiver tells a failure",
            state="constant",
            shown="mA",
            source=limit.source,
        )
        name, meaning = f"loop.failure_{end}_margin", f"{end} failure current beyond the limit of the receiver"
        words = f"the receiver sees the {end} failure current", f"The receiver does not see the {end} failure current"
        key = f"failure-{end}-seen"
        desk.compare_apart(key, words, current, sense, edge, name, meaning, by=CURRENTS, safety=True, remark=True)


def _limit(leaf: Value, current_A: float) -> Limit:
    return Limit(current_A, "case", "stated in the case", leaf.note)
