"""Capacitive principles before a probe is sized: what moves the permittivity, and what is left of a reading."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LEVEL = ("h", "height that is wetted", "[-100, 1000]")
_PER_LENGTH = "(0, 1]"


@formula(
    equation="e = (e_2 - e_1)/(e_2 + e_1 - 2)*h",
    gives=("e", "error of the level at both ends of the permittivity"),
    where={
        "greatest_permittivity": ("e_2", "greatest relative permittivity of the liquid", "[1, 1000]"),
        "least_permittivity": ("e_1", "least relative permittivity of the liquid", "[1, 1000]"),
        "level_m": _LEVEL,
    },
    requires=(("e_2 + e_1 > 2", "a liquid that holds no more than its gas is not felt"),),
    source="derived: the reading goes with the permittivity less one, set at the middle of its range",
)
def permittivity_error_m(greatest_permittivity: Real, least_permittivity: Real, level_m: Real) -> Real:
    """What the range of the permittivity makes of a level, where the liquid insulates and the rod is bare.

    Example
    -------
    >>> round(permittivity_error_m(43.3, 26.7, 0.65), 4)
    0.1587
    """
    both = greatest_permittivity + least_permittivity - 2
    return (greatest_permittivity - least_permittivity) / both * level_m


@formula(
    equation="e = (eps + 2)/3*(rho_2 - rho_1)/(rho_2 + rho_1)*h",
    gives=("e", "error of the level by the density, through the permittivity"),
    where={
        "relative_permittivity": ("eps", "relative permittivity of the liquid", "[1, 1000]"),
        "greatest_density_kg_per_m3": ("rho_2", "greatest density of the liquid", "(0, 20000]"),
        "least_density_kg_per_m3": ("rho_1", "least density of the liquid", "(0, 20000]"),
        "level_m": _LEVEL,
    },
    source="derived: law of Clausius and Mossotti, for liquids that are not polar",
)
def density_permittivity_error_m(
    relative_permittivity: Real, greatest_density_kg_per_m3: Real, least_density_kg_per_m3: Real, level_m: Real
) -> Real:
    """What the range of the density makes of the permittivity of a liquid that is not polar, and so of the level.

    Example
    -------
    >>> round(density_permittivity_error_m(2.1, 860.0, 820.0, 10.0), 3)
    0.325
    """
    both = greatest_density_kg_per_m3 + least_density_kg_per_m3
    spread = (greatest_density_kg_per_m3 - least_density_kg_per_m3) / both
    return (relative_permittivity + 2) / 3 * spread * level_m


@formula(
    equation="q = (C_c - C)/C_c",
    gives=("q", "share by which the capacitance stays below that of a perfect conductor"),
    where={
        "coating_F_per_m": ("C_c", "capacitance per length of what keeps the liquid off", _PER_LENGTH),
        "wet_F_per_m": ("C", "capacitance per length, wetted, as it acts", "[0, 1]"),
    },
    source="derived: difference",
)
def regime_deficit_share(coating_F_per_m: Real, wet_F_per_m: Real) -> Real:
    """How far the capacitance of a coated rod stays below that in a liquid that conducts perfectly.

    Example
    -------
    >>> round(regime_deficit_share(3.472e-10, 2.912e-10), 4)
    0.1613
    """
    return (coating_F_per_m - wet_F_per_m) / coating_F_per_m


@formula(
    equation="e = (C_2 - C_1)/S*h",
    gives=("e", "change of the level shown"),
    where={
        "greatest_F_per_m": ("C_2", "greatest capacitance per length, wetted", "[0, 1]"),
        "least_F_per_m": ("C_1", "least capacitance per length, wetted", "[0, 1]"),
        "sensitivity_F_per_m": ("S", "change of capacitance per length of level", _PER_LENGTH),
        "level_m": _LEVEL,
    },
    source="derived: a change of capacitance read as level",
)
def capacitance_error_m(greatest_F_per_m: Real, least_F_per_m: Real, sensitivity_F_per_m: Real, level_m: Real) -> Real:
    """What two capacitances per wetted length make of the same level.

    Example
    -------
    >>> round(capacitance_error_m(3.4e-10, 3.3e-10, 3.3e-10, 2.0), 4)
    0.0606
    """
    return (greatest_F_per_m - least_F_per_m) / sensitivity_F_per_m * level_m


@formula(
    equation="C = S*s",
    gives=("C", "change of capacitance over the span"),
    where={
        "sensitivity_F_per_m": ("S", "change of capacitance per length of level", "[-1, 1]"),
        "span_m": ("s", "span of the level", "[0, 1000]"),
    },
    source="derived",
)
def span_capacitance_F(sensitivity_F_per_m: Real, span_m: Real) -> Real:
    """Change of capacitance that the span of the level makes.

    Example
    -------
    >>> round(span_capacitance_F(338.17e-12, 2.05) * 1e12, 2)
    693.25
    """
    return sensitivity_F_per_m * span_m


@formula(
    equation="e_f = e_l*(1 + 3*(1 - f)*(1 - e_l)/(1 + 2*e_l - (1 - f)*(1 - e_l)))",
    gives=("e_f", "relative permittivity of the foam"),
    where={
        "share": ("f", "volume of liquid in the volume of the foam", "[0, 1]"),
        "liquid_permittivity": ("e_l", "relative permittivity of the liquid", "[1, 1000]"),
    },
    source="maxwell-garnett-1904: bubbles of gas in the liquid, the most that a foam can hold",
)
def foam_permittivity(share: Real, liquid_permittivity: Real) -> Real:
    """Relative permittivity of a foam of bubbles in their liquid.

    Example
    -------
    >>> float(round(foam_permittivity(0.05, 44.0), 3))
    2.474
    """
    gas, less = 1 - share, 1 - liquid_permittivity
    return liquid_permittivity * (1 + 3 * gas * less / (1 + 2 * liquid_permittivity - gas * less))


@formula(
    equation="q = (e_f - 1)/(e_l - 1)",
    gives=("q", "what the foam is felt as, over the liquid"),
    where={
        "foam_permittivity": ("e_f", "relative permittivity of the foam", "[0.5, 1000]"),
        "liquid_permittivity": ("e_l", "relative permittivity of the liquid", "(1, 1000]"),
    },
    source="derived: the reading goes with the permittivity less one",
)
def foam_permittivity_share(foam_permittivity: Real, liquid_permittivity: Real) -> Real:
    """How much of the liquid a foam is felt as by a rod that goes with the permittivity.

    Example
    -------
    >>> round(foam_permittivity_share(1.31, 44.0), 4)
    0.0072
    """
    return (foam_permittivity - 1) / (liquid_permittivity - 1)
