"""The device of the stand-in against frames made by struct and a plain loop, and against the master that reads it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.jobs.standin.transmitter import Transmitter
from onedatum.logs.live.hart import (
    Answered,
    Conversation,
    Frame,
    FrameReader,
    LoopReading,
    OutputRange,
    Variables,
)
from onedatum.simulate import Held, Profile, Running
from tests.logs.live.line import NOT_AVAILABLE, PREAMBLES, closed, number, reply
from tests.logs.live.recorded import recorded, requests
from tests.logs.live.recorded import table as record
from tests.simulate.instruments import FLOAT, instrument, studied

READING = (0, 1, 2, 3, 13, 15, 20, 48)
SHORT = b"\x80"
"""Polling address 0, asked by a primary master."""


def device(held_A: float | None = None, level_m: float = 1.45) -> Transmitter:
    """On the tank of the example: 0.1 m at 4 mA, 2.8 m at 20 mA; 1.45 m is 50 % and 12 mA."""
    tank = Running(instrument(FLOAT), Profile(level_m), studied(FLOAT).safe.bands)
    if held_A is not None:
        tank.faults = [Held(held_A, 0.0)]
    return Transmitter("LT-201", 0.1, 2.8, lambda: tank.at(0.0), begins_anew=False)


def ask(command: int, address: bytes = SHORT, data: bytes = b"") -> bytes:
    begin = 0x02 if len(address) == 1 else 0x82
    return PREAMBLES + closed(bytes([begin]) + address + bytes([command, len(data)]) + data)


def long_address(own: Transmitter) -> bytes:
    unique = own.unique
    return bytes([0x80 | unique.device_type >> 8, unique.device_type & 0xFF]) + unique.device_id.to_bytes(3, "big")


ANSWERS = {
    1: b"\x2d" + number(1.45),
    2: number(12.0) + number(50.0),
    3: number(12.0) + b"\x2d" + number(1.45) + b"\x20" + number(14.0),
    # LT-201 in six bits each, two blanks: 0C 14 2D 32 30 31 20 20 (packed ASCII, from memory of the standard)
    13: bytes.fromhex("314B72C31820"),
    15: bytes([1, 0, 45]) + number(2.8) + number(0.1) + number(0.0) + bytes([1, 250]),
    20: b"LT-201".ljust(32),
    48: bytes(6),
}


@pytest.mark.parametrize("command", ANSWERS)
def test_each_reading_by_the_short_and_by_the_long_address(command: int) -> None:
    own = device()
    for address in (SHORT, long_address(own)):
        answer = own.heard(ask(command, address))
        assert answer.startswith(PREAMBLES)
        if command == 13:
            assert answer[len(PREAMBLES) :].startswith(reply(address, 13, bytes(21))[: len(address) + 1])
            assert ANSWERS[13] in answer
        else:
            assert answer == PREAMBLES + reply(address, command, ANSWERS[command])


def test_the_identity_tells_the_long_address() -> None:
    """254, type, preambles, revision 7, ..., number of the device in bytes 9 to 11; 22 bytes (recorded: identity-D)."""
    own = device()
    sent = own.heard(ask(0))[len(PREAMBLES) :]
    data = sent[6:-1]
    assert (data[0], data[3], data[4], len(data)) == (254, 5, 7, 22)
    assert bytes([data[1] | 0x80]) + data[2:3] + data[9:12] == long_address(own)


def test_it_answers_recorded_requests_as_recorded_devices_did() -> None:
    """Length and head of identity-D (revision 7), head of identity-C and of the answers by the long address."""
    own, known = device(), recorded()
    seen = known["identity-D"].frame
    answer = own.heard(known["identity-D-asked"].stream)[len(PREAMBLES) :]
    assert len(answer) == len(seen) and answer[:5] == seen[:5]
    # 254, revision 7, five preambles for answers, no extended status: at the same places.
    assert [answer[at] for at in (6, 10, 18, 22)] == [seen[at] for at in (6, 10, 18, 22)] == [254, 7, 5, 0]
    assert own.heard(known["identity-C-asked"].stream)[len(PREAMBLES) :][:3] == known["identity-C"].frame[:3]
    for row in requests():
        if row.long:
            assert own.heard(row.stream) == b"", "the long address of another device"
            asked = closed(
                row.frame[:1] + bytes([row.frame[1] & 0x80 | 0x3F, 0xFF]) + long_address(own)[2:] + row.frame[6:8]
            )
            told = own.heard(PREAMBLES + asked)[len(PREAMBLES) :]
            assert told[:7] == b"\x86" + asked[1:7] and closed(told[:-1]) == told


def test_a_recorded_request_that_no_device_answered_is_not_answered() -> None:
    own = device()
    assert own.heard(PREAMBLES + bytes.fromhex(record()["unanswered"]["sent"])) + own.silence() == b""


def test_every_other_command_is_refused_and_changes_nothing() -> None:
    """Answer code 64, command not implemented (from memory)."""
    own = device()
    before = [own.heard(ask(command)) for command in READING]
    for command in range(256):
        if command not in READING:
            answer = own.heard(ask(command, long_address(own), number(0.0)))
            assert answer == PREAMBLES + reply(long_address(own), command, b"", b"\x40\0"), command
    assert [own.heard(ask(command)) for command in READING] == before


def test_what_is_not_for_it_or_is_broken_is_left_unanswered() -> None:
    own = device()
    whole = ask(2)
    assert own.heard(ask(2, b"\x81")) == b"", "another polling address"
    assert own.heard(ask(2, b"\x80\0\0\0\0")) == b"", "another long address"
    assert own.heard(whole[:-1] + bytes([whole[-1] ^ 1])) == b"", "a check byte that does not fit"
    assert own.heard(PREAMBLES + reply(SHORT, 2, number(1.0))) == b"", "an answer of somebody"
    assert own.heard(whole[:7]) == b"" and own.waits
    assert own.silence() == b"" and not own.waits
    parts = b"".join(own.heard(whole[at : at + 1]) for at in range(len(whole)))
    assert parts == PREAMBLES + reply(SHORT, 2, ANSWERS[2])


def test_failure_is_told_and_a_dead_loop_is_silent() -> None:
    """Bits of the status: 7 malfunction, 4 more status, 3 current fixed (from memory)."""
    failed = device(held_A=0.0036)
    assert failed.heard(ask(1)) == PREAMBLES + reply(SHORT, 1, b"\x2d" + NOT_AVAILABLE, b"\0\x98")
    assert failed.heard(ask(48)) == PREAMBLES + reply(SHORT, 48, b"\1" + bytes(5), b"\0\x98")
    assert device(held_A=0.0).heard(ask(0)) == b""
    tested = device(held_A=0.016)
    assert tested.heard(ask(1)) == PREAMBLES + reply(SHORT, 1, ANSWERS[1], b"\0\x08"), "the level itself goes on"
    full = device(level_m=2.95)
    assert full.heard(ask(2)) == PREAMBLES + reply(SHORT, 2, number(20.5) + number(103.125), b"\0\x04")


def test_it_tells_once_that_it_was_restarted() -> None:
    own = device()
    own.begins_anew = True
    assert [own.heard(ask(1))[len(PREAMBLES) + 5] for _ in range(2)] == [0x20, 0]


def test_the_master_reads_it() -> None:
    """The conversation of the client side, step by step without a line."""
    own, master, told = device(), Conversation(once=(15,), rounds=(2, 3)), []
    for step in range(400):
        now_s = 0.02 * step
        out = master.bytes_to_send(now_s)
        if out:
            master.received(own.heard(out), now_s + 0.01)
        told += [each.answer for each in master.events() if isinstance(each, Answered)]
        if master.finished:
            break
    loop = next(each for each in told if isinstance(each, LoopReading))
    three = next(each for each in told if isinstance(each, Variables))
    output = next(each for each in told if isinstance(each, OutputRange))
    assert (loop.current_A, loop.share) == pytest.approx((0.012, 0.5))
    assert three.primary is not None and three.primary.in_si == pytest.approx(1.45)
    assert (output.lower.in_si, output.upper.in_si) == pytest.approx((0.1, 2.8))
    assert output.write_protection == "protected"


@given(st.lists(st.binary(max_size=40) | st.sampled_from([ask(2), ask(2)[:8], ask(6, SHORT, b"\5")]), max_size=8))
def test_bytes_of_any_kind_give_whole_answers_or_none(lots: list[bytes]) -> None:
    own = device()
    sent = b"".join(own.heard(lot) for lot in lots) + own.silence()
    reader = FrameReader()
    found = reader.feed(sent) + reader.silence()
    assert all(isinstance(each, Frame) for each in found)
    assert bool(found) == bool(sent)
