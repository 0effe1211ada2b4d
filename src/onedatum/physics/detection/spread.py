"""Noise that has become more, or less: the variance of residuals against the one they had."""

from __future__ import annotations

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula

_NU = ("nu", "degrees of freedom: the number of residuals less the means taken off", "[1, 1000000]")
_ALPHA = ("alpha", "probability of a value beyond by chance", "[1e-9, 0.5]")


@formula(
    equation="c = nu*s**2/s_0**2",
    gives=("c", "sum of squares over the variance that was"),
    where={
        "degrees_of_freedom": _NU,
        "standard_m": ("s", "standard deviation now", "[0, 100]"),
        "reference_standard_m": ("s_0", "standard deviation while all was well", "[0.000001, 100]"),
    },
    source="pearson-1900",
)
def variance_statistic(degrees_of_freedom: Real, standard_m: Real, reference_standard_m: Real) -> Real:
    """Sum of the squares of residuals over the variance they had; for independent residuals alone.

    Example
    -------
    >>> round(variance_statistic(19.0, 0.002, 0.002), 9)
    19.0
    """
    return degrees_of_freedom * standard_m**2 / reference_standard_m**2


@formula(
    method="the value that chi-squared with nu degrees of freedom exceeds with probability alpha",
    gives=("c_u", "upper limit of chi-squared"),
    where={"degrees_of_freedom": _NU, "chance": _ALPHA},
    source="pearson-1900",
)
def variance_upper_limit(degrees_of_freedom: Real, chance: Real) -> Real:
    """Limit above which noise has become more: a bad contact, foam, an agitator, a second earth.

    Example
    -------
    >>> round(float(variance_upper_limit(19.0, 0.01)), 3)
    36.191
    """
    from scipy.special import chdtri

    return same_kind(chdtri(degrees_of_freedom, chance))


@formula(
    method="the value below which chi-squared with nu degrees of freedom lies with probability alpha",
    gives=("c_l", "lower limit of chi-squared"),
    where={"degrees_of_freedom": _NU, "chance": _ALPHA},
    source="pearson-1900",
)
def variance_lower_limit(degrees_of_freedom: Real, chance: Real) -> Real:
    """Limit below which noise has become less: build-up, a float that sticks, a longer damping.

    Example
    -------
    >>> round(float(variance_lower_limit(19.0, 0.01)), 3)
    7.633
    """
    from scipy.special import gammaincinv

    return same_kind(2.0 * gammaincinv(degrees_of_freedom / 2.0, chance))


@formula(
    method="P(X > c), X of chi-squared with nu degrees of freedom",
    gives=("p", "probability of a value as large, or larger, by chance"),
    where={"statistic": ("c", "value of chi-squared", "[0, 10000000]"), "degrees_of_freedom": _NU},
    source="pearson-1900",
)
def chi_squared_probability(statistic: Real, degrees_of_freedom: Real) -> Real:
    """Probability that chance alone gives a chi-squared as large.

    Example
    -------
    >>> round(float(chi_squared_probability(3.841459, 1.0)), 6)
    0.05
    """
    from scipy.special import chdtrc

    return same_kind(chdtrc(degrees_of_freedom, statistic))
