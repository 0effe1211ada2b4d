"""The watch file: what it states is read, and everything that is wrong is told with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from onedatum.foundation.errors import LogError
from onedatum.logs.live.hart_port import timing_of
from onedatum.logs.live.plan import HartSource, ModbusSource, OpcUaSource, WatchPlan
from onedatum.logs.live.plan_reader import read_plan
from tests.cli.run import ROOT
from tests.closeness import close

HEAD = "watch: 1\nevery: 1 s\nstale_after: 5 s\ntags:\n"
MODBUS = "device: 1, registers: input, address: 0, form: float32, unit: mA, least: 0 mA, most: 25 mA"


def read(tmp_path: Path, text: str) -> WatchPlan:
    """The plan of a text."""
    path = tmp_path / "w.yaml"
    path.write_text(text, encoding="utf-8")
    return read_plan(path)


def faults(tmp_path: Path, text: str) -> list[str]:
    """The faults of a text, from the name of the file on."""
    with pytest.raises(LogError) as told:
        read(tmp_path, text)
    return [str(fault).replace(str(tmp_path), "") for fault in told.value.faults]


def test_the_example_is_read() -> None:
    plan = read_plan(ROOT / "examples" / "live" / "spirit_receiver_watch.yaml")
    (tag,) = plan.tags
    assert tag.tag == "LT-201" and tag.case.is_file() and tag.unit == "mA"
    assert (plan.every_s, plan.stale_after_s, tag.frozen_after_s) == (1.0, 5.0, 1800.0)


def test_three_ways_to_a_device(tmp_path: Path) -> None:
    text = (
        HEAD
        + f'  A: {{case: a.yaml, modbus: {{tcp: "[::1]", {MODBUS}, words: low first}}}}\n'
        + '  B: {case: b.yaml, opc_ua: {url: "opc.tcp://h:4840/", node: "ns=2;s=x", unit: "%", least: -5 %,\n'
        + "      most: 105 %}}\n"
        + "  C: {case: c.yaml, hart: {serial: /dev/ttyUSB0, address: 3, delay: 1.5 s}, limit: 8 s}\n"
    )
    a, b, c = read(tmp_path, text).tags
    assert isinstance(a.source, ModbusSource) and isinstance(b.source, OpcUaSource) and isinstance(c.source, HartSource)
    assert (a.source.host, a.source.port, a.source.point.words) == ("::1", 502, "low first")
    close(b.source.least, -5.0, 1e-12, "a per cent of the span is 1/100 of it, rounding")
    assert (c.source.serial, c.source.address, c.limit_s, c.unit) == ("/dev/ttyUSB0", 3, 8.0, "mA")
    assert timing_of(c.source).way_s == c.source.delay_s == 1.5


def test_limits_are_told_in_the_unit_of_the_number(tmp_path: Path) -> None:
    """1 m is 1000 mm: the limits of a number in mm are in mm."""
    text = MODBUS.replace("unit: mA, least: 0 mA, most: 25 mA", "unit: mm, least: 0 m, most: 3 m")
    (tag,) = read(tmp_path, HEAD + f'  A: {{case: a.yaml, modbus: {{tcp: "h:1", {text}}}}}\n').tags
    assert isinstance(tag.source, ModbusSource)
    close(tag.source.point.most, 3000.0, 1e-9, "rounding")


def modbus(old: str = "", new: str = "", line: str = 'tcp: "h:1", ') -> str:
    """A tag with one thing changed."""
    return f"A: {{case: a, modbus: {{{line}{MODBUS.replace(old, new) if old else MODBUS}}}}}"


def node(url: str) -> str:
    """A tag over OPC UA."""
    return f'A: {{case: a, opc_ua: {{url: "{url}", node: i=1, unit: m, least: 0 m, most: 1 m}}}}'


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (modbus(line='tcp: "h:1", serial: x, '), "one of tcp and serial; got both"),
        (modbus(line=""), "one of tcp and serial; got neither"),
        (modbus(line='tcp: "h:1", write: 1, '), "A watch only reads"),
        (modbus(line='tcp: "h:99999", '), "a host with its port"),
        (modbus(line='tcp: "h:0", '), "a host with its port"),
        (node("opc.tcp://h:1/").replace("i=1", "rubbish"), "the identifier of a node"),
        (modbus("float32", "flaot32"), "Nearest: float32"),
        (modbus(", most: 25 mA", ""), "without limits"),
        (modbus("address: 0", "address: 65536"), "to 65535"),
        (modbus("unit: mA", "unit: bar"), "unit of pressure"),
        (modbus("least: 0 mA", "least: 30 mA"), "above least"),
        (modbus("device: 1", "device: 1, factor: 0"), "other than 0"),
        (modbus().replace("case: a, ", ""), "the case file of the tag"),
        ("A: {case: a}", "exactly one of modbus, opc_ua, hart; got none"),
        ("A: {case: a, hart: {tcp: h, address: 64}}", "from 0 to 63; got '64'. It is the polling address"),
        (modbus("address: 0", "address: -1"), "Registers are counted from 0"),
        (modbus("unit: mA", "unit: V"), "unit of voltage. Where the number stands for another, factor"),
        ("A: {case: a, hart: {tcp: h, offset: 1}}", "got 'offset'. It goes with modbus and opc_ua. Known: tcp"),
        ("A: {case: a, hart: {tcp: h, settling: 1}}", "got 'settling'. Known: tcp"),
        ("A: {case: a, hart: {tcp: h, set_point: 1}}", "A watch only reads"),
        ("A: {case: a, hart: {tcp: h/1}}", '"127.0.0.1:5094"'),
        ("A: {case: a, hart: {tcp: h, delay: 2}}", "The unit is missing"),
        ("A: {case: a, hart: {tcp: h}}\n  B: {case: b, hart: {tcp: h, address: 1}}", "on a line of its own"),
        (node("opc.tcp://u:p@h:1/"), "no user"),
        (node("http://h:1/"), "opc.tcp://"),
        ("A: 3", "case and one of modbus"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(tmp_path: Path, line: str, words: str) -> None:
    """All of it stands in line 5."""
    found = faults(tmp_path, HEAD + f"  {line}\n")
    assert any("w.yaml:5:" in each and words in each for each in found), found


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "must be keys with values"),
        ("watch: 2\ntags: {A: 3}\n", "watch: 1; got 2"),
        ("watch: 1\nevry: 1 s\ntags: {A: 3}\n", "Nearest: every"),
        ("watch: 1\nevery: 1\ntags: {A: 3}\n", "The unit is missing"),
        ("watch: 1\nevery: 5 s\nstale_after: 1 s\ntags: {A: 3}\n", "stale before the next can come"),
        ("watch: 1\nevery: 1 s\nrate_over: 5 s\ntags: {A: 3}\n", "20 times every"),
        ("watch: 1\ntags: []\n", "at least one tag"),
        ("watch: 1\ntags: &a\n  A: *a\n", ""),
        ("\x00", ""),
    ],
)
def test_a_file_that_is_no_plan_is_refused(tmp_path: Path, text: str, words: str) -> None:
    assert any(words in each for each in faults(tmp_path, text))


@pytest.mark.parametrize("text", ["", "- a\n", "no keys"])
def test_what_is_no_watch_file_is_told_how_one_begins(tmp_path: Path, text: str) -> None:
    (said,) = faults(tmp_path, text)
    assert "the first of them watch: 1" in said
