"""`onedatum simulate` in a process of its own, met by plain clients and by one of OPC UA: one process for them all.

Which value belongs to a moment is told by the time that stands beside it; the expected one is made by the same tank
here, and for the plain one by the definition of 4 to 20 mA as well.
"""

from __future__ import annotations

import asyncio
import os
import re
import signal
import socket
import struct
import subprocess
import sys
from collections.abc import Awaitable, Callable, Iterator
from contextlib import closing, suppress
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from onedatum.case.tree import Branch, Leaf, read_tree
from onedatum.jobs.standin.tanks import Course, tanks_of
from onedatum.simulate import Running
from tests.house.tree import ROOT
from tests.jobs.standin.clients import connect, hart, modbus, registers, take
from tests.logs.live.line import PREAMBLES, number, reply

OPC_UA: Any = import_module("asyncua")
"""Its types differ from one version to the next."""
ua = OPC_UA.ua
CASE = "examples/spirit_receiver.yaml"
COURSE = ("--from", "0.5 m", "--to", "2.4 m", "--in", "19 s", "--noise", "1 mm", "--seed", "7")
FAULTS = """faults: 1
plan:
  - {at: 0 s, for: 1 ms, link: restart, on: opc_ua}
  - {at: 0 s, link: swap, on: modbus, tag: ODD}
  - {at: 0 s, link: freeze, on: opc_ua, tag: ODD}
  - {at: 0 s, link: garbage, on: hart, tag: ODD}
  - {at: 0 s, output: 3.6 mA, tag: BAD}
"""
WAYS = ("--modbus", "0", "--opc-ua", "0", "--hart", "0")


@dataclass
class Started:
    """A process that serves."""

    process: subprocess.Popen[str]
    lines: list[str] = field(default_factory=list)
    watch: Path = Path()

    def port(self, way: str, tag: str = "LT-201") -> int:
        """As it was printed."""
        found = re.search(rf"^{tag}: {way} \S*127\.0\.0\.1:(\d+)", "\n".join(self.lines), re.MULTILINE)
        assert found is not None, self.lines
        return int(found[1])


def start(*words: str) -> Started:
    """Start and read up to the line that says how to stop."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    command = [sys.executable, "-m", "onedatum", "simulate", *words]
    process = subprocess.Popen(
        command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    started = Started(process)
    assert process.stdout is not None
    for line in process.stdout:
        started.lines.append(line.rstrip())
        if line.startswith("Stop with"):
            return started
    raise AssertionError(started.lines)


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Started]:
    folder = tmp_path_factory.mktemp("plant")
    (folder / "faults.yaml").write_text(FAULTS, encoding="utf-8")
    cases = (CASE, f"ODD={CASE}", f"BAD={CASE}")
    files = ("--faults", str(folder / "faults.yaml"), "--watch-file", str(folder / "watch.yaml"))
    started = start(*cases, *WAYS, *COURSE, *files)
    started.watch = folder / "watch.yaml"
    try:
        yield started
    finally:
        if started.process.poll() is None:
            started.process.kill()
            started.process.communicate()


@cache
def running_here(tank: int) -> Running:
    """The same tank in this process."""
    course = Course("0.5 m", "2.4 m", "19 s", "5 min", True, "1 mm", "0.5 s")
    return tanks_of([CASE], course, 7 + tank)[0].running


def expected_m(time_s: float, tank: int = 0) -> tuple[float, float]:
    """True and shown level at a moment: the true one by hand, 0.1 m in a second up to 2.4 m."""
    moment = running_here(tank).at(time_s)
    assert moment.shown_m is not None
    return min(0.5 + 0.1 * time_s, 2.4), moment.shown_m


def opc(plant: Started, talk: Callable[[Any], Awaitable[Any]]) -> Any:
    """Talk to the server as a client without a certificate."""

    async def whole() -> Any:
        async with OPC_UA.Client(f"opc.tcp://127.0.0.1:{plant.port('OPC UA')}/") as client:
            return await talk(client)

    return asyncio.run(whole())


def test_it_says_what_it_is_and_where(plant: Started) -> None:
    assert plant.lines[0].startswith("This is a simulation: its numbers prove nothing about a plant")
    assert "It is only read: every write is refused." in plant.lines
    assert len({plant.port("HART over TCP", tag) for tag in ("LT-201", "ODD", "BAD")}) == 3


def test_modbus_tells_what_the_tank_has_at_its_moment(plant: Started) -> None:
    with closing(connect(plant.port("Modbus TCP"))) as line:
        for device in (1, 2):
            sent = registers(line, 0, 14, device)
            if device == 2:  # the words of each number the other way round
                words = [sent[at : at + 2] for at in range(0, 28, 2)]
                turned = [*words[1::-1], *words[3:1:-1], *words[5:3:-1], *words[6:8], *words[11:7:-1], *words[13:11:-1]]
                sent = b"".join(turned)
            current_mA, level_m, temperature_degC, state, _, time_s, true_m = struct.unpack(">fffHHdf", sent)
            expected = expected_m(time_s, device - 1)
            assert (true_m, level_m) == pytest.approx(expected, rel=1e-6)
            assert current_mA == pytest.approx(4.0 + 16.0 * (level_m - 0.1) / 2.7, rel=1e-6)
            assert (state, temperature_degC) == (0, 14.0)
        assert registers(line, 0, 2, 3) == struct.pack(">f", 3.6)
        assert struct.unpack(">H", registers(line, 6, 1, 3, function=3)) == (3,), "failure low, as holding register"


def test_modbus_refuses_every_write_and_what_is_not_there(plant: Started) -> None:
    """Exception codes 1 and 2, function and address (Modbus application protocol, 7)."""
    with closing(connect(plant.port("Modbus TCP"))) as line:
        one, several = struct.pack(">HH", 0, 1), struct.pack(">HHB", 0, 2, 4) + bytes(4)
        mask, both = struct.pack(">HHH", 0, 0, 0), struct.pack(">HHHHB", 0, 2, 0, 2, 4) + bytes(4)
        for function, data in (
            (5, b"\0\0\xff\0"),
            (6, one),
            (15, b"\0\0\0\1\1\1"),
            (16, several),
            (22, mask),
            (23, both),
        ):
            answer = modbus(line, function, data)
            assert answer[0] == 0x80 | function and answer[1] in (1, 2), (function, answer)
        assert modbus(line, 4, struct.pack(">HH", 13, 2)) == b"\x84\x02"
        assert modbus(line, 4, struct.pack(">HH", 0, 2), device=9)[0] == 0x84
        assert modbus(line, 99, b"")[0] & 0x80
        assert struct.unpack(">f", registers(line, 0, 2))[0] > 6.0, "and it goes on as before"


def test_hart_tells_it_by_the_short_and_by_the_long_address(plant: Started) -> None:
    with closing(connect(plant.port("HART over TCP"))) as line:
        identity = hart(line, 0)[len(PREAMBLES) + 6 : -1]
        long = bytes([0x80 | identity[1], identity[2]]) + identity[9:12]
        answer = hart(line, 3, long)
        data = answer[len(PREAMBLES) + 10 : -1]
        current_mA, unit, level_m, degree, warm = struct.unpack(">fBfBf", data)
        assert (unit, degree, warm) == (45, 32, 14.0)
        assert current_mA == pytest.approx(4.0 + 16.0 * (level_m - 0.1) / 2.7, rel=1e-6)
        assert hart(line, 20) == PREAMBLES + reply(b"\x80", 20, b"LT-201".ljust(32))
        for command in (6, 17, 18, 22, 34, 35, 40, 42, 45, 46):
            refused = hart(line, command, long, number(0.0))
            assert refused == PREAMBLES + reply(long, command, b"", b"\x40\0"), command


def test_hart_of_the_spoilt_stream_has_no_check_byte_that_fits(plant: Started) -> None:
    """Bytes are garbled, one in ten: of ten answers some must be broken, and all are as long as sound ones."""
    with closing(connect(plant.port("HART over TCP", "ODD"))) as line:
        request = PREAMBLES + b"\x02\x80\x14\x00\x96"
        told = []
        for _ in range(10):
            line.sendall(request)
            told.append(take(line, len(PREAMBLES) + 1 + 1 + 2 + 2 + 32 + 1))
    sound = PREAMBLES + reply(b"\x80", 20, b"ODD".ljust(32))
    assert sum(each != sound for each in told) >= 5
    assert {len(each) for each in told} == {len(sound)}


def test_opc_ua_tells_value_status_and_time(plant: Started) -> None:
    """Of a server that was begun anew at once: the first line of the plan."""

    async def talk(client: Any) -> dict[str, Any]:
        while not await client.get_node("ns=2;s=LT-201.time").read_value():
            await asyncio.sleep(0.02)
        nodes = {f"{tag}.{name}": client.get_node(f"ns=2;s={tag}.{name}") for tag, name in ASKED}
        found: dict[str, Any] = dict(
            zip(nodes, await client.uaclient.read_attributes([n.nodeid for n in nodes.values()], VALUE), strict=True)
        )
        return found

    told = opc(plant, talk)
    time_s = told["LT-201.time"].Value.Value
    level_m = told["LT-201.level"].Value.Value
    assert (told["LT-201.true_level"].Value.Value, level_m) == pytest.approx(expected_m(time_s), rel=1e-12)
    assert told["LT-201.current"].Value.Value == pytest.approx(4.0 + 16.0 * (level_m - 0.1) / 2.7)
    assert told["LT-201.current"].StatusCode.name == "Good"
    assert told["BAD.current"].StatusCode.name == "BadSensorFailure"
    assert told["BAD.current"].Value.Value is None, "what is Bad comes without a value"
    assert told["ODD.time"].Value.Value == 0.0 < time_s, "a frozen one stands where it was"
    assert told["ODD.current"].SourceTimestamp < told["LT-201.current"].SourceTimestamp


ASKED = [(tag, name) for tag in ("LT-201", "ODD", "BAD") for name in ("time", "true_level", "level", "current")]
VALUE = ua.AttributeIds.Value


def test_opc_ua_refuses_writes_calls_and_new_nodes_of_anybody(plant: Started) -> None:
    async def talk(client: Any) -> None:
        node = client.get_node("ns=2;s=LT-201.current")
        with pytest.raises(ua.UaStatusCodeError):
            await node.write_value(12.0)
        with pytest.raises(ua.UaStatusCodeError):
            await client.nodes.objects.add_variable(2, "mine", 1.0)
        with pytest.raises(ua.UaStatusCodeError):
            await client.nodes.server.call_method("0:GetMonitoredItems", 1)
        assert 6.0 < await node.read_value() < 18.0

    opc(plant, talk)


def test_opc_ua_hands_on_changes_to_a_subscription(plant: Started) -> None:
    class Heard:
        def __init__(self) -> None:
            self.values: asyncio.Queue[float] = asyncio.Queue()

        def datachange_notification(self, node: object, value: float, data: object) -> None:
            self.values.put_nowait(value)

    async def talk(client: Any) -> list[float]:
        heard = Heard()
        subscription = await client.create_subscription(50, heard)
        await subscription.subscribe_data_change(client.get_node("ns=2;s=LT-201.time"))
        found = [await asyncio.wait_for(heard.values.get(), 20.0) for _ in range(3)]
        await subscription.delete()
        return found

    first, second, third = opc(plant, talk)
    assert first < second < third


def test_the_watch_file_names_every_tag_where_it_is(plant: Started) -> None:
    tree = read_tree(plant.watch)
    assert tree.sound

    def text(*path: str) -> str:
        node: Any = tree.root
        for key in path:
            assert isinstance(node, Branch)
            node = node.items[key]
        assert isinstance(node, Leaf)
        return node.text

    assert text("watch") == "1" and list(tree.root.items) == ["watch", "every", "stale_after", "tags"]
    tags = tree.root.items["tags"]
    assert isinstance(tags, Branch) and list(tags.items) == ["LT-201", "ODD", "BAD"]
    assert [text("tags", tag, "case_tag") for tag in ("ODD", "BAD")] == ["LT-201", "LT-201"]
    assert (plant.watch.parent / text("tags", "LT-201", "case")).resolve() == (ROOT / CASE).resolve()
    assert text("tags", "LT-201", "modbus", "tcp") == f"127.0.0.1:{plant.port('Modbus TCP')}"
    assert text("tags", "LT-201", "modbus", "device") == "1"
    assert text("tags", "ODD", "opc_ua", "node") == "ns=2;s=ODD.current"
    assert text("tags", "BAD", "hart", "tcp") == f"127.0.0.1:{plant.port('HART over TCP', 'BAD')}"


def test_bytes_of_no_protocol_do_no_harm(plant: Started) -> None:
    for way in ("Modbus TCP", "OPC UA", "HART over TCP"):
        with closing(connect(plant.port(way))) as line:
            line.sendall(b"GET / HTTP/1.1\r\n\r\n" + bytes(range(256)) * 20)
            line.shutdown(socket.SHUT_WR)
    with closing(connect(plant.port("Modbus TCP"))) as line:
        assert len(registers(line, 0, 14)) == 28
    assert plant.process.poll() is None


def test_ctrl_c_ends_it_with_a_client_connected_and_leaves_no_port_open(plant: Started) -> None:
    """The last test of the process: it ends here."""
    ports = [plant.port(way) for way in ("Modbus TCP", "OPC UA", "HART over TCP")]
    with closing(connect(ports[0])) as line:
        registers(line, 0, 14)
        plant.process.send_signal(signal.SIGINT)
        out, _ = plant.process.communicate(timeout=60)
        assert (plant.process.returncode, out) == (0, "onedatum: the simulation has ended.\n")
        with suppress(ConnectionResetError):
            assert take(line, 1) == b""
    for port in ports:
        with pytest.raises(ConnectionRefusedError):
            connect(port)
