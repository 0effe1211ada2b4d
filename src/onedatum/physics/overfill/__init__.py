"""Overfill: where the alarm must stand so that there is time to stop the filling, and how surely it comes."""

from onedatum.physics.overfill.down_time import (
    equivalent_down_time_imperfect_s,
    equivalent_down_time_s,
    group_down_time_imperfect_s,
    group_down_time_s,
    undetected_down_time_imperfect_s,
    undetected_down_time_s,
)
from onedatum.physics.overfill.facts import Fact, overfill_facts
from onedatum.physics.overfill.failure import (
    function_pfd,
    joined_pfd,
    pfd_1oo1,
    pfd_1oo2,
    pfd_2oo2,
    pfd_2oo3,
    pfd_margin,
    risk_reduction,
    undetected_rate_per_s,
)
from onedatum.physics.overfill.integrity import (
    Architecture,
    LeastFaultTolerance,
    RareFailures,
    architecture_of,
    architectures,
    fault_tolerance_of,
    highest_sil_by_architecture,
    least_fault_tolerance,
    rare_failures,
    sil_band,
)
from onedatum.physics.overfill.levels import (
    alarm_uncertainty_m,
    alarm_volume_m3,
    high_high_by_constant_area_m,
    high_high_level_m,
    margin_m,
)
from onedatum.physics.overfill.markov import pfd_by_markov
from onedatum.physics.overfill.overflow import time_to_level_s
from onedatum.physics.overfill.response import response_time_s
from onedatum.physics.overfill.simplified import (
    exact_pfd_1oo1,
    failures_per_interval,
    simplified_pfd_1oo1,
    simplified_pfd_1oo1_imperfect,
    simplified_pfd_1oo2,
    simplified_pfd_2oo2,
    simplified_pfd_2oo3,
)

__all__ = [
    "Architecture",
    "Fact",
    "LeastFaultTolerance",
    "RareFailures",
    "alarm_uncertainty_m",
    "alarm_volume_m3",
    "architecture_of",
    "architectures",
    "equivalent_down_time_imperfect_s",
    "equivalent_down_time_s",
    "exact_pfd_1oo1",
    "failures_per_interval",
    "fault_tolerance_of",
    "function_pfd",
    "group_down_time_imperfect_s",
    "group_down_time_s",
    "high_high_by_constant_area_m",
    "high_high_level_m",
    "highest_sil_by_architecture",
    "joined_pfd",
    "least_fault_tolerance",
    "margin_m",
    "overfill_facts",
    "pfd_1oo1",
    "pfd_1oo2",
    "pfd_2oo2",
    "pfd_2oo3",
    "pfd_by_markov",
    "pfd_margin",
    "rare_failures",
    "response_time_s",
    "risk_reduction",
    "sil_band",
    "simplified_pfd_1oo1",
    "simplified_pfd_1oo1_imperfect",
    "simplified_pfd_1oo2",
    "simplified_pfd_2oo2",
    "simplified_pfd_2oo3",
    "time_to_level_s",
    "undetected_down_time_imperfect_s",
    "undetected_down_time_s",
    "undetected_rate_per_s",
]
