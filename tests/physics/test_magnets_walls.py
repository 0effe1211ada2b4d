"""Walls, particles and materials about magnets: a boundary problem solved anew, worked figures, words of the data."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.sources import citation
from onedatum.physics.magnets import (
    clear_distance_m,
    earth_field,
    echo_length_s,
    field_margin_T,
    field_strength_T,
    magnet_material,
    main_lobe_width_m,
    particle_force_ratio,
    remanence_at_T,
    ring_axial_field_T,
    side_field_after_wall_T,
    side_gradient_T_per_m,
    usual_least_field,
    usual_surroundings,
    wall_reduction,
)
from tests.closeness import close, exact, printed
from tests.reference import case

MT = 1e-3
MATERIALS = ("ferrite", "NdFeB", "SmCo", "AlNiCo")


def by_boundaries(permeability: float, inner: float, outer: float) -> float:
    """Even field across a pipe: potentials A*r + B/r in bore, wall and open, joined at both faces."""
    i, o = inner, outer
    rows = np.array(
        [
            [i, -i, -1 / i, 0.0],
            [0.0, o, 1 / o, -1 / o],
            [1.0, -permeability, permeability / i**2, 0.0],
            [0.0, permeability, -permeability / o**2, 1 / o**2],
        ]
    )
    inside = np.linalg.solve(rows, np.array([0.0, o, 0.0, 1.0]))[0]
    return 1.0 / float(inside)


def test_wall_of_the_reference() -> None:
    stated = case("floats-M08")
    stated.check(wall_reduction(stated.value("mu_r"), stated.value("ri"), stated.value("ro")))


@given(st.floats(1.0, 5000.0), st.floats(0.1, 0.99))
def test_wall_against_the_boundary_problem(permeability: float, bore: float) -> None:
    expected = by_boundaries(permeability, bore, 1.0)
    close(wall_reduction(permeability, bore, 1.0), expected, 1e-9 * expected, "four equations solved")


def test_walls_of_steel_and_of_austenitic_steel() -> None:
    steel = wall_reduction(200.0, 0.0274, 0.0302)
    assert side_field_after_wall_T(0.0117, steel) / MT == printed("1.2")
    assert wall_reduction(1.05, 0.0274, 0.0302) == printed("1.0001")
    exact(wall_reduction(1.0, 0.02, 0.03), 1.0)


def test_particles_at_a_strong_ring() -> None:
    """Steel in water, 24, 27 and 30 mm from the axis: 90, 37 and 15 times its weight (worked independently)."""
    ring = (0.015, 0.020, 0.015, 1.2)
    for distance, text in ((0.024, "90"), (0.027, "37"), (0.030, "15")):
        field, gradient = ring_axial_field_T(0.0, distance, *ring), side_gradient_T_per_m(distance, *ring)
        assert particle_force_ratio(field, gradient, 7800.0, 1000.0, 9.80665) == printed(text)


def test_pull_on_a_sphere_by_its_moment() -> None:
    """A sphere of permeability mu_r: moment 3*V*B*(mu_r - 1)/(mu_r + 2)/mu_0, force moment times gradient."""
    radius, field, gradient, permeability = 5e-5, 0.13, 19.0, 1e5
    volume = 4 / 3 * np.pi * radius**3
    moment = 3 * volume * field * (permeability - 1) / (permeability + 2) / (4e-7 * np.pi)
    expected = moment * gradient / (volume * (7870.0 - 998.0) * 9.81)
    found = particle_force_ratio(-field, gradient, 7870.0, 998.0, 9.81)
    close(found, expected, 1e-4 * expected, "the permeability is not endless")


def test_distance_to_steel() -> None:
    kept = usual_surroundings()
    close(clear_distance_m(0.0604, kept.diameters, kept.least_m), 0.1208, 1e-15, "two diameters")
    exact(clear_distance_m(0.030, kept.diameters, kept.least_m), 0.1)


def test_remanence_falls_with_warmth() -> None:
    """By hand: 0.40 T, 60 K, 0.2 per cent a kelvin."""
    close(remanence_at_T(0.40, magnet_material("ferrite").coefficient_per_K.value, 60.0), 0.352, 1e-15, "by hand")
    exact(remanence_at_T(1.2, -0.0011, 0.0), 1.2)


@pytest.mark.parametrize("material", MATERIALS)
def test_figures_of_materials_lie_in_their_range_and_say_where_they_stand(material: str) -> None:
    found = magnet_material(material)
    for figure in (found.remanence_T, found.coefficient_per_K, found.temperature_max_K):
        assert figure.low <= figure.value <= figure.high
        assert figure.tag == citation(figure.source).source.tag == "from memory"
    exact(found.coefficient_per_K.value, found.coefficient_per_K.low)
    exact(found.temperature_max_K.value, found.temperature_max_K.low)


def test_materials_as_the_chapter_has_them() -> None:
    """Per kelvin -0.2, -0.11, -0.03 to -0.05 per cent; 250, 80 to 200, 300 to 350 degC (from memory)."""
    ferrite, neodymium, samarium = (magnet_material(word) for word in MATERIALS[:3])
    exact([m.coefficient_per_K.value for m in (ferrite, neodymium)], [-0.002, -0.0011])
    exact([samarium.coefficient_per_K.low, samarium.coefficient_per_K.high], [-0.0005, -0.0003])
    ends = [[m.temperature_max_K.low, m.temperature_max_K.high] for m in (ferrite, neodymium, samarium)]
    close(np.array(ends) - 273.15, [[250.0, 250.0], [80.0, 200.0], [300.0, 350.0]], 1e-9, "kelvin and degC")


def test_an_unknown_material_is_refused_with_the_list() -> None:
    with pytest.raises(QuantityError, match="one of ferrite, NdFeB, SmCo, AlNiCo; got iron"):
        magnet_material("iron")


def test_fields_of_common_practice() -> None:
    """3 to 30 mT at the wire, 0.05 mT of the earth (common practice, no source)."""
    least, earth = usual_least_field(), earth_field()
    exact([least.low_T, least.high_T, earth.field_T], [0.003, 0.03, 5e-5])
    assert {least.tag, earth.tag, usual_surroundings().tag} == {"common practice, no source"}
    for kept in (least, earth, usual_surroundings()):
        assert citation(kept.source).source.tag == kept.tag


def test_field_at_the_wire_and_the_length_of_its_echo() -> None:
    """10.46 mm at 2800 m/s: 3.7 us; 89.2 mT against 5 mT, by hand."""
    exact(field_strength_T(-0.0892), 0.0892)
    close(field_margin_T(0.0892, 0.005), 0.0842, 1e-15, "by hand")
    assert echo_length_s(main_lobe_width_m(0.008, 0.0155, 0.010), 2800.0) * 1e6 == printed("3.7")
