"""Permittivity of water, petroleum, ethanol with water, and the liquids of a handbook."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from onedatum import data
from onedatum.foundation.errors import QuantityError, ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import apply
from onedatum.physics.media import (
    ethanol_water_permittivity,
    fitted_half_width,
    fitted_permittivity,
    highest_fitted_K,
    liquid_named,
    liquid_permittivity,
    liquids_with_permittivity,
    lowered_permittivity,
    lowest_fitted_K,
    petroleum_permittivity,
    petroleum_permittivity_half_width,
    raised_permittivity,
    shifted_permittivity,
    unmixed_volume_share,
    volume_linear_half_width,
    volume_linear_permittivity,
    warmed_mixture_half_width,
    warmed_mixture_permittivity,
    water_permittivity,
)
from tests.closeness import close, exact, printed
from tests.reference import case

T20_K = 293.15
ETHANOL, WATER, TOLUENE, OCTANOL_2 = "64-17-5", "7732-18-5", "108-88-3", "4128-31-8"

# ---------------------------------------------------------------- water

# IAPWS R8-97, table 4, from memory: temperature in K, pressure in MPa, density in kg/m3 by IAPWS-95 with half a unit of
# its last digit (extrapolated at 240 K), permittivity.
TABLE_4 = [
    (240.0, 0.101325, 978.896, 0.0005, "104.34982"),
    (300.0, 0.101325, 996.5569, 0.00005, "77.74735"),
    (300.0, 10.0, 1000.9550, 0.00005, "78.11269"),
    (300.0, 1000.0, 1237.5166, 0.00005, "103.69632"),
    (650.0, 10.0, 40.4789, 0.00005, "1.26715"),
    (650.0, 100.0, 726.2117, 0.00005, "17.71733"),
    (650.0, 500.0, 947.3574, 0.00005, "26.62132"),
    (870.0, 10.0, 26.1717, 0.00005, "1.12721"),
    (870.0, 100.0, 378.1274, 0.00005, "4.98281"),
    (870.0, 500.0, 810.9348, 0.00005, "15.09746"),
]
OUTSIDE_THE_LIBRARY = {(240.0, 0.101325), (300.0, 1000.0)}
"""Rows of table 4 that the library of IAPWS-95 refuses: ice by its melting line."""


@pytest.mark.parametrize(("kelvin", "megapascal", "density", "half_unit", "digits"), TABLE_4)
def test_water_by_the_table_of_the_release(
    kelvin: float, megapascal: float, density: float, half_unit: float, digits: str
) -> None:
    """The printed value lies within what the rounding of the density and its own five decimals leave."""
    low, high = (float(water_permittivity(kelvin, density + off)) for off in (-half_unit, half_unit))
    table = printed(digits)
    assert low - table.half_unit <= table.value <= high + table.half_unit
    if (kelvin, megapascal) not in OUTSIDE_THE_LIBRARY:
        assert water_permittivity(kelvin, PropsSI("D", "T", kelvin, "P", megapascal * 1e6, "HEOS::Water")) == table


def test_water_at_300_K() -> None:
    """Constants rounded or of today give 77.747944, which this refuses."""
    given_ = case("capacitance-water_iapws_300K")
    given_.check(water_permittivity(given_.value("T"), given_.value("rho")))


def test_water_at_20_degc() -> None:
    given_ = case("capacitance-water_iapws_20C")
    given_.check(water_permittivity(given_.value("T") + 273.15, given_.value("rho")))


def test_no_water_is_vacuum() -> None:
    exact(water_permittivity(np.array([250.0, 300.0, 800.0]), 0.0), np.ones(3))


@given(kelvin=st.floats(650.0, 873.0), density=st.floats(0.1, 900.0))
def test_denser_water_has_the_greater_permittivity(kelvin: float, density: float) -> None:
    found = water_permittivity(kelvin, np.array([0.0, 1.0, 1.001]) * density)
    assert np.all(np.diff(found) > 0.0)


@pytest.mark.parametrize(("kelvin", "density"), [(238.0, 990.0), (874.0, 20.0), (300.0, -1.0), (300.0, 1251.0)])
def test_water_outside_the_release_is_refused(kelvin: float, density: float) -> None:
    with pytest.raises(ValidityError):
        apply(water_permittivity, {"temperature_K": kelvin, "density_kg_per_m3": density})


# ---------------------------------------------------------------- petroleum

# Densities at 20 degC in kg/m3, from memory; permittivities of the CRC Handbook through the table of liquids.
ALKANES = {"110-54-3": 659.3, "142-82-5": 683.8, "111-65-9": 702.5, "124-18-5": 730.0, "112-40-3": 748.7}
OTHERS = {"110-82-7": 778.5, "108-88-3": 866.9}
"""Cyclohexane and toluene."""


def clausius_mossotti(density: float, k: float) -> float:
    """eps of (eps - 1)/(eps + 2) = k*density, k in m3/kg."""
    return (1.0 + 2.0 * k * density) / (1.0 - k * density)


def test_a_reference_point_is_shifted() -> None:
    """Octane; the polynomial of the CRC Handbook has 1.9111 where its density is 680 kg/m3, near 47.5 degC."""
    given_ = case("capacitance-clausius_mossotti")
    found = shifted_permittivity(given_.value("eps_ref"), given_.value("rho_ref"), given_.value("rho"))
    given_.check(found)
    close(found, liquid_permittivity("111-65-9").at(320.65), 0.003, "Clausius and Mossotti against measurement")


@pytest.mark.parametrize(("density", "digits"), [(700.0, "1.937"), (800.0, "2.121"), (900.0, "2.323")])
def test_petroleum_by_hand(density: float, digits: str) -> None:
    """Worked by hand from K = 0.340 cm3/g."""
    assert petroleum_permittivity(density) == printed(digits)
    at_k = clausius_mossotti(density, 0.340e-3)
    close(petroleum_permittivity(density), at_k, 1e-12, "one relation, rounded")


@pytest.mark.parametrize("cas", ALKANES)
def test_alkanes_lie_within_the_half_width(cas: str) -> None:
    density = ALKANES[cas]
    off = liquid_permittivity(cas).at(T20_K) - float(petroleum_permittivity(density))
    assert abs(off) <= float(petroleum_permittivity_half_width(density))


@pytest.mark.parametrize("cas", OTHERS)
def test_aromatics_and_pure_naphthenes_lie_outside_it(cas: str) -> None:
    """What the text says does not fit must not fit."""
    density = OTHERS[cas]
    off = liquid_permittivity(cas).at(T20_K) - float(petroleum_permittivity(density))
    assert abs(off) > float(petroleum_permittivity_half_width(density))


@given(density=st.floats(600.0, 950.0))
def test_the_half_width_covers_both_ends_of_the_constant(density: float) -> None:
    low, high = (clausius_mossotti(density, k) for k in (0.328e-3, 0.352e-3))
    value, u = float(petroleum_permittivity(density)), float(petroleum_permittivity_half_width(density))
    assert value - u < low < value < high <= (value + u) * (1 + 1e-12)


@given(k=st.floats(2e-4, 4e-4), known=st.floats(500.0, 900.0), asked=st.floats(0.0, 1000.0))
def test_a_shift_keeps_the_constant(k: float, known: float, asked: float) -> None:
    shifted = shifted_permittivity(clausius_mossotti(known, k), known, asked)
    close(shifted, clausius_mossotti(asked, k), 1e-11, "one relation by two ways, rounded")


@pytest.mark.parametrize("density", [599.0, 951.0])
def test_liquefied_gas_and_bitumen_are_refused(density: float) -> None:
    for function in (petroleum_permittivity, petroleum_permittivity_half_width):
        with pytest.raises(ValidityError):
            apply(function, {"density_kg_per_m3": density})


@pytest.mark.parametrize(("known", "density"), [(0.9, 700.0), (3.1, 700.0), (2.9, 1200.0)])
def test_a_shift_of_polar_liquids_or_towards_the_pole_is_refused(known: float, density: float) -> None:
    given_ = {"reference_permittivity": known, "reference_density_kg_per_m3": 800.0, "density_kg_per_m3": density}
    with pytest.raises(ValidityError):
        apply(shifted_permittivity, given_)


# ---------------------------------------------------------------- ethanol with water

# Akerlof 1932 at 20 degC, from memory: per cent by mass of ethanol, permittivity.
AKERLOF = {0: "80.37", 20: "68.66", 50: "50.38", 60: "44.67", 90: "29.03", 100: "25.00"}
TENTHS = np.linspace(0.0, 1.0, 101)


def volumes_in_proportion(fraction: Real) -> tuple[Real, Real]:
    """Value and half width at 20 degC, from the ends of the table."""
    share = unmixed_volume_share(fraction, 789.24, 998.20)
    return volume_linear_permittivity(share, 25.00, 80.37), volume_linear_half_width(share, 25.00, 80.37)


def test_ethanol_and_water_by_the_table() -> None:
    for percent, digits in AKERLOF.items():
        assert ethanol_water_permittivity(percent / 100.0) == printed(digits)
    half = 0.5 * (50.38 + 44.67)
    close(ethanol_water_permittivity(0.55), half, 1e-12, "half way between two rows, rounded")
    assert np.all(np.diff(ethanol_water_permittivity(TENTHS)) < 0.0)


def test_the_ends_of_the_table_against_other_sources() -> None:
    """Water by IAPWS R8-97 and ethanol of the CRC Handbook: 0.2 % and 1.2 % away."""
    close(ethanol_water_permittivity(0.0), water_permittivity(T20_K, 998.2072), 0.16, "the table is 0.15 higher")
    close(ethanol_water_permittivity(1.0), liquid_permittivity(ETHANOL).point, 0.31, "the table is 0.30 lower")


def test_straight_lines_leave_what_the_head_says() -> None:
    """An eighth of the second difference is the remainder of a straight line between rows an even step apart."""
    head = data.table("ethanol_permittivity.json")["head"]
    rows = np.asarray(ethanol_water_permittivity(np.linspace(0.0, 1.0, 11)))
    left = np.max(np.abs(np.diff(rows, 2))) / 8.0
    assert 0.9 * head["largest_error_of_straight_lines"] < left < head["largest_error_of_straight_lines"]


def test_volumes_in_proportion_cover_the_table() -> None:
    value, u = volumes_in_proportion(TENTHS)
    assert np.all(np.abs(value - ethanol_water_permittivity(TENTHS)) <= u)
    exact(volume_linear_permittivity(np.array([0.0, 1.0]), 25.0, 80.37), [80.37, 25.0])


def test_ethanol_and_water_outside_are_refused() -> None:
    for fraction in (-0.01, 1.01):
        with pytest.raises(ValidityError):
            apply(ethanol_water_permittivity, {"mass_fraction": fraction})
    with pytest.raises(ValidityError):
        apply(volume_linear_permittivity, {"share": 0.5, "added_permittivity": 0.9, "base_permittivity": 80.0})


def test_the_table_says_that_it_is_from_memory() -> None:
    head = data.table("ethanol_permittivity.json")["head"]
    assert head["tag"] == "from memory"
    assert "to be verified" in head["note"]


# Akerlof 1932 at 25 and 40 degC where given, from memory: mass fraction of ethanol, permittivity.
AKERLOF_25 = {0.0: 78.3, 0.2: 67.0, 0.4: 55.0, 0.5: 49.0, 0.6: 43.4, 0.8: 32.8, 1.0: 24.3}


def warmed(fraction: float, kelvin: float) -> tuple[float, float]:
    """Table at 20 degC with what ethanol and water of the handbook bring, and the half width."""
    share, table = unmixed_volume_share(fraction, 789.24, 998.20), ethanol_water_permittivity(fraction)
    there, at_20 = ([liquid_permittivity(cas).at(t) for cas in (ETHANOL, WATER)] for t in (kelvin, T20_K))
    value = warmed_mixture_permittivity(table, share, *there, *at_20)
    return float(value), float(warmed_mixture_half_width(value, table))


@pytest.mark.parametrize("fraction", AKERLOF_25)
def test_the_table_warmed_to_25_degc_covers_the_other_table(fraction: float) -> None:
    value, u = warmed(fraction, 298.15)
    assert abs(value - AKERLOF_25[fraction]) <= u + 0.05


def test_the_table_warmed_by_nothing_is_the_table() -> None:
    value, u = warmed(0.45, T20_K)
    close(value, ethanol_water_permittivity(0.45), 1e-12, "no change, rounded")
    close(u, 0.3, 1e-12, "what the table is off by at its ends")


def test_pure_water_warmed_is_water() -> None:
    """Against IAPWS R8-97 at 35 degC: 994.03 kg/m3, from memory; the table is 0.15 higher, the handbook 0.07 lower."""
    close(warmed(0.0, 308.15)[0], water_permittivity(308.15, 994.03), 0.25, "of three sources")


def test_the_ends_never_fall_below_vacuum() -> None:
    exact(lowered_permittivity(np.array([2.0, 1.2]), 0.5), [1.5, 1.0])
    exact(raised_permittivity(np.array([2.0, 1.2]), 0.5), [2.5, 1.7])


# ---------------------------------------------------------------- liquids of the handbook


def test_all_liquids_are_there_and_the_doubtful_are_known() -> None:
    """1303, 759 and 29: counted in the package itself, by other code."""
    liquids = liquids_with_permittivity()
    assert len(liquids) == 1303
    assert sum(liquid.has_polynomial for liquid in liquids) == 759
    assert sum(liquid.doubtful for liquid in liquids) == 29


# CRC Handbook as the package has it: CAS, temperature in K, value worked with the package's own function.
@pytest.mark.parametrize(
    ("cas", "kelvin", "digits"), [(ETHANOL, 298.15, "24.852"), (WATER, 293.15, "80.15"), ("110-54-3", 293.15, "1.8885")]
)
def test_a_polynomial_within_its_range(cas: str, kelvin: float, digits: str) -> None:
    assert liquid_permittivity(cas).at(kelvin) == printed(digits)


def test_water_of_the_handbook_against_the_release() -> None:
    close(liquid_permittivity(WATER).at(T20_K), water_permittivity(T20_K, 998.2072), 0.08, "0.07 apart at 20 degC")


def test_every_polynomial_is_one_of_a_liquid_within_its_range() -> None:
    """At either end and in the mid: above that of vacuum, and at the point value where the range holds it."""
    checked = 0
    for liquid in liquids_with_permittivity():
        if not liquid.has_polynomial or liquid.lowest_K > liquid.highest_K:
            continue
        for kelvin in np.linspace(liquid.lowest_K, liquid.highest_K, 9):
            assert liquid.at(float(kelvin)) > 1.0, liquid.name
        if liquid.lowest_K <= liquid.point_K <= liquid.highest_K and not liquid.doubtful:
            close(liquid.at(liquid.point_K), liquid.point, 0.02 * liquid.point, "what is not called doubtful")
            checked += 1
    assert checked > 600


def test_a_polynomial_and_its_ends() -> None:
    """Toluene, its coefficients as they are tabled: worked by hand at 300 K; beyond 207 K and 316 K not a number."""
    toluene = liquid_permittivity(TOLUENE)
    exact([lowest_fitted_K(toluene), highest_fitted_K(toluene)], [207.0, 316.0])
    by_hand = 3.2584 - 1.0323 + 0.143433
    close(fitted_permittivity(300.0, toluene), by_hand, 1e-12, "three terms, rounded")
    given_: dict[str, Any] = {"temperature_K": np.array([206.9, 300.0, 316.1]), "liquid": toluene}
    found = apply(fitted_permittivity, given_)
    assert np.isnan(found.value).tolist() == [True, False, True]
    assert found.outside == 2


@pytest.mark.parametrize(("cas", "kelvin"), [("67-56-1", 298.15), (TOLUENE, 320.0), (ETHANOL, 160.0)])
def test_beyond_its_range_a_polynomial_is_refused(cas: str, kelvin: float) -> None:
    """Methanol ends at 293 K, toluene at 316 K; ethanol begins at 163 K."""
    with pytest.raises(ValidityError) as caught:
        liquid_permittivity(cas).at(kelvin)
    assert caught.value.formula == "media.fitted_permittivity"


def test_a_point_value_alone_says_nothing_of_other_temperatures() -> None:
    alone = liquid_permittivity("50-70-4")
    exact(alone.at(353.2), 35.5)
    with pytest.raises(ValidityError, match="hotter"):
        alone.at(360.0)


def test_who_uses_a_doubtful_liquid_is_told() -> None:
    """2-octanol: 16 % apart. Oxirane: its range runs backwards. Ethanol: nothing to tell."""
    octanol, oxirane, ethanol = (liquid_permittivity(cas) for cas in (OCTANOL_2, "75-21-8", ETHANOL))
    assert octanol.doubtful and "+15.9%" in octanol.warning
    assert "backwards" in oxirane.warning
    with pytest.raises(ValidityError):
        oxirane.at(270.0)
    assert not ethanol.doubtful and ethanol.warning == ""


def test_what_the_handbook_contradicts_itself_by() -> None:
    """Ethanol at 20 degC: polynomial by hand from its four terms, against 25.3; trifluoromethane has no such point."""
    t = 293.2
    by_hand = 151.45 - 0.8702 * t + 0.001957 * t**2 - 1.5512e-6 * t**3
    close(fitted_half_width(t, liquid_permittivity(ETHANOL)), by_hand / 25.3 * by_hand - by_hand, 1e-9, "by hand")
    assert fitted_half_width(200.0, liquid_permittivity("75-46-7")) == 0.0


def test_a_liquid_is_found_by_name_or_number_and_a_near_name_is_only_suggested() -> None:
    for word in ("Toluene", " toluene ", TOLUENE):
        assert liquid_named(word).cas == TOLUENE
    with pytest.raises(QuantityError, match="Nearest: Toluene"):
        liquid_named("tolune")
    for word in ("", "-Pinene", "x" * 5000):
        with pytest.raises(QuantityError, match="must be the name or the CAS number"):
            liquid_named(word)


def test_a_liquid_that_is_not_listed_is_refused() -> None:
    with pytest.raises(QuantityError, match="CAS"):
        liquid_permittivity("0-00-0")


def test_the_licence_of_the_package_is_kept_with_its_table() -> None:
    licence = "\n".join(data.table("permittivity_liquids.json")["head"]["licence"])
    assert "Caleb Bell" in licence
    assert "The above copyright notice and this permission notice shall be included in all" in licence
