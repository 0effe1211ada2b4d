"""The candidates of a search: volume and mass by their walls, where they ride, and what their walls bear.

Three forms, all hollow: a cylinder with flat ends and the tube of its bore, a ball with the tube of its bore, a ring
that stands free around the stem. Arrays run over candidates along their last axis and over states along the first.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Real, Reals
from onedatum.physics.floats.cylinder import cylinder_immersion_m, cylinder_section_m2, cylinder_volume_m3
from onedatum.physics.floats.ends import flat_end_factor, flat_end_yield_difference_Pa
from onedatum.physics.floats.ring import ring_immersion_m, ring_volume_m3, ring_waterplane_m2
from onedatum.physics.floats.shell import sphere_buckling_difference_Pa, sphere_yield_difference_Pa
from onedatum.physics.floats.sphere import bored_sphere_height_m, bored_sphere_immersion_m, bored_sphere_volume_m3
from onedatum.physics.floats.submerged import bored_sphere_waterplane_m2
from onedatum.physics.floats.tubes import (
    bore_tube_yield_difference_Pa,
    cylinder_modes_difference_Pa,
    cylinder_yield_difference_Pa,
    long_tube_buckling_difference_Pa,
    ring_yield_difference_Pa,
)

CYLINDER, BALL, RING = "cylinder", "sphere with a bore", "ring"
FORMS = (CYLINDER, BALL, RING)
_WIDEST_TUBE = 0.98
"""Of the radius within the wall: a flat end spans from the tube of the bore to the wall."""
_THIN = 11.0
"""Least diameter over the wall: the formulas of the walls are those of thin ones."""


@dataclass(frozen=True)
class Making:
    """What a float is made of: form, walls, bore, magnet, what its walls bear and how far that is brought down."""

    form: str
    wall_m: float
    end_wall_m: float
    """Thickness of the flat ends of a cylinder; the other forms have none."""
    bore_m: float
    """Diameter of the bore; of a ring, the least width that it leaves to the stem."""
    magnet_kg: float
    wall_density_kg_per_m3: float
    elastic_modulus_Pa: float
    poisson_ratio: float
    yield_Pa: float
    ball_knockdown: float
    cylinder_knockdown: float
    buckling_safety: float
    yield_safety: float


def grid_m(making: Making, diameters_m: Real, heights_m: Real) -> tuple[Reals, Reals]:
    """Diameter and height of every candidate that has room for bore and walls, smallest diameter first, then lowest."""
    if making.form not in FORMS:
        raise QuantityError(f"one of: {'; '.join(FORMS)}", repr(making.form), "no other form is searched", "")
    wide, tall = (np.unique(np.asarray(part, dtype=np.float64)) for part in (diameters_m, heights_m))
    wide = wide[wide > _THIN * making.wall_m]
    tube_m = making.bore_m + 2 * making.wall_m
    if making.form == BALL:
        wide = wide[wide - 2 * making.wall_m > tube_m]
        return wide, np.asarray(bored_sphere_height_m(wide, making.bore_m))
    diameter_m, height_m = (part.ravel() for part in np.meshgrid(wide, tall, indexing="ij"))
    if making.form == RING:
        room = (diameter_m - 2 * height_m >= making.bore_m) & (height_m > _THIN * making.wall_m)
    else:
        room = (_WIDEST_TUBE * (diameter_m - 2 * making.wall_m) > tube_m) & (height_m > 2 * making.end_wall_m)
    return diameter_m[room], height_m[room]


def volume_m3(form: str, diameter_m: Real, bore_m: Real, height_m: Real) -> Reals:
    """Volume within a surface of the form."""
    if form == BALL:
        return np.asarray(bored_sphere_volume_m3(height_m))
    if form == RING:
        return np.asarray(ring_volume_m3(height_m / 2, (diameter_m - height_m) / 2))
    return np.asarray(cylinder_volume_m3(cylinder_section_m2(diameter_m, bore_m), height_m))


def mass_kg(making: Making, diameter_m: Reals, height_m: Reals) -> Reals:
    """Mass: what lies between outer surface and hollow, and the magnet."""
    inside_m, tube_m = diameter_m - 2 * making.wall_m, making.bore_m + 2 * making.wall_m
    tall_m = {
        BALL: np.sqrt(np.maximum(inside_m**2 - tube_m**2, 0.0)),
        RING: height_m - 2 * making.wall_m,
        CYLINDER: height_m - 2 * making.end_wall_m,
    }[making.form]
    hollow_m3 = volume_m3(making.form, inside_m, tube_m, tall_m)
    walls_m3 = volume_m3(making.form, diameter_m, making.bore_m, height_m) - hollow_m3
    return np.asarray(making.wall_density_kg_per_m3 * walls_m3 + making.magnet_kg)


def rides(
    making: Making,
    mass_kg: Reals,
    diameter_m: Reals,
    height_m: Reals,
    liquid_density_kg_per_m3: Reals,
    gas_density_kg_per_m3: Reals,
) -> tuple[Reals, Reals]:
    """Immersion and area of the waterline; no numbers, or numbers outside the float, where it does not float."""
    densities = liquid_density_kg_per_m3, gas_density_kg_per_m3
    if making.form == BALL:
        immersion_m = bored_sphere_immersion_m(mass_kg, bored_sphere_volume_m3(height_m), height_m, *densities)
        return np.asarray(immersion_m), np.asarray(bored_sphere_waterplane_m2(immersion_m, height_m))
    if making.form == RING:
        ring_m = height_m / 2, (diameter_m - height_m) / 2
        immersion_m = ring_immersion_m(mass_kg, *ring_m, *densities)
        return np.asarray(immersion_m), np.asarray(ring_waterplane_m2(immersion_m, *ring_m))
    section_m2 = cylinder_section_m2(diameter_m, making.bore_m)
    immersion_m = cylinder_immersion_m(mass_kg, section_m2, height_m, *densities)
    return np.asarray(immersion_m), section_m2 * np.ones_like(immersion_m)


def borne_difference_Pa(making: Making, diameter_m: Reals, height_m: Reals) -> Reals:
    """Pressure that the weakest wall is allowed; the tube of a ring is taken as a long one, which its bend stiffens."""
    material = making.elastic_modulus_Pa, making.poisson_ratio
    radius_m = (diameter_m - making.wall_m) / 2
    if making.form == RING:
        tube_m, centre_m = (height_m - making.wall_m) / 2, (diameter_m - height_m) / 2
        buckles = making.cylinder_knockdown * long_tube_buckling_difference_Pa(*material, tube_m, making.wall_m)
        yields = ring_yield_difference_Pa(making.yield_Pa, tube_m, centre_m, making.wall_m)
        return np.asarray(np.minimum(buckles / making.buckling_safety, yields / making.yield_safety))
    within_m = making.bore_m / 2
    by_tube = bore_tube_yield_difference_Pa(making.yield_Pa, within_m, making.wall_m)
    if making.form == BALL:
        buckles = making.ball_knockdown * sphere_buckling_difference_Pa(*material, radius_m, making.wall_m)
        yields = sphere_yield_difference_Pa(making.yield_Pa, radius_m, making.wall_m)
    else:
        lobes = cylinder_modes_difference_Pa(*material, radius_m, making.wall_m, height_m)
        buckles = making.cylinder_knockdown * lobes
        rim_m = diameter_m / 2 - making.wall_m
        factor = flat_end_factor(rim_m, within_m + making.wall_m)
        yields = np.minimum(
            cylinder_yield_difference_Pa(making.yield_Pa, radius_m, making.wall_m),
            flat_end_yield_difference_Pa(making.yield_Pa, factor, rim_m, making.end_wall_m),
        )
    weakest = np.minimum(yields, by_tube) / making.yield_safety
    return np.asarray(np.minimum(buckles / making.buckling_safety, weakest))
