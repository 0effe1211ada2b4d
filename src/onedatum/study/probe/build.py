"""The build of a probe: its words with what they change, and whether temperature and pressure keep to its limits.

The weakest part decides. A limit that the case states comes before the usual one; a part without a figure has its limit
asked for, and it becomes a line of the order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from onedatum.case.builds import Build, build_of, least
from onedatum.case.leaf import Value, Word
from onedatum.case.model.liquid import ISOLATED, REMOVED
from onedatum.case.model.probe import BARE, BARE_TIP, COATED, YES
from onedatum.case.model.probe_build import ROD
from onedatum.foundation.working import Entry
from onedatum.study.acting import acting_pressures, gauge_of
from onedatum.study.apart import PRESSURES, TEMPERATURES
from onedatum.study.build_limits import limit_of
from onedatum.study.desk import Desk
from onedatum.study.pressure import absolute_pressures, pressure_of_state
from onedatum.study.probe.judged import apart, by_capacitance
from onedatum.study.sensitivity import half_width_under
from onedatum.study.temperatures import fitted_temperatures

SPOKEN_OF = "which limits the probe has"
HOT = "no part of the probe is too hot", "The medium is too hot for a part of the probe"
COLD = "no part of the probe is too cold", "The medium is too cold for a part of the probe"
VACUUM = "vacuum does not lift the coating off the core", "Vacuum lifts a coating that does not adhere to the core"


@dataclass(frozen=True)
class Parts:
    """The record of every part of the probe that bears something; None while its word is not known."""

    form: Build | None
    rod: Build | None
    earth: Build | None
    gland: Build | None
    coating: Build | None
    """By its material; None as well for one of which no figure is kept."""
    rest: tuple[Build, ...]
    coated: bool

    @property
    def chosen(self) -> tuple[Build, ...]:
        """Every record, in the order in which the sheet tells them."""
        parts = (self.form, self.rod, self.coating, self.earth, self.gland)
        return tuple(part for part in (*parts, *self.rest) if part is not None)


@dataclass(frozen=True)
class BuildLimits:
    """The words of the build, and the limits that bind; None where nothing is asked of an alternative."""

    chosen: tuple[Build, ...]
    temperature_max: Entry
    pressure_max: Entry
    length_max: Entry


def build_of_probe(desk: Desk) -> BuildLimits | None:
    """Choose the words and compare with what binds; None for an alternative of whose build nothing is said."""
    build = desk.case.probe.build
    spoken = any(leaf.known for leaf in build.leaves())
    if not (spoken or by_capacitance(desk)):
        desk.skip(*build.leaves())
        return None
    parts = _parts(desk, spoken)
    hottest = _limit(desk, build.temperature_max, "degC", _hot_parts(parts), lambda each: each.temperature_max_K)
    coldest = _limit(desk, build.temperature_min, "degC", (parts.rod,), lambda each: each.temperature_min_K)
    pressure = _pressure_limit(desk, parts)
    _temperatures(desk, hottest, coldest)
    _pressures(desk, pressure)
    _vacuum(desk, parts)
    length = _limit(desk, build.length_max, "m", _long_parts(parts), lambda each: each.length_max_m)
    return BuildLimits(parts.chosen, hottest, pressure, length)


# ---------------------------------------------------------------- words


def _parts(desk: Desk, spoken: bool) -> Parts:
    """The records by the words of the case; once the build is spoken of, every word of it is wanted."""
    probe = desk.case.probe
    rod, build = probe.rod.word, probe.build
    words: dict[str, Word] = {
        "probe gland": build.hot_neck,
        "probe guard": build.guard_section,
        "probe head": build.head,
    }
    found = {
        aspect: build_of(aspect, desk.word(leaf, SPOKEN_OF) if spoken else _read(desk, leaf))
        for aspect, leaf in words.items()
    }
    if any(leaf.known for leaf in probe.reference_section.leaves()):
        found["probe reference"] = build_of("probe reference", YES)
    material = probe.coating_material
    return Parts(
        form=build_of("probe form", desk.word(build.form, SPOKEN_OF)),
        rod=build_of("probe rod", rod),
        earth=build_of("probe earth", probe.earth.kind.word),
        gland=found.pop("probe gland"),
        coating=build_of("probe coating", material.text.strip()) if material.known and rod != BARE else None,
        rest=tuple(each for each in found.values() if each is not None),
        coated=rod in (COATED, BARE_TIP),
    )


def _read(desk: Desk, leaf: Word) -> str:
    desk.read.add(leaf.path)
    return leaf.word


def _hot_parts(parts: Parts) -> tuple[Build | None, ...]:
    """Gland, coating and spacers; of a rod that is not known nothing is known."""
    if parts.rod is None:
        return (None,)
    coating = (parts.coating,) if parts.coated else ()
    return (parts.gland, *coating, *_with_figure(parts.earth, lambda each: each.temperature_max_K))


def _long_parts(parts: Parts) -> tuple[Build | None, ...]:
    """The form, with spacers and a hot neck where they shorten a rod; a rope has no usual length."""
    form = parts.form if parts.form is not None and parts.form.length_max_m is not None else None
    hot = parts.gland if parts.form is not None and parts.form.word == ROD else None
    others = (part for part in (parts.earth, hot) if part is not None)
    return (form, *(part for part in others if part.length_max_m is not None))


def _with_figure(part: Build | None, figure: Callable[[Build], float | None]) -> tuple[Build, ...]:
    return () if part is None or figure(part) is None else (part,)


def _limit(
    desk: Desk, stated: Value, shown: str, parts: Sequence[Build | None], figure: Callable[[Build], float | None]
) -> Entry:
    """As stated; else the least figure, where every part has one; else it is to be ordered."""
    known = [part for part in parts if part is not None]
    binding = least(known, figure) if len(known) == len(parts) else None
    found = limit_of(desk, stated, binding, shown)
    if found is None:
        desk.want(stated, "whether every part of the probe bears it")
        return desk.take(stated, shown)
    return found


# ---------------------------------------------------------------- what acts


def _temperatures(desk: Desk, hottest: Entry, coldest: Entry) -> None:
    """The hottest and the coldest that the probe sees while it is fitted."""
    met = fitted_temperatures(desk)
    ends = desk.sheet.select("probe.hottest", "greatest", "highest temperature while the probe is fitted", met)
    apart(desk, "rod-hot", HOT, ends, "at most", hottest, "temperature left to the limit", TEMPERATURES)
    ends = desk.sheet.select("probe.coldest", "least", "lowest temperature while the probe is fitted", met)
    apart(desk, "rod-cold", COLD, ends, "at least", coldest, "temperature above the limit", TEMPERATURES)


def _pressure_limit(desk: Desk, parts: Parts) -> Entry:
    """The weakest of gland and coating, above the atmosphere."""
    stated = desk.case.probe.build.pressure_max
    if stated.known:
        return gauge_of(desk, stated, "probe.pressure_max", "highest pressure of the probe above the atmosphere")
    bearing = (parts.gland, parts.rod)
    return _limit(desk, stated, "bar(g)", bearing, lambda each: each.pressure_max_Pa_gauge)


def _pressures(desk: Desk, limit: Entry) -> None:
    for each in acting_pressures(desk, "the probe")[0]:
        words = (
            f"no part of the probe bears too much pressure in the state {each.state}",
            f"The pressure is too high for a part of the probe in the state {each.state}",
        )
        left = f"pressure left to the limit of the probe, {each.state}"
        apart(desk, f"rod-pressure[{each.state}]", words, each.pressure, "at most", limit, left, PRESSURES, True)


def _vacuum(desk: Desk, parts: Parts) -> None:
    """Below its lowest pressure a coating that does not adhere comes off the core."""
    stated, adheres = desk.case.probe.build.pressure_min, desk.case.probe.build.coating_adheres
    if not parts.coated:
        desk.skip(stated, adheres)
        return
    limit = _limit(desk, stated, "bar(a)", (parts.rod,), lambda each: each.pressure_min_Pa_abs)
    meaning = "lowest pressure above vacuum while the probe is fitted"
    lowest = desk.sheet.select("probe.lowest_pressure", "least", meaning, tuple(_above_vacuum(desk)))
    holds = None
    if lowest.value is not None and limit.value is not None:
        holds = lowest.value - half_width_under(lowest) >= limit.value
    waits = tuple(dict.fromkeys((*lowest.waits_for, *limit.waits_for)))
    desk.read.add(adheres.path)
    if holds is False and not stated.known:
        holds, waits = (adheres.word == YES, ()) if adheres.known else (None, (adheres.path,))
        desk.want(adheres, "whether vacuum lifts the coating")
    said = f"{limit.text}, or a coating that adheres"
    remark = not by_capacitance(desk)
    desk.judge("rod-vacuum", VACUUM, lowest.text, "at least", said, holds, waits_for=waits, remark=remark)


def _above_vacuum(desk: Desk) -> Iterator[Entry]:
    """Every pressure above vacuum while it is fitted, each once."""
    found = {entry.name: entry for entry in absolute_pressures(desk)}
    for state in desk.case.states:
        if state.instrument.word in (REMOVED, ISOLATED) or not state.pressure.known:
            continue
        entry = pressure_of_state(desk, state.name.text or "normal", state)
        if entry is not None:
            found[entry.name] = entry
    yield from found.values()
