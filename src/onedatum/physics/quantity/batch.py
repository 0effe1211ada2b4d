"""Batches by the difference of two levels: what cancels between the readings, and what does not."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SURFACE = "[0, 100000]"
_LEVEL = "[-1000, 1000]"
_VOLUME = "[-1000000, 1000000]"
_U_LENGTH = "[0, 10]"
_U_SHARE = "[0, 1]"
_FACTOR = ("k", "coverage factor", "[1, 5]")
_WANTED = ("tau", "relative expanded uncertainty wanted of a batch", "(0, 1]")


@formula(
    equation="dm = m_1 - m_2",
    gives=("dm", "difference of two masses"),
    where={
        "first_kg": ("m_1", "first mass", "[-1e10, 1e10]"),
        "second_kg": ("m_2", "second mass, taken from it", "[-1e10, 1e10]"),
    },
    source="derived: difference",
)
def mass_difference_kg(first_kg: Real, second_kg: Real) -> Real:
    """Difference of two masses.

    Example
    -------
    >>> mass_difference_kg(5200.0, 1300.0)
    3900.0
    """
    return first_kg - second_kg


@formula(
    equation="dV = (A_1 - A_2)*e",
    gives=("dV", "error of a batch from an offset that both readings share, first order"),
    where={
        "first_surface_m2": ("A_1", "surface at the level before", _SURFACE),
        "second_surface_m2": ("A_2", "surface at the level after", _SURFACE),
        "offset_m": ("e", "offset of both readings", "[-10, 10]"),
    },
    source="derived: difference of two slices",
)
def offset_effect_m3(first_surface_m2: Real, second_surface_m2: Real, offset_m: Real) -> Real:
    """What an offset that both readings share does to a batch: nothing in a tank of one section.

    Example
    -------
    >>> round(offset_effect_m3(10.0, 7.1414, 0.003), 6)
    0.008576
    """
    return (first_surface_m2 - second_surface_m2) * offset_m


@formula(
    equation="dV = A*s*(h_1 - h_2)",
    gives=("dV", "error of a batch from the scale of the gauge, in a tank of one section"),
    where={
        "surface_m2": ("A", "section of the tank", _SURFACE),
        "scale_error": ("s", "error of the scale in share of the reading", "[-0.5, 0.5]"),
        "first_level_m": ("h_1", "level before", _LEVEL),
        "second_level_m": ("h_2", "level after", _LEVEL),
    },
    source="derived: share of the height taken",
)
def scale_effect_m3(surface_m2: Real, scale_error: Real, first_level_m: Real, second_level_m: Real) -> Real:
    """What an error of the gauge's scale does to a batch: it never cancels.

    Example
    -------
    >>> round(scale_effect_m3(12.566370614, 0.0005, 6.0, 2.0), 8)
    0.02513274
    """
    return surface_m2 * scale_error * (first_level_m - second_level_m)


@formula(
    equation=(
        "u = sqrt((A_1*u_e)**2 + (A_2*u_e)**2 + ((A_1 - A_2)*u_o)**2 + ((A_1*h_1 - A_2*h_2)*u_s)**2 + (dV*u_g)**2)"
    ),
    gives=("u", "standard uncertainty of a batch"),
    where={
        "first_surface_m2": ("A_1", "surface at the level before", _SURFACE),
        "second_surface_m2": ("A_2", "surface at the level after", _SURFACE),
        "first_level_m": ("h_1", "level before", _LEVEL),
        "second_level_m": ("h_2", "level after", _LEVEL),
        "batch_m3": ("dV", "volume of the batch", _VOLUME),
        "reading_u_m": ("u_e", "standard uncertainty that each reading has of its own", _U_LENGTH),
        "datum_u_m": ("u_o", "that of an offset both readings share", _U_LENGTH),
        "scale_u": ("u_s", "that of the scale of the gauge, in share of the reading", _U_SHARE),
        "table_u": ("u_g", "that of the tank table, in share of the volume", _U_SHARE),
    },
    source="jcgm-100: 5.1.2, on the difference of two volumes",
)
def batch_uncertainty_m3(
    first_surface_m2: Real,
    second_surface_m2: Real,
    first_level_m: Real,
    second_level_m: Real,
    batch_m3: Real,
    reading_u_m: Real,
    datum_u_m: Real,
    scale_u: Real,
    table_u: Real,
) -> Real:
    """Standard uncertainty of a batch by two levels of one gauge in one tank.

    Temperature, strength and what happens between the readings, such as a leak, are not in it.

    Example
    -------
    >>> float(round(batch_uncertainty_m3(12.566, 12.566, 6.0, 2.0, 50.265, 0.0007, 0.002, 0.0002, 0.001), 4))
    0.0527
    """
    result: Real = np.sqrt(
        (first_surface_m2 * reading_u_m) ** 2
        + (second_surface_m2 * reading_u_m) ** 2
        + ((first_surface_m2 - second_surface_m2) * datum_u_m) ** 2
        + ((first_surface_m2 * first_level_m - second_surface_m2 * second_level_m) * scale_u) ** 2
        + (batch_m3 * table_u) ** 2
    )
    return result


@formula(
    equation="s = tau**2 - k**2*(u_s**2 + u_g**2)",
    gives=("s", "what scale and table leave of the square of the uncertainty wanted"),
    where={
        "scale_u": ("u_s", "standard uncertainty of the scale of the gauge, in share of the reading", _U_SHARE),
        "table_u": ("u_g", "that of the tank table, in share of the volume", _U_SHARE),
        "wanted_share": _WANTED,
        "coverage_factor": _FACTOR,
    },
    source="derived: what does not shrink as the batch grows",
)
def batch_scope(scale_u: Real, table_u: Real, wanted_share: Real, coverage_factor: Real) -> Real:
    """What scale and table leave for the readings; not above zero where the table is too poor for any batch.

    Example
    -------
    >>> round(batch_scope(0.0002, 0.0015, 0.005, 2.0), 8)
    1.584e-05
    """
    return wanted_share**2 - coverage_factor**2 * (scale_u**2 + table_u**2)


@formula(
    equation="dh = k*sqrt(2)*u_e/sqrt(tau**2 - k**2*(u_s**2 + u_g**2))",
    gives=("dh", "least difference of level, in a tank of one section"),
    where={
        "reading_u_m": ("u_e", "standard uncertainty that each reading has of its own", _U_LENGTH),
        "scale_u": ("u_s", "that of the scale of the gauge, in share of the reading", _U_SHARE),
        "table_u": ("u_g", "that of the tank table, in share of the volume", _U_SHARE),
        "wanted_share": _WANTED,
        "coverage_factor": _FACTOR,
    },
    requires=(("tau > k*sqrt(u_s**2 + u_g**2)", "the table is too poor: no difference of level is large enough"),),
    source="derived: the uncertainty of a batch set equal to that wanted",
)
def least_level_difference_m(
    reading_u_m: Real, scale_u: Real, table_u: Real, wanted_share: Real, coverage_factor: Real
) -> Real:
    """Least difference of level at which a batch from a tank of one section is known as well as wanted.

    Example
    -------
    >>> float(round(least_level_difference_m(0.001, 0.0002, 0.0015, 0.005, 2.0), 2))
    0.71
    """
    left = batch_scope(scale_u, table_u, wanted_share, coverage_factor)
    with np.errstate(invalid="ignore", divide="ignore"):
        result: Real = coverage_factor * np.sqrt(2.0) * reading_u_m / np.sqrt(left)
    return result
