"""Simplified probability of failure on demand, without repair times, and the exact one of a single channel.

T_1 is the proof test interval, lambda_DU the rate of dangerous failures that the diagnostics do not find.
"""

from __future__ import annotations

from math import factorial

import numpy as np

from onedatum.foundation.numerics import Real, polynomial, same_kind
from onedatum.foundation.working import formula

_RATE = ("lambda_DU", "rate of dangerous undetected failures of one channel", "(0, 0.000001]")
_INTERVAL = "(0, 1000000000]"
_T1 = ("T_1", "proof test interval", _INTERVAL)
_BETA = ("beta", "share of the failures that strike all channels at once", "[0, 1]")
_GIVES = ("PFD", "average probability of failure on demand")
_CERTAIN = "a probability cannot exceed 1"
_SERIES_UP_TO = 0.1
"""Below it the closed form would lose digits."""
_SERIES = [(-1.0) ** power / factorial(power + 2) for power in range(12)]
"""(x - 1 + exp(-x))/x**2 in powers of x."""


@formula(
    equation="n = lambda_DU*T_1",
    gives=("n", "undetected failures to be expected within one proof test interval"),
    where={"undetected_rate_per_s": _RATE, "proof_interval_s": _T1},
    source="derived: rate times time",
)
def failures_per_interval(undetected_rate_per_s: Real, proof_interval_s: Real) -> Real:
    """Undetected failures of one channel to be expected within a proof test interval; small, or first order fails.

    Example
    -------
    >>> round(failures_per_interval(2.5e-6 / 3600, 87600 * 3600.0), 6)
    0.219
    """
    return undetected_rate_per_s * proof_interval_s


@formula(
    equation="PFD = lambda_DU*T_1/2",
    gives=_GIVES,
    where={"undetected_rate_per_s": _RATE, "proof_interval_s": _T1},
    requires=(("lambda_DU <= 2/T_1", _CERTAIN),),
    source="isa-tr84: 1oo1",
)
def simplified_pfd_1oo1(undetected_rate_per_s: Real, proof_interval_s: Real) -> Real:
    """Simplified probability that a single channel fails on demand.

    Example
    -------
    >>> round(simplified_pfd_1oo1(2e-7 / 3600, 8760 * 3600.0), 9)
    0.000876
    """
    return undetected_rate_per_s * proof_interval_s / 2


@formula(
    equation="PFD = ((1 - beta)*lambda_DU*T_1)**2/3 + beta*lambda_DU*T_1/2",
    gives=_GIVES,
    where={"undetected_rate_per_s": _RATE, "beta": _BETA, "proof_interval_s": _T1},
    requires=(("lambda_DU <= sqrt(3)/T_1", _CERTAIN),),
    source="isa-tr84: 1oo2",
)
def simplified_pfd_1oo2(undetected_rate_per_s: Real, beta: Real, proof_interval_s: Real) -> Real:
    """Simplified probability that two channels, one of which is enough, fail on demand.

    Example
    -------
    >>> round(simplified_pfd_1oo2(2e-7 / 3600, 0.05, 8760 * 3600.0), 14)
    4.472340912e-05
    """
    product = undetected_rate_per_s * proof_interval_s
    return ((1 - beta) * product) ** 2 / 3 + beta * product / 2


@formula(
    equation="PFD = lambda_DU*T_1",
    gives=_GIVES,
    where={"undetected_rate_per_s": _RATE, "proof_interval_s": _T1},
    requires=(("lambda_DU <= 1/T_1", _CERTAIN),),
    source="isa-tr84: 2oo2",
)
def simplified_pfd_2oo2(undetected_rate_per_s: Real, proof_interval_s: Real) -> Real:
    """Simplified probability that two channels, both of which are needed, fail on demand.

    Example
    -------
    >>> round(simplified_pfd_2oo2(2e-7 / 3600, 8760 * 3600.0), 9)
    0.001752
    """
    return undetected_rate_per_s * proof_interval_s


@formula(
    equation="PFD = ((1 - beta)*lambda_DU*T_1)**2 + beta*lambda_DU*T_1/2",
    gives=_GIVES,
    where={"undetected_rate_per_s": _RATE, "beta": _BETA, "proof_interval_s": _T1},
    requires=(("lambda_DU <= 1/T_1", _CERTAIN),),
    source="isa-tr84: 2oo3",
)
def simplified_pfd_2oo3(undetected_rate_per_s: Real, beta: Real, proof_interval_s: Real) -> Real:
    """Simplified probability that three channels, two of which are enough, fail on demand.

    Example
    -------
    >>> round(simplified_pfd_2oo3(2e-7 / 3600, 0.05, 8760 * 3600.0), 14)
    4.657022736e-05
    """
    product = undetected_rate_per_s * proof_interval_s
    return ((1 - beta) * product) ** 2 + beta * product / 2


@formula(
    equation="PFD = lambda_DU*(c*T_1/2 + (1 - c)*T_2/2)",
    gives=_GIVES,
    where={
        "undetected_rate_per_s": _RATE,
        "test_coverage": ("c", "coverage of the proof test", "[0, 1]"),
        "proof_interval_s": _T1,
        "renewal_interval_s": ("T_2", "interval of renewal, or of a test that finds all", _INTERVAL),
    },
    requires=(
        ("T_2 >= T_1", "the renewal comes with a proof test or after it"),
        ("lambda_DU <= 2/T_2", _CERTAIN),
    ),
    source="iec-61508-6: Annex B, imperfect proof test, without the repair times",
)
def simplified_pfd_1oo1_imperfect(
    undetected_rate_per_s: Real, test_coverage: Real, proof_interval_s: Real, renewal_interval_s: Real
) -> Real:
    """Simplified probability that a single channel fails on demand where the proof test does not find all.

    Example
    -------
    >>> round(simplified_pfd_1oo1_imperfect(2e-7 / 3600, 0.8, 8760 * 3600.0, 87600 * 3600.0), 9)
    0.0024528
    """
    return undetected_rate_per_s * (test_coverage * proof_interval_s / 2 + (1 - test_coverage) * renewal_interval_s / 2)


@formula(
    equation="PFD = 1 - (1 - exp(-lambda_DU*T_1))/(lambda_DU*T_1)",
    gives=_GIVES,
    where={"undetected_rate_per_s": _RATE, "proof_interval_s": _T1},
    source="derived: mean of 1 - exp(-lambda*t) over the interval",
)
def exact_pfd_1oo1(undetected_rate_per_s: Real, proof_interval_s: Real) -> Real:
    """Exact probability that a single channel, as good as new after each proof test, fails on demand.

    Accurate however small the product of rate and interval is.

    Example
    -------
    >>> round(float(exact_pfd_1oo1(2e-7 / 3600, 8760 * 3600.0)), 11)
    0.00087548864
    """
    product = np.asarray(undetected_rate_per_s * proof_interval_s, dtype=np.float64)
    small, large = np.minimum(product, _SERIES_UP_TO), np.maximum(product, _SERIES_UP_TO)
    by_series = small * polynomial(_SERIES, small)
    return same_kind(np.where(product < _SERIES_UP_TO, by_series, 1 + np.expm1(-large) / large))
