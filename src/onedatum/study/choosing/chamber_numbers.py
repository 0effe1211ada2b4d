"""Numbers of a bypass chamber: what its warmth makes of the level, what it lags, what it bears."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.liquid import BOILING_WATER
from onedatum.foundation.working import Entry
from onedatum.physics.magnetostrictive import expanded_reading_m
from onedatum.physics.screening import field_ratio, pressure_ratio, ramp_lag_m
from onedatum.physics.taps import level_error_m
from onedatum.study.apart import TEMPERATURES
from onedatum.study.chamber import ChamberChapter
from onedatum.study.chamber.column import Standing
from onedatum.study.choosing.bench import Bench, Number, given, one
from onedatum.study.choosing.pressures import acting_in
from onedatum.study.choosing.principle import BYPASS
from onedatum.verdicts import COVERAGE

HOLDS = (BYPASS,)


def chamber_numbers(bench: Bench) -> Iterator[Number]:
    """All of them; nothing where the case speaks of no chamber."""
    chamber = bench.measuring.chamber
    if chamber is None:
        return
    yield from given("taps.distance", one(chamber.taps.distance if chamber.taps.distance.known else None), HOLDS)
    names = {each.name for each in bench.conditions}
    standings = [each for each in chamber.standings if each.state in names]
    yield from _density(bench, chamber, standings)
    yield from _corrected(bench, chamber)
    yield from _lag(bench, chamber)
    yield from _boiling(bench, standings)
    yield from _bears(bench, standings)
    yield from _field(bench, standings)


def _density(bench: Bench, chamber: ChamberChapter, standings: list[Standing]) -> Iterator[Number]:
    """At the upper end of the range, where the difference of the two columns is greatest."""
    top, shares = chamber.rows[-1].above, []
    for each in standings:
        error = _error_at(bench, each, top)
        shares += [
            entry for number in bench.share("chamber.density_share", error, at=each.state) for entry in number.entries
        ]
    if len(shares) == len(standings):
        yield from given("chamber.density_share", shares, HOLDS)
        yield from given("density.error_share", shares, HOLDS)


def _error_at(bench: Bench, standing: Standing, top: Entry) -> Entry | None:
    if not top.known:
        return None
    name = f"choosing.chamber.level[{standing.state}]"
    sheet = bench.desk.sheet
    level = (
        sheet[name]
        if name in sheet
        else standing.chamber_level(
            bench.desk, name, top, f"level in the chamber, vessel at the end of the range, {standing.state}"
        )
    )
    meaning = "level in the chamber less that in the vessel, at the end of the range"
    return bench.work(
        "chamber.error", level_error_m, standing.state, meaning, shown_m=level if level.known else None, level_m=top
    )


def _corrected(bench: Bench, chamber: ChamberChapter) -> Iterator[Number]:
    """What is left once pressure and temperature of the chamber are measured as well as the case says."""
    if chamber.standard is None:
        return
    factor = bench.desk.constant("choosing.coverage_factor", COVERAGE, "", "coverage factor", source="jcgm-100: 6.3.3")
    left = bench.work(
        "chamber.corrected",
        expanded_reading_m,
        "",
        "expanded uncertainty of the level by the temperature of the chamber",
        standard_m=chamber.standard,
        coverage_factor=factor,
    )
    yield from bench.share("chamber.corrected_share", left, HOLDS)


def _lag(bench: Bench, chamber: ChamberChapter) -> Iterator[Number]:
    """At the fastest change stated of the chamber, with its friction; else by its time constant."""
    if chamber.lag is None:
        return
    lag = chamber.lag.lag
    if lag is None:
        rate = bench.answer("rate.level", "high")
        lag = bench.work(
            "chamber.lag", ramp_lag_m, "", "lag of the chamber", time_s=chamber.lag.time, rate_m_per_s=rate
        )
    yield from bench.share("chamber.lag_share", lag if lag is not None and lag.known else None, HOLDS)


def _boiling(bench: Bench, standings: list[Standing]) -> Iterator[Number]:
    """Of boiling water: the vessel is at its boiling point, the chamber as cool as it stands."""
    if bench.desk.case.medium.kind.word != BOILING_WATER:
        return
    for each in standings:
        boils, stands = each.condition.temperature, each.temperature
        yield from bench.apart("chamber.boiling_margin", TEMPERATURES, boils, stands, HOLDS, each.state)


def _bears(bench: Bench, standings: list[Standing]) -> Iterator[Number]:
    """Its rating, where it is stated for a temperature that no state exceeds."""
    stated = bench.desk.case.chamber
    rating, rated = bench.taken(stated.pressure_rating), bench.taken(stated.rating_temperature)
    hottest = [each.condition.temperature.value for each in standings]
    if rating is None or rated is None or rated.value is None or rating.suffix != "Pa_gauge":
        return
    if any(value is None or value > rated.value for value in hottest):
        return
    acts = acting_in(bench)
    yield from bench.number(
        "chamber.pressure_margin", pressure_ratio, HOLDS, bench.state, allowed_Pa_gauge=rating, acting_Pa_gauge=acts
    )


def _field(bench: Bench, standings: list[Standing]) -> Iterator[Number]:
    """At the stem outside, over the least that its maker states."""
    least = bench.taken(bench.desk.case.instrument.magnet.least_field)
    wall = bench.taken(bench.desk.case.chamber.relative_permeability)
    yield from given("chamber.permeability", one(wall), HOLDS)
    if least is None or bench.measuring.outside is None:
        return
    for each in standings:
        field = bench.at_hand(f"magnet.strength_far[{each.state}]") or bench.at_hand(f"magnet.strength[{each.state}]")
        yield from bench.number("chamber.field_margin", field_ratio, HOLDS, each.state, field_T=field, least_T=least)
