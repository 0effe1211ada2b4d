"""What fills the two legs of a transmitter, and how dense it is in every state."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.legs import STATED, THE_GAS, THE_LIQUID, WATER, Leg
from onedatum.case.model.liquid import BOILING_WATER
from onedatum.case.model.liquid import WATER as WATER_ITSELF
from onedatum.foundation.errors import Fault
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

    @property
    def word(self) -> str:
        """What fills it."""
        return self.stated.filling.word

    def density(self, condition: Condition) -> Entry:
        """How dense it is in a state."""
        if self.empty and not self.stated.filling.known:
            return condition.density
        word = self.desk.word(self.stated.filling, f"what the {self.name} leg weighs")
        if word == THE_GAS:
            return condition.gas
        if word == THE_LIQUID:
            return self._of_liquid(condition)
        if word == WATER:
            return self._of_water(condition, self._temperature())
        if word == STATED:
            return self._lighter_refused(condition, self._stated())
        name, filling = self._called(condition), self.stated.filling
        return self.desk.sheet.give(name, None, "kg_per_m3", f"density in the {self.name} leg", path=filling.path)

    def at_end(self, condition: Condition, which: str) -> Entry | None:
        """How dense it is at the low or high end of its temperature; None where that is no range, or moves nothing."""
        stated = self.stated.temperature
        if (stated.low if which == "low" else stated.high) is None:
            return None
        temperature = self.desk.end(stated, which, {"low": "coldest", "high": "hottest"}[which])
        if self.word == WATER:
            return self._of_water(condition, temperature, f", {temperature.text}")
        if self.word == STATED and self.stated.expansion.known:
            return self._expanded(temperature, f"[{temperature.text}]")
        return None

    def _called(self, condition: Condition, more: str = "") -> str:
        return f"legs.{self.name}_density[{condition.name}{more}]"

    def _temperature(self) -> Entry:
        return self.desk.take(self.stated.temperature)

    def _of_liquid(self, condition: Condition) -> Entry:
        """The liquid itself, as warm as the leg where that is stated, else as in the vessel."""
        if not self.stated.temperature.known:
            return condition.density
        if self.desk.case.medium.kind.word in (BOILING_WATER, WATER_ITSELF):
            return self._of_water(condition, self._temperature())
        name, meaning = self._called(condition), f"density in the {self.name} leg, {condition.name}"
        return self.liquid.density(self.desk, name, meaning, self._temperature())

    def _of_water(self, condition: Condition, temperature: Entry, more: str = "") -> Entry:
        """Water under the pressure of the vessel; in the open under the atmosphere."""
        desk, name = self.desk, self._called(condition, more)
        meaning = f"density of the water in the {self.name} leg, {condition.name}{more}"
        pressure = pressure_of_state(desk, condition.name, condition.state)
        if pressure is None:
            return desk.once(name, water_density_kg_per_m3, meaning=meaning, temperature_K=temperature)
        return desk.once(
            name, pressed_water_density_kg_per_m3, meaning=meaning, temperature_K=temperature, pressure_Pa_abs=pressure
        )

    def _stated(self) -> Entry:
        if self.stated.expansion.known and self.stated.temperature.known:
            return self._expanded(self._temperature(), "")
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

    def _lighter_refused(self, condition: Condition, density: Entry) -> Entry:
        """A filling lighter than the gas above the liquid would rise out of its leg."""
        if density.value is None or condition.gas.value is None or density.value > condition.gas.value:
            return density
        stated = self.stated.density
        allowed = f"above the density of the gas, {condition.gas.text} in the state {condition.name}"
        if stated.path not in {fault.path for fault in self.desk.faults}:
            why = "a filling that is lighter than the gas rises out of its leg"
            self.desk.faults.append(Fault(stated.path, allowed, stated.text, why, stated.place))
        return density
