"""Checks of the statement itself: values that contradict each other, whatever the physics says."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from onedatum.case.leaf import Leaf, Value, Word
from onedatum.case.model import Case
from onedatum.foundation.errors import Fault
from onedatum.foundation.working import spell


def contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in the statement."""
    for check in _CHECKS:
        yield from check(case)


def _span(case: Case) -> Iterator[Fault]:
    lower, upper = case.range.lower, case.range.upper
    if lower.si is not None and upper.si is not None and lower.si == upper.si:
        yield _fault(upper, f"other than the level at 4 mA, {lower.text}", "LRV = URV leaves no span")


def _voltages(case: Case) -> Iterator[Fault]:
    low, high = case.loop.transmitter.voltage_min, case.loop.transmitter.voltage_max
    if low.si is not None and high.si is not None and low.si >= high.si:
        yield _fault(
            high, f"above the lowest terminal voltage, {low.text}", "the transmitter would have no supply range"
        )


def _ranges_in_order(case: Case) -> Iterator[Fault]:
    for leaf in case.leaves():
        if not isinstance(leaf, Value):
            continue
        ends = [number for number in (leaf.low, leaf.si, leaf.high) if number is not None]
        if ends != sorted(ends):
            got = ", ".join(spell(number, leaf.suffix) for number in ends)
            yield Fault(leaf.path, "stated as min, normal, max in rising order", got, place=leaf.place)


def _barrier_data(case: Case) -> Iterator[Fault]:
    barrier = case.loop.barrier
    if barrier.kind.word == "isolator" and barrier.resistance.known:
        why = "an isolator is stated by the voltage at its terminals"
        yield _fault(barrier.resistance, "left away with an isolator", why)
    if barrier.kind.word == "shunt-diode barrier" and barrier.voltage_at_its_terminals.known:
        why = "a shunt-diode barrier is stated by its resistance"
        yield _fault(barrier.voltage_at_its_terminals, "left away with a shunt-diode barrier", why)


def _bore(case: Case) -> Iterator[Fault]:
    bore, outside = case.instrument.float_.bore, case.instrument.float_.outside_diameter
    if bore.si is not None and outside.si is not None and bore.si >= outside.si:
        yield _fault(bore, f"below the outside diameter, {outside.text}", "nothing of the float would be left")


def _fault(leaf: Value | Word | Leaf, allowed: str, why: str) -> Fault:
    return Fault(leaf.path, allowed, leaf.text, why, leaf.place)


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _span,
    _voltages,
    _ranges_in_order,
    _barrier_data,
    _bore,
)
