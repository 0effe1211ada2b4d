"""Numbers of a capacitive probe as stated, and of the frequency that it works at."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.probe import BY_ROD
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    bare_length_m,
    crossover_conductivity_S_per_m,
    film_depth_m,
    film_greatest_m,
    film_resistance_ohm_per_m,
    loss_tangent_ratio,
)
from onedatum.physics.mechanics import insertion_headroom_m, mechanics_rules
from onedatum.physics.screening import (
    capacitance_error_m,
    length_share,
    pair_gap_m,
    pair_width_m,
    regime_deficit_share,
    span_capacitance_F,
)
from onedatum.study.apart import HEIGHTS
from onedatum.study.choosing.bench import GREATEST, LEAST, Bench, Number, given, one
from onedatum.study.choosing.levels import span
from onedatum.study.choosing.medium_numbers import permittivity_end
from onedatum.study.choosing.principle import CAPACITIVES, probe_principle
from onedatum.study.probe import ProbeChapter
from onedatum.study.probe.chapter import highest


def probe_numbers(bench: Bench) -> Iterator[Number]:
    """All of them; those of the rod for the principle of the probe that is stated alone."""
    yield from _loss(bench)
    probe = bench.measuring.probe
    if probe is None or not probe.section.known:
        return
    holds = (probe_principle(bench.desk),)
    for part in (_regime, _span, _film, _deposit, _lengths, _pair):
        yield from part(bench, probe, holds)


def _loss(bench: Bench) -> Iterator[Number]:
    """Of the liquid at the working frequency, whatever rod stands in it."""
    crossover = bench.work(
        "probe.crossover",
        crossover_conductivity_S_per_m,
        "",
        "conductivity at which as much leaks as is displaced",
        frequency_Hz=bench.taken(bench.desk.case.probe.frequency),
        relative_permittivity=permittivity_end(bench, LEAST),
    )
    yield from bench.number(
        "probe.loss_tangent",
        loss_tangent_ratio,
        CAPACITIVES,
        conductivity_S_per_m=bench.taken(bench.desk.case.medium.conductivity, "high"),
        crossover_S_per_m=crossover,
    )


# ---------------------------------------------------------------- how the liquid acts


def _regime(bench: Bench, probe: ProbeChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    """At the end of everything stated of the liquid at which a coated rod holds least."""
    insulation = probe.section.insulation
    if insulation is None:
        return
    acting = _corners(bench, ("probe", "probe.conductivity_least", "probe.conductivity_greatest"))
    every = _corners(bench, tuple(name.removesuffix(".still") for name in bench.desk.sheet.entries if _is_corner(name)))
    meaning = "least capacitance per length, wetted, over all that is stated of the liquid"
    least = bench.end_of("probe.wet_least", LEAST, meaning, every)
    yield from bench.number(
        "probe.regime_deficit",
        regime_deficit_share,
        holds,
        coating_F_per_m=insulation if insulation.known else None,
        wet_F_per_m=least,
    )
    meaning = "capacitance per length, wetted, over the conductivity stated"
    low, high = (
        bench.end_of(f"probe.conducting_{which}", which, f"{which} {meaning}", acting) for which in (LEAST, GREATEST)
    )
    spread = bench.work(
        "probe.regime_spread",
        capacitance_error_m,
        "",
        "change of the level shown over the conductivity stated",
        greatest_F_per_m=high,
        least_F_per_m=low,
        sensitivity_F_per_m=_felt(probe),
        level_m=highest(probe.rows).wetted,
    )
    yield from bench.share("probe.regime_spread_share", spread, holds)


def _is_corner(name: str) -> bool:
    return name.startswith("probe.") and name.endswith(".still")


def _corners(bench: Bench, keys: tuple[str, ...]) -> list[Entry]:
    """The capacitance per wetted length at every corner that was worked, before any loss is taken off."""
    sheet = bench.desk.sheet.entries
    found = [sheet.get(f"{key}.acting") or sheet.get(f"{key}.wet") for key in keys]
    return [entry for entry in found if entry is not None]


def _felt(probe: ProbeChapter) -> Entry | None:
    """The change of capacitance per length, where the probe feels the level at all."""
    return probe.slope if (probe.slope.value or 0.0) > 0.0 else None


def _span(bench: Bench, probe: ProbeChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    yield from bench.number(
        "probe.span_capacitance",
        span_capacitance_F,
        holds,
        sensitivity_F_per_m=probe.slope,
        span_m=span(bench),
    )
    yield from given("probe.standing_wave_error", one(probe.wave if probe.wave.known else None), holds)


# ---------------------------------------------------------------- films and deposits


def _film(bench: Bench, probe: ProbeChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    """After the time that the case gives it to drain; waited for, it is what the transmitter leaves of it."""
    film = probe.film
    if film is None:
        return
    every = [film.now, *film.rows]
    extra = bench.end_of("probe.film_extra", GREATEST, "most that the film seems to add", [row.extra for row in every])
    yield from bench.share("probe.drain_film_share", extra, holds)
    left = max((film.as_read(row) for row in every), key=lambda entry: abs(entry.value or 0.0))
    yield from bench.share("probe.drain_film_share_waited", left if left.known else None, holds)


def _deposit(bench: Bench, probe: ProbeChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    """A layer that conducts, on a coated rod: the most that a film of any length adds, and how short it can be."""
    coating = probe.section.coating
    thickness, conducts = bench.answer("deposit.thickness", "high"), bench.answer("deposit.conductivity", "high")
    if coating is None or thickness is None or conducts is None or not (thickness.value and conducts.value):
        return
    resistance = bench.work(
        "probe.deposit_resistance",
        film_resistance_ohm_per_m,
        "",
        "resistance per length of the deposit",
        coating_radius_m=probe.section.outside,
        thickness_m=thickness,
        conductivity_S_per_m=conducts,
    )
    depth = bench.work(
        "probe.deposit_depth",
        film_depth_m,
        "",
        "length over which a wave on the deposit dies to 1/e",
        frequency_Hz=bench.taken(bench.desk.case.probe.frequency),
        resistance_ohm_per_m=resistance,
        coating_F_per_m=coating,
    )
    most = bench.work("probe.deposit_adds", film_greatest_m, "", "most that the deposit adds", depth_m=depth)
    yield from bench.share("probe.film_share", most, holds)
    shortest = bench.work(
        "probe.deposit_length",
        bare_length_m,
        "",
        "length of the deposit above the highest level of the range, where it is shortest",
        active_m=probe.active,
        wetted_m=highest(probe.rows).wetted,
    )
    yield from bench.number("probe.film_to_penetration", length_share, holds, part_m=shortest, whole_m=depth)


# ---------------------------------------------------------------- lengths


def _lengths(bench: Bench, _: ProbeChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    length, stated = bench.at_hand("probe.insertion_length"), bench.desk.case.probe
    yield from given("probe.length", one(length), holds)
    handling = mechanics_rules().handling_m
    hands = bench.desk.constant(
        "choosing.handling", handling.value, "m", "room for handling above a rod", shown="mm", source=handling.source
    )
    need = bench.work(
        "probe.headroom",
        insertion_headroom_m,
        "",
        "clear height that the rod needs",
        length_m=length,
        handling_m=hands,
    )
    room = bench.taken(bench.desk.case.nozzle.headroom_above_face)
    yield from bench.apart("probe.headroom_margin", HEIGHTS, room, need, holds)
    inactive, nozzle = bench.taken(stated.inactive_length), bench.taken(bench.desk.case.nozzle.flange_face)
    if stated.inactive_length.known:
        yield from bench.apart("inactive.nozzle_margin", HEIGHTS, inactive, nozzle, holds)
        needed = bench.at_hand("probe.inactive_needed")
        yield from bench.apart("inactive.reach_margin", HEIGHTS, inactive, needed, holds)


def _pair(bench: Bench, probe: ProbeChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    """An earthed rod beside the active one: what passes between them, and through the nozzle."""
    earth, stated = bench.desk.case.probe.earth, bench.desk.case.probe
    if earth.kind.word != BY_ROD:
        return
    apart = bench.taken(earth.apart)
    rod = bench.taken(stated.coating_diameter if probe.section.coated else stated.core_diameter)
    pair = {"apart_m": apart, "rod_diameter_m": rod, "other_diameter_m": bench.taken(earth.rod_diameter)}
    width = bench.work("reference.width", pair_width_m, "", "width of the pair of rods", **pair)
    yield from bench.apart("reference.nozzle_margin", HEIGHTS, bench.taken(bench.desk.case.nozzle.bore), width, holds)
    gap = bench.work("reference.gap", pair_gap_m, "", "gap between the rods", **pair)
    grain = bench.answer("solids.grain_size", "high")
    if gap is not None and (gap.value or 0.0) > 0.0:
        yield from bench.number("reference.grain_to_gap", length_share, holds, part_m=grain, whole_m=gap)
    wide = bench.taken(bench.desk.case.vessel.inside_diameter)
    yield from bench.number("reference.wall_to_spacing", length_share, holds, part_m=wide, whole_m=apart)
