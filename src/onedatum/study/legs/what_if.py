"""What a leg that changes makes of the level: it warms, it fills, it boils off; and what a blanket makes of one tap."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.legs import STATED, THE_GAS, WATER
from onedatum.foundation.working import Entry
from onedatum.physics.magnetostrictive import error_size_m
from onedatum.physics.pressure import (
    gas_pressure_shift_m,
    low_leg_shift_m,
    refilled_leg_shift_m,
    upper_leg_height_m,
)
from onedatum.study.desk import Desk
from onedatum.study.legs.chapter import LegsChapter
from onedatum.study.pressure import gauge_pressure

METRE_M = 1.0
ENDS = {"low": "coldest", "high": "hottest"}


@dataclass(frozen=True)
class WhatIf:
    """One thing that may happen, and by how much the level is then shown too high."""

    text: str
    shift: Entry
    key: str


def within_allowed(desk: Desk, legs: LegsChapter, changes: tuple[WhatIf, ...]) -> None:
    """What warmth and other states make of the level against the error allowed: told, as it can be corrected."""
    allowed = desk.case.wanted.error_allowed_of_level
    if not allowed.known:
        return
    moved = [(f"leg {each.key}", each.text, each.shift) for each in changes if each.key in ENDS.values()]
    own = {each.state for each in legs.columns if each.condition.own_liquid}
    moved += [(each.state, f"in the state {each.state}", each.error) for each in legs.shown if each.state in own]
    for key, text, shift in moved:
        size = desk.calc(
            f"legs.size[{key}]", error_size_m, shown="mm", meaning=f"size of: {shift.meaning}", error_m=shift
        )
        told = f"the error allowed is kept {_when(text)}", f"More than the error allowed {_when(text)}"
        limit, name = desk.take(allowed, "mm"), f"legs.left[{key}]"
        desk.compare_apart(
            f"legs-error[{key}]", told, size, "at most", limit, name, "error allowed less this", remark=True
        )


def _when(text: str) -> str:
    return text if text.startswith("in the state") else f"when {text}"


def what_ifs(desk: Desk, legs: LegsChapter) -> tuple[WhatIf, ...]:
    """Everything that can be said of these legs."""
    if legs.taps is None or legs.upper is None or legs.set_for.upper_leg is None:
        return tuple(_one_tap(desk, legs))
    return (*_refilled(desk, legs), *_warmed(desk, legs))


def _one_tap(desk: Desk, legs: LegsChapter) -> list[WhatIf]:
    """A sensor with one tap feels the gas above the liquid."""
    if not desk.case.pressure.operating.known:
        return []
    pressure = gauge_pressure(desk)
    if not pressure.value:
        return []
    inputs = {
        "liquid_density_kg_per_m3": legs.set_for.liquid,
        "gravity_m_per_s2": desk.take(desk.case.site.g),
    }
    blanket = desk.sheet.give(
        "legs.gas_pressure",
        pressure.value,
        "Pa",
        "pressure of the gas over the liquid, above the atmosphere",
        state="computed",
        shown=legs.unit,
        note=f"of {pressure.name}",
    )
    shift = desk.worked("legs.shift_by_gas", gas_pressure_shift_m, {"gas_difference_Pa": blanket, **inputs}, shown="mm")
    return [WhatIf("the gas over the liquid is not taken off", shift, "gas")]


def _refilled(desk: Desk, legs: LegsChapter) -> list[WhatIf]:
    """A dry leg fills with condensate or liquid; a wet one boils off or runs out: by the metre, and all of it."""
    leg, upper = legs.upper, legs.set_for.upper_leg
    if leg is None or upper is None or legs.taps is None or leg.word not in (THE_GAS, WATER, STATED):
        return []
    if leg.stated.capillary.word == "yes":
        return []
    dry = leg.word == THE_GAS
    instead = legs.set_for.liquid if dry else legs.set_for.gas
    verb, whole = ("fills with the liquid", "full") if dry else ("boils off or runs out", "empty")
    height = desk.calc(
        "legs.upper_leg_height", upper_leg_height_m, shown="mm", tap_distance_m=legs.taps.distance, below_m=legs.below
    )
    metre = desk.constant("legs.one_metre", METRE_M, "m", "one metre of a leg", shown="m", source="derived")
    return [
        WhatIf(text, _shift(desk, legs, f"legs.shift_{key}", text, (column, upper, instead)), key)
        for text, key, column in (
            (f"a metre of the leg at the upper tap {verb}", "by_metre", metre),
            (f"the whole leg at the upper tap is {whole}", "by_whole", height),
        )
    ]


def _shift(desk: Desk, legs: LegsChapter, name: str, text: str, change: tuple[Entry, Entry, Entry]) -> Entry:
    column, set_, instead = change
    return desk.calc(
        name,
        refilled_leg_shift_m,
        shown="mm",
        meaning=f"shown too high, when {text}",
        column_m=column,
        leg_density_set_kg_per_m3=set_,
        leg_density_kg_per_m3=instead,
        liquid_density_kg_per_m3=legs.set_for.liquid,
        gas_density_kg_per_m3=legs.set_for.gas,
    )


def _warmed(desk: Desk, legs: LegsChapter) -> list[WhatIf]:
    """The leg at the ends of its temperature."""
    leg, upper, taps, found = legs.upper, legs.set_for.upper_leg, legs.taps, []
    if leg is None or upper is None or taps is None:
        return []
    for which, word in ENDS.items():
        density = leg.at_end(legs.set_for.condition, which)
        if density is None:
            continue
        text = f"the leg at the upper tap is at its {word}"
        shift = desk.calc(
            f"legs.shift_{word}",
            low_leg_shift_m,
            shown="mm",
            meaning=f"shown too high, when {text}",
            tap_distance_m=taps.distance,
            below_m=legs.below,
            leg_density_set_kg_per_m3=upper,
            leg_density_kg_per_m3=density,
            liquid_density_kg_per_m3=legs.set_for.liquid,
            gas_density_kg_per_m3=legs.set_for.gas,
        )
        found.append(WhatIf(text, shift, word))
    return found
