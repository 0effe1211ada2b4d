"""What must be said of the legs: other states, legs that fill or empty, a blanket, a vacuum, signs."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD
from onedatum.case.model.legs import THE_GAS
from onedatum.foundation.working import Entry
from onedatum.physics.media import boiling_pressure_Pa_abs
from onedatum.study.desk import Desk
from onedatum.study.legs.chapter import LegsChapter, Shown
from onedatum.study.legs.filling import FREEZES_K, Filling
from onedatum.study.legs.what_if import BY_GAS, BY_WHOLE, WhatIf
from onedatum.study.pressure import atmosphere, lowest_of_state
from onedatum.verdicts import Effect, Finding, Link

TOLD_M = 5e-4


def legs_findings(desk: Desk, legs: LegsChapter, changes: tuple[WhatIf, ...]) -> Iterator[Finding]:
    """Every finding of the legs; of an alternative beside another principle none of them stops the order."""
    chosen = desk.case.instrument.principle.word in (BY_DIFFERENCE, BY_HEAD)
    grave = Effect.BLOCKS if chosen else Effect.WARNING
    yield from _zero(legs)
    for each in legs.shown:
        yield from _other_state(legs, each)
    yield from _leg_changes(legs, changes)
    yield from _blanket(desk, changes, grave)
    yield from _not_kept(legs, grave)
    for leg in (legs.lower, legs.upper):
        if leg is not None and leg.of_water and not leg.empty:
            yield from _boils(desk, legs, leg, grave)
            yield from _freezes(desk, leg, grave)
    yield from _one_capillary(legs)
    yield from _vacuum(desk, legs)
    yield from _interface(legs)


# ---------------------------------------------------------------- signs


def _zero(legs: LegsChapter) -> Iterator[Finding]:
    """Suppressed and elevated zero, which are no reverse action."""
    first, last = legs.rows[0], legs.rows[-1]
    low, high = first.difference.value, last.difference.value
    levels = first.level.value, last.level.value
    if low is None or high is None or None in levels or low == 0.0 or high == 0.0:
        return
    if low * high < 0.0:
        title = "Zero of the difference lies inside the range: an elevated zero"
    elif low < 0.0:
        title = "Both ends of the range are negative: an elevated zero"
    else:
        title = "Both ends of the range are positive: a suppressed zero"
    with_level = (high - low) * ((levels[1] or 0.0) - (levels[0] or 0.0)) > 0.0
    direct = high > low if with_level else False
    yield Finding(
        "legs-zero",
        title,
        Effect.HOLDS,
        (
            Link("Difference at 4 mA, high side less low side", first.difference.text, first.difference.name),
            Link("Difference at 20 mA", last.difference.text, last.difference.name),
            Link(_sense(with_level, direct)),
        ),
    )


def _sense(with_level: bool, direct: bool) -> str:
    if not with_level:
        return "The difference falls as the level rises: the sides are exchanged"
    if direct:
        return "It rises with the level: direct acting, whatever the signs"
    return "It rises with the level, and 4 mA stands at the higher level: the output is reverse acting"


# ---------------------------------------------------------------- states and changes


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
    """Titles by the sign of the shift: a leg that is denser than what takes its place reads high when it empties."""
    whole = next((each for each in changes if each.key == BY_WHOLE), None)
    if whole is None or whole.shift.value is None:
        return
    dry = legs.upper is not None and legs.upper.word == THE_GAS
    word = "high" if whole.shift.value > 0.0 else "low"
    yield Finding(
        "legs-refilled",
        f"A dry leg that slowly fills reads {word}" if dry else f"A wet leg that boils off or runs out reads {word}",
        Effect.WARNING,
        tuple(
            Link(f"When {each.text}, shown too high by", each.shift.text, each.shift.name)
            for each in changes
            if each.key != BY_GAS
        ),
        (
            Link(
                "A drain pot and a drain at its foot, looked at; or a filled leg, or seals"
                if dry
                else "A pot with its level seen, filled anew after every drop of the pressure; or seals"
            ),
        ),
    )


def _blanket(desk: Desk, changes: tuple[WhatIf, ...], grave: Effect) -> Iterator[Finding]:
    """A single sensor under a blanket: it stops the order unless the error allowed holds it."""
    gas = next((each for each in changes if each.key == BY_GAS), None)
    if gas is None or gas.shift.value is None:
        return
    allowed = desk.case.wanted.error_allowed_of_level.si
    small = allowed is not None and abs(gas.shift.value) <= allowed
    yield Finding(
        "legs-gas",
        "A single sensor feels the gas over the liquid as level",
        Effect.WARNING if small else grave,
        (Link("Pressure of the gas counted as level", gas.shift.text, gas.shift.name),),
        (Link("A second tap in the gas: difference of pressures; or an open vent"),),
    )


# ---------------------------------------------------------------- fillings that do not stay


def _not_kept(legs: LegsChapter, grave: Effect) -> Iterator[Finding]:
    """Legs that empty, or fill, because nothing holds what is in them."""
    below, upper = legs.below.value, legs.upper
    if below is None:
        return
    top = legs.taps.distance.value if legs.taps is not None else None
    if below < 0.0 and not legs.lower.sealed and legs.lower.word:
        yield _drains(legs, legs.lower, grave)
    if legs.lower.word == THE_GAS and below >= 0.0 and not legs.lower.empty:
        yield Finding(
            "legs-lower-of-gas",
            "A leg of gas at the lower tap fills with the liquid",
            grave,
            (Link("How far the transmitter lies below the lower tap", legs.below.text, legs.below.name),),
            (Link("The liquid itself in it, or a filling behind a seal"),),
        )
    if upper is not None and top is not None and below < -top and not upper.sealed and upper.word not in ("", THE_GAS):
        yield _drains(legs, upper, grave)


def _drains(legs: LegsChapter, leg: Filling, grave: Effect) -> Finding:
    return Finding(
        f"legs-{leg.name}-above-tap",
        f"The transmitter stands above the {leg.name} tap: its leg is not kept full",
        grave,
        (
            Link("How far it lies below the lower tap", legs.below.text, legs.below.name),
            Link(f"What fills the {leg.name} leg", leg.word),
        ),
        (Link("The transmitter at or below the tap; or a seal with a capillary"),),
    )


def _boils(desk: Desk, legs: LegsChapter, leg: Filling, grave: Effect) -> Iterator[Finding]:
    """Water in a leg boils where its vapour presses more than the vessel does in any state, the leg at its hottest."""
    stated = leg.stated.temperature
    hottest = desk.end(stated, "high", "hottest") if stated.high is not None else desk.take(stated)
    if hottest.value is None or hottest.value < FREEZES_K or leg.sealed:
        return
    name, meaning = f"legs.boiling_pressure_{leg.name}", f"pressure at which the water in the {leg.name} leg boils"
    boils = desk.once(name, boiling_pressure_Pa_abs, shown="bar(a)", meaning=meaning, temperature_K=hottest)
    for columns in legs.columns:
        pressure = lowest_of_state(desk, columns.state, columns.condition.state)
        if pressure is not None and _less(pressure, boils):
            yield Finding(
                f"legs-{leg.name}-boils[{columns.state}]",
                f"The water in the {leg.name} leg boils off in the state {columns.state}",
                grave,
                (
                    Link("The leg may be as hot as", hottest.text, hottest.name),
                    Link("There it boils at", boils.text, boils.name),
                    Link("The vessel has", pressure.text, pressure.name),
                ),
                (Link("A cooler leg, or a filling that does not boil; fill it anew before the reading counts"),),
            )


def _freezes(desk: Desk, leg: Filling, grave: Effect) -> Iterator[Finding]:
    stated = leg.stated.temperature
    coldest = desk.end(stated, "low", "coldest") if stated.low is not None else desk.take(stated)
    if coldest.value is not None and coldest.value < FREEZES_K:
        yield Finding(
            f"legs-{leg.name}-freezes",
            f"The water in the {leg.name} leg freezes",
            grave,
            (Link("The leg may be as cold as", coldest.text, coldest.name),),
            (Link("Trace and insulate the leg, or a filling that does not freeze behind a seal"),),
        )


def _less(pressure: Entry, limit: Entry) -> bool:
    return pressure.value is not None and limit.value is not None and pressure.value < limit.value


# ---------------------------------------------------------------- capillaries, vacuum, interface


def _one_capillary(legs: LegsChapter) -> Iterator[Finding]:
    upper = legs.upper
    if upper is None or legs.lower.empty or legs.lower.sealed == upper.sealed:
        return
    sealed = legs.lower if legs.lower.sealed else upper
    yield Finding(
        "legs-one-capillary",
        "One leg is a capillary, the other is not: the height of the transmitter counts, and so does the sun",
        Effect.WARNING,
        (Link("Capillary", f"the {sealed.name} leg"),),
        (Link("Two capillaries, alike in filling, length and shade"),),
    )


def _vacuum(desk: Desk, legs: LegsChapter) -> Iterator[Finding]:
    """Below the atmosphere a capillary pulls on its seal, most where the transmitter stands high."""
    if not any(leg.sealed for leg in (legs.lower, legs.upper) if leg is not None):
        return
    for columns in legs.columns:
        pressure = lowest_of_state(desk, columns.state, columns.condition.state)
        if pressure is not None and _less(pressure, atmosphere(desk)):
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
