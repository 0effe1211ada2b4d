"""The reading of HART over a recorded session with its times: a transmitter of revision 5 behind a bridge.

Where the record stands and what was left out of it is said in the head of `recorded_session.txt`. What is expected is
worked from the bytes by hand; of command 20 only a refusal is in it, of 2, 3 and 48 nothing.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from itertools import pairwise

import pytest

from onedatum.logs.live.hart import (
    Answered,
    AnswerFault,
    Conversation,
    DeviceStatus,
    Disturbed,
    Event,
    Frame,
    FrameFault,
    FrameReader,
    Identity,
    Kind,
    Label,
    OutputRange,
    Overheard,
    PrimaryVariable,
    Refused,
    Timing,
    Unique,
    Unit,
    Value,
    read_answer,
)
from onedatum.logs.live.hart.codes import time_s
from onedatum.logs.live.hart_port import timing_of
from onedatum.logs.live.plan import HartSource
from tests.logs.live.line import closed
from tests.logs.live.session import Exchange, Lot, exchanges, lots, of_command

STEP_S = 0.02
ADDRESS = bytes.fromhex("BE0105F04D")
COMMANDS = [0, 13, 0, 0, 20, 13, 15, 138, 20, 14, 1, 1, 40, 40, 33, 33, 33, 40]
DAMAGED = {14: "check byte", 15: "check byte", 17: "cut off"}
"""Exchanges, counted from 0, whose answers did not come whole."""
TCP = timing_of(HartSource("x", "127.0.0.1", 5094, "", 0))
SERIAL = timing_of(HartSource("x", "", 0, "x", 0))


@cache
def whole() -> tuple[Exchange, ...]:
    """Those whose answers came whole."""
    return tuple(each for at, each in enumerate(exchanges()) if at not in DAMAGED)


def read_in_time(record: tuple[Lot, ...]) -> list[tuple[Lot, Frame | FrameFault]]:
    """Each lot as it came, with the silence between them."""
    reader = FrameReader()
    found: list[tuple[Lot, Frame | FrameFault]] = []
    for before, lot in zip((None, *record), record, strict=False):
        if before and lot.at_s - before.at_s >= time_s("gap_s"):
            found += [(before, each) for each in reader.silence()]
        found += [(lot, each) for each in reader.feed(lot.sent)]
    return found + [(record[-1], each) for each in reader.silence()]


# ---------------------------------------------------------------- the record


def test_the_record_stands_as_its_head_says() -> None:
    assert [each.command for each in exchanges()] == COMMANDS
    for at, each in enumerate(exchanges()):
        assert closed(each.request[:-1]) == each.request
        assert (closed(each.answer[:-1]) == each.answer) is (at not in DAMAGED)
    waits_ms = sorted(round(1000 * each.wait_s) for each in exchanges())
    assert (waits_ms[0], waits_ms[-1]) == (184, 316)


def test_its_characters_have_eleven_bits_and_its_lots_leave_no_gap() -> None:
    """1200 bit/s: 9.17 ms, and no more than a tenth above it for what a device waits between characters."""
    count = sum(len(lot.sent) for each in exchanges() for lot in each.lots[1:])
    lasted_s = sum(each.lots[-1].at_s - each.lots[0].at_s for each in exchanges())
    assert 1.0 < lasted_s / count / (11 / 1200) < 1.1
    assert max(b.at_s - a.at_s for each in exchanges() for a, b in pairwise(each.lots)) < time_s("gap_s")


# ---------------------------------------------------------------- frames


def test_every_lot_as_it_came_makes_the_frames_that_were_sent() -> None:
    """Those of the device by slices of its bytes; two to five preambles came before them."""
    found = read_in_time(tuple(lot for lot in lots() if not lot.from_master))
    frames = [each for _, each in found if isinstance(each, Frame)]
    assert [(each.command, bytes(each.status or ()), each.data) for each in frames] == [
        (each.command, each.status, each.data) for each in whole()
    ]
    assert all(each.kind is Kind.REPLY and each.primary and not each.bursting for each in frames)
    assert {len(each.stream) - len(each.answer) for each in whole()} == {2, 5}
    assert [each.kind for _, each in found if isinstance(each, FrameFault)] == ["check byte"] * 2 + [
        "no start",
        "cut off",
    ]


def test_a_third_party_hears_the_same_and_both_sides() -> None:
    """A secondary master that asks nothing: 18 requests and 15 answers, and what was damaged."""
    listener, events = Conversation(primary=False), list[Event]()
    for lot in lots():
        listener.received(lot.sent, lot.at_s)
        events += listener.events()
    listener.received(b"", lots()[-1].at_s + 1.0)
    events += listener.events()
    heard = [each.frame for each in events if isinstance(each, Overheard)]
    assert [each.command for each in heard if each.kind is Kind.REQUEST] == COMMANDS
    assert [each.command for each in heard if each.kind is Kind.REPLY] == [each.command for each in whole()]
    assert [each.words.partition(":")[0] for each in events if isinstance(each, Disturbed)] == [
        "check byte",
        "check byte",
        "no start",
        "cut off",
    ]


def test_two_answers_lost_one_bit_and_the_check_byte_tells() -> None:
    """BC in place of the BE that was asked; with that bit again the parity holds."""
    for at in (14, 15):
        spoiled = exchanges()[at].answer
        assert (spoiled[1], ADDRESS[0]) == (0xBC, 0xBE)
        mended = spoiled[:1] + ADDRESS[:1] + spoiled[2:]
        assert closed(mended[:-1]) == mended
        found = read_in_time(exchanges()[at].lots)
        assert [str(each).partition(":")[0] for _, each in found] == ["check byte"]
    next_one = read_in_time(tuple(lot for each in exchanges()[14:17] for lot in each.lots))
    assert [type(each) for _, each in next_one] == [FrameFault, FrameFault, Frame]


# ---------------------------------------------------------------- values

IDENTITY = Identity(Unique(0x3E01, 0x05F04D), 5, 5, 5, 0x72, 4, 6)
"""FE 3E01 05 05 05 72 20 06 05F04D: hardware revision in the upper five bits of 20."""
OUTPUT = OutputRange(Value(1690.0, Unit(4)), Value(190.0, Unit(4)), 0.0, "low", 0, "not protected")
"""01 00 04 44D34000 433E0000 00000000 00 3E. 44D34000 is 2^10 (1 + 5455872 / 2^23) = 1690, 433E0000 is
2^7 (1 + 4063232 / 2^23) = 190. The words of the codes 01, 00 and 00 are from memory."""


def test_the_identity_by_both_addresses() -> None:
    assert [read_answer(0, each.data) for each in of_command(0)] == [IDENTITY] * 3
    assert [each.answer[0] for each in of_command(0)] == [0x06, 0x06, 0x86]


def test_both_labels() -> None:
    """Six bits each, below 20 with 40 added: 14 01 07 20... is TAG; 0C 14 31 30 30 is LT100. 82 is no day: none."""
    first, second = (read_answer(13, each.data) for each in of_command(13))
    assert first == Label("TAG", "16 CHARACTERES", None)
    assert second == Label("LT100", "MEDIDOR DE NIVEL", date(1981, 3, 8))


def test_the_primary_variable() -> None:
    assert [read_answer(1, each.data) for each in of_command(1)] == [PrimaryVariable(Value(0.0, Unit(4)))] * 2


def test_the_range_in_the_form_of_revision_5_and_in_the_longer_one() -> None:
    """17 bytes recorded; 18 by a communications manual (2015), which has a byte of flags behind."""
    (row,) = of_command(15)
    assert len(row.data) == 17 and read_answer(15, row.data) == OUTPUT
    for flags in range(256):
        assert read_answer(15, row.data + bytes([flags])) == OUTPUT
    assert all(isinstance(read_answer(15, row.data[:end]), AnswerFault) for end in range(16))


def test_every_status_of_the_record_and_what_the_device_did() -> None:
    """Told to hold 4.0 mA it sets bit 3, let go it clears it; 3.8 mA with a level of 0 and a range from 190 on: bit 2.

    Command 40 changes what a device does and can not be sent from here; its answers stand in the record.
    """
    told = {
        0x64: ("configuration_changed", "cold_start", "current_saturated"),
        0x44: ("configuration_changed", "current_saturated"),
        0x4C: ("configuration_changed", "current_fixed", "current_saturated"),
    }
    assert {each.status[1] for each in whole()} == set(told)
    assert all(DeviceStatus(byte).keys == keys for byte, keys in told.items())
    held, free = of_command(40)[:2]
    assert held.request[8:12] == held.data == bytes.fromhex("40800000") and held.status[1] & 0x08
    assert free.request[8:12] == free.data == bytes(4) and not free.status[1] & 0x08
    # 33 tells a place, a unit and a number for each variable: 4.0 while it was held, 3.8 (40733333) while it was free.
    free_33, held_33 = of_command(33)[0], of_command(33)[2]
    assert (held_33.data, held_33.status[1]) == (bytes.fromhex("0027 40800000"), 0x4C)
    assert (free_33.data, free_33.status[1]) == (bytes.fromhex("0027 40733333"), 0x44)
    assert Unit(0x27).name == "mA"


# ---------------------------------------------------------------- a conversation in the times of the record


def play(
    master: Conversation,
    answers: dict[int, list[tuple[Lot, ...]]],
    late_s: float = 0.0,
    on_line: bool = False,
    seconds: float = 15.0,
) -> tuple[list[Event], list[bytes]]:
    """Lots come so long after each request as recorded, and `late_s` more; `on_line`: counted from its last character.

    Each answer begins with the request that it was recorded for. The last of those to a command comes again for each
    further request of it.
    """
    events, sent, waiting = list[Event](), list[bytes](), list[tuple[float, bytes]]()
    for step in range(int(seconds / STEP_S)):
        now_s = step * STEP_S
        out = master.bytes_to_send(now_s)
        if out:
            body = out.lstrip(b"\xff")
            sent.append(body)
            rest = answers[body[6 if body[0] & 0x80 else 2]]
            asked, *came = rest.pop(0) if len(rest) > 1 else rest[0]
            begin_s = now_s + late_s + (len(out) * 11 / 1200 if on_line else 0.0)
            waiting += [(begin_s + lot.at_s - asked.at_s, lot.sent) for lot in came]
        while waiting and waiting[0][0] <= now_s + STEP_S:
            at_s, lot_sent = waiting.pop(0)
            master.received(lot_sent, at_s)
        events += master.events()
        if master.finished and not waiting:
            break
    return events, sent


def slowest(*commands: int) -> dict[int, list[tuple[Lot, ...]]]:
    """Of each command the exchange whose answer came last; of command 0 by the short frame."""
    found = {}
    for command in commands:
        rows = [each for each in of_command(command) if each in whole() and (command or each.request[0] == 0x02)]
        row = max(rows, key=lambda each: each.wait_s)
        found[command] = [(row.asked, *row.lots)]
    return found


def own(timing: Timing) -> Conversation:
    """What is ours in the record, in the order in which it is asked here."""
    return Conversation(once=(13, 20, 15), rounds=(1,), timing=timing)


@pytest.mark.parametrize("timing", [SERIAL, TCP], ids=["serial", "tcp"])
@pytest.mark.parametrize("on_line", [False, True], ids=["from handing over", "from the last character"])
def test_the_session_is_read_in_its_own_times_and_nothing_is_asked_twice(timing: Timing, on_line: bool) -> None:
    events, sent = play(own(timing), slowest(0, 13, 20, 15, 1), on_line=on_line)
    assert [each.command for each in events if isinstance(each, (Answered, Refused))] == [0, 13, 20, 15, 1]
    assert len(events) == 5, "no byte is left over"
    requests = [next(iter(of_command(command))).request for command in (0, 13, 20, 15, 1)]
    assert sent == requests, "ours are those of the record"
    read = {each.command: each.answer for each in events if isinstance(each, Answered)}
    assert (read[0], read[15], read[1]) == (IDENTITY, OUTPUT, PrimaryVariable(Value(0.0, Unit(4))))


def test_a_command_that_the_device_does_not_know_is_asked_once_and_told_in_words() -> None:
    """Status 40 44 without data, recorded twice: a device of revision 5 has no long tag."""
    assert [(each.status, each.data) for each in of_command(20)] == [(b"\x40\x44", b"")] * 2
    events, sent = play(Conversation(once=(), rounds=(20, 1), every_s=1.0, timing=TCP), slowest(0, 20, 1), seconds=12.0)
    refused = [each for each in events if isinstance(each, Refused)]
    assert [(each.command, each.words) for each in refused] == [(20, "command not implemented")]
    commands = [body[6] if body[0] & 0x80 else 0 for body in sent]
    assert commands.count(20) == 1 and commands.count(1) >= 4 and commands.count(0) == 1


def test_a_damaged_answer_is_asked_for_again() -> None:
    """As recorded in the lots of command 33: one bit lost. Here it comes for command 1, whose next answer is whole."""
    bad, good = exchanges()[14], slowest(0, 1)
    good[1].insert(0, (bad.asked, *bad.lots))
    events, sent = play(Conversation(once=(), rounds=(1,), timing=TCP), good)
    assert [type(each) for each in events] == [Answered, Disturbed, Answered] and len(sent) == 3
    assert isinstance(events[1], Disturbed) and events[1].words.startswith("check byte")


def test_the_wait_holds_a_network_behind_which_the_bridge_is_as_slow_as_recorded() -> None:
    """316 ms of the 356 ms that a modem at hand is given; a network of 60 ms would be too late, so TCP has more."""
    assert TCP.way_s == time_s("way_s") > SERIAL.way_s == 0.0
    left_s = time_s("answer_s") + time_s("port_s") - max(each.wait_s for each in exchanges())
    assert 0.0 < left_s < 0.06
    late = [len(play(own(SERIAL), slowest(0, 13, 20, 15, 1), late_s=0.06, on_line=True)[1])]
    late += [len(play(own(TCP), slowest(0, 13, 20, 15, 1), late_s, True)[1]) for late_s in (0.06, 0.5)]
    assert late[0] > 5 and late[1:] == [5, 5]


def test_a_network_that_stalls_within_a_frame_cuts_nothing_off() -> None:
    """The last two lots of the range come 0.4 s later than recorded."""
    stalled = slowest(0, 15, 1)
    (row,) = stalled[15]
    stalled[15] = [(*row[:-2], *(Lot(lot.at_s + 0.4, False, lot.sent) for lot in row[-2:]))]
    events, sent = play(Conversation(once=(15,), rounds=(1,), timing=TCP), stalled)
    assert [type(each) for each in events] == [Answered] * 3 and len(sent) == 3
    events, sent = play(Conversation(once=(15,), rounds=(1,), timing=SERIAL), stalled)
    assert any(isinstance(each, Disturbed) and each.words.startswith("cut off") for each in events) and len(sent) > 3


def test_another_master_is_let_have_its_answer_through_a_bridge() -> None:
    """A primary master waits 305 ms after the request of another; the recorded answer came after 316 ms."""
    row = max(of_command(1), key=lambda each: each.wait_s)
    assert row.wait_s > time_s("quiet_primary_s")

    # The same request by a secondary master: bit 80 of the address away, and from the check byte.
    request = row.asked.sent.replace(b"\x82\xbe", b"\x82\x3e")[:-1] + bytes([row.asked.sent[-1] ^ 0x80])
    for timing, waits in ((TCP, True), (SERIAL, False)):
        master = Conversation(timing=timing)
        master.bytes_to_send(row.asked.at_s - 0.1)
        master.received(request, row.asked.at_s)
        spoken = [master.bytes_to_send(row.asked.at_s + step * 0.005) != b"" for step in range(64)]
        assert any(spoken) is not waits


def test_nothing_is_sent_into_a_frame_that_a_network_has_parted() -> None:
    """Half of a request of another master has come; the rest may be on its way for the gap and the way."""
    begun = of_command(0)[0].asked.sent[:-2]
    for timing, end_s in ((TCP, time_s("gap_s") + time_s("way_s")), (SERIAL, time_s("gap_s"))):
        master = Conversation(timing=timing)
        master.bytes_to_send(0.0)
        master.received(begun, 1.0)
        assert master.bytes_to_send(1.0 + end_s - 0.001) == b"" != master.bytes_to_send(1.0 + end_s + 0.001)
