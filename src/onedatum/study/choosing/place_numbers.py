"""Numbers of place and range: what is allowed against span and distance, ways through the gas, heights, warmth."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.physics.screening import (
    cells_temperature_K,
    foam_reserve_m,
    gas_path_error_m,
    half_layer_share,
    length_share,
    sound_path_error_m,
    uncovered_m,
)
from onedatum.study.apart import HEIGHTS, TEMPERATURES
from onedatum.study.choosing.bench import Bench, End, Number, given, one
from onedatum.study.choosing.levels import highest_wanted, lowest_wanted, sealing_face, span
from onedatum.study.choosing.medium_numbers import gas_permittivity_end
from onedatum.study.choosing.principle import BYPASS


def place_numbers(bench: Bench) -> Iterator[Number]:
    """All of them."""
    for part in (_span, _distance, _layers, _heights, _warmth, _covered):
        yield from part(bench)


def _span(bench: Bench) -> Iterator[Number]:
    yield from given("head.span", one(span(bench)))
    yield from bench.number("error.allowed_percent", length_share, part_m=bench.allowed, whole_m=span(bench))


def _distance(bench: Bench) -> Iterator[Number]:
    """From the face to the lowest level: what waves must cross."""
    yield from bench.apart("radar.range", HEIGHTS, sealing_face(bench), lowest_wanted(bench))
    distance = bench.at_hand("choosing.radar.range")
    if distance is None or (distance.value or 0.0) <= 0.0:
        return
    yield from bench.number("error.distance_percent", length_share, part_m=bench.allowed, whole_m=distance)
    by_gas = bench.work(
        "radar.path_error",
        gas_path_error_m,
        bench.state,
        "way that the gas adds, at its greatest permittivity",
        gas_permittivity=gas_permittivity_end(bench),
        distance_m=distance,
    )
    yield from bench.share("radar.path_share", by_gas, at=bench.state)
    by_warmth = bench.work(
        "sound.path_error",
        sound_path_error_m,
        "",
        "error of the way of sound by warmth of the gas",
        temperature_difference_K=bench.answer("temperature.gas_difference", "high"),
        distance_m=distance,
    )
    yield from bench.share("sound.gradient_share", by_warmth)


def _layers(bench: Bench) -> Iterator[Number]:
    """Half of a mixed layer between two liquids; a layer settled on the bottom; foam above the alarm."""
    yield from bench.number(
        "interface.emulsion_share",
        half_layer_share,
        layer_m=bench.answer("interface.emulsion", "high"),
        allowed_m=bench.allowed,
    )
    settled = bench.answer("solids.settled_height", "high")
    yield from bench.apart("settled.range_margin", HEIGHTS, bench.at_hand("range.low"), settled)
    yield from bench.number(
        "foam.reserve",
        foam_reserve_m,
        critical_high_m=bench.taken(bench.desk.case.overfill.CH) if bench.desk.case.overfill.CH.known else None,
        alarm_m=alarm_high(bench),
        foam_m=bench.answer("foam.height", "high"),
    )


def alarm_high(bench: Bench) -> Entry | None:
    """Where the high-high alarm stands: as set, else at its highest place."""
    alarm = bench.desk.case.overfill.set_points.HH
    return bench.taken(alarm) if alarm.known else bench.at_hand("overfill.high_high")


def _heights(bench: Bench) -> Iterator[Number]:
    """Room between critical high and the alarm, whatever measures."""
    critical = bench.desk.case.overfill.CH
    above = bench.taken(critical) if critical.known else None
    yield from bench.apart("alarm.high_to_critical", HEIGHTS, above, alarm_high(bench))


# ---------------------------------------------------------------- warmth


def _warmth(bench: Bench) -> Iterator[Number]:
    hottest = max(bench.conditions, key=lambda each: each.temperature.value or 0.0).temperature
    cells = bench.work(
        "cells.temperature",
        cells_temperature_K,
        bench.state,
        process_K=hottest if hottest.known else None,
        ambient_K=ambient(bench, "high"),
    )
    yield from given("cells.temperature", one(cells))
    sets, cold = bench.answer("temperature.setting", "high"), ambient(bench, "low")
    yield from bench.apart("chamber.setting_margin", TEMPERATURES, cold, sets, (BYPASS,))


def ambient(bench: Bench, end: End) -> Entry | None:
    """The coldest or the hottest air that is stated."""
    zone, site = bench.desk.case.zone, bench.desk.case.site
    known = [leaf for leaf in (zone.ambient_min, site.ambient_temperature, zone.ambient_max) if leaf.si is not None]
    if not known:
        return None

    def at(leaf: Value) -> float:
        edge = leaf.low if end == "low" else leaf.high
        return edge if edge is not None else leaf.si or 0.0

    return bench.taken(min(known, key=at) if end == "low" else max(known, key=at), end)


# ---------------------------------------------------------------- what is covered


def _covered(bench: Bench) -> Iterator[Number]:
    """What the instrument of the case measures against what is wanted."""
    reach = bench.measuring.reach
    if not bench.principle:
        return
    yield from bench.number(
        "range.uncovered",
        uncovered_m,
        (bench.principle,),
        measurable_low_m=reach.lowest,
        measurable_high_m=reach.highest,
        lowest_m=lowest_wanted(bench),
        highest_m=highest_wanted(bench),
    )
    alarm_high_ = highest_wanted(bench)
    yield from bench.apart("alarm.high_to_range", HEIGHTS, reach.highest, alarm_high_, (bench.principle,))
    low = bench.desk.case.overfill.set_points.LL
    below = bench.taken(low) if low.known else None
    yield from bench.apart("alarm.low_to_range", HEIGHTS, below, reach.lowest, (bench.principle,))
