"""An invented works of ten tanks whose levels are known at every moment, behind lines that are disturbed by a plan.

The ports are the tool's own as far as bytes and registers are read; what stands behind them is worked here: the level
is a sum of sines, the current follows from the range by hand, and a fault changes what the line does at its time.
"""

from __future__ import annotations

import asyncio
import math
import struct
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from types import SimpleNamespace
from typing import Any, NamedTuple

from onedatum.logs.live.hart_port import HartPort, Stream
from onedatum.logs.live.opc_ua import reading_of
from onedatum.logs.live.plan import HartSource, OpcUaSource
from onedatum.logs.live.registers import Form, Order, Point, read_point
from onedatum.logs.live.sample import LinkError, Reading

DAY_s = 86400.0
TAGS = tuple(f"LT-{301 + number}" for number in range(10))
REGISTERS, NODES, LOOP = TAGS[:7], TAGS[7:9], TAGS[9]
LOW_m, SPAN_m = 0.1, 2.7
"""Range of the example that all tags share: 4 mA at 0.1 m, 20 mA at 2.8 m."""
FASTEST_m_per_s = 0.9 * 2.0 * math.pi / (3.0 * 3600.0)
BOOT_s = 20.0
"""A server that has started again hands over zeros for so long."""
LINE_KINDS = ("drop", "refuse", "garbage", "swap", "freeze", "delay", "restart")


class Fault(NamedTuple):
    """Something forced on a line: from when, how long, on which tag; a restart takes all registers."""

    kind: str
    begin_s: float
    last_s: float
    tag: str

    def is_on(self, tag: str, now_s: float) -> bool:
        """Whether it holds for a tag."""
        concerned = tag in REGISTERS if self.kind == "restart" else tag == self.tag
        return concerned and self.begin_s <= now_s < self.begin_s + self.last_s


def level_m(tag: str, now_s: float) -> float:
    """The level as it truly is."""
    number = TAGS.index(tag)
    return 1.45 + 0.9 * math.sin(2.0 * math.pi * now_s / (3600.0 * (3.0 + 0.5 * number)) + number)


def current_mA(tag: str, now_s: float) -> float:
    """What the loop then carries."""
    return 4.0 + 16.0 * (level_m(tag, now_s) - LOW_m) / SPAN_m


def faults(random: Random, each: int) -> tuple[Fault, ...]:
    """So many of every kind, anywhere in the day."""
    found = []
    for kind in LINE_KINDS:
        for _ in range(each):
            last_s = random.uniform(30.0, 900.0) if kind == "freeze" else random.uniform(20.0, 300.0)
            found.append(Fault(kind, random.uniform(300.0, DAY_s - 1200.0), last_s, random.choice(TAGS)))
    return tuple(found)


@dataclass
class Disturbed:
    """What the faults do to one tag, now."""

    tag: str
    faults: Sequence[Fault]

    def kinds(self) -> dict[str, Fault]:
        """The faults that are on."""
        now_s = _now_s()
        return {each.kind: each for each in self.faults if each.is_on(self.tag, now_s)}

    def told_mA(self) -> float:
        """What the device tells: the current now, that of when it froze, or nothing yet after its start."""
        now_s, on = _now_s(), self.kinds()
        booting = any(
            each.kind == "restart" and each.begin_s + each.last_s <= now_s < each.begin_s + each.last_s + BOOT_s
            for each in self.faults
        )
        if booting and self.tag in REGISTERS:
            return 0.0
        return current_mA(self.tag, on["freeze"].begin_s if "freeze" in on else now_s)

    def open(self) -> None:
        """Whether a connection is to be had."""
        if self.kinds().keys() & {"refuse", "restart"}:
            raise ConnectionRefusedError(111, "Connection refused")

    async def before(self) -> None:
        """What happens before an answer."""
        on = self.kinds()
        if on.keys() & {"drop", "restart", "refuse"}:
            raise ConnectionResetError(104, "Connection reset by peer")
        if "delay" in on:
            await asyncio.sleep(self.random().uniform(0.5, 6.0))

    def random(self) -> Random:
        """Drawn anew for every tag and moment, and the same in every run."""
        return Random(f"{self.tag} {_now_s():.3f}")


FORMS: tuple[tuple[Form, float, Order, Order], ...] = (
    ("float32", 1.0, "high first", "high first"),
    ("float32", 1.0, "low first", "high first"),
    ("float32", 1.0, "high first", "low first"),
    ("float64", 1.0, "high first", "high first"),
    ("uint16", 0.001, "high first", "high first"),
    ("int16", 0.001, "high first", "low first"),
    ("int32", 0.0001, "low first", "high first"),
)
CODES = {"float32": "f", "float64": "d", "uint16": "H", "int16": "h", "int32": "i"}


class RegisterPort:
    """Registers of a device, as a number of some form lies in them."""

    def __init__(self, tag: str, faults: Sequence[Fault]) -> None:
        self.line = tag
        self._on = Disturbed(tag, faults)
        form, factor, words, bytes_ = FORMS[REGISTERS.index(tag)]
        self.point = Point(tag, form, 0.0, 25.0, words, bytes_, factor)

    async def open(self) -> None:
        """Connect."""
        self._on.open()

    async def read(self) -> Reading:
        """Registers of now, through the tool's own reader."""
        told_mA = self._on.told_mA()
        await self._on.before()
        registers, on = self._registers(told_mA), self._on.kinds()
        if "garbage" in on:
            registers = [self._on.random().randrange(65536) for _ in registers]
        if "swap" in on:
            registers = registers[::-1] if len(registers) > 1 else [int.from_bytes(registers[0].to_bytes(2, "little"))]
        found = read_point(self.point, registers)
        return Reading(found.value, found.doubt, denies_level=found.is_told_none, hint=found.hint)

    def _registers(self, told_mA: float) -> list[int]:
        point = self.point
        raw = told_mA / point.factor
        sent = struct.pack(">" + CODES[point.form], raw if point.form.startswith("float") else round(raw))
        order = "big" if point.bytes_ == "high first" else "little"
        held = [int.from_bytes(sent[at : at + 2], order) for at in range(0, len(sent), 2)]  # type: ignore[arg-type]
        return held if point.words == "high first" else held[::-1]

    async def close(self) -> None:
        """Nothing to let go of."""


class NodePort:
    """A node of a server, through the tool's own reader of data values."""

    def __init__(self, tag: str, faults: Sequence[Fault]) -> None:
        self.line = tag
        self._on = Disturbed(tag, faults)
        self._source = OpcUaSource("", "", 0.0, 25.0)

    async def open(self) -> None:
        """Connect."""
        self._on.open()

    async def read(self) -> Reading:
        """The value of now, or what a disturbed server says."""
        told_mA: Any = self._on.told_mA()
        await self._on.before()
        on = self._on.kinds()
        if "garbage" in on:
            told_mA = self._on.random().choice([math.nan, math.inf, -1e30, "rubbish", None, True, [1.0]])
        status = SimpleNamespace(is_good=lambda: "swap" not in on, name="BadSensorFailure")
        variant = SimpleNamespace(Value=told_mA)
        return reading_of(SimpleNamespace(Value=variant, StatusCode=status, SourceTimestamp=None), self._source)

    async def close(self) -> None:
        """Nothing to let go of."""


class LoopStream:
    """The far end of a stream of bytes: an invented transmitter that answers commands 0, 2, 3 and 15."""

    def __init__(self, on: Disturbed) -> None:
        self._on = on
        self._waiting = b""

    async def write(self, lot: bytes) -> None:
        """Hear a request, and answer."""
        body = lot.lstrip(b"\xff")
        address = body[1:6] if body[0] & 0x80 else body[1:2]
        command = body[1 + len(address)]
        told_mA = self._on.told_mA()
        await self._on.before()
        share = 100.0 * (told_mA - 4.0) / 16.0
        level = LOW_m + SPAN_m * share / 100.0
        data = {
            0: bytes([254, 0x26, 0x06, 5, 7, 3, 2, 8, 0, 0xBC, 0x61, 0x4E]),
            2: struct.pack(">ff", told_mA, share),
            3: struct.pack(">fBf", told_mA, 45, level),
            15: struct.pack(">BBBfffBB", 0, 0, 45, LOW_m + SPAN_m, LOW_m, 0.0, 0, 250),
        }[command]
        begin = 0x86 if len(address) > 1 else 0x06
        answer = bytes([begin]) + address + bytes([command, 2 + len(data), 0, 0]) + data
        parity = 0
        for byte in answer:
            parity ^= byte
        self._waiting = b"\xff" * 5 + answer + bytes([parity])

    async def read(self, within_s: float) -> bytes:
        """What has come; rubbish where that is forced."""
        if not self._waiting:
            await asyncio.sleep(within_s)
            return b""
        lot, self._waiting, on = self._waiting, b"", self._on.kinds()
        if on.keys() & {"drop", "restart"}:
            raise LinkError("the other end has closed the line")
        if on.keys() & {"garbage", "swap"}:
            random = self._on.random()
            lot = bytes(byte ^ (1 << random.randrange(8)) if random.random() < 0.1 else byte for byte in lot)
        return lot

    async def close(self) -> None:
        """Nothing to let go of."""


class LoopPort(HartPort):
    """The tool's own port, with that stream in place of a modem."""

    def __init__(self, tag: str, faults: Sequence[Fault]) -> None:
        super().__init__(HartSource(tag, "", 0, "", 0))
        self._on = Disturbed(tag, faults)

    async def _opened(self) -> Stream:
        self._on.open()
        return LoopStream(self._on)


def _now_s() -> float:
    return asyncio.get_running_loop().time()
