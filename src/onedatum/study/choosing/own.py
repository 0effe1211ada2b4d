"""Instruments whose figures the user brings: each judged for itself, by its own temperatures, pressure and length."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from onedatum.case.leaf import Value
from onedatum.case.model.choosing import OwnInstrument
from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.working import Entry
from onedatum.physics.screening import pressure_ratio
from onedatum.study.acting import gauge_of
from onedatum.study.apart import HEIGHTS, TEMPERATURES
from onedatum.study.choosing.bench import Bench
from onedatum.study.choosing.numbers import fact_of_entries
from onedatum.study.choosing.place_numbers import ambient
from onedatum.study.choosing.pressures import acting_in
from onedatum.study.choosing.principle import BYPASS, CAPACITIVES, MAGNETOSTRICTIVE
from onedatum.study.choosing.site import Site
from onedatum.study.desk import Desk
from onedatum.verdicts.rules import JOINS, OF_OWN, Facts, PrincipleVerdict, RuleBase, principle_verdict

LENGTHS: Mapping[str, str] = {
    MAGNETOSTRICTIVE: "stem.length",
    BYPASS: "taps.distance",
    **dict.fromkeys(CAPACITIVES, "probe.length"),
    "radar": "radar.range",
    "guided-radar": "radar.range",
    "ultrasonic": "radar.range",
    "displacer": "head.span",
}
"""What the longest length of an instrument is taken against, by principle."""


class Own(NamedTuple):
    """What is said of one instrument."""

    name: str
    verdict: PrincipleVerdict


def own_instruments(desk: Desk, site: Site, told: Sequence[tuple[Bench, Facts]]) -> tuple[Own, ...]:
    """Judge every instrument that the user brings; a row that cannot be judged is a fault at its place."""
    if not site.instruments:
        return ()
    base, found = _with_own_rules(site.base), list[Own]()
    for row, faults in own_rows(site.instruments):
        desk.faults.extend(faults)
        if row.name.known and row.principle.known and not faults and told:
            states = [_with_figures(bench, facts, row) for bench, facts in told]
            found.append(Own(row.name.text, principle_verdict(base, row.principle.word, states)))
    return tuple(found)


def _with_own_rules(base: RuleBase) -> RuleBase:
    """The rules with those that hold an instrument to its own figures."""
    return base.with_rules([replace(rule, effect=JOINS) for rule in base.rules if rule.effect == OF_OWN])


# ---------------------------------------------------------------- rows that cannot be


def own_rows(rows: Iterable[OwnInstrument]) -> Iterator[tuple[OwnInstrument, tuple[Fault, ...]]]:
    """Each instrument with what is wrong with its row."""
    names = set[str]()
    for row in rows:
        yield row, tuple(_faults(row, names))
        names.add(row.name.text)


def _faults(row: OwnInstrument, names: set[str]) -> Iterator[Fault]:
    if _place(row) is None:
        return  # nothing stands in it: the reader has told it at its place
    for leaf, what in ((row.name, "the name of the instrument"), (row.principle, "the principle that it measures by")):
        if not leaf.known and leaf.state != "faulty":
            yield Fault(leaf.path, what, leaf.text or "nothing", "no verdict can be given without it", _place(row))
    if row.name.known and row.name.text in names:
        yield row.name.fault("a name that no other instrument has", "the verdicts are told by these names")
    for low, high in ((row.temperature_min, row.temperature_max), (row.ambient_min, row.ambient_max)):
        if low.si is not None and high.si is not None and low.si >= high.si:
            yield low.fault(f"below the highest, {high.text}", "nothing lies between the two")


def _place(row: OwnInstrument) -> Place | None:
    """Where the row stands: at the first of its keys."""
    return min((leaf.place for leaf in row.leaves() if leaf.place is not None), default=None)


# ---------------------------------------------------------------- its figures against the state


def _with_figures(bench: Bench, facts: Facts, row: OwnInstrument) -> Facts:
    """The facts of a state with the margins of this instrument in the place of the build that the case states."""
    principle = row.principle.word
    margins = {name: fact_of_entries(entries) for name, entries in _margins(bench, facts, row)}
    told = facts.of_principle.get(principle, {})
    kept = {name: fact for name, fact in told.items() if not name.startswith("build.")}
    return replace(facts, of_principle={**facts.of_principle, principle: {**kept, **margins}})


def _margins(bench: Bench, facts: Facts, row: OwnInstrument) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    temperatures = [each.temperature for each in bench.conditions if each.temperature.known]
    hottest = max(temperatures, key=lambda entry: entry.value or 0.0, default=None)
    coldest = min(temperatures, key=lambda entry: entry.value or 0.0, default=None)
    yield from _between(
        bench, "build.temperature_margin", (row.temperature_min, row.temperature_max), (coldest, hottest)
    )
    air = ambient(bench, "low"), ambient(bench, "high")
    yield from _between(bench, "build.ambient_margin", (row.ambient_min, row.ambient_max), air)
    yield from _pressure(bench, row)
    yield from _length(bench, facts, row)


def _between(
    bench: Bench, name: str, limits: tuple[Value, Value], ends: tuple[Entry | None, Entry | None]
) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    """Both distances, of the coldest and of the hottest; one alone is enough to exclude, not to pass."""
    low, high = (bench.taken(limit) if limit.known else None for limit in limits)
    left = [
        number.entries[0]
        for limit, upper, lower in ((limits[0], ends[0], low), (limits[1], high, ends[1]))
        for number in bench.apart(f"{name}.{limit.path}", TEMPERATURES, upper, lower, at=bench.state)
    ]
    if len(left) == len(limits) or any((entry.value or 0.0) < 0.0 for entry in left):
        yield name, tuple(left)


def _pressure(bench: Bench, row: OwnInstrument) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    stated = row.pressure_max
    if not stated.known or (stated.suffix == "Pa_abs" and not bench.desk.case.site.atmospheric_pressure.known):
        return
    allowed = gauge_of(bench.desk, stated, f"{stated.path}.gauge", "highest pressure above the atmosphere")
    if allowed.value is None or allowed.value < 0.0:
        return
    name = f"build.pressure_margin.{stated.path}"
    for number in bench.number(
        name, pressure_ratio, (), bench.state, allowed_Pa_gauge=allowed, acting_Pa_gauge=acting_in(bench)
    ):
        yield "build.pressure_margin", number.entries
        if row.principle.word == BYPASS:
            yield "chamber.pressure_margin", number.entries


def _length(bench: Bench, facts: Facts, row: OwnInstrument) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    needed = facts.of(row.principle.word, LENGTHS.get(row.principle.word, "head.span"))
    if not row.length_max.known or not needed.known or row.principle.word not in LENGTHS:
        return
    name, longest = f"build.length_margin.{row.length_max.path}", bench.taken(row.length_max)
    for number in bench.apart(name, HEIGHTS, longest, bench.at_hand(needed.entry)):
        yield "build.length_margin", number.entries
