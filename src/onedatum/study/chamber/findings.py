"""What must be said of a chamber: that it stands lower, that other states read otherwise, and its traps."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Word
from onedatum.case.model.chamber import BETWEEN
from onedatum.case.model.liquid import BOILING_WATER
from onedatum.study.chamber.chapter import ChamberChapter
from onedatum.study.chamber.stem import Outside, Shown
from onedatum.study.desk import Desk
from onedatum.verdicts import Effect, Finding, Link

TOLD_M = 5e-4
"""Differences below this are not spoken of."""


def chamber_findings(desk: Desk, chamber: ChamberChapter, outside: Outside | None) -> Iterator[Finding]:
    """Every finding of the chamber."""
    yield from _stands_otherwise(chamber)
    for each in outside.shown if outside is not None else ():
        yield from _other_state(chamber, each)
    yield from _traps(desk, chamber)
    if desk.case.medium.kind.word == BOILING_WATER:
        yield _direct_gauge()


def _stands_otherwise(chamber: ChamberChapter) -> Iterator[Finding]:
    error = chamber.error.value
    if error is None or abs(error) < TOLD_M:
        return
    word = "lower" if error < 0.0 else "higher"
    yield Finding(
        "chamber-stands-otherwise",
        f"The chamber stands {word} than the vessel: its level is not that of the vessel",
        Effect.WARNING,
        (
            Link("Level in the vessel above the lower tap", chamber.level.text, chamber.level.name),
            Link("Level in the chamber", chamber.in_chamber.text, chamber.in_chamber.name),
            Link("Uncorrected the current would be", chamber.uncorrected.text, chamber.uncorrected.name),
            Link("in place of", chamber.straight.text, chamber.straight.name),
        ),
        (
            Link(
                f"Set 4 mA at {chamber.lower_set.text} and 20 mA at {chamber.upper_set.text} of level in the chamber,"
                " above the lower tap"
            ),
            Link("A warmer chamber: insulated around chamber and stem together, or condensing at its top"),
        ),
    )


def _other_state(chamber: ChamberChapter, each: Shown) -> Iterator[Finding]:
    error = each.error.value
    if error is None or abs(error) < TOLD_M:
        return
    word = "high" if error > 0.0 else "low"
    ways = (
        Link("Correct with pressure and temperature of the chamber, or do not act on the level in this state")
        if each.own_liquid
        else Link("A check in this state needs this offset; the setting for service stays as it is")
    )
    yield Finding(
        f"chamber-other-state[{each.state}]",
        f"Set for the state {chamber.now.state}, it reads {word} in the state {each.state}",
        Effect.WARNING,
        (
            Link("Level in the vessel above the lower tap", chamber.level.text, chamber.level.name),
            Link("Shown", each.with_float.text, each.with_float.name),
            Link("of it by the column alone", each.shown.text, each.shown.name),
        ),
        (ways,),
    )


def _traps(desk: Desk, chamber: ChamberChapter) -> Iterator[Finding]:
    stated = desk.case.chamber
    if chamber.layers is not None:
        yield Finding(
            "chamber-layers",
            "Two liquids and two connections: the layers in the chamber need not be those in the vessel",
            Effect.BLOCKS,
            (
                Link(
                    "With the lower liquid alone in it the chamber stands at", chamber.layers.text, chamber.layers.name
                ),
                Link("That is neither the surface nor the interface"),
            ),
            (Link("A connection in each layer; or another principle for an interface"),),
        )
    if desk.word(stated.insulation, "how warm the chamber is") == BETWEEN:
        yield Finding(
            "chamber-insulation",
            "Insulation between chamber and stem moves the stem away from the magnet",
            Effect.WARNING,
            (Link("Insulation of the chamber", BETWEEN), Link("It adds its thickness to the distance of the stem")),
            (Link("Insulate around chamber and stem together, the stem touching; or a pocket for a hot stem"),),
        )
    for leaf, key, told in _openings(desk):
        if leaf.word == "no":
            yield Finding(
                f"chamber-{key}",
                told,
                Effect.WARNING,
                (Link(leaf.title, "no"),),
                (Link(f"Order the chamber with a {key}"),),
            )


def _openings(desk: Desk) -> Iterator[tuple[Word, str, str]]:
    stated = desk.case.chamber
    for leaf, key, told in (
        (stated.vent, "vent", "A chamber without a vent holds a pocket of gas: it stands lower than the vessel"),
        (stated.drain, "drain", "A chamber without a drain settles what the liquid carries: the lower tap plugs"),
    ):
        desk.word(leaf, "whether the chamber can be freed of gas and sediment")
        yield leaf, key, told


def _direct_gauge() -> Finding:
    return Finding(
        "boiler-gauge",
        "This indication does not replace the direct water gauge that boiler law asks for",
        Effect.WARNING,
        (
            Link("Boiler codes ask for gauge glasses, or independent indicators on conditions: read the code in force"),
            Link("A transmitter on a chamber is no level limiter: that needs a device certified as one"),
        ),
        (Link("Settle gauges and limiters with the boiler inspector, by the code of the country"),),
        safety=True,
    )
