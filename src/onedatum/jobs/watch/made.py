"""Out of a plan: the studies of its cases, a follower for every tag, a link to every device."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path

from onedatum.case.reading import Statement, read_case
from onedatum.foundation.errors import Fault, LogError
from onedatum.jobs.reading import for_sensors
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.follower import Alarm, Follower
from onedatum.logs.live.hart_port import HartPort
from onedatum.logs.live.levelling import Levelling
from onedatum.logs.live.link import Backoff, Link
from onedatum.logs.live.modbus import ModbusLine, ModbusPort
from onedatum.logs.live.opc_ua import OpcUaPort
from onedatum.logs.live.plan import ModbusSource, OpcUaSource, TagPlan, WatchPlan
from onedatum.logs.live.sample import Port
from onedatum.study.result import Study
from onedatum.study.study import study

LIBRARIES = ((ModbusSource, "pymodbus.client"), (OpcUaSource, "asyncua"))
PortOf = Callable[[TagPlan], Port]


@dataclass(frozen=True)
class Followed:
    """The followers by tag, what is to be said of their cases, and what is wrong in them."""

    followers: dict[str, Follower]
    remarks: tuple[str, ...]
    faults: tuple[Fault, ...]


def followed(plan: WatchPlan) -> Followed:
    """Read and work the cases; raises LogError where one cannot be watched."""
    wrong: list[Fault] = []
    faults: list[Fault] = []
    studied = cache(_studied)
    followers: dict[str, Follower] = {}
    remarks: list[str] = []
    tables: dict[tuple[Path, str], Levelling] = {}
    for each in plan.tags:
        statement, found = studied(each.case)
        if not statement.case.tag.text and statement.faults:
            wrong += statement.faults
            continue
        refused = _refused(each, found)
        if refused is not None:
            wrong.append(refused)
            continue
        faults += [fault for fault in statement.faults if fault not in faults]
        key = each.case, each.unit
        if key not in tables:
            tables[key] = Levelling(found, each.unit)
            tables[key].amount(0, 0.0)  # the first takes long; the first reading must not grow old by that
        levelling = tables[key]
        alarms, said = alarms_of(found)
        if each.case_tag and each.case_tag != each.tag:
            remarks.append(f"{each.tag}: read by the case of {each.case_tag}, as its case_tag states")
        remarks += [f"{each.tag}: {words}" for words in (*levelling.remarks, *said)]
        followers[each.tag] = Follower(each, levelling, plan.stale_after_s, plan.rate_over_s, alarms)
    if wrong:
        raise LogError(wrong)
    return Followed(followers, tuple(remarks), tuple(faults))


def _studied(path: Path) -> tuple[Statement, Study]:
    """A case and its study with the sensors."""
    statement = read_case(path)
    return statement, for_sensors(statement, study(statement))


def _refused(plan: TagPlan, found: Study) -> Fault | None:
    """Why a case cannot be watched under this tag."""
    path, own = f"tags.{plan.tag}.case", found.statement.case.tag.text
    if own != (plan.case_tag or plan.tag):
        why = "a signal must not be read by the range of another vessel"
        remedy = f"Where vessel, instrument and range are alike in all, state case_tag: {own}" if own else ""
        got = f"{plan.case}, the case of {own or 'no tag'}"
        return Fault(path, f"the case of {plan.case_tag or plan.tag}", got, why, remedy=remedy)
    ends = [found.value(f"range.{end} mA") for end in (4, 20)]
    if None in ends or ends[0] == ends[1]:
        why = "; ".join(map(str, found.statement.faults[:2])) or "no level follows from a signal without it"
        return Fault(path, "a case whose range is known", str(plan.case), why, remedy="State the range of the case")
    return None


def alarms_of(found: Study) -> tuple[tuple[Alarm, ...], tuple[str, ...]]:
    """HH and LL where they stand, and what is to be said of them."""
    over = found.safe.overfill
    if over is None:
        return (), ("nothing is held against overfilling: no HH to forecast",)
    alarms, said = [], []
    high = over.high_high.stands.value
    if high is None:
        said.append("where HH stands is not known: no forecast to it")
    else:
        is_set = over.high_high.as_set is not None
        alarms.append(Alarm("HH" if is_set else "HH at its highest", high, True))
        if not is_set:
            said.append("HH is not set: the forecast is to the highest place where it may stand")
    alarms += [Alarm(name, low.value, False) for name, low in over.others if name == "LL" and low.value is not None]
    return tuple(alarms), tuple(said)


def ports(plan: WatchPlan) -> PortOf:
    """Ports to the devices themselves; those of one line share it. Loads what they need: later that costs readings."""
    for kind, name in LIBRARIES:
        if any(isinstance(tag.source, kind) for tag in plan.tags):
            import_module(name)
    lines: dict[str, ModbusLine] = {}

    def made(tag: TagPlan) -> Port:
        source = tag.source
        if isinstance(source, ModbusSource):
            return ModbusPort(source, lines.setdefault(source.line, ModbusLine(source, tag.limit_s)))
        if isinstance(source, OpcUaSource):
            return OpcUaPort(source, tag.limit_s)
        return HartPort(source)

    return made


def links(plan: WatchPlan, port_of: PortOf, clock: OwnClock) -> list[Link]:
    """A link for every tag; tags of one line take turns."""
    turns: dict[str, asyncio.Lock] = {}
    found = []
    for tag in plan.tags:
        port = port_of(tag)
        turn = turns.setdefault(port.line, asyncio.Lock())
        most_s = max(2.0 * plan.stale_after_s, 2.0 * plan.every_s, 2.0)
        found.append(Link(tag.tag, port, clock, tag.limit_s, turn, Backoff(min(plan.every_s, 1.0), min(most_s, 30.0))))
    return found
