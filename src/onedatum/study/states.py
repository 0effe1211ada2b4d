"""Chapter states: the operating conditions of the case with the ends of temperature and density added to each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count

from onedatum.case.leaf import Value
from onedatum.case.model.liquid import BOILING_WATER, FITTED, STATED_DENSITY, OperatingState
from onedatum.case.states import OWN_STATE
from onedatum.foundation.working import Entry
from onedatum.physics.media import boiling_point_K, saturated_steam_density_kg_per_m3
from onedatum.study.desk import Desk, Want
from onedatum.study.liquid import Liquid, liquid_of, stand_in_density
from onedatum.study.pressure import pressure_of_state

COLDEST, HOTTEST = "coldest", "hottest"
DENSEST, LIGHTEST = "densest", "lightest"
ENDS = 2


@dataclass(frozen=True)
class Condition:
    """One state: its name, whether the instrument is fitted in it, its liquid."""

    name: str
    fitted: bool
    density: Entry
    temperature: Entry
    own_liquid: bool
    """Whether the liquid is the medium of the case, not one that stands in for it."""
    gas: Entry
    """Density of what stands above the liquid."""
    state: OperatingState | None = None
    """As the case states it; None where it states none."""


@dataclass(frozen=True)
class StatesChapter:
    """The conditions, the first of them being the one that quantities are stated for."""

    conditions: tuple[Condition, ...]
    liquid: Liquid
    """The medium of the case."""

    @property
    def now(self) -> Condition:
        """The condition quantities are stated for: the first of the medium in which the instrument is fitted."""
        return (*self.fitted, *self.conditions)[0]

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
    liquid = liquid_of(desk)
    names = Names()
    own = [state for state in desk.case.states if not _stands_in(state)]
    others = [state for state in desk.case.states if _stands_in(state)]
    stated: list[OperatingState | None] = [*own] or [None]
    conditions = [each for state in stated for each in _with_ends(desk, state, liquid, names)]
    conditions += [_stand_in(desk, state, names) for state in others]
    if not any(each.fitted and each.own_liquid for each in conditions):
        title = "a state of the liquid itself in which the instrument is fitted"
        desk.wants["states"] = Want(title, "process", "what can be measured, and every quantity")
    return StatesChapter(tuple(conditions), liquid)


class Names:
    """Names of conditions, none given twice."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def new(self, wanted: str) -> str:
        """The name wanted, with a number behind it if it is taken."""
        name = next(name for name in _numbered(wanted) if name not in self._taken)
        self._taken.add(name)
        return name


def _numbered(wanted: str) -> Iterator[str]:
    yield wanted
    yield from (f"{wanted} ({number})" for number in count(2))


def _stands_in(state: OperatingState) -> bool:
    """Whether the state has a liquid of its own in place of the medium."""
    return state.medium.kind.state != "unknown" or state.medium.density.state != "unknown"


def _fitted(desk: Desk, state: OperatingState | None) -> bool:
    """Whether limits apply; where it is not said they do, and it is asked."""
    if state is None:
        return True
    word = desk.word(state.instrument, f"whether the limits of the instrument hold in the state {_name(state)}")
    return word in (FITTED, "")


def _name(state: OperatingState | None) -> str:
    return state.name.text if state and state.name.known else OWN_STATE


def _with_ends(desk: Desk, state: OperatingState | None, liquid: Liquid, names: Names) -> list[Condition]:
    """A state of the medium, and its coldest and hottest where its temperature is a range."""
    medium = desk.case.medium
    stated = medium.temperature
    if state is not None and state.medium.temperature.state != "unknown":
        stated = state.medium.temperature
    first = "medium.temperature" not in desk.sheet and stated is medium.temperature
    name, fitted = names.new(_name(state)), _fitted(desk, state)
    temperature = _temperature(desk, name, stated, state)
    if not fitted:
        none = _not_worked(desk, name)
        return [Condition(name, fitted, none, temperature, True, none, state)]
    found = [_condition(desk, name, liquid, temperature, state)]
    if medium.kind.word == STATED_DENSITY and not medium.expansion.known:
        return [*found, *_with_densities(desk, found[0], stated, names, first)]
    for which, end in (("low", COLDEST), ("high", HOTTEST)):
        if (stated.low if which == "low" else stated.high) is None:
            continue
        label = names.new(end if first else f"{name}, {end}")
        found.append(_condition(desk, label, liquid, desk.end(stated, which, label), state))
    return found


def _with_densities(desk: Desk, usual: Condition, temperature: Value, names: Names, first: bool) -> Iterator[Condition]:
    """The liquid at its lightest and at its densest, where its one density is a range.

    Warm liquid is light: where the temperature is a range too, the lightest is taken as the hottest.
    """
    density = desk.case.medium.density
    if density.low is None and density.high is None:
        _want_densities(desk, temperature)
        return
    for end, heavy, warm, warmth in (
        (DENSEST, density.high, temperature.low, COLDEST),
        (LIGHTEST, density.low, temperature.high, HOTTEST),
    ):
        if heavy is None and warm is None:
            continue
        label = names.new(end if first else f"{usual.name}, {end}")
        rho, at = usual.density, usual.temperature
        if heavy is not None:
            rho = desk.end(density, "high" if end == DENSEST else "low", end)
        if warm is not None:
            at = desk.end(temperature, "low" if end == DENSEST else "high", warmth if first else f"{label}, {warmth}")
        yield replace(usual, name=label, density=rho, temperature=at)


def _condition(desk: Desk, name: str, liquid: Liquid, temperature: Entry, state: OperatingState | None) -> Condition:
    """A condition of the medium in which the instrument is fitted."""
    gas = _gas(desk, name, state, temperature)
    return Condition(name, True, _density(desk, name, liquid, temperature), temperature, True, gas, state)


def _temperature(desk: Desk, name: str, stated: Value, state: OperatingState | None) -> Entry:
    """As stated for the state; of boiling water that of its pressure, where the state says that alone."""
    boils = desk.case.medium.kind.word == BOILING_WATER
    of_state = state is not None and stated is state.medium.temperature
    pressure = pressure_of_state(desk, name, state) if boils and not of_state else None
    if pressure is None or (stated.known and (state is None or not state.pressure.known)):
        return desk.take(stated)
    desk.read.add(stated.path)
    meaning = f"temperature of the boiling water, {name}"
    return desk.calc(f"medium.temperature[{name}]", boiling_point_K, meaning=meaning, pressure_Pa_abs=pressure)


def _gas(desk: Desk, name: str, state: OperatingState | None, temperature: Entry) -> Entry:
    """What stands above the liquid: as stated for the state or the case; over boiling water its steam."""
    if state is not None and state.medium.gas_density.state != "unknown":
        return desk.take(state.medium.gas_density, none=0.0)
    above = desk.case.medium.gas_above.density
    own = state is None or not _stands_in(state)
    if own and above.state == "unknown" and desk.case.medium.kind.word == BOILING_WATER:
        desk.read.add(above.path)
        name, meaning = f"medium.gas_density[{name}]", f"density of the steam, {name}"
        return desk.calc(name, saturated_steam_density_kg_per_m3, meaning=meaning, temperature_K=temperature)
    return desk.take(above)


def _density(desk: Desk, state: str, liquid: Liquid, temperature: Entry) -> Entry:
    return liquid.density(desk, f"medium.density[{state}]", f"density of the liquid, {state}", temperature)


def _want_densities(desk: Desk, temperature: Value) -> None:
    """One density holds at one temperature: at the ends of the range it must be stated, in states of their own."""
    elsewhere = [state for state in desk.case.states if state.medium.density.known]
    if len(elsewhere) < ENDS and (temperature.low is not None or temperature.high is not None):
        title = "density of the liquid at its coldest and its hottest: as a range of medium.density, or in a state each"
        desk.wants["medium.density.range"] = Want(title, "process", "where the float rides, and whether it floats")


def _not_worked(desk: Desk, name: str) -> Entry:
    """The density of a state in which no instrument measures is not worked; nothing waits for it."""
    return desk.sheet.record(
        f"medium.density[{name}]",
        None,
        "kg_per_m3",
        f"density of the liquid, {name}",
        method="not worked: no instrument measures in this state",
        source="case",
        rests_on=[],
    )


def _stand_in(desk: Desk, state: OperatingState, names: Names) -> Condition:
    name = names.new(_name(state))
    temperature = desk.take(state.medium.temperature)
    if not _fitted(desk, state):
        none = _not_worked(desk, name)
        desk.read.update(leaf.path for leaf in state.medium.leaves())
        return Condition(name, False, none, temperature, False, none, state)
    desk.word(state.medium.kind, f"the density of the liquid, {name}")
    density = stand_in_density(desk, f"medium.density[{name}]", f"density of the liquid, {name}", state, temperature)
    return Condition(name, True, density, temperature, False, _gas(desk, name, state, temperature), state)
