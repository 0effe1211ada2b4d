"""Frames out of a stream of bytes that comes in lots of any size, with rubbish between.

A frame begins with at least two preambles and a delimiter. Where the check byte does not fit, the search goes on just
behind the delimiter, so that a frame that lies within a broken one is found. No more than one frame and one lot of
`STEP` bytes is held, however much comes in. What comes out does not depend on how the bytes were parted.

Source: HART data link layer, IEC 61158 type 20 (two preambles as the least: from memory). Devices were recorded with
two to six preambles, a stray byte or a broken preamble before them, and zeros behind the frame.
"""

from __future__ import annotations

from onedatum.logs.live.hart.frames import LONGEST, PREAMBLE, Frame, FrameFault, decode, is_delimiter, length_of

STEP = 256
MOST_HELD = 2 + LONGEST + STEP
"""No more bytes than these are ever held."""

_START = bytes([PREAMBLE, PREAMBLE])


class FrameReader:
    """Takes bytes, gives frames and faults in the order in which they came. Never raises on bytes."""

    def __init__(self) -> None:
        self._held = bytearray()
        self._skipped = 0
        self._told = 0
        """Bytes at the front that a fault has already spoken of."""
        self._found: list[Frame | FrameFault] = []

    @property
    def held(self) -> int:
        """Number of bytes that wait for the rest of their frame."""
        return len(self._held)

    @property
    def waiting(self) -> bool:
        """Whether silence would bring something out."""
        return bool(self._held or self._skipped)

    def feed(self, lot: bytes) -> list[Frame | FrameFault]:
        """What these bytes complete."""
        for begin in range(0, len(lot), STEP):
            self._held += lot[begin : begin + STEP]
            self._search()
        return self._taken()

    def silence(self) -> list[Frame | FrameFault]:
        """What is there when no more bytes come: a frame that was begun is cut off, and searched for another."""
        self._search()
        while len(self._held) >= 3 and self._held.startswith(_START):
            self._fault("cut off", "silence before the end of the frame", len(self._held) - 2)
            self._search()
        self._drop(len(self._held), rubbish=self._held.count(PREAMBLE) != len(self._held))
        self._tell_skipped()
        self._told = 0
        return self._taken()

    def _search(self) -> None:
        """Take every whole frame off the front of what is held."""
        while self._to_start() and is_delimiter(self._held[2]):
            body = bytes(self._held[2 : 2 + LONGEST])
            length = length_of(body)
            if length is None or len(body) < length:
                return
            found = decode(body[:length])
            if isinstance(found, FrameFault) and found.kind == "check byte":
                self._fault(found.kind, found.words, length)
                continue
            self._tell_skipped()
            self._drop(2 + length)
            self._found.append(found)

    def _to_start(self) -> bool:
        """Drop what stands before two preambles and a delimiter; whether these are there."""
        while True:
            start = self._held.find(_START)
            if start < 0:
                keep = 1 if self._held.endswith(_START[:1]) else 0
                self._drop(len(self._held) - keep, rubbish=True)
                return False
            self._drop(start, rubbish=True)
            run = len(self._held) - len(self._held.lstrip(_START[:1]))
            self._drop(run - 2)
            if len(self._held) < 3:
                return False
            if is_delimiter(self._held[2]):
                return True
            self._drop(3, rubbish=True)

    def _fault(self, kind: str, words: str, length: int) -> None:
        """Tell a fault of a frame that was begun, and go on behind its delimiter."""
        self._tell_skipped()
        self._found.append(FrameFault(kind, words, length))
        self._told = max(self._told, 2 + length)
        self._drop(3)

    def _drop(self, count: int, rubbish: bool = False) -> None:
        del self._held[:count]
        told = min(count, self._told)
        self._told -= told
        if rubbish:
            self._skipped += count - told

    def _tell_skipped(self) -> None:
        if self._skipped:
            self._found.append(FrameFault("no start", "bytes outside any frame", self._skipped))
            self._skipped = 0

    def _taken(self) -> list[Frame | FrameFault]:
        found, self._found = self._found, []
        return found
