"""A HART byte stream over TCP: one port for each tag, as a modem on its loop would hand the bytes on."""

from __future__ import annotations

import asyncio

from onedatum.jobs.standin import HART
from onedatum.jobs.standin.links import Plant
from onedatum.jobs.standin.listening import Listening
from onedatum.jobs.standin.transmitter import Transmitter

GAP_s = 0.1
"""Silence that ends a request that was begun (common practice, no source)."""
LOT = 4096


class HartServer:
    """The stream of one tag behind a gate."""

    def __init__(self, plant: Plant, tag: str) -> None:
        self.plant, self.tag = plant, tag
        self._listening = Listening(self._talk)
        self.begins_anew = True

    async def start(self) -> int:
        """Begin to listen; gives the port."""
        self.begins_anew = True
        await self._listening.open()
        return self._listening.port

    async def stop(self) -> None:
        """Listen no more."""
        await self._listening.close()

    async def publish(self) -> None:
        """Nothing: answers are made when they are asked for."""

    def transmitter(self) -> Transmitter:
        """The device as one connection meets it."""
        instrument = self.plant.tank(self.tag).running.instrument
        begun, self.begins_anew = self.begins_anew, False
        return Transmitter(
            self.tag,
            instrument.lower_m,
            instrument.upper_m,
            lambda: self.plant.seen(HART, self.tag).moment,
            begins_anew=begun,
        )

    async def _talk(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        device = self.transmitter()
        while True:
            answer = b""
            try:
                async with asyncio.timeout(GAP_s if device.waits else None):
                    lot = await reader.read(LOT)
                if not lot:
                    return
                answer = device.heard(lot)
            except TimeoutError:
                answer = device.silence()
            if answer:
                writer.write(answer)
                await writer.drain()
