"""The temperature that standard volumes are stated at, and the density at it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from onedatum.case.model.liquid import (
    ETHANOL_WATER,
    NET_STANDARD,
    PETROLEUM,
    REFERENCE_VOLUME,
    STATED_DENSITY,
    WATER,
)
from onedatum.case.model.statement import AT_15_DEGC, AT_20_DEGC, AT_60_DEGF
from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.study.liquid import Liquid

REFERENCES_K: Mapping[str, float] = {AT_15_DEGC: 288.15, AT_20_DEGC: 293.15, AT_60_DEGF: 459.67 / 1.8 + 60.0 / 1.8}
"""The reference temperatures of the trade."""
_EVERYWHERE = (ETHANOL_WATER, PETROLEUM, WATER)
"""Liquids whose law reaches to every reference temperature."""


@dataclass(frozen=True)
class At:
    """A reference temperature in words, and the density of the liquid at it."""

    text: str
    density: Entry


def standard_temperature(desk: Desk, liquid: Liquid) -> tuple[At | None, At | None]:
    """What standard volumes are stated at, and 20 degC for alcohol; None where there is none, or none is stated."""
    alcohol = _at(desk, liquid, AT_20_DEGC) if liquid.mass_fraction is not None else None
    stated, kind = desk.case.quantity.reference_temperature, desk.case.medium.kind.word
    desk.read.add(stated.path)
    if stated.word:
        return (alcohol if alcohol and stated.word == AT_20_DEGC else _at(desk, liquid, stated.word)), alcohol
    if alcohol is not None:
        return alcohol, alcohol
    if kind == STATED_DENSITY and desk.case.medium.density_at.state != "unknown":
        return At(desk.take(desk.case.medium.density_at).text, desk.take(desk.case.medium.density)), None
    if kind == PETROLEUM or desk.case.wanted.of.word in (REFERENCE_VOLUME, NET_STANDARD):
        desk.want(stated, "what standard volumes are stated at")
    return None, None


def other_references(desk: Desk, liquid: Liquid, reference: At | None) -> list[At]:
    """The other reference temperatures of the trade, where the law of the liquid reaches to them."""
    if reference is None or desk.case.medium.kind.word not in _EVERYWHERE:
        return []
    return [_at(desk, liquid, word) for word in REFERENCES_K if word != reference.text]


def _at(desk: Desk, liquid: Liquid, word: str) -> At:
    name = f"medium.density_at[{word}]"
    if name in desk.sheet:
        return At(word, desk.sheet[name])
    return At(word, liquid.density(desk, name, f"density of the liquid at {word}", temperature_at(desk, word)))


def temperature_at(desk: Desk, word: str) -> Entry:
    """A reference temperature as an entry of the sheet."""
    return desk.constant(
        f"quantity.temperature[{word}]",
        REFERENCES_K[word],
        "K",
        f"reference temperature {word}",
        source="oiml-r22" if word == AT_20_DEGC else "iso-5024",
    )
