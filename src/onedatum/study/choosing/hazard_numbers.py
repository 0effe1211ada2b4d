"""Numbers of the hazardous area and of the limits of the build that the case states."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from onedatum.case.leaf import Word
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import class_limit_K
from onedatum.physics.screening import area_share, length_share, pressure_ratio, surface_share
from onedatum.study.apart import SHARES, TEMPERATURES
from onedatum.study.choosing.bench import LEAST, Bench, Number, given, one
from onedatum.study.choosing.place_numbers import ambient
from onedatum.study.choosing.pressures import acting_in
from onedatum.study.choosing.principle import probe_principle

STEPS: Mapping[str, tuple[str, int]] = {
    "0": ("gas", 3),
    "1": ("gas", 2),
    "2": ("gas", 1),
    "20": ("dust", 3),
    "21": ("dust", 2),
    "22": ("dust", 1),
    "Ga": ("gas", 3),
    "Gb": ("gas", 2),
    "Gc": ("gas", 1),
    "Da": ("dust", 3),
    "Db": ("dust", 2),
    "Dc": ("dust", 1),
    "IIA": ("gas", 1),
    "IIB": ("gas", 2),
    "IIC": ("gas", 3),
    "IIIA": ("dust", 1),
    "IIIB": ("dust", 2),
    "IIIC": ("dust", 3),
}
"""Kind of what can explode, and steps: what a zone asks, what a level of protection gives, how demanding a group is."""

COLDEST_IGNITION_K = 274.0
"""Below it a share in degrees Celsius means nothing."""


def hazard_numbers(bench: Bench) -> Iterator[Number]:
    """All of them."""
    yield from _surface(bench)
    if bench.principle:
        for part in (_levels, _class, _build):
            yield from part(bench)
    yield from _layers(bench)


# ---------------------------------------------------------------- what ignites


def _surface(bench: Bench) -> Iterator[Number]:
    """The hottest content against the lowest ignition temperature at hand."""
    ignites = ignition(bench)
    yield from given("ignition.temperature", one(ignites))
    hottest = max((each.temperature for each in bench.conditions), key=lambda entry: entry.value or 0.0)
    surface = hottest if hottest.known else None
    yield from bench.apart("ex.surface_margin", TEMPERATURES, ignites, surface, at=bench.state)
    if ignites is not None and (ignites.value or 0.0) > COLDEST_IGNITION_K:
        yield from bench.number(
            "ex.surface_percent", surface_share, (), bench.state, ignition_temperature_K=ignites, surface_K=surface
        )


def ignition(bench: Bench) -> Entry | None:
    """The lowest ignition temperature at hand: stated, or of the substance."""
    return bench.at_hand("zone.ignition_temperature_least") or bench.taken(bench.desk.case.zone.ignition_temperature)


# ---------------------------------------------------------------- what the instrument of the case has


def _levels(bench: Bench) -> Iterator[Number]:
    has, zone = bench.desk.case.instrument.protection, bench.desk.case.zone
    for name, given_, asked in (
        ("ex.epl_margin_wetted", has.epl_inside, zone.inside),
        ("ex.epl_margin_head", has.epl_at_head, zone.at_head),
        ("ex.group_margin", has.group, zone.group),
    ):
        pair = _steps(bench, given_), _steps(bench, asked)
        if pair[0] is not None and pair[1] is not None and STEPS[given_.word][0] == STEPS[asked.word][0]:
            yield from bench.apart(name, SHARES, *pair, (bench.principle,))


def _steps(bench: Bench, leaf: Word) -> Entry | None:
    if not leaf.known or leaf.word not in STEPS:
        return None
    return bench.desk.constant(
        f"choosing.steps[{leaf.word}]",
        float(STEPS[leaf.word][1]),
        "",
        f"step that {leaf.word} stands at, of three",
        source="iec-60079-26-memory",
    )


def _class(bench: Bench) -> Iterator[Number]:
    word, ignites = bench.desk.case.instrument.protection.temperature_class, ignition(bench)
    if not word.known or ignites is None:
        return
    limit = bench.desk.constant(
        f"choosing.class_limit[{word.word}]",
        class_limit_K(word.word),
        "K",
        f"highest surface temperature of {word.word}",
        shown="degC",
        source="iec-60079-0: maximum surface temperature by class",
    )
    yield from bench.apart("ex.class_margin", TEMPERATURES, ignites, limit, (bench.principle,))


def _build(bench: Bench) -> Iterator[Number]:
    """Against the limits that the case states, never against usual ones; one alone can exclude, not pass."""
    build, holds = bench.desk.case.instrument.build, (bench.principle,)
    stated = [name for name, leaf in (("hot", build.temperature_max), ("cold", build.temperature_min)) if leaf.known]
    margins = [entry for name in stated for entry in bench.by_condition(f"build.{name}_margin")]
    if margins and (len(stated) > 1 or any((entry.value or 0.0) < 0.0 for entry in margins)):
        yield Number("build.temperature_margin", tuple(margins), holds)
    yield from _ambient(bench, holds)
    bears = bench.taken(build.pressure_max)
    if bears is not None and bears.suffix == "Pa_gauge" and build.pressure_max.known:
        yield from bench.number(
            "build.pressure_margin",
            pressure_ratio,
            holds,
            bench.state,
            allowed_Pa_gauge=bears,
            acting_Pa_gauge=acting_in(bench),
        )


def _ambient(bench: Bench, holds: tuple[str, ...]) -> Iterator[Number]:
    has = bench.desk.case.instrument.protection
    if not (has.ambient_min.known and has.ambient_max.known):
        return
    left = [
        number.entries[0]
        for part, upper, lower in (
            ("hot", bench.taken(has.ambient_max), ambient(bench, "high")),
            ("cold", ambient(bench, "low"), bench.taken(has.ambient_min)),
        )
        for number in bench.apart("build.ambient_margin", TEMPERATURES, upper, lower, at=part)
    ]
    if len(left) > 1:
        yield Number("build.ambient_margin", tuple(left), holds)


# ---------------------------------------------------------------- layers that hold charge


def _layers(bench: Bench) -> Iterator[Number]:
    """The coating of the probe, and the layer on the stem, each for its own principle."""
    case, at_hand = bench.desk.case, bench.at_hand
    if bench.measuring.probe is not None:
        wide = at_hand(case.probe.coating_diameter.path)
        coating = _Layer(at_hand("probe.projected_area"), wide, at_hand("probe.coating_thickness"))
        yield from _layer(bench, "probe", coating, (probe_principle(bench.desk),))
    if bench.measuring.stem is not None and bench.principle:
        wide = at_hand(case.charge.layer_diameter.path)
        sleeve = _Layer(at_hand("charge.projected_area"), wide, at_hand(case.charge.layer.path))
        yield from _layer(bench, "stem", sleeve, (bench.principle,))


class _Layer(NamedTuple):
    """What is known of a layer."""

    area: Entry | None
    width: Entry | None
    thickness: Entry | None


def _layer(bench: Bench, on: str, layer: _Layer, holds: tuple[str, ...]) -> Iterator[Number]:
    """Thickness over its limit; the lesser of area and width over theirs, for zone and group."""
    most = {which: bench.at_hand(f"charge.largest_{which}") for which in ("area", "width", "layer")}
    yield from bench.number(
        "static.layer_share", length_share, holds, on, part_m=layer.thickness, whole_m=most["layer"]
    )
    meaning = "area of the layer over its limit"
    by_area = bench.work("static.by_area", area_share, on, meaning, area_m2=layer.area, limit_m2=most["area"])
    meaning = "width of the layer over its limit"
    by_width = bench.work("static.by_width", length_share, on, meaning, part_m=layer.width, whole_m=most["width"])
    if by_area is not None and by_width is not None:
        meaning = f"lesser of area and width over their limits, {on}"
        least = bench.end_of(f"static.area_share[{on}]", LEAST, meaning, [by_area, by_width])
        yield from given("static.area_share", one(least), holds)
