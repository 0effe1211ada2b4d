"""What is wrong with a link at a moment: faults that are put in and taken out, each with what a client meets.

Moments are of the time of the tanks. A fault belongs to one of the three ways, or to all; what spoils bytes or
connections belongs to a whole port, which a tag has alone on the HART stream only.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf
from random import Random

from onedatum.foundation.errors import QuantityError
from onedatum.jobs.standin import HART, MODBUS, WAYS
from onedatum.jobs.standin.tanks import Tank
from onedatum.simulate import Moment

DROP, RESTART, SILENT, DELAY, OMIT = "drop", "restart", "silent", "delay", "omit"
FREEZE, GARBAGE, SWAP = "freeze", "garbage", "swap"
KINDS = {
    DROP: "connections are cut, new ones are refused",
    RESTART: "as drop, and the server begins anew",
    SILENT: "connections hold, nothing comes back",
    DELAY: "answers come late",
    OMIT: "bytes of the answers are left out",
    FREEZE: "the last value is told on and on",
    GARBAGE: "registers or values are random, bytes of a HART answer are garbled",
    SWAP: "the two words of a number stand in the other order, on Modbus",
}
OF_PORT = (DROP, RESTART, SILENT, DELAY, OMIT)
"""What a whole port has: on Modbus and OPC UA all tags together."""
SPOILT = 0.1
"""Share of the bytes that are garbled or left out."""


@dataclass(frozen=True)
class LinkFault:
    """One fault of a link; `way` and `tag` are empty for all of them."""

    kind: str
    at_s: float
    for_s: float = inf
    way: str = ""
    tag: str = ""
    by_s: float = 0.0
    """How late answers come, in seconds of the real clock."""

    def __post_init__(self) -> None:
        """Refuse what no link can have."""
        if self.kind not in KINDS:
            raise QuantityError(f"one of {', '.join(KINDS)}", repr(self.kind))
        if self.way not in ("", *WAYS):
            raise QuantityError(f"one of {', '.join(WAYS)}", repr(self.way))
        if not (0.0 <= self.at_s < inf and self.for_s > 0.0):
            raise QuantityError("a moment of 0 s or later and a time above 0 s", f"{self.at_s:g} s, {self.for_s:g} s")
        if not 0.0 <= self.by_s <= 600.0 or (self.kind == DELAY) != (self.by_s > 0.0):
            raise QuantityError("a delay above 0 s, up to 10 min, with delay alone", f"{self.by_s:g} s")
        if self.kind == SWAP and self.way not in ("", MODBUS):
            raise QuantityError("on modbus", f"on {self.way}", "the other ways know no order of words")
        if self.tag and self.kind in OF_PORT and self.way != HART:
            raise QuantityError("without a tag, or on hart", f"for {self.tag}", "all tags share one port there")

    def concerns(self, way: str, tag: str) -> bool:
        """Whether a tag on one of the ways has it; a whole port is asked for with an empty tag."""
        return self.way in ("", way) and (not self.tag or self.tag == tag) and (self.kind != SWAP or way == MODBUS)

    def is_on(self, time_s: float) -> bool:
        """Whether it is in at a time."""
        return self.at_s <= time_s < self.at_s + self.for_s


@dataclass(frozen=True)
class Seen:
    """What a server has to tell of a tag just now."""

    moment: Moment
    is_garbage: bool
    is_swapped: bool


@dataclass
class Plant:
    """The running tanks, a clock, and the faults of the links; all servers tell what they see here."""

    tanks: tuple[Tank, ...]
    clock: Callable[[], float]
    times: float = 1.0
    """Seconds of the tanks in one of the clock."""
    faults: list[LinkFault] = field(default_factory=list)
    random: Random = field(default_factory=lambda: Random(0))
    _begin_s: float | None = None

    @property
    def now_s(self) -> float:
        """Time of the tanks; it begins when it is first asked for."""
        if self._begin_s is None:
            self._begin_s = self.clock()
        return max(self.times * (self.clock() - self._begin_s), 0.0)

    def put(self, kind: str, for_s: float = inf, way: str = "", tag: str = "", by_s: float = 0.0) -> LinkFault:
        """Put a fault in from now on."""
        fault = LinkFault(kind, self.now_s, for_s, way, tag, by_s)
        self.faults.append(fault)
        return fault

    def tank(self, tag: str) -> Tank:
        """The tank of a tag."""
        return next(each for each in self.tanks if each.tag == tag)

    def on(self, way: str, tag: str = "") -> list[LinkFault]:
        """The faults that one of the ways has now."""
        now_s = self.now_s
        return [each for each in self.faults if each.is_on(now_s) and each.concerns(way, tag)]

    def seen(self, way: str, tag: str) -> Seen:
        """What a server is to tell; of several that freeze, the first one holds."""
        now_s = self.now_s
        faults = self.on(way, tag)
        frozen_s = min((each.at_s for each in faults if each.kind == FREEZE), default=now_s)
        kinds = {each.kind for each in faults}
        return Seen(self.tank(tag).running.at(frozen_s), GARBAGE in kinds, SWAP in kinds)

    def spoilt(self, answer: bytes, way: str, tag: str) -> bytes:
        """Bytes of an answer after what lies on the way; empty where nothing comes through."""
        kinds = {each.kind for each in self.on(way, tag)}
        if SILENT in kinds:
            return b""
        if GARBAGE in kinds and way == HART:
            answer = bytes(byte ^ self._flip() for byte in answer)
        if OMIT in kinds:
            # One byte at least: a short answer would slip through whole.
            gap = self.random.randrange(len(answer)) if answer else 0
            kept = enumerate(answer)
            answer = bytes(byte for at, byte in kept if at != gap and self.random.random() >= SPOILT)
        return answer

    def _flip(self) -> int:
        return self.random.randrange(1, 256) if self.random.random() < SPOILT else 0

    def delay_s(self, way: str, tag: str) -> float:
        """How late an answer is."""
        return max((each.by_s for each in self.on(way, tag)), default=0.0)
