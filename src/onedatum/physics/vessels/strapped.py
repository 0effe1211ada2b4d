"""A strapped shell as a body: its courses, what its liquid adds by stretching them, what a floating roof takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula
from onedatum.physics.vessels.body import Body
from onedatum.physics.vessels.combined import Altered, Fitted
from onedatum.physics.vessels.floating_roof import roof_displacement_at_level_m3
from onedatum.physics.vessels.pieces import Frustum
from onedatum.physics.vessels.shell_load import course_expansion_area_m2, course_expansion_m3
from onedatum.physics.vessels.upright import Upright
from onedatum.physics.vessels.words import said


@dataclass(frozen=True)
class Stretch(Body):
    """What one course gains under the head of the liquid; it goes on growing with the level above the course."""

    bottom_m: Any
    top_m: Any
    radius_m: Any
    plate_m: Any
    modulus_Pa: Any
    density_kg_per_m3: Any
    gravity_m_per_s2: Any

    def told(self, shown: str = "") -> str:
        return f"the stretch of the course from {said(self.bottom_m, shown)} to {said(self.top_m, shown)}"

    @property
    def low_m(self) -> Any:
        return self.bottom_m

    @property
    def high_m(self) -> Any:
        return self.top_m

    @property
    def volume_m3(self) -> Any:
        return self.volume_below_m3(self.top_m)

    def volume_below_m3(self, level_m: Any) -> Any:
        return course_expansion_m3(level_m, *self._measures)

    def area_m2(self, level_m: Any) -> Any:
        return course_expansion_area_m2(level_m, *self._measures)

    @property
    def _measures(self) -> tuple[Any, ...]:
        shell = (self.bottom_m, self.top_m, self.radius_m, self.plate_m, self.modulus_Pa)
        return (*shell, self.density_kg_per_m3, self.gravity_m_per_s2)


@dataclass(frozen=True)
class Roof(Body):
    """What a floating roof displaces: nothing while it stands, its mass over the density when it floats."""

    lands_m: Any
    floats_m: Any
    mass_kg: Any
    density_kg_per_m3: Any

    def told(self, shown: str = "") -> str:
        return f"a floating roof, landing from {said(self.floats_m, shown)} to {said(self.lands_m, shown)}"

    @property
    def low_m(self) -> Any:
        return self.lands_m

    @property
    def high_m(self) -> Any:
        return self.floats_m

    @property
    def volume_m3(self) -> Any:
        return self.mass_kg / self.density_kg_per_m3

    def volume_below_m3(self, level_m: Any) -> Any:
        return roof_displacement_at_level_m3(level_m, self.lands_m, self.floats_m, self.mass_kg, self.density_kg_per_m3)

    def area_m2(self, level_m: Any) -> Any:
        landing = (np.asarray(level_m) >= self.lands_m) & (np.asarray(level_m) <= self.floats_m)
        return np.where(landing, self.volume_m3 / (self.floats_m - self.lands_m), 0.0)


@dataclass(frozen=True)
class Scaled(Altered):
    """A body whose volume at every level is another's times a factor."""

    body: Any
    factor: Any

    def told(self, shown: str = "") -> str:
        return f"{self.body.told(shown)}, out of plumb"

    @property
    def volume_m3(self) -> Any:
        return self.factor * self.body.volume_m3

    def volume_below_m3(self, level_m: Any) -> Any:
        return self.factor * self.body.volume_below_m3(level_m)

    def area_m2(self, level_m: Any) -> Any:
        return self.factor * self.body.area_m2(level_m)

    def level_m(self, volume_m3: Any) -> Any:
        return self.body.level_m(volume_m3 / self.factor)


@formula(
    method="a cylinder of the radius inside the plate",
    gives=("B", "course of a shell", Body),
    where={
        "radius_m": ("r", "inside radius of the course", "(0, 100]"),
        "height_m": ("H", "height of the course", "(0, 50]"),
    },
    source="derived: cylinder",
)
def course(radius_m: Real, height_m: Real) -> Body:
    """One course of a shell.

    Example
    -------
    >>> float(round(course(10.0, 2.0).volume_m3, 3))
    628.319
    """
    return Upright((Frustum(height_m, radius_m, radius_m),), "course")


_STRETCH: Where = {
    "vessel": ("B", "shell so far", Body),
    "bottom_m": ("z_1", "level of the foot of the course", "[0, 100]"),
    "height_m": ("H", "height of the course", "(0, 50]"),
    "radius_m": ("r", "inside radius of the course", "(0, 100]"),
    "plate_m": ("t", "thickness of the plate", "[0.0001, 0.5]"),
    "modulus_Pa": ("E", "elastic modulus of the shell", "[1e9, 1e12]"),
    "density_kg_per_m3": ("rho", "density of the liquid the table holds for", "(0, 20000]"),
    "gravity_m_per_s2": ("g", "acceleration of free fall", "[9.7, 9.9]"),
}


@formula(
    method="2*pi*rho*g*r**3/(E*t)*(h*z - z**2/2) from the foot of the course to its top, or to the level while it is "
    "lower; added to the volume",
    gives=("B", "shell with the stretch of a course", Body),
    where=_STRETCH,
    source="derived: hoop stress of a thin ring under the head of the liquid",
)
def with_stretch(
    vessel: Body,
    bottom_m: Real,
    height_m: Real,
    radius_m: Real,
    plate_m: Real,
    modulus_Pa: Real,
    density_kg_per_m3: Real,
    gravity_m_per_s2: Real,
) -> Body:
    """A shell with what one of its courses gains under the head of the liquid.

    Example
    -------
    >>> shell = course(10.0, 12.0)
    >>> full = with_stretch(shell, 0.0, 12.0, 10.0, 0.012, 206e9, 850.0, 9.80665)
    >>> float(round(full.volume_m3 - shell.volume_m3, 6))
    1.525469
    """
    top = bottom_m + height_m
    part = Stretch(bottom_m, top, radius_m, plate_m, modulus_Pa, density_kg_per_m3, gravity_m_per_s2)
    return Fitted(vessel, part, bottom_m, 1.0)


def _room_m3(vessel: Body, landing_m: Real, floating_m: Real) -> Real:
    """What the tank holds between the two levels."""
    return same_kind(vessel.volume_below_m3(floating_m) - vessel.volume_below_m3(landing_m))


@formula(
    method="V(h) - m/rho above the level at which the roof floats, nothing taken below the one at which it stands, "
    "straight between them",
    gives=("B", "tank with its floating roof", Body),
    where={
        "vessel": ("B", "tank so far", Body),
        "roof_mass_kg": ("m", "mass of the roof", "(0, 1e7]"),
        "density_kg_per_m3": ("rho", "density of the liquid the table holds for", "(0, 20000]"),
        "landing_m": ("h_l", "level below which the roof stands", "[0, 100]"),
        "floating_m": ("h_f", "level above which it floats", "(0, 100]"),
    },
    requires=(
        ("h_f > h_l", "the roof floats above the level at which it lands"),
        ("m/rho <= V_room(B, h_l, h_f)", "what the roof displaces fits between landing and floating"),
    ),
    calls={"V_room": _room_m3},
    source="archimedes: between landing and floating a straight line, no figure for a quantity",
)
def with_floating_roof(
    vessel: Body, roof_mass_kg: Real, density_kg_per_m3: Real, landing_m: Real, floating_m: Real
) -> Body:
    """A tank whose roof floats on its liquid.

    Example
    -------
    >>> shell = course(10.0, 12.0)
    >>> float(round(shell.volume_m3 - with_floating_roof(shell, 85000.0, 850.0, 1.6, 2.0).volume_m3, 6))
    100.0
    """
    return Fitted(vessel, Roof(landing_m, floating_m, roof_mass_kg, density_kg_per_m3), landing_m, -1.0)


@formula(
    method="V(h)*F",
    gives=("B", "tank out of plumb", Body),
    where={
        "vessel": ("B", "tank as if plumb", Body),
        "factor": ("F", "area of the level section over that square to the axis", "[1, 1.01]"),
    },
    source="derived: a level section of a leaning cylinder is an ellipse",
)
def out_of_plumb(vessel: Body, factor: Real) -> Body:
    """A tank that leans a little: its section at every level grows by the factor.

    Example
    -------
    >>> float(round(out_of_plumb(course(10.0, 2.0), 1.0001).volume_m3, 3))
    628.381
    """
    return Scaled(vessel, factor)


@formula(
    equation="C = C_t - dC_r + dC_l",
    gives=("C", "outside circumference of the empty shell"),
    where={
        "taped_m": ("C_t", "circumference by the tape, corrected", "(0, 500]"),
        "rise_m": ("dC_r", "length the tape lost over straps and laps", "[0, 5]"),
        "load_m": ("dC_l", "change to the empty tank, not above zero", "[-1, 0]"),
    },
    source="derived: corrections add",
)
def shell_circumference_m(taped_m: Real, rise_m: Real, load_m: Real) -> Real:
    """Outside circumference of the empty shell.

    Example
    -------
    >>> round(shell_circumference_m(62.9140, 0.0006, -0.0012), 4)
    62.9122
    """
    return taped_m - rise_m + load_m


@formula(
    equation="D = C/pi",
    gives=("D", "diameter"),
    where={"circumference_m": ("C", "circumference", "(0, 500]")},
    source="derived: circle",
)
def diameter_of_circumference_m(circumference_m: Real) -> Real:
    """Diameter of a circle by its circumference.

    Example
    -------
    >>> round(diameter_of_circumference_m(62.9135), 4)
    20.026
    """
    return circumference_m / np.pi


@formula(
    equation="r = D/2",
    gives=("r", "radius"),
    where={"diameter_m": ("D", "diameter", "(0, 200]")},
    source="derived: circle",
)
def radius_of_diameter_m(diameter_m: Real) -> Real:
    """Radius of a circle by its diameter.

    Example
    -------
    >>> radius_of_diameter_m(20.0)
    10.0
    """
    return diameter_m / 2


@formula(
    equation="z = z_1 + a",
    gives=("z", "level of the strap"),
    where={
        "foot_m": ("z_1", "level of the foot of the course", "[0, 100]"),
        "over_foot_m": ("a", "height of the strap over the foot of the course", "[0, 20]"),
    },
    source="derived: heights add",
)
def height_of_strap_m(foot_m: Real, over_foot_m: Real) -> Real:
    """Level at which a course was strapped.

    Example
    -------
    >>> height_of_strap_m(2.0, 1.0)
    3.0
    """
    return foot_m + over_foot_m
