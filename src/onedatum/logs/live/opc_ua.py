"""One value over OPC UA, read from its node; without a user, without encryption, and never written.

Source: IEC 62541-4, read service and status codes (from memory); the protocol itself is the library's.
"""

from __future__ import annotations

import asyncio
import logging
import math
from datetime import UTC, datetime
from typing import Any

from onedatum.foundation.moments import MICRO
from onedatum.logs.live.plan import OpcUaSource
from onedatum.logs.live.sample import LinkError, Reading

CLOSING_s = 1.0
EMPTY, NOT_A_NUMBER = "the node is empty: no number", "the node tells no number (NaN)"
TOLD_NONE = (EMPTY, NOT_A_NUMBER)
"""By these a server says that there is no value."""


class OpcUaPort:
    """One node of one server."""

    def __init__(self, source: OpcUaSource, limit_s: float) -> None:
        self.source, self.limit_s = source, limit_s
        self._client: Any = None
        self._ready = False

    @property
    def line(self) -> str:
        """Each has a session of its own."""
        return f"{self.source.url} {self.source.node}"

    async def open(self) -> None:
        """Make sure of the session."""
        if self._ready:
            return
        await self.close()
        from asyncua.client.client import Client
        from asyncua.ua.uaerrors import UaError

        logging.getLogger("asyncua").setLevel(logging.CRITICAL)
        self._client = Client(self.source.url, timeout=self.limit_s)
        try:
            await self._client.connect()
        except UaError as error:
            raise LinkError(_name(error)) from error
        self._ready = True

    async def read(self) -> Reading:
        """Read the value with its status and the time of its source."""
        from asyncua.ua.uaerrors import UaError

        try:
            node = self._client.get_node(self.source.node)
            told = await node.read_data_value(raise_on_bad_status=False)
        except UaError as error:
            raise LinkError(_name(error)) from error
        return reading_of(told, self.source)

    async def close(self) -> None:
        """End the session; a server that is gone is not waited for."""
        client, self._client, self._ready = self._client, None, False
        if client is not None:
            async with asyncio.timeout(CLOSING_s):
                await client.disconnect()


def reading_of(told: Any, source: OpcUaSource) -> Reading:
    """What a data value says: a number within its limits, or unknown with the reason.

    Where its status is not good there is no level now, whatever the number; a failure current beside it tells which.
    """
    stamp = told.SourceTimestamp
    at = None if stamp is None else micro_of(stamp)
    value, why = _number(told.Value.Value if told.Value is not None else None, source)
    if not told.StatusCode.is_good():
        return Reading(value, f"the server says {told.StatusCode.name}", at, denies_level=True)
    return Reading(value, why, at, denies_level=why in TOLD_NONE)


def _number(number: Any, source: OpcUaSource) -> tuple[float | None, str]:
    """The number of a node in the unit of the plan, or None and why."""
    if number is None:
        return None, EMPTY
    if isinstance(number, bool) or not isinstance(number, (int, float)):
        return None, f"the node holds no number but {type(number).__name__}"
    value = source.factor * float(number) + source.offset
    if math.isnan(value):
        return None, NOT_A_NUMBER
    if not source.least <= value <= source.most:
        return None, f"{value:.7g} is outside the limits {source.least:g} to {source.most:g}"
    return value, ""


def micro_of(stamp: datetime) -> int:
    """Microseconds since 1970 of a time of the protocol, which is UTC."""
    whole = stamp if stamp.tzinfo is not None else stamp.replace(tzinfo=UTC)
    return round(whole.timestamp() * MICRO)


def _name(error: Exception) -> str:
    return " ".join((str(error) or type(error).__name__).split())
