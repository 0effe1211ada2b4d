"""The codec against frames recorded from devices, which check themselves by their longitudinal parity.

Where each stands is said beside it in `recorded_hart.json`. Command 15 and a refusal of 20 stand in a recorded session
(`test_session.py`). Of 48, and of 20 answered, none was found: these are tested on bytes made by hand alone.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from onedatum.logs.live.hart import (
    READING_COMMANDS,
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
    LoopReading,
    Overheard,
    Polling,
    PrimaryVariable,
    Refused,
    Silent,
    Unique,
    Unit,
    Value,
    Variables,
    decode,
    encode,
    read_answer,
    request,
)
from onedatum.logs.live.hart.codes import table as codes
from onedatum.logs.live.hart.packed import pack
from onedatum.logs.live.hart_port import reading_of
from tests.closeness import exact
from tests.logs.live.line import NOT_AVAILABLE, PREAMBLES, closed
from tests.logs.live.recorded import Recorded, answers, recorded, requests, table
from tests.logs.live.session import exchanges

STEP_S = 0.02


def named(row: Recorded) -> str:
    return row.id


def read(sent: bytes, lot: int = 0) -> list[Frame | FrameFault]:
    """What comes out of a stream handed over in lots, and of the silence after it."""
    reader, found = FrameReader(), []
    for begin in range(0, len(sent), lot or len(sent)):
        found += reader.feed(sent[begin : begin + (lot or len(sent))])
    return found + reader.silence()


def frames(sent: bytes, lot: int = 0) -> list[Frame]:
    return [each for each in read(sent, lot) if isinstance(each, Frame)]


def single(sent: bytes) -> float:
    """A number of IEEE 754 single by its definition: sign, exponent less 127, one and the fraction."""
    bits = int.from_bytes(sent, "big")
    sign, exponent, fraction = bits >> 31, bits >> 23 & 0xFF, bits & 0x7FFFFF
    assert 0 < exponent < 255 or not bits
    return float((-1) ** sign * (1 + fraction / 2**23) * 2.0 ** (exponent - 127)) if bits else 0.0


def variable(code: int, sent: str) -> Value:
    return Value(single(bytes.fromhex(sent)), Unit(code))


# ---------------------------------------------------------------- frames


def test_every_frame_of_the_file_holds_its_parity_and_says_where_it_stands() -> None:
    assert (len(requests()), len(answers())) == (10, 16)
    for row in recorded().values():
        assert closed(row.frame[:-1]) == row.frame, row.id
        assert row.source.startswith(("recorded", "as published")), row.id
        assert not row.answers or recorded()[row.answers].command == row.command
    assert {row.command for row in answers()} == {0, 1, 2, 3, 13, 14}


@pytest.mark.parametrize("row", requests(), ids=named)
def test_a_request_is_the_one_that_was_recorded(row: Recorded) -> None:
    found = decode(row.frame)
    assert isinstance(found, Frame) and found.kind is Kind.REQUEST and found.command == row.command
    body = row.frame[1:]
    address = (
        Unique(int.from_bytes(bytes([body[0] & 0x3F, body[1]]), "big"), int.from_bytes(body[2:5], "big"))
        if row.long
        else Polling(0)
    )
    primary = bool(body[0] & 0x80)
    assert (found.address, found.primary, found.data) == (address, primary, b"")
    assert request(row.command, address, primary, row.preambles) == row.stream


@pytest.mark.parametrize("row", answers(), ids=named)
def test_an_answer_is_found_in_the_stream_however_it_is_parted(row: Recorded) -> None:
    """With a stray byte before it, four preambles or more, and two zeros behind."""
    (found,) = frames(row.stream)
    assert (found.kind, found.command, found.data) == (Kind.REPLY, row.command, row.data)
    assert found.status == (0, row.status) and not found.bursting
    assert encode(found) == row.frame
    assert read(row.stream) == read(row.stream, 1) == read(row.stream, 3)
    left = sum(each.count for each in read(row.stream) if isinstance(each, FrameFault))
    assert left == len(row.stray) + len(row.after), "what is no frame is counted, and nothing else"


def test_the_whole_record_in_one_stream() -> None:
    rows = list(recorded().values())
    sent = b"".join(row.stream for row in rows)
    for lot in (0, 1, 3):
        assert [(each.command, each.data) for each in frames(sent, lot)] == [
            (row.command, b"" if row.is_request else row.data) for row in rows
        ]


def test_a_frame_with_any_one_bit_turned_is_refused() -> None:
    for row in recorded().values():
        for bit in range(8 * len(row.frame)):
            wrong = bytearray(row.frame)
            wrong[bit // 8] ^= 1 << bit % 8
            assert frames(PREAMBLES + bytes(wrong)) == [], f"{row.id}, bit {bit}"


def test_an_answer_that_lies_of_its_length_is_no_reading() -> None:
    """The check byte is mended; what comes after the lie and a silence is found."""
    good = recorded()["loop-F"]
    for row in answers():
        for count in set(range(256)) - {row.frame[row.count_at]}:
            reader = FrameReader()
            lie = closed(row.frame[: row.count_at] + bytes([count]) + row.frame[row.count_at + 1 : -1])
            found = reader.feed(PREAMBLES + lie) + reader.silence()
            read_as = [read_answer(each.command, each.data) for each in found if isinstance(each, Frame)]
            assert found and all(isinstance(each, AnswerFault) for each in read_as), f"{row.id}, {count}"
            assert reader.feed(good.stream) == [decode(good.frame)]


def test_two_preambles_more_in_a_frame_do_not_change_its_parity_and_change_no_value() -> None:
    """A weak spot of the parity itself: FF FF cancel. A count too great by two takes them in, behind the data."""
    good = recorded()["loop-F"]
    for row in answers():
        if row.command in READING_COMMANDS:
            lie = closed(
                row.frame[: row.count_at] + bytes([row.frame[row.count_at] + 2]) + row.frame[row.count_at + 1 : -1]
            )
            first, second = frames(PREAMBLES + lie + good.stream)
            assert read_answer(row.command, first.data) == read_answer(row.command, row.data), row.id
            assert second == decode(good.frame)


def test_a_request_made_wrong_by_hand_is_no_frame() -> None:
    """Recorded: no device answered it. Its byte count announces one byte that is not there."""
    sent = bytes.fromhex(table()["unanswered"]["sent"])
    (fault,) = read(PREAMBLES + sent)
    assert isinstance(fault, FrameFault) and fault.kind == "cut off"
    # What it was meant to be: 82^95^02^0D^91^43^01^00 = CB.
    meant = bytes.fromhex("82 95 02 0D 91 43 01 00 CB")
    assert request(1, Unique(0x1502, 0x0D9143), preambles=5) == PREAMBLES + meant


# ---------------------------------------------------------------- values

IDENTITIES = {
    "identity-A": Identity(Unique(0x1502, 0x0D9143), 5, 5, 3, 15, 2, 0),
    "identity-B": Identity(Unique(0x1A89, 0x21633F), 7, 5, 2, 27, 1, 1),
    "identity-C": Identity(Unique(0x370B, 0xA8AB50), 5, 5, 3, 11, 1, 0),
    "identity-D": Identity(Unique(0x22DC, 0x1C9CEF), 5, 7, 5, 5, 2, 0, 5, 0x013C, 0),
    "identity-H": Identity(Unique(0x3E01, 0x05F04D), 5, 5, 5, 114, 4, 6),
}
"""By hand from the bytes, in the order of the tables of a communications manual (2015): 254, type, preambles, revisions
of commands, device, software and (five bits) hardware, flags, number; then preambles of answers, last variable,
counter, extended status."""


@pytest.mark.parametrize("name", IDENTITIES)
def test_the_identity(name: str) -> None:
    assert read_answer(0, recorded()[name].data) == IDENTITIES[name]


def test_the_long_address_that_an_identity_tells_is_the_one_that_was_asked() -> None:
    identity, asked = IDENTITIES["identity-C"], decode(recorded()["label-C-asked"].frame)
    assert isinstance(asked, Frame) and asked.address == identity.address
    own = decode(recorded()["identity-H"].frame)
    assert isinstance(own, Frame) and own.address == IDENTITIES["identity-H"].address and own.primary


def test_primary_variables() -> None:
    """The comments tell 5.5 and a flow of zero; the others are worked by the definition of the number."""
    told = {
        "primary-E": (6, "40B00000", 5.5),
        "primary-F": (17, "250483BB", 1.1493807e-16),
        "primary-F-still": (17, "00000000", 0.0),
        "primary-F2": (171, "C427BF33", -670.98749),
        "primary-G": (10, "BCC7A3E9", -0.024370151),
    }
    for name, (code, sent, near) in told.items():
        found = read_answer(1, recorded()[name].data)
        assert found == PrimaryVariable(variable(code, sent)), name
        assert f"{found.value.number:.8g}" == f"{near:.8g}"
    assert Unit(6).name == "psi" and variable(171, "C427BF33").in_si is None, "a unit that is not known stays a number"


def test_loop_current_and_per_cent() -> None:
    """40800000 is 4.0; BB771CD1 is -0.0037706 %."""
    assert read_answer(2, recorded()["loop-F"].data) == LoopReading(0.004, 0.0)
    found = read_answer(2, recorded()["loop-G"].data)
    assert found == LoopReading(0.004, single(bytes.fromhex("BB771CD1")) / 100)
    assert f"{100 * (found.share or 0):.5g}" == "-0.0037706"


@pytest.mark.parametrize(
    ("name", "sent", "near"),
    [("variables-G", "BCF62D77", "-0.030050976"), ("variables-G-later", "BC0545E2", "-0.0081343371")],
)
def test_four_variables(name: str, sent: str, near: str) -> None:
    found = read_answer(3, recorded()[name].data)
    assert found == Variables(0.004, (variable(10, sent),) * 4)
    assert found.primary and f"{found.primary.number:.8g}" == near


def test_the_label() -> None:
    """19 4B 4A 40 2C 31 in six bits: 06 14 2D 0A 10 02 30 31; below 20 with 40 added: F T - J P B 0 1."""
    data = recorded()["label-C"].data
    tag = "".join(map(chr, (0x46, 0x54, 0x2D, 0x4A, 0x50, 0x42, 0x30, 0x31)))
    assert read_answer(13, data) == Label(tag, "", date(1901, 1, 1))
    assert pack(tag) + pack(" " * 16) == data[:18]


def test_what_is_not_read_here_is_named() -> None:
    row = recorded()["unread-G"]
    assert 14 not in READING_COMMANDS
    assert str(read_answer(14, row.data)) == "command 14: no reading that is known here"


# ---------------------------------------------------------------- status

STATUS = {
    0x40: ("configuration_changed",),
    0x14: ("more_status", "current_saturated"),
    0x44: ("configuration_changed", "current_saturated"),
    0x48: ("configuration_changed", "current_fixed"),
    0x68: ("configuration_changed", "cold_start", "current_fixed"),
}
"""40 is told in words by the log of 2023-08-09, 20 by a comment that saw it once after power on, 08 and 04 by what a
device did in a recorded session; 10 is from memory."""


def test_every_status_of_the_record() -> None:
    assert {row.status for row in answers()} == {0, *STATUS}
    for byte, keys in STATUS.items():
        assert DeviceStatus(byte).keys == keys


def test_a_restart_is_told_once() -> None:
    """The status went from 20 to 00 and nothing else but the check byte; the data are those of command 0."""
    first, later = (decode(bytes.fromhex(each)) for each in table()["cold_start"]["frames"])
    assert isinstance(first, Frame) and isinstance(later, Frame) and first.command == later.command == 11
    assert first.status is not None and first.status[1] == 0x20 and DeviceStatus(0x20).keys == ("cold_start",)
    assert later == replace(first, status=(0, 0))
    assert read_answer(0, first.data) == Identity(Unique(0x0A32, 0x7E3823), 5, 5, 1, 3, 1, 1)


def test_a_current_that_is_held_is_no_level() -> None:
    """Bit 3: 4 mA to the last bit at a per cent below zero, where a current that follows would be 0.6 uA less."""
    loop, variables = (decode(recorded()[name].frame) for name in ("loop-G", "variables-G"))
    assert isinstance(loop, Frame) and isinstance(variables, Frame) and loop.device_status and variables.device_status
    told = [read_answer(each.command, each.data) for each in (loop, variables)]
    assert isinstance(told[0], LoopReading) and isinstance(told[1], Variables)
    exact([told[0].current_A, told[1].current_A], [0.004, 0.004])
    assert told[0].share is not None and 0.016 * told[0].share == pytest.approx(-0.6e-6, rel=0.01)
    reading = reading_of(
        {2: Answered(0.0, 2, told[0], loop.device_status), 3: Answered(0.0, 3, told[1], variables.device_status)}, None
    )
    assert reading.denies_level and "held" in reading.doubt


# ---------------------------------------------------------------- too short, too long, not there


def test_recorded_variables_cut_short_are_fewer_or_a_fault() -> None:
    """Devices with fewer variables answer shorter; 4 bytes of current, then 5 for each (recorded with four)."""
    data = recorded()["variables-G"].data
    for length in range(len(data) + 1):
        found = read_answer(3, data[:length])
        if length in (4, 9, 14, 19, 24):
            assert found == Variables(0.004, (variable(10, "BCF62D77"),) * ((length - 4) // 5))
        else:
            assert isinstance(found, AnswerFault)
    for row in answers():
        if row.command in (0, 1, 2, 13):
            least = 12 if row.command == 0 else len(row.data)
            assert all(isinstance(read_answer(row.command, row.data[:end]), AnswerFault) for end in range(least))


def test_a_variable_that_is_not_there_leaves_the_others() -> None:
    """Number and unit that stand for none are from memory: no recorded frame holds them."""
    data = recorded()["variables-G"].data
    for none in (b"\x0a" + NOT_AVAILABLE, b"\xfa" + NOT_AVAILABLE, b"\xfa" + data[5:9]):
        found = read_answer(3, data[:9] + none + data[14:])
        assert isinstance(found, Variables)
        assert [each.number is None for each in found.values] == [False, True, False, False]


def test_an_identity_of_revision_5_that_is_too_long_tells_no_counter() -> None:
    """The bytes after the twelfth came with revision 6; what an older device sends there is not known."""
    for name in ("identity-A", "identity-B", "identity-C"):
        assert read_answer(0, recorded()[name].data + bytes(range(10))) == IDENTITIES[name]
    assert read_answer(0, recorded()["identity-D"].data[:16]) == Identity(Unique(0x22DC, 0x1C9CEF), 5, 7, 5, 5, 2, 0)


# ---------------------------------------------------------------- the exchange as a whole


def exchange(
    master: Conversation, lines: dict[bytes, bytes], seconds: float = 20.0
) -> tuple[list[Event], list[tuple[int, bytes]]]:
    """Let time go against a line that knows a few requests; gives events, and preambles and body of each sending."""
    events: list[Event] = []
    sent: list[tuple[int, bytes]] = []
    for step in range(int(seconds / STEP_S)):
        out = master.bytes_to_send(step * STEP_S)
        if out:
            body = out.lstrip(b"\xff")
            sent.append((len(out) - len(body), body))
            master.received(lines.get(body, b""), step * STEP_S)
        events += master.events()
        if master.finished:
            break
    return events, sent


def test_a_secondary_master_repeats_the_log() -> None:
    rows = recorded()
    pairs = [("identity-C-asked", "identity-C"), ("label-C-asked", "label-C")]
    events, sent = exchange(
        Conversation(once=(13,), rounds=(), primary=False),
        {rows[asked].frame: rows[answer].stream for asked, answer in pairs},
    )
    assert sent == [(20, rows["identity-C-asked"].frame), (5, rows["label-C-asked"].frame)]
    assert [type(each) for each in events] == [Answered, Answered]
    assert [each.status.keys for each in events if isinstance(each, Answered)] == [("configuration_changed",)] * 2
    label = events[1]
    assert isinstance(label, Answered) and isinstance(label.answer, Label) and label.answer.tag == "FT-JPB01"


def test_a_primary_master_comes_to_the_long_address_and_looks_again_by_the_short_frame() -> None:
    """After identity-A the device is silent: four tries, then the next round begins with the short frame."""
    rows = recorded()
    asked = rows["identity-A-asked"].frame
    events, sent = exchange(
        Conversation(once=(), rounds=(1,), every_s=1.0), {asked: rows["identity-A"].stream}, seconds=6.0
    )
    first = bytes.fromhex("82 95 02 0D 91 43 01 00 CB")
    assert sent[:6] == [(20, asked), *[(5, first)] * 4, (20, asked)]
    assert [type(each) for each in events[:3]] == [Answered, Silent, Answered]


def test_zeros_behind_an_answer_are_passed_over_and_its_preambles_are_kept() -> None:
    rows = recorded()
    events, sent = exchange(
        Conversation(once=(), rounds=(2,)), {rows["identity-A-asked"].frame: rows["identity-B"].stream}
    )
    # 82^9A^89^21^63^3F^02^00 = EE, with the seven preambles that the device asks for.
    assert sent[1] == (7, bytes.fromhex("82 9A 89 21 63 3F 02 00 EE"))
    assert isinstance(events[0], Answered) and events[0].answer == IDENTITIES["identity-B"]
    assert [each.words for each in events if isinstance(each, Disturbed)] == [
        "no start: bytes outside any frame (2 bytes)"
    ]


def test_a_command_that_is_not_read_here_does_no_harm() -> None:
    """An answer to a secondary master: overheard by a primary one, not asked for by a secondary one."""
    rows = recorded()
    for primary, kind in ((True, Overheard), (False, Disturbed)):
        master = Conversation(once=(13,), rounds=(), primary=primary)
        asked = rows["identity-A-asked" if primary else "identity-C-asked"].frame
        events, _ = exchange(
            master,
            {asked: rows["unread-G"].stream + rows["identity-D" if primary else "identity-C"].stream},
        )
        assert kind in map(type, events)
        met = [each.answer for each in events if isinstance(each, Answered)]
        assert met == [IDENTITIES["identity-D" if primary else "identity-C"]]


@pytest.mark.parametrize("count", range(9))
def test_an_answer_to_command_2_that_is_too_short_is_refused_by_the_conversation(count: int) -> None:
    rows = recorded()
    own = rows["loop-F"].frame
    head = b"\x86\x37\x0b\xa8\xab\x50"
    short = PREAMBLES + closed(head + bytes([2, 2 + count]) + own[8:10] + rows["loop-F"].data[:count])
    events, sent = exchange(
        Conversation(once=(), rounds=(2,), primary=False),
        {
            rows["identity-C-asked"].frame: rows["identity-C"].stream,
            closed(b"\x82" + head[1:] + b"\x02\x00"): short,
        },
    )
    last = events[-1]
    if count == 8:
        assert isinstance(last, Answered) and last.answer == LoopReading(0.004, 0.0)
    else:
        assert isinstance(last, Refused) and last.words.endswith(f"at least 8 bytes long; got {count}")
    assert len(sent) == 2, "a device that answers too short is not asked the same again and again"


# ---------------------------------------------------------------- what the table says it rests on


def test_what_the_table_says_was_recorded_stands_in_the_record() -> None:
    """Rows that cite the record: the command was answered in it, the bit was set in it, the code was sent in it."""
    rests = "hart-recorded"
    commands = {int(key) for key, row in codes()["commands"].items() if row.get("source", "").startswith(rests)}
    session = [each for each in exchanges() if closed(each.answer[:-1]) == each.answer]
    of_session = {each.command for each in session if each.status[0] == 0}
    assert commands == ({row.command for row in answers()} | of_session) & set(READING_COMMANDS)
    bits = {row["bit"] for row in codes()["device_status"] if row.get("source", "").startswith(rests)}
    assert bits == {6, 5, 3, 2} and {each.status[1] for each in session} == {0x64, 0x44, 0x4C}
    sent_codes = {str(row.frame[row.count_at + 1]) for row in answers()} | {str(each.status[0]) for each in session}
    assert sent_codes == {
        key for key, row in codes()["answer_codes"].items() if row.get("source", "").startswith(rests)
    }
    words = [row.get("note", "") for row in table()["frames"]]
    assert any("40 Configuration changed" in note for note in words)
    assert recorded()["label-C"].status == 1 << 6 and bytes.fromhex(table()["cold_start"]["frames"][0])[9] == 1 << 5
