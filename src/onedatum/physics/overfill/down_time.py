"""Mean down times of a channel that fails dangerously, after IEC 61508-6 Annex B.

A failure that the diagnostics find lasts until it is restored, MTTR. Any other lasts until the proof test that finds
it, on the average half an interval, and is then repaired, MRT. Where the proof test finds only a share c of them, the
rest waits for the renewal after T_2.
"""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SHARE = "[0, 1]"
_INTERVAL = "(0, 1000000000]"
_REPAIR = "[0, 100000000]"
_DC = ("DC", "diagnostic coverage, share of the dangerous failures that the diagnostics find", _SHARE)
_COVERAGE = ("c", "coverage of the proof test, share of the undetected failures that it finds", _SHARE)
_T1 = ("T_1", "proof test interval", _INTERVAL)
_T2 = ("T_2", "interval of renewal, or of a test that finds all", _INTERVAL)
_MRT = ("MRT", "mean repair time of a failure found by the proof test", _REPAIR)
_MTTR = ("MTTR", "mean time to restoration of a failure found by the diagnostics", _REPAIR)
_RENEWED_LATER = ("T_2 >= T_1", "the renewal comes with a proof test or after it")


@formula(
    equation="t_U = T_1/2 + MRT",
    gives=("t_U", "mean down time of a failure that only the proof test finds"),
    where={"proof_interval_s": _T1, "repair_time_s": _MRT},
    source="iec-61508-6: Annex B",
)
def undetected_down_time_s(proof_interval_s: Real, repair_time_s: Real) -> Real:
    """Mean down time of a failure that only the proof test finds.

    Example
    -------
    >>> undetected_down_time_s(8760 * 3600.0, 8 * 3600.0) / 3600
    4388.0
    """
    return proof_interval_s / 2 + repair_time_s


@formula(
    equation="t_CE = (1 - DC)*(T_1/2 + MRT) + DC*MTTR",
    gives=("t_CE", "channel equivalent mean down time"),
    where={
        "diagnostic_coverage": _DC,
        "proof_interval_s": _T1,
        "repair_time_s": _MRT,
        "restoration_time_s": _MTTR,
    },
    source="iec-61508-6: Annex B",
)
def equivalent_down_time_s(
    diagnostic_coverage: Real, proof_interval_s: Real, repair_time_s: Real, restoration_time_s: Real
) -> Real:
    """Mean down time of one channel after a dangerous failure.

    Example
    -------
    >>> round(equivalent_down_time_s(0.9, 8760 * 3600.0, 8 * 3600.0, 8 * 3600.0) / 3600, 6)
    446.0
    """
    found_by_test = proof_interval_s / 2 + repair_time_s
    return (1 - diagnostic_coverage) * found_by_test + diagnostic_coverage * restoration_time_s


@formula(
    equation="t_GE = (1 - DC)*(T_1/3 + MRT) + DC*MTTR",
    gives=("t_GE", "group equivalent mean down time"),
    where={
        "diagnostic_coverage": _DC,
        "proof_interval_s": _T1,
        "repair_time_s": _MRT,
        "restoration_time_s": _MTTR,
    },
    source="iec-61508-6: Annex B",
)
def group_down_time_s(
    diagnostic_coverage: Real, proof_interval_s: Real, repair_time_s: Real, restoration_time_s: Real
) -> Real:
    """Mean down time of a group in which two channels failed: a third of the interval is left to the second failure.

    Example
    -------
    >>> round(group_down_time_s(0.9, 8760 * 3600.0, 8 * 3600.0, 8 * 3600.0) / 3600, 6)
    300.0
    """
    found_by_test = proof_interval_s / 3 + repair_time_s
    return (1 - diagnostic_coverage) * found_by_test + diagnostic_coverage * restoration_time_s


@formula(
    equation="t_U = c*(T_1/2 + MRT) + (1 - c)*(T_2/2 + MRT)",
    gives=("t_U", "mean down time of a failure that the diagnostics do not find"),
    where={
        "test_coverage": _COVERAGE,
        "proof_interval_s": _T1,
        "renewal_interval_s": _T2,
        "repair_time_s": _MRT,
    },
    requires=(_RENEWED_LATER,),
    source="iec-61508-6: Annex B, imperfect proof test",
)
def undetected_down_time_imperfect_s(
    test_coverage: Real, proof_interval_s: Real, renewal_interval_s: Real, repair_time_s: Real
) -> Real:
    """Mean down time of an undetected failure where the proof test does not find all of them.

    Example
    -------
    >>> round(undetected_down_time_imperfect_s(0.8, 8760 * 3600.0, 87600 * 3600.0, 0.0) / 3600, 6)
    12264.0
    """
    found, left = proof_interval_s / 2 + repair_time_s, renewal_interval_s / 2 + repair_time_s
    return test_coverage * found + (1 - test_coverage) * left


@formula(
    equation="t_CE = (1 - DC)*(c*(T_1/2 + MRT) + (1 - c)*(T_2/2 + MRT)) + DC*MTTR",
    gives=("t_CE", "channel equivalent mean down time"),
    where={
        "diagnostic_coverage": _DC,
        "test_coverage": _COVERAGE,
        "proof_interval_s": _T1,
        "renewal_interval_s": _T2,
        "repair_time_s": _MRT,
        "restoration_time_s": _MTTR,
    },
    requires=(_RENEWED_LATER,),
    source="iec-61508-6: Annex B, imperfect proof test",
)
def equivalent_down_time_imperfect_s(
    diagnostic_coverage: Real,
    test_coverage: Real,
    proof_interval_s: Real,
    renewal_interval_s: Real,
    repair_time_s: Real,
    restoration_time_s: Real,
) -> Real:
    """Mean down time of one channel where the proof test does not find all undetected failures.

    Example
    -------
    >>> round(equivalent_down_time_imperfect_s(0.9, 0.8, 3.1536e7, 3.1536e8, 28800.0, 28800.0) / 3600, 6)
    1234.4
    """
    found, left = proof_interval_s / 2 + repair_time_s, renewal_interval_s / 2 + repair_time_s
    undetected_s = test_coverage * found + (1 - test_coverage) * left
    return (1 - diagnostic_coverage) * undetected_s + diagnostic_coverage * restoration_time_s


@formula(
    equation="t_GE = (1 - DC)*(c*(T_1/3 + MRT) + (1 - c)*(T_2/3 + MRT)) + DC*MTTR",
    gives=("t_GE", "group equivalent mean down time"),
    where={
        "diagnostic_coverage": _DC,
        "test_coverage": _COVERAGE,
        "proof_interval_s": _T1,
        "renewal_interval_s": _T2,
        "repair_time_s": _MRT,
        "restoration_time_s": _MTTR,
    },
    requires=(_RENEWED_LATER,),
    source="iec-61508-6: Annex B, imperfect proof test",
)
def group_down_time_imperfect_s(
    diagnostic_coverage: Real,
    test_coverage: Real,
    proof_interval_s: Real,
    renewal_interval_s: Real,
    repair_time_s: Real,
    restoration_time_s: Real,
) -> Real:
    """Mean down time of a group of failed channels where the proof test does not find all undetected failures.

    Example
    -------
    >>> round(group_down_time_imperfect_s(0.9, 0.8, 3.1536e7, 3.1536e8, 28800.0, 28800.0) / 3600, 6)
    825.6
    """
    found, left = proof_interval_s / 3 + repair_time_s, renewal_interval_s / 3 + repair_time_s
    undetected_s = test_coverage * found + (1 - test_coverage) * left
    return (1 - diagnostic_coverage) * undetected_s + diagnostic_coverage * restoration_time_s
