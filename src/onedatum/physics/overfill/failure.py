"""Average probability of failure on demand of a group of equal channels, after IEC 61508-6 Annex B, low demand.

The equations are of first order: they hold while undetected failures are rare within a proof test interval. `markov`
works the same groups without that restriction.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SHARE = "[0, 1]"
_DOWN = "(0, 1000000000]"
_RATE = ("lambda_D", "rate of dangerous failures of one channel", "(0, 0.000001]")
_DC = ("DC", "diagnostic coverage, share of the dangerous failures that the diagnostics find", _SHARE)
_BETA = ("beta", "share of the undetected failures that strike all channels at once", _SHARE)
_BETA_D = ("beta_D", "share of the detected failures that strike all channels at once", _SHARE)
_CHANNEL = ("t_CE", "channel equivalent mean down time", _DOWN)
_GROUP = ("t_GE", "group equivalent mean down time", _DOWN)
_UNDETECTED = ("t_U", "mean down time of an undetected failure", "[0, 1000000000]")
_MTTR = ("MTTR", "mean time to restoration of a failure found by the diagnostics", "[0, 100000000]")
_NOT_LONGER = ("t_GE <= t_CE", "what fails second has less of the interval before it")
_CERTAIN = "a probability cannot exceed 1"


@formula(
    equation="lambda_DU = lambda_D*(1 - DC)",
    gives=("lambda_DU", "rate of dangerous failures that the diagnostics do not find"),
    where={"dangerous_rate_per_s": _RATE, "diagnostic_coverage": _DC},
    source="iec-61508-6: Annex B",
)
def undetected_rate_per_s(dangerous_rate_per_s: Real, diagnostic_coverage: Real) -> Real:
    """Rate of the dangerous failures that the diagnostics do not find.

    Example
    -------
    >>> round(undetected_rate_per_s(2.5e-6 / 3600, 0.9) * 3600, 12)
    2.5e-07
    """
    return dangerous_rate_per_s * (1 - diagnostic_coverage)


@formula(
    equation="PFD = lambda_D*t_CE",
    gives=("PFD", "average probability of failure on demand of one channel"),
    where={"dangerous_rate_per_s": _RATE, "equivalent_down_time_s": _CHANNEL},
    requires=(("lambda_D <= 1/t_CE", _CERTAIN),),
    source="iec-61508-6: Annex B, 1oo1",
)
def pfd_1oo1(dangerous_rate_per_s: Real, equivalent_down_time_s: Real) -> Real:
    """Average probability that a single channel fails on demand.

    Example
    -------
    >>> round(pfd_1oo1(5e-7 / 3600, 4388 * 3600.0), 9)
    0.002194
    """
    return dangerous_rate_per_s * equivalent_down_time_s


@formula(
    equation="PFD = 2*lambda_D*t_CE",
    gives=("PFD", "average probability of failure on demand of two channels that must both act"),
    where={"dangerous_rate_per_s": _RATE, "equivalent_down_time_s": _CHANNEL},
    requires=(("lambda_D <= 0.5/t_CE", _CERTAIN),),
    source="iec-61508-6: Annex B, 2oo2",
)
def pfd_2oo2(dangerous_rate_per_s: Real, equivalent_down_time_s: Real) -> Real:
    """Average probability that two channels, both of which are needed, fail on demand.

    Failures of common cause are counted for each channel, on the safe side.

    Example
    -------
    >>> round(pfd_2oo2(5e-7 / 3600, 4388 * 3600.0), 9)
    0.004388
    """
    return 2 * dangerous_rate_per_s * equivalent_down_time_s


@formula(
    equation="PFD = 2*((1 - beta_D)*lambda_D*DC + (1 - beta)*lambda_D*(1 - DC))**2*t_CE*t_GE"
    " + beta_D*lambda_D*DC*MTTR + beta*lambda_D*(1 - DC)*t_U",
    gives=("PFD", "average probability of failure on demand of two channels of which one is enough"),
    where={
        "dangerous_rate_per_s": _RATE,
        "diagnostic_coverage": _DC,
        "beta": _BETA,
        "beta_detected": _BETA_D,
        "equivalent_down_time_s": _CHANNEL,
        "group_down_time_s": _GROUP,
        "undetected_down_time_s": _UNDETECTED,
        "restoration_time_s": _MTTR,
    },
    requires=(_NOT_LONGER, ("lambda_D <= 1/sqrt(2*t_CE*t_GE)", _CERTAIN)),
    source="iec-61508-6: Annex B, 1oo2",
)
def pfd_1oo2(
    dangerous_rate_per_s: Real,
    diagnostic_coverage: Real,
    beta: Real,
    beta_detected: Real,
    equivalent_down_time_s: Real,
    group_down_time_s: Real,
    undetected_down_time_s: Real,
    restoration_time_s: Real,
) -> Real:
    """Average probability that two channels, one of which is enough, fail on demand.

    Example
    -------
    >>> round(pfd_1oo2(5e-7 / 3600, 0.0, 0.1, 0.05, 4388 * 3600.0, 2928 * 3600.0, 4388 * 3600.0, 28800.0), 13)
    0.0002246034659
    """
    detected_per_s = dangerous_rate_per_s * diagnostic_coverage
    undetected_per_s = dangerous_rate_per_s * (1 - diagnostic_coverage)
    independent_per_s = (1 - beta_detected) * detected_per_s + (1 - beta) * undetected_per_s
    common = beta_detected * detected_per_s * restoration_time_s + beta * undetected_per_s * undetected_down_time_s
    return 2 * independent_per_s**2 * equivalent_down_time_s * group_down_time_s + common


@formula(
    equation="PFD = 6*((1 - beta_D)*lambda_D*DC + (1 - beta)*lambda_D*(1 - DC))**2*t_CE*t_GE"
    " + beta_D*lambda_D*DC*MTTR + beta*lambda_D*(1 - DC)*t_U",
    gives=("PFD", "average probability of failure on demand of three channels of which two are enough"),
    where={
        "dangerous_rate_per_s": _RATE,
        "diagnostic_coverage": _DC,
        "beta": _BETA,
        "beta_detected": _BETA_D,
        "equivalent_down_time_s": _CHANNEL,
        "group_down_time_s": _GROUP,
        "undetected_down_time_s": _UNDETECTED,
        "restoration_time_s": _MTTR,
    },
    requires=(_NOT_LONGER, ("lambda_D <= 1/sqrt(6*t_CE*t_GE)", _CERTAIN)),
    source="iec-61508-6: Annex B, 2oo3",
)
def pfd_2oo3(
    dangerous_rate_per_s: Real,
    diagnostic_coverage: Real,
    beta: Real,
    beta_detected: Real,
    equivalent_down_time_s: Real,
    group_down_time_s: Real,
    undetected_down_time_s: Real,
    restoration_time_s: Real,
) -> Real:
    """Average probability that three channels, two of which are enough, fail on demand.

    Example
    -------
    >>> round(pfd_2oo3(2.5e-6 / 3600, 0.9, 0.2, 0.1, 446 * 3600.0, 300 * 3600.0, 4388 * 3600.0, 28800.0), 5)
    0.00023
    """
    detected_per_s = dangerous_rate_per_s * diagnostic_coverage
    undetected_per_s = dangerous_rate_per_s * (1 - diagnostic_coverage)
    independent_per_s = (1 - beta_detected) * detected_per_s + (1 - beta) * undetected_per_s
    common = beta_detected * detected_per_s * restoration_time_s + beta * undetected_per_s * undetected_down_time_s
    return 6 * independent_per_s**2 * equivalent_down_time_s * group_down_time_s + common


@formula(
    equation="PFD = PFD_S + PFD_L + PFD_F",
    gives=("PFD", "average probability of failure on demand of the whole function"),
    where={
        "sensor_pfd": ("PFD_S", "that of the sensors", _SHARE),
        "logic_pfd": ("PFD_L", "that of the logic solver", _SHARE),
        "final_element_pfd": ("PFD_F", "that of the final elements", _SHARE),
    },
    requires=(("PFD_S <= 1 - PFD_L - PFD_F", _CERTAIN),),
    source="iec-61508-6: Annex B, sum over the subsystems",
)
def function_pfd(sensor_pfd: Real, logic_pfd: Real, final_element_pfd: Real) -> Real:
    """Average probability that a function of sensors, logic and final elements fails on demand.

    Example
    -------
    >>> round(function_pfd(2.2e-4, 4.8e-6, 4.4e-3), 7)
    0.0046248
    """
    return sensor_pfd + logic_pfd + final_element_pfd


@formula(
    equation="PFD = PFD_1 + PFD_2",
    gives=("PFD", "average probability of failure on demand of subsystems that are all needed"),
    where={
        "first_pfd": ("PFD_1", "that of the subsystems so far", _SHARE),
        "second_pfd": ("PFD_2", "that of one subsystem more", _SHARE),
    },
    requires=(("PFD_1 <= 1 - PFD_2", _CERTAIN),),
    source="iec-61508-6: Annex B, sum over the subsystems",
)
def joined_pfd(first_pfd: Real, second_pfd: Real) -> Real:
    """Average probability that one of the subsystems of a function fails on demand.

    Example
    -------
    >>> round(joined_pfd(2.2e-4, 4.4e-3), 7)
    0.00462
    """
    return first_pfd + second_pfd


@formula(
    equation="d = PFD_lim - PFD",
    gives=("d", "probability left to the limit, negative beyond it"),
    where={
        "limit_pfd": ("PFD_lim", "limit of the band", _SHARE),
        "value_pfd": ("PFD", "average probability of failure on demand", _SHARE),
    },
    source="derived: difference",
)
def pfd_margin(limit_pfd: Real, value_pfd: Real) -> Real:
    """Probability left to the limit of a band.

    Example
    -------
    >>> round(pfd_margin(0.01, 0.0024528), 7)
    0.0075472
    """
    return limit_pfd - value_pfd


@formula(
    equation="RRF = 1/PFD",
    gives=("RRF", "risk reduction factor"),
    where={"pfd": ("PFD", "average probability of failure on demand", "(0, 1]")},
    source="iec-61508-1: low demand",
)
def risk_reduction(pfd: Real) -> Real:
    """By what factor a function that acts on demand reduces the risk.

    Example
    -------
    >>> round(risk_reduction(0.0024528), 1)
    407.7
    """
    return 1 / pfd
