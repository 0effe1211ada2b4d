"""Checks of what touches safety as stated: hazardous area, circuit, alarms, filling, safety function."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from onedatum.case.clock import is_clock
from onedatum.case.leaf import Leaf, Value
from onedatum.case.model import Case
from onedatum.case.model.circuit import ISOLATOR, NO_BARRIER, SHUNT_DIODE, YES
from onedatum.case.model.hazard import PLASTIC
from onedatum.case.model.safety import Subsystem
from onedatum.foundation.errors import Fault

_WHY_NOT_NONE = {"pressure.operating": "open to the atmosphere is 0 bar(g)"}
GASES, DUSTS = ("0", "1", "2"), ("20", "21", "22")


def safety_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in what touches safety."""
    for check in _CHECKS:
        yield from check(case)


def _group(case: Case) -> Iterator[Fault]:
    """A zone has a group of its own kind."""
    zone = case.zone
    zones = [leaf.word for leaf in (zone.inside, zone.at_head) if leaf.word not in ("", "none")]
    if not zones:
        return
    for leaf, what in ((zone.group, "group"), (zone.temperature_class, "temperature class")):
        if "none" in (leaf.state, leaf.word):
            yield leaf.fault("stated where a zone is stated, or unknown", f"every zone {zones[0]} has a {what}")
    kinds = {"gas" if word in GASES else "dust" for word in zones}
    group = "dust" if zone.group.word.startswith("III") else "gas"
    if zone.group.word not in ("", "none") and group not in kinds:
        yield zone.group.fault(f"a {'gas' if group == 'dust' else 'dust'} group", f"zone {zones[0]} is none of {group}")


def _not_none(case: Case) -> Iterator[Fault]:
    """What every zone, circuit, filling and subsystem has; absence makes no sense of it."""
    zone, source = case.zone, case.circuit.source
    needed: list[Leaf] = []
    if any(leaf.word not in ("", "none") for leaf in (zone.inside, zone.at_head)):
        needed += [zone.gas_space, zone.assessment, case.instrument.protection.type]
        if case.loop.barrier.kind.word in (SHUNT_DIODE, ISOLATOR):
            needed += [source.sources, source.characteristic, case.circuit.devices]
    if zone.inside.word not in ("", "none"):
        charge = case.charge
        needed += [case.filling.inlet, case.pressure.operating]
        needed += [charge.float_surface, charge.float_bonded, charge.strong_charging]
        needed += [charge.core_earthed] if charge.layer.si else []
    if case.overfill.CH.known:
        needed += [case.overfill.filling_stopped_by, case.loop.receiver.acts_on_failure_currents]
    if case.safety.subsystems.items:
        needed.append(case.safety.demand)
    for each in case.safety.subsystems.items:
        needed += [each.architecture, each.place]
    for leaf in needed:
        if leaf.state == "none":
            yield leaf.fault("stated, or unknown", _WHY_NOT_NONE.get(leaf.path, "it cannot be left out here"))


def _barrier(case: Case) -> Iterator[Fault]:
    """What only one kind of barrier has."""
    barrier = case.loop.barrier
    for leaf, kind in (
        (barrier.diode_drop, SHUNT_DIODE),
        (barrier.working_voltage_max, SHUNT_DIODE),
        (barrier.load_max, ISOLATOR),
        (barrier.passes_hart, ISOLATOR),
    ):
        stated = NO_BARRIER if barrier.kind.state == "none" else barrier.kind.word
        if leaf.known and stated not in ("", kind):
            yield leaf.fault("left away", f"only a {kind} has it, not: {stated}" if stated != "none" else "no barrier")


def _isolator(case: Case) -> Iterator[Fault]:
    """An isolator gives no more under load than without."""
    loaded, open_ = case.loop.barrier.voltage_at_its_terminals, case.loop.barrier.voltage_open_circuit
    if loaded.si is not None and open_.si is not None and loaded.si > open_.si:
        yield loaded.fault(f"at most the open-circuit voltage, {open_.text}", "a load takes voltage, it gives none")


def _receiver(case: Case) -> Iterator[Fault]:
    """The currents a receiver takes for a failure lie outside the measurement information."""
    receiver, information = case.loop.receiver, case.range.saturation
    why = "a current that carries a level must not read as a failure"
    low, high = receiver.failure_low, receiver.failure_high
    if low.si is not None and information.low.si is not None and low.si >= information.low.si:
        yield low.fault(f"below the lowest current that carries a level, {information.low.text}", why)
    if high.si is not None and information.high.si is not None and high.si <= information.high.si:
        yield high.fault(f"above the highest current that carries a level, {information.high.text}", why)


def _alarms_in_order(case: Case) -> Iterator[Fault]:
    """LL, L, H, HH, AOPS and CH rise in this order."""
    points = case.overfill.set_points
    names = ("LL", "L", "H", "HH", "AOPS", "CH")
    leaves = (points.LL, points.L, points.H, points.HH, points.AOPS, case.overfill.CH)
    stated = [(name, leaf) for name, leaf in zip(names, leaves, strict=True) if leaf.si is not None]
    for (below, low), (name, high) in pairwise(stated):
        if (low.si or 0.0) >= (high.si or 0.0):
            yield high.fault(
                f"above {below}, {low.text}", f"alarms rise in the order {', '.join(names)}: {name} is next"
            )


def _response_once(case: Case) -> Iterator[Fault]:
    parts = [leaf for leaf in case.overfill.response_parts.leaves() if leaf.known]
    if case.overfill.response.known and parts:
        yield parts[0].fault("left away beside overfill.response", "one response time, as a whole or by its parts")


def rate_faults(case: Case) -> Iterator[Fault]:
    """A filling rate now above the highest one, for which every set-point is made."""
    now, most = case.overfill.fill_rate_now, case.overfill.fill_rate_max
    if now.si is not None and most.si is not None and now.si > most.si:
        yield now.fault(f"at most the highest filling rate, {most.text}", "every set-point rests on the highest rate")


def _start_rate(case: Case) -> Iterator[Fault]:
    """A filling that starts faster than it goes on."""
    start, most = case.filling.start_rate, case.overfill.fill_rate_max
    if start.si is not None and most.si is not None and start.si > most.si:
        yield start.fault(f"at most the highest filling rate, {most.text}", "it is one of the rates of this filling")


def clock_faults(case: Case) -> Iterator[Fault]:
    """A time of day that is none."""
    clock = case.overfill.clock
    if clock.known and not is_clock(clock.text):
        yield clock.fault("a time of day as hours and minutes, for example 14:30", "the forecast counts from it")


def _charge(case: Case) -> Iterator[Fault]:
    charge = case.charge
    if charge.layer.state == "none" or charge.layer.si == 0.0:
        for leaf in (charge.layer_diameter, charge.layer_length, charge.layer_breakdown, charge.core_earthed):
            if leaf.known:
                yield leaf.fault("left away where there is no layer", "nothing would be judged by it")
    if charge.float_surface.word == PLASTIC and charge.float_bonded.word == YES:
        yield charge.float_bonded.fault("no", "plastic cannot be bonded")


def _subsystems(case: Case) -> Iterator[Fault]:
    for each in case.safety.subsystems.items:
        yield from _subsystem(each)


def _subsystem(each: Subsystem) -> Iterator[Fault]:
    renewal, interval = each.renewal_interval, each.proof_test_interval
    if renewal.si is not None and interval.si is not None and renewal.si < interval.si:
        yield renewal.fault(f"at least the proof test interval, {interval.text}", "renewal finds what no test finds")
    needed: tuple[tuple[Value, str], ...] = ((each.beta, "beta"), (each.beta_detected, "beta_detected"))
    for leaf, name in needed:
        if each.architecture.word == "1oo1" and leaf.known and leaf.si:
            yield leaf.fault("left away with 1oo1", f"one channel has no {name}: nothing fails in common with it")


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _group,
    _not_none,
    _barrier,
    _isolator,
    _receiver,
    _alarms_in_order,
    _response_once,
    rate_faults,
    _start_rate,
    clock_faults,
    _charge,
    _subsystems,
)
