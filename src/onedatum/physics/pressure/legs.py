"""Level by pressure: what stands in the vessel and in the legs, summed on both sides of the transmitter.

Heights count from the lower tap: h the level, H the distance of the taps, e how far the transmitter lies below the
lower tap (negative: above it). The high side is connected at the lower tap. What the gas above the liquid presses, both
sides feel alike; it cancels.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = ("h", "level above the lower tap", "[-10, 200]")
_DISTANCE = ("H", "distance of the taps", "(0, 200]")
_BELOW = ("e", "how far the transmitter lies below the lower tap", "[-200, 200]")
_LIQUID = ("rho", "density of the liquid; at an interface that of the lower one", "[0, 20000]")
_GAS = ("rho_v", "density of the gas above; at an interface that of the upper liquid", "[0, 20000]")
_HIGH_LEG = ("rho_hl", "density of what fills the leg of the high side", "[0, 20000]")
_LOW_LEG = ("rho_ll", "density of what fills the leg of the low side", "[0, 20000]")
_GRAVITY = ("g", "acceleration of free fall", "[9.7, 9.9]")
_HEAVIER = ("rho_v < rho", "the lower of the two is the denser")
_COLUMNS = "derived: hydrostatics, the columns summed on each side"


@formula(
    equation="p_1 = g*(rho*h + rho_v*(H - h) + rho_hl*e)",
    gives=("p_1", "pressure of the columns on the high side"),
    where={
        "level_m": _LEVEL,
        "tap_distance_m": _DISTANCE,
        "below_m": _BELOW,
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "high_leg_density_kg_per_m3": _HIGH_LEG,
        "gravity_m_per_s2": _GRAVITY,
    },
    source=_COLUMNS,
)
def high_columns_Pa(
    level_m: Real,
    tap_distance_m: Real,
    below_m: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
    high_leg_density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Pressure of what stands above the transmitter on its high side, above that at the upper tap.

    Example
    -------
    >>> round(high_columns_Pa(1.0, 2.0, 0.5, 850.0, 5.0, 850.0, 9.80665), 2)
    12552.51
    """
    vessel = liquid_density_kg_per_m3 * level_m + gas_density_kg_per_m3 * (tap_distance_m - level_m)
    return gravity_m_per_s2 * (vessel + high_leg_density_kg_per_m3 * below_m)


@formula(
    equation="p_2 = g*rho_ll*(H + e)",
    gives=("p_2", "pressure of the leg on the low side"),
    where={
        "tap_distance_m": _DISTANCE,
        "below_m": _BELOW,
        "low_leg_density_kg_per_m3": _LOW_LEG,
        "gravity_m_per_s2": _GRAVITY,
    },
    source=_COLUMNS,
)
def low_columns_Pa(
    tap_distance_m: Real, below_m: Real, low_leg_density_kg_per_m3: Real, gravity_m_per_s2: Real
) -> Real:
    """Pressure of what stands above the transmitter on its low side, above that at the upper tap.

    Example
    -------
    >>> round(low_columns_Pa(2.0, 0.5, 1100.0, 9.80665), 2)
    26968.29
    """
    return gravity_m_per_s2 * low_leg_density_kg_per_m3 * (tap_distance_m + below_m)


@formula(
    equation="dp = p_1 - p_2",
    gives=("dp", "pressure on the high side less that on the low side"),
    where={
        "high_Pa": ("p_1", "pressure on the high side", "[-1e9, 1e9]"),
        "low_Pa": ("p_2", "pressure on the low side", "[-1e9, 1e9]"),
    },
    source="derived: definition of a difference of pressures",
)
def pressure_difference_Pa(high_Pa: Real, low_Pa: Real) -> Real:
    """Difference that the transmitter feels; exchanged, the sides give the same with the other sign.

    Example
    -------
    >>> pressure_difference_Pa(12552.5, 26968.25)
    -14415.75
    """
    return high_Pa - low_Pa


@formula(
    equation="dp = g*(rho*h + rho_v*(H - h) + rho_hl*e - rho_ll*(H + e))",
    gives=("dp", "pressure on the high side less that on the low side"),
    where={
        "level_m": _LEVEL,
        "tap_distance_m": _DISTANCE,
        "below_m": _BELOW,
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "high_leg_density_kg_per_m3": _HIGH_LEG,
        "low_leg_density_kg_per_m3": _LOW_LEG,
        "gravity_m_per_s2": _GRAVITY,
    },
    source=_COLUMNS,
)
def level_difference_Pa(
    level_m: Real,
    tap_distance_m: Real,
    below_m: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
    high_leg_density_kg_per_m3: Real,
    low_leg_density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Difference of pressures at a level, in one line: for a range worked without a case.

    Example
    -------
    >>> round(level_difference_Pa(2.0, 2.0, 0.5, 850.0, 5.0, 850.0, 1100.0, 9.80665), 5)
    -6129.15625
    """
    vessel = liquid_density_kg_per_m3 * level_m + gas_density_kg_per_m3 * (tap_distance_m - level_m)
    legs = high_leg_density_kg_per_m3 * below_m - low_leg_density_kg_per_m3 * (tap_distance_m + below_m)
    return gravity_m_per_s2 * (vessel + legs)


@formula(
    equation="h = (dp/g - rho_v*H - rho_hl*e + rho_ll*(H + e))/(rho - rho_v)",
    gives=("h", "level above the lower tap"),
    where={
        "difference_Pa": ("dp", "pressure on the high side less that on the low side", "[-1e9, 1e9]"),
        "tap_distance_m": _DISTANCE,
        "below_m": _BELOW,
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "high_leg_density_kg_per_m3": _HIGH_LEG,
        "low_leg_density_kg_per_m3": _LOW_LEG,
        "gravity_m_per_s2": _GRAVITY,
    },
    requires=(_HEAVIER,),
    source=_COLUMNS,
)
def level_of_difference_m(
    difference_Pa: Real,
    tap_distance_m: Real,
    below_m: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
    high_leg_density_kg_per_m3: Real,
    low_leg_density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Level from the difference of pressures; with the densities of a setting, what that setting shows.

    Example
    -------
    >>> round(level_of_difference_m(-6129.15625, 2.0, 0.5, 850.0, 5.0, 850.0, 1100.0, 9.80665), 9)
    2.0
    """
    legs = low_leg_density_kg_per_m3 * (tap_distance_m + below_m) - high_leg_density_kg_per_m3 * below_m
    rest = difference_Pa / gravity_m_per_s2 - gas_density_kg_per_m3 * tap_distance_m + legs
    return rest / (liquid_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="dh = (e*(rho_1 - rho_hl) - (H + e)*(rho_2 - rho_ll))/(rho - rho_v)",
    gives=("dh", "shift of the level shown"),
    where={
        "tap_distance_m": _DISTANCE,
        "below_m": _BELOW,
        "lower_leg_set_kg_per_m3": ("rho_hl", "density in the lower leg that the range was set for", "[0, 20000]"),
        "lower_leg_kg_per_m3": ("rho_1", "density in the lower leg as it is", "[0, 20000]"),
        "upper_leg_set_kg_per_m3": ("rho_ll", "density in the upper leg that the range was set for", "[0, 20000]"),
        "upper_leg_kg_per_m3": ("rho_2", "density in the upper leg as it is", "[0, 20000]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
    },
    requires=(_HEAVIER,),
    source=_COLUMNS,
)
def legs_shift_m(
    tap_distance_m: Real,
    below_m: Real,
    lower_leg_set_kg_per_m3: Real,
    lower_leg_kg_per_m3: Real,
    upper_leg_set_kg_per_m3: Real,
    upper_leg_kg_per_m3: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
) -> Real:
    """Shift of the level shown when the legs have other densities than the range was set for.

    Example
    -------
    >>> round(legs_shift_m(2.0, 0.5, 850.0, 850.0, 1100.0, 1060.0, 850.0, 5.0), 9)
    0.118343195
    """
    lower = below_m * (lower_leg_kg_per_m3 - lower_leg_set_kg_per_m3)
    upper = (tap_distance_m + below_m) * (upper_leg_kg_per_m3 - upper_leg_set_kg_per_m3)
    return (lower - upper) / (liquid_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="dh = e*(rho_1 - rho_hl)/rho",
    gives=("dh", "shift of the level shown"),
    where={
        "below_m": _BELOW,
        "leg_set_kg_per_m3": ("rho_hl", "density in the leg that the range was set for", "[0, 20000]"),
        "leg_kg_per_m3": ("rho_1", "density in the leg as it is", "[0, 20000]"),
        "liquid_density_kg_per_m3": ("rho", "density of the liquid", "(0, 20000]"),
    },
    source=_COLUMNS,
)
def one_leg_shift_m(
    below_m: Real, leg_set_kg_per_m3: Real, leg_kg_per_m3: Real, liquid_density_kg_per_m3: Real
) -> Real:
    """The same with one tap.

    Example
    -------
    >>> round(one_leg_shift_m(3.0, 998.2, 988.2, 998.2), 6)
    -0.030054
    """
    return below_m * (leg_kg_per_m3 - leg_set_kg_per_m3) / liquid_density_kg_per_m3


@formula(
    equation="p = p_0 + p_1",
    gives=("p", "pressure that the cell feels, above the atmosphere"),
    where={
        "head_Pa": ("p_0", "pressure of the columns", "[-1e9, 1e9]"),
        "gas_Pa": ("p_1", "pressure of the gas over the liquid, above the atmosphere", "[-1e9, 1e9]"),
    },
    source=_COLUMNS,
)
def felt_pressure_Pa(head_Pa: Real, gas_Pa: Real) -> Real:
    """Pressure on the cell of a transmitter with one tap.

    Example
    -------
    >>> felt_pressure_Pa(30500.0, 137900.0)
    168400.0
    """
    return head_Pa + gas_Pa


@formula(
    equation="dh = -x*(rho_1 - rho_0)/(rho - rho_v)",
    gives=("dh", "shift of the level shown"),
    where={
        "column_m": ("x", "height of the leg that holds something else", "[0, 400]"),
        "leg_density_set_kg_per_m3": ("rho_0", "density the range was set for", "[0, 20000]"),
        "leg_density_kg_per_m3": ("rho_1", "density of what stands in it instead", "[0, 20000]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
    },
    requires=(_HEAVIER,),
    source=_COLUMNS,
)
def refilled_leg_shift_m(
    column_m: Real,
    leg_density_set_kg_per_m3: Real,
    leg_density_kg_per_m3: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
) -> Real:
    """Shift of the level shown when a part of the leg of the low side fills, or boils off.

    Example
    -------
    >>> round(refilled_leg_shift_m(0.3, 1.2, 998.0, 850.0, 1.2), 4)
    -0.3523
    """
    change = leg_density_kg_per_m3 - leg_density_set_kg_per_m3
    return -column_m * change / (liquid_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="s = g*(rho - rho_v)",
    gives=("s", "change of the difference of pressures per height of level"),
    where={"liquid_density_kg_per_m3": _LIQUID, "gas_density_kg_per_m3": _GAS, "gravity_m_per_s2": _GRAVITY},
    source=_COLUMNS,
)
def head_Pa_per_m(liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real, gravity_m_per_s2: Real) -> Real:
    """How much the difference of pressures changes with the level.

    Example
    -------
    >>> round(head_Pa_per_m(850.0, 1.2, 9.80665), 3)
    8323.885
    """
    return gravity_m_per_s2 * (liquid_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="dh = p/(g*rho)",
    gives=("dh", "level shown too high"),
    where={
        "gas_difference_Pa": ("p", "pressure of the gas above what the range was set for", "[-1e9, 1e9]"),
        "liquid_density_kg_per_m3": ("rho", "density of the liquid", "(0, 20000]"),
        "gravity_m_per_s2": _GRAVITY,
    },
    source=_COLUMNS,
)
def gas_pressure_shift_m(gas_difference_Pa: Real, liquid_density_kg_per_m3: Real, gravity_m_per_s2: Real) -> Real:
    """What the pressure of the gas makes in a single sensor that feels it; with two sides it cancels.

    Example
    -------
    >>> round(gas_pressure_shift_m(2000.0, 998.2, 9.80665), 4)
    0.2043
    """
    return gas_difference_Pa / (gravity_m_per_s2 * liquid_density_kg_per_m3)


@formula(
    equation="p = g*(rho*h + rho_hl*e)",
    gives=("p", "pressure of the columns above the transmitter"),
    where={
        "level_m": _LEVEL,
        "below_m": _BELOW,
        "liquid_density_kg_per_m3": _LIQUID,
        "high_leg_density_kg_per_m3": _HIGH_LEG,
        "gravity_m_per_s2": _GRAVITY,
    },
    source=_COLUMNS,
)
def one_side_head_Pa(
    level_m: Real,
    below_m: Real,
    liquid_density_kg_per_m3: Real,
    high_leg_density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Pressure on a transmitter with one tap, above that of the gas over the liquid.

    Example
    -------
    >>> round(one_side_head_Pa(12.0, 3.0, 998.2, 998.2, 9.80665), 5)
    146834.97045
    """
    return gravity_m_per_s2 * (liquid_density_kg_per_m3 * level_m + high_leg_density_kg_per_m3 * below_m)


@formula(
    equation="h = (p/g - rho_hl*e)/rho",
    gives=("h", "level above the tap"),
    where={
        "head_Pa": ("p", "pressure above that of the gas over the liquid", "[-1e9, 1e9]"),
        "below_m": _BELOW,
        "liquid_density_kg_per_m3": ("rho", "density of the liquid", "(0, 20000]"),
        "high_leg_density_kg_per_m3": _HIGH_LEG,
        "gravity_m_per_s2": _GRAVITY,
    },
    source=_COLUMNS,
)
def level_of_head_m(
    head_Pa: Real,
    below_m: Real,
    liquid_density_kg_per_m3: Real,
    high_leg_density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Level from the pressure on a transmitter with one tap; with the densities of a setting, what that shows.

    Example
    -------
    >>> round(level_of_head_m(146834.97045, 3.0, 998.2, 998.2, 9.80665), 9)
    12.0
    """
    return (head_Pa / gravity_m_per_s2 - high_leg_density_kg_per_m3 * below_m) / liquid_density_kg_per_m3


@formula(
    equation="dh = dp/s",
    gives=("dh", "difference of levels"),
    where={
        "pressure_Pa": ("dp", "difference of pressures", "[-1e9, 1e9]"),
        "head_Pa_per_m": ("s", "change of pressure per height of level", "(0, 1000000]"),
    },
    source=_COLUMNS,
)
def level_of_pressure_m(pressure_Pa: Real, head_Pa_per_m: Real) -> Real:
    """What a difference of pressures is as a level.

    Example
    -------
    >>> round(level_of_pressure_m(100.0, 8323.885), 5)
    0.01201
    """
    return pressure_Pa / head_Pa_per_m


@formula(
    equation="x = H + e",
    gives=("x", "height of the leg from the upper tap to the transmitter"),
    where={"tap_distance_m": _DISTANCE, "below_m": _BELOW},
    source="derived: arithmetic of heights",
)
def upper_leg_height_m(tap_distance_m: Real, below_m: Real) -> Real:
    """Height of the leg between the upper tap and the transmitter.

    Example
    -------
    >>> upper_leg_height_m(2.0, 0.5)
    2.5
    """
    return tap_distance_m + below_m


@formula(
    equation="s = abs(p_20 - p_4)",
    gives=("s", "span of the difference of pressures"),
    where={
        "lower_Pa": ("p_4", "difference of pressures at 4 mA", "[-1e9, 1e9]"),
        "upper_Pa": ("p_20", "difference of pressures at 20 mA", "[-1e9, 1e9]"),
    },
    source="derived: definition of a span",
)
def pressure_span_Pa(lower_Pa: Real, upper_Pa: Real) -> Real:
    """Span of a range of pressures, whichever way it runs.

    Example
    -------
    >>> float(pressure_span_Pa(-22702.0, -6129.0))
    16573.0
    """
    return np.abs(upper_Pa - lower_Pa)


@formula(
    equation="e = z_1 - z_m",
    gives=("e", "how far the transmitter lies below the lower tap"),
    where={
        "lower_tap_m": ("z_1", "height of the lower tap above the datum", "[-50, 200]"),
        "transmitter_m": ("z_m", "height of the transmitter above the datum", "[-200, 300]"),
    },
    source="derived: arithmetic of heights",
)
def transmitter_below_m(lower_tap_m: Real, transmitter_m: Real) -> Real:
    """How far a transmitter lies below the lower tap; negative where it lies above.

    Example
    -------
    >>> transmitter_below_m(0.4, -1.0)
    1.4
    """
    return lower_tap_m - transmitter_m
