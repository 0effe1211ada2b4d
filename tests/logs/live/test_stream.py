"""A stream of bytes: whatever comes, frames are found, faults are named, and little is held."""

from __future__ import annotations

import random
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.logs.live.hart import Frame, FrameFault, FrameReader, decode
from onedatum.logs.live.hart.stream import MOST_HELD
from tests.logs.live.line import PREAMBLES, closed, reply
from tests.reference import case

WHOLE = bytes.fromhex(case("loop-H04").value("frame_hex"))
FRAME = decode(WHOLE)
# No delimiter stands in such rubbish, so that it cannot begin a frame.
RUBBISH = st.binary(max_size=40).map(lambda sent: bytes(byte & 0x78 | 0x08 for byte in sent))


def read(lots: list[bytes]) -> list[Frame | FrameFault]:
    """All that comes out of lots and of the silence after them."""
    reader, found = FrameReader(), []
    for lot in lots:
        found += reader.feed(lot)
        assert reader.held <= MOST_HELD
    return found + reader.silence()


def frames(lots: list[bytes]) -> list[Frame]:
    return [each for each in read(lots) if isinstance(each, Frame)]


def parted(sent: bytes, cuts: list[int]) -> list[bytes]:
    places = sorted({min(cut, len(sent)) for cut in cuts} | {0, len(sent)})
    return [sent[begin:end] for begin, end in pairwise(places)]


def test_the_worked_answer_comes_whole_and_byte_by_byte() -> None:
    for count in (2, 5, 20, 600):
        sent = b"\xff" * count + WHOLE
        assert read([sent]) == read([bytes([byte]) for byte in sent]) == [FRAME]


def test_one_preamble_is_too_few() -> None:
    assert frames([b"\xff" + WHOLE]) == []


@given(st.lists(st.tuples(RUBBISH, st.integers(2, 20)), min_size=1, max_size=4), st.lists(st.integers(0, 300)))
def test_frames_between_rubbish_are_all_found(parts: list[tuple[bytes, int]], cuts: list[int]) -> None:
    sent = b"".join(rubbish + b"\xff" * count + WHOLE for rubbish, count in parts)
    found = read(parted(sent, cuts))
    assert [each for each in found if isinstance(each, Frame)] == [FRAME] * len(parts)
    told = sum(each.count for each in found if isinstance(each, FrameFault))
    assert told == sum(len(rubbish) for rubbish, _ in parts), "every byte of rubbish is counted, none twice"


@given(
    st.lists(st.sampled_from([b"\xff", b"\xff\xff\x06", b"\x86", PREAMBLES + WHOLE, WHOLE[:9], b"\x00"]), max_size=12),
    st.lists(st.integers(0, 400)),
)
def test_how_the_bytes_are_parted_changes_nothing(pieces: list[bytes], cuts: list[int]) -> None:
    sent = b"".join(pieces)
    assert read(parted(sent, cuts)) == read([sent])


@given(st.lists(st.binary(max_size=700), max_size=4))
def test_any_bytes_give_frames_or_named_faults(lots: list[bytes]) -> None:
    for found in read(lots):
        assert isinstance(found, Frame) or found.kind in ("no start", "check byte", "cut off", "no status")
    assert read(lots) == read([b"".join(lots)])


@settings(max_examples=30)
@given(st.binary(max_size=400))
def test_a_frame_is_found_after_anything_and_a_silence(before: bytes) -> None:
    reader = FrameReader()
    reader.feed(before)
    reader.silence()
    assert reader.held == 0 and not reader.waiting
    assert reader.feed(PREAMBLES + WHOLE) == [FRAME]


def test_a_frame_cut_off_gives_way_to_the_next() -> None:
    """The announced length of the first takes in the second, its check byte fails, and the second is still found."""
    begun = PREAMBLES + WHOLE[:12]
    found = read([begun + PREAMBLES + WHOLE])
    assert found[-1] == FRAME
    assert [each.kind for each in found if isinstance(each, FrameFault)] == ["check byte"]


def test_a_frame_within_a_longest_one_that_never_ends_is_found_by_silence() -> None:
    found = read([b"\xff\xff\x86\xa6\x06\xbc\x61\x4e\x03\xff" + PREAMBLES + WHOLE])
    assert [each.kind for each in found if isinstance(each, FrameFault)] == ["cut off"]
    assert found[-1] == FRAME


def test_a_wrong_check_byte_is_named_and_the_next_frame_found() -> None:
    wrong = WHOLE[:-1] + bytes([WHOLE[-1] ^ 0x10])
    found = read([PREAMBLES + wrong + PREAMBLES + WHOLE])
    assert [type(each) for each in found] == [FrameFault, Frame]
    assert isinstance(found[0], FrameFault) and found[0].kind == "check byte" and found[0].count == len(WHOLE)


def test_data_that_look_like_a_frame_stay_data() -> None:
    within = PREAMBLES + closed(b"\x06\x80\x00\x02\x00\x00")
    sent = reply(b"\x80", 20, within)
    (found,) = frames([PREAMBLES + sent])
    assert found.data == within


def test_little_is_held_whatever_comes() -> None:
    """A megabyte of the worst: nothing but preambles, begun longest frames without end, and bytes by chance."""
    chance = random.Random(1)
    begun = b"\xff\xff\x86\xa6\x06\xbc\x61\x4e\x03\xff"
    for sent in (b"\xff" * 300_000, begun * 1_500, chance.randbytes(100_000), bytes(300_000)):
        reader = FrameReader()
        reader.feed(sent)
        assert reader.held <= MOST_HELD
        reader.silence()
        assert reader.held == 0
