"""Walls of the field: sections of vessels against boundary integrals, fields in space, exact forms and laws."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu
from scipy.special import ellipk

from onedatum.foundation.errors import ValidityError
from onedatum.physics.capacitive import between_walls_radius_m, in_rectangle_radius_m, off_axis_radius_m
from onedatum.physics.capacitive.field import (
    Probe,
    Vessel,
    capacitance_curve,
    charge_through_F,
    checked_curve,
    equipotentials,
    field_at,
    rectangular_wall,
    round_wall,
    tube_wall,
)
from onedatum.physics.capacitive.field.elements import element_matrices_m
from onedatum.physics.capacitive.field.mesh import FREE
from onedatum.physics.capacitive.field.mesh import ROD as ROD_NODE
from onedatum.physics.capacitive.field.solve import permittivities
from onedatum.physics.capacitive.plane import Rod, Section, Strip, equivalent_radius_m, section_capacitance_F_per_m
from onedatum.physics.vessels import (
    Body,
    box,
    conical_end,
    ellipsoidal_end,
    flat_end,
    hopper,
    lying_cylinder,
    sections_at_gauge,
    spheroid,
    stacked,
    torispherical_end,
    upright_cylinder,
)
from tests.closeness import close
from tests.physics.test_capacitive_field import COATED, MM, TANK, TANK_ROD, number
from tests.reference import case

RING = 20 * MM
ROD = Probe(5 * MM, 0.1, ring_radius_m=RING)


def walled(body: Body, off: float = 0.0, ring: float = RING) -> Vessel:
    sections = sections_at_gauge(body)
    return round_wall(sections.heights_m, sections.half_widths_m, 5 * MM, off, ring)


def four_walled(body: Body, off: float = 0.0, ring: float = RING) -> Vessel:
    found = sections_at_gauge(body)
    ends = found.to_near_end_m, found.to_far_end_m
    return rectangular_wall(found.heights_m, found.half_widths_m, ends, 5 * MM, off, ring)


# ---------------------------------------------------------------- the rectangle


def by_strips(rod: float, width: float, length: float, side: float, end: float) -> float:
    """Equivalent radius by the boundary integral: four earthed strips that leave a slit at each corner."""
    closed = 1.0 - 2e-3
    strips = (
        Strip((0.5 * length, 0.0), length * closed),
        Strip((0.5 * length, width), length * closed),
        Strip((0.0, 0.5 * width), width * closed, 0.5 * np.pi),
        Strip((length, 0.5 * width), width * closed, 0.5 * np.pi),
    )
    found = section_capacitance_F_per_m(Section((Rod((end, side), rod),), 1.0, strips=strips)).real
    return float(equivalent_radius_m(rod, found, 1.0))


@pytest.mark.parametrize(
    ("measures", "off"),
    [
        ((5 * MM, 1.0, 1.0, 0.5, 0.5), 1e-9),
        ((5 * MM, 1.0, 6.0, 0.5, 3.0), 1e-9),
        ((5 * MM, 2.0, 3.0, 0.6, 0.4), 5e-6),
        ((5 * MM, 3.0, 2.0, 0.4, 0.6), 5e-6),
        ((20 * MM, 1.0, 2.0, 0.1, 0.1), 3e-3),
    ],
)
def test_a_rectangle_by_its_four_walls(measures: tuple[float, ...], off: float) -> None:
    """Against the boundary integral of the four walls, rod of its real thickness: to the error the formula prints."""
    rod, width, length, side, end = measures
    found, whole = in_rectangle_radius_m(rod, width, length, side, end), by_strips(rod, width, length, side, end)
    close(np.log(found / rod), np.log(whole / rod), off * np.log(whole / rod), "the error that is stated")


def test_a_square_and_a_strip_are_rectangles() -> None:
    """S/K(k^2 = 1/2), the complete elliptic integral by scipy; 2W/pi between two walls: both exact, derived."""
    close(in_rectangle_radius_m(5 * MM, 1.0, 1.0, 0.5, 0.5), 1.0 / ellipk(0.5), 1e-12, "conformal map of the square")
    close(in_rectangle_radius_m(5 * MM, 2.0, 80.0, 1.0, 40.0), between_walls_radius_m(2.0), 1e-12, "ends far away")


def test_a_slice_of_a_lying_cylinder_by_two_walls() -> None:
    """Its 2W/pi against the boundary integral of two wide walls: 6.5e-5 is what the reference allows."""
    walls = Strip((0.0, -0.5), 20.0), Strip((0.0, 0.5), 20.0)
    found = section_capacitance_F_per_m(Section((Rod((0.0, 0.0), 5 * MM),), 1.0, strips=walls)).real
    exact = np.log(equivalent_radius_m(5 * MM, found, 1.0) / (5 * MM))
    close(np.log(between_walls_radius_m(1.0) / (5 * MM)), exact, 6.5e-5 * exact, "as stated")


def test_a_rectangle_is_the_same_from_every_corner() -> None:
    """Symmetry: mirrored either way, and with width and length exchanged."""
    found = in_rectangle_radius_m(5 * MM, 2.0, 3.0, 0.6, 0.4)
    for other in ((2.0, 3.0, 1.4, 0.4), (2.0, 3.0, 0.6, 2.6), (3.0, 2.0, 0.4, 0.6)):
        close(in_rectangle_radius_m(5 * MM, *other), found, 1e-12, "rounding")


# ---------------------------------------------------------------- vessels of their own shape


def test_the_lying_cylinder_by_its_own_outline() -> None:
    """Two adjustment levels, against the field in space: within 0.09 % of the span, as the reference states."""
    given, empty = case("capacitance-hcyl_norm"), case("capacitance-hcyl_empty")
    diameter, length = number(given, "vessel_diameter"), number(given, "vessel_length")
    end = flat_end(diameter)
    wall = four_walled(lying_cylinder(length, end, end), ring=number(given, "gland_radius"))
    probe = Probe(0.5 * number(given, "rod_diameter"), number(given, "tip_gap"), ring_radius_m=RING)
    fluids = number(given, "eps_liquid"), number(given, "eps_gas")
    found = checked_curve(probe, wall, MM * np.array(given.value("levels")), *fluids).capacitances_F
    given.check(((found - found[0]) / (found[-1] - found[0]))[1:-1])
    empty.check(capacitance_curve(probe, wall, [1.0], number(empty, "eps_r"))[0] * 1e12)


def test_a_taller_dished_end_reads_between_two_flat_tanks() -> None:
    """Laplace: the more earth is near, the more the rod holds; so for one tank within the other (derived)."""
    bowl = walled(upright_cylinder(2.0, ellipsoidal_end(2.0, 0.5), flat_end(2.0)))
    levels = [0.9, 1.6, 2.2]
    dished = capacitance_curve(replace(ROD, tip_height_m=0.6), bowl, levels, 2.3)
    short, tall = (
        capacitance_curve(replace(ROD, tip_height_m=0.6), Vessel(np.array([foot, 2.5]), np.ones(2)), levels, 2.3)
        for foot in (0.5, 0.0)
    )
    assert (tall < dished).all()
    assert (dished < short).all()


BODIES = (
    upright_cylinder(3.0, torispherical_end(2.0, 2.0, 0.2), torispherical_end(2.0, 2.0, 0.2)),
    upright_cylinder(3.0, conical_end(2.0, 0.8), conical_end(2.0, 0.5)),
    upright_cylinder(3.0, ellipsoidal_end(2.0, 1.0), ellipsoidal_end(2.0, 1.0)),
    spheroid(2.0, 2.0),
)


@pytest.mark.parametrize("off", [0.0, 0.4])
@pytest.mark.parametrize("body", BODIES, ids=lambda body: str(body.told()))
def test_every_round_shape_resolves_and_keeps_the_ratio(body: Body, off: float) -> None:
    """Full over empty is the ratio of the permittivities, whatever the wall; and two meshes agree."""
    wall = walled(body, off)
    probe = replace(ROD, tip_height_m=wall.bottom_m + 0.1)
    levels = np.linspace(wall.bottom_m + 0.1, wall.top_m, 5)
    assert checked_curve(probe, wall, levels, 2.3).refined_difference < 1e-3
    empty, full = capacitance_curve(probe, wall, [wall.bottom_m, wall.top_m], 2.3, 1.0)
    close(full / empty, 2.3, 1e-11, "rounding")


@pytest.mark.parametrize("off", [0.0, 0.3])
@pytest.mark.parametrize("body", [box(3.0, 2.0, 1.5), stacked(hopper(0.4, 0.3, 3.0, 2.0, 1.1), box(3.0, 2.0, 1.5))])
def test_boxes_and_hoppers_resolve(body: Body, off: float) -> None:
    wall = four_walled(body, off)
    probe = replace(ROD, tip_height_m=wall.bottom_m + 0.1)
    levels = np.linspace(wall.bottom_m + 0.1, wall.top_m, 5)
    assert checked_curve(probe, wall, levels, 2.3).refined_difference < 1e-3
    close(wall.radii_m[-1], in_rectangle_radius_m(5 * MM, 2.0, 3.0, 1.0 - off, 1.5), 1e-9, "by its own formula")


def test_off_the_axis_the_wall_is_that_of_the_exact_form() -> None:
    wall = walled(upright_cylinder(4.0, flat_end(3.0), flat_end(3.0)), 0.9)
    close(wall.radii_m, np.full(len(wall.radii_m), off_axis_radius_m(5 * MM, 1.5, 0.9)), 1e-12, "1.2 of the forms")


def test_the_foot_of_a_rod_beside_the_axis_is_where_the_plumb_line_leaves() -> None:
    """A cone 1 m wide and 0.8 m deep: 0.4 m off its axis the wall stands 0.32 m high, less what the rod is thick."""
    wall = walled(upright_cylinder(3.0, conical_end(2.0, 0.8), flat_end(2.0)), 0.4)
    close(wall.bottom_m, 0.8 * 0.405, 1e-9, "similar triangles")
    assert wall.radii_m[0] == 0.0


def test_the_roof_is_the_one_above_the_rod() -> None:
    """A conical roof 0.5 m high on a radius of 1 m: 0.4 m off the axis it is 0.2 m lower, less ring and rod."""
    roofed = upright_cylinder(3.0, flat_end(2.0), conical_end(2.0, 0.5))
    close(walled(roofed).top_m, 3.5 - 0.5 * RING, 1e-9, "where the cone is as wide as the ring")
    beside = walled(roofed, 0.4)
    assert 3.3 - RING < beside.top_m < 3.3
    close(beside.radii_m[-1], RING, 1e-9, "it ends in the ring")


def test_a_crown_is_closed_by_a_level_roof() -> None:
    """Of a sphere the level part lies 1/300 of its radius too high at most: derived, a slope of 1 in 12."""
    wall = walled(spheroid(2.0, 2.0))
    close(wall.top_m, 2.0, 1e-9, "as high as the sphere")
    true = np.sqrt(np.maximum(1.0 - (wall.heights_m - 1.0) ** 2, 0.0))
    outside = wall.radii_m > true + 1e-9
    height = 1.0 + np.sqrt(1.0 - wall.radii_m[outside] ** 2)
    assert (wall.heights_m[outside] - height < 1.0 / 300.0).all()


def test_a_step_of_the_wall_becomes_a_short_cone() -> None:
    wall = round_wall(np.array([0.0, 1.0, 1.0, 2.0]), np.array([1.0, 1.0, 0.8, 0.8]), 5 * MM, 0.0, RING)
    close(wall.heights_m, np.array([0.0, 1.0, 1.1, 2.0]), 1e-12, "half as high as it is wide")
    assert checked_curve(ROD, wall, [0.5, 1.5], 2.3).refined_difference < 1e-3


def test_a_tube_is_a_coaxial_line() -> None:
    """Bare and full: 2*pi*eps/ln(R/a) per metre (derived), and what the open end adds, the same at every level."""
    wall = tube_wall(12.5 * MM, 0.05, 2.5)
    found = capacitance_curve(Probe(5 * MM, 0.05), wall, [0.5, 1.0, 2.4], 2.3)
    per_metre = 2 * np.pi * 8.8541878188e-12 * 1.3 / np.log(2.5)
    close(np.diff(found), per_metre * np.array([0.5, 1.4]), 1e-4 * float(found[-1]), "exact away from the end")


@pytest.mark.parametrize(
    ("off", "ring", "words"),
    [(2.0, RING, "place of the rod must be within the vessel"), (0.0, 1.5, "place of the rod must be within")],
)
def test_a_rod_that_stands_outside_is_named(off: float, ring: float, words: str) -> None:
    body = upright_cylinder(3.0, conical_end(2.0, 0.8), conical_end(2.0, 0.5))
    with pytest.raises(ValidityError, match=words):
        walled(body, off, ring)


# ---------------------------------------------------------------- the potentials and their lines


@pytest.mark.parametrize(
    ("probe", "vessel", "liquid"),
    [(TANK_ROD, TANK, 2.3), (COATED, Vessel.upright(0.5, 2.0), 80.0 - 9000.0j)],
)
def test_potentials_against_a_sparse_solver(probe: Probe, vessel: Vessel, liquid: complex) -> None:
    """All nodes at once by scipy's sparse elimination: the same equations, put together and solved another way."""
    field = field_at(probe, vessel, 0.7, liquid)
    mesh = field.mesh
    line, coating = mesh.line(0.7), probe.coating_permittivity or 1.0
    eps = permittivities(mesh, line, liquid, 1.0, coating)
    values = (eps[..., None, None] * element_matrices_m(mesh)).reshape(-1, 81)
    layers, columns, width = *mesh.coated.shape, mesh.held.shape[1]
    first = (2 * np.arange(layers)[:, None] * width + 2 * np.arange(columns)[None, :]).reshape(-1, 1)
    nodes = first + (np.arange(3)[:, None] * width + np.arange(3)[None, :]).reshape(1, 9)
    places = np.repeat(nodes, 9, axis=1).ravel(), np.tile(nodes, (1, 9)).ravel()
    whole = coo_matrix((values.ravel(), places), shape=(mesh.held.size,) * 2).tocsr()
    held = mesh.held.ravel()
    potential = (held == ROD_NODE).astype(values.dtype)
    free = np.flatnonzero(held == FREE)
    potential[free] = splu(whole[free][:, free].tocsc()).solve(-(whole @ potential)[free])
    close(np.abs(field.potentials_V.ravel() - potential) + 1.0, np.ones(held.size), 1e-10, "rounding")


def test_lines_of_equal_potential_of_a_coaxial_line() -> None:
    """Far from its end u = ln(R/r)/ln(R/a), so that the line of u lies at a**u*R**(1 - u) (derived)."""
    field = field_at(Probe(5 * MM, 0.05), tube_wall(50 * MM, 0.05, 1.0), 0.5, 2.3)
    for line in equipotentials(field, (0.9, 0.5, 0.1)):
        row = int(np.argmin(np.abs(line.heights_m - 0.8)))
        expected = (5 * MM) ** line.potential_V * (50 * MM) ** (1.0 - line.potential_V)
        close(line.radii_m[row], expected, 2e-3 * expected, "straight between the parts of the elements")


def test_lines_run_from_the_axis_to_the_roof_one_within_the_other() -> None:
    lines = equipotentials(field_at(TANK_ROD, TANK, 1.0, 2.3), (0.8, 0.5, 0.2))
    assert [line.potential_V for line in lines] == [0.8, 0.5, 0.2]
    for line in lines:
        assert line.radii_m[0] == 0.0
        assert (np.diff(line.heights_m) >= 0.0).all()
        close(line.heights_m[-1], 4.0, 1e-9, "the roof")
    feet, reach = [line.heights_m[0] for line in lines], [float(line.radii_m.max()) for line in lines]
    assert feet == sorted(feet, reverse=True)
    assert reach == sorted(reach)


@pytest.mark.parametrize("liquid", [2.3, 80.0 - 9000.0j])
def test_flux_of_a_coated_rod_in_a_dished_tank(liquid: complex) -> None:
    """Gauss's law, in the tank that a case would have: two cans hold the capacitance, asked to 1e-3."""
    wall = walled(upright_cylinder(1.5, ellipsoidal_end(1.0, 0.25), flat_end(1.0)))
    field = field_at(COATED, wall, 0.7, liquid)
    for can in ((9 * MM, 0.01), (17 * MM, 0.03)):
        found = charge_through_F(field, *can) / field.capacitance_F
        close(abs(found - 1.0) + 1.0, 1.0, 1e-3, "asked: 1e-3")
