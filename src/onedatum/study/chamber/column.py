"""What stands in the chamber in every state: how warm and how dense it is, and its level beside that of the vessel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.case.leaf import Value
from onedatum.case.model.chamber import ColumnTemperature
from onedatum.case.model.liquid import BOILING_WATER, STATED_DENSITY, WATER
from onedatum.foundation.errors import Fault
from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry
from onedatum.physics.bypass import (
    Column,
    Thermometers,
    chamber_level_m,
    column_density_kg_per_m3,
    column_factor,
    halfway_temperature_K,
    line_shift_m,
    profile_temperature_K,
    profiled_chamber_level_m,
    profiled_vessel_level_m,
    three_point_mean_density_kg_per_m3,
    vessel_level_m,
)
from onedatum.physics.media import (
    boiling_point_K,
    boiling_pressure_Pa_abs,
    column_water_density_kg_per_m3,
    pressed_water_density_kg_per_m3,
)
from onedatum.study.desk import Desk
from onedatum.study.liquid import Liquid
from onedatum.study.pressure import pressure_of_state
from onedatum.study.states import Condition

PRESSED = (BOILING_WATER, WATER)
"""Liquids whose density in the chamber follows from temperature and pressure."""


LEVEL_LINE = "not spoken of: the lower line counted as level"
NO_SHIFT = "shift of the level in the chamber by its lower line"
LEVEL_NOW = "chamber.level_now"
"""The level now above the lower tap, which the columns are worked at."""


@dataclass(frozen=True)
class Standing:
    """The chamber in one state of the vessel."""

    condition: Condition
    temperature: Entry
    """Where the float rides: the mean, or that of the surface."""
    density: Entry
    """There."""
    factor: Entry | None = None
    """Level in the chamber over level in the vessel; None with thermometers along the chamber."""
    shift: Entry | None = None
    column: Entry | None = None

    @property
    def state(self) -> str:
        """The name of the state."""
        return self.condition.name

    def chamber_level(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """The level in the chamber at a level in the vessel, both above the lower tap."""
        if self.factor is not None and self.shift is not None:
            inputs = {"level_m": level, "factor": self.factor, "shift_m": self.shift}
            return desk.worked(name, chamber_level_m, inputs, shown="mm", meaning=meaning)
        return desk.worked(
            name, profiled_chamber_level_m, {"level_m": level, **self._weights}, shown="mm", meaning=meaning
        )

    def vessel_level(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """The level in the vessel at a level in the chamber."""
        if self.factor is not None and self.shift is not None:
            inputs = {"chamber_level_m": level, "factor": self.factor, "shift_m": self.shift}
            return desk.worked(name, vessel_level_m, inputs, shown="mm", meaning=meaning)
        inputs = {"chamber_level_m": level, **self._weights}
        return desk.worked(name, profiled_vessel_level_m, inputs, shown="mm", meaning=meaning)

    @property
    def _weights(self) -> dict[str, Entry]:
        weights = {"liquid_density_kg_per_m3": self.condition.density, "gas_density_kg_per_m3": self.condition.gas}
        return weights if self.column is None else {**weights, "column": self.column}


@dataclass(frozen=True)
class Surroundings:
    """What the columns of all states share."""

    desk: Desk
    liquid: Liquid

    def standing(self, condition: Condition) -> Standing:
        """The chamber in one state; where another liquid stands in for the medium, it fills both alike."""
        if not condition.own_liquid:
            return self._even(condition, condition.temperature, condition.density)
        stated = self._stated(condition)
        if stated.along.state != "unknown":
            return self._measured(condition, stated)
        if stated.bottom.known or stated.surface.known:
            return self._between(condition, stated)
        temperature = self._below_boiling(condition, stated.mean)
        density = self._density(condition, f"chamber.density[{condition.name}]", temperature, "density in the chamber")
        return self._even(condition, temperature, density)

    # ------------------------------------------------------------ three ways to know the temperature

    def _stated(self, condition: Condition) -> ColumnTemperature:
        """As the state says it; else as the chamber says for every state."""
        state = condition.state
        if state is not None and any(leaf.state != "unknown" for leaf in state.chamber_temperature.leaves()):
            return state.chamber_temperature
        everywhere = self.desk.case.chamber.temperature
        spoken = any(leaf.state != "unknown" for leaf in everywhere.leaves())
        return everywhere if spoken or state is None else state.chamber_temperature

    def _even(
        self, condition: Condition, temperature: Entry, density: Entry, rides_in: Entry | None = None
    ) -> Standing:
        """One mean density for the column; `rides_in` is that at its surface, where it is another."""
        desk, name = self.desk, condition.name
        factor = desk.calc(
            f"chamber.factor[{name}]",
            column_factor,
            meaning=f"level in the chamber over level in the vessel, {name}",
            liquid_density_kg_per_m3=condition.density,
            chamber_density_kg_per_m3=density,
            gas_density_kg_per_m3=condition.gas,
        )
        shift = self._shift(condition, density)
        return Standing(condition, temperature, rides_in or density, factor, shift)

    def _between(self, condition: Condition, stated: ColumnTemperature) -> Standing:
        """Even change from the bottom to the surface: the mean of the density, not the density of the mean."""
        desk, name = self.desk, condition.name
        bottom, surface = (self._below_boiling(condition, leaf) for leaf in (stated.bottom, stated.surface))
        mean, meaning = f"chamber.density[{name}]", f"mean density of the column in the chamber, {name}"
        at_surface = self._density(condition, f"chamber.surface_density[{name}]", surface, "density at the surface")
        pressure = self._pressure(condition)
        if pressure is not None:
            inputs = {"bottom_temperature_K": bottom, "surface_temperature_K": surface, "pressure_Pa_abs": pressure}
            density = desk.worked(mean, column_water_density_kg_per_m3, inputs, meaning=meaning)
        else:
            ends = {"bottom_temperature_K": bottom, "surface_temperature_K": surface}
            halfway = desk.worked(f"chamber.halfway[{name}]", halfway_temperature_K, ends)
            places = (("bottom", bottom), ("middle", halfway))
            below = [
                self._density(condition, f"chamber.{at}_density[{name}]", t, f"density at the {at}") for at, t in places
            ]
            density = desk.calc(
                mean,
                three_point_mean_density_kg_per_m3,
                meaning=meaning,
                bottom_density_kg_per_m3=below[0],
                middle_density_kg_per_m3=below[1],
                surface_density_kg_per_m3=at_surface,
            )
        return self._even(condition, surface, density, at_surface)

    def _measured(self, condition: Condition, stated: ColumnTemperature) -> Standing:
        """Thermometers along the chamber; the float rides in what stands at the surface."""
        desk, name = self.desk, condition.name
        held = stated.along.path in desk.sheet
        rows = (
            desk.sheet[stated.along.path]
            if held
            else desk.held(stated.along, Thermometers, ("height", "temperature"), "thermometers along the chamber")
        )
        column = desk.sheet.hold(
            f"chamber.column[{name}]",
            None if self._row_too_hot(condition, stated) else self._column(condition, rows.whole),
            f"densities along the chamber, {name}",
            state="computed",
            path=stated.along.path,
            note="worked at the temperatures of the thermometers and between them",
        )
        level = desk.sheet[LEVEL_NOW]
        standing = Standing(condition, condition.temperature, condition.density, column=column)
        at = standing.chamber_level(desk, f"chamber.surface[{name}]", level, f"surface in the chamber, {name}")
        density = desk.calc(
            f"chamber.density[{name}]",
            column_density_kg_per_m3,
            meaning=f"density at the surface in the chamber, {name}",
            height_m=at,
            column=column,
        )
        temperature = desk.calc(
            f"chamber.temperature[{name}]",
            profile_temperature_K,
            meaning=f"temperature at the surface in the chamber, {name}",
            height_m=at,
            thermometers=rows,
        )
        return Standing(condition, temperature, density, column=column)

    def moved_levels(self, standing: Standing, level_m: float) -> tuple[Reals, Reals] | None:
        """The level in the chamber with each thermometer up and down by its standard uncertainty.

        None where none of them states one.
        """
        stated = self._stated(standing.condition).along
        rows = self.desk.sheet[stated.path].whole if stated.path in self.desk.sheet else None
        known = [row.temperature.uncertainty for row in stated.items]
        if not isinstance(rows, Thermometers) or not any(known):
            return None
        liquid, gas = standing.condition.density.value, standing.condition.gas.value
        moved: tuple[list[float], list[float]] = ([], [])
        for number, uncertainty in enumerate(known):
            for sign, levels in zip((1.0, -1.0), moved, strict=True):
                kelvin = rows.temperatures_K.copy()
                kelvin[number] += sign * (uncertainty.standard if uncertainty is not None else 0.0)
                column = self._column(standing.condition, Thermometers(rows.heights_m, kelvin))
                if column is None or liquid is None or gas is None:
                    return None
                levels.append(float(profiled_chamber_level_m(level_m, liquid, gas, column)))
        return np.array(moved[0]), np.array(moved[1])

    def _column(self, condition: Condition, thermometers: object) -> Column | None:
        """The density at every node, by the law of the liquid."""
        pressure = self._pressure(condition)
        if not isinstance(thermometers, Thermometers):
            return None
        inputs = {
            key: entry.whole if entry.whole is not None else entry.value for key, entry in self.liquid.inputs.items()
        }
        law, fixed = self.liquid.function, inputs
        if pressure is not None:
            law, fixed = pressed_water_density_kg_per_m3, {"pressure_Pa_abs": pressure.value}
        if law is None or any(value is None for value in fixed.values()):
            return None
        _, kelvin = thermometers.nodes()
        ends = thermometers.temperatures_K[[0, -1]]
        return Column(
            thermometers.heights_m,
            np.asarray(law(temperature_K=kelvin, **fixed)),
            np.asarray(law(temperature_K=ends, **fixed)),
        )

    # ------------------------------------------------------------ densities

    def _density(self, condition: Condition, name: str, temperature: Entry, words: str) -> Entry:
        desk, meaning = self.desk, f"{words}, {condition.name}"
        pressure = self._pressure(condition)
        if pressure is not None:
            inputs = {"temperature_K": temperature, "pressure_Pa_abs": pressure}
            return desk.worked(name, pressed_water_density_kg_per_m3, inputs, meaning=meaning)
        medium = desk.case.medium
        if medium.kind.word == STATED_DENSITY and not medium.expansion.known:
            desk.want(medium.expansion, "how much denser the liquid is in the chamber than in the vessel")
        return self.liquid.density(desk, name, meaning, temperature)

    def _pressure(self, condition: Condition) -> Entry | None:
        """The pressure that water stands under, above vacuum; None for other liquids, and for water in the open."""
        desk, kind = self.desk, self.desk.case.medium.kind.word
        if kind not in PRESSED:
            return None
        found = pressure_of_state(desk, condition.name, condition.state)
        if found is not None or kind == WATER:
            return found
        name, meaning = f"medium.boiling_pressure[{condition.name}]", f"pressure of the steam, {condition.name}"
        return desk.once(
            name, boiling_pressure_Pa_abs, shown="bar(a)", meaning=meaning, temperature_K=condition.temperature
        )

    def _shift(self, condition: Condition, density: Entry) -> Entry:
        """What a lower line that is not level makes: it holds liquid of its own temperature."""
        desk, chamber, name = self.desk, self.desk.case.chamber, condition.name
        rise = desk.absent(chamber.lower_line_rise, LEVEL_LINE, "mm")
        if not rise.value or not condition.own_liquid:
            return desk.constant("chamber.no_shift", 0.0, "m", NO_SHIFT, shown="mm", note="none", source="derived")
        line = self._density(
            condition,
            f"chamber.line_density[{name}]",
            desk.take(chamber.lower_line_temperature),
            "density in the lower line",
        )
        return desk.calc(
            f"chamber.line_shift[{name}]",
            line_shift_m,
            shown="mm",
            meaning=f"shift of the level in the chamber by its lower line, {name}",
            line_rise_m=rise,
            line_density_kg_per_m3=line,
            chamber_density_kg_per_m3=density,
            gas_density_kg_per_m3=condition.gas,
        )

    # ------------------------------------------------------------ never hotter than boiling

    def _boiling(self, condition: Condition) -> Entry | None:
        desk = self.desk
        if desk.case.medium.kind.word == BOILING_WATER:
            return condition.temperature
        pressure = self._pressure(condition)
        if pressure is None:
            return None
        name, meaning = f"chamber.boiling_point[{condition.name}]", f"boiling point in the chamber, {condition.name}"
        return desk.once(name, boiling_point_K, meaning=meaning, pressure_Pa_abs=pressure)

    def _below_boiling(self, condition: Condition, stated: Value) -> Entry:
        """A temperature of the column; hotter than boiling it is a fault, and what rests on it stays unknown."""
        boiling, entry = self._boiling(condition), self.desk.take(stated)
        if not self._too_hot(stated, boiling):
            return entry
        name = f"chamber.too_hot[{condition.name}][{stated.path}]"
        return self.desk.sheet.give(name, None, "K", stated.title, path=stated.path, place=stated.place)

    def _row_too_hot(self, condition: Condition, stated: ColumnTemperature) -> bool:
        """Whether a thermometer tells more than boiling; each of them is a fault."""
        boiling = self._boiling(condition)
        hot = [self._too_hot(row.temperature, boiling) for row in stated.along.items]
        return any(hot)

    def _too_hot(self, stated: Value, boiling: Entry | None) -> bool:
        if boiling is None or boiling.value is None or stated.si is None or stated.si <= boiling.value + 1e-6:
            return False
        fault = Fault(
            stated.path,
            f"at most {boiling.text}, the boiling point under the pressure of the vessel",
            stated.text,
            "hotter than that the chamber boils empty",
            stated.place,
        )
        if fault.path not in {each.path for each in self.desk.faults}:
            self.desk.faults.append(fault)
        return True
