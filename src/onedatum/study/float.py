"""The float as ordered: what it displaces, where it rides in each state."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from onedatum.case.model.instrument import AT_CENTRE, SPHERE
from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    bored_sphere_height_m,
    bored_sphere_immersion_m,
    bored_sphere_volume_m3,
    cylinder_immersion_m,
    cylinder_section_m2,
    cylinder_volume_m3,
    half_height_m,
    mean_density_kg_per_m3,
)
from onedatum.study.desk import Desk
from onedatum.study.states import Condition


@dataclass(frozen=True)
class Float:
    """The float, and the formula of where it rides with the measures that formula takes beside mass and densities."""

    height: Entry
    mass: Entry
    mean_density: Entry
    magnet_plane: Entry
    """Height of the magnet plane above the bottom of the float."""
    rides: Callable[..., Any]
    measures: Mapping[str, Entry]

    def immersion(self, desk: Desk, condition: Condition) -> Entry:
        """How deep it sits in a state."""
        return desk.calc(
            f"float.immersion[{condition.name}]",
            self.rides,
            shown="mm",
            meaning=f"immersion of the float, {condition.name}",
            mass_kg=self.mass,
            liquid_density_kg_per_m3=condition.density,
            gas_density_kg_per_m3=desk.take(desk.case.medium.gas_above.density),
            **self.measures,
        )


def float_of(desk: Desk) -> Float:
    """The float of the case."""
    form = desk.word(desk.case.instrument.float_.form, "where the float rides")
    return _sphere(desk) if form == SPHERE else _cylinder(desk)


def _cylinder(desk: Desk) -> Float:
    stated = desk.case.instrument.float_
    section = desk.calc(
        "float.section",
        cylinder_section_m2,
        shown="cm2",
        diameter_m=desk.take(stated.outside_diameter, "mm"),
        bore_m=desk.take(stated.bore, "mm"),
    )
    height, mass = desk.take(stated.height, "mm"), desk.take(stated.mass, "g")
    volume = desk.calc("float.volume", cylinder_volume_m3, shown="cm3", section_m2=section, height_m=height)
    measures = {"section_m2": section, "height_m": height}
    density, plane = _mean_density(desk, mass, volume), _magnet_plane(desk, height)
    return Float(height, mass, density, plane, cylinder_immersion_m, measures)


def _sphere(desk: Desk) -> Float:
    stated = desk.case.instrument.float_
    height = desk.calc(
        "float.height",
        bored_sphere_height_m,
        shown="mm",
        diameter_m=desk.take(stated.outside_diameter, "mm"),
        bore_m=desk.take(stated.bore, "mm"),
    )
    mass = desk.take(stated.mass, "g")
    volume = desk.calc("float.volume", bored_sphere_volume_m3, shown="cm3", height_m=height)
    measures = {"volume_m3": volume, "height_m": height}
    density, plane = _mean_density(desk, mass, volume), _magnet_plane(desk, height)
    return Float(height, mass, density, plane, bored_sphere_immersion_m, measures)


def _mean_density(desk: Desk, mass: Entry, volume: Entry) -> Entry:
    return desk.calc("float.mean_density", mean_density_kg_per_m3, mass_kg=mass, volume_m3=volume)


def _magnet_plane(desk: Desk, height: Entry) -> Entry:
    """The magnet plane as stated; at the centre it is half the height."""
    stated = desk.case.instrument.float_.magnet_plane_above_bottom
    if stated.word != AT_CENTRE:
        return desk.take(stated, "mm")
    desk.read.add(stated.path)
    return desk.calc("float.magnet_plane", half_height_m, shown="mm", height_m=height)
