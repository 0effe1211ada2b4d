"""What fills the two legs of a transmitter, and how dense it is in every state."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.legs import STATED, THE_GAS, THE_LIQUID, WATER, Leg
from onedatum.case.model.liquid import BOILING_WATER, STATED_DENSITY
from onedatum.case.model.liquid import WATER as WATER_ITSELF
from onedatum.foundation.working import Entry
from onedatum.physics.media import (
    expanded_density_kg_per_m3,
    pressed_water_density_kg_per_m3,
    water_density_kg_per_m3,
)
from onedatum.study.desk import Desk
from onedatum.study.liquid import Liquid
from onedatum.study.pressure import pressure_of_state
from onedatum.study.states import Condition

FREEZES_K = 273.16
"""Water that is colder stands as ice in its leg."""
ENDS = {"low": "coldest", "high": "hottest"}


@dataclass(frozen=True)
class Filling:
    """One leg."""

    desk: Desk
    liquid: Liquid
    name: str
    """Which leg, as the case calls it: lower or upper."""
    stated: Leg
    empty: bool = False
    """Whether it has no height, so that nothing of it counts."""
    of_interface: bool = False
    """Whether an interface is measured: what stands at its tap is then one of two liquids."""

    @property
    def word(self) -> str:
        """What fills it."""
        return self.stated.filling.word

    @property
    def sealed(self) -> bool:
        """Whether a seal keeps its filling where it is."""
        self.desk.read.add(self.stated.capillary.path)
        return self.stated.capillary.word == "yes"

    @property
    def of_water(self) -> bool:
        """Whether water stands in it, which freezes and boils."""
        kind = self.desk.case.medium.kind.word
        own = self.word == THE_LIQUID and kind in (BOILING_WATER, WATER_ITSELF) and not self.of_interface
        return self.word == WATER or own

    def density(self, condition: Condition, itself: Entry) -> Entry:
        """How dense it is in a state; `itself` is the density of the liquid at its tap."""
        if self.empty and not self.stated.filling.known:
            return itself
        word = self.desk.word(self.stated.filling, f"what the {self.name} leg weighs")
        if word == THE_GAS:
            return condition.gas
        if word == THE_LIQUID:
            return self._of_liquid(condition, itself)
        if word == WATER:
            return self._of_water(condition, self.desk.take(self.stated.temperature))
        if word == STATED:
            return self._stated()
        name, filling = self._called(condition), self.stated.filling
        return self.desk.sheet.give(name, None, "kg_per_m3", f"density in the {self.name} leg", path=filling.path)

    def at_end(self, condition: Condition, which: str) -> Entry | None:
        """How dense it is at the low or high end of its temperature; None where that is no range, or moves nothing."""
        stated, medium = self.stated.temperature, self.desk.case.medium
        if (stated.low if which == "low" else stated.high) is None or self.empty:
            return None
        temperature = self.desk.end(stated, which, ENDS[which])
        if self.of_water:
            frozen = temperature.value is not None and temperature.value < FREEZES_K
            return None if frozen else self._of_water(condition, temperature, f", {ENDS[which]}")
        if self.word == STATED and self.stated.expansion.known:
            return self._expanded(temperature, f"[{ENDS[which]}]")
        if self.word == THE_LIQUID and not self.of_interface and self.liquid.function is not None:
            name = f"legs.{self.name}_density_itself[{ENDS[which]}]"
            if name in self.desk.sheet:
                return self.desk.sheet[name]
            meaning = f"density of the {medium.kind.word} in the {self.name} leg, {ENDS[which]}"
            return self.liquid.density(self.desk, name, meaning, temperature)
        return None

    def _called(self, condition: Condition, more: str = "") -> str:
        return f"legs.{self.name}_density[{condition.name}{more}]"

    def _of_liquid(self, condition: Condition, itself: Entry) -> Entry:
        """The liquid itself, as warm as the leg; where that is not stated it is asked, and counted as in the vessel."""
        medium, temperature = self.desk.case.medium, self.stated.temperature
        if self.of_interface:
            return itself
        if not temperature.known:
            even = medium.kind.word == STATED_DENSITY and not medium.expansion.known
            if not even and not self.empty:
                self.desk.want(temperature, f"what the {self.name} leg weighs: it is seldom as warm as the vessel")
            return itself
        if self.of_water:
            return self._of_water(condition, self.desk.take(temperature))
        name, meaning = self._called(condition), f"density in the {self.name} leg, {condition.name}"
        return self.liquid.density(self.desk, name, meaning, self.desk.take(temperature))

    def _of_water(self, condition: Condition, temperature: Entry, more: str = "") -> Entry:
        """Water under the pressure of the vessel; in the open under the atmosphere; unknown where it is ice."""
        desk, name = self.desk, self._called(condition, more)
        meaning = f"density of the water in the {self.name} leg, {condition.name}{more}"
        if temperature.value is not None and temperature.value < FREEZES_K:
            if name in desk.sheet:
                return desk.sheet[name]
            return desk.sheet.give(name, None, "kg_per_m3", meaning, path=self.stated.temperature.path)
        pressure = pressure_of_state(desk, condition.name, condition.state)
        if pressure is None:
            return desk.once(name, water_density_kg_per_m3, meaning=meaning, temperature_K=temperature)
        return desk.once(
            name, pressed_water_density_kg_per_m3, meaning=meaning, temperature_K=temperature, pressure_Pa_abs=pressure
        )

    def _stated(self) -> Entry:
        """One density, brought to the temperature of the leg; where that is stated, its expansion is asked."""
        leg = self.stated
        warm = leg.temperature.known and leg.expansion.state != "none"
        if warm and not leg.expansion.known:
            self.desk.want(leg.expansion, f"how much the filling of the {self.name} leg changes with its temperature")
        return self._expanded(self.desk.take(leg.temperature), "") if warm and leg.expansion.known else self._plain()

    def _plain(self) -> Entry:
        self.desk.read.update(
            leaf.path for leaf in (self.stated.temperature, self.stated.density_at, self.stated.expansion)
        )
        return self.desk.take(self.stated.density)

    def _expanded(self, temperature: Entry, more: str) -> Entry:
        return self.desk.once(
            f"legs.{self.name}_density{more}",
            expanded_density_kg_per_m3,
            meaning=f"density in the {self.name} leg{more and ', ' + temperature.text}",
            reference_density_kg_per_m3=self.desk.take(self.stated.density),
            expansion_per_K=self.desk.take(self.stated.expansion),
            reference_temperature_K=self.desk.take(self.stated.density_at),
            temperature_K=temperature,
        )
