"""Uncertainty of a level above the datum of the vessel."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula


@formula(
    equation="U = k*sqrt(u_h**2 + u_d**2)",
    gives=("U", "expanded uncertainty of the level above the datum of the vessel"),
    where={
        "level_u_m": ("u_h", "standard uncertainty of the reading", "[0, 100]"),
        "datum_u_m": ("u_d", "standard uncertainty of the height of the datum", "[0, 100]"),
        "coverage_factor": ("k", "coverage factor", "(0, 10]"),
    },
    source="jcgm-100: 5.1.2 and 6.2.1",
)
def level_uncertainty_m(level_u_m: Real, datum_u_m: Real, coverage_factor: Real) -> Real:
    """Expanded uncertainty of a level, reading and datum together.

    Both are taken as independent.

    Example
    -------
    >>> float(round(level_uncertainty_m(0.000289, 0.001155, 2.0), 5))
    0.00238
    """
    result: Real = coverage_factor * np.sqrt(level_u_m**2 + datum_u_m**2)
    return result


@formula(
    equation="U_1 = sqrt(U**2 + (k*u)**2)",
    gives=("U_1", "expanded uncertainty of the level with that of the column beside it"),
    where={
        "level_uncertainty_m": ("U", "expanded uncertainty of the level", "[0, 100]"),
        "column_u_m": ("u", "standard uncertainty of the level by densities of columns", "[0, 50]"),
        "coverage_factor": ("k", "coverage factor", "(0, 10]"),
    },
    source="jcgm-100: 5.1.2 and 6.2.1",
)
def with_column_uncertainty_m(level_uncertainty_m: Real, column_u_m: Real, coverage_factor: Real) -> Real:
    """Expanded uncertainty of a level that is told by a column: of a chamber, or of the legs of a transmitter.

    Both are taken as independent.

    Example
    -------
    >>> float(round(with_column_uncertainty_m(0.00258, 0.00181, 2.0), 5))
    0.00445
    """
    return np.sqrt(level_uncertainty_m**2 + (coverage_factor * column_u_m) ** 2)


@formula(
    equation="u = abs(e)/sqrt(3)",
    gives=("u", "standard uncertainty of an error that nobody corrects"),
    where={
        "error_m": ("e", "the error at its greatest; any between it and its mirror image is as likely", "[-200, 200]")
    },
    source="jcgm-100: 4.3.7, limits without a coverage factor are rectangular",
)
def error_standard_m(error_m: Real) -> Real:
    """Standard uncertainty of an error known by its greatest size alone; the sign it has is given away.

    Example
    -------
    >>> float(round(error_standard_m(-0.003), 6))
    0.001732
    """
    result: Real = np.abs(error_m) / np.sqrt(3.0)
    return result


@formula(
    equation="U_1 = sqrt(U**2 + (k*u)**2)",
    gives=("U_1", "expanded uncertainty of the level with what the probe itself adds"),
    where={
        "level_uncertainty_m": ("U", "expanded uncertainty of the level", "[0, 100]"),
        "probe_u_m": ("u", "standard uncertainty of the level by the probe itself", "[0, 1000]"),
        "coverage_factor": ("k", "coverage factor", "(0, 10]"),
    },
    source="jcgm-100: 5.1.2 and 6.2.1",
)
def with_probe_uncertainty_m(level_uncertainty_m: Real, probe_u_m: Real, coverage_factor: Real) -> Real:
    """Expanded uncertainty of a level that a capacitive probe tells: reading, datum and probe together.

    All are taken as independent.

    Example
    -------
    >>> float(round(with_probe_uncertainty_m(0.006, 0.004, 2.0), 6))
    0.01
    """
    return np.sqrt(level_uncertainty_m**2 + (coverage_factor * probe_u_m) ** 2)
