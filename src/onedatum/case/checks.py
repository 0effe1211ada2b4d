"""Checks of the statement itself: values that contradict each other, whatever the physics says."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from onedatum.case.column_checks import column_contradictions
from onedatum.case.conditions_checks import conditions_contradictions
from onedatum.case.gauge_checks import gauge_contradictions
from onedatum.case.leaf import Value
from onedatum.case.media_checks import media_contradictions
from onedatum.case.model import Case
from onedatum.case.probe_build_checks import probe_build_contradictions
from onedatum.case.probe_checks import probe_contradictions
from onedatum.case.safety_checks import safety_contradictions
from onedatum.case.statement_checks import statement_contradictions
from onedatum.case.vessel_checks import vessel_contradictions
from onedatum.foundation.errors import Fault
from onedatum.foundation.working import spell

_FAILURE = "a failure current must not read as a level"


def contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in the statement."""
    for check in _CHECKS:
        yield from check(case)
    yield from vessel_contradictions(case)
    yield from statement_contradictions(case)
    yield from safety_contradictions(case)
    yield from gauge_contradictions(case)
    yield from column_contradictions(case)
    yield from probe_contradictions(case)
    yield from media_contradictions(case)
    yield from probe_build_contradictions(case)
    yield from conditions_contradictions(case)


def _span(case: Case) -> Iterator[Fault]:
    lower, upper = case.range.lower, case.range.upper
    if lower.si is not None and upper.si is not None and lower.si == upper.si:
        yield upper.fault(f"other than the level at 4 mA, {lower.text}", "LRV = URV leaves no span")


def _voltages(case: Case) -> Iterator[Fault]:
    low, high = case.loop.transmitter.voltage_min, case.loop.transmitter.voltage_max
    if low.si is not None and high.si is not None and low.si >= high.si:
        yield high.fault(f"above the lowest terminal voltage, {low.text}", "the transmitter would have no supply range")


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
        yield barrier.resistance.fault("left away with an isolator", why)
    if "none" in (barrier.kind.word, barrier.kind.state) and barrier.resistance.known:
        yield barrier.resistance.fault("left away where there is no barrier", "no circuit would count it")
    if barrier.kind.word == "shunt-diode barrier" and barrier.resistance.state == "none":
        yield barrier.resistance.fault("stated, end to end, by its certificate", "every such barrier has a resistance")
    if barrier.kind.word == "shunt-diode barrier" and barrier.voltage_at_its_terminals.known:
        why = "a shunt-diode barrier is stated by its resistance"
        yield barrier.voltage_at_its_terminals.fault("left away with a shunt-diode barrier", why)


def _bore(case: Case) -> Iterator[Fault]:
    bore, outside = case.instrument.float_.bore, case.instrument.float_.outside_diameter
    if bore.si is not None and outside.si is not None and bore.si >= outside.si:
        yield bore.fault(f"below the outside diameter, {outside.text}", "nothing of the float would be left")


def _currents(case: Case) -> Iterator[Fault]:
    """The failure currents lie outside the measurement information (NE 43)."""
    transmitter, saturation = case.loop.transmitter, case.range.saturation
    low, worst = transmitter.current_failure_low, transmitter.current_worst
    if low.si is not None and saturation.low.si is not None and low.si >= saturation.low.si:
        yield low.fault(f"below the lowest current that carries a level, {saturation.low.text}", _FAILURE)
    if worst.si is not None and saturation.high.si is not None and worst.si <= saturation.high.si:
        yield worst.fault(f"above the highest current that carries a level, {saturation.high.text}", _FAILURE)


def _magnet(case: Case) -> Iterator[Fault]:
    plane, height = case.instrument.float_.magnet_plane_above_bottom, case.instrument.float_.height
    if plane.si is not None and height.si is not None and plane.si > height.si:
        yield plane.fault(f"at most the height of the float, {height.text}", "the magnet sits in the float")


def _datum(case: Case) -> Iterator[Fault]:
    if case.datum_error.si:
        why = "a known error is corrected in the reading and in the set-points; only its uncertainty stands here"
        yield case.datum_error.fault("0 mm, with its uncertainty", why)


def _foam(case: Case) -> Iterator[Fault]:
    if case.medium.foam.known and case.overfill.foam.state == "none":
        yield case.overfill.foam.fault(f"the height of the foam stated as medium.foam: {case.medium.foam.text}", "")


def _test_resistor(case: Case) -> Iterator[Fault]:
    test, whole = case.loop.test_resistor, case.loop.input_resistor
    if test.si is not None and whole.si is not None and test.si > whole.si:
        yield test.fault(f"at most the input resistor, {whole.text}", "it is counted as a part of it")


def _table(case: Case) -> Iterator[Fault]:
    if case.table.U.state == "none":
        yield case.table.U.fault("stated or unknown", "no table is without uncertainty")


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _span,
    _voltages,
    _ranges_in_order,
    _barrier_data,
    _bore,
    _magnet,
    _currents,
    _datum,
    _foam,
    _test_resistor,
    _table,
)
