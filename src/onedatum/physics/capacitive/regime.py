"""What the conductivity of a liquid does to a probe: the coating alone counts, the liquid counts, or neither holds.

A coated rod is its coating in series with the liquid, which both holds charge and leaks. Three numbers say all: the
capacitance of the coating alone, that of coating and insulating liquid in series, and the loss tangent of the liquid.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M

_FREQUENCY = ("f", "frequency of the measurement", "(0, 1e10]")
_CONDUCTIVITY = ("sigma", "conductivity of the liquid", "[0, 1000]")
_PERMITTIVITY = ("epsilon", "relative permittivity of the liquid", "[1, 1000]")
_COATING = ("c_1", "capacitance per length of the coating", "(0, 1e-6]")
_IN_SERIES = ("c_s", "capacitance per length of coating and insulating liquid in series", "(0, 1e-6]")
_CROSSOVER = ("sigma_x", "conductivity at which as much leaks as is displaced", "(0, 1000]")
_REGIME = ("m", "how conductive the liquid is for this probe", "[0, 1e12]")
_LESS = (("c_s < c_1", "the liquid in series only lessens what the coating holds"),)
_SERIES = "derived: coating in series with a liquid that leaks"
_COMPLEX = "derived: complex permittivity epsilon - j sigma/(omega epsilon_0)"


@formula(
    equation="sigma_x = 2*pi*f*8.8541878188e-12*epsilon",
    gives=("sigma_x", "conductivity at which as much leaks as is displaced"),
    where={"frequency_Hz": _FREQUENCY, "relative_permittivity": _PERMITTIVITY},
    source=_COMPLEX,
)
def crossover_conductivity_S_per_m(frequency_Hz: Real, relative_permittivity: Real) -> Real:
    """Where the current that leaks through a liquid equals that which charges it, whatever the geometry.

    Example
    -------
    >>> round(float(crossover_conductivity_S_per_m(100e3, 78.41)) * 1e4, 4)
    4.3621
    """
    return 2 * np.pi * frequency_Hz * VACUUM_PERMITTIVITY_F_PER_M * relative_permittivity


@formula(
    equation="tan_delta = sigma/sigma_x",
    gives=("tan_delta", "loss tangent"),
    where={
        "conductivity_S_per_m": _CONDUCTIVITY,
        "crossover_S_per_m": ("sigma_x", "conductivity at which as much leaks as is displaced", "(0, 1000]"),
    },
    source=_COMPLEX,
)
def loss_tangent_ratio(conductivity_S_per_m: Real, crossover_S_per_m: Real) -> Real:
    """Current that leaks over current that charges.

    Example
    -------
    >>> round(float(loss_tangent_ratio(0.05, 4.4506e-4)), 1)
    112.3
    """
    return conductivity_S_per_m / crossover_S_per_m


@formula(
    equation="tan_delta = sqrt(x*(2 + x))",
    gives=("tan_delta", "loss tangent at which the error is just allowed"),
    where={"allowed_share": ("x", "error allowed, as a share of the reading", "(0, 1]")},
    source="derived: abs(1 - j tan_delta) = 1 + x",
)
def bare_loss_limit_ratio(allowed_share: Real) -> Real:
    """Loss that a bare rod bears if the meter takes the whole admittance for capacitance.

    Example
    -------
    >>> round(float(bare_loss_limit_ratio(0.001)), 4)
    0.0447
    """
    return np.sqrt(allowed_share * (2 + allowed_share))


@formula(
    equation="m = tan_delta*c_s/c_1",
    gives=("m", "how conductive the liquid is for this probe"),
    where={
        "loss_tangent_ratio": ("tan_delta", "loss tangent of the liquid", "[0, 1e12]"),
        "coating_F_per_m": _COATING,
        "series_F_per_m": _IN_SERIES,
    },
    requires=_LESS,
    source=_SERIES,
)
def regime_ratio(loss_tangent_ratio: Real, coating_F_per_m: Real, series_F_per_m: Real) -> Real:
    """Far above 1 the coating alone counts, far below 1 the liquid counts with it; between, its conductivity does.

    Example
    -------
    >>> round(float(regime_ratio(2.2469, 347.215e-12, 273.2e-12)), 3)
    1.768
    """
    return loss_tangent_ratio * series_F_per_m / coating_F_per_m


@formula(
    equation="c = c_s + (c_1 - c_s)*m**2/(1 + m**2)",
    gives=("c", "capacitance per length of the coated rod as it acts"),
    where={"coating_F_per_m": _COATING, "series_F_per_m": _IN_SERIES, "regime_ratio": _REGIME},
    requires=_LESS,
    source=_SERIES,
)
def coated_capacitance_F_per_m(coating_F_per_m: Real, series_F_per_m: Real, regime_ratio: Real) -> Real:
    """Of a coated rod in a liquid of any conductivity: from both layers in series to the coating alone.

    Example
    -------
    >>> round(float(coated_capacitance_F_per_m(347.215e-12, 273.2e-12, 1.768)) * 1e12, 1)
    329.3
    """
    return series_F_per_m + (coating_F_per_m - series_F_per_m) * regime_ratio**2 / (1 + regime_ratio**2)


@formula(
    equation="g = 2*pi*f*(c_1 - c_s)*m/(1 + m**2)",
    gives=("g", "conductance per length of the coated rod as it acts"),
    where={
        "frequency_Hz": _FREQUENCY,
        "coating_F_per_m": _COATING,
        "series_F_per_m": _IN_SERIES,
        "regime_ratio": _REGIME,
    },
    requires=_LESS,
    source=_SERIES,
)
def coated_conductance_S_per_m(
    frequency_Hz: Real, coating_F_per_m: Real, series_F_per_m: Real, regime_ratio: Real
) -> Real:
    """Of a coated rod in a liquid of any conductivity: greatest where neither regime holds, nothing far from there.

    Example
    -------
    >>> round(float(coated_conductance_S_per_m(100e3, 347.215e-12, 273.2e-12, 1.768)) * 1e6, 2)
    19.93
    """
    swing = coating_F_per_m - series_F_per_m
    return 2 * np.pi * frequency_Hz * swing * regime_ratio / (1 + regime_ratio**2)


@formula(
    equation="sigma_1 = sigma_x*c_1/c_s*sqrt(max((c_1 - c_s)/(c_1*x) - 1, 0))",
    gives=("sigma_1", "conductivity from which the coating alone counts"),
    where={
        "crossover_S_per_m": _CROSSOVER,
        "coating_F_per_m": _COATING,
        "series_F_per_m": _IN_SERIES,
        "allowed_share": ("x", "how much the capacitance may lack, as a share", "(0, 1)"),
    },
    requires=_LESS,
    source=_SERIES,
)
def conductive_from_S_per_m(
    crossover_S_per_m: Real, coating_F_per_m: Real, series_F_per_m: Real, allowed_share: Real
) -> Real:
    """From here up a liquid is conductive for this probe, this tank and this frequency.

    Example
    -------
    >>> round(float(conductive_from_S_per_m(4.4506e-4, 347.215e-12, 273.2e-12, 0.001)) * 1e4, 1)
    82.4
    """
    most = (coating_F_per_m - series_F_per_m) / (coating_F_per_m * allowed_share)
    return crossover_S_per_m * coating_F_per_m / series_F_per_m * np.sqrt(np.maximum(most - 1, 0.0))


@formula(
    equation="sigma_2 = sigma_x*c_1/c_s/sqrt((c_1 - c_s)/(c_s*x) - 1)",
    gives=("sigma_2", "conductivity up to which the liquid insulates"),
    where={
        "crossover_S_per_m": _CROSSOVER,
        "coating_F_per_m": _COATING,
        "series_F_per_m": _IN_SERIES,
        "allowed_share": ("x", "how much the capacitance may be more, as a share", "(0, 1)"),
    },
    requires=(("x*c_s < c_1 - c_s", "the liquid makes more of a difference than is allowed"),),
    source=_SERIES,
)
def insulating_up_to_S_per_m(
    crossover_S_per_m: Real, coating_F_per_m: Real, series_F_per_m: Real, allowed_share: Real
) -> Real:
    """Up to here the conductivity of a liquid moves the capacitance of this probe by no more than is allowed.

    Example
    -------
    >>> round(float(insulating_up_to_S_per_m(4.4506e-4, 347.215e-12, 273.2e-12, 0.001)) * 1e4, 3)
    0.344
    """
    most = (coating_F_per_m - series_F_per_m) / (series_F_per_m * allowed_share)
    return crossover_S_per_m * coating_F_per_m / series_F_per_m / np.sqrt(most - 1)


@formula(
    equation="x = e*(c_w - c_d)/(c_w*L)",
    gives=("x", "error allowed as a share of the capacitance of the full rod"),
    where={
        "error_m": ("e", "error allowed of the level", "[0, 10]"),
        "wet_F_per_m": ("c_w", "capacitance per length where it is wetted", "(0, 1e-3]"),
        "dry_F_per_m": ("c_d", "capacitance per length where it is dry", "[0, 1e-3]"),
        "active_m": ("L", "active length", "(0, 200]"),
    },
    requires=(("c_d < c_w", "the probe feels the level"),),
    source="derived: the error of the level times the change of capacitance with it",
)
def allowed_capacity_share(error_m: Real, wet_F_per_m: Real, dry_F_per_m: Real, active_m: Real) -> Real:
    """By what share the capacitance of a full rod may be off.

    Example
    -------
    >>> round(allowed_capacity_share(0.025, 2.3, 1.0, 2.5), 5)
    0.00565
    """
    return error_m * (wet_F_per_m - dry_F_per_m) / (wet_F_per_m * active_m)


@formula(
    equation="c = c_p - g/(2*pi*f)",
    gives=("c", "capacitance per length that is read"),
    where={
        "capacitance_F_per_m": ("c_p", "capacitance per length as it acts", "[0, 1e-3]"),
        "conductance_S_per_m": ("g", "conductance per length as it acts", "[0, 1e3]"),
        "frequency_Hz": _FREQUENCY,
    },
    source="derived: the loss of a long film equals its capacitance",
)
def loss_taken_off_F_per_m(capacitance_F_per_m: Real, conductance_S_per_m: Real, frequency_Hz: Real) -> Real:
    """What a transmitter reads that takes the loss off: right for a long film, too little where the liquid leaks.

    Example
    -------
    >>> round(float(loss_taken_off_F_per_m(314.1e-12, 31.8e-6, 100e3)) * 1e12, 1)
    263.5
    """
    return capacitance_F_per_m - conductance_S_per_m / (2 * np.pi * frequency_Hz)
