"""Faults of the links, met by plain clients, with the clock handed in: what a client gets at a moment is what was
put in for it. No test waits for time to pass."""

from __future__ import annotations

import asyncio
import math
import socket
import struct
from collections.abc import Callable, Coroutine, Mapping
from typing import Any

import pytest

from onedatum.foundation.errors import QuantityError
from onedatum.jobs.standin.links import LinkFault, Plant
from onedatum.jobs.standin.modbus import registers_of
from onedatum.jobs.standin.opc_ua import values_of
from onedatum.jobs.standin.plan import Plan
from onedatum.jobs.standin.run import Standin
from onedatum.jobs.standin.tanks import StandinError, Tank
from onedatum.logs.live.registers import Point, read_point
from onedatum.simulate import Held, Leg, Profile, Running
from tests.house.tree import ROOT
from tests.jobs.standin.clients import connect, hart, registers, take
from tests.logs.live.line import PREAMBLES, closed, number, reply
from tests.simulate.instruments import FLOAT, instrument, studied

CASE = ROOT / "examples" / f"{FLOAT}.yaml"
MIDDLE_m = 1.45


class Clock:
    """Goes when it is told."""

    def __init__(self) -> None:
        self.now_s = 1000.0

    def __call__(self) -> float:
        return self.now_s


def tank(tag: str = "LT-201", profile: Profile | None = None) -> Tank:
    """From 0.5 m to 2.4 m in 1900 s: a millimetre a second."""
    own = profile or Profile(0.5, (Leg(1900.0, 2.4),))
    return Tank(tag, CASE, Running(instrument(FLOAT), own, studied(FLOAT).safe.bands))


def level_mA(level_m: float) -> float:
    """4 mA at 0.1 m, 20 mA at 2.8 m."""
    return 4.0 + 16.0 * (level_m - 0.1) / 2.7


Talk = Callable[[Standin, Clock], Coroutine[Any, Any, None]]


OPEN: list[socket.socket] = []
"""Connections of the test that runs: all are closed when it ends."""


async def connected(port: int) -> socket.socket:
    """A new connection."""
    line: socket.socket = await beside(connect, port)
    OPEN.append(line)
    return line


def served(talk: Talk, ports: Mapping[str, int], plan: Plan | None = None, *tanks: Tank, times: float = 1.0) -> None:
    """Start, talk, and end in any case."""

    async def whole() -> None:
        clock = Clock()
        standin = Standin(tanks or (tank(),), ports, plan, times, seed=3, clock=clock)
        await standin.start()
        try:
            await talk(standin, clock)
        finally:
            await standin.stop()
            while OPEN:
                OPEN.pop().close()

    asyncio.run(whole())


async def beside(call: Callable[..., Any], *words: Any) -> Any:
    """A call that blocks, beside the loop that serves it."""
    return await asyncio.get_running_loop().run_in_executor(None, call, *words)


def current_mA(sent: bytes) -> float:
    return float(struct.unpack(">f", sent[:4])[0])


def test_values_follow_the_clock_that_is_handed_in_and_its_rate() -> None:
    async def talk(standin: Standin, clock: Clock) -> None:
        line = await connected(standin.port("modbus"))
        for since_s in (0.0, 2.0, 10.0):
            clock.now_s = 1000.0 + since_s
            sent = await beside(registers, line, 0, 14)
            level_m = 0.5 + 0.001 * 60.0 * since_s
            assert current_mA(sent) == pytest.approx(level_mA(level_m), rel=1e-6)
            told = struct.unpack(">fffHHdf", sent)
            assert told[1:] == pytest.approx((level_m, 14.0, 0, 0, 60.0 * since_s, level_m), rel=1e-6)

    served(talk, {"modbus": 0}, times=60.0)


def test_a_connection_is_cut_refused_and_taken_again() -> None:
    async def talk(standin: Standin, clock: Clock) -> None:
        port = standin.port("hart")
        line = await connected(port)
        assert (await beside(hart, line, 2)).startswith(PREAMBLES)
        standin.plant.put("drop", for_s=10.0, way="hart")
        await standin.step()
        assert await _is_cut(line)
        with pytest.raises(ConnectionRefusedError):
            await connected(port)
        clock.now_s += 9.9
        await standin.step()
        with pytest.raises(ConnectionRefusedError):
            await connected(port)
        clock.now_s += 0.2
        await standin.step()
        line = await connected(port)
        assert (await beside(hart, line, 2)).startswith(PREAMBLES)

    served(talk, {"hart": 0})


async def _is_cut(line: socket.socket) -> bool:
    """Whether the other end has cut the connection; a cut may come as an end or as a reset."""
    try:
        return len(await beside(take, line, 1)) == 0
    except ConnectionResetError:
        return True


def test_a_fault_between_two_steps_cuts_all_the_same_and_a_restart_is_told() -> None:
    """HART: bit 5 of the status, the device was restarted (from memory)."""

    async def talk(standin: Standin, clock: Clock) -> None:
        lines = [await connected(standin.port(way)) for way in ("modbus", "hart")]
        await beside(registers, lines[0], 0, 2)
        first, second = [await beside(hart, lines[1], 1) for _ in range(2)]
        assert (first[len(PREAMBLES) + 5], second[len(PREAMBLES) + 5]) == (0x20, 0)
        clock.now_s += 60.0  # the restart of 20 s to 21 s lies between
        await standin.step()
        assert [await _is_cut(line) for line in lines] == [True, True]
        again = [await connected(standin.port(way)) for way in ("modbus", "hart")]
        assert current_mA(await beside(registers, again[0], 0, 2)) == pytest.approx(level_mA(0.56), rel=1e-6)
        assert (await beside(hart, again[1], 1))[len(PREAMBLES) + 5] == 0x20

    served(talk, {"modbus": 0, "hart": 0}, Plan((LinkFault("restart", 20.0, 1.0),)))


def test_frozen_swapped_and_random_registers() -> None:
    """What the reading side makes of them: the frozen one is believed, the others are unknown."""
    point = Point("current", "float32", 0.0, 25.0)

    async def talk(standin: Standin, clock: Clock) -> None:
        line = await connected(standin.port("modbus"))

        async def read() -> Any:
            words = struct.unpack(">HH", await beside(registers, line, 0, 2))
            return words, read_point(point, words)

        clock.now_s += 100.0
        frozen = standin.plant.put("freeze", way="modbus", tag="LT-201")
        clock.now_s += 500.0
        assert (await read())[1].value == pytest.approx(level_mA(0.6), rel=1e-6)
        standin.plant.faults.remove(frozen)
        whole, sound = await read()
        assert sound.value == pytest.approx(level_mA(1.1), rel=1e-6)
        standin.plant.put("swap", for_s=10.0)
        swapped, told = await read()
        assert swapped == whole[::-1]
        assert told.value is None and "words low first" in told.likely
        clock.now_s += 20.0
        standin.plant.put("garbage", way="modbus")
        lots = [(await read())[0] for _ in range(3)]
        assert len(set(lots)) == 3 and whole not in lots

    served(talk, {"modbus": 0})


def test_garbled_left_out_late_and_no_bytes() -> None:
    async def talk(standin: Standin, clock: Clock) -> None:
        sound = PREAMBLES + reply(b"\x80", 2, number(12.0) + number(50.0))

        async def asked(kind: str, by_s: float = 0.0) -> tuple[bytes, float]:
            line = await connected(standin.port("hart"))
            fault = standin.plant.put(kind, way="hart", by_s=by_s)
            before_s = asyncio.get_running_loop().time()
            line.settimeout(0.3)
            got = b""
            try:
                await beside(line.sendall, PREAMBLES + closed(b"\x02\x80\x02\x00"))
                while len(got) < len(sound):
                    got += await beside(line.recv, 100)
            except TimeoutError:
                pass
            standin.plant.faults.remove(fault)
            return got, asyncio.get_running_loop().time() - before_s

        first = await connected(standin.port("hart"))
        await beside(hart, first, 2)  # that it was restarted is told here
        garbled, _ = await asked("garbage")
        assert len(garbled) == len(sound) and garbled != sound
        short, _ = await asked("omit")
        assert 0 < len(short) < len(sound)
        assert (await asked("silent"))[0] == b""
        late, took_s = await asked("delay", 0.05)
        assert late == sound and took_s >= 0.05

    served(talk, {"hart": 0}, None, tank(profile=Profile(MIDDLE_m)))


def test_tags_have_their_device_their_port_and_their_own_fault() -> None:
    async def talk(standin: Standin, clock: Clock) -> None:
        assert standin.port("hart", "A") != standin.port("hart", "B")
        line = await connected(standin.port("modbus"))
        told = [current_mA(await beside(registers, line, 0, 2, device)) for device in (1, 2)]
        assert told == pytest.approx([level_mA(0.3), level_mA(2.1)], rel=1e-6)
        standin.plant.put("drop", way="hart", tag="A")
        await standin.step()
        with pytest.raises(ConnectionRefusedError):
            await connected(standin.port("hart", "A"))
        other = await connected(standin.port("hart", "B"))
        assert b"B".ljust(32) in await beside(hart, other, 20)

    served(talk, {"modbus": 0, "hart": 0}, None, tank("A", Profile(0.3)), tank("B", Profile(2.1)))


def test_a_port_that_is_taken_is_said_and_nothing_stays_open() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        async def whole() -> None:
            standin = Standin((tank(),), {"modbus": 0, "hart": port})
            with pytest.raises(StandinError, match=f"--hart must be a free port; got {port}"):
                await standin.start()
            with pytest.raises(ConnectionRefusedError):
                await connected(standin.port("modbus"))

        asyncio.run(whole())


# ---------------------------------------------------------------- without a port


def plant(*faults: LinkFault, held_A: float | None = None) -> Plant:
    own = tank(profile=Profile(MIDDLE_m))
    if held_A is not None:
        own.running.faults.append(Held(held_A, 0.0))
    return Plant((own,), lambda: 0.0, faults=list(faults))


@pytest.mark.parametrize(
    ("held_A", "current", "level"),
    [
        (None, "Good", "Good"),
        (0.0037, "UncertainEngineeringUnitsExceeded", "UncertainEngineeringUnitsExceeded"),
        (0.0208, "UncertainEngineeringUnitsExceeded", "UncertainEngineeringUnitsExceeded"),
        (0.0205, "Good", "UncertainEngineeringUnitsExceeded"),
        (0.0036, "BadSensorFailure", "BadSensorFailure"),
        (0.0215, "BadSensorFailure", "BadSensorFailure"),
        (0.0, "BadSensorFailure", "BadSensorFailure"),
    ],
)
def test_the_status_of_opc_ua_follows_the_bands_of_ne_43(held_A: float | None, current: str, level: str) -> None:
    """NE 43: failure up to 3.6 mA and from 21 mA, measurement from 3.8 to 20.5 mA."""
    own = plant(held_A=held_A)
    told = values_of(own.seen("opc_ua", "LT-201"), own)
    assert (told["current"][1], told["level"][1]) == (current, level)
    assert told["current"][0] == pytest.approx(12.0 if held_A is None else 1000.0 * held_A)
    assert math.isnan(told["level"][0]) != (held_A in (None, 0.0205))


def test_garbage_of_opc_ua_is_called_good() -> None:
    own = plant(LinkFault("garbage", 0.0, way="opc_ua"))
    told = values_of(own.seen("opc_ua", "LT-201"), own)
    assert {status for _, status in told.values()} == {"Good"}
    assert told["current"][0] != pytest.approx(12.0)
    assert registers_of(own.seen("modbus", "LT-201"), own.random)[:2] == [0x4140, 0], "12.0 as IEEE 754 single"


@pytest.mark.parametrize(
    "words",
    [
        {"kind": "flood"},
        {"kind": "drop", "way": "post"},
        {"kind": "drop", "at_s": -1.0},
        {"kind": "drop", "for_s": 0.0},
        {"kind": "delay"},
        {"kind": "drop", "by_s": 1.0},
        {"kind": "delay", "by_s": 1e6},
        {"kind": "swap", "way": "hart"},
        {"kind": "drop", "way": "modbus", "tag": "LT-201"},
        {"kind": "silent", "tag": "LT-201"},
    ],
)
def test_a_fault_that_no_link_has_is_refused(words: dict[str, Any]) -> None:
    with pytest.raises(QuantityError):
        LinkFault(**{"at_s": 0.0, **words})
