"""The section of a probe: its radii, what the circuit closes through, and the capacitance per length."""

from __future__ import annotations

from dataclasses import dataclass, replace

from onedatum.case.leaf import Word
from onedatum.case.model.probe import (
    BARE,
    BARE_TIP,
    BY_ROD,
    BY_STRIP,
    BY_TUBE,
    BY_WALL,
    COATED,
    CONDUCTS,
    STRIP_OUTSIDE,
)
from onedatum.case.model.vessel import UPRIGHT
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    equivalent_radius_m,
    in_series_F_per_m,
    line_capacitance_F_per_m,
    radius_m,
    rod_before_strip_F_per_m,
    rod_in_tank_radius_m,
    strip_through_wall_F_per_m,
    two_rods_radius_m,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.place import FOUR_WALLS, ROUND, equivalent_radius
from onedatum.study.probe.plastic import PlasticTank, tank_radius

LOW_PRESSURE_PA = 2.1e5
"""Up to here, counted from wherever the pressure is stated, a gas is near the atmosphere."""
AIR = 1.0
"""Relative permittivity of a gas near the pressure of the atmosphere, to less than one part in a thousand."""


@dataclass(frozen=True)
class ProbeSection:
    """The section everywhere along the rod."""

    coated: bool
    core: Entry
    """Radius of the core."""
    outside: Entry
    """Radius of the rod where it meets the liquid."""
    equivalent: Entry
    """Radius of the round tank with the same capacitance."""
    coating: Entry | None
    """Capacitance per length of the coating; None for a bare rod."""
    known: bool = True
    """Whether the case says what rod it is."""
    behind: Entry | None = None
    """Capacitance per length of the wall before a strip outside, in series with all the rest."""
    insulation: Entry | None = None
    """Per length, all that keeps the liquid from both plates: coating and wall; None where nothing does."""
    plastic: PlasticTank | None = None
    """The tank of plastic whose wall takes part in the field; None where it is not counted."""

    sleeved: bool = False
    """Whether the rod above its bare, active end is coated."""

    @property
    def keeps_off(self) -> str:
        """What keeps the liquid from the plates, in a word."""
        return "coating" if self.behind is None else "insulation"

    def filled(self, desk: Desk, name: str, meaning: str, permittivity: Entry) -> Entry:
        """Capacitance per length of the rod in what does not conduct."""
        radius = self.equivalent if self.plastic is None else self.plastic.radius(desk, name, permittivity)
        about = {"inner_radius_m": self.outside, "outer_radius_m": radius}
        inputs = {**about, "relative_permittivity": permittivity}
        if self.insulation is None:
            return desk.worked(name, line_capacitance_F_per_m, inputs, shown="pF/m", meaning=meaning)
        outer = desk.worked(
            f"{name}.outside", line_capacitance_F_per_m, inputs, shown="pF/m", meaning=f"outside the coating: {meaning}"
        )
        both = {"first_F_per_m": self.insulation, "second_F_per_m": outer}
        return desk.worked(name, in_series_F_per_m, both, shown="pF/m", meaning=meaning)


def section_of(desk: Desk, body: Entry | None) -> ProbeSection:
    """Take the rod and what it stands against."""
    probe = desk.case.probe
    word = desk.word(probe.rod, "what the liquid meets on the rod")
    core = _radius(desk, "probe.core_radius", "radius of the core", desk.take(probe.core_diameter, "mm"))
    if word == BARE:
        desk.skip(probe.coating_diameter, probe.coating_permittivity, probe.coating_material, probe.length_confirmed)
        desk.skip(*probe.film.leaves())
        return _insulated(desk, ProbeSection(False, core, core, _equivalent(desk, core, body), None))
    if word == BARE_TIP:
        desk.read.update((probe.coating_diameter.path, probe.coating_permittivity.path, probe.coating_material.path))
        desk.skip(*probe.film.leaves())
        return _insulated(desk, ProbeSection(False, core, core, _equivalent(desk, core, body), None, sleeved=True))
    if word != COATED:
        outside = _not_known(desk, "probe.outside_radius", "outside radius of the rod", probe.rod)
        return ProbeSection(True, core, outside, _equivalent(desk, outside, body), None, known=False)
    diameter = desk.take(probe.coating_diameter, "mm")
    outside = _radius(desk, "probe.coating_radius", "outside radius of the coating", diameter)
    coating = desk.calc(
        "probe.coating",
        line_capacitance_F_per_m,
        shown="pF/m",
        meaning="capacitance per length of the coating",
        inner_radius_m=core,
        outer_radius_m=outside,
        relative_permittivity=desk.take(probe.coating_permittivity),
    )
    desk.read.add(probe.coating_material.path)
    return _insulated(desk, ProbeSection(True, core, outside, _equivalent(desk, outside, body), coating))


def _insulated(desk: Desk, section: ProbeSection) -> ProbeSection:
    """With the wall before a strip outside, which is one layer more."""
    earth, wall = desk.case.probe.earth, desk.case.probe.wall
    if earth.kind.word != STRIP_OUTSIDE:
        return replace(section, insulation=section.coating)
    behind = desk.calc(
        "probe.strip_wall",
        strip_through_wall_F_per_m,
        shown="pF/m",
        strip_width_m=desk.take(earth.strip_width, "mm"),
        thickness_m=desk.take(wall.thickness, "mm"),
        relative_permittivity=desk.take(wall.permittivity),
    )
    if section.coating is None:
        return replace(section, behind=behind, insulation=behind)
    both = {"first_F_per_m": section.coating, "second_F_per_m": behind}
    meaning = "capacitance per length of coating and wall"
    whole = desk.worked("probe.insulation", in_series_F_per_m, both, shown="pF/m", meaning=meaning)
    return replace(section, behind=behind, insulation=whole)


def gas_permittivity(desk: Desk) -> Entry:
    """As stated; a gas near the pressure of the atmosphere holds next to nothing."""
    stated, pressure = desk.case.medium.gas_above.permittivity, desk.case.pressure.operating
    pressed = max(si for si in (pressure.si or 0.0, pressure.high or 0.0)) > LOW_PRESSURE_PA
    if stated.state != "unknown" or pressed:
        return desk.take(stated, none=AIR)
    note = "not stated: a gas near the pressure of the atmosphere; 50 bar of a light gas adds 0.04"
    return desk.usual(stated, AIR, note, source="common-practice")


def _radius(desk: Desk, name: str, meaning: str, diameter: Entry) -> Entry:
    return desk.worked(name, radius_m, {"diameter_m": diameter}, shown="mm", meaning=meaning)


def _not_known(desk: Desk, name: str, meaning: str, leaf: Word) -> Entry:
    return desk.sheet.give(name, None, "m", meaning, path=leaf.path, place=leaf.place)


def _equivalent(desk: Desk, rod: Entry, body: Entry | None) -> Entry:
    """The round tank with the same capacitance, by what the circuit closes through."""
    probe = desk.case.probe
    earth, wall = probe.earth, probe.wall
    name, meaning = "probe.equivalent_radius", "radius of the round tank with the same capacitance"
    by = desk.word(earth.kind, "what the circuit of the probe closes through")
    if by in BY_STRIP:
        desk.skip(earth.rod_diameter, earth.apart, earth.tube_bore, wall.off_axis, wall.equivalent_radius)
        return _before_strip(desk, rod, name, meaning)
    desk.skip(earth.strip_width, earth.to_strip)
    if by == BY_ROD:
        desk.skip(earth.tube_bore, wall.off_axis)
        return _beside_rod(desk, rod, name, meaning)
    if by == BY_TUBE:
        desk.skip(earth.rod_diameter, earth.apart, wall.off_axis, wall.equivalent_radius)
        return _radius(desk, name, meaning, desk.take(earth.tube_bore, "mm"))
    if by != BY_WALL:
        return _not_known(desk, name, meaning, earth.kind)
    desk.skip(earth.rod_diameter, earth.apart, earth.tube_bore)
    return _in_vessel(desk, rod, body, name, meaning)


def _before_strip(desk: Desk, rod: Entry, name: str, meaning: str) -> Entry:
    """By the strip alone, far from every other wall; the same radius whatever the liquid is."""
    earth = desk.case.probe.earth
    one = desk.constant("probe.in_vacuum", 1.0, "", "relative permittivity of vacuum", source="derived")
    line = desk.calc(
        "probe.before_strip",
        rod_before_strip_F_per_m,
        shown="pF/m",
        meaning="capacitance per length before the strip, in vacuum",
        rod_radius_m=rod,
        to_strip_m=desk.take(earth.to_strip, "mm"),
        strip_width_m=desk.take(earth.strip_width, "mm"),
        relative_permittivity=one,
    )
    inputs = {"rod_radius_m": rod, "capacitance_F_per_m": line, "relative_permittivity": one}
    return desk.worked(name, equivalent_radius_m, inputs, shown="mm", meaning=meaning)


def _beside_rod(desk: Desk, rod: Entry, name: str, meaning: str) -> Entry:
    """By the earthed rod alone; in a round metal tank the wall is earth as well."""
    earth, wall = desk.case.probe.earth, desk.case.probe.wall
    other = _radius(desk, "probe.earth_radius", "radius of the earthed rod", desk.take(earth.rod_diameter, "mm"))
    about = {"other_radius_m": other, "apart_m": desk.take(earth.apart, "mm")}
    if wall.equivalent_radius.known:
        return desk.take(wall.equivalent_radius, "mm")
    desk.skip(wall.equivalent_radius)
    if wall.kind.word == CONDUCTS and desk.case.vessel.shape.word == UPRIGHT:
        return desk.worked(
            name, rod_in_tank_radius_m, {"tank_radius_m": tank_radius(desk), **about}, shown="mm", meaning=meaning
        )
    return desk.worked(name, two_rods_radius_m, {"rod_radius_m": rod, **about}, shown="mm", meaning=meaning)


def _in_vessel(desk: Desk, rod: Entry, body: Entry | None, name: str, meaning: str) -> Entry:
    """By the wall: as stated, or of the vessel's own shape where it has one."""
    wall = desk.case.probe.wall
    if wall.equivalent_radius.known or desk.case.vessel.shape.word not in (*ROUND, *FOUR_WALLS):
        desk.skip(wall.off_axis)
        return desk.take(wall.equivalent_radius, "mm")
    desk.skip(wall.equivalent_radius)
    return equivalent_radius(desk, rod, body, name, meaning)
