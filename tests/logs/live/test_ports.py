"""The ports against small devices on the loopback: values, refusals, rubbish, restarts, and that nothing is written."""

from __future__ import annotations

import ast
import asyncio
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import onedatum.logs.live
from onedatum.logs.live import opc_ua
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.hart_port import HartPort
from onedatum.logs.live.link import Backoff, Link
from onedatum.logs.live.modbus import ModbusLine, ModbusPort
from onedatum.logs.live.opc_ua import OpcUaPort
from onedatum.logs.live.plan import HartSource, ModbusSource, OpcUaSource
from onedatum.logs.live.registers import Point
from onedatum.logs.live.sample import Port, Reading
from tests.closeness import close
from tests.logs.live.line import IDENTITY, Device, number
from tests.logs.live.servers import READING_FUNCTIONS, Modem, Registers, served

LIMIT_s = 0.5


def modbus(port: int, registers: str = "input", address: int = 0, **point: Any) -> ModbusPort:
    """A port to the current in mA."""
    own = Point("LT-201", "float32", 0.0, 25.0, **point)
    source = ModbusSource("l", "127.0.0.1", port, "", 0, "", 1, 1, registers, address, own)
    return ModbusPort(source, ModbusLine(source, LIMIT_s))


def hart(port: int) -> HartPort:
    """A port to the transmitter."""
    return HartPort(HartSource("l", "127.0.0.1", port, "", 0))


def link(port: Port, limit_s: float = LIMIT_s) -> Link:
    """A link without patience to wait for."""
    return Link("LT-201", port, OwnClock(), limit_s, backoff=Backoff(0.0, 0.0))


def told_by(device: Device) -> Reading:
    """What one reading of a transmitter tells."""

    async def whole() -> Reading:
        async with served(Modem(device)) as server:
            own = link(hart(server.port), 10.0)
            found = await own.sample()
            await own.close()
            return found.reading

    return asyncio.run(whole())


@pytest.mark.parametrize("registers", ["input", "holding"])
def test_registers_are_read_and_only_read(registers: str) -> None:
    async def whole() -> tuple[Reading, set[int]]:
        async with served(Registers(13.25)) as server:
            own = link(modbus(server.port, registers))
            found = await own.sample()
            await own.close()
            return found.reading, server.functions if isinstance(server, Registers) else set()

    reading, functions = asyncio.run(whole())
    assert reading.value == 13.25
    assert functions == {4 if registers == "input" else 3} and functions <= READING_FUNCTIONS


def test_a_refusal_keeps_the_line_and_says_why() -> None:
    """Exception codes 2 and 6 of the protocol: no such register, busy (from memory)."""

    async def whole() -> list[Reading]:
        server = Registers()
        async with served(server):
            none, busy = link(modbus(server.port, address=101)), link(modbus(server.port))
            server.exception = 0
            first = (await none.sample()).reading
            server.exception = 6
            second = (await busy.sample()).reading
            server.exception = 0
            third = (await busy.sample()).reading
            await none.close()
            await busy.close()
            return [first, second, third]

    none, busy, after = asyncio.run(whole())
    assert none.value is None and "no such register" in none.doubt
    assert busy.value is None and "busy" in busy.doubt
    assert after.value == 12.0


def test_the_wrong_order_of_words_is_unknown_and_the_likely_one_is_named() -> None:
    """12.0 as a float is 41400000: with its words turned it is 1.8e-41, which no number of a device is."""

    async def whole() -> Reading:
        async with served(Registers(12.0)) as server:
            own = link(modbus(server.port, words="low first"))
            found = await own.sample()
            await own.close()
            return found.reading

    reading = asyncio.run(whole())
    assert reading.value is None and "words high first" in reading.hint and not reading.denies_level


def test_silence_rubbish_and_a_restart_are_survived() -> None:
    async def whole() -> list[float | None]:
        server, values = Registers(), list[float | None]()
        own: Link | None = None
        async with served(server):
            own = link(modbus(server.port))
            values.append((await own.sample()).reading.value)
            server.silent = True
            values.append((await own.sample()).reading.value)
            server.silent, server.rubbish = False, bytes(range(40))
            values.append((await own.sample()).reading.value)
            server.rubbish = b""
            values.append((await own.sample()).reading.value)
        await own.close()
        values.append((await own.sample()).reading.value)
        async with served(server):
            values.append((await own.sample()).reading.value)
            await own.close()
        return values

    assert asyncio.run(whole()) == [12.0, None, None, 12.0, None, 12.0]


def test_a_transmitter_tells_its_current_and_its_primary_variable() -> None:
    """12 mA is 50 % of 4 to 20 mA; the device tells 1.5 m (unit code 45), range 0 to 3 m: all fit together."""

    async def whole() -> tuple[list[Reading], set[int]]:
        device = Device()
        async with served(Modem(device, noise=b"\x00\x55")) as server:
            own = link(hart(server.port), 10.0)
            found = [(await own.sample()).reading for _ in range(2)]
            await own.close()
            return found, {command for command, _ in device.asked}

    readings, commands = asyncio.run(whole())
    for reading in readings:
        assert reading.value is not None and reading.doubt == ""
        close(reading.value, 12.0, 1e-6, "a single float, and mA by way of A")
        assert (reading.primary, reading.primary_unit) == (1.5, "m")
    assert commands <= {0, 1, 2, 3, 13, 15, 20, 48}, "universal commands that read (from memory)"


@pytest.mark.parametrize(
    ("status", "answers", "words", "current_mA"),
    [
        (b"\0\x80", {}, "fault in itself", 12.0),
        (b"\0\x08", {}, "does not follow the level", 12.0),
        (b"\0\0", {2: bytes.fromhex("7FA00000") * 2}, "not available", 12.0),
        (b"\0\0", {3: number(12.0) + b"\x2d" + bytes.fromhex("7FA00000")}, "level is unknown", 12.0),
        (b"\0\x88", {2: number(3.6) + number(-2.5)}, "fault in itself", 3.6),
        (b"\0\x80", {2: bytes.fromhex("7FA00000") * 2, 3: number(3.6)}, "fault in itself", 3.6),
        (b"\0\x80", {2: bytes.fromhex("7FA00000") * 2, 3: bytes.fromhex("7FA00000")}, "fault in itself", None),
    ],
)
def test_what_a_transmitter_says_of_itself_is_no_level_and_its_current_is_handed_on(
    status: bytes, answers: dict[int, bytes], words: str, current_mA: float | None
) -> None:
    """The current of command 2, or else of command 3: it tells which failure."""
    device = Device(status=status)
    device.answers |= answers
    reading = told_by(device)
    assert reading.denies_level and words in reading.doubt
    if current_mA is None:
        assert reading.value is None
    else:
        assert reading.value is not None
        close(reading.value, current_mA, 1e-6, "a single float, and mA by way of A")


def test_an_answer_that_does_not_fit_together_is_no_word_of_the_device() -> None:
    """16 mA is 75 % of 4 to 20 mA, not 50 %: it may be bits that turned, and tells nothing."""
    device = Device()
    device.answers |= {2: number(16.0) + number(50.0)}
    reading = told_by(device)
    assert reading.value is None and "does not fit" in reading.doubt and not reading.denies_level


@pytest.mark.parametrize("status", [b"\0\0", b"\0\x80"])
def test_a_failure_current_of_a_transmitter_is_handed_on_for_the_state_to_tell(status: bytes) -> None:
    """3.5 mA, -3.125 % of range: what a loop says that fails low; a device that says so itself fails no less."""
    device = Device(status=status)
    device.answers[2] = number(3.5) + number(-3.125)
    reading = told_by(device)
    assert reading.value is not None
    close(reading.value, 3.5, 1e-6, "a single float")
    assert reading.denies_level is (status != b"\0\0")


def test_a_transmitter_that_is_gone_is_no_answer_and_comes_back() -> None:
    async def whole() -> list[float | None]:
        modem = Modem()
        async with served(modem):
            own = link(hart(modem.port), 10.0)
            values = [(await own.sample()).reading.value]
            assert own.port is not None
            await own.close()
        values.append((await own.sample()).reading.value)
        async with served(modem):
            values.append((await own.sample()).reading.value)
            await own.close()
        return values

    first, gone, again = asyncio.run(whole())
    assert gone is None and first is not None and again is not None


def data_value(value: object, good: bool = True, name: str = "Good") -> Any:
    """A data value as the library hands it over."""
    status = SimpleNamespace(is_good=lambda: good, name=name)
    return SimpleNamespace(Value=SimpleNamespace(Value=value), StatusCode=status, SourceTimestamp=None)


@pytest.mark.parametrize(
    ("told", "words", "its_own_word"),
    [
        (data_value(1e30, False, "BadSensorFailure"), "BadSensorFailure", True),
        (data_value(None, False, "BadNotConnected"), "BadNotConnected", True),
        (data_value("12.0"), "no number but str", False),
        (data_value(True), "no number but bool", False),
        (data_value(None), "no number", True),
        (data_value(float("nan")), "no number", True),
        (data_value(float("inf")), "outside", False),
        (data_value(1e30), "outside", False),
        (data_value([12.0]), "no number but list", False),
    ],
)
def test_a_node_that_tells_no_sound_number_is_unknown(told: Any, words: str, its_own_word: bool) -> None:
    reading = opc_ua.reading_of(told, OpcUaSource("", "", 0.0, 25.0))
    assert reading.value is None and words in reading.doubt and reading.denies_level is its_own_word


@pytest.mark.parametrize("name", ["BadSensorFailure", "UncertainLastUsableValue"])
def test_a_number_under_a_status_that_is_not_good_is_handed_on_and_makes_no_level(name: str) -> None:
    """IEC 62541-4: a value whose status is not good must not be used as one that is (from memory)."""
    reading = opc_ua.reading_of(data_value(3.6, False, name), OpcUaSource("", "", 0.0, 25.0))
    assert reading.value == 3.6 and reading.denies_level and name in reading.doubt


@pytest.mark.parametrize(("code", "its_own_word"), [(4, True), (6, False), (11, False)])
def test_a_device_that_says_it_failed_is_believed_at_once_and_one_that_is_busy_is_asked_again(
    code: int, its_own_word: bool
) -> None:
    """Exception codes 4, 6 and 11 of the protocol: the device failed, it is busy, it does not answer (from memory)."""

    async def whole() -> Reading:
        server = Registers()
        server.exception = code
        async with served(server):
            own = link(modbus(server.port))
            found = await own.sample()
            await own.close()
            return found.reading

    assert asyncio.run(whole()).denies_level is its_own_word


def test_a_node_is_read_with_the_time_of_its_source_and_a_restart_is_survived() -> None:
    """The library's own server on the loopback; the client of the port is only asked to read."""
    from datetime import UTC, datetime

    from asyncua import ua
    from asyncua.server.server import Server

    kinds: Any = ua

    stamp = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)

    async def server_at(port: int) -> tuple[Any, Any]:
        server = Server()
        await server.init()
        server.set_endpoint(f"opc.tcp://127.0.0.1:{port}/")
        server.set_security_policy([ua.SecurityPolicyType.NoSecurity])
        index = await server.register_namespace("invented works")
        node = await server.nodes.objects.add_variable(kinds.NodeId("LT-202.current", index), "LT-202.current", 12.5)
        await node.write_value(kinds.DataValue(ua.Variant(12.5, ua.VariantType.Double), SourceTimestamp=stamp))
        await server.start()
        return server, node.nodeid.to_string()

    async def whole() -> list[Reading]:
        port = _free_port()
        server, name = await server_at(port)
        own = link(OpcUaPort(OpcUaSource(f"opc.tcp://127.0.0.1:{port}/", name, 0.0, 25.0), 4.0), 4.0)
        missing = link(OpcUaPort(OpcUaSource(f"opc.tcp://127.0.0.1:{port}/", "ns=2;s=none", 0.0, 25.0), 4.0), 4.0)
        found = [(await own.sample()).reading, (await missing.sample()).reading]
        await missing.close()
        await server.stop()
        found.append((await own.sample()).reading)
        await server.start()
        found.append((await own.sample()).reading)
        await own.close()
        await server.stop()
        return found

    good, missing, gone, again = asyncio.run(whole())
    assert again.value == 12.5
    assert good.value == 12.5 and good.source_us == int(stamp.timestamp() * 1e6)
    assert missing.value is None and "BadNodeIdUnknown" in missing.doubt
    assert gone.value is None and gone.doubt


def _free_port() -> int:
    import socket

    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


# ---------------------------------------------------------------- nothing is written


WRITES = (
    "write_coil", "write_coils", "write_register", "write_registers", "mask_write_register", "readwrite_registers",
    "write_value", "write_values", "write_attribute", "write_attribute_value", "call_method", "set_value",
)  # fmt: skip


def calls(text: str) -> Iterator[str]:
    """Names of all that a module calls or takes of an object."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Attribute):
            yield node.attr


def test_no_module_of_live_reading_takes_what_writes() -> None:
    places = list(Path(onedatum.logs.live.__path__[0]).rglob("*.py"))
    assert {"modbus.py", "opc_ua.py", "hart_port.py"} <= {place.name for place in places}
    found = [(place.name, name) for place in places for name in calls(place.read_text("utf-8")) if name in WRITES]
    assert found == []
    assert "write_register" in list(calls("client.write_register(1, 2)")), "the rule would find one"


def test_a_stream_that_is_cut_within_a_frame_is_no_reading() -> None:
    """Of the answer to command 0 only half arrives, then the line ends."""

    async def talk(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        await reader.read(100)
        writer.write(b"\xff" * 5 + b"\x06\x80\x00\x0e\0\0" + IDENTITY[:5])
        writer.close()

    async def whole() -> Reading:
        server = await asyncio.start_server(talk, "127.0.0.1", 0)
        own = link(hart(server.sockets[0].getsockname()[1]), 10.0)
        found = await own.sample()
        server.close()
        return found.reading

    reading = asyncio.run(whole())
    assert reading.value is None and "closed the line" in reading.doubt
