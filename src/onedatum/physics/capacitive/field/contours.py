"""The field at one level, for charts: potential on the nodes, and the charge that a surface about the rod encloses."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M
from onedatum.physics.capacitive.field.checks import (
    refusal,
    refuse_levels,
    refuse_permittivities,
    refuse_ratio,
    refuse_shapes,
)
from onedatum.physics.capacitive.field.elements import element_matrices_m, radii_m, shapes
from onedatum.physics.capacitive.field.mesh import Mesh, make_mesh, shields
from onedatum.physics.capacitive.field.shapes import Probe, Vessel
from onedatum.physics.capacitive.field.solve import permittivities, potentials

_BEST = 1.0 / np.sqrt(3.0)
"""Where in a quadratic element its slope is met best."""


@dataclass(frozen=True, eq=False)
class Field:
    """Potential between a rod at 1 V and an earthed vessel, on nodes: heights x radii, in rising order.

    The tables are drawn as they are: contour(radii_m, heights_m, potentials_V). Nodes inside the core are at 1 V.
    """

    radii_m: Reals
    heights_m: Reals
    potentials_V: NDArray[Any]
    permittivities: NDArray[Any]
    """Relative, of the elements: layers x columns, each of two node spacings either way."""
    capacitance_F: Any
    probe: Probe
    vessel: Vessel
    mesh: Mesh


def field_at(
    probe: Probe,
    vessel: Vessel,
    level_m: float,
    liquid_permittivity: complex,
    gas_permittivity: complex = 1.0,
    ratio: float = 1.6,
) -> Field:
    """The field at one level; the rest as in `capacitance_curve`, whose value it gives too, solved another way."""
    fluids = (liquid_permittivity, gas_permittivity)
    refuse_ratio(ratio)
    refuse_shapes(probe, vessel)
    refuse_levels(vessel, np.array([level_m]))
    refuse_permittivities(probe, fluids)
    mesh = make_mesh(probe, vessel, np.array([level_m]), ratio, shields(fluids))
    coating = 1.0 if probe.coating_permittivity is None else probe.coating_permittivity
    line = mesh.line(level_m)
    potential, found = potentials(mesh, element_matrices_m(mesh), line, *fluids, coating)
    radii, heights = _nodes(mesh)
    filled = permittivities(mesh, line, *fluids, coating)
    return Field(radii, heights, potential, filled, VACUUM_PERMITTIVITY_F_PER_M * found, probe, vessel, mesh)


def charge_through_F(field: Field, radius_m: float, below_m: float) -> Any:
    """Charge at 1 V inside a can about the rod, by the field on its surface: the capacitance, however wide the can.

    The can reaches from the top down to about `below_m` under the end of the probe; its radius is about `radius_m`
    there, and follows the columns of the mesh. Q = closed integral of -eps*grad(u).n dA, derived (Gauss). Under a roof
    the can must pass inside the ring, or part of the charge that faces it sits on the roof.
    """
    column, layer = _can(field, radius_m, below_m)
    side = _side_flux_m(field, column, layer)
    lid = sum(_lid_flux_m(field, inner, layer, column) for inner in range(column + 1))
    return VACUUM_PERMITTIVITY_F_PER_M * (side + lid)


def _nodes(mesh: Mesh) -> tuple[Reals, Reals]:
    """Radii and heights of all nodes."""
    place = np.array([-1.0, 0.0, 1.0])
    own = radii_m(mesh, place, place)[0]
    layers, columns = own.shape[:2]
    radii = np.empty((2 * layers + 1, 2 * columns + 1))
    for along in range(3):
        for across in range(3):
            radii[along : along + 2 * layers : 2, across : across + 2 * columns : 2] = own[:, :, along, across]
    heights = np.empty(2 * layers + 1)
    heights[::2], heights[1::2] = mesh.heights_m, 0.5 * (mesh.heights_m[:-1] + mesh.heights_m[1:])
    return radii, np.broadcast_to(heights[:, None], radii.shape).copy()


def _can(field: Field, radius_m: float, below_m: float) -> tuple[int, int]:
    probe, vessel, mesh = field.probe, field.vessel, field.mesh
    widest = vessel.widest_m if vessel.mirrored_top or probe.ring_radius_m is None else probe.ring_radius_m
    if not probe.outer_radius_m < radius_m < widest:
        allowed = f"between the probe ({probe.outer_radius_m:g} m) and the ring or wall ({widest:g} m)"
        raise refusal("radius_m", allowed, f"{radius_m:g} m", "state the radius of a can inside the ring of the gland")
    if not 0.0 < below_m < probe.end_height_m - vessel.bottom_m:
        allowed = f"between 0 and the gap below the probe ({probe.end_height_m - vessel.bottom_m:g} m)"
        raise refusal("below_m", allowed, f"{below_m:g} m", "state a distance that stays above the bottom")
    along = field.radii_m[-1]
    column = int(np.searchsorted(along[::2], radius_m)) - 1
    layer = int(np.searchsorted(mesh.heights_m, probe.end_height_m - below_m)) - 1
    return column, layer


def _element(field: Field, layer: int, column: int, across: Reals, along: Reals) -> tuple[Any, ...]:
    """Slopes of the potential in an element by its own two axes, its radius and the slopes of that."""
    rows, columns = slice(2 * layer, 2 * layer + 3), slice(2 * column, 2 * column + 3)
    (value_x, slope_x), (value_y, slope_y) = shapes(across), shapes(along)
    potential = field.potentials_V[rows, columns]
    mesh = field.mesh
    part = Mesh(
        mesh.heights_m[layer : layer + 2],
        mesh.blocks[column : column + 1],
        mesh.shares[column : column + 1],
        mesh.edges_m[layer : layer + 1],
        mesh.held[rows, columns],
        mesh.coated[layer : layer + 1, column : column + 1],
        mesh.core[layer : layer + 1, column : column + 1],
    )
    radius, over, up = (table[0, 0] for table in radii_m(part, across, along))
    half = 0.5 * float(mesh.heights_m[layer + 1] - mesh.heights_m[layer])
    by_across, by_along = value_y @ potential @ slope_x.T, slope_y @ potential @ value_x.T
    return by_across / over, (by_along - by_across * up / over) / half, radius, over, up, half


def _side_flux_m(field: Field, column: int, layer: int) -> Any:
    """Flux over eps0 outward through the side of the can: -eps*(u_r*dz - u_z*dr)*2*pi*r."""
    points, weights = np.polynomial.legendre.leggauss(4)
    found: Any = 0.0
    for row in range(layer, len(field.mesh.heights_m) - 1):
        low = _BEST if row == layer else -1.0
        along = 0.5 * (low + 1.0) + 0.5 * (1.0 - low) * points
        u_r, u_z, radius, _, up, half = _element(field, row, column, np.array([_BEST]), along)
        flux = -field.permittivities[row, column] * (u_r * half - u_z * up) * 2.0 * np.pi * radius
        found = found + np.sum(0.5 * (1.0 - low) * weights * flux[:, 0])
    return found


def _lid_flux_m(field: Field, column: int, layer: int, last: int) -> Any:
    """Flux over eps0 downward through one column of the bottom of the can: eps*u_z*2*pi*r*dr."""
    points, weights = np.polynomial.legendre.leggauss(4)
    high = _BEST if column == last else 1.0
    across = 0.5 * (high - 1.0) + 0.5 * (high + 1.0) * points
    _, u_z, radius, over, _, _ = _element(field, layer, column, across, np.array([_BEST]))
    flux = field.permittivities[layer, column] * u_z * 2.0 * np.pi * radius * over
    return np.sum(0.5 * (high + 1.0) * weights * flux[0])
