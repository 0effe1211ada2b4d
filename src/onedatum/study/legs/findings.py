"""What must be said of the legs: other states, legs that fill or empty, a blanket, a vacuum, signs."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD
from onedatum.case.model.legs import THE_GAS, THE_LIQUID, WATER
from onedatum.foundation.working import Entry
from onedatum.physics.media import boiling_pressure_Pa_abs
from onedatum.study.desk import Desk
from onedatum.study.legs.chapter import LegsChapter, Shown
from onedatum.study.legs.what_if import WhatIf
from onedatum.study.pressure import pressure_of_state
from onedatum.verdicts import Effect, Finding, Link

TOLD_M = 5e-4
ATMOSPHERE_Pa_abs = 1e5
FREEZES_K = 273.16


def legs_findings(desk: Desk, legs: LegsChapter, changes: tuple[WhatIf, ...]) -> Iterator[Finding]:
    """Every finding of the legs; of an alternative beside another principle none of them stops the order."""
    chosen = desk.case.instrument.principle.word in (BY_DIFFERENCE, BY_HEAD)
    yield from _zero(legs)
    for each in legs.shown:
        yield from _other_state(legs, each)
    yield from _leg_changes(legs, changes)
    yield from _drains(legs, chosen)
    yield from _boils(desk, legs, chosen)
    yield from _vacuum(desk, legs)
    yield from _interface(legs)


def _zero(legs: LegsChapter) -> Iterator[Finding]:
    """Both ends of one sign: suppressed or elevated zero, which is not reverse action."""
    low, high = legs.rows[0].difference, legs.rows[-1].difference
    if low.value is None or high.value is None or low.value * high.value <= 0.0:
        return
    below = low.value < 0.0
    rises = high.value > low.value
    yield Finding(
        "legs-zero",
        f"Both ends of the range are {'negative: an elevated' if below else 'positive: a suppressed'} zero",
        Effect.HOLDS,
        (
            Link("Difference at 4 mA, high side less low side", low.text, low.name),
            Link("Difference at 20 mA", high.text, high.name),
            Link(
                "It rises with the level: direct acting, whatever the signs"
                if rises
                else "It falls as the level rises: the sides are exchanged, or the output is reverse acting"
            ),
        ),
    )


def _other_state(legs: LegsChapter, each: Shown) -> Iterator[Finding]:
    error = each.error.value
    if error is None or abs(error) < TOLD_M:
        return
    word = "high" if error > 0.0 else "low"
    yield Finding(
        f"legs-other-state[{each.state}]",
        f"Pressure legs set for the state {legs.set_for.state} read {word} in the state {each.state}",
        Effect.WARNING,
        (
            Link("Level in the vessel above the lower tap", legs.level.text, legs.level.name),
            Link("Shown", each.shown.text, each.shown.name),
            Link("by a difference of", each.difference.text, each.difference.name),
        ),
        (Link("Correct with the densities of the state, from pressure and temperature"),),
    )


def _leg_changes(legs: LegsChapter, changes: tuple[WhatIf, ...]) -> Iterator[Finding]:
    found = {each.key: each for each in changes}
    if (whole := found.get("by_whole")) is not None and whole.shift.value is not None:
        dry = legs.upper is not None and legs.upper.word == THE_GAS
        yield Finding(
            "legs-refilled",
            "A dry leg that slowly fills reads low" if dry else "A wet leg that boils off or runs out reads high",
            Effect.WARNING,
            tuple(Link(f"When {each.text}, shown too high by", each.shift.text, each.shift.name) for each in changes),
            (
                Link(
                    "A drain pot and a drain at its foot, looked at; or a filled leg, or seals"
                    if dry
                    else "A pot with its level seen, filled anew after every drop of the pressure; or seals"
                ),
            ),
        )
    if (gas := found.get("gas")) is not None and gas.shift.value:
        yield Finding(
            "legs-gas",
            "A single sensor feels the gas over the liquid",
            Effect.WARNING,
            (Link("Pressure of the gas counted as level", gas.shift.text, gas.shift.name),),
            (Link("A second tap in the gas: difference of pressures; or an open vent"),),
        )


def _drains(legs: LegsChapter, chosen: bool) -> Iterator[Finding]:
    """A leg of the liquid itself above its tap empties as soon as the level falls below it."""
    below = legs.below.value
    if below is None or below >= 0.0 or legs.lower.word != THE_LIQUID:
        return
    yield Finding(
        "legs-above-tap",
        "The transmitter stands above the lower tap: a leg of the liquid itself is not kept full",
        Effect.BLOCKS if chosen else Effect.WARNING,
        (
            Link("How far it lies below the lower tap", legs.below.text, legs.below.name),
            Link("What fills the lower leg", THE_LIQUID),
        ),
        (Link("The transmitter at or below the lower tap; or a seal with a capillary"),),
    )


def _boils(desk: Desk, legs: LegsChapter, chosen: bool) -> Iterator[Finding]:
    """Water in the upper leg boils where its vapour presses more than the vessel does in any state."""
    if legs.upper is None or legs.upper.word != WATER:
        return
    temperature = desk.take(legs.upper.stated.temperature)
    if temperature.value is None or temperature.value < FREEZES_K:
        return
    name, meaning = "legs.boiling_pressure", "pressure at which the water in the upper leg boils"
    boils = desk.once(name, boiling_pressure_Pa_abs, shown="bar(a)", meaning=meaning, temperature_K=temperature)
    for columns in legs.columns:
        pressure = pressure_of_state(desk, columns.state, columns.condition.state)
        if pressure is not None and _less(pressure, boils):
            yield Finding(
                f"legs-boil[{columns.state}]",
                f"The water in the upper leg boils off in the state {columns.state}",
                Effect.BLOCKS if chosen else Effect.WARNING,
                (Link("It boils at", boils.text, boils.name), Link("The vessel has", pressure.text, pressure.name)),
                (Link("A cooler leg, or a filling that does not boil; fill it anew before the reading counts"),),
            )


def _less(pressure: Entry, limit: Entry) -> bool:
    return pressure.value is not None and limit.value is not None and pressure.value < limit.value


def _vacuum(desk: Desk, legs: LegsChapter) -> Iterator[Finding]:
    """Below the atmosphere a capillary pulls on its seal, most where the transmitter stands high."""
    capillary = [leg for leg in (legs.lower, legs.upper) if leg is not None and leg.stated.capillary.word == "yes"]
    for leg in (legs.lower, legs.upper):
        if leg is not None:
            desk.read.add(leg.stated.capillary.path)
    if len(capillary) == 1 and legs.upper is not None:
        yield Finding(
            "legs-one-capillary",
            "One leg is a capillary, the other is not: the height of the transmitter counts, and so does the sun",
            Effect.WARNING,
            (Link("Capillary", f"the {capillary[0].name} leg"),),
            (Link("Two capillaries, alike in filling, length and shade"),),
        )
    if not capillary:
        return
    for columns in legs.columns:
        pressure = pressure_of_state(desk, columns.state, columns.condition.state)
        if pressure is not None and pressure.value is not None and pressure.value < ATMOSPHERE_Pa_abs:
            yield Finding(
                f"legs-vacuum[{columns.state}]",
                f"Vacuum in the state {columns.state}: the filling of a capillary may boil or leave its seal",
                Effect.WARNING,
                (
                    Link("Pressure of the vessel", pressure.text, pressure.name),
                    Link("How far the transmitter lies below the lower tap", legs.below.text, legs.below.name),
                ),
                (Link("A filling for vacuum, welded seals, and the transmitter at or below the lower tap"),),
            )


def _interface(legs: LegsChapter) -> Iterator[Finding]:
    if not legs.interface:
        return
    yield Finding(
        "legs-interface",
        "An interface by pressure holds only while the upper tap is covered by the upper liquid",
        Effect.WARNING,
        (
            Link("Change of the difference over the whole range", legs.span.text, legs.span.name),
            Link("Uncovered, the surface is taken for the interface"),
        ),
        (Link("An overflow or a level switch that keeps the upper tap covered"),),
    )
