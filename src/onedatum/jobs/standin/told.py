"""Where each tag of a stand-in is, in words, and the file by which `onedatum watch` reads exactly this one."""

from __future__ import annotations

import os
from collections.abc import Sequence
from math import ceil, floor, isfinite, log10
from pathlib import Path

from onedatum.foundation.errors import Fault
from onedatum.jobs.standin import HART, LOOPBACK, MODBUS, OPC_UA
from onedatum.jobs.standin.modbus import CURRENT, REGISTERS, device_of
from onedatum.jobs.standin.opc_ua import VARIABLES, node_of
from onedatum.jobs.standin.run import Standin
from onedatum.jobs.standin.tanks import StandinError, Tank
from onedatum.jobs.write import write_whole
from onedatum.simulate.believable import believable

CAUTION = (
    "This is a simulation: its numbers prove nothing about a plant, and what reads it well may read a plant wrongly."
)
READ_ONLY = "It is only read: every write is refused."
LEAST, MOST = "0 mA", "25 mA"
EVERY_s, STALE_s = 1.0, 5.0
"""Between two readings; the age from which a level is none."""
MARGIN = 2.0
"""By how much more than what can be is still believed: our choice."""
LEAST_RATE_m_per_s = 0.001


def told(standin: Standin) -> str:
    """What is served where."""
    lines = [CAUTION]
    for tank in standin.plant.tanks:
        lines += [f"{tank.tag}: {place}" for place in places(standin, tank.tag).values()]
    if standin.plant.times != 1.0:
        lines.append(f"Time goes {standin.plant.times:g} times as fast.")
    return "\n".join([*lines, READ_ONLY])


def places(standin: Standin, tag: str) -> dict[str, str]:
    """By way: where a tag is, in words."""
    ways = {door.gate.way for door in standin.doors}
    found = {}
    if MODBUS in ways:
        device = device_of(standin.plant, tag)
        found[MODBUS] = f"Modbus TCP {LOOPBACK}:{standin.port(MODBUS)}, device {device}, input registers from 0"
    if OPC_UA in ways:
        node = node_of(tag, "current")
        found[OPC_UA] = f"OPC UA opc.tcp://{LOOPBACK}:{standin.port(OPC_UA)}/, node {node}"
    if HART in ways:
        found[HART] = f"HART over TCP {LOOPBACK}:{standin.port(HART, tag)}, polling address 0"
    return found


def refuse_untagged(tanks: Sequence[Tank]) -> None:
    """Raise StandinError where no file can be written for these tanks: a case is named in it by its tag."""
    faults = [
        Fault(
            "CASE",
            "a case that states its tag, with --watch-file",
            f"{tank.tag}={tank.path}",
            "a watch checks by it that the case is the one that is meant",
            remedy=f"State tag: {tank.tag} in it",
        )
        for tank in tanks
        if tank.has_no_tag
    ]
    if faults:
        raise StandinError(faults)


def watch_file(standin: Standin, path: Path) -> str:
    """The text of the file by which this stand-in is watched; tags take the ways by turns."""
    ways = list(dict.fromkeys(door.gate.way for door in standin.doors))
    lines = [
        "# Written by onedatum simulate. " + CAUTION,
        *_map(ways),
        "watch: 1",
        f"every: {EVERY_s:g} s",
        f"stale_after: {STALE_s:g} s",
        "tags:",
    ]
    for number, tank in enumerate(standin.plant.tanks):
        way = ways[number % len(ways)]
        others = [place for other, place in places(standin, tank.tag).items() if other != way]
        lines += [f"  # also: {place}" for place in others]
        lines += [f"  {_quoted(tank.tag)}:", f"    case: {_quoted(_relative(tank.path, path))}"]
        if tank.case_tag:
            lines.append(f"    case_tag: {_quoted(tank.case_tag)}")
        lines += [f"    {line}" for line in _limits(tank, standin.plant.times)]
        lines.append(f"    {_source(standin, way, tank.tag)}")
    return "\n".join([*lines, ""])


def write_watch_file(standin: Standin, path: Path) -> None:
    """Write it whole; raises OutputError."""
    write_whole(path, watch_file(standin, path).encode("utf-8"))


def _limits(tank: Tank, times: float) -> list[str]:
    """What of this tank can be believed, without a fault, by the clock of the watch."""
    can, lines = believable(tank.running), list[str]()
    if isfinite(can.rate_m_per_s):
        moved_m = can.rate_m_per_s * (times * EVERY_s + tank.running.interval_s) + can.spread_m
        most = _up(1000.0 * max(MARGIN * moved_m / EVERY_s, LEAST_RATE_m_per_s))
        told = f"{1000.0 * can.rate_m_per_s * times:.3g} mm/s"
        lines += [
            f"# The level goes at {told} at most and seems, with waves and steps, to move {1000.0 * moved_m:.3g} mm",
            f"# at most between two readings: {MARGIN:g} times that can still be believed.",
            f"fastest: {most} mm/s",
        ]
    else:
        lines.append("# No fastest is stated: the level goes back to the first one at once.")
    if isfinite(can.still_s):
        still_s = can.still_s / times
        lines += [
            f"# Without a fault the number stands still for {still_s:.3g} s at most.",
            f"frozen_after: {_up(max(MARGIN * still_s, 2.0 * STALE_s))} s",
        ]
    else:
        lines.append(
            "# No frozen_after is stated: without waves the number stands still for as long as the level rests."
        )
    return lines


def _up(value: float) -> str:
    """Rounded up to two digits."""
    step = 10.0 ** (floor(log10(value)) - 1)
    return f"{ceil(value / step - 1e-9) * step:.10g}"


def _map(ways: Sequence[str]) -> list[str]:
    lines = []
    if MODBUS in ways:
        lines.append("# Registers of every device, numbers with the high word first:")
        lines += [
            f"#   {at:2} {'float' + str(16 * count) if count > 1 else 'uint16 '}  {words}"
            for at, count, words in REGISTERS
        ]
    if OPC_UA in ways:
        lines.append("# Variables of every tag:")
        lines += [f"#   {node_of('TAG', name)}  {words}" for name, words in VARIABLES.items()]
    return lines


def _source(standin: Standin, way: str, tag: str) -> str:
    limits = f"unit: mA, least: {LEAST}, most: {MOST}"
    if way == MODBUS:
        where = f'tcp: "{LOOPBACK}:{standin.port(MODBUS)}", device: {device_of(standin.plant, tag)}'
        form = "form: float32, words: high first, bytes: high first, factor: 1, offset: 0"
        return f"modbus: {{{where}, registers: input, address: {CURRENT}, {form}, {limits}}}"
    if way == OPC_UA:
        url = f"opc.tcp://{LOOPBACK}:{standin.port(OPC_UA)}/"
        return f'opc_ua: {{url: "{url}", node: "{node_of(tag, "current")}", {limits}}}'
    return f'hart: {{tcp: "{LOOPBACK}:{standin.port(HART, tag)}", address: 0}}'


def _relative(case: Path, watch: Path) -> str:
    """The case as it is found from the watch file."""
    return Path(os.path.relpath(case.resolve(), watch.resolve().parent)).as_posix()


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
