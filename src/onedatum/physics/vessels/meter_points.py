"""Liquid calibration: the volume of a tank from batches that came through a meter.

A point of the table is a level and the volume in the tank at it. All batches that lie in the tank by then have the
temperature of the tank at that point, not that of their own time: for each point, work every batch up to it with the
temperature at the point, and add. With the points down a column and the batches along a row, one call does that; a
running sum of batches each left at its own temperature is wrong by the warming of all that was there before.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="V = V_m*M*(1 + beta*(T_k - T_m))/(1 + alpha*(T_s - T_t))**2",
    gives=("V", "volume of the tank, at the temperature of its table, that the batch fills"),
    where={
        "metered_m3": ("V_m", "volume of the batch as the meter shows it", "[0, 1000000]"),
        "meter_factor": ("M", "meter factor: volume passed over volume shown", "[0.9, 1.1]"),
        "meter_temperature_K": ("T_m", "temperature of the liquid in the meter", "[250, 370]"),
        "tank_temperature_K": ("T_k", "temperature of the liquid in the tank when the level is taken", "[250, 370]"),
        "liquid_expansion_per_K": ("beta", "expansion of the volume of the liquid", "[-0.0001, 0.002]"),
        "shell_temperature_K": ("T_s", "temperature of the shell when the level is taken", "[220, 400]"),
        "table_temperature_K": ("T_t", "temperature of the shell that the table is made for", "[200, 500]"),
        "shell_expansion_per_K": ("alpha", "linear expansion of the shell", "[0, 0.0005]"),
    },
    requires=(
        ("abs(beta*(T_k - T_m)) <= 0.01", "beyond that the second order is worth more than 1e-4: use two densities"),
    ),
    source="derived: mass of the batch conserved, first order; the shell by its section",
)
def batch_volume_m3(
    metered_m3: Real,
    meter_factor: Real,
    meter_temperature_K: Real,
    tank_temperature_K: Real,
    liquid_expansion_per_K: Real,
    shell_temperature_K: Real,
    table_temperature_K: Real,
    shell_expansion_per_K: Real,
) -> Real:
    """Volume that a metered batch fills in a tank, at the temperature of the table.

    The shell is taken as in the chain from level to quantity: its section grows, its heights are measured. The line
    between meter and tank must be as full after the batch as before it. Nothing evaporates; the head of the liquid
    stretches the shell in the calibration as it does in use, so that a table made with another liquid must be
    corrected for the difference of the two.

    Example
    -------
    >>> round(batch_volume_m3(50.0, 1.0012, 288.15, 293.15, 0.0002, 292.15, 293.15, 11.5e-6), 5)
    50.11121
    """
    in_tank_m3 = metered_m3 * meter_factor * (1 + liquid_expansion_per_K * (tank_temperature_K - meter_temperature_K))
    return in_tank_m3 / (1 + shell_expansion_per_K * (shell_temperature_K - table_temperature_K)) ** 2
