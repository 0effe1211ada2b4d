"""Laws of permittivity: of the medium by its kind, of a pure liquid, of a mixture, of grain with air and moisture."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from onedatum.case.leaf import Leaf, Text, Value
from onedatum.case.model.liquid import BOILING_WATER, ETHANOL_WATER, PETROLEUM, WATER
from onedatum.case.model.mixture import BIND, KEEP_APART
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.media import (
    ethanol_mass_fraction,
    ethanol_water_permittivity,
    fitted_half_width,
    fitted_permittivity,
    liquid_named,
    liquid_permittivity,
    lowered_permittivity,
    mixture_permittivity,
    mixture_permittivity_half_width,
    petroleum_permittivity,
    petroleum_permittivity_half_width,
    raised_permittivity,
    unmixed_volume_share,
    volume_linear_half_width,
    volume_linear_permittivity,
    warmed_mixture_half_width,
    warmed_mixture_permittivity,
    water_permittivity,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.bulk import bulk_contradiction
from onedatum.study.probe.called import GRAIN, LIQUID

ETHANOL_CAS, WATER_CAS = "64-17-5", "7732-18-5"
T20_K, ETHANOL_20_KG_PER_M3, WATER_20_KG_PER_M3 = 293.15, 789.24, 998.20


@dataclass(frozen=True)
class At:
    """The liquid in one condition: how its entries are called, its warmth, and what of it is other than stated."""

    label: str
    """Empty for the liquid in which the probe is set."""
    text: str
    temperature: Entry
    density: Entry
    gas: Entry
    """Relative permittivity of what stands between grains."""
    fraction: Entry | None = None
    """Mass of ethanol in the mass of the mixture."""
    other: Mapping[str, Entry] = field(default_factory=dict)
    """In place of what is stated, by path."""
    with_ends: bool = False
    called: str = LIQUID
    """What the medium is called: grain is no liquid."""

    def named(self, name: str) -> str:
        """The name of an entry in this condition."""
        return f"{name}[{self.label}]" if self.label else name

    def of(self, desk: Desk, leaf: Value, shown: str = "") -> Entry:
        """What is stated, or what stands in its place in this condition."""
        return self.other[leaf.path] if leaf.path in self.other else desk.take(leaf, shown)


@dataclass(frozen=True)
class Spread:
    """A permittivity, and as low and as high as it may be where that is known."""

    value: Entry
    least: Entry | None = None
    greatest: Entry | None = None

    @property
    def low(self) -> Entry:
        """The least, or the value where it has no width."""
        return self.least or self.value

    @property
    def high(self) -> Entry:
        """The greatest, or the value where it has no width."""
        return self.greatest or self.value


Law = Callable[[Desk, At, str], Spread]
"""From the desk, the condition and the name of the result."""


def law_of(desk: Desk) -> Law | None:
    """The law that gives the permittivity of the medium; None where there is none."""
    medium = desk.case.medium
    if any(leaf.known for leaf in medium.bulk.leaves()):
        return _bulk
    if any(leaf.known for leaf in medium.mixture.leaves()):
        return _mixed
    return _alone(desk)


def _alone(desk: Desk) -> Law | None:
    """Of the medium without what is mixed in: a name comes before the kind."""
    medium = desk.case.medium
    return _substance if medium.substance.known else _BY_KIND.get(medium.kind.word)


# ---------------------------------------------------------------- one liquid


def _water(desk: Desk, at: At, name: str) -> Spread:
    inputs = {"temperature_K": at.temperature, "density_kg_per_m3": at.density}
    return Spread(desk.worked(at.named(name), water_permittivity, inputs, meaning=_meaning(at)))


def _petroleum(desk: Desk, at: At, name: str) -> Spread:
    inputs = {"density_kg_per_m3": at.density}
    value = desk.worked(at.named(name), petroleum_permittivity, inputs, meaning=_meaning(at))
    return _around(desk, at, name, value, petroleum_permittivity_half_width, inputs)


def _ethanol_water(desk: Desk, at: At, name: str) -> Spread:
    """The table at 20 degC; elsewhere with what each of the two brings by its warmth."""
    fraction, tabled = at.fraction, at.named(f"{name}_20_degC")
    if desk.case.medium.strength.path in at.other:
        strength = at.other[desk.case.medium.strength.path]
        fraction = desk.calc(at.named(f"{name}_fraction"), ethanol_mass_fraction, shown="%mass", strength=strength)
    if fraction is None:
        raise ValueError("a mixture of ethanol and water has a strength")
    at_20 = desk.calc(tabled, ethanol_water_permittivity, mass_fraction=fraction)
    share = desk.calc(
        at.named(f"{name}_ethanol_share"),
        unmixed_volume_share,
        shown="%vol",
        meaning="volume of ethanol in the volumes before mixing",
        mass_fraction=fraction,
        added_density_kg_per_m3=_at_20(desk, "ethanol", ETHANOL_20_KG_PER_M3),
        base_density_kg_per_m3=_at_20(desk, "water", WATER_20_KG_PER_M3),
    )
    cold = desk.constant("medium.temperature_of_table", T20_K, "K", "temperature of the table", source="akerlof-1932")
    inputs = {"reference_permittivity": at_20, "share": share}
    for parameter, cas in (("added", ETHANOL_CAS), ("base", WATER_CAS)):
        inputs[f"{parameter}_permittivity"] = _part(desk, at, name, cas, at.temperature)
        inputs[f"{parameter}_reference_permittivity"] = _part(desk, None, name, cas, cold)
    value = desk.worked(at.named(name), warmed_mixture_permittivity, inputs, meaning=_meaning(at))
    about = {"relative_permittivity": value, "reference_permittivity": at_20}
    return _around(desk, at, name, value, warmed_mixture_half_width, about)


def _at_20(desk: Desk, word: str, density: float) -> Entry:
    name = f"medium.{word}_density_20_degC"
    return desk.constant(name, density, "kg_per_m3", f"density of {word} at 20 degC", source="oiml-r22")


def _part(desk: Desk, at: At | None, name: str, cas: str, temperature: Entry) -> Entry:
    """Ethanol or water alone, at the temperature of the condition or of the table."""
    liquid = liquid_permittivity(cas)
    word = liquid.name.lower()
    held = f"medium.handbook_{word}"
    whole = desk.sheet[held] if held in desk.sheet else desk.sheet.hold(held, liquid, liquid.name, state="constant")
    where, at_text = (at.named(f"{name}_{word}"), at.text) if at else (f"{name}_{word}_20_degC", "at 20 degC")
    meaning = f"relative permittivity of {word} alone, {at_text}"
    return desk.once(where, fitted_permittivity, meaning=meaning, temperature_K=temperature, liquid=whole)


def _substance(desk: Desk, at: At, name: str) -> Spread:
    return named_liquid(desk, at, name, desk.case.medium.substance)


def named_liquid(desk: Desk, at: At, name: str, leaf: Text) -> Spread:
    """A pure liquid by the handbook, within its range; what the handbook contradicts itself by is its width."""
    inputs = {"temperature_K": at.temperature, "liquid": held_liquid(desk, leaf)}
    value = desk.worked(at.named(name), fitted_permittivity, inputs, meaning=_meaning(at))
    return _around(desk, at, name, value, fitted_half_width, inputs)


def held_liquid(desk: Desk, leaf: Text) -> Entry:
    """What the handbook says of the liquid named; a name that it does not know is a fault, and no other is taken."""
    desk.read.add(leaf.path)
    if leaf.path in desk.sheet:
        return desk.sheet[leaf.path]
    liquid = None
    if leaf.known:
        try:
            liquid = liquid_named(leaf.text)
        except QuantityError as error:
            desk.faults.append(Fault(leaf.path, error.allowed, error.got, error.why, leaf.place, error.remedy))
    return desk.sheet.hold(leaf.path, liquid, leaf.title, path=leaf.path, place=leaf.place, note=leaf.note)


_BY_KIND: Mapping[str, Law] = {
    WATER: _water,
    BOILING_WATER: _water,
    PETROLEUM: _petroleum,
    ETHANOL_WATER: _ethanol_water,
}


# ---------------------------------------------------------------- mixtures


def _mixed(desk: Desk, at: At, name: str) -> Spread:
    """The medium with another liquid in it: by volumes where they bind, by the spread of the rules where not."""
    mixture = desk.case.medium.mixture
    bind = desk.word(mixture.bind, "by which rule the two liquids mix")
    share = at.of(desk, mixture.share, "%vol")
    added = _added(desk, at)
    law = _alone(desk)
    if law is None:
        base = Spread(_asked(desk, at, desk.case.medium.substance))
    else:
        base = law(desk, at, "medium.base_permittivity")
    if bind == BIND:
        return _joined(desk, at, name, _BY_VOLUME, {"share": share}, (added, base))
    if bind == KEEP_APART:
        return _joined(desk, at, name, _BY_RULES, {"inclusion_share": share}, (added, base))
    return Spread(_not_known(desk, at.named(name), mixture.bind))


def _added(desk: Desk, at: At) -> Spread:
    mixture = desk.case.medium.mixture
    if mixture.other_permittivity.known:
        desk.skip(mixture.other)
        return Spread(desk.take(mixture.other_permittivity))
    desk.skip(mixture.other_permittivity)
    return named_liquid(desk, at, "medium.mixture.other_permittivity_worked", mixture.other)


def _bulk(desk: Desk, at: At, name: str) -> Spread:
    """Water in the grain, then the moist grain in air; each time by the spread of the rules."""
    bulk = desk.case.medium.bulk
    water = _part(desk, at, "medium.bulk", WATER_CAS, at.temperature)
    dense = _at_20(desk, "water", WATER_20_KG_PER_M3)
    share = desk.calc(
        at.named("medium.bulk.water_share"),
        unmixed_volume_share,
        shown="%vol",
        meaning="volume of the water in the volume of the moist grain",
        mass_fraction=at.of(desk, bulk.moisture, "%mass"),
        added_density_kg_per_m3=dense,
        base_density_kg_per_m3=desk.take(bulk.solid_density),
    )
    dry = Spread(desk.take(bulk.solid_permittivity))
    moist = replace(at, called=GRAIN)
    grain = _joined(
        desk, moist, "medium.bulk.grain_permittivity", _BY_RULES, {"inclusion_share": share}, (Spread(water), dry)
    )
    packing = at.of(desk, bulk.packing, "%vol")
    if at.with_ends:
        bulk_contradiction(desk, dense)
    return _joined(desk, at, name, _BY_RULES, {"inclusion_share": packing}, (grain, Spread(at.gas)))


@dataclass(frozen=True)
class _Rule:
    """How two mix: the value, its half width, and what the formulas call the two."""

    value: Callable[..., Any]
    half_width: Callable[..., Any]
    called: tuple[str, str]


_BY_RULES = _Rule(
    mixture_permittivity, mixture_permittivity_half_width, ("inclusion_permittivity", "host_permittivity")
)
_BY_VOLUME = _Rule(volume_linear_permittivity, volume_linear_half_width, ("added_permittivity", "base_permittivity"))


def _joined(
    desk: Desk, at: At, name: str, rule: _Rule, share: Mapping[str, Entry], two: tuple[Spread, Spread]
) -> Spread:
    """Two that mix; the ends are those of the rules with each of the two at its own end."""
    inputs = {**share, **dict(zip(rule.called, (each.value for each in two), strict=True))}
    value = desk.worked(at.named(name), rule.value, inputs, meaning=_meaning(at))
    if not at.with_ends:
        return Spread(value)
    if all(each.least is None for each in two):
        return _around(desk, at, name, value, rule.half_width, inputs)
    ends = []
    for word, moved, picked in (
        ("least", lowered_permittivity, [each.low for each in two]),
        ("greatest", raised_permittivity, [each.high for each in two]),
    ):
        there = {**share, **dict(zip(rule.called, picked, strict=True))}
        meaning = f"{_meaning(at)}, its parts at their {word}"
        middle = desk.worked(at.named(f"{name}_{word}_parts"), rule.value, there, meaning=meaning)
        width = desk.worked(at.named(f"{name}_{word}_half_width"), rule.half_width, there)
        about = {"relative_permittivity": middle, "half_width": width}
        ends.append(desk.worked(at.named(f"{name}_{word}"), moved, about))
    return Spread(value, *ends)


def _around(
    desk: Desk, at: At, name: str, value: Entry, half_width: Callable[..., Any], inputs: Mapping[str, Entry]
) -> Spread:
    """A value with the ends that its half width gives, where they are asked for."""
    if not at.with_ends:
        return Spread(value)
    width = desk.worked(at.named(f"{name}_half_width"), half_width, inputs)
    if width.value == 0.0:
        return Spread(value)
    return ends_around(desk, at.named(name), value, width)


def ends_around(desk: Desk, name: str, value: Entry, width: Entry) -> Spread:
    """A value with its ends."""
    about = {"relative_permittivity": value, "half_width": width}
    least = desk.worked(f"{name}_least", lowered_permittivity, about)
    return Spread(value, least, desk.worked(f"{name}_greatest", raised_permittivity, about))


def _meaning(at: At) -> str:
    return f"relative permittivity of the {at.called}, {at.text}"


def _asked(desk: Desk, at: At, leaf: Leaf) -> Entry:
    desk.want(leaf, "the permittivity of the liquid")
    return _not_known(desk, at.named("medium.base_permittivity"), leaf)


def _not_known(desk: Desk, name: str, leaf: Leaf) -> Entry:
    return desk.sheet.give(name, None, "", leaf.title, path=leaf.path, place=leaf.place)
