"""Modbus TCP: each tag is a device of its own, all with the same registers, which can only be read.

Numbers of two registers are float32, of four float64, the high word first, the high byte first. A level that is not
known is no number (NaN). Input and holding registers tell the same.

Source: Modbus application protocol, which leaves the order of the words of a longer number to the device (from memory).
"""

from __future__ import annotations

import logging
import struct
from functools import partial
from typing import TYPE_CHECKING, Any

from onedatum.foundation.units import in_unit
from onedatum.jobs.standin import LOOPBACK, MODBUS
from onedatum.jobs.standin.links import Plant, Seen

if TYPE_CHECKING:
    from random import Random

    from pymodbus.constants import ExcCodes

CURRENT = 0
"""Address of the current."""
STATES = ("measuring", "undefined_low", "undefined_high", "failure_low", "failure_high", "unknown")
REGISTERS = (
    (0, 2, "loop current, mA"),
    (2, 2, "level by the current, m"),
    (4, 2, "temperature of the liquid, degC"),
    (6, 1, f"state by the current: {', '.join(f'{at} {word}' for at, word in enumerate(STATES))}".replace("_", " ")),
    (7, 1, "nothing"),
    (8, 4, "time of the tank since the start, s"),
    (12, 2, "true level, m, which no plant tells"),
)
"""Address, number of registers, what they hold."""
COUNT = 14
READ = (3, 4)
"""Holding and input registers."""


def registers_of(seen: Seen, random: Random) -> list[int]:
    """The registers of a device."""
    if seen.is_garbage:
        return [random.randrange(0x10000) for _ in range(COUNT)]
    moment = seen.moment
    nan = float("nan")
    parts = (
        _words(">f", in_unit(moment.current_A, "mA"), seen.is_swapped),
        _words(">f", nan if moment.shown_m is None else moment.shown_m, seen.is_swapped),
        _words(">f", in_unit(moment.temperature_K, "degC"), seen.is_swapped),
        [STATES.index(moment.state), 0],
        _words(">d", moment.time_s, seen.is_swapped),
        _words(">f", moment.level_m, seen.is_swapped),
    )
    return [word for part in parts for word in part]


def _words(form: str, value: float, swapped: bool) -> list[int]:
    sent = struct.pack(form, value)
    words = [int.from_bytes(sent[at : at + 2], "big") for at in range(0, len(sent), 2)]
    return words[::-1] if swapped else words


def device_of(plant: Plant, tag: str) -> int:
    """The number of the device of a tag, counted from 1."""
    return [tank.tag for tank in plant.tanks].index(tag) + 1


class ModbusServer:
    """The server behind a gate."""

    def __init__(self, plant: Plant) -> None:
        self.plant = plant
        self._server: Any = None

    async def start(self) -> int:
        """Begin to listen; gives the port."""
        from pymodbus.server import ModbusTcpServer
        from pymodbus.simulator import DataType, SimData, SimDevice

        logging.getLogger("pymodbus.logging").setLevel(logging.CRITICAL + 1)  # what clients do wrong is their matter
        devices = [
            SimDevice(
                id=device_of(self.plant, tank.tag),
                simdata=[SimData(0, count=COUNT, values=0, datatype=DataType.REGISTERS)],
                action=partial(self._answer, tank.tag),
            )
            for tank in self.plant.tanks
        ]
        self._server = ModbusTcpServer(devices, address=(LOOPBACK, 0))
        await self._server.serve_forever(background=True)
        return int(self._server.transport.sockets[0].getsockname()[1])

    async def stop(self) -> None:
        """Listen no more."""
        server, self._server = self._server, None
        if server is not None:
            await server.shutdown()

    async def publish(self) -> None:
        """Nothing: registers are made when they are asked for."""

    async def _answer(
        self,
        tag: str,
        function: int,
        begin: int,
        address: int,
        count: int,
        registers: list[int],
        wanted: list[int] | list[bool] | None,
    ) -> ExcCodes | None:
        """Renew the registers of a device that is read; refuse all else."""
        from pymodbus.constants import ExcCodes

        if wanted is not None or function not in READ:
            return ExcCodes.ILLEGAL_FUNCTION
        registers[:COUNT] = registers_of(self.plant.seen(MODBUS, tag), self.plant.random)
        return None
