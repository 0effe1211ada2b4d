"""Frames: worked cases, round trips, and that no request but a reading can be built."""

from __future__ import annotations

import ast
import struct
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import onedatum.logs.live
from onedatum.foundation.errors import QuantityError
from onedatum.logs.live import hart
from onedatum.logs.live.hart import Frame, FrameFault, Kind, Polling, Unique, decode, encode, request
from onedatum.logs.live.hart.frames import FIRST_POLLED, check_byte
from tests.logs.live.line import closed, reply
from tests.reference import case

READINGS = (0, 1, 2, 3, 13, 15, 20, 48)
ADDRESSES = st.one_of(
    st.builds(Polling, st.integers(0, 63)), st.builds(Unique, st.integers(0, 0x3FFF), st.integers(0, 0xFFFFFF))
)
ANSWERS = st.builds(
    Frame,
    kind=st.sampled_from([Kind.REPLY, Kind.BURST]),
    address=ADDRESSES,
    command=st.integers(0, 255),
    data=st.binary(max_size=253),
    status=st.tuples(st.integers(0, 255), st.integers(0, 255)),
    primary=st.booleans(),
    bursting=st.booleans(),
    expansion=st.binary(max_size=3),
)
REQUESTS = st.builds(
    Frame, kind=st.just(Kind.REQUEST), address=ADDRESSES, command=st.sampled_from(READINGS), primary=st.booleans()
)


def test_the_check_byte_of_the_worked_case() -> None:
    stated = case("loop-H01")
    body = bytes.fromhex(stated.value("bytes_hex"))
    assert f"{check_byte(body):02X}" == stated.expected
    assert request(0, Polling(0), preambles=5) == b"\xff" * 5 + body + bytes.fromhex(stated.expected)


def test_the_worked_answer_is_taken_apart() -> None:
    frame = decode(bytes.fromhex(case("loop-H04").value("frame_hex")))
    assert isinstance(frame, Frame)
    assert (frame.kind, frame.command, frame.primary, frame.bursting) == (Kind.REPLY, 3, True, False)
    assert frame.address == Unique(0x2606, 12345678)
    assert frame.status == (0, 0) and len(frame.data) == 14


@given(st.one_of(ANSWERS, REQUESTS))
def test_what_was_encoded_is_decoded_again(frame: Frame) -> None:
    whole = encode(frame)
    assert closed(whole[:-1]) == whole
    assert decode(whole) == frame


@given(st.binary(max_size=300))
def test_bytes_become_a_frame_that_encodes_to_them_or_a_named_fault(sent: bytes) -> None:
    found = decode(sent)
    if isinstance(found, FrameFault):
        assert found.kind in ("no start", "check byte", "cut off", "no status") and str(found)
    elif found.kind is not Kind.REQUEST:
        assert encode(found) == sent


@pytest.mark.parametrize(
    ("sent", "kind"),
    [
        (b"", "no start"),
        (b"\xff", "no start"),
        (b"\x03\x80\x00\x00", "no start"),
        (b"\x0a\x80\x00\x00\x8a", "no start"),
        (b"\x02", "cut off"),
        (b"\x02\x80\x00\x05\x87", "cut off"),
        (b"\x02\x80\x00\x00\x83", "check byte"),
        (b"\x02\x80\x00\x00\x82\x00", "no start"),
        (closed(b"\x06\x80\x00\x01\x00"), "no status"),
        (closed(b"\x01\x80\x00\x00"), "no status"),
    ],
)
def test_what_is_no_frame_is_named(sent: bytes, kind: str) -> None:
    found = decode(sent)
    assert isinstance(found, FrameFault) and found.kind == kind


def test_every_single_wrong_bit_of_the_worked_answer_is_found() -> None:
    """Longitudinal parity finds any odd number of wrong bits in a column."""
    whole = bytes.fromhex(case("loop-H04").value("frame_hex"))
    for at in range(len(whole)):
        for bit in range(8):
            wrong = whole[:at] + bytes([whole[at] ^ 1 << bit]) + whole[at + 1 :]
            assert isinstance(decode(wrong), FrameFault)


def test_a_device_that_did_not_understand_tells_no_status_of_itself() -> None:
    frame = decode(reply(b"\x80", 0, b"", b"\x88\x00"))
    assert isinstance(frame, Frame) and frame.status == (0x88, 0) and frame.device_status is None


# ---------------------------------------------------------------- nothing is ever changed


def test_no_other_request_can_be_built() -> None:
    others = [each for each in range(-1, 257) if each not in READINGS]
    assert len(others) == 250
    for command in others:
        for address in (Polling(3), Unique(0x2606, 1)):
            with pytest.raises(QuantityError, match="only read"):
                request(command, address)
            with pytest.raises(QuantityError, match="only read"):
                encode(Frame(Kind.REQUEST, address, command, b"\x01"))


@given(st.sampled_from(READINGS), ADDRESSES, st.binary(min_size=1, max_size=255))
def test_no_request_can_carry_data(command: int, address: Polling | Unique, data: bytes) -> None:
    with pytest.raises(QuantityError, match="without data"):
        encode(Frame(Kind.REQUEST, address, command, data))


@pytest.mark.parametrize("more", [{"status": (0, 0)}, {"expansion": b"\x01"}])
def test_no_request_can_carry_anything_else(more: dict[str, tuple[int, int]]) -> None:
    with pytest.raises(QuantityError, match="without data"):
        encode(Frame(Kind.REQUEST, FIRST_POLLED, 3, **more))  # type: ignore[arg-type]


@given(st.sampled_from(READINGS), ADDRESSES, st.booleans(), st.integers(5, 20))
def test_a_request_is_four_or_eight_bytes_and_a_check_byte(
    command: int, address: Polling | Unique, primary: bool, preambles: int
) -> None:
    sent = request(command, address, primary, preambles)
    assert sent.startswith(b"\xff" * preambles)
    body = sent[preambles:]
    assert body[0] == (0x82 if isinstance(address, Unique) else 0x02)
    assert body[-3] == command and body[-2] == 0, "the byte count of a reading is zero"


def test_the_only_commands_are_readings_and_none_is_named_otherwise() -> None:
    """Universal commands that write: 6, 17, 18, 19, 22, 38 (from memory of the standard)."""
    assert hart.READING_COMMANDS == READINGS
    assert not {6, 17, 18, 19, 22, 34, 35, 36, 37, 38, 40, 42, 43, 44, 45, 46} & set(hart.READING_COMMANDS)


def test_what_reads_bytes_and_registers_opens_no_port_no_socket_and_no_file() -> None:
    """The ports are modules of their own beside it."""
    folder = Path(onedatum.logs.live.__file__).parent
    names: set[str] = set()
    for file in (folder / "registers.py", *(folder / "hart").rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                names |= {each.name.split(".")[0] for each in node.names}
            elif isinstance(node, ast.ImportFrom):
                names.add((node.module or "").split(".")[0])
            elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in ("open", "exec", "eval", "__import__"), file.name
    allowed = "__future__ ast collections dataclasses datetime enum functools math onedatum operator struct typing"
    assert names and names <= set(allowed.split())


@pytest.mark.parametrize("preambles", [-1, 0, 4, 21, 10**9])
def test_preambles_too_few_or_too_many_are_refused(preambles: int) -> None:
    with pytest.raises(QuantityError, match="number of preambles from 5 to 20"):
        request(0, preambles=preambles)


@pytest.mark.parametrize("number", [-1, 64, True, 1.0, "1", None])
def test_a_polling_address_that_is_none_is_refused(number: object) -> None:
    with pytest.raises(QuantityError, match="polling address from 0 to 63"):
        Polling(number)  # type: ignore[arg-type]


def test_a_long_address_beyond_38_bits_is_refused() -> None:
    with pytest.raises(QuantityError, match="device type"):
        Unique(0x4000, 0)
    with pytest.raises(QuantityError, match="number of a device"):
        Unique(0, 1 << 24)


def test_an_answer_too_long_for_its_byte_count_is_refused() -> None:
    with pytest.raises(QuantityError, match="byte count from 0 to 255"):
        encode(Frame(Kind.REPLY, FIRST_POLLED, 0, bytes(254), (0, 0)))
    with pytest.raises(QuantityError, match="status bytes"):
        encode(Frame(Kind.REPLY, FIRST_POLLED, 0))


def test_floats_are_big_endian() -> None:
    """1.5 is 3FC00000 in IEEE 754 single."""
    assert struct.pack(">f", 1.5).hex() == "3fc00000"
    frame = decode(bytes.fromhex(case("loop-H04").value("frame_hex")))
    assert isinstance(frame, Frame) and frame.data[5:9].hex() == "3fc00000"
