"""Bias of an instrument against dips: how large it is, whether it is more than chance, whether it matters."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula
from onedatum.physics.detection.series import within

_COUNT = ("n", "number of comparisons", "[2, 1000000000]")
_S = ("s", "standard deviation of the differences", "[0.000001, 100]")
_U_DIP = ("u_d", "standard uncertainty that all the dips share, such as that of the tape", "[0, 100]")
_MEAN = ("d", "mean difference, instrument less dip", "[-1000, 1000]")
_U = ("u", "standard uncertainty of the mean difference", "(0, 1000]")
_NU = ("nu", "degrees of freedom", "[1, 1e+30]")


@formula(
    equation="u = sqrt(s**2/n + u_d**2)",
    gives=("u", "standard uncertainty of the mean difference"),
    where={"standard_m": _S, "count": _COUNT, "dip_u_m": _U_DIP},
    source="jcgm-100: 5.1.2",
)
def bias_standard_m(standard_m: Real, count: Real, dip_u_m: Real) -> Real:
    """Standard uncertainty of a bias: the scatter becomes less with each dip, what the dips share does not.

    Example
    -------
    >>> round(float(bias_standard_m(0.003, 9.0, 0.001)), 9)
    0.001414214
    """
    result: Real = np.sqrt(standard_m**2 / count + dip_u_m**2)
    return result


@formula(
    equation="nu = (n - 1)*(1 + n*u_d**2/s**2)**2",
    gives=("nu", "effective degrees of freedom of the mean difference"),
    where={"standard_m": _S, "count": _COUNT, "dip_u_m": _U_DIP},
    source="jcgm-100: G.4.1",
)
def bias_degrees_of_freedom(standard_m: Real, count: Real, dip_u_m: Real) -> Real:
    """Degrees of freedom of a bias, where the uncertainty that the dips share is known beyond doubt.

    Example
    -------
    >>> bias_degrees_of_freedom(0.001, 8.0, 0.0)
    7.0
    """
    return (count - 1) * (1 + count * dip_u_m**2 / standard_m**2) ** 2


@formula(
    equation="t = d/u",
    gives=("t", "mean difference over its standard uncertainty"),
    where={"mean_m": _MEAN, "u_m": _U},
    source="student-1908",
)
def bias_t(mean_m: Real, u_m: Real) -> Real:
    """Bias as a multiple of its standard uncertainty.

    Example
    -------
    >>> bias_t(0.002, 0.001)
    2.0
    """
    return mean_m / u_m


@formula(
    method="2*P(T > abs(t)), T of Student's distribution with nu degrees of freedom",
    gives=("p", "probability of a value as far from zero, or farther, by chance"),
    where={"t": ("t", "value over its standard uncertainty", "[-1000000, 1000000]"), "degrees_of_freedom": _NU},
    source="student-1908",
)
def t_probability(t: Real, degrees_of_freedom: Real) -> Real:
    """Probability that chance alone gives a value as far from zero, on either side.

    Example
    -------
    >>> round(float(t_probability(6.115884, 7.0)), 6)
    0.000483
    """
    from scipy.special import stdtr

    return same_kind(2.0 * stdtr(degrees_of_freedom, -np.abs(t)))


@formula(
    equation="b = abs(d) + k*u",
    gives=("b", "size of the bias, at most"),
    where={"mean_m": _MEAN, "coverage_factor": ("k", "coverage factor", "[0, 10]"), "u_m": _U},
    source="derived",
)
def bias_bound_m(mean_m: Real, coverage_factor: Real, u_m: Real) -> Real:
    """Size that a bias may have: below the tolerance it does not matter, whatever the probability says.

    Example
    -------
    >>> round(float(bias_bound_m(-0.001, 2.0, 0.0005)), 9)
    0.002
    """
    result: Real = np.abs(mean_m) + coverage_factor * u_m
    return result


def least_told(u: float, degrees_of_freedom: float, chance: float, missed: float) -> float:
    """The least size that a test of t finds, but for a share of the cases.

    Formula
    -------
    x = (t(1 - chance/2) + t(1 - missed))*u, by the quantiles of t

    Parameters
    ----------
    u : float
        standard uncertainty of what is tested [any unit], 0 or more
    degrees_of_freedom : float
        of it, above 0
    chance : float
        of a finding where there is nothing, to either side, above 0 and below 1
    missed : float
        share of the cases of that size which are not found, above 0 and up to a half

    Returns
    -------
    float
        size, in the unit of u

    Validity
    --------
    The shifted t is taken for a t about the size, which is close from some eight degrees of freedom on.

    Source
    ------
    ISO 11843-2:2000, minimum detectable value by two quantiles [from memory]

    Example
    -------
    >>> round(least_told(1.0, 1e9, 0.05, 0.05), 3)
    3.605
    """
    from scipy.special import stdtrit

    within(chance, 0.0, 0.999, "least_told", "chance", "a test that always or never finds tells nothing")
    within(missed, 0.0, 0.5, "least_told", "missed", "what is missed more often than not is not found")
    within(degrees_of_freedom, 0.0, 1e12, "least_told", "degrees_of_freedom", "t needs some")
    quantiles = stdtrit(degrees_of_freedom, 1.0 - 0.5 * chance) + stdtrit(degrees_of_freedom, 1.0 - missed)
    return float(quantiles * u)
