"""Zones, groups and temperature classes: what serves where, by definition, by order and at the limits."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import inf, nan, nextafter
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.physics.ignition import (
    class_limit_K,
    class_required,
    class_serves,
    epl_serves,
    group_serves,
    harder_zone,
    least_group,
    level_serves,
    lowest_level,
    small_components,
    standard_atmosphere,
    zone_needs,
)
from tests.closeness import close, exact
from tests.reference import case

ZERO_K = 273.15
GAS_ZONES, DUST_ZONES = ("0", "1", "2"), ("20", "21", "22")
GAS_GROUPS, DUST_GROUPS = ("IIA", "IIB", "IIC"), ("IIIA", "IIIB", "IIIC")
CLASSES = ("T1", "T2", "T3", "T4", "T5", "T6")


# ---------------------------------------------------------------- zones


@pytest.mark.parametrize(
    ("zone", "epl", "level", "category"),
    [
        ("0", "Ga", "ia", "1G"),
        ("1", "Gb", "ib", "2G"),
        ("2", "Gc", "ic", "3G"),
        ("20", "Da", "ia", "1D"),
        ("21", "Db", "ib", "2D"),
        ("22", "Dc", "ic", "3D"),
    ],
)
def test_what_a_zone_asks_at_least(zone: str, epl: str, level: str, category: str) -> None:
    """By IEC 60079-14, from memory."""
    needs = zone_needs(zone)
    assert (needs.least_epl, needs.least_level, needs.category) == (epl, level, category)
    assert needs.tag == "from memory"


@pytest.mark.parametrize(("zones", "letter"), [(GAS_ZONES, "G"), (DUST_ZONES, "D")])
def test_a_protection_level_serves_its_zone_and_the_milder_ones(zones: tuple[str, ...], letter: str) -> None:
    for (hardness, zone), (height, last) in product(enumerate(zones), enumerate("abc")):
        assert epl_serves(letter + last, zone) is (height <= hardness)
        assert level_serves("i" + last, zone) is (height <= hardness)


def test_gas_and_dust_never_serve_one_another() -> None:
    assert not any(epl_serves(epl, zone) for epl in ("Da", "Db", "Dc") for zone in GAS_ZONES)
    assert not any(epl_serves(epl, zone) for epl in ("Ga", "Gb", "Gc") for zone in DUST_ZONES)
    assert not any(group_serves(gas, dust) for gas in GAS_GROUPS for dust in DUST_GROUPS)
    assert not any(group_serves(dust, gas) for gas in GAS_GROUPS for dust in DUST_GROUPS)


@pytest.mark.parametrize("zones", [GAS_ZONES, DUST_ZONES])
def test_what_serves_the_harder_zone_serves_both(zones: tuple[str, ...]) -> None:
    for first, second in product(zones, repeat=2):
        harder = harder_zone(first, second)
        assert harder == harder_zone(second, first)
        assert harder in (first, second)
        for epl in ("Ga", "Gb", "Gc", "Da", "Db", "Dc"):
            assert epl_serves(epl, harder) is (epl_serves(epl, first) and epl_serves(epl, second))


def test_a_zone_of_gas_is_not_compared_with_one_of_dust() -> None:
    with pytest.raises(QuantityError, match="two zones of gas or two of dust; got 1 and 21"):
        harder_zone("1", "21")


# ---------------------------------------------------------------- levels and groups


def test_the_lowest_level_counts() -> None:
    assert lowest_level(["ia", "ic", "ib"]) == "ic"
    assert lowest_level(["ia", "ib"]) == "ib"
    assert lowest_level(iter(["ia"])) == "ia"


@given(levels=st.lists(st.sampled_from(["ia", "ib", "ic"]), min_size=1))
def test_a_circuit_serves_where_all_its_parts_do(levels: list[str]) -> None:
    for zone in (*GAS_ZONES, *DUST_ZONES):
        assert level_serves(lowest_level(levels), zone) is all(level_serves(level, zone) for level in levels)


@pytest.mark.parametrize("groups", [GAS_GROUPS, DUST_GROUPS])
def test_a_group_serves_itself_and_the_less_demanding(groups: tuple[str, ...]) -> None:
    for (rank, certified), (needed_rank, needed) in product(enumerate(groups), repeat=2):
        assert group_serves(certified, needed) is (rank >= needed_rank)


@pytest.mark.parametrize("kind", [GAS_GROUPS, DUST_GROUPS])
def test_the_least_group_serves_where_all_do(kind: tuple[str, ...]) -> None:
    for groups in product(kind, repeat=3):
        for needed in kind:
            assert group_serves(least_group(groups), needed) is all(group_serves(group, needed) for group in groups)


def test_a_circuit_of_gas_and_dust_has_no_group() -> None:
    with pytest.raises(QuantityError, match="gas alone or of dust alone; got IIC, IIIC"):
        least_group(["IIC", "IIIC"])


@pytest.mark.parametrize("of", [lowest_level, least_group])
def test_nothing_has_neither_level_nor_group(of: Callable[[list[str]], str]) -> None:
    with pytest.raises(QuantityError, match="at least one"):
        of([])


def refused(call: Callable[..., Any], *given: Any) -> str:
    with pytest.raises(QuantityError) as caught:
        call(*given)
    return str(caught.value)


@pytest.mark.parametrize(
    "word", ["", " ", "zone 0", "0 ", "00", "3", "ga", "none", None, 0, ["0"], "T7", "IID", "id", "Ⅱ"]
)
def test_a_word_that_is_none_is_refused_with_those_that_are(word: Any) -> None:
    assert "one of 0, 1, 2, 20, 21, 22" in refused(zone_needs, word)
    assert "one of 0, 1, 2" in refused(epl_serves, "Ga", word)
    assert "one of Ga, Gb, Gc, Da, Db, Dc" in refused(epl_serves, word, "1")
    assert "one of ic, ib, ia" in refused(level_serves, word, "1")
    assert "one of ic, ib, ia" in refused(lowest_level, ["ia", word])
    assert "one of IIA, IIB, IIC, IIIA, IIIB, IIIC" in refused(group_serves, word, "IIA")
    assert "one of IIA" in refused(group_serves, "IIA", word)
    assert "one of IIA" in refused(least_group, ["IIA", word])
    assert "one of T1, T2, T3, T4, T5, T6" in refused(class_limit_K, word)


# ---------------------------------------------------------------- temperature classes


def test_class_by_ignition_temperature() -> None:
    stated = case("loop-I09")
    assert [class_required(ait + ZERO_K) for ait in stated.value("ait")] == stated.expected


def test_limits_of_the_classes() -> None:
    """IEC 60079-0, read."""
    close([class_limit_K(word) - ZERO_K for word in CLASSES], [450, 300, 200, 135, 100, 85], 1e-9, "rounding")


@pytest.mark.parametrize("word", CLASSES)
def test_an_ignition_temperature_on_the_limit_falls_to_the_next_class(word: str) -> None:
    """In degC and in degF, and one step of the machine to either side: a conversion does not win a class."""
    limit_K = class_limit_K(word)
    following = [*CLASSES[1:], ""][CLASSES.index(word)]
    degF = (limit_K - ZERO_K) * 9 / 5 + 32
    for same in (limit_K, nextafter(limit_K, inf), nextafter(limit_K, 0), (degF + 459.67) * 5 / 9, limit_K + 1e-9):
        assert class_required(same) == following
    assert class_required(limit_K + 0.01) == word


def test_no_class_serves_what_ignites_below_the_last() -> None:
    assert class_required(80.0 + ZERO_K) == ""
    assert "one of T1" in refused(class_serves, "T6", class_required(80.0 + ZERO_K))


@given(ignition_K=st.floats(310.0, 1300.0))
def test_the_class_required_is_the_mildest_that_stays_below(ignition_K: float) -> None:
    needed = class_required(ignition_K)
    below = [word for word in CLASSES if class_limit_K(word) < ignition_K - 1e-6]
    assert needed == (below[0] if below else "")
    if needed:
        assert [word for word in CLASSES if class_serves(word, needed)] == below


@pytest.mark.parametrize("value", [nan, inf, -inf, 0.0, -1.0, None, "450 degC", True])
def test_an_ignition_temperature_that_is_none_is_refused(value: Any) -> None:
    assert "a temperature above 0 K" in refused(class_required, value)


def test_relief_for_small_components_is_shown_with_what_each_row_is_worth() -> None:
    """Powers at 40, 60 and 80 degC read second-hand; the others, and the surfaces, from memory."""
    relief = small_components()
    assert relief.temperature_class == "T4"
    close([row.ambient_K - ZERO_K for row in relief.powers], [40, 50, 60, 70, 80], 1e-9, "rounding")
    exact([row.power_W for row in relief.powers], [1.3, 1.25, 1.2, 1.1, 1.0])
    assert [row.tag for row in relief.powers] == ["read second-hand", "from memory"] * 2 + ["read second-hand"]
    close([row.limit_K - ZERO_K for row in relief.surfaces], [275, 200], 1e-9, "rounding")
    close([row.area_max_m2 for row in relief.surfaces], [20e-6, 10e-4], 1e-18, "rounding")
    assert {row.tag for row in relief.surfaces} == {"from memory"}
    assert relief.surfaces[0].area_max_m2 == relief.surfaces[1].area_min_m2, "no surface falls between the two"


def test_standard_atmosphere() -> None:
    """IEC 60079-0, read: -20 to 60 degC and 80 to 110 kPa; equipment -20 to 40 degC where nothing is marked."""
    air = standard_atmosphere()
    close([air.temperature_min_K, air.temperature_max_K], [253.15, 333.15], 1e-9, "rounding")
    close([air.ambient_min_K, air.ambient_max_K], [253.15, 313.15], 1e-9, "rounding")
    exact([air.pressure_min_Pa_abs, air.pressure_max_Pa_abs], [80e3, 110e3])
    assert air.tag == "read"
