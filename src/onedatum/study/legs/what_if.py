"""What legs that change make of the level: they warm, fill, boil off or run out; and the gas over a single sensor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.model.case import US_CUSTOMARY
from onedatum.case.model.legs import THE_GAS
from onedatum.foundation.working import Entry
from onedatum.physics.magnetostrictive import error_size_m
from onedatum.physics.pressure import (
    gas_pressure_shift_m,
    legs_shift_m,
    one_leg_shift_m,
    over_atmosphere_Pa,
    refilled_leg_shift_m,
    upper_leg_height_m,
)
from onedatum.study.desk import Desk
from onedatum.study.legs.chapter import Columns, LegsChapter
from onedatum.study.legs.filling import ENDS, Filling
from onedatum.study.pressure import gas_pressures

METRE_M, FOOT_M = 1.0, 0.3048
BY_PART, BY_WHOLE, BY_GAS = "by_part", "by_whole", "by_gas"


@dataclass(frozen=True)
class WhatIf:
    """One thing that may happen, and by how much the level is then shown too high."""

    text: str
    shift: Entry
    key: str
    judged: bool = False
    """Whether it is held against the error allowed: it comes with the weather, not with a fault."""


def what_ifs(desk: Desk, legs: LegsChapter) -> tuple[WhatIf, ...]:
    """Everything that can be said of these legs."""
    return (*_gas(desk, legs), *_refilled(desk, legs), *_warmed(desk, legs))


def within_allowed(desk: Desk, legs: LegsChapter, changes: tuple[WhatIf, ...]) -> None:
    """What warmth and other states make of the level against the error allowed: told, as it can be corrected."""
    allowed = desk.case.wanted.error_allowed_of_level
    if not allowed.known:
        return
    own = {each.state for each in legs.columns if each.condition.own_liquid}
    moved = [(f"_leg[{each.key}]", f"when {each.text}", each.shift) for each in changes if each.judged]
    moved += [(f"[{each.state}]", f"in the state {each.state}", each.error) for each in legs.shown if each.state in own]
    for ending, when, shift in moved:
        size = desk.calc(
            f"legs.size{ending}", error_size_m, shown="mm", meaning=f"size of: {shift.meaning}", error_m=shift
        )
        told = f"the error allowed is kept {when}", f"More than the error allowed {when}"
        limit, name = desk.take(allowed, "mm"), f"legs.left{ending}"
        desk.compare_apart(
            f"legs-error{ending}", told, size, "at most", limit, name, "error allowed less this", remark=True
        )


# ---------------------------------------------------------------- the gas over a single sensor


def _gas(desk: Desk, legs: LegsChapter) -> Iterator[WhatIf]:
    """A sensor with one tap feels the gas above the liquid, at its highest."""
    if legs.taps is not None:
        return
    words, gauge = gas_pressures(desk)[-1]
    if not gauge.value:
        return
    felt = desk.once(f"{gauge.name}.as_difference", over_atmosphere_Pa, shown=legs.unit, pressure_Pa_gauge=gauge)
    shift = desk.calc(
        "legs.shift_by_gas",
        gas_pressure_shift_m,
        shown="mm",
        gas_difference_Pa=felt,
        liquid_density_kg_per_m3=legs.set_for.liquid,
        gravity_m_per_s2=legs.gravity,
    )
    yield WhatIf(f"a single sensor stands {words}", shift, BY_GAS)


# ---------------------------------------------------------------- legs that fill or empty


def _refilled(desk: Desk, legs: LegsChapter) -> Iterator[WhatIf]:
    """A dry leg fills with condensate or liquid; a wet one boils off or runs out: a part of it, and all of it."""
    leg, upper = legs.upper, legs.set_for.upper_leg
    if leg is None or upper is None or legs.taps is None or leg.word == "" or leg.sealed:
        return
    height = desk.calc(
        "legs.upper_leg_height", upper_leg_height_m, shown="mm", tap_distance_m=legs.taps.distance, below_m=legs.below
    )
    if height.value is None or height.value <= 0.0:
        return
    dry = leg.word == THE_GAS
    verb, whole = ("fills with the liquid", "full of the liquid") if dry else ("boils off or runs out", "empty")
    us = desk.case.print_units.word == US_CUSTOMARY
    metres, called = (FOOT_M, "a foot") if us else (METRE_M, "a metre")
    if height.value > metres:
        part = desk.constant(
            "legs.part", metres, "m", f"{called} of a leg", shown="ft" if us else "m", source="derived"
        )
        yield _of_column(desk, legs, BY_PART, f"{called} of the leg at the upper tap {verb}", part)
    yield _of_column(desk, legs, BY_WHOLE, f"the whole leg at the upper tap is {whole}", height)


def _of_column(desk: Desk, legs: LegsChapter, key: str, text: str, column: Entry) -> WhatIf:
    set_, dry = legs.set_for, legs.upper is not None and legs.upper.word == THE_GAS
    inputs = {
        "column_m": column,
        "leg_density_set_kg_per_m3": set_.upper_leg or set_.gas,
        "leg_density_kg_per_m3": set_.liquid if dry else set_.gas,
        "liquid_density_kg_per_m3": set_.liquid,
        "gas_density_kg_per_m3": set_.gas,
    }
    meaning = f"shown too high, when {text}"
    return WhatIf(
        text, desk.worked(f"legs.shift_{key}", refilled_leg_shift_m, inputs, shown="mm", meaning=meaning), key
    )


# ---------------------------------------------------------------- legs that warm


def _warmed(desk: Desk, legs: LegsChapter) -> Iterator[WhatIf]:
    """Each leg at the ends of its temperature, and both together; alike capillaries are judged together only."""
    set_ = legs.set_for
    for which, word in ENDS.items():
        lower = legs.lower.at_end(set_.condition, which)
        upper = legs.upper.at_end(set_.condition, which) if legs.upper is not None else None
        together = lower is not None and upper is not None
        alike = together and _alike(legs.lower, legs.upper)
        if lower is not None:
            yield _moved(
                desk, legs, f"lower, {word}", f"the leg at the lower tap is at its {word}", (lower, None), not alike
            )
        if upper is not None:
            yield _moved(
                desk, legs, f"upper, {word}", f"the leg at the upper tap is at its {word}", (None, upper), not alike
            )
        if together:
            yield _moved(desk, legs, f"both, {word}", f"both legs are at their {word}", (lower, upper), True)


def _alike(lower: Filling, upper: Filling | None) -> bool:
    """Whether both are capillaries: they are run side by side, so that one warmth meets both."""
    return upper is not None and lower.sealed and upper.sealed


def _moved(
    desk: Desk, legs: LegsChapter, key: str, text: str, now: tuple[Entry | None, Entry | None], judged: bool
) -> WhatIf:
    set_, meaning = legs.set_for, f"shown too high, when {text}"
    lower, upper = now[0] or set_.lower_leg, now[1] or set_.upper_leg
    name = f"legs.shift[{key}]"
    if legs.taps is None or upper is None or set_.upper_leg is None:
        inputs = {
            "below_m": legs.below,
            "leg_set_kg_per_m3": set_.lower_leg,
            "leg_kg_per_m3": lower,
            "liquid_density_kg_per_m3": set_.liquid,
        }
        return WhatIf(text, desk.worked(name, one_leg_shift_m, inputs, shown="mm", meaning=meaning), key, judged)
    return WhatIf(text, _two_legs(desk, legs, set_, (name, meaning), (lower, upper)), key, judged)


def _two_legs(desk: Desk, legs: LegsChapter, set_: Columns, called: tuple[str, str], now: tuple[Entry, Entry]) -> Entry:
    name, meaning = called
    inputs = {
        "tap_distance_m": legs.taps.distance if legs.taps is not None else legs.below,
        "below_m": legs.below,
        "lower_leg_set_kg_per_m3": set_.lower_leg,
        "lower_leg_kg_per_m3": now[0],
        "upper_leg_set_kg_per_m3": set_.upper_leg or set_.gas,
        "upper_leg_kg_per_m3": now[1],
        "liquid_density_kg_per_m3": set_.liquid,
        "gas_density_kg_per_m3": set_.gas,
    }
    return desk.worked(name, legs_shift_m, inputs, shown="mm", meaning=meaning)
