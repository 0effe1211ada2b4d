"""Response time: from the moment the alarm is due until nothing flows into the vessel any more."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_TIME = "[0, 1000000]"


@formula(
    equation="t_r = t_d + t_o + t_t + t_p + t_v + t_b",
    gives=("t_r", "response time from the alarm to standstill of the flow"),
    where={
        "detection_s": ("t_d", "detection in the receiver and annunciation", _TIME),
        "operator_s": ("t_o", "reaction of the operator", _TIME),
        "travel_s": ("t_t", "travel to the valve", _TIME),
        "pump_run_down_s": ("t_p", "run-down of the pump", _TIME),
        "valve_closure_s": ("t_v", "closing of the valve", _TIME),
        "drain_back_s": ("t_b", "drain-back of the line into the vessel", _TIME),
    },
    requires=(("t_d + t_o + t_t + t_p + t_v + t_b > 0", "nothing stops at once"),),
    source="common-practice",
)
def response_time_s(
    detection_s: Real,
    operator_s: Real,
    travel_s: Real,
    pump_run_down_s: Real,
    valve_closure_s: Real,
    drain_back_s: Real,
) -> Real:
    """Response time as the sum of its parts, one after the other.

    Damping of the signal and the time between two readings are not in it: `alarm_volume_m3` adds them. No part has a
    usual value; each is stated or asked for.

    Example
    -------
    >>> response_time_s(5.0, 300.0, 420.0, 15.0, 60.0, 100.0)
    900.0
    """
    return detection_s + operator_s + travel_s + pump_run_down_s + valve_closure_s + drain_back_s
