"""Conformity with limits: how probable it is, and what a rule decides (JCGM 106, ILAC-G8)."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import erfc, inf, isnan, nan, sqrt
from typing import Literal, NamedTuple

SIMPLE, GUARDED_ACCEPTANCE, GUARDED_REJECTION = "simple acceptance", "guarded acceptance", "guarded rejection"
Decision = Literal["accepted", "not accepted"]


class Limits(NamedTuple):
    """The least and the greatest value; None where there is no such limit."""

    low: float | None
    high: float | None


def conformance_probability(value: float, u: float, lower: float | None, upper: float | None) -> float:
    """Probability that what was measured keeps within its limits.

    Formula
    -------
    p_c = Phi((T_U - y)/u) - Phi((T_L - y)/u)

    Parameters
    ----------
    value : float
        y, the result [unit of the result]
    u : float
        its standard uncertainty [unit of the result]
    lower, upper : float or None
        T_L and T_U, the limits; None: there is none [unit of the result]

    Returns
    -------
    float
        p_c [1]

    Validity
    --------
    a normal distribution of the result, little known beforehand; for u = 0 it is 0 or 1; NaN where the result or u is

    Source
    ------
    JCGM 106:2012 The role of measurement uncertainty in conformity assessment, 7.2 to 7.4 [from memory]

    Example
    -------
    >>> round(conformance_probability(-5.47, 0.05, None, -5.40), 2)
    0.92
    """
    above = _below(inf if upper is None else upper - value, u)
    return above - (0.0 if lower is None else _below(lower - value, u, reached=False))


def guard_band(expanded: float, factor: float) -> float:
    """Width of a guard band.

    Formula
    -------
    w = r*U

    Parameters
    ----------
    expanded : float
        U, expanded uncertainty (k = 2) [unit of the result]
    factor : float
        r, multiple of it [1]

    Returns
    -------
    float
        w [unit of the result]

    Validity
    --------
    r of zero or more

    Source
    ------
    JCGM 106:2012 The role of measurement uncertainty in conformity assessment, 8.3.2 [from memory]

    Example
    -------
    >>> guard_band(0.5, 1.0)
    0.5
    """
    return factor * expanded


def acceptance_limits(lower: float | None, upper: float | None, rule: str, guard: float = 0.0) -> Limits:
    """The limits within which a result is accepted.

    Formula
    -------
    A_U = T_U - w, A_L = T_L + w by guarded acceptance; A_U = T_U + w, A_L = T_L - w by guarded rejection;
    A = T by simple acceptance

    Parameters
    ----------
    lower, upper : float or None
        T_L and T_U, the limits of the tolerance; None: there is none [unit of the result]
    rule : str
        one of simple acceptance, guarded acceptance, guarded rejection
    guard : float
        w, width of the guard band [unit of the result]

    Returns
    -------
    Limits
        A_L and A_U [unit of the result]

    Validity
    --------
    w of zero or more; where guard bands of both sides meet, nothing is accepted

    Source
    ------
    JCGM 106:2012 The role of measurement uncertainty in conformity assessment, 8.2 and 8.3 [from memory]

    Example
    -------
    >>> acceptance_limits(None, 2.0, "guarded acceptance", 0.5)
    Limits(low=None, high=1.5)
    """
    inward = {SIMPLE: 0.0, GUARDED_ACCEPTANCE: guard, GUARDED_REJECTION: -guard}[rule]
    return Limits(None if lower is None else lower + inward, None if upper is None else upper - inward)


def decide(value: float, low: float | None, high: float | None) -> Decision:
    """Whether a result is accepted.

    Formula
    -------
    A_L <= y <= A_U

    Parameters
    ----------
    value : float
        y, the result [unit of the result]
    low, high : float or None
        A_L and A_U as `acceptance_limits` gives them [unit of the result]

    Returns
    -------
    str
        accepted, or not accepted

    Validity
    --------
    the rule was agreed before the result was known

    Source
    ------
    JCGM 106:2012 The role of measurement uncertainty in conformity assessment, 8.1 [from memory]

    Example
    -------
    >>> decide(1.6, None, 1.5)
    'not accepted'
    """
    within = (low is None or value >= low) and (high is None or value <= high)
    return "accepted" if within else "not accepted"


def specific_risk(factor: float, k: float) -> float:
    """Probability that what stands at the limit of acceptance does not conform.

    Formula
    -------
    p = Phi(-r*k)

    Parameters
    ----------
    factor : float
        r, width of the guard band as a multiple of U [1]
    k : float
        coverage factor of U [1]

    Returns
    -------
    float
        p [1]

    Validity
    --------
    one limit, a normal distribution of the result

    Source
    ------
    ILAC-G8:09/2019 Decision rules and statements of conformity, table of guard bands [from memory]

    Example
    -------
    >>> round(specific_risk(1.0, 2.0), 4)
    0.0228
    """
    return _below(-factor * k, 1.0)


class Risks(NamedTuple):
    """Shares of all items."""

    consumer: float
    """Accepted, but out of tolerance."""
    producer: float
    """Rejected, but within."""


def global_risks(
    density: Callable[[float], float], span: Limits, u: float, tolerance: Limits, accepted: Limits
) -> Risks:
    """Shares of a production that are wrongly accepted and wrongly rejected.

    Formula
    -------
    R_C = integral over x out of tolerance of g(x)*P(accepted | x); R_P = integral over x within of g(x)*P(rejected | x)

    Parameters
    ----------
    density : function
        g, density of the true values of the production [1/unit]
    span : Limits
        where it is looked at, both ends given [unit]
    u : float
        standard uncertainty of the measurement, normal [unit]
    tolerance, accepted : Limits
        limits of the tolerance and of acceptance [unit]

    Returns
    -------
    Risks
        shares of all items [1]

    Validity
    --------
    the density is that of the production measured, and integrates to 1 over the span

    Source
    ------
    JCGM 106:2012 The role of measurement uncertainty in conformity assessment, 9.5 [from memory]

    Example
    -------
    >>> flat = lambda x: 1.0
    >>> round(global_risks(flat, Limits(0.0, 1.0), 0.01, Limits(None, 0.5), Limits(None, 0.5)).consumer, 5)
    0.00399
    """
    from scipy.integrate import quad

    start, end = (0.0 if edge is None else edge for edge in span)

    def share(within: bool) -> float:
        def part(x: float) -> float:
            held = (tolerance.low is None or x >= tolerance.low) and (tolerance.high is None or x <= tolerance.high)
            p = conformance_probability(x, u, *accepted)
            return density(x) * ((1.0 - p if within else p) if held is within else 0.0)

        corners = [c for c in (*tolerance, *accepted) if c is not None and start < c < end]
        near = sorted({c + d * u for c in corners for d in (-6.0, 0.0, 6.0) if start < c + d * u < end})
        stops = [start, *near, end]
        return float(sum(quad(part, a, b, epsabs=1e-13)[0] for a, b in pairwise(stops)))

    return Risks(share(False), share(True))


def _below(distance: float, u: float, reached: bool = True) -> float:
    """Share of a normal distribution below a point so far above its middle; without spread all or nothing."""
    if isnan(distance) or isnan(u):
        return nan
    if u > 0.0:
        return 0.5 * erfc(-distance / (u * sqrt(2.0)))
    return float(distance > 0.0 or (reached and distance == 0.0))
