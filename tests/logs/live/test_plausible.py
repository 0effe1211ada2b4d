"""Whether current, per cent, value and range fit together: doubts that must come, and those that must not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.logs.live.hart import (
    DeviceStatus,
    LoopReading,
    OutputRange,
    PrimaryVariable,
    Told,
    Unit,
    Value,
    Variables,
    doubts,
)
from onedatum.logs.live.hart.plausible import share_of_range
from tests.closeness import close
from tests.reference import case

METRE, MILLIMETRE, PERCENT = Unit(45), Unit(49), Unit(57)


def output(lower: float | None, upper: float | None, unit: Unit = METRE, transfer: int = 0) -> OutputRange:
    return OutputRange(Value(upper, unit), Value(lower, unit), 2.0, "high", transfer, "not protected")


def told(level: float | None, share: float, lower: float = 0.2, upper: float = 3.2) -> Told:
    """What a sound device tells: current by the straight line of IEC 60381-1."""
    current_A = 0.004 + 0.016 * share
    return Told(
        LoopReading(current_A, share), Variables(current_A, (Value(level, METRE),)), output(lower, upper), None,
        DeviceStatus(0),
    )  # fmt: skip


def keys(of: Told) -> list[str]:
    return [each.key for each in doubts(of)]


@pytest.mark.parametrize("identity", ["loop-L01", "loop-L03"])
def test_a_worked_level_and_its_current_raise_no_doubt(identity: str) -> None:
    stated = case(identity)
    level, lower, upper = (stated.value(name) for name in ("level", "lrv", "urv"))
    current_A = stated.expected / 1000
    sound = told(level, (current_A - 0.004) / 0.016, lower, upper)
    assert keys(sound) == []
    close(share_of_range(sound), (current_A - 0.004) / 0.016, 1e-6, "digits of the case")


@given(st.floats(0, 1), st.floats(-5, 5), st.floats(0.1, 50), st.booleans())
def test_a_sound_device_raises_no_doubt(share: float, lower: float, span: float, reverse: bool) -> None:
    low, high = (lower + span, lower) if reverse else (lower, lower + span)
    assert keys(told(low + share * (high - low), share, low, high)) == []


def test_a_current_that_does_not_fit_its_per_cent() -> None:
    off = replace(told(1.7, 0.5), loop=LoopReading(0.0125, 0.5))
    assert keys(off) == ["current_against_share"]
    assert "12.5 mA does not fit 50 % of range, which is 12 mA" in doubts(off)[0].words
    assert keys(replace(off, status=DeviceStatus(0x08))) == ["current_fixed"], "a held current follows nothing"
    assert keys(replace(off, status=DeviceStatus(0x04))) == ["current_saturated"]


def test_a_range_that_was_changed_behind_the_back() -> None:
    off = replace(told(1.7, 0.5), output=output(0.0, 3.2))
    assert keys(off) == ["value_against_range"]
    assert "1.7 m is 53.12 % of the range, and 50 % is told" in doubts(off)[0].words


def test_units_are_turned_before_they_are_compared_and_unlike_ones_are_not_compared() -> None:
    sound = told(1.7, 0.5)
    assert keys(replace(sound, output=output(200.0, 3200.0, MILLIMETRE))) == []
    assert keys(replace(sound, output=output(2.0, 3200.0, MILLIMETRE))) == ["value_against_range"]
    for other in (output(0.0, 100.0, PERCENT), output(0.0, 1.0, Unit(200)), output(0.0, 1.0, transfer=1)):
        assert share_of_range(replace(sound, output=other)) is None
        assert keys(replace(sound, output=other)) == []


def test_what_is_unknown_is_told_and_compared_with_nothing() -> None:
    assert keys(replace(told(None, 0.5), loop=LoopReading(None, None))) == [
        "primary_unknown",
        "current_unknown",
        "share_unknown",
    ]
    assert keys(replace(told(1.7, 0.5), output=output(None, 3.2))) == ["range_unknown"]
    assert keys(Told()) == [] and share_of_range(Told()) is None


def test_a_range_without_span() -> None:
    assert keys(replace(told(1.7, 0.5), output=output(3.2, 3.2))) == ["no_span"]


@pytest.mark.parametrize(
    ("current_A", "word"), [(0.0036, "failure low"), (0.0215, "failure high"), (0.0207, "undefined")]
)
def test_a_current_of_failure_is_no_level(current_A: float, word: str) -> None:
    """NE 43: at or below 3.6 mA and at or above 21 mA failure, 20.5 to 21 mA neither (read second-hand)."""
    found = doubts(replace(told(1.7, 0.5), loop=LoopReading(current_A, 0.5)))
    assert [each.key for each in found] == ["not_measuring"] and word in found[0].words


def test_per_cent_beyond_saturation_is_not_held_against_the_current() -> None:
    """A transmitter stops at 20.5 mA; its per cent goes on (loop-L04)."""
    stated = case("loop-L04")
    current_A = stated.expected / 1000
    share = (stated.value("level") - stated.value("lrv")) / (stated.value("urv") - stated.value("lrv"))
    assert share > 1.04
    high = told(stated.value("level"), share, stated.value("lrv"), stated.value("urv"))
    assert keys(replace(high, loop=LoopReading(current_A, share))) == []


def test_command_1_stands_in_for_command_3() -> None:
    off = replace(told(1.7, 0.5), variables=None, primary=PrimaryVariable(Value(2.0, METRE)))
    assert keys(off) == ["value_against_range"]


@pytest.mark.parametrize(
    ("byte", "expected"),
    [
        (0x80, ["malfunction"]),
        (0x01, ["primary_out_of_limits"]),
        (0x72, []),
        (0x89, ["malfunction", "current_fixed", "primary_out_of_limits"]),
    ],
)
def test_bits_that_speak_against_the_level(byte: int, expected: list[str]) -> None:
    assert keys(replace(told(1.7, 0.5), status=DeviceStatus(byte))) == expected
