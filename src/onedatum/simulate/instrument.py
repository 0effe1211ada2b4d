"""A simulated instrument: from the true level to everything that can be read of it, sound or with faults."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from onedatum.case.model.legs import THE_GAS
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.loop import clamped_current_A, current_A, level_at_current_m
from onedatum.physics.pressure import refilled_leg_shift_m
from onedatum.physics.vessels import Body
from onedatum.simulate.faults import KINDS, kind
from onedatum.simulate.film import Film, film_of
from onedatum.simulate.line import Loop, loop_of
from onedatum.simulate.sensor import CHAMBER, LEGS, PROBE, STEM, Sensor, sensor_of
from onedatum.study.result import Study

FLOAT_MASS, CONDUCTIVITY, PERMITTIVITY = "instrument.float.mass", "medium.conductivity", "medium.permittivity"
CONSTANTS = (
    "instrument.float.mass",
    "float.section",
    "instrument.waveguide.speed",
    "medium.gas_above.density",
    "probe.coating",
    "probe.dry",
    "medium.permittivity",
    "medium.conductivity",
    "legs.upper_leg.density",
)
"""Entries beneath what is felt that a case may have wrong, beside the densities of the liquid."""
MOST_SETTINGS = 64
"""The last so many settings with other constants are kept."""


@dataclass(frozen=True)
class State:
    """What is true, by arrays of one shape."""

    level_m: Reals
    temperature_K: Reals
    is_rising: Reals
    """1 where the level was approached from below, 0 from above."""
    highest_m: Reals
    """The highest level since the probe was dry: up to there a film may stay."""


@dataclass(frozen=True)
class Signal:
    """What can be read, before noise; NaN where the case does not tell it."""

    told_m: Reals
    """The level by the sensor, as the instrument would show it itself."""
    current_A: Reals
    """As the milliammeter reads it."""
    voltage_V: Reals
    """On the test resistor."""
    supply_V: Reals
    """At the terminals of the transmitter."""
    shown_m: Reals
    """By the receiver."""
    volume_m3: Reals
    """By the tank table, of the level shown by the receiver."""


@dataclass(frozen=True)
class Instrument:
    """An instrument that can be read at any level."""

    sensor: Sensor
    loop: Loop
    film: Film | None
    body: Body | None
    lower_m: float
    upper_m: float
    saturation_A: tuple[float, float]
    set_m: tuple[float, float]
    """The two levels at which the sensor is set."""
    reach_m: tuple[float, float]
    """Beyond these the float does not follow, or the taps do not feel."""
    temperature_K: float
    leg: tuple[float, float, float, float] | None
    """Densities for the leg at the upper tap: as set, what comes in its place, the liquid, the gas."""
    warm: str
    """The entry of the temperature in the chamber."""
    _at_set: OrderedDict[tuple[object, ...], tuple[Reals, Reals]] = field(default_factory=OrderedDict)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The faults that this instrument can have."""
        felt = self.sensor.needed
        has = {
            "density": bool(self.sensor.densities),
            "permittivity": PERMITTIVITY in felt,
            "conductivity": CONDUCTIVITY in felt,
            "film": self.film is not None,
            "float_mass": FLOAT_MASS in felt,
            "stuck": self.sensor.kind in (STEM, CHAMBER),
            "chamber": bool(self.warm),
            "leg": self.leg is not None,
            "load": self.loop.whole,
            "resistor": bool(self.loop.test_ohm),
            "table": self.body is not None,
        }
        return tuple(each.key for each in KINDS if has.get(each.key, True))

    @property
    def constants(self) -> tuple[str, ...]:
        """What a case may have wrong, by entries: those of the sensor, then those of the loop."""
        own = [name for name in (*CONSTANTS, *self.sensor.densities) if name in self.sensor.needed]
        return (*dict.fromkeys(own), *self.loop.constants)

    def signal(
        self, state: State, faults: Mapping[str, Reals] | None = None, constants: Mapping[str, Reals] | None = None
    ) -> Signal:
        """What is read of a state with faults by size, with constants that are by a factor other than the case has.

        The instrument is set with the true constants: what it tells while it is sound does not depend on them.
        """
        sizes, of = dict(faults or {}), dict(constants or {})
        for key, size in sizes.items():
            if key not in self.kinds:
                raise QuantityError(f"one of {', '.join(self.kinds)}", repr(key), "this instrument cannot have it")
            if np.any(np.asarray(size) < kind(key).least):
                raise QuantityError(f"at least {kind(key).least:g}", f"{np.min(size):g}", f"the size of {key}")
        shape = np.broadcast_shapes(state.level_m.shape, *(np.shape(each) for each in (*sizes.values(), *of.values())))
        told_m = np.broadcast_to(self._told_m(state, sizes, of), shape)
        flows_A, supply_V = self._current_A(told_m, sizes, of)
        none = np.zeros(1)
        span_m = self.upper_m - self.lower_m
        upper_m = self.upper_m + sizes.get("receiver", none) * span_m
        shown_m = np.asarray(level_at_current_m(flows_A, self.lower_m, upper_m))
        return Signal(
            told_m,
            flows_A * (1.0 + sizes.get("milliammeter", none)),
            self.loop.on_resistor_V(flows_A, sizes.get("resistor", none), of),
            supply_V,
            shown_m,
            self._volume_m3(shown_m) * (1.0 + sizes.get("table", none)),
        )

    # ------------------------------------------------------------ the sensor

    def _told_m(self, state: State, sizes: Mapping[str, Reals], of: Mapping[str, Reals]) -> Reals:
        low, high = self._set(of)
        level_m = np.clip(state.level_m, *self.reach_m)
        if self.film is not None and "film" in sizes:
            level_m = level_m + self.film.adds_m(state.highest_m - level_m, state.is_rising, sizes["film"], of)
        felt = self._felt(level_m, state.temperature_K, sizes, of)
        told_m = self.set_m[0] + (felt - low) / (high - low) * (self.set_m[1] - self.set_m[0])
        if self.leg is not None and "leg" in sizes:
            told_m = told_m + np.asarray(refilled_leg_shift_m(sizes["leg"], *self.leg))
        if "stuck" in sizes:
            told_m = np.broadcast_to(sizes["stuck"], np.broadcast_shapes(told_m.shape, sizes["stuck"].shape))
        return told_m + sizes.get("datum", np.zeros(1))

    def _set(self, of: Mapping[str, Reals]) -> tuple[Reals, Reals]:
        """What is felt at the two levels of the setting, in the liquid that it is set for."""
        key = tuple((name, np.shape(factor), np.asarray(factor).tobytes()) for name, factor in of.items())
        found = self._at_set.pop(key, None)
        if found is None:
            both = {name: np.asarray(factor)[..., None] for name, factor in of.items()}
            felt = self._felt(np.array(self.set_m), None, {}, both)
            found = felt[..., 0], felt[..., 1]
        self._at_set[key] = found
        if len(self._at_set) > MOST_SETTINGS:
            self._at_set.popitem(last=False)
        return found

    def _felt(
        self, level_m: Reals, temperature_K: Reals | None, sizes: Mapping[str, Reals], of: Mapping[str, Reals]
    ) -> Reals:
        warm_K = np.full(1, self.temperature_K) if temperature_K is None else temperature_K
        factors = {name: np.asarray(of[name]) for name in self.constants if name in of and name in self.sensor.needed}
        one = np.ones(1)
        if "density" in sizes:
            for name in self.sensor.densities:
                factors[name] = factors.get(name, one) * (1.0 + sizes["density"])
        for key, name in (("float_mass", FLOAT_MASS), ("permittivity", PERMITTIVITY)):
            if key in sizes:
                factors[name] = factors.get(name, one) * (1.0 + sizes[key])
        if "conductivity" in sizes:
            factors[CONDUCTIVITY] = factors.get(CONDUCTIVITY, one) * 10.0 ** -sizes["conductivity"]
        moves = {self.warm: sizes["chamber"]} if "chamber" in sizes else {}
        return self.sensor.felt(level_m, warm_K, factors, moves)

    # ------------------------------------------------------------ the loop and the receiver

    def _current_A(self, told_m: Reals, sizes: Mapping[str, Reals], of: dict[str, Reals]) -> tuple[Reals, Reals]:
        """What flows and what is left at the terminals; the trim shifts the ends of the signal as well."""
        none = np.zeros(1)
        lower_m = self.lower_m + sizes.get("lower", none)
        upper_m = self.upper_m + sizes.get("upper", none)
        line_A = np.asarray(current_A(told_m, lower_m, upper_m))
        sent_A = np.where(np.isnan(line_A), np.nan, clamped_current_A(line_A, *self.saturation_A))
        sent_A = 0.004 + (1.0 + sizes.get("gain", none)) * (sent_A - 0.004) + sizes.get("zero", none)
        return self.loop.carried(np.maximum(sent_A, 0.0), sizes.get("load", none), of)

    def _volume_m3(self, level_m: Reals) -> Reals:
        if self.body is None:
            return np.full_like(level_m, np.nan)
        inside_m = np.clip(np.nan_to_num(level_m), float(self.body.low_m), float(self.body.high_m))
        return np.where(np.isnan(level_m), np.nan, np.asarray(self.body.volume_below_m3(inside_m)))


def instrument_of(study: Study) -> Instrument | None:
    """The instrument of a study; None while its range, its sensor or the temperature of the liquid is unknown."""
    sensor = sensor_of(study)
    lower_m, upper_m = study.value("range.4 mA"), study.value("range.20 mA")
    low_A, high_A = study.value("range.saturation.low"), study.value("range.saturation.high")
    if sensor is None or lower_m is None or upper_m is None or low_A is None or high_A is None or lower_m == upper_m:
        return None
    temperature_K = study.value(sensor.temperature) if sensor.temperature else study.now.temperature.value
    body = study.vessel.body.whole if study.vessel is not None else None
    warm = _warm(study, sensor)
    return Instrument(
        sensor,
        loop_of(study),
        film_of(study) if sensor.kind == PROBE else None,
        body if isinstance(body, Body) else None,
        lower_m,
        upper_m,
        (low_A, high_A),
        _set_m(study, sensor, lower_m, upper_m),
        _reach_m(study, sensor),
        293.15 if temperature_K is None else temperature_K,
        _leg(study, sensor),
        warm,
    )


def _set_m(study: Study, sensor: Sensor, lower_m: float, upper_m: float) -> tuple[float, float]:
    low_m, high_m = study.value("probe.set_low"), study.value("probe.set_high")
    if sensor.kind == PROBE and low_m is not None and high_m is not None and low_m != high_m:
        return low_m, high_m
    return lower_m, upper_m


def _reach_m(study: Study, sensor: Sensor) -> tuple[float, float]:
    """Ends of what a float follows or taps feel; a probe has its own in its chain."""
    levels = study.measuring.levels
    low_m = levels.now_lowest.value if levels is not None else None
    high_m = levels.now_highest.value if levels is not None else None
    if sensor.kind == PROBE or low_m is None or high_m is None or not low_m < high_m:
        return -np.inf, np.inf
    return low_m, high_m


def _leg(study: Study, sensor: Sensor) -> tuple[float, float, float, float] | None:
    legs = study.measuring.legs
    if sensor.kind != LEGS or legs is None or legs.upper is None or legs.set_for.upper_leg is None:
        return None
    set_ = legs.set_for
    upper, liquid, gas = (each.value for each in (legs.set_for.upper_leg, set_.liquid, set_.gas))
    if upper is None or liquid is None or gas is None or legs.upper.sealed:
        return None
    return upper, liquid if legs.upper.word == THE_GAS else gas, liquid, gas


def _warm(study: Study, sensor: Sensor) -> str:
    """The entry of the temperature in the chamber, where its density rests on one of its own."""
    name = f"chamber.density[{study.now.name}]"
    if sensor.kind != CHAMBER or name not in sensor.needed:
        return ""
    own = study.sheet[name].inputs.get("temperature_K")
    return "" if own is None or own.name == sensor.temperature else own.name
