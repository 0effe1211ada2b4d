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
