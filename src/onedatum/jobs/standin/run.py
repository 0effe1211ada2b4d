"""The stand-in as a whole: servers, a gate before each, faults at their moments, a clean end.

`step` does what is due by the clock and can be called by hand; `run` calls it again and again until it is ended.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from math import inf
from random import Random
from time import monotonic
from typing import Protocol

from onedatum.foundation.errors import Fault
from onedatum.jobs.standin import HART, MODBUS, OPC_UA
from onedatum.jobs.standin.gate import Gate
from onedatum.jobs.standin.hart import HartServer
from onedatum.jobs.standin.links import DROP, RESTART, LinkFault, Plant
from onedatum.jobs.standin.modbus import ModbusServer
from onedatum.jobs.standin.opc_ua import OpcUaServer
from onedatum.jobs.standin.plan import Plan
from onedatum.jobs.standin.tanks import StandinError, Tank

STEP_s = 0.05
OPTIONS = {MODBUS: "--modbus", OPC_UA: "--opc-ua", HART: "--hart"}
LAST_PORT = 65535


class Server(Protocol):
    """What stands behind a gate."""

    async def start(self) -> int: ...
    async def stop(self) -> None: ...
    async def publish(self) -> None: ...


@dataclass
class Door:
    """A gate and the server behind it."""

    gate: Gate
    server: Server

    async def open(self) -> None:
        """Take connections; the port is known from then on, and the server called by it."""
        await self.gate.open()
        if isinstance(self.server, OpcUaServer):
            self.server.port = self.gate.port
        self.gate.inner = await self.server.start()

    async def close(self) -> None:
        """End both."""
        await self.gate.close()
        await self.server.stop()


class Standin:
    """Tanks that are told over the ways whose ports are given, each until it is stopped.

    The clock may be any that goes forward; `times` is how much faster the tanks live.
    """

    def __init__(
        self,
        tanks: Sequence[Tank],
        ports: Mapping[str, int],
        plan: Plan | None = None,
        times: float = 1.0,
        seed: int = 0,
        clock: Callable[[], float] = monotonic,
    ) -> None:
        self.plant = Plant(tuple(tanks), clock, times, random=Random(seed))
        if plan is not None:
            self.plant.faults += plan.links
            for tag, each in plan.instruments:
                self.plant.tank(tag).running.faults.append(each)
        self.doors: list[Door] = []
        if MODBUS in ports:
            self.doors.append(Door(Gate(self.plant, MODBUS, "", ports[MODBUS]), ModbusServer(self.plant)))
        if OPC_UA in ports:
            self.doors.append(Door(Gate(self.plant, OPC_UA, "", ports[OPC_UA]), OpcUaServer(self.plant)))
        for number, tank in enumerate(tanks if HART in ports else ()):
            port = ports[HART] + number if ports[HART] else 0
            self.doors.append(Door(Gate(self.plant, HART, tank.tag, port), HartServer(self.plant, tank.tag)))
        self._cut: set[tuple[int, LinkFault]] = set()

    async def start(self) -> None:
        """Open all doors; raises StandinError where a port is not free, with none left open."""
        for door in self.doors:
            try:
                if door.gate.port > LAST_PORT:
                    raise OSError(0, "there is no such port")
                await door.open()
            except OSError as error:
                await self.stop()
                remedy = "Take another port; 0 takes a free one"
                got, why = str(door.gate.port), error.strerror or str(error)
                raise StandinError([Fault(OPTIONS[door.gate.way], "a free port", got, why, remedy=remedy)]) from error
        await self.step()

    async def stop(self) -> None:
        """Close all doors."""
        for door in self.doors:
            await door.close()

    async def step(self) -> None:
        """Do what is due: cut, restart, open again, publish. A fault between two steps is made up for."""
        now_s = self.plant.now_s
        for number, door in enumerate(self.doors):
            cuts = [each for each in self._of(door) if each.at_s <= now_s and (number, each) not in self._cut]
            self._cut |= {(number, each) for each in cuts}
            if cuts and door.gate.is_open:
                await door.gate.close()
            if any(each.kind == RESTART for each in cuts):
                await door.server.stop()
                door.gate.inner = await door.server.start()
            if not door.gate.is_open and not any(each.is_on(now_s) for each in self._of(door)):
                with suppress(OSError):  # another took the port meanwhile: the next step tries again
                    await door.gate.open()
            await door.server.publish()

    def _of(self, door: Door) -> list[LinkFault]:
        """The faults by which a door is shut."""
        way, tag = door.gate.way, door.gate.tag
        return [each for each in self.plant.faults if each.kind in (DROP, RESTART) and each.concerns(way, tag)]

    async def run(self, ended: asyncio.Event, for_s: float = inf) -> None:
        """Step until it is ended, or for a time of the real clock; then stop."""
        until_s = monotonic() + for_s
        try:
            while not ended.is_set() and monotonic() < until_s:
                await self.step()
                with suppress(TimeoutError):
                    await asyncio.wait_for(ended.wait(), min(STEP_s, max(until_s - monotonic(), 0.0)))
        finally:
            await self.stop()

    def port(self, way: str, tag: str = "") -> int:
        """The port of one of the ways; of HART that of a tag, or of the first one."""
        doors = (door for door in self.doors if door.gate.way == way and (not tag or door.gate.tag in ("", tag)))
        return next(door.gate.port for door in doors)
