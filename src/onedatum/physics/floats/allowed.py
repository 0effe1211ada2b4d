"""What a float is allowed to bear: the pressure at which it fails, brought down; the pressure of a test; foam."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula


@formula(
    equation="p_a = k*p/s",
    gives=("p_a", "pressure allowed by buckling"),
    where={
        "buckling_difference_Pa": ("p", "pressure at which the perfect wall buckles", "[0, 1e12]"),
        "knockdown": ("k", "share of it that real walls reach", "(0, 1]"),
        "safety": ("s", "factor of safety", "[1, 10]"),
    },
    source="common-practice: knockdown and factor are a choice of the design",
)
def allowed_by_buckling_difference_Pa(buckling_difference_Pa: Real, knockdown: Real, safety: Real) -> Real:
    """Pressure allowed by buckling.

    Example
    -------
    >>> round(allowed_by_buckling_difference_Pa(525.64e5, 0.14, 3.0) / 1e5, 2)
    24.53
    """
    return knockdown * buckling_difference_Pa / safety


@formula(
    equation="p_a = p/s",
    gives=("p_a", "pressure allowed by yield"),
    where={
        "yield_difference_Pa": ("p", "pressure at which the wall yields", "[0, 1e12]"),
        "safety": ("s", "factor of safety", "[1, 10]"),
    },
    source="common-practice: the factor is a choice of the design",
)
def allowed_by_yield_difference_Pa(yield_difference_Pa: Real, safety: Real) -> Real:
    """Pressure allowed by yield.

    Example
    -------
    >>> round(allowed_by_yield_difference_Pa(51.0e5, 1.5) / 1e5, 2)
    34.0
    """
    return yield_difference_Pa / safety


@formula(
    equation="p_a = min(p_b, p_y)",
    gives=("p_a", "pressure the wall is allowed"),
    where={
        "by_buckling_difference_Pa": ("p_b", "pressure allowed by buckling", "[0, 1e12]"),
        "by_yield_difference_Pa": ("p_y", "pressure allowed by yield", "[0, 1e12]"),
    },
    source="derived: the weaker decides",
)
def allowed_difference_Pa(by_buckling_difference_Pa: Real, by_yield_difference_Pa: Real) -> Real:
    """Pressure that a wall is allowed.

    Example
    -------
    >>> float(allowed_difference_Pa(24.5e5, 34.0e5))
    2450000.0
    """
    return same_kind(np.minimum(by_buckling_difference_Pa, by_yield_difference_Pa))


@formula(
    equation="p_t = f*p",
    gives=("p_t", "pressure of the test"),
    where={
        "allowed_pressure_Pa_gauge": ("p", "highest pressure allowed in operation", "[0, 1e9]"),
        "factor": ("f", "factor of the test", "[1, 3]"),
    },
    source="ped-annex-i: the greater of 1.43 PS and 1.25 times the heaviest loading in service",
)
def test_pressure_Pa_gauge(allowed_pressure_Pa_gauge: Real, factor: Real) -> Real:
    """Pressure at which a vessel is tested; a float left inside sees it.

    Example
    -------
    >>> round(test_pressure_Pa_gauge(10e5, 1.43) / 1e5, 2)
    14.3
    """
    return factor * allowed_pressure_Pa_gauge


@formula(
    equation="p_t = max(p_a, p_h)",
    gives=("p_t", "pressure of the test"),
    where={
        "by_allowed_Pa_gauge": ("p_a", "pressure of the test by the highest pressure allowed", "[0, 1e9]"),
        "by_loading_Pa_gauge": ("p_h", "pressure of the test by the heaviest loading in service", "[0, 1e9]"),
    },
    source="ped-annex-i: the greater of 1.43 PS and 1.25 times the heaviest loading in service",
)
def greater_test_pressure_Pa_gauge(by_allowed_Pa_gauge: Real, by_loading_Pa_gauge: Real) -> Real:
    """Pressure at which a vessel is tested where both ways of reckoning it are known.

    Example
    -------
    >>> float(greater_test_pressure_Pa_gauge(14.3e5, 12.0e5))
    1430000.0
    """
    return same_kind(np.maximum(by_allowed_Pa_gauge, by_loading_Pa_gauge))


@formula(
    equation="c = p/K",
    gives=("c", "share of its volume that foam loses"),
    where={
        "pressure_difference_Pa": ("p", "pressure outside less that of making", "[0, 1e9]"),
        "bulk_modulus_Pa": ("K", "bulk modulus of the foam", "[1e5, 1e11]"),
    },
    requires=(("p <= K", "the foam is no longer elastic"),),
    source="derived: elastic compression",
)
def foam_compression_share(pressure_difference_Pa: Real, bulk_modulus_Pa: Real) -> Real:
    """Share of its volume by which a float of foam is pressed together.

    Example
    -------
    >>> foam_compression_share(1e6, 1e8)
    0.01
    """
    return pressure_difference_Pa / bulk_modulus_Pa
