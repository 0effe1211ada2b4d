"""Numbers of a transmitter of pressure with its legs."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.working import Entry
from onedatum.physics.screening import leg_head_share
from onedatum.study.choosing.bench import Bench, Number, every, given
from onedatum.study.choosing.levels import span
from onedatum.study.choosing.principle import DIFFERENTIAL


def legs_numbers(bench: Bench) -> Iterator[Number]:
    """All of them; nothing where the case speaks of no legs, or of one tap alone."""
    legs = bench.measuring.legs
    if legs is None or legs.taps is None:
        return
    names, found = {each.name for each in bench.conditions}, list[Entry | None]()
    for columns in legs.columns:
        if columns.state in names and columns.upper_leg is not None:
            found.append(
                bench.work(
                    "leg.head_to_span",
                    leg_head_share,
                    columns.state,
                    leg_density_kg_per_m3=columns.upper_leg,
                    tap_distance_m=legs.taps.distance,
                    below_m=legs.below,
                    liquid_density_kg_per_m3=columns.liquid,
                    gas_density_kg_per_m3=columns.gas,
                    span_m=span(bench),
                )
            )
    yield from given("leg.head_to_span", every(found), (DIFFERENTIAL,))
    yield from _drift(bench)


def _drift(bench: Bench) -> Iterator[Number]:
    """What warmth of the legs makes of the level, where the case says how warm they get."""
    moved = [each for each in bench.measuring.changes if each.judged and each.shift.known]
    shares = [
        entry
        for each in moved
        for number in bench.share("leg.drift_share", each.shift, at=each.key)
        for entry in number.entries
    ]
    if shares and len(shares) == len(moved):
        yield from given("leg.drift_share", shares, (DIFFERENTIAL,))
