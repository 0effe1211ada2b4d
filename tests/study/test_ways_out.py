"""Ways out of a loop that does not carry its alarm: what is offered to be tried, tried, clears the finding."""

from __future__ import annotations

from pathlib import Path

import pytest

from onedatum.case.trying import read_tried
from onedatum.study.findings import ALARM_NEVER_COMES
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Link

EXAMPLES = Path(__file__).parents[2] / "examples"
TEXT = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")


def tried(changes: dict[str, str | None]) -> Study:
    """The spirit receiver with values tried on it."""
    return study(read_tried(TEXT, "spirit_receiver.yaml", EXAMPLES, changes))


def ways() -> list[Link]:
    """The ways out that can be tried."""
    finding = next(each for each in tried({}).findings if each.key == ALARM_NEVER_COMES)
    return [way for way in finding.ways_out if way.change]


def test_each_way_is_worked_on_the_safe_side() -> None:
    """Ohm's law by hand: 10.8 V at 19.5097 mA is 553.57 ohm, at 21.5 mA 502.33 ohm; less 6.342 ohm of cable and
    the 250 or 300 ohm of the other part; the range by the rule of three: 100 mm + 2617.31 mm x 16/15.413."""
    assert [way.change for way in ways()] == [
        ("loop.barrier.resistance", "297 ohm"),
        ("loop.barrier.resistance", "245 ohm"),
        ("loop.input_resistor", "247 ohm"),
        ("loop.input_resistor", "195 ohm"),
        ("range.20 mA", "2818 mm"),
    ]


@pytest.mark.parametrize("number", range(5))
def test_a_way_out_that_is_tried_carries_the_alarm(number: int) -> None:
    path, text = ways()[number].change or ("", "")
    keys = {finding.key for finding in tried({path: text}).findings}
    assert ALARM_NEVER_COMES not in keys


def test_behind_an_isolator_nothing_is_offered_that_cannot_be_tried() -> None:
    found = tried({"loop.barrier.kind": "isolator", "loop.barrier.voltage_at_its_terminals": "15 V"})
    offered = [way.change for each in found.findings for way in each.ways_out if way.change]
    assert all(path == "range.20 mA" for path, _ in offered)
