"""What a tilt does at the gauge, and what remains in the vessel below three heights that are not the same."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.quantity import capacity_share, difference_m3
from onedatum.physics.vessels import Body, volume_m3
from onedatum.study.desk import Desk
from onedatum.study.vessel.chapter import VesselChapter
from onedatum.verdicts import Effect, Finding, Link

TILT_MATTERS = 0.001
"""Share of the contents from which a table without the tilt is spoken of: a usual table is good to some 0.3 %."""


def heels(desk: Desk, vessel: VesselChapter) -> None:
    """The volumes that the outlet and the pump leave behind; what the gauge cannot see is a third figure."""
    stated = desk.case.vessel
    for name, level, what in (
        ("vessel.volume_below_outlet", stated.outlet, "volume below the outlet, not to be drawn"),
        ("vessel.volume_below_pump_limit", stated.pump_limit, "volume below the level at which the pump must stop"),
    ):
        if level.state != "unknown":
            vessel.volume(desk, name, desk.take(level, "mm", none=0.0), what)


def at_level_now(desk: Desk, vessel: VesselChapter, level: Entry, volume: Entry) -> None:
    """Surface and share of the capacity at the level now, and what a table without the tilt would give."""
    vessel.surface(desk, "quantity.surface", level, "surface at the level now: volume per unit of level")
    desk.calc(
        "quantity.capacity_share",
        capacity_share,
        shown="%capacity",
        volume_m3=volume,
        capacity_m3=desk.sheet["vessel.full_volume"],
    )
    if vessel.level_twin is not None:
        _without_tilt(desk, vessel.level_twin, level, volume)


def _without_tilt(desk: Desk, twin: Entry, level: Entry, volume: Entry) -> None:
    """The level now in the same vessel as if it stood true; told where it lies within that vessel."""
    body = twin.whole
    if level.value is None or not isinstance(body, Body) or not body.low_m <= level.value <= body.high_m:
        return
    untilted = desk.calc(
        "comparison.volume_without_tilt",
        volume_m3,
        shown="m3",
        meaning="volume as a table without the tilt would give it, level now",
        level_m=level,
        vessel=twin,
    )
    error = desk.calc(
        "comparison.tilt_left_out",
        difference_m3,
        shown="L",
        meaning="error of a table without the tilt, level now",
        first_m3=untilted,
        second_m3=volume,
    )
    if error.value is None or not volume.value or abs(error.value) < TILT_MATTERS * volume.value:
        return
    links = (
        Link("The vessel is tilted by", desk.sheet[_slope_name(desk)].text, _slope_name(desk)),
        Link("At the level now a table of the vessel standing true would be wrong by", error.text, error.name),
        Link("It would give", untilted.text, untilted.name),
        Link("The vessel holds", volume.text, volume.name),
    )
    ways = (
        Link("Use the table of the tilted vessel, made for this station of the gauge"),
        Link(
            "A gauge at mid length of the liquid surface sees the mean level: the tilt drops out to first order there"
        ),
    )
    desk.findings.append(
        Finding("tilt-counts", "A table without the tilt would be wrong", Effect.WARNING, links, ways, safety=False)
    )


def _slope_name(desk: Desk) -> str:
    return "vessel.slope" if "vessel.slope" in desk.sheet else "vessel.slope_of_tilt"
