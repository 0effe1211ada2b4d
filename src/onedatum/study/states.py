"""Chapter states: the operating conditions of the case with the coldest and the hottest added, the liquid in each."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.liquid import FITTED, OperatingState
from onedatum.foundation.working import Entry
from onedatum.physics.media.ethanol import ethanol_mass_fraction, ethanol_water_density_kg_per_m3
from onedatum.physics.media.water import water_density_kg_per_m3
from onedatum.study.desk import Desk

COLDEST, HOTTEST = "coldest", "hottest"
OWN_STATE = "normal"


@dataclass(frozen=True)
class Condition:
    """One state: its name, whether the instrument is fitted in it, its liquid."""

    name: str
    fitted: bool
    density: Entry
    temperature: Entry
    own_liquid: bool
    """Whether the liquid is the medium of the case, not one that stands in for it."""


@dataclass(frozen=True)
class StatesChapter:
    """The conditions, the first of them being the one that quantities are stated for."""

    conditions: tuple[Condition, ...]
    mass_fraction: Entry | None

    @property
    def now(self) -> Condition:
        """The condition of the medium at its normal temperature."""
        return self.conditions[0]

    @property
    def fitted(self) -> tuple[Condition, ...]:
        """Conditions of the medium itself in which the instrument measures."""
        return tuple(each for each in self.conditions if each.fitted and each.own_liquid)

    @property
    def stand_ins(self) -> tuple[Condition, ...]:
        """Conditions with another liquid in which the instrument is fitted, such as a setting in the works."""
        return tuple(each for each in self.conditions if each.fitted and not each.own_liquid)


def states_chapter(desk: Desk) -> StatesChapter:
    """Work the liquid in every state."""
    fraction = None
    if desk.case.medium.kind.word == "ethanol-water":
        strength = desk.take(desk.case.medium.strength, "%vol")
        fraction = desk.calc("medium.mass_fraction", ethanol_mass_fraction, strength=strength)
    own = [state for state in desk.case.states if not _stands_in(state)]
    others = [state for state in desk.case.states if _stands_in(state)]
    stated: list[OperatingState | None] = [*own] or [None]
    conditions = [each for state in stated for each in _with_ends(desk, state, fraction)]
    conditions += [_stand_in(desk, state) for state in others]
    return StatesChapter(tuple(conditions), fraction)


def _stands_in(state: OperatingState) -> bool:
    return state.medium.kind.known or state.medium.kind.state == "faulty"


def _with_ends(desk: Desk, state: OperatingState | None, fraction: Entry | None) -> list[Condition]:
    """A state of the medium, and its coldest and hottest; the first state has their plain names."""
    name = state.name.text if state and state.name.known else OWN_STATE
    fitted = state is None or state.instrument.word in (FITTED, "")
    first = "medium.temperature" not in desk.sheet
    temperature = desk.take(desk.case.medium.temperature)
    found = [Condition(name, fitted, _density(desk, name, temperature, fraction), temperature, True)]
    for which, end in (("low", COLDEST), ("high", HOTTEST)):
        label = end if first else f"{name}, {end}"
        extreme = desk.end(desk.case.medium.temperature, which, label)
        if extreme is not None:
            found.append(Condition(label, fitted, _density(desk, label, extreme, fraction), extreme, True))
    return found


def _density(desk: Desk, state: str, temperature: Entry, fraction: Entry | None) -> Entry:
    name, meaning = f"medium.density[{state}]", f"density of the liquid, {state}"
    match desk.case.medium.kind.word:
        case "ethanol-water" if fraction is not None:
            return desk.calc(
                name,
                ethanol_water_density_kg_per_m3,
                meaning=meaning,
                mass_fraction=fraction,
                temperature_K=temperature,
            )
        case "water":
            return desk.calc(name, water_density_kg_per_m3, meaning=meaning, temperature_K=temperature)
    return desk.take(desk.case.medium.density)


def _stand_in(desk: Desk, state: OperatingState) -> Condition:
    temperature = desk.take(state.medium.temperature)
    if state.medium.kind.word == "water":
        name = f"medium.density[{state.name.text}]"
        meaning = f"density of the liquid, {state.name.text}"
        density = desk.calc(name, water_density_kg_per_m3, meaning=meaning, temperature_K=temperature)
    else:
        density = desk.take(state.medium.density)
    return Condition(state.name.text, state.instrument.word == FITTED, density, temperature, False)
