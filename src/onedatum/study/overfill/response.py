"""What comes in before the filling stops: rate, response time as a whole or by its parts, damping and scan."""

from __future__ import annotations

from collections.abc import Mapping

from onedatum.foundation.working import Entry
from onedatum.physics.loop import joint_damping_s
from onedatum.physics.overfill import response_time_s
from onedatum.study.desk import NOT_SPOKEN_OF, Desk


def response_time(desk: Desk) -> Entry:
    """The response time as stated; where its parts are stated instead, their sum."""
    overfill = desk.case.overfill
    parts = overfill.response_parts
    if overfill.response.known or not any(leaf.known for leaf in parts.leaves()):
        return desk.take(overfill.response, "min")
    return desk.calc(
        "overfill.response_time",
        response_time_s,
        shown="min",
        detection_s=desk.take(parts.detection, "s", none=0.0),
        operator_s=desk.take(parts.operator, "min", none=0.0),
        travel_s=desk.take(parts.travel, "min", none=0.0),
        pump_run_down_s=desk.take(parts.pump_run_down, "s", none=0.0),
        valve_closure_s=desk.take(parts.valve_closure, "s", none=0.0),
        drain_back_s=desk.take(parts.drain_back, "s", none=0.0),
    )


def inflow(desk: Desk, response: Entry) -> Mapping[str, Entry]:
    """What flows in after a level was passed: rate, response time, and what delays the signal."""
    return {
        "fill_rate_m3_per_s": desk.take(desk.case.overfill.fill_rate_max, "m3/h"),
        "response_time_s": response,
        "damping_time_s": damping(desk),
        "scan_time_s": desk.take(desk.case.instrument.scan, "s", none=0.0),
    }


def damping(desk: Desk) -> Entry:
    """The damping of the transmitter, with that of the receiver where it is stated."""
    own, stated = desk.case.instrument.damping_tau, desk.case.loop.receiver.damping_tau
    first = desk.take(own, "s", none=0.0)
    second = desk.take(stated, "s") if stated.asked else desk.absent(stated, NOT_SPOKEN_OF, "s")
    if second.value == 0.0:
        return first
    return desk.once(
        "overfill.damping",
        joint_damping_s,
        shown="s",
        meaning="damping of transmitter and receiver together",
        first_s=first,
        second_s=second,
    )
