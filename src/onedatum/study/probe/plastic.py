"""Two rods in a round tank of plastic: wall and what is outside take part in the field of a liquid that insulates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.probe import BY_ROD, INSULATES
from onedatum.case.model.vessel import UPRIGHT
from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import Entry, apply, tag_of
from onedatum.physics.capacitive import (
    changed_slope_share,
    crossover_conductivity_S_per_m,
    equivalent_radius_m,
    line_capacitance_F_per_m,
    loss_tangent_ratio,
    radius_m,
    twin_rods_in_plastic_tank_F_per_m,
)
from onedatum.study.desk import Desk

SMALL_LOSS = 0.1
"""Loss tangent up to which the liquid insulates for the field: its square moves that by half a per cent."""
AIR = 1.0
NO_WALL_M = 0.5e-3
"""Thickness of a wall that is none: of a permittivity of 1 it is nothing."""
LEAKS = "it is worked for a liquid that insulates, and this one is not known to"
FEW_SPACINGS = 10
"""A tank that is wider takes less than one per cent (derived: boundary integral)."""


@dataclass(frozen=True)
class PlasticTank:
    """Rods, tank, wall and what is outside, in the words of the formula."""

    inputs: Mapping[str, Entry]
    alone: Entry
    """Capacitance per length of the two rods alone, wetted, the liquid insulating."""
    held: Entry
    """The same in this tank."""
    takes: Entry
    """What wall and outside move it by, as a share."""

    def radius(self, desk: Desk, name: str, permittivity: Entry) -> Entry:
        """Radius of the round metal tank with the same capacitance, for what the tank holds."""
        inputs = {**self.inputs, "liquid_permittivity": permittivity}
        meaning = f"capacitance per length in the tank of plastic, {permittivity.meaning}"
        held = desk.worked(f"{name}.in_tank", twin_rods_in_plastic_tank_F_per_m, inputs, shown="pF/m", meaning=meaning)
        about = {
            "rod_radius_m": self.inputs["rod_radius_m"],
            "capacitance_F_per_m": held,
            "relative_permittivity": permittivity,
        }
        return desk.worked(f"{name}.radius", equivalent_radius_m, about, shown="mm")


@dataclass(frozen=True)
class Narrow:
    """A tank too narrow for two rods, where its wall could not be worked."""

    takes: Entry | None
    """What it takes with air behind a wall that is nothing; None where not even that could be worked."""
    why: str
    """Why not; empty where something is not stated."""


@dataclass(frozen=True)
class Plastic:
    """What became of the wall of a plastic tank: worked, or not worked though it counts, or neither."""

    tank: PlasticTank | None = None
    narrow: Narrow | None = None


def plastic_of(desk: Desk, rods: tuple[Entry, Entry], permittivity: Entry) -> Plastic:
    """Work the wall where two rods stand in a round tank of plastic; `rods`: the live one and its equivalent radius."""
    probe, inside = desk.case.probe, desk.case.vessel.inside_diameter
    wall, apart = probe.wall, probe.earth.apart
    two_rods = probe.earth.kind.word == BY_ROD and wall.kind.word == INSULATES and not wall.equivalent_radius.known
    wide = apart.si is None or inside.si is None or inside.si >= FEW_SPACINGS * apart.si
    round_ = two_rods and desk.case.vessel.shape.word == UPRIGHT
    if not round_ or not _insulates(desk, permittivity):
        desk.skip(wall.outside_permittivity)
        return Plastic(narrow=Narrow(None, LEAKS) if round_ and not wide else None)
    known = (
        all(leaf.known for leaf in (wall.thickness, wall.permittivity)) and wall.outside_permittivity.state != "unknown"
    )
    if not known:
        desk.read.add(wall.outside_permittivity.path)
        if wide:
            return Plastic()
        _ask(desk, (wall.thickness, wall.permittivity, wall.outside_permittivity))
        return Plastic(narrow=_bound(desk, rods, permittivity))
    inputs = {
        **_rods_in_tank(desk, rods[0]),
        "wall_thickness_m": desk.take(wall.thickness, "mm"),
        "wall_permittivity": desk.take(wall.permittivity),
        "outside_permittivity": desk.take(wall.outside_permittivity, none=AIR),
    }
    why = _refused({**inputs, "liquid_permittivity": permittivity})
    if why:
        return Plastic() if wide else Plastic(narrow=Narrow(None, why))
    return Plastic(tank=PlasticTank(inputs, *_taken(desk, inputs, rods, permittivity, "probe.wall_takes")))


def _ask(desk: Desk, leaves: tuple[Value, ...]) -> None:
    for leaf in leaves:
        if leaf.state == "unknown":
            desk.want(leaf, "what the wall of a narrow tank takes of the capacitance of two rods")


def _insulates(desk: Desk, permittivity: Entry) -> bool:
    """Whether even at its most conductive the liquid displaces far more than it leaks."""
    medium, frequency = desk.case.medium, desk.take(desk.case.probe.frequency, "kHz")
    least, most = permittivity, desk.take(medium.conductivity, "uS/cm")
    if medium.permittivity.low is not None:
        least = desk.end(medium.permittivity, "low", "least")
    if medium.conductivity.high is not None:
        most = desk.end(medium.conductivity, "high", "greatest")
    crossover = desk.calc(
        "probe.wall.crossover",
        crossover_conductivity_S_per_m,
        shown="uS/cm",
        meaning="conductivity at which as much leaks as is displaced, at the least permittivity",
        frequency_Hz=frequency,
        relative_permittivity=least,
    )
    inputs = {"conductivity_S_per_m": most, "crossover_S_per_m": crossover}
    loss = desk.worked(
        "probe.wall.loss_tangent", loss_tangent_ratio, inputs, meaning="greatest loss tangent for the wall"
    )
    note = "up to here the field is that of an insulating liquid to half a per cent"
    limit = desk.constant("probe.wall.small_loss", SMALL_LOSS, "", "small loss tangent", note=note, source="derived")
    holds = desk.sheet.decide(
        "probe.wall.counts", "tan_delta <= x", "the wall counts: the liquid insulates", tan_delta=loss, x=limit
    )
    return bool(holds)


def _rods_in_tank(desk: Desk, rod: Entry) -> dict[str, Entry]:
    """What is stated of the rods and the tank; the axis of the tank lies half-way between the rods."""
    return {
        "rod_radius_m": rod,
        "other_radius_m": desk.sheet["probe.earth_radius"],
        "apart_m": desk.take(desk.case.probe.earth.apart, "mm"),
        "tank_radius_m": tank_radius(desk),
    }


def tank_radius(desk: Desk) -> Entry:
    """Inside radius of the vessel."""
    inside = desk.take(desk.case.vessel.inside_diameter, "mm")
    return desk.once(
        "probe.tank_radius", radius_m, shown="mm", meaning="inside radius of the vessel", diameter_m=inside
    )


def _bound(desk: Desk, rods: tuple[Entry, Entry], permittivity: Entry) -> Narrow:
    """With air where wall and outside are: what the tank takes at most, unless more than the liquid lies outside."""
    thin = desk.constant(
        "probe.wall.none",
        NO_WALL_M,
        "m",
        "thickness of a wall that is left out",
        shown="mm",
        note="left out",
        source="derived",
    )
    air = desk.constant("probe.wall.air", AIR, "", "relative permittivity of air", note="left out", source="derived")
    inputs = {
        **_rods_in_tank(desk, rods[0]),
        "wall_thickness_m": thin,
        "wall_permittivity": air,
        "outside_permittivity": air,
    }
    why = _refused({**inputs, "liquid_permittivity": permittivity})
    if why:
        return Narrow(None, why)
    return Narrow(_taken(desk, inputs, rods, permittivity, "probe.air_takes")[2], "")


def _refused(inputs: Mapping[str, Entry]) -> str:
    """Why the formula cannot be used here, in its own words; empty where it can, or a number is missing."""
    if any(entry.value is None for entry in inputs.values()):
        return ""
    function = twin_rods_in_plastic_tank_F_per_m
    try:
        apply(function, {name: entry.value or 0.0 for name, entry in inputs.items()})
    except ValidityError as error:
        meanings = {symbol.parameter: symbol.meaning for symbol in tag_of(function).symbols}
        what = meanings.get(error.parameter, error.parameter)
        return f"{what} must be {error.allowed}; got {error.got}"
    return ""


def _taken(
    desk: Desk, inputs: Mapping[str, Entry], rods: tuple[Entry, Entry], permittivity: Entry, name: str
) -> tuple[Entry, Entry, Entry]:
    """The two rods alone, in the tank, and the share between them."""
    about = {"inner_radius_m": rods[0], "outer_radius_m": rods[1], "relative_permittivity": permittivity}
    meaning = "capacitance per length of two rods alone, wetted"
    alone = desk.worked(f"{name}.alone", line_capacitance_F_per_m, about, shown="pF/m", meaning=meaning)
    within = {**inputs, "liquid_permittivity": permittivity}
    meaning = "capacitance per length of two rods in the tank, wetted"
    held = desk.worked(f"{name}.held", twin_rods_in_plastic_tank_F_per_m, within, shown="pF/m", meaning=meaning)
    both = {"now_F_per_m": held, "set_F_per_m": alone}
    meaning = "what wall and outside move the capacitance of two rods by, wetted"
    return alone, held, desk.worked(name, changed_slope_share, both, shown="%", meaning=meaning)
