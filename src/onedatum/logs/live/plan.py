"""What is watched: the watch file with its tags, each with its case and the way to its device.

Every fault has its place. Nothing is guessed: address, form, order, unit and limits of a number are stated.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from onedatum.logs.live.registers import Point

VERSION = "1"
EXAMPLE = """watch: 1
every: 1 s
stale_after: 5 s
tags:
  LT-201:
    case: spirit_receiver.yaml
    modbus: {tcp: "127.0.0.1:5020", device: 1, registers: input, address: 0, form: float32, unit: mA,
             least: 0 mA, most: 25 mA}"""


@dataclass(frozen=True)
class ModbusSource:
    """Registers of a device on a connection or a serial line."""

    line: str
    """As it is stated; equal for all that share it."""
    host: str
    port: int
    serial: str
    baud: int
    parity: str
    stop_bits: int
    device: int
    registers: str
    address: int
    point: Point


@dataclass(frozen=True)
class OpcUaSource:
    """A node of a server."""

    url: str
    node: str
    least: float
    most: float
    factor: float = 1.0
    offset: float = 0.0


@dataclass(frozen=True)
class HartSource:
    """A transmitter by its polling address, on a modem."""

    line: str
    host: str
    port: int
    serial: str
    address: int
    delay_s: float | None = None
    """Of a network to the modem and back; None where it is not stated."""


Source = ModbusSource | OpcUaSource | HartSource


@dataclass(frozen=True)
class TagPlan:
    """One tag: its case, its source, and from when on its numbers are not to be believed."""

    tag: str
    case: Path
    source: Source
    unit: str
    limit_s: float
    """Longest time of one reading."""
    frozen_after_s: float | None = None
    """The very same number for so long is stale; None: it may stand still."""
    case_tag: str = ""
    """Tag of the case, where it is stated to be another."""
    fastest_m_per_s: float | None = None
    """A level that moves faster is doubted until it is confirmed; None: never."""


@dataclass(frozen=True)
class WatchPlan:
    """The whole file."""

    every_s: float
    stale_after_s: float
    rate_over_s: float
    tags: tuple[TagPlan, ...]
    content_hash: str
