"""Ways out of a loop that does not carry its alarm: each worked, and on the safe side where it can be tried."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.units import whole
from onedatum.foundation.working import Entry
from onedatum.physics.loop import upper_range_value_m
from onedatum.study.desk import Desk
from onedatum.study.loop import LoopChapter, largest_barrier_for, largest_input_resistor_for
from onedatum.study.overfill import OverfillChapter
from onedatum.verdicts import Link

LOWEST_SIGNAL_A = 0.004


def link(text: str, entry: Entry | None = None, change: tuple[str, str] | None = None) -> Link:
    """Words and the entry they lead to."""
    return Link(text, entry.text, entry.name, change) if entry else Link(text)


def ways_out(desk: Desk, loop: LoopChapter, overfill: OverfillChapter) -> Iterator[Link]:
    """What would bring the high-high alarm back within the loop."""
    current = overfill.high_high_current
    yield from _barriers(desk, loop, current)
    resistor = largest_input_resistor_for(desk, "loop.largest_input_resistor_for_high_high", loop, current)
    if _fits(resistor):
        change = _at_most(desk.case.loop.input_resistor.path, resistor)
        yield link("HH is just reached with an input resistor of at most", resistor, change)
        enough = largest_input_resistor_for(desk, "loop.largest_input_resistor_for_worst", loop, loop.worst)
        if _fits(enough):
            change = _at_most(desk.case.loop.input_resistor.path, enough)
            yield link("The highest failure current as well with at most", enough, change)
    yield from _range(desk, loop, overfill)
    if loop.source.isolator:
        yield Link("An isolator that gives more voltage, or a thicker cable")
    else:
        yield Link("A higher supply or a thicker cable")


def _barriers(desk: Desk, loop: LoopChapter, current: Entry) -> Iterator[Link]:
    path = desk.case.loop.barrier.resistance.path
    just = largest_barrier_for(desk, "loop.largest_barrier_for_high_high", loop, current)
    if not _fits(just):
        return
    yield link("HH is just reached with a barrier (by its certificate) of at most", just, _at_most(path, just))
    enough = desk.sheet["loop.largest_barrier_for_worst"]
    if _fits(enough):
        yield link("The highest failure current as well with at most", enough, _at_most(path, enough))
    yield Link("An isolator in place of the barrier: state the voltage at its terminals")


def _range(desk: Desk, loop: LoopChapter, overfill: OverfillChapter) -> Iterator[Link]:
    """The upper range value that brings HH down to the last good current."""
    text = "Another range, that brings HH to a lower current"
    last, lower, upper = loop.last_current, desk.sheet["range.4 mA"], desk.sheet["range.20 mA"]
    rises = lower.value is not None and upper.value is not None and lower.value < upper.value
    if last is None or last.value is None or not rises or last.value <= LOWEST_SIGNAL_A:
        yield Link(text)
        return
    least = desk.calc(
        "range.upper_for_high_high",
        upper_range_value_m,
        shown="mm",
        meaning="upper range value at which the loop just carries HH",
        level_m=overfill.high_high.stands,
        current_A=last,
        lower_range_value_m=lower,
    )
    if least.value is None:
        yield Link(text)
        return
    change = (upper.path or "range.20 mA", whole(least.value, "mm", up=True))
    yield link("A range that brings HH to a lower current: 20 mA at no less than", least, change)


def _fits(entry: Entry | None) -> bool:
    return entry is not None and entry.value is not None and entry.value > 0.0


def _at_most(path: str, entry: Entry | None) -> tuple[str, str] | None:
    return (path, whole(entry.value, "ohm")) if entry is not None and entry.value is not None else None
