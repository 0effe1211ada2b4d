"""Alarms, response, receiver and safety function as stated: what contradicts itself is a fault with its place."""

from __future__ import annotations

import pytest

from onedatum.case.reading import read_case_text
from onedatum.foundation.errors import Fault


def faults(*lines: str) -> list[Fault]:
    """The faults of a case of a few lines."""
    return list(read_case_text("\n".join(("onedatum: 1", *lines, "")), "case.yaml").faults)


def paths(*lines: str) -> list[str]:
    """The paths of the faults."""
    return [fault.path for fault in faults(*lines)]


def overfill(*lines: str) -> list[Fault]:
    """The faults of a case that states no more than its alarms."""
    return faults("overfill:", *(f"  {line}" for line in lines))


# ---------------------------------------------------------------- alarms in their order


def test_alarms_in_their_order_are_no_fault() -> None:
    points = "set_points: {LL: 100 mm, L: 200 mm, H: 2500 mm, HH: 2600 mm, AOPS: 2700 mm}"
    assert overfill("CH: 2900 mm", points) == []
    assert overfill("CH: 2900 mm", "set_points: {LL: 100 mm, AOPS: 2700 mm}") == []
    assert overfill("set_points: {H: 2500 mm}") == []


@pytest.mark.parametrize(
    ("points", "path", "above"),
    [
        ("{LL: 200 mm, L: 200 mm}", "overfill.set_points.L", "above LL, 200 mm"),
        ("{L: 200 mm, H: 100 mm}", "overfill.set_points.H", "above L, 200 mm"),
        ("{H: 2700 mm, HH: 2600 mm}", "overfill.set_points.HH", "above H, 2700 mm"),
        ("{HH: 2750 mm, AOPS: 2700 mm}", "overfill.set_points.AOPS", "above HH, 2750 mm"),
        ("{AOPS: 2900 mm}", "overfill.CH", "above AOPS, 2900 mm"),
        ("{LL: 2950 mm}", "overfill.CH", "above LL, 2950 mm"),
    ],
)
def test_an_alarm_out_of_its_order_is_a_fault(points: str, path: str, above: str) -> None:
    (fault,) = overfill("CH: 2900 mm", f"set_points: {points}")
    assert (fault.path, fault.allowed) == (path, above)
    assert fault.place is not None
    assert fault.place.line == (3 if path == "overfill.CH" else 4)
    assert "LL, L, H, HH, AOPS, CH" in fault.why


def test_units_do_not_hide_an_order() -> None:
    (fault,) = overfill("set_points: {H: 2.7 m, HH: 2600 mm}")
    assert fault.path == "overfill.set_points.HH"


# ---------------------------------------------------------------- response and rates


def test_the_response_is_stated_once() -> None:
    (fault,) = overfill("response: 15 min", "response_parts: {travel: 4 min}")
    assert fault.path == "overfill.response_parts.travel"
    assert "one response time, as a whole or by its parts" in fault.why
    assert overfill("response: 15 min", "response_parts: {travel: none}") == []
    assert overfill("response: unknown", "response_parts: {travel: 4 min}") == []


@pytest.mark.parametrize("rate", ["0 m3/h", "-12 m3/h"])
def test_a_filling_rate_of_zero_or_less_is_refused_with_the_reason(rate: str) -> None:
    (fault,) = overfill(f"fill_rate_max: {rate}")
    assert fault.path == "overfill.fill_rate_max"
    assert "above 0" in fault.allowed
    assert "no filling, no overfill" in fault.why.lower()


@pytest.mark.parametrize("key", ["response", "automatic_response", "working_response"])
@pytest.mark.parametrize("time", ["0 min", "-5 min"])
def test_a_time_that_is_none_is_refused(key: str, time: str) -> None:
    assert [fault.path for fault in overfill(f"{key}: {time}")] == [f"overfill.{key}"]


def test_a_part_of_the_response_is_not_negative() -> None:
    assert [fault.path for fault in overfill("response_parts: {operator: -1 min}")] == [
        "overfill.response_parts.operator"
    ]


@pytest.mark.parametrize("clock", ["14:30", "0:00", "00:00", "23:59", "9:05"])
def test_a_time_of_day(clock: str) -> None:
    assert overfill(f'clock: "{clock}"') == []


@pytest.mark.parametrize("clock", ["25:00", "24:00", "12:60", "12:5", "1200", "noon", "-1:00"])
def test_a_time_of_day_that_is_none(clock: str) -> None:
    (fault,) = overfill(f'clock: "{clock}"')
    assert fault.path == "overfill.clock"
    assert "14:30" in fault.allowed


# ---------------------------------------------------------------- loop


@pytest.mark.parametrize(
    ("receiver", "path"),
    [
        ("failure_low: 3.8 mA", "loop.receiver.failure_low"),
        ("failure_low: 3.9 mA", "loop.receiver.failure_low"),
        ("failure_high: 20.5 mA", "loop.receiver.failure_high"),
        ("failure_high: 20.2 mA", "loop.receiver.failure_high"),
    ],
)
def test_a_failure_current_lies_outside_the_information(receiver: str, path: str) -> None:
    ends = "range: {saturation: {low: 3.8 mA, high: 20.5 mA}}"
    assert paths(ends, f"loop: {{receiver: {{{receiver}}}}}") == [path]
    assert paths(f"loop: {{receiver: {{{receiver}}}}}") == []


def test_the_thresholds_of_the_receiver_outside_the_information() -> None:
    ends = "range: {saturation: {low: 3.8 mA, high: 20.5 mA}}"
    assert paths(ends, "loop: {receiver: {failure_low: 3.7 mA, failure_high: 20.6 mA}}") == []


@pytest.mark.parametrize(
    ("barrier", "path"),
    [
        ("{kind: isolator, diode_drop: 0.9 V}", "loop.barrier.diode_drop"),
        ("{kind: isolator, working_voltage_max: 26 V}", "loop.barrier.working_voltage_max"),
        ("{kind: shunt-diode barrier, load_max: 600 ohm}", "loop.barrier.load_max"),
        ("{kind: none, diode_drop: 0.9 V}", "loop.barrier.diode_drop"),
    ],
)
def test_what_only_another_kind_of_barrier_has(barrier: str, path: str) -> None:
    assert path in paths(f"loop: {{barrier: {barrier}}}")


@pytest.mark.parametrize("current", ["20.3 mA", "20.5 mA"])
def test_a_failure_current_of_the_transmitter_is_no_level(current: str) -> None:
    """NE 43 (second hand): levels up to 20.5 mA."""
    assert paths(f"loop: {{transmitter: {{current_worst: {current}}}}}", "range: {saturation: {high: 20.5 mA}}") == [
        "loop.transmitter.current_worst"
    ]


# ---------------------------------------------------------------- safety function


def subsystem(*lines: str) -> list[str]:
    """The faulty paths of a safety function of one subsystem."""
    first, *rest = lines
    return paths("safety:", "  subsystems:", f"    - {first}", *(f"      {line}" for line in rest))


def test_a_renewal_comes_with_a_proof_test_or_after_it() -> None:
    path = "safety.subsystems[0].renewal_interval"
    assert subsystem("proof_test_interval: 8760 h", "renewal_interval: 8759 h") == [path]
    assert subsystem("proof_test_interval: 8760 h", "renewal_interval: 8760 h") == []


@pytest.mark.parametrize("name", ["beta", "beta_detected"])
def test_one_channel_has_no_common_cause(name: str) -> None:
    path = f"safety.subsystems[0].{name}"
    assert subsystem("architecture: 1oo1", f"{name}: 5 %value") == [path]
    assert subsystem("architecture: 1oo2", f"{name}: 5 %value") == []
    assert subsystem("architecture: 1oo1", f"{name}: 0 %value") == []


@pytest.mark.parametrize(
    ("line", "path"),
    [
        ("dangerous_failure_rate: 0 1/h", "dangerous_failure_rate"),
        ("dangerous_failure_rate: -1e-7 1/h", "dangerous_failure_rate"),
        ("diagnostic_coverage: 100 %value", "diagnostic_coverage"),
        ("proof_test_coverage: 101 %value", "proof_test_coverage"),
        ("beta: -1 %value", "beta"),
        ("architecture: 1oo3", "architecture"),
        ('systematic_capability: "5"', "systematic_capability"),
    ],
)
def test_failure_data_that_are_none(line: str, path: str) -> None:
    assert subsystem(line) == [f"safety.subsystems[0].{path}"]
