"""Units in names."""

import pytest

from onedatum.foundation.units import DIMENSIONS, dimension_of_unit, name_without_unit, same_quantity, unit_of_name

NAMES = [
    # name, unit, bare name: the rule "an underscore multiplies, per divides" applied by hand
    ("level_m", "m", "level"),
    ("volume_m3", "m3", "volume"),
    ("density_kg_per_m3", "kg/m3", "density"),
    ("viscosity_Pa_s", "Pa.s", "viscosity"),
    ("alpha_per_K", "1/K", "alpha"),
    ("heat_capacity_J_per_kg_K", "J/(kg.K)", "heat_capacity"),
    ("conduction_W_per_m_per_K", "W/(m.K)", "conduction"),
    ("gravity_m_per_s2", "m/s2", "gravity"),
    ("second_moment_m4", "m4", "second_moment"),
    ("core_resistance_ohm_per_m", "ohm/m", "core_resistance"),
    ("pressure_Pa", "Pa", "pressure"),
    ("pressure_Pa_abs", "Pa(a)", "pressure"),
    ("pressure_Pa_gauge", "Pa(g)", "pressure"),
    ("strength", "", "strength"),
    ("float.immersion_m[hottest]", "m", "float.immersion[hottest]"),
    ("m_kg", "kg", "m"),
    ("K", "", "K"),
    ("", "", ""),
    ("loss_per", "", "loss_per"),
    ("state_abs", "", "state_abs"),
    ("length_mm", "", "length_mm"),
]


@pytest.mark.parametrize(("name", "unit", "bare"), NAMES)
def test_a_name_carries_its_unit(name: str, unit: str, bare: str) -> None:
    assert (unit_of_name(name), name_without_unit(name)) == (unit, bare)


@pytest.mark.parametrize(
    ("unit", "other"),
    # SI brochure, 9th edition, table 4: derived units with special names
    [
        ("Pa", "N/m2"), ("J", "N.m"), ("W", "J/s"), ("V", "W/A"), ("ohm", "V/A"), ("S", "A/V"), ("F", "A.s/V"),
        ("H", "V.s/A"), ("Hz", "1/s"), ("Pa.s", "N.s/m2"), ("N", "kg.m/s2"), ("J/(kg.K)", "m2/(s2.K)"),
    ],
)  # fmt: skip
def test_two_writings_of_one_unit_are_the_same_quantity(unit: str, other: str) -> None:
    assert same_quantity(unit, other)
    assert not same_quantity(f"{unit}.m" if "/" not in unit else f"m.{unit}", other)


@pytest.mark.parametrize(
    ("unit", "other"), [("Pa", "Pa(a)"), ("Pa(a)", "Pa(g)"), ("Pa", "Pa(g)"), ("", "rad"), ("m", "m2"), ("K", "1/K")]
)
def test_what_must_not_be_joined_is_not_the_same(unit: str, other: str) -> None:
    assert not same_quantity(unit, other)


def test_a_text_that_is_no_unit_is_the_programmers_error() -> None:
    with pytest.raises(ValueError, match="mm"):
        same_quantity("mm", "m")


def test_every_dimension_is_found_again_by_its_unit() -> None:
    for kind in DIMENSIONS.values():
        found = dimension_of_unit(kind.si)
        assert found is not None
        assert same_quantity(found.si, kind.si)
    assert dimension_of_unit("kg.m5") is None
