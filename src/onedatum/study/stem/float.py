"""A float as ordered: what it displaces, where it rides, how it answers; the same for the float at an interface."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from onedatum.case.model.float import AT_CENTRE, RING, SPHERE
from onedatum.case.model.float import Float as StatedFloat
from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    bored_sphere_buoyancy_centre_m,
    bored_sphere_height_m,
    bored_sphere_immersion_m,
    bored_sphere_volume_m3,
    bored_sphere_waterplane_m2,
    cylinder_buoyancy_centre_m,
    cylinder_immersion_m,
    cylinder_section_m2,
    cylinder_volume_m3,
    half_height_m,
    mean_density_kg_per_m3,
    ring_buoyancy_centre_m,
    ring_centre_radius_m,
    ring_immersion_m,
    ring_volume_m3,
    ring_waterplane_m2,
    soaked_mass_kg,
    with_deposit_kg,
)
from onedatum.study.desk import Desk

MAIN, AT_INTERFACE = "float", "interface_float"
"""What the names of the entries of the two floats begin with."""


@dataclass(frozen=True)
class Form:
    """How one form of float is worked: where it rides, its waterline, its centre of buoyancy, with their measures."""

    rides: Callable[..., Any]
    measures: Mapping[str, Entry]
    """What `rides` takes beside mass and densities."""
    centre: Callable[..., Any]
    centre_measures: Mapping[str, Entry]
    waterplane: Callable[..., Any] | None = None
    """None where the section is the same at every height."""
    waterplane_measures: Mapping[str, Entry] | None = None
    section: Entry | None = None


@dataclass(frozen=True)
class Float:
    """One float."""

    name: str
    stated: StatedFloat
    height: Entry
    mass: Entry
    volume: Entry
    mean_density: Entry
    heaviest_density: Entry
    """With what it takes up and what settles on it, where those are stated."""
    magnet_plane: Entry
    """Height of the magnet plane above the bottom of the float."""
    form: Form

    @property
    def called(self) -> str:
        """What people call it."""
        return "float" if self.name == MAIN else "interface float"

    def rides(self, desk: Desk, name: str, meaning: str, mass: Entry, below: Entry, above: Entry) -> Entry:
        """How deep it sits with a mass, in a liquid under a gas or a lighter liquid."""
        return desk.calc(
            name,
            self.form.rides,
            shown="mm",
            meaning=meaning,
            mass_kg=mass,
            liquid_density_kg_per_m3=below,
            gas_density_kg_per_m3=above,
            **self.form.measures,
        )

    def immersion(self, desk: Desk, state: str, below: Entry, above: Entry) -> Entry:
        """How deep it sits in a state."""
        name, meaning = f"{self.name}.immersion[{state}]", f"immersion of the {self.called}, {state}"
        return self.rides(desk, name, meaning, self.mass, below, above)

    def waterplane(self, desk: Desk, state: str, immersion: Entry) -> Entry:
        """Area of its waterline in a state."""
        if self.form.waterplane is None and self.form.section is not None:
            return self.form.section
        return desk.calc(
            f"{self.name}.waterplane[{state}]",
            self.form.waterplane or cylinder_section_m2,
            shown="cm2",
            meaning=f"area of the waterline of the {self.called}, {state}",
            immersion_m=immersion,
            **(self.form.waterplane_measures or {}),
        )

    def buoyancy_centre(self, desk: Desk, state: str, immersion: Entry) -> Entry:
        """Its centre of buoyancy above its bottom in a state."""
        return desk.calc(
            f"{self.name}.buoyancy_centre[{state}]",
            self.form.centre,
            shown="mm",
            meaning=f"centre of buoyancy above the bottom of the {self.called}, {state}",
            immersion_m=immersion,
            **self.form.centre_measures,
        )


def float_of(desk: Desk) -> Float:
    """The float at the surface."""
    return _float(desk, MAIN, desk.case.instrument.float_)


def interface_float_of(desk: Desk) -> Float:
    """The float between two liquids."""
    return _float(desk, AT_INTERFACE, desk.case.instrument.interface_float)


def _float(desk: Desk, name: str, stated: StatedFloat) -> Float:
    word = desk.word(stated.form, "where the float rides")
    make = _sphere if word == SPHERE else _ring if word == RING else _cylinder
    return make(desk, name, stated)


def _cylinder(desk: Desk, name: str, stated: StatedFloat) -> Float:
    section = desk.calc(
        f"{name}.section",
        cylinder_section_m2,
        shown="cm2",
        diameter_m=desk.take(stated.outside_diameter, "mm"),
        bore_m=desk.take(stated.bore, "mm", none=0.0),
    )
    height = desk.take(stated.height, "mm")
    volume = desk.calc(f"{name}.volume", cylinder_volume_m3, shown="cm3", section_m2=section, height_m=height)
    form = Form(
        cylinder_immersion_m,
        {"section_m2": section, "height_m": height},
        cylinder_buoyancy_centre_m,
        {},
        section=section,
    )
    return _made(desk, name, stated, height, volume, form)


def _sphere(desk: Desk, name: str, stated: StatedFloat) -> Float:
    height = desk.calc(
        f"{name}.height",
        bored_sphere_height_m,
        shown="mm",
        diameter_m=desk.take(stated.outside_diameter, "mm"),
        bore_m=desk.take(stated.bore, "mm"),
    )
    volume = desk.calc(f"{name}.volume", bored_sphere_volume_m3, shown="cm3", height_m=height)
    tall = {"height_m": height}
    form = Form(
        bored_sphere_immersion_m,
        {"volume_m3": volume, "height_m": height},
        bored_sphere_buoyancy_centre_m,
        tall,
        bored_sphere_waterplane_m2,
        tall,
    )
    return _made(desk, name, stated, height, volume, form)


def _ring(desk: Desk, name: str, stated: StatedFloat) -> Float:
    height = desk.take(stated.height, "mm")
    tube = desk.calc(
        f"{name}.tube_radius", half_height_m, shown="mm", meaning="radius of the tube of the ring", height_m=height
    )
    centre = desk.calc(
        f"{name}.centre_radius",
        ring_centre_radius_m,
        shown="mm",
        diameter_m=desk.take(stated.outside_diameter, "mm"),
        height_m=height,
    )
    measures = {"tube_radius_m": tube, "centre_radius_m": centre}
    volume = desk.worked(f"{name}.volume", ring_volume_m3, measures, shown="cm3")
    form = Form(
        ring_immersion_m, measures, ring_buoyancy_centre_m, {"tube_radius_m": tube}, ring_waterplane_m2, measures
    )
    return _made(desk, name, stated, height, volume, form)


def _made(desk: Desk, name: str, stated: StatedFloat, height: Entry, volume: Entry, form: Form) -> Float:
    mass = desk.take(stated.mass, "g")
    density = desk.calc(f"{name}.mean_density", mean_density_kg_per_m3, mass_kg=mass, volume_m3=volume)
    heaviest = _heaviest(desk, name, stated, mass)
    worst = density
    if heaviest is not mass:
        meaning = "mean density of the float, soaked and fouled as stated"
        inputs = {"mass_kg": heaviest, "volume_m3": volume}
        worst = desk.worked(f"{name}.density_heaviest", mean_density_kg_per_m3, inputs, meaning=meaning)
    return Float(name, stated, height, mass, volume, density, worst, _magnet_plane(desk, name, stated, height), form)


def _heaviest(desk: Desk, name: str, stated: StatedFloat, mass: Entry) -> Entry:
    """Its mass with what it takes up and what settles on it."""
    if stated.soaking.known:
        share = desk.take(stated.soaking, "%value")
        mass = desk.once(f"{name}.mass_soaked", soaked_mass_kg, shown="g", mass_kg=mass, soaking_share=share)
    if stated.deposit.known:
        deposit = desk.take(stated.deposit, "g")
        meaning = "mass of the float with all that is stated to weigh it down"
        inputs = {"mass_kg": mass, "deposit_kg": deposit}
        mass = desk.worked(f"{name}.mass_heaviest", with_deposit_kg, inputs, shown="g", meaning=meaning)
    return mass


def _magnet_plane(desk: Desk, name: str, stated: StatedFloat, height: Entry) -> Entry:
    """The magnet plane as stated; at the centre it is half the height."""
    plane = stated.magnet_plane_above_bottom
    if plane.word != AT_CENTRE:
        return desk.take(plane, "mm")
    desk.read.add(plane.path)
    return desk.calc(f"{name}.magnet_plane", half_height_m, shown="mm", height_m=height)
