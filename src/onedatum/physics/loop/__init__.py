"""The two-wire loop: level and current, supply and voltage left for the transmitter, cable."""

from onedatum.physics.loop.cable import (
    CoreResistance,
    TemperatureCoefficient,
    copper_temperature_coefficient,
    core_resistance,
)
from onedatum.physics.loop.signal import (
    clamped_current_A,
    current_A,
    current_margin_A,
    level_at_current_m,
    signal_voltage_V,
    span_share,
)
from onedatum.physics.loop.supply import (
    cable_resistance_ohm,
    largest_barrier_ohm,
    last_good_current_A,
    loop_resistance_ohm,
    source_voltage_V,
    terminal_voltage_V,
    voltage_margin_V,
)

__all__ = [
    "CoreResistance",
    "TemperatureCoefficient",
    "cable_resistance_ohm",
    "clamped_current_A",
    "copper_temperature_coefficient",
    "core_resistance",
    "current_A",
    "current_margin_A",
    "largest_barrier_ohm",
    "last_good_current_A",
    "level_at_current_m",
    "loop_resistance_ohm",
    "signal_voltage_V",
    "source_voltage_V",
    "span_share",
    "terminal_voltage_V",
    "voltage_margin_V",
]
