"""The section of a probe in the plane: against closed forms, multipoles, line charges in layers, and itself turned."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M as EPS
from onedatum.physics.capacitive.line import in_series_F_per_m, line_capacitance_F_per_m
from onedatum.physics.capacitive.plane import (
    Interface,
    Rod,
    Section,
    Strip,
    Tank,
    coated_off_axis_F_per_m,
    equivalent_radius_m,
    rod_before_strip_F_per_m,
    section_capacitance_F_per_m,
    solve,
    twin_rods_in_plastic_tank_F_per_m,
)
from onedatum.physics.capacitive.plane.orders import first_orders, outlines
from onedatum.physics.capacitive.plane.outlines import CircleOutline, StripOutline
from onedatum.physics.capacitive.plane.solve import charge
from onedatum.physics.capacitive.section import (
    before_strip_radius_m,
    before_wall_radius_m,
    off_axis_radius_m,
    two_rods_radius_m,
)
from tests.closeness import close, printed
from tests.reference import Case, case

PF, MM = 1e-12, 1e-3
CENTRE = (0.0, 0.0)
EXACT = 1e-11
"""Share by which the section may differ from a closed form: rounding of a few hundred equations."""


def half(given: Case, name: str) -> float:
    """A radius from the diameter that the case states in mm."""
    return float(given.value(name)) * MM / 2


def same(section: Section, expected: Any, within: float = EXACT, why: str = "rounding of the equations") -> complex:
    """The capacitance of a section, held against an expected one in both its parts."""
    found = section_capacitance_F_per_m(section)
    size = abs(expected)
    close(found.real / size, complex(expected).real / size, within, why)
    assert abs(found.imag - complex(expected).imag) <= within * size
    return found


def in_tank(off: float, rod: float, tank: float, permittivity: complex = 1.0) -> Section:
    return Section((Rod((off, 0.0), rod),), permittivity, tank=Tank(CENTRE, tank))


def pair(a: float, b: float, apart: float, permittivity: complex = 1.0, angle: float = 0.0) -> Section:
    other = cmath.rect(apart, angle)
    return Section((Rod(CENTRE, a), Rod((other.real, other.imag), b, live=False)), permittivity)


# ---------------------------------------------------------------- exact closed forms: derived, Laplace in the plane


def test_a_rod_off_the_axis() -> None:
    given = case("capacitance-ecc_rod_3m")
    rod, tank, off = half(given, "rod_diameter"), half(given, "tank_diameter"), given.value("offset") * MM
    permittivity = given.value("eps_r")
    exact = line_capacitance_F_per_m(rod, off_axis_radius_m(rod, tank, off), permittivity)
    given.check(same(in_tank(off, rod, tank, permittivity), exact).real / PF)


@pytest.mark.parametrize("off", [0.0, 0.3, 1.2, 1.45, 1.48])
def test_a_rod_nearer_and_nearer_to_the_wall(off: float) -> None:
    same(in_tank(off, 0.005, 1.5, 2.0), line_capacitance_F_per_m(0.005, off_axis_radius_m(0.005, 1.5, off), 2.0))


def test_two_rods() -> None:
    given = case("capacitance-two_rods_equal")
    a, b = half(given, "rod_diameter"), half(given, "rod2_diameter")
    apart, permittivity = given.value("spacing") * MM, given.value("eps_r")
    exact = line_capacitance_F_per_m(a, two_rods_radius_m(a, b, apart), permittivity)
    given.check(same(pair(a, b, apart, permittivity, 0.7), exact).real / PF)


@pytest.mark.parametrize(("a", "b", "apart"), [(0.007, 0.008, 0.15), (0.005, 0.005, 0.0102), (0.002, 0.05, 0.056)])
def test_two_rods_of_any_size_and_gap(a: float, b: float, apart: float) -> None:
    same(pair(a, b, apart), line_capacitance_F_per_m(a, two_rods_radius_m(a, b, apart), 1.0))


def test_a_rod_before_a_wall_is_half_of_it_and_its_image() -> None:
    given = case("capacitance-rod_plane")
    rod, off = half(given, "rod_diameter"), given.value("axis_to_wall") * MM
    found = 2 * section_capacitance_F_per_m(pair(rod, rod, 2 * off, given.value("eps_r"))).real
    given.check(found / PF)
    exact = float(line_capacitance_F_per_m(rod, before_wall_radius_m(rod, off), given.value("eps_r")))
    close(found, exact, EXACT * exact, "derived: the field of the image")


@pytest.mark.parametrize("permittivities", [(2.1, 3.5, 1.8), (2.1, 30.0, 80.0 - 3.0j), (9.0 - 0.1j, 1.0, 4.0 - 40j)])
def test_three_layers_about_one_axis(permittivities: tuple[complex, ...]) -> None:
    """Derived: the same charge on either side of each layer, whatever leaks."""
    radii = (0.005, 0.007, 0.0075, 0.2)
    first, second, last = permittivities
    bounds = (Interface(CENTRE, radii[2], second), Interface(CENTRE, radii[1], first))
    layers = zip(radii[1:], radii, permittivities, strict=False)
    exact = 2 * math.pi * EPS / sum(math.log(outer / inner) / number for outer, inner, number in layers)
    same(replace(in_tank(0.0, radii[0], radii[3], last), interfaces=bounds), exact)


def test_a_coated_rod_in_oil_and_in_what_nearly_conducts() -> None:
    oil, conductive = case("capacitance-coated_oil"), case("capacitance-coated_conductive")
    a, b, tank = (half(oil, name) for name in ("core_diameter", "coating_outer_diameter", "tank_diameter"))
    coating = oil.value("coating_eps_r")
    found = coated_off_axis_F_per_m(a, b, tank, 0.0, coating, oil.value("eps_r"))
    oil.check(found / PF)
    alone = line_capacitance_F_per_m(a, b, coating)
    exact = float(in_series_F_per_m(alone, line_capacitance_F_per_m(b, tank, oil.value("eps_r"))))
    close(found, exact, 1e-11 * exact, "rounding of the equations")
    nearly = coated_off_axis_F_per_m(a, b, tank, 0.0, coating, 1e6)
    exact = float(in_series_F_per_m(alone, line_capacitance_F_per_m(b, tank, 1e6)))
    close(nearly, exact, 1e-11 * exact, "rounding of the equations")
    conductive.check(coated_off_axis_F_per_m(a, b, tank, 0.3, coating, 1e9) / PF)


def test_a_coated_rod_in_a_liquid_that_leaks() -> None:
    charged, leaked = case("capacitance-coated_complex_C"), case("capacitance-coated_complex_G")
    a, b, tank = (half(charged, name) for name in ("core_diameter", "coating_outer_diameter", "tank_diameter"))
    turning = 2 * math.pi * charged.value("frequency") * 1e3
    liquid = charged.value("eps_r") - 1j * charged.value("conductivity") * 1e-4 / (turning * EPS)
    section = replace(in_tank(0.0, a, tank, liquid), interfaces=(Interface(CENTRE, b, charged.value("coating_eps_r")),))
    found = section_capacitance_F_per_m(section)
    charged.check(found.real / PF)
    leaked.check((1j * turning * found).real * 1e6)


# ---------------------------------------------------------------- no closed form: other ways to the same field


def by_multipoles(core: float, coating: float, tank: float, off: float, kinds: tuple[float, float]) -> float:
    """A coated rod off the axis: powers about the rod and about the tank, fitted to the conditions at the circles."""
    of_coating, of_liquid = kinds
    waves, turns = np.arange(1, 61), np.exp(1j * np.linspace(0.01, np.pi - 0.01, 240))
    rim, wall = turns, (tank * turns - off) / coating
    small, far = core / coating, tank / coating

    def outside(at: Any) -> Any:
        return np.hstack([np.log(np.abs(at))[:, None], np.real(at[:, None] ** -waves)])

    def within_tank(at: Any) -> Any:
        return np.real(((at + off / coating) / far)[:, None] ** np.append(0, waves))

    def its_slope(at: Any) -> Any:
        one = (at + off / coating) / far
        return np.hstack([np.zeros((len(at), 1)), np.real(at[:, None] * waves * one[:, None] ** (waves - 1)) / far])

    cosines = np.real(rim[:, None] ** waves)
    held = np.hstack([np.full((240, 1), -math.log(small)), cosines * (1 - small ** (2.0 * waves))])
    slope = np.hstack([np.ones((240, 1)), cosines * waves * (1 + small ** (2.0 * waves))]) * of_coating
    slope_outside = np.hstack([np.ones((240, 1)), -cosines * waves]) * of_liquid
    matrix = np.vstack(
        [
            np.hstack([held, -outside(rim), -within_tank(rim)]),
            np.hstack([slope, -slope_outside, -its_slope(rim) * of_liquid]),
            np.hstack([np.zeros((240, 61)), outside(wall), within_tank(wall)]),
        ]
    )
    size = np.max(np.abs(matrix), axis=0)
    found = np.linalg.lstsq(matrix / size, np.repeat([-1.0, 0.0, 0.0], 240))[0] / size
    return float(-2 * np.pi * EPS * of_coating * found[0])


@pytest.mark.parametrize("liquid", [2.3, 10.0, 80.0])
def test_a_coated_rod_off_the_axis_against_multipoles(liquid: float) -> None:
    """Derived: multipoles fitted by least squares, no integral of charge."""
    found = coated_off_axis_F_per_m(0.005, 0.007, 0.05, 0.02, 2.1, liquid)
    other = by_multipoles(0.005, 0.007, 0.05, 0.02, (2.1, liquid))
    close(found, other, 1e-9 * other, "what is left of the multipoles beyond the 60th")


def test_the_form_in_series_is_as_far_off_as_it_says() -> None:
    """2e-5 high for a 14/10 mm rod 0.3 m off the axis of a tank 1 m across: so its docstring."""
    outside = line_capacitance_F_per_m(0.007, off_axis_radius_m(0.007, 0.5, 0.3), 2.3)
    form = in_series_F_per_m(line_capacitance_F_per_m(0.005, 0.007, 2.1), outside)
    excess = form / coated_off_axis_F_per_m(0.005, 0.007, 0.5, 0.3, 2.1, 2.3) - 1
    assert 1.5e-5 < excess < 2.5e-5


def test_a_rod_before_a_strip_against_multipoles() -> None:
    """The case was worked by multipoles in the rod; the thin form errs as its docstring says."""
    given, thin = case("capacitance-rod_strip_field"), case("capacitance-rod_strip_thin")
    rod, off = half(given, "rod_diameter"), given.value("axis_to_strip") * MM
    width = given.value("strip_width") * MM
    found = rod_before_strip_F_per_m(rod, off, width, given.value("eps_r"))
    given.check(found / PF)
    close(found / PF, given.expected, 1e-8, "the digits printed")
    form = line_capacitance_F_per_m(rod, before_strip_radius_m(off, width), 1.0)
    thin.check(form / PF)
    assert 3.4e-4 < 1 - form / found < 3.6e-4
    thick = rod_before_strip_F_per_m(2 * rod, off, width, 1.0)
    assert 1.6e-3 < 1 - line_capacitance_F_per_m(2 * rod, before_strip_radius_m(off, width), 1.0) / thick < 1.8e-3


@pytest.mark.parametrize("place", [0.1j, 0.15 + 0.0j, 0.07 - 0.05j, -0.2 + 0.3j])
@pytest.mark.parametrize("angle", [0.0, 0.8])
def test_a_thin_rod_anywhere_before_a_strip(place: complex, angle: float) -> None:
    """Derived: the plane round the strip opened out to that round a circle, in which the rod has one image."""
    at, turn = place / 0.1, cmath.rect(1.0, angle)
    around = at + cmath.sqrt(at - 1) * cmath.sqrt(at + 1)
    slope = 2 / (0.1 * (1 - around**-2))
    radius = (abs(around) ** 2 - 1) / abs(slope)
    centre = place * turn + 0.5 - 0.3j
    rods = (Rod((centre.real, centre.imag), 1e-6),)
    section = Section(rods, 3.0, strips=(Strip((0.5, -0.3), 0.2, angle),))
    exact = line_capacitance_F_per_m(1e-6, radius, 3.0)
    same(section, exact, 1e-9, "square of radius over distance")


def test_a_strip_before_a_thin_rod_and_a_strip_as_wide_as_a_wall() -> None:
    """Derived: the thin form is exact for a rod of no thickness; what a wall has more than a strip falls as 1/B^2."""
    thin = float(line_capacitance_F_per_m(1e-6, before_strip_radius_m(0.1, 0.2), 1.0))
    close(rod_before_strip_F_per_m(1e-6, 0.1, 0.2, 1.0), thin, 1e-9 * thin, "square of radius over distance")
    wall = line_capacitance_F_per_m(0.02, before_wall_radius_m(0.02, 0.1), 1.0)
    widths = np.array([2.0, 4.0])
    lack = wall - np.asarray(rod_before_strip_F_per_m(0.02, 0.1, widths, 1.0))
    assert np.all(lack > 0.0)
    close(lack[0] / lack[1], 4.0, 0.05, "the next term, as 1/B^4")


@pytest.mark.parametrize("kinds", [(2.3, 2.3, 1.0), (2.3, 80.0, 1.0), (5.0, 1.9, 81.0), (1e5, 2.0, 1.0)])
@pytest.mark.parametrize(("tank", "wall"), [(0.06, 0.01), (0.5, 0.002)])
def test_twin_rods_against_line_charges_in_layers(kinds: tuple[float, float, float], tank: float, wall: float) -> None:
    """Derived: two thin rods are two line charges, what the layers send back is summed wave by wave."""
    of_wall, liquid, outside = kinds
    rod, apart = 1e-6, 0.1
    waves = np.arange(1, 401, 2)
    first, second = (liquid - of_wall) / (liquid + of_wall), (of_wall - outside) / (of_wall + outside)
    through = second * (tank / (tank + wall)) ** (2.0 * waves)
    back = (first + through) / (1 + first * through) * (apart / 2 / tank) ** (2.0 * waves) / waves
    thin = math.pi * EPS * liquid / (math.log(apart / rod) + 2 * float(np.sum(back)))
    found = twin_rods_in_plastic_tank_F_per_m(rod, rod, apart, tank, wall, of_wall, liquid, outside)
    close(found, thin, 1e-9 * thin, "square of radius over gap")


@pytest.mark.parametrize(
    ("across", "liquid", "less"), [(0.2, 80.0, "14"), (0.5, 2.3, "1.0"), (0.5, 80.0, "2.5"), (1.0, 2.3, "0.25")]
)
def test_what_a_plastic_tank_takes_from_twin_rods(across: float, liquid: float, less: str) -> None:
    """Per cent less than in liquid without end; the digits are those of another boundary integral by another writer."""
    free = line_capacitance_F_per_m(0.005, two_rods_radius_m(0.005, 0.005, 0.1), liquid)
    held = twin_rods_in_plastic_tank_F_per_m(0.005, 0.005, 0.1, across / 2, 0.01, 2.3, liquid, 1.0)
    assert 100 * (1 - held / free) == printed(less)


def test_one_liquid_everywhere_is_no_tank() -> None:
    """Derived: what is outside, in the wall and inside alike is not there."""
    found = twin_rods_in_plastic_tank_F_per_m(0.005, 0.008, 0.1, 0.08, 0.01, 3.0, 3.0, 3.0)
    exact = float(line_capacitance_F_per_m(0.005, two_rods_radius_m(0.005, 0.008, 0.1), 3.0))
    close(found, exact, 1e-11 * exact, "rounding of the equations")


# ---------------------------------------------------------------- the waves themselves


@pytest.mark.parametrize(
    ("line", "inside"),
    [
        (CircleOutline(0.1 + 0.2j, 0.5, 4), False),
        (CircleOutline(0.1 + 0.2j, 0.5, 4), True),
        (CircleOutline(0.1 + 0.2j, 0.5, 4, cmath.rect(1.0, 0.4)), False),
        (CircleOutline(0.1 + 0.2j, 0.5, 4, cmath.rect(1.0, 0.4)), True),
        (StripOutline(0.1 + 0.2j, cmath.rect(0.3, 0.4), 5), False),
        (StripOutline(0.1 + 0.2j, cmath.rect(0.3, 0.4), 5, even=True), False),
    ],
)
def test_slopes_are_those_of_the_potentials(line: CircleOutline | StripOutline, inside: bool) -> None:
    places = np.array([0.3 + 0.3j, -0.1 + 0.4j, 0.1 - 0.1j]) if inside else np.array([1.0 + 0.2j, -0.5j - 0.1, 0.9j])
    normals, step = np.exp(1j * np.array([0.3, 2.0, 4.0])), 1e-5
    steps = (line.potentials(places + side * step * normals) for side in (1, -1))
    ahead, behind = steps
    close(line.slopes(places, normals, inside), (ahead - behind) / (2 * step), 1e-8, "differences, second order")


@pytest.mark.parametrize("place", [0.35 + 0.4j, 0.1 + 0.25j, 1.0 - 1.0j])
def test_potentials_are_those_of_the_charge_summed(place: complex) -> None:
    """Each wave of charge as four thousand line charges: even about a circle, even in the angle of a strip."""
    turns = 2 * np.pi * (np.arange(4000) + 0.5) / 4000
    around = CircleOutline(0.1 + 0.2j, 0.5, 2)
    far = -np.log(np.abs(place - around.centre - around.radius * np.exp(1j * turns)))
    waves = np.array([np.ones(4000), np.cos(turns), np.cos(2 * turns), np.sin(turns), np.sin(2 * turns)])
    close(around.potentials(np.array([place]))[0], waves @ far / 4000, 1e-9, "sum over a smooth circle")
    strip = StripOutline(0.1 + 0.2j, cmath.rect(0.3, 0.4), 2)
    off = -np.log(np.abs(place - strip.middle - strip.half * np.cos(turns)))
    parts = np.array([np.ones(4000), np.cos(turns), np.cos(2 * turns)])
    close(strip.potentials(np.array([place]))[0], parts @ off / 4000, 1e-9, "sum over a smooth angle")


def test_too_few_waves_are_doubled_until_nothing_changes(monkeypatch: pytest.MonkeyPatch) -> None:
    section = pair(0.005, 0.006, 0.0116)
    exact = float(line_capacitance_F_per_m(0.005, two_rods_radius_m(0.005, 0.006, 0.0116), 1.0))
    few = 2 * math.pi * EPS * charge(section, outlines(section, [2, 2])).real
    assert abs(few / exact - 1) > 1e-3
    monkeypatch.setattr(solve, "first_orders", lambda _: [2, 2])
    same(section, exact)


# ---------------------------------------------------------------- laws of any section


def many(angle: float, shift: complex, liquid: complex, strip: bool = True) -> Section:
    """A coated and a bare rod and a strip in a plastic tank with a wall of uneven thickness."""

    def at(place: complex) -> tuple[float, float]:
        turned = place * cmath.rect(1.0, angle) + shift
        return turned.real, turned.imag

    bounds = (
        Interface(at(-0.05), 0.007, 2.1),
        Interface(at(0.0), 0.2, liquid),
        Interface(at(0.01), 0.25, 2.3),
    )
    strips = (Strip(at(0.12), 0.08, math.pi / 2 + angle),) if strip else ()
    return Section((Rod(at(-0.05), 0.005), Rod(at(0.05), 0.006, live=False)), 1.0, bounds, strips)


@pytest.mark.parametrize("liquid", [80.0, 80.0 - 3.0j])
def test_a_section_may_be_turned_and_shifted(liquid: complex) -> None:
    same(many(0.7, 3.0 - 2.0j, liquid), section_capacitance_F_per_m(many(0.0, 0.0, liquid)))


def test_half_the_waves_do_where_both_sides_are_alike() -> None:
    section = many(0.0, 0.0, 80.0)
    halved = outlines(section, first_orders(section))
    full = [
        CircleOutline(line.centre, line.radius, line.orders)
        if isinstance(line, CircleOutline)
        else StripOutline(line.middle, line.half, 2 * line.orders)
        for line in halved
        if isinstance(line, CircleOutline | StripOutline)
    ]
    assert sum(line.count for line in full) > 1.9 * sum(line.count for line in halved)
    one, other = charge(section, halved).real, charge(section, list(full)).real
    close(one, other, 1e-9 * other, "what the first trial leaves")


def test_more_waves_change_nothing() -> None:
    section = many(0.0, 0.0, 20.0)
    orders = first_orders(section)
    few, more = (charge(section, outlines(section, [times * count for count in orders])).real for times in (1, 3))
    close(few, more, 1e-9 * more, "what the first trial leaves")


def test_live_and_earthed_may_change_places() -> None:
    """Derived: a neutral pair holds the same charge on either."""
    section = many(0.3, 0.1j, 7.0, strip=False)
    rods = tuple(replace(rod, live=not rod.live) for rod in section.rods)
    same(replace(section, rods=rods), section_capacitance_F_per_m(section))


def test_permittivity_times_any_number() -> None:
    """Derived: the field is that of the ratios of the permittivities."""
    section = in_tank(0.1, 0.005, 0.2, 2.0)
    bounds = (Interface((0.1, 0.0), 0.01, 3.0),)
    tenfold = Section(section.rods, 20.0 - 10.0j, (Interface((0.1, 0.0), 0.01, 30.0 - 15.0j),), tank=section.tank)
    same(tenfold, (10.0 - 5.0j) * section_capacitance_F_per_m(replace(section, interfaces=bounds)))


def test_the_equivalent_radius_of_any_section() -> None:
    """That of a rod off the axis is known in closed form."""
    found = section_capacitance_F_per_m(in_tank(0.9, 0.005, 1.5, 2.0)).real
    radius = float(off_axis_radius_m(0.005, 1.5, 0.9))
    close(equivalent_radius_m(0.005, found, 2.0), radius, 1e-10 * radius, "rounding, in an exponent")


def test_an_array_of_sections_with_one_that_cannot_be() -> None:
    off = np.array([0.0, 0.3, 0.6])
    found = np.asarray(coated_off_axis_F_per_m(0.005, 0.007, 0.5, off, 2.1, 2.3))
    assert np.isnan(found).tolist() == [False, False, True]
    one = coated_off_axis_F_per_m(0.005, 0.007, 0.5, 0.3, 2.1, 2.3)
    close(found[1], one, 1e-12 * float(one), "rounding of the equations")


# ---------------------------------------------------------------- what cannot be

LIVE, EARTHED = Rod(CENTRE, 0.005), Rod((0.02, 0.0), 0.005, live=False)
PAIR = Section((LIVE, EARTHED), 2.0)
REFUSED = [
    (in_tank(0.5, 0.005, 0.5), "rod 1 at (500.0 mm, 0 mm)", "clear of tank", "move them apart"),
    (pair(0.005, 0.005, 0.009), "rod 1 at", "clear of rod 2 at (9.000 mm, 0 mm)", "move them apart"),
    (pair(0.005, 0.005, 0.01), "rod 1 at", "touching it", "move them apart"),
    (pair(0.005, 0.05, 0.0), "rod 1 at", "clear of rod 2", "move them apart"),
    (replace(PAIR, interfaces=(Interface(CENTRE, 0.016, 2.1),)), "rod 2 at", "clear of interface 1", "off the wall"),
    (replace(PAIR, interfaces=(Interface(CENTRE, 0.005, 2.1),)), "rod 1 at", "touching it", "coating thicker"),
    (
        replace(PAIR, interfaces=(Interface(CENTRE, 0.011, 2.1), Interface((0.02, 0.0), 0.011, 2.1))),
        "interface 1 at",
        "2.000 mm into it",
        "coating thinner than the gap",
    ),
    (
        replace(in_tank(0.45, 0.005, 0.5), interfaces=(Interface((0.45, 0.0), 0.06, 2.1),)),
        "interface 1 at",
        "10.00 mm into it",
        "thinner than its gap to the tank",
    ),
    (replace(PAIR, permittivity=0.5), "permittivity", "at least 1", "relative to vacuum"),
    (replace(PAIR, permittivity=math.nan), "permittivity", "at least 1", "relative to vacuum"),
    (replace(PAIR, permittivity=2.0 + 1.0j), "permittivity", "at most 0 in its imaginary part", "change the sign"),
    (
        replace(PAIR, interfaces=(Interface(CENTRE, 0.006, 0.9),)),
        "inside_permittivity of interface 1",
        "at least 1",
        "",
    ),
    (replace(PAIR, rods=(replace(LIVE, radius_m=-0.005), EARTHED)), "radius_m of rod 1", "above 0", "real size"),
    (replace(PAIR, rods=(LIVE, replace(EARTHED, radius_m=0.0))), "radius_m of rod 2", "above 0", "real size"),
    (replace(PAIR, rods=(replace(LIVE, centre_m=(0.0, math.nan)), EARTHED)), "place of rod", "finite", "where it lies"),
    (Section((LIVE,), 2.0), "section", "closed by an earthed part", "earthed rod, strip or tank"),
    (Section((EARTHED,), 2.0), "rods", "live", "make the rod of the probe live"),
    (Section((LIVE,), 2.0, strips=(Strip((0.0, 0.004), 0.1),)), "rod 1 at", "1.000 mm into it", "move them apart"),
    (Section((LIVE,), 2.0, strips=(Strip((0.0, 0.02), 0.0),)), "width_m of strip 1", "above 0", "real size"),
    (
        Section((LIVE,), 2.0, strips=(Strip((0.0, 0.02), 0.1), Strip((0.0, 0.02), 0.1, 1.0))),
        "strip 1 at",
        "clear of strip 2",
        "move them apart",
    ),
    (
        Section((LIVE,), 2.0, strips=(Strip((0.0, 0.02), 0.1),), tank=Tank(CENTRE, 0.05)),
        "strip 1 at",
        "clear of tank",
        "move them apart",
    ),
    (
        Section((Rod(CENTRE, 0.1),), 2.0, strips=(Strip((0.01, 0.0), 0.05),)),
        "rod 1 at",
        "clear of strip 1",
        "move them apart",
    ),
    (
        replace(in_tank(0.0, 0.005, 0.5), interfaces=(Interface(CENTRE, 1.0, 2.1),)),
        "interface 1 at",
        "clear of tank",
        "thinner than its gap to the tank",
    ),
    (pair(0.005, 0.005, 0.01 + 1e-9), "rod 1 at", "further off rod 2 at (10.00 mm, 0 mm)", "leave a wider gap"),
    (in_tank(1.4949, 0.005, 1.5), "tank at", "further off rod 1 at", "take a wall so near for a flat one"),
]


@pytest.mark.parametrize(("section", "parameter", "allowed", "remedy"), REFUSED)
def test_what_cannot_be_is_refused_with_place_and_remedy(
    section: Section, parameter: str, allowed: str, remedy: str
) -> None:
    with pytest.raises(ValidityError) as caught:
        section_capacitance_F_per_m(section)
    assert caught.value.parameter.startswith(parameter)
    words = str(caught.value).lower()
    assert allowed.lower() in words
    assert remedy.lower() in words
