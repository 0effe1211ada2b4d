"""Numbers of the medium alone: its densities and permittivities, in every condition of a state."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.liquid import BOILING_WATER, ETHANOL_WATER, PETROLEUM, WATER
from onedatum.foundation.working import Entry
from onedatum.physics.media import water_permittivity
from onedatum.physics.screening import (
    density_permittivity_error_m,
    foam_permittivity,
    foam_permittivity_share,
    gas_density_share,
    head_density_error_m,
    interface_reflection,
    permittivity_error_m,
    reduced_temperature,
    reflected_power_share,
)
from onedatum.study.choosing.bench import GREATEST, LEAST, Bench, Number, every, given, one
from onedatum.study.choosing.levels import highest_wanted
from onedatum.study.choosing.pressures import acting_above_atmosphere
from onedatum.study.choosing.principle import BY_HEAD_OF_LIQUID, CAPACITIVES
from onedatum.study.probe.laws import At, law_of
from onedatum.study.states import Condition

BY_LAW = (WATER, BOILING_WATER, ETHANOL_WATER, PETROLEUM)
"""Liquids whose kind alone gives their permittivity."""
WATER_CRITICAL_K = 647.096
AIR_PERMITTIVITY = 1.0005
NEAR_ATMOSPHERE_PA = 1e4
"""So near to the atmosphere the permittivity of air is what it is there to the last digit kept."""
MOST_NOT_POLAR = 3.0
"""Relative permittivity up to which a liquid may be one whose permittivity goes with its density alone."""


def medium_numbers(bench: Bench) -> Iterator[Number]:
    """All of them."""
    for part in (_densities, _permittivities, _by_density, _by_permittivity, _two_liquids, _foam, _near_critical):
        yield from part(bench)


# ---------------------------------------------------------------- density


def _densities(bench: Bench) -> Iterator[Number]:
    conditions = bench.conditions
    yield from given("temperature.process", [each.temperature for each in conditions])
    yield from given("density", [each.density for each in conditions])
    yield from given("density.gas", [each.gas for each in conditions])
    shares = [
        bench.work(
            "density.gas_ratio",
            gas_density_share,
            each.name,
            gas_density_kg_per_m3=each.gas,
            liquid_density_kg_per_m3=each.density,
        )
        for each in conditions
    ]
    yield from given("density.gas_ratio", every(shares))


def density_ends(bench: Bench) -> dict[str, Entry | None]:
    """The greatest and the least density over all states of the medium, under the names that formulas call them."""
    told = [each.density for each in bench.states.fitted]
    return {
        f"{which}_density_kg_per_m3": bench.end_of(f"density_{which}", which, f"{which} density over the states", told)
        for which in (GREATEST, LEAST)
    }


def _by_density(bench: Bench) -> Iterator[Number]:
    """What the range of the density makes of a head, and through the permittivity of a capacitance."""
    level, ends = highest_wanted(bench), density_ends(bench)
    error = bench.work(
        "head.density_error",
        head_density_error_m,
        "",
        "error of a head by the range of the density",
        level_m=level,
        **ends,
    )
    yield from bench.share("head.density_share", error)
    share = bench.at_hand("choosing.head.density_share")
    if share is not None:
        yield Number("density.error_share", (share,), BY_HEAD_OF_LIQUID)
    yield from _through_permittivity(bench, level, ends)


def _through_permittivity(bench: Bench, level: Entry | None, ends: dict[str, Entry | None]) -> Iterator[Number]:
    """Of a liquid that is polar nothing: there the range of the permittivity itself counts."""
    permittivity = permittivity_end(bench, "greatest")
    if permittivity is None or permittivity.value is None:
        return
    if permittivity.value > MOST_NOT_POLAR:
        none = bench.desk.constant(
            "choosing.probe.density_share",
            0.0,
            "",
            "error by density through permittivity over the allowed error",
            note="the liquid is polar: its permittivity does not follow from its density, its own range counts",
            source="common-practice: no liquid above a relative permittivity of 3 is without polar molecules",
        )
        yield Number("probe.density_share", (none,), CAPACITIVES)
        return
    error = bench.work(
        "probe.density_error",
        density_permittivity_error_m,
        "",
        "error of a capacitance by the range of the density",
        relative_permittivity=permittivity,
        level_m=level,
        **ends,
    )
    yield from bench.share("probe.density_share", error, CAPACITIVES)


# ---------------------------------------------------------------- permittivity


def _permittivities(bench: Bench) -> Iterator[Number]:
    """By its law where it is not stated; over boiling water that of its steam."""
    yield from given("permittivity", every(_by_law(bench, each) for each in bench.conditions))
    steam = every(_of_steam(bench, each) for each in bench.conditions)
    yield from given("permittivity.gas", steam or one(_of_air(bench)))


def _by_law(bench: Bench, condition: Condition) -> Entry | None:
    medium, name = bench.desk.case.medium, "choosing.permittivity"
    if medium.permittivity.state != "unknown" or medium.kind.word not in BY_LAW:
        return None
    law, placed = law_of(bench.desk), f"{name}[{condition.name}]"
    if placed in bench.desk.sheet:
        return bench.desk.sheet[placed]
    if law is None or any(leaf.known for leaf in (*medium.mixture.leaves(), *medium.bulk.leaves())):
        return None
    if not (condition.temperature.known and condition.density.known):
        return None
    gas, fraction = condition.gas, bench.states.liquid.mass_fraction
    at = At(condition.name, f"state {condition.name}", condition.temperature, condition.density, gas, fraction)
    value = law(bench.desk, at, name).value
    return value if value.known else None


def _of_steam(bench: Bench, condition: Condition) -> Entry | None:
    medium = bench.desk.case.medium
    if medium.gas_above.permittivity.state != "unknown" or medium.kind.word != BOILING_WATER:
        return None
    return bench.work(
        "permittivity.gas",
        water_permittivity,
        condition.name,
        "relative permittivity of the steam",
        temperature_K=condition.temperature,
        density_kg_per_m3=condition.gas,
    )


def _of_air(bench: Bench) -> Entry | None:
    """Of air near the pressure of the atmosphere, where the case says that air stands above."""
    gas, acting = bench.desk.case.medium.gas_above, acting_above_atmosphere(bench)
    near = bool(acting) and all(abs(entry.value or 0.0) <= NEAR_ATMOSPHERE_PA for entry in acting)
    if gas.permittivity.state != "unknown" or gas.kind.text.strip().lower() != "air" or not near:
        return None
    return bench.desk.constant(
        "choosing.permittivity.gas",
        AIR_PERMITTIVITY,
        "",
        "relative permittivity of air near the pressure of the atmosphere",
        note="from memory",
        source="common-practice",
    )


def permittivity_end(bench: Bench, which: str) -> Entry | None:
    """The least or the greatest permittivity of the medium over all states."""
    stated = bench.desk.case.medium.permittivity
    if stated.state != "unknown":
        return bench.taken(stated, "low" if which == LEAST else "high") if stated.known else None
    found = every(_by_law(bench, each) for each in bench.states.fitted)
    if not found:
        return None
    meaning = f"{which} permittivity of the liquid over the states"
    return bench.end_of(f"permittivity_{which}", LEAST if which == LEAST else GREATEST, meaning, found)


def gas_permittivity_end(bench: Bench) -> Entry | None:
    """The greatest permittivity of the gas in this state."""
    stated = bench.desk.case.medium.gas_above.permittivity
    if stated.known:
        return bench.taken(stated, "high")
    found = every(_of_steam(bench, each) for each in bench.conditions) or one(_of_air(bench))
    return max(found, key=lambda entry: entry.value or 0.0, default=None)


def _by_permittivity(bench: Bench) -> Iterator[Number]:
    least, greatest = permittivity_end(bench, LEAST), permittivity_end(bench, GREATEST)
    yield from bench.number("radar.reflected_power", reflected_power_share, relative_permittivity=least)
    if least is None or greatest is None or (least.value or 0.0) + (greatest.value or 0.0) <= 2.0:
        return
    error = bench.work(
        "probe.slope_error",
        permittivity_error_m,
        "",
        "error of a capacitance by the range of the permittivity",
        greatest_permittivity=greatest,
        least_permittivity=least,
        level_m=highest_wanted(bench),
    )
    yield from bench.share("probe.slope_share", error, CAPACITIVES)


# ---------------------------------------------------------------- two liquids, foam, the critical point


def _two_liquids(bench: Bench) -> Iterator[Number]:
    """Of the two permittivities at the ends at which least comes back."""
    upper = bench.answer("interface.upper_permittivity", "high")
    lower = bench.answer("interface.lower_permittivity", "low")
    yield from bench.number(
        "interface.reflection", interface_reflection, upper_permittivity=upper, lower_permittivity=lower
    )


def _foam(bench: Bench) -> Iterator[Number]:
    liquid = permittivity_end(bench, GREATEST)
    if liquid is None or (liquid.value or 0.0) <= 1.0:
        return
    foam = bench.work(
        "foam.permittivity",
        foam_permittivity,
        "",
        "relative permittivity of the foam",
        share=bench.answer("foam.liquid_fraction", "high"),
        liquid_permittivity=liquid,
    )
    yield from bench.number(
        "foam.permittivity_ratio", foam_permittivity_share, foam_permittivity=foam, liquid_permittivity=liquid
    )


def _near_critical(bench: Bench) -> Iterator[Number]:
    if bench.desk.case.medium.kind.word not in (WATER, BOILING_WATER):
        return
    critical = bench.desk.constant(
        "choosing.critical_temperature",
        WATER_CRITICAL_K,
        "K",
        "critical temperature of water",
        shown="degC",
        source="iapws-95",
    )
    found = [
        bench.work(
            "medium.reduced_temperature",
            reduced_temperature,
            each.name,
            temperature_K=each.temperature,
            critical_K=critical,
        )
        for each in bench.conditions
    ]
    yield from given("medium.reduced_temperature", every(found))
