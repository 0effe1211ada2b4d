"""Speed of the torsional pulse against worked cases, a bar in pieces, the theory of elasticity and matrices."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import eigh

from onedatum.foundation.errors import QuantityError, ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.sources import citation
from onedatum.foundation.working import apply
from onedatum.physics import magnetostrictive
from onedatum.physics.magnetostrictive import (
    averaged_shear_modulus_Pa,
    relative_speed_change,
    reuss_shear_modulus_Pa,
    section_speed_m_per_s,
    slowness_s_per_m,
    speed_coefficient_per_K,
    speed_of_slowness_m_per_s,
    torsional_speed_m_per_s,
    usual_speed,
    voigt_shear_modulus_Pa,
    waveguide_material,
    waveguide_materials,
)
from tests.closeness import close, exact, printed
from tests.reference import case

GPA, PPM = 1e9, 1e-6


# ---------------------------------------------------------------- round wires and others


@pytest.mark.parametrize("identity", ["floats-F01", "floats-F02"])
def test_speed_in_a_round_wire(identity: str) -> None:
    """Graff (from memory); modulus and density from data pages of suppliers."""
    stated = case(identity)
    stated.check(torsional_speed_m_per_s(stated.value("G"), stated.value("rho")))


def test_a_free_bar_in_pieces_swings_at_half_the_speed_over_its_length() -> None:
    """Torsional finite elements of equal mass: the first natural frequency of a free bar is v/(2 L). No source."""
    modulus_Pa, density, radius_m, length_m, count = 65.5 * GPA, 8050.0, 0.25e-3, 0.4, 200
    polar_m4, piece_m = np.pi / 2 * radius_m**4, length_m / count
    stiffness, inertia = np.zeros((count + 1, count + 1)), np.zeros((count + 1, count + 1))
    for first in range(count):
        both = slice(first, first + 2)
        stiffness[both, both] += modulus_Pa * polar_m4 / piece_m * np.array([[1.0, -1.0], [-1.0, 1.0]])
        inertia[both, both] += density * polar_m4 * piece_m / 6 * np.array([[2.0, 1.0], [1.0, 2.0]])
    squares = eigh(stiffness, inertia, eigvals_only=True, subset_by_index=[1, 1])
    found = float(np.sqrt(squares[0])) / np.pi * length_m
    speed = float(torsional_speed_m_per_s(modulus_Pa, density))
    close(found, speed, 2e-5 * speed, "pi^2/(24 n^2) of linear elements, n = 200, is 1.03e-5")


@pytest.mark.parametrize("ratio", [1.0, 1.5, 4.0])
def test_an_elliptical_wire_by_the_theory_of_elasticity(ratio: float) -> None:
    """Saint-Venant (from memory): J = pi a^3 b^3/(a^2 + b^2), I_p = pi a b (a^2 + b^2)/4."""
    a_m, b_m = ratio * 0.2e-3, 0.2e-3
    torsion_m4, polar_m4 = np.pi * (a_m * b_m) ** 3 / (a_m**2 + b_m**2), np.pi * a_m * b_m * (a_m**2 + b_m**2) / 4
    slower = section_speed_m_per_s(65.5 * GPA, 8050.0, torsion_m4, polar_m4)
    close(slower / torsional_speed_m_per_s(65.5 * GPA, 8050.0), 2 * ratio / (1 + ratio**2), 1e-12, "rounding")


def test_a_section_stiffer_than_a_round_one_is_refused() -> None:
    values = {"shear_modulus_Pa": 65e9, "density_kg_per_m3": 8050.0, "torsion_constant_m4": 2e-15}
    with pytest.raises(ValidityError, match="torsion_constant_m4 must be at most"):
        apply(section_speed_m_per_s, values | {"polar_moment_m4": 1e-15})


@given(st.floats(200.0, 9000.0))
def test_slowness_and_speed_undo_each_other(speed: float) -> None:
    close(speed_of_slowness_m_per_s(slowness_s_per_m(speed)), speed, 1e-12 * speed, "two divisions")


def test_slowness_at_the_usual_speed() -> None:
    assert slowness_s_per_m(2800.0) / PPM == printed("357.14")


# ---------------------------------------------------------------- crystals


def by_matrix_Pa(c11_Pa: float, c12_Pa: float, c44_Pa: float) -> tuple[float, float]:
    """Bounds of Voigt and Reuss by the general expressions over a 6 x 6 matrix and its inverse."""
    stiff: Reals = np.diag([c11_Pa - c12_Pa] * 3 + [c44_Pa] * 3)
    stiff[:3, :3] += c12_Pa
    soft = np.linalg.inv(stiff / GPA)
    voigt = (np.trace(stiff[:3, :3]) - np.triu(stiff[:3, :3], 1).sum() + 3 * np.trace(stiff[3:, 3:])) / 15
    reuss = 15 / (4 * np.trace(soft[:3, :3]) - 4 * np.triu(soft[:3, :3], 1).sum() + 3 * np.trace(soft[3:, 3:]))
    return float(voigt), float(reuss) * GPA


def test_speed_in_iron_gallium_without_texture() -> None:
    """Constants of Clark and others 2003 (from memory), averaged after Hill."""
    stated = case("floats-F03")
    modulus_Pa = averaged_shear_modulus_Pa(stated.value("C11"), stated.value("C12"), stated.value("C44"))
    stated.check(torsional_speed_m_per_s(modulus_Pa, stated.value("rho")))


crystals = st.tuples(st.floats(50.0, 600.0), st.floats(-0.45, 0.98), st.floats(5.0, 400.0))


@given(crystals)
def test_bounds_by_matrix(crystal: tuple[float, float, float]) -> None:
    c11, c12, c44 = crystal[0] * GPA, crystal[0] * crystal[1] * GPA, crystal[2] * GPA
    voigt, reuss = by_matrix_Pa(c11, c12, c44)
    close(voigt_shear_modulus_Pa(c11, c12, c44), voigt, 1e-11 * voigt, "rounding of the sums")
    close(reuss_shear_modulus_Pa(c11, c12, c44), reuss, 1e-9 * reuss, "rounding of the inverse")


@given(crystals)
def test_the_average_lies_between_its_bounds(crystal: tuple[float, float, float]) -> None:
    constants = (crystal[0] * GPA, crystal[0] * crystal[1] * GPA, crystal[2] * GPA)
    low, middle, high = (
        bound(*constants) for bound in (reuss_shear_modulus_Pa, averaged_shear_modulus_Pa, voigt_shear_modulus_Pa)
    )
    assert low <= middle * (1 + 1e-14) <= high * (1 + 2e-14)


def test_a_crystal_alike_in_all_directions_has_one_modulus() -> None:
    for bound in (reuss_shear_modulus_Pa, averaged_shear_modulus_Pa, voigt_shear_modulus_Pa):
        close(bound(200 * GPA, 80 * GPA, 60 * GPA), 60 * GPA, 1e-4, "rounding of a few additions")


# ---------------------------------------------------------------- temperature


def test_change_of_the_speed_with_temperature() -> None:
    stated = case("floats-F05a")
    stated.check(relative_speed_change(stated.value("beta_G"), stated.value("alpha"), stated.value("dT")) / PPM)


def test_change_of_the_speed_to_first_order() -> None:
    stated = case("floats-F05b")
    stated.check(speed_coefficient_per_K(stated.value("beta_G"), stated.value("alpha")) * stated.value("dT") / PPM)


@given(st.floats(-4e-4, 4e-4), st.floats(1e-6, 3e-5), st.floats(-200.0, 400.0))
def test_change_of_the_speed_is_that_of_its_modulus_and_density(beta: float, alpha: float, warmer_K: float) -> None:
    cold = torsional_speed_m_per_s(60 * GPA, 8000.0)
    warm = torsional_speed_m_per_s(60 * GPA * (1 + beta * warmer_K), 8000.0 / (1 + alpha * warmer_K) ** 3)
    change = relative_speed_change(beta, alpha, warmer_K)
    close(1 + change, warm / cold, 1e-14, "rounding")


def test_small_changes_follow_the_coefficient() -> None:
    beta, alpha = -250e-6, 12e-6
    per_kelvin = (relative_speed_change(beta, alpha, 0.01) - relative_speed_change(beta, alpha, -0.01)) / 0.02
    coefficient = float(speed_coefficient_per_K(beta, alpha))
    close(per_kelvin, coefficient, 1e-9 * abs(coefficient), "rounding and third order of a central difference")


def test_a_modulus_that_does_not_change_leaves_the_expansion() -> None:
    """11.4 ppm/K with an expansion of 7.6 ppm/K, as data pages of suppliers have it; derived."""
    assert speed_coefficient_per_K(0.0, 7.6e-6) / PPM == printed("11.4")


# ---------------------------------------------------------------- what is looked up


@pytest.mark.parametrize(
    ("word", "speed"), [("constant-modulus alloy", "2852"), ("nickel", "2921"), ("iron-gallium", "2796")]
)
def test_speeds_of_the_materials(word: str, speed: str) -> None:
    """Worked from modulus and density: 2921 m/s for nickel (handbook, from memory), 2796 for iron with gallium."""
    wire = waveguide_material(word)
    assert torsional_speed_m_per_s(wire.shear_modulus_Pa, wire.density_kg_per_m3) == printed(speed)


def test_bounds_of_the_materials() -> None:
    for word, low, high in (("constant-modulus alloy", "2775", "2928"), ("iron-gallium", "2270", "3238")):
        wire = waveguide_material(word)
        assert torsional_speed_m_per_s(wire.shear_modulus_low_Pa, wire.density_kg_per_m3) == printed(low)
        assert torsional_speed_m_per_s(wire.shear_modulus_high_Pa, wire.density_kg_per_m3) == printed(high)


@pytest.mark.parametrize("word", ["constant-modulus alloy", "nickel", "iron-gallium"])
def test_a_material_says_how_far_its_source_was_seen(word: str) -> None:
    wire = waveguide_material(word)
    assert wire.tag == citation(wire.source).source.tag
    assert wire.shear_modulus_low_Pa <= wire.shear_modulus_Pa <= wire.shear_modulus_high_Pa


def test_what_is_not_known_of_a_material_is_not_made_up() -> None:
    known = {word: waveguide_material(word).alpha_per_K for word in waveguide_materials()}
    assert known == {"constant-modulus alloy": 7.6e-6, "nickel": None, "iron-gallium": None}


def test_an_unknown_material_is_refused_with_those_there_are() -> None:
    with pytest.raises(QuantityError, match=r"one of constant-modulus alloy; nickel; iron-gallium; got copper\."):
        waveguide_material("copper")


def test_the_usual_speed_is_common_practice_and_fits_the_materials() -> None:
    usual = usual_speed()
    for figure in (usual.low_m_per_s, usual.speed_m_per_s, usual.high_m_per_s):
        assert figure.tag == citation(figure.source).source.tag == "common practice, no source"
    exact([usual.low_m_per_s.value, usual.speed_m_per_s.value, usual.high_m_per_s.value], [2600.0, 2800.0, 3050.0])
    for word in waveguide_materials():
        wire = waveguide_material(word)
        speed = torsional_speed_m_per_s(wire.shear_modulus_Pa, wire.density_kg_per_m3)
        assert usual.low_m_per_s.value < speed < usual.high_m_per_s.value


def test_the_room_offers_what_it_lists() -> None:
    assert [name for name in magnetostrictive.__all__ if not callable(getattr(magnetostrictive, name))] == []
