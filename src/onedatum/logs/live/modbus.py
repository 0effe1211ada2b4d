"""Registers over Modbus TCP or RTU, by the two functions that read them and no other.

Source: Modbus application protocol, functions 3 and 4 (from memory); the line itself is the library's.
"""

from __future__ import annotations

import asyncio
import logging
from typing import Any

from onedatum.logs.live.plan import ModbusSource
from onedatum.logs.live.registers import read_point
from onedatum.logs.live.sample import LinkError, Reading

EXCEPTIONS = {
    1: "the function is not known to the device",
    2: "there is no such register",
    3: "the device cannot read so many registers",
    4: "the device failed",
    5: "the device needs more time",
    6: "the device is busy",
    10: "the gateway has no way to the device",
    11: "the device behind the gateway does not answer",
}
"""Exception codes (from memory)."""
FAILED = 4
"""The one by which a device says of itself that it has failed; the others are of the question or of the way to it."""
PARITY = {"none": "N", "even": "E", "odd": "O"}


class ModbusLine:
    """One connection or one serial line, for all devices on it."""

    def __init__(self, source: ModbusSource, limit_s: float) -> None:
        self.source, self.limit_s = source, limit_s
        self.client: Any = None

    async def open(self) -> Any:
        """The client, connected."""
        if self.client is None or not self.client.connected:
            await self.close()
            self.client = self._made()
            if not await self.client.connect():
                raise LinkError(f"no connection to {self.source.line}")
        return self.client

    async def close(self) -> None:
        """Let go of it."""
        client, self.client = self.client, None
        if client is not None:
            client.close()
            await asyncio.sleep(0)

    def _made(self) -> Any:
        from pymodbus.client import AsyncModbusSerialClient, AsyncModbusTcpClient

        logging.getLogger("pymodbus").setLevel(logging.CRITICAL)
        own = {"timeout": self.limit_s, "retries": 0, "reconnect_delay": 0}
        source = self.source
        if source.serial:
            return AsyncModbusSerialClient(
                source.serial,
                baudrate=source.baud,
                parity=PARITY[source.parity],
                stopbits=source.stop_bits,
                **own,  # type: ignore[arg-type]
            )
        return AsyncModbusTcpClient(source.host, port=source.port, **own)  # type: ignore[arg-type]


class ModbusPort:
    """One number of one device."""

    def __init__(self, source: ModbusSource, line: ModbusLine) -> None:
        self.source, self._line = source, line

    @property
    def line(self) -> str:
        """The connection or serial line."""
        return self.source.line

    async def open(self) -> None:
        """Make sure of the connection."""
        await self._line.open()

    async def read(self) -> Reading:
        """Read the registers of the point."""
        from pymodbus.exceptions import ModbusException

        client, point = await self._line.open(), self.source.point
        ask = client.read_input_registers if self.source.registers == "input" else client.read_holding_registers
        try:
            answer = await ask(self.source.address, count=point.count, device_id=self.source.device)
        except ModbusException as error:
            raise LinkError(str(error)) from error
        if answer.isError():
            code = getattr(answer, "exception_code", 0)
            words = f"the device refuses: {EXCEPTIONS.get(code, f'code {code}')}"
            return Reading(None, words, denies_level=code == FAILED)
        found = read_point(point, list(getattr(answer, "registers", ())))
        return Reading(found.value, found.doubt, denies_level=found.is_told_none, hint=found.hint)

    async def close(self) -> None:
        """Let go of the connection."""
        await self._line.close()
