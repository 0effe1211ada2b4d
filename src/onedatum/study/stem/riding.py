"""Where a float rides in each state, and what follows over them: in the tank and in a chamber alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.floats import freeboard_m, waterline_above_magnet_m
from onedatum.physics.magnetostrictive import reads_low_by_m
from onedatum.study.desk import Desk
from onedatum.study.states import Condition
from onedatum.study.stem.float import Float


@dataclass(frozen=True)
class Riding:
    """Where the float rides in one state, and the levels that can be measured then."""

    condition: Condition
    immersion: Entry
    waterline: Entry
    """Surface above the magnet plane."""
    lowest: Entry
    highest: Entry

    @property
    def state(self) -> str:
        """The name of the state."""
        return self.condition.name


def waterline_of(desk: Desk, float_: Float, state: str, immersion: Entry) -> Entry:
    """The surface above the magnet plane, once for a state."""
    return desk.once(
        f"float.waterline_above_magnet[{state}]",
        waterline_above_magnet_m,
        shown="mm",
        meaning=f"surface above the magnet plane, {state}",
        immersion_m=immersion,
        magnet_height_m=float_.magnet_plane,
    )


def least_freeboard(desk: Desk, float_: Float, ridings: Sequence[Riding]) -> Entry:
    """What of the float stands above the surface, where that is least."""
    each = [
        desk.calc(
            f"float.freeboard[{riding.state}]",
            freeboard_m,
            shown="mm",
            meaning=f"freeboard of the float, {riding.state}",
            height_m=float_.height,
            immersion_m=riding.immersion,
        )
        for riding in ridings
    ]
    meaning = "least freeboard over the fitted states of the liquid itself"
    return desk.sheet.select("float.freeboard", "least", meaning, each)


def measured_everywhere(desk: Desk, ridings: Sequence[Riding]) -> tuple[Entry, Entry]:
    """The lowest and the highest level that every state can measure."""
    where = "level measurable in every fitted state of the liquid itself"
    lowest = desk.sheet.select("level.measurable_low", "greatest", f"lowest {where}", [r.lowest for r in ridings])
    highest = desk.sheet.select("level.measurable_high", "least", f"highest {where}", [r.highest for r in ridings])
    return lowest, highest


def reads_low(desk: Desk, now: Riding, state: str, dip: Entry) -> Entry:
    """By how much an instrument set in another state reads low in this one."""
    return desk.calc(
        f"level.reads_low_by[{state}]",
        reads_low_by_m,
        shown="mm",
        meaning=f"reads low by, if set in the liquid of: {state}",
        immersion_m=now.immersion,
        immersion_set_m=dip,
    )
