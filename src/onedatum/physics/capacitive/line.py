"""A rod as a line: capacitance, conductance and inductance per length, in layers and in series."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula
from onedatum.physics.capacitive.constants import VACUUM_PERMEABILITY_H_PER_M, VACUUM_PERMITTIVITY_F_PER_M

_INNER = ("a", "inner radius of the layer", "(0, 1]")
_OUTER = ("R", "outer radius of the layer, or of the round tank with the same capacitance", "(0, 1000]")
_PERMITTIVITY = ("epsilon", "relative permittivity of the layer", "[1, 1000]")
_LAYER = (("a < R", "a layer has a thickness, and the rod does not touch the wall"),)
_FIELD = "derived: Laplace's equation in the plane"


@formula(
    equation="c = 2*pi*8.8541878188e-12*epsilon/ln(R/a)",
    gives=("c", "capacitance per length"),
    where={"inner_radius_m": _INNER, "outer_radius_m": _OUTER, "relative_permittivity": _PERMITTIVITY},
    requires=_LAYER,
    source=_FIELD,
)
def line_capacitance_F_per_m(inner_radius_m: Real, outer_radius_m: Real, relative_permittivity: Real) -> Real:
    """Of one layer round a rod; exact away from the ends.

    Example
    -------
    >>> round(float(line_capacitance_F_per_m(0.005, 1.5, 1.0)) * 1e12, 4)
    9.7536
    """
    layer = np.log(outer_radius_m / inner_radius_m)
    return 2 * np.pi * VACUUM_PERMITTIVITY_F_PER_M * relative_permittivity / layer


@formula(
    equation="c = c_1*c_2/(c_1 + c_2)",
    gives=("c", "capacitance per length of both together"),
    where={
        "first_F_per_m": ("c_1", "capacitance per length of the one layer", "(0, 1]"),
        "second_F_per_m": ("c_2", "capacitance per length of the other", "(0, 1]"),
    },
    source="derived: the same charge on either side of each layer",
)
def in_series_F_per_m(first_F_per_m: Real, second_F_per_m: Real) -> Real:
    """Of two layers one behind the other, such as a coating and what is outside it.

    Exact for layers about one axis; up to 4e-5 high for a rod of 14 mm with 2 mm of coating, 0.3 m off the axis of a
    tank 1 m across, against a boundary integral.

    Example
    -------
    >>> round(float(in_series_F_per_m(347.215e-12, 9.2862e-12)) * 1e12, 4)
    9.0443
    """
    return first_F_per_m * second_F_per_m / (first_F_per_m + second_F_per_m)


@formula(
    equation="g = 2*pi*sigma/ln(R/a)",
    gives=("g", "conductance per length"),
    where={
        "inner_radius_m": _INNER,
        "outer_radius_m": _OUTER,
        "conductivity_S_per_m": ("sigma", "conductivity of the layer", "[0, 1000]"),
    },
    requires=_LAYER,
    source=_FIELD,
)
def line_conductance_S_per_m(inner_radius_m: Real, outer_radius_m: Real, conductivity_S_per_m: Real) -> Real:
    """What leaks through one layer round a rod: the field is that of the capacitance.

    Example
    -------
    >>> round(1 / float(line_conductance_S_per_m(0.005, 0.5, 0.05)), 3)
    14.659
    """
    return 2 * np.pi * conductivity_S_per_m / np.log(outer_radius_m / inner_radius_m)


@formula(
    equation="l = 1.25663706127e-6/(2*pi)*ln(R/a)",
    gives=("l", "inductance per length"),
    where={"inner_radius_m": _INNER, "outer_radius_m": _OUTER},
    requires=_LAYER,
    source="derived: field of a current on the rod that returns in the wall",
)
def line_inductance_H_per_m(inner_radius_m: Real, outer_radius_m: Real) -> Real:
    """Of the core and the wall it returns in.

    Example
    -------
    >>> round(float(line_inductance_H_per_m(0.005, 0.5)) * 1e6, 3)
    0.921
    """
    return VACUUM_PERMEABILITY_H_PER_M / (2 * np.pi) * np.log(outer_radius_m / inner_radius_m)


@formula(
    equation="theta = 2*pi*f*sqrt(l*c)*L",
    gives=("theta", "length of the rod in the phase of the wave on it"),
    where={
        "frequency_Hz": ("f", "frequency of the measurement", "(0, 1e10]"),
        "inductance_H_per_m": ("l", "inductance per length", "(0, 1e-3]"),
        "capacitance_F_per_m": ("c", "capacitance per length", "(0, 1]"),
        "length_m": ("L", "length of the rod", "(0, 200]"),
    },
    source="derived: transmission line without loss",
)
def phase_length_rad(frequency_Hz: Real, inductance_H_per_m: Real, capacitance_F_per_m: Real, length_m: Real) -> Real:
    """How much of a wave a rod is long.

    Example
    -------
    >>> round(float(phase_length_rad(100e3, 0.921e-6, 347.2e-12, 4.9)), 4)
    0.0551
    """
    return 2 * np.pi * frequency_Hz * np.sqrt(inductance_H_per_m * capacitance_F_per_m) * length_m


@formula(
    equation="x = sin(theta)/(theta*cos(theta)) - 1",
    gives=("x", "capacitance seen at the head over the true one, less 1"),
    where={"phase_length_rad": ("theta", "length of the rod in the phase of the wave on it", "(0, 1.5]")},
    source="derived: open transmission line; theta^2/3 for a short one",
)
def wave_excess_share(phase_length_rad: Real) -> Real:
    """By how much a long rod at a high frequency seems to hold more than it does.

    Example
    -------
    >>> round(float(wave_excess_share(0.0551)), 5)
    0.00101
    """
    return np.sin(phase_length_rad) / (phase_length_rad * np.cos(phase_length_rad)) - 1


@formula(
    equation="C = 8.8541878188e-12*epsilon*A/t",
    gives=("C", "capacitance through the wall"),
    where={
        "area_m2": ("A", "area of the wall that the liquid wets and earth lies behind", "(0, 1e5]"),
        "thickness_m": ("t", "thickness of the wall", "(0, 1]"),
        "relative_permittivity": ("epsilon", "relative permittivity of the wall", "[1, 1000]"),
    },
    source="derived: even field through a thin wall",
)
def through_wall_F(area_m2: Real, thickness_m: Real, relative_permittivity: Real) -> Real:
    """What closes the circuit of a probe without an electrode of its own in a plastic vessel.

    For a wall thin against its extent, with earth close behind all of it: what lies behind moves, and so does this.

    Example
    -------
    >>> round(float(through_wall_F(4.154756, 0.020, 2.3)) * 1e12)
    4231
    """
    return VACUUM_PERMITTIVITY_F_PER_M * relative_permittivity * area_m2 / thickness_m


@formula(
    equation="c = 8.8541878188e-12*epsilon*B/t",
    gives=("c", "capacitance per length of the wall before a strip"),
    where={
        "strip_width_m": ("B", "width of the strip", "(0, 100]"),
        "thickness_m": ("t", "thickness of the wall", "(0, 1]"),
        "relative_permittivity": ("epsilon", "relative permittivity of the wall", "[1, 1000]"),
    },
    source="derived: plate, its edges left out",
)
def strip_through_wall_F_per_m(strip_width_m: Real, thickness_m: Real, relative_permittivity: Real) -> Real:
    """What an earthed strip outside adds in series, per length: a wall that insulates.

    Example
    -------
    >>> round(strip_through_wall_F_per_m(0.1, 0.01, 2.3) * 1e12, 3)
    203.646
    """
    return VACUUM_PERMITTIVITY_F_PER_M * relative_permittivity * strip_width_m / thickness_m


@formula(
    equation="C = C_1*C_2/(C_1 + C_2)",
    gives=("C", "capacitance of both together"),
    where={
        "first_F": ("C_1", "the one capacitance", "(0, 1]"),
        "second_F": ("C_2", "the other, through which the circuit closes", "(0, 1]"),
    },
    source="derived: the same charge on both",
)
def closed_through_F(first_F: Real, second_F: Real) -> Real:
    """A probe whose circuit closes through another capacitance, such as the floor of a plastic vessel.

    Example
    -------
    >>> round(float(closed_through_F(546.323e-12, 4231e-12)) * 1e12, 2)
    483.85
    """
    return first_F * second_F / (first_F + second_F)
