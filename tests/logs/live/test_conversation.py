"""A master that only reads, against a device of the tests: order, times, repetitions, and bytes of any kind."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.logs.live.hart import (
    Answered,
    Conversation,
    Disturbed,
    Event,
    Identity,
    Overheard,
    Polling,
    Refused,
    Silent,
    Timing,
    Variables,
)
from onedatum.logs.live.hart.conversation import MOST_EVENTS
from tests.logs.live.line import IDENTITY, PREAMBLES, Device, closed, number, reply

LONG = bytes.fromhex("A606BC614E")
STEP_S = 0.02
Line = Callable[[bytes, int], bytes]


def talk(master: Conversation, line: Line, seconds: float = 60.0) -> tuple[list[Event], list[tuple[float, bytes]]]:
    """Let time go in steps; the line makes of each sending, which it gets with its number, what comes back at once."""
    events: list[Event] = []
    sent: list[tuple[float, bytes]] = []
    for step in range(int(seconds / STEP_S)):
        now_s = step * STEP_S
        out = master.bytes_to_send(now_s)
        if out:
            sent.append((now_s, out))
            back = line(out, len(sent))
            for begin in range(0, len(back), 7):
                master.received(back[begin : begin + 7], now_s + STEP_S / 2)
        events += master.events()
        if master.finished:
            break
    return events, sent


def answered(events: list[Event]) -> list[int]:
    return [each.command for each in events if isinstance(each, Answered)]


def test_identity_first_by_the_short_address_then_all_by_the_long_one() -> None:
    device = Device()
    events, sent = talk(Conversation(), lambda out, _: device.hear(out))
    assert device.asked == [(0, b"\x80")] + [(command, LONG) for command in (13, 20, 15, 2, 3, 48)]
    assert answered(events) == [0, 13, 20, 15, 2, 3, 48] and len(events) == 7
    levels = [each.answer for each in events if isinstance(each, Answered) and isinstance(each.answer, Variables)]
    assert [each.primary.number for each in levels if each.primary] == [1.5]
    # Twenty preambles to whom nobody knows, then as many as the device asked for.
    assert [len(out) - len(out.lstrip(b"\xff")) for _, out in sent] == [20, *[5] * 6]


def test_the_line_is_quiet_before_the_first_and_between() -> None:
    """305 ms for a primary master, 380 ms for a secondary, 75 ms after an answer (from memory of the standard)."""
    for primary, quiet_s in ((True, 0.305), (False, 0.380)):
        _, sent = talk(Conversation(primary=primary), lambda out, _: Device().hear(out))
        assert quiet_s <= sent[0][0] < quiet_s + 2 * STEP_S
        assert all(later - earlier >= 0.075 for (earlier, _), (later, _) in pairwise(sent))


def test_a_secondary_master_and_a_polling_address() -> None:
    device = Device()
    talk(Conversation(Polling(5), once=(), rounds=(1,), primary=False), lambda out, _: device.hear(out))
    assert device.asked == [(0, b"\x05"), (1, bytes([LONG[0] & 0x7F]) + LONG[1:])]


def test_a_device_before_revision_5_is_asked_by_its_polling_address() -> None:
    device = Device({0: IDENTITY[:4] + b"\x04" + IDENTITY[5:], 1: b"\x2d" + number(1.5)})
    talk(Conversation(once=(), rounds=(1,)), lambda out, _: device.hear(out))
    assert device.asked == [(0, b"\x80"), (1, b"\x80")]


def test_rounds_are_asked_again_and_what_stays_is_not() -> None:
    device = Device()
    events, _ = talk(Conversation(every_s=5.0), lambda out, _: device.hear(out), 30.0)
    assert answered(events)[:10] == [0, 13, 20, 15, 2, 3, 48, 2, 3, 48]
    times = [each.at_s for each in events if isinstance(each, Answered) and each.command == 2]
    assert len(times) >= 4
    assert all(5.0 <= later - earlier < 7.0 for earlier, later in pairwise(times))


def test_a_silent_line_is_tried_four_times_and_then_told() -> None:
    """Once and three repetitions; between them the sending, 256 ms for the device and 100 ms for the port."""
    events, sent = talk(Conversation(), lambda out, _: b"")
    assert [type(each) for each in events] == [Silent] and len(sent) == 4
    assert isinstance(events[0], Silent) and (events[0].command, events[0].tries) == (0, 4)
    due_s = 25 * 11 / 1200 + 0.256 + 0.1
    assert all(due_s <= later - earlier < due_s + 0.2 for (earlier, _), (later, _) in pairwise(sent))


def test_a_silent_device_is_looked_for_again_by_its_identity() -> None:
    device = Device()
    events, _ = talk(Conversation(every_s=2.0), lambda out, count: device.hear(out) if count < 6 or count > 9 else b"")
    told = [each.command if isinstance(each, Answered) else type(each).__name__ for each in events]
    assert told[:8] == [0, 13, 20, 15, 2, "Silent", 0, 13]


@pytest.mark.parametrize(
    ("spoiled", "words"),
    [
        (lambda good: good[:-1] + bytes([good[-1] ^ 1]), "check byte"),
        (lambda good: good[:-4], "cut off"),
        (lambda good: PREAMBLES + closed(b"\x06\x80\x00\x00"), "no status"),
    ],
    ids=["check byte", "cut off", "no status"],
)
def test_a_broken_answer_is_asked_for_again(spoiled: Callable[[bytes], bytes], words: str) -> None:
    device = Device()
    events, sent = talk(
        Conversation(once=(), rounds=(1,)),
        lambda out, count: spoiled(device.hear(out)) if count == 1 else device.hear(out),
    )
    assert answered(events) == [0, 1] and len(sent) == 3
    assert any(isinstance(each, Disturbed) and words in each.words for each in events)
    events, sent = talk(Conversation(), lambda out, _: spoiled(device.hear(out)))
    assert len(sent) == 4
    assert isinstance(events[-1], Silent) and words in events[-1].words


@pytest.mark.parametrize("status", [b"\x88\x00", b"\x20\x00"], ids=["not understood", "busy"])
def test_a_device_that_did_not_understand_or_is_busy_is_asked_again(status: bytes) -> None:
    device = Device()
    no = PREAMBLES + reply(b"\x80", 0, b"", status)
    events, sent = talk(
        Conversation(once=(), rounds=(1,)), lambda out, count: no if count < 3 else device.hear(out)
    )  # fmt: skip
    assert answered(events) == [0, 1] and len(sent) == 4
    events, sent = talk(Conversation(), lambda out, _: no)
    assert len(sent) == 4 and isinstance(events[-1], Silent)
    assert ("the check byte" if status[0] & 0x80 else "busy") in events[-1].words


def test_a_command_that_is_not_there_is_told_once_and_left_away() -> None:
    device = Device()
    del device.answers[48]
    events, _ = talk(Conversation(every_s=1.0), lambda out, _: device.hear(out), 15.0)
    assert [each for each in events if isinstance(each, Refused)] == [
        Refused(next(each.at_s for each in events if isinstance(each, Refused)), 48, "command not implemented")
    ]
    assert [command for command, _ in device.asked].count(48) == 1 and answered(events).count(2) > 2


def test_an_answer_too_short_is_refused_by_name_and_the_rest_goes_on() -> None:
    device = Device()
    device.answers[2] = number(12.0)
    events, _ = talk(Conversation(), lambda out, _: device.hear(out))
    assert [each.words for each in events if isinstance(each, Refused)] == [
        "command 2: the answer must be at least 8 bytes long; got 4"
    ]
    assert answered(events) == [0, 13, 20, 15, 3, 48]


def test_status_and_a_warning_go_with_the_answer() -> None:
    device = Device(status=b"\x08\x44")
    events, _ = talk(Conversation(once=(), rounds=(3,)), lambda out, _: device.hear(out))
    last = events[-1]
    assert isinstance(last, Answered) and last.status.keys == ("configuration_changed", "current_saturated")
    assert "not renewed" in last.warning


def test_the_own_echo_is_no_event_and_other_speakers_are_overheard() -> None:
    device = Device()
    other = PREAMBLES + reply(LONG, 3, number(4.0), delimiter=0x81) + PREAMBLES + closed(b"\x02\x00\x00\x00")
    events, _ = talk(Conversation(once=(), rounds=(1,)), lambda out, _: out + other + device.hear(out))
    assert answered(events) == [0, 1]
    assert [type(each) for each in events] == [Overheard, Overheard, Answered] * 2


def test_an_answer_to_something_else_is_no_answer() -> None:
    wrong = [
        PREAMBLES + reply(b"\x81", 0, IDENTITY),
        PREAMBLES + reply(b"\x80", 3, IDENTITY),
        PREAMBLES + reply(LONG, 0, IDENTITY),
    ]
    for each in wrong:
        events, sent = talk(Conversation(), lambda out, _, back=each: back)  # type: ignore[misc]
        assert len(sent) == 4 and isinstance(events[-1], Silent)
        assert sum(isinstance(event, Disturbed) and "not asked for" in event.words for event in events) == 4


def test_a_bursting_device_does_not_keep_the_master_from_asking() -> None:
    """Bursts every 0.4 s, of which each lasts 0.25 s on the line."""
    device, master = Device(), Conversation(once=(), rounds=(2,))
    burst = PREAMBLES + reply(bytes([LONG[0] | 0x40]) + LONG[1:], 3, number(4.0), delimiter=0x81)
    events: list[Event] = []
    for step in range(1000):
        now_s = step * STEP_S
        if step % 20 == 0:
            master.received(burst, now_s)
        out = master.bytes_to_send(now_s)
        if out:
            master.received(device.hear(out), now_s)
        events += master.events()
    assert answered(events) == [0, 2]


def test_a_line_that_is_never_quiet_is_told_and_not_waited_for_without_end() -> None:
    for first_step in (0, 20):
        events: list[Event] = []
        master = Conversation()
        for step in range(3000):
            if step >= first_step:
                master.received(b"\x55", step * STEP_S)
            master.bytes_to_send(step * STEP_S)
            events += master.events()
        assert [type(each) for each in events].count(Silent) == 1 and master.finished


@settings(max_examples=40)
@given(st.lists(st.tuples(st.binary(max_size=300), st.floats(0, 5), st.booleans()), max_size=30))
def test_any_bytes_at_any_time_raise_nothing(lots: list[tuple[bytes, float, bool]]) -> None:
    device, master, now_s = Device(), Conversation(every_s=1.0), 0.0
    for lot, later_s, good in lots:
        now_s += later_s
        out = master.bytes_to_send(now_s)
        master.received(device.hear(out) if out and good else lot, now_s)
    assert len(master.events()) <= MOST_EVENTS


def test_events_that_nobody_takes_are_lost_and_counted() -> None:
    master = Conversation()
    wrong = PREAMBLES + reply(b"\x80", 3, b"")
    master.received(wrong * (MOST_EVENTS + 7), 0.0)
    assert (len(master.events()), master.lost) == (MOST_EVENTS, 7)
    assert master.events() == ()


def test_a_clock_that_goes_back_does_not_undo_time() -> None:
    master = Conversation()
    assert master.bytes_to_send(100.0) == b""
    assert master.bytes_to_send(101.0) != b""
    assert master.bytes_to_send(50.0) == b""
    master.received(Device().hear(PREAMBLES + closed(b"\x02\x80\x00\x00")), 51.0)
    (found,) = master.events()
    assert isinstance(found, Answered) and isinstance(found.answer, Identity) and found.at_s == 101.0


@pytest.mark.parametrize("now_s", [math.nan, math.inf, -math.inf])
def test_a_time_that_is_none_is_refused(now_s: float) -> None:
    with pytest.raises(QuantityError, match="time in seconds"):
        Conversation().bytes_to_send(now_s)


@pytest.mark.parametrize("commands", [(6,), (0,), (2, 35), (256,)])
def test_only_readings_can_be_planned(commands: tuple[int, ...]) -> None:
    with pytest.raises(QuantityError, match="only read here"):
        Conversation(once=commands)
    with pytest.raises(QuantityError, match="only read here"):
        Conversation(rounds=commands)


def test_times_that_are_none_are_refused() -> None:
    for name in ("character_s", "answer_s", "port_s", "gap_s", "other_master_s", "way_s"):
        for wrong in (-1.0, math.nan, math.inf):
            with pytest.raises(QuantityError, match=name):
                Timing(**{name: wrong})  # type: ignore[arg-type]
    with pytest.raises(QuantityError, match="at least one try"):
        Timing(tries=0)
    with pytest.raises(QuantityError, match="rounds every"):
        Conversation(every_s=-1.0)
