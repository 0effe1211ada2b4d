"""The chain of quantities on the sheet: petroleum, alcohol, tables, water; what is asked, and what is refused."""

from __future__ import annotations

import pytest

from tests.closeness import close, exact, printed
from tests.reference import case
from tests.study.tanks import number, tank, upright

ROUND_TANK = upright("25.231325220201602 m", "12 m", "1.116e-5 1/K", "15 degC", "between liquid and ambient")
"""A section of 500 m2: 10 m hold 5000 m3."""
REFINED = """
site: {ambient_temperature: 15 degC}
medium: {kind: petroleum product, group: refined product, density: 850 kg/m3, density_at: 15 degC, temperature: 25 degC}
quantity: {reference_temperature: 15 degC, free_water: 12 m3, sediment_and_water: 0.05 %vol}
level_now: 10 m
datum_error: none
weighing: {air_density: 1.2 kg/m3, weights_density: 8000 kg/m3}
"""
CHAIN = {
    "quantity-Q16": "quantity.gross_observed_volume",
    "quantity-Q17": "quantity.gross_standard_volume",
    "quantity-Q18": "quantity.net_standard_volume",
    "quantity-Q19": "quantity.mass",
    "quantity-Q20a": "quantity.mass_in_air",
}


@pytest.mark.parametrize("identity", CHAIN)
def test_a_petroleum_tank_by_its_published_chain(identity: str) -> None:
    case(identity).check(number(tank(ROUND_TANK, REFINED), CHAIN[identity]))


def test_the_factor_is_that_of_the_tables() -> None:
    case("quantity-Q13").check(number(tank(ROUND_TANK, REFINED), "quantity.volume_correction"))


def test_the_standard_s_rounding_rounds_the_factor_to_five_decimals() -> None:
    found = tank(ROUND_TANK, REFINED.replace("quantity: {", "quantity: {arithmetic: rounded as the standard, "))
    factor = number(found, "quantity.volume_correction")
    assert factor == printed("0.99167")
    exact(round(factor, 5), factor)
    observed = number(found, "quantity.gross_observed_volume")
    close(number(found, "quantity.gross_standard_volume"), observed * 0.99167, 1e-8, "rounding of a product")
    mass = number(found, "quantity.gross_standard_volume") * number(found, "medium.density_at[15 degC]")
    close(number(found, "quantity.mass"), mass, 1e-6, "rounding of a product")


def test_the_standard_s_rounding_enters_the_tables_with_rounded_numbers() -> None:
    """25.03 degC is entered as 25.05 degC, 850.04 kg/m3 as 850.0 kg/m3: the factor is theirs, to five decimals."""
    words = "quantity: {arithmetic: rounded as the standard, "
    changed = REFINED.replace("temperature: 25 degC", "temperature: 25.03 degC").replace(
        "density: 850 ", "density: 850.04 "
    )
    entered = REFINED.replace("temperature: 25 degC", "temperature: 25.05 degC")
    found = tank(ROUND_TANK, changed.replace("quantity: {", words))
    plain = number(tank(ROUND_TANK, entered), "quantity.volume_correction")
    close(number(found, "quantity.volume_correction.unrounded"), plain, 1e-14, "rounding")
    exact(number(found, "quantity.volume_correction"), round(plain, 5))


def test_a_density_observed_elsewhere_leads_to_the_same() -> None:
    """850 kg/m3 at 15 degC is 842.920... at 25 degC: stated so, every number stays."""
    first = tank(ROUND_TANK, REFINED)
    observed = number(first, "medium.density[normal]")
    changed = REFINED.replace("850 kg/m3, density_at: 15 degC", f"{observed!r} kg/m3, density_at: 25 degC")
    second = tank(ROUND_TANK, changed)
    for name in CHAIN.values():
        close(
            number(second, name), number(first, name), 1e-9 * number(first, name), "inverse of the tables, 1e-7 kg/m3"
        )


def test_free_water_by_its_level() -> None:
    """24 mm of 500 m2 are 12 m3."""
    by_level = REFINED.replace("free_water: 12 m3", "free_water_level: 24 mm")
    found = number(tank(ROUND_TANK, by_level), "quantity.gross_observed_volume")
    close(found, number(tank(ROUND_TANK, REFINED), "quantity.gross_observed_volume"), 1e-8, "rounding")


def test_what_nobody_has_said_of_a_petroleum_tank_is_asked() -> None:
    line = "quantity: {reference_temperature: 15 degC, free_water: 12 m3, sediment_and_water: 0.05 %vol}\n"
    found = tank(ROUND_TANK, REFINED.replace(line, ""))
    asked = {question.path for question in found.questions}
    assert {"quantity.reference_temperature", "quantity.free_water_level"} <= asked
    assert "quantity.gross_standard_volume" not in found.sheet
    partly = tank(ROUND_TANK, REFINED.replace(", free_water: 12 m3, sediment_and_water: 0.05 %vol", ""))
    assert "quantity.sediment_and_water" in {question.path for question in partly.questions}
    assert not partly.sheet["quantity.net_standard_volume"].known
    assert partly.sheet["quantity.free_water"].rests_on_assumed


@pytest.mark.parametrize(
    ("old", "new", "path"),
    [
        ("temperature: 25 degC", "temperature: 160 degC", "medium.temperature"),
        ("density: 850 kg/m3", "density: 1300 kg/m3", "medium.density"),
        ("density: 850 kg/m3", "density: 460 kg/m3", "medium.density"),
        ("level_now: 10 m", "level_now: 13 m", "level_now"),
        ("group: refined product", "group: lubricating oil", ""),
    ],
)
def test_what_the_tables_do_not_hold_is_refused_and_the_rest_stands(old: str, new: str, path: str) -> None:
    found = tank(ROUND_TANK, REFINED.replace(old, new))
    if path:
        assert path in {fault.path for fault in found.faults}
        assert not found.sheet["quantity.gross_standard_volume"].known
    else:
        assert found.faults == ()
    assert found.sheet["vessel.full_volume"].known


def test_lubricating_oil_expands_otherwise() -> None:
    found = tank(ROUND_TANK, REFINED.replace("refined product", "lubricating oil"))
    assert number(found, "quantity.volume_correction") != printed("0.99167")


def test_a_product_by_its_own_expansion() -> None:
    """With the expansion the tables give for it, the factor is that of the tables, to the rounding of the expansion."""
    own = REFINED.replace("group: refined product", "group: by its expansion at 60 degF, expansion: 8.32e-4 1/K")
    factor = number(tank(ROUND_TANK, own), "quantity.volume_correction")
    close(factor, number(tank(ROUND_TANK, REFINED), "quantity.volume_correction"), 2e-5, "expansion to three digits")


# ---------------------------------------------------------------- other liquids

ALCOHOL = """
level_now: 2 m
datum_error: none
medium: {{kind: ethanol-water, temperature: 10 degC, {}}}
"""


def alcohol(stated: str) -> float:
    return number(tank(upright(), ALCOHOL.format(stated)), "quantity.pure_alcohol")


def test_one_strength_in_four_ways() -> None:
    """68 %vol at 20 degC: by mass 60.26931 % (R 22), by density, as US proof of the same mixture."""
    found = tank(upright(), ALCOHOL.format("strength: {value: 68 %vol, at: 20 degC}"))
    first = number(found, "quantity.pure_alcohol")
    close(alcohol("strength_by_mass: 60.26931 %mass"), first, 1e-6 * first, "seven digits of the strength by mass")
    density = number(found, "medium.density[normal]")
    by_density = alcohol(f"density: {density!r} kg/m3, density_at: 10 degC")
    close(by_density, first, 1e-9 * first, "inverse of the general formula")


def test_proof_is_twice_the_per_cent_at_60_degf() -> None:
    """A strength at 60 degF and one at 20 degC differ by some hundredths of a per cent: 136 proof is about 68 %vol."""
    by_volume = alcohol("strength: {value: 68 %vol, at: 20 degC}")
    close(alcohol("us_proof: 136"), by_volume, 2e-3 * by_volume, "4.4 K between the reference temperatures")


def test_volumes_at_every_reference_temperature() -> None:
    found = tank(upright(), ALCOHOL.format("strength: {value: 96 %vol, at: 20 degC}"))
    at_15, at_60 = (number(found, f"quantity.volume_at[{word}]") for word in ("15 degC", "60 degF"))
    at_20 = number(found, "quantity.gross_standard_volume")
    assert at_15 < at_60 < at_20
    expansion = at_20 / at_15 - 1.0
    close(
        expansion / 5.0,
        1.07e-3,
        0.01e-3,
        "expansion of 96 %vol, to the third digit",
    )


def test_a_liquid_by_its_densities() -> None:
    rows = (
        "[{temperature: 0 degC, density: 1127 kg/m3}, {temperature: 20 degC, density: 1113 kg/m3}, "
        "{temperature: 40 degC, density: 1099 kg/m3}]"
    )
    text = f"""
level_now: 1 m
datum_error: none
medium: {{kind: liquid by density table, temperature: 30 degC, density_table: {rows}}}
quantity: {{reference_temperature: 20 degC}}
"""
    found = tank(upright(), text)
    exact(number(found, "medium.density[normal]"), 1106.0)
    close(number(found, "quantity.volume_correction"), 1106.0 / 1113.0, 1e-15, "rounding")
    beyond = tank(upright(), text.replace("temperature: 30 degC", "temperature: 50 degC"))
    assert "medium.temperature" in {fault.path for fault in beyond.faults}


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("[{temperature: 20 degC, density: 1113 kg/m3}]", "two rows or more; got 1"),
        ("[{temperature: 40 degC, density: 1099 kg/m3}, {temperature: 0 degC, density: 1127 kg/m3}]", "rising order"),
        ("[{temperature: 0 degC, density: 1127 kg/m3}, {temperature: 0 degC, density: 1126 kg/m3}]", "rising order"),
        ("[{temperature: 0 degC, density: 1127 kg/m3}, {temperature: 40 degC, density: 109 kg/m3}]", "within 20 %"),
    ],
)
def test_densities_that_make_no_table_are_a_fault_with_its_place(rows: str, words: str) -> None:
    medium = f"medium: {{kind: liquid by density table, temperature: 30 degC, density_table: {rows}}}"
    found = tank(upright(), "level_now: 1 m\ndatum_error: none", medium)
    (fault,) = [each for each in found.faults if each.path == "medium.density_table"]
    assert words in fault.sentence() and fault.place is not None
    assert found.sheet["quantity.mass"].waits_for == ("medium.density_table",)
    assert found.sheet["quantity.table_volume"].known


def test_hot_water_under_pressure_and_at_its_boiling_point() -> None:
    """IAPWS R7-97: saturated water at 150 degC has 917.01 kg/m3 (from memory, checked by the library)."""
    text = """
site: {{atmospheric_pressure: 1.01325 bar(a)}}
level_now: 1 m
datum_error: none
medium: {{kind: {}, temperature: 150 degC}}
pressure: {{operating: 10 bar(g)}}
"""
    boiling = number(tank(upright(), text.format("water at its boiling point")), "medium.density[normal]")
    pressed = number(tank(upright(), text.format("water")), "medium.density[normal]")
    assert boiling == printed("917.0")
    assert boiling < pressed < boiling * 1.001


def test_water_in_the_open_needs_no_steam_tables() -> None:
    found = tank(upright(), "level_now: 1 m\ndatum_error: none\nmedium: {kind: water, temperature: 20 degC}")
    assert number(found, "medium.density[normal]") == printed("998.207")
