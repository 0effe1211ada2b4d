"""Static charge on the instrument: the worked rod, and the order that all limits must keep."""

from __future__ import annotations

from itertools import pairwise, product
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import QuantityError
from onedatum.physics.ignition import (
    bonding_limit,
    breakdown_limits,
    charge_facts,
    isolated_metal_limit,
    light_metal_limits,
    projected_area_m2,
    surface_limits,
)
from tests.closeness import close, exact
from tests.reference import case

MM, MM2, PF = 1e-3, 1e-6, 1e-12
EPLS, GROUPS = ("Ga", "Gb", "Gc"), ("IIA", "IIB", "IIC")
DUST_EPLS, DUST_GROUPS = ("Da", "Db", "Dc"), ("IIIA", "IIIB", "IIIC")


def test_a_coated_rod_counts_with_its_projection() -> None:
    stated = case("loop-I10")
    diameter = stated.value("d") * MM
    area = projected_area_m2(diameter, stated.value("length"))
    close(area / MM2, stated.expected["area_projected_mm2"], 0.032, "tolerance of the case")
    limits = surface_limits(stated.value("epl"), stated.value("group"))
    assert limits.area_m2 is not None and limits.width_m is not None
    assert (area <= limits.area_m2) is stated.expected["permitted_by_area"]
    assert (diameter <= limits.width_m) is stated.expected["permitted_by_width"]


def test_the_projection_is_the_largest_shadow() -> None:
    """A cylinder of 16 mm by 2 m turned against the light: none of its shadows is larger than across its length."""
    turned = np.linspace(0.0, np.pi / 2, 10001)
    shadows = 0.016 * 2.0 * np.cos(turned) + np.pi / 4 * 0.016**2 * np.sin(turned)
    close(projected_area_m2(0.016, 2.0), np.max(shadows), 1e-4 * 0.032, "the end adds a quarter of a per mille")


def test_a_rod_of_14_mm() -> None:
    """Worked by hand: 280 cm2 are above every area; the width passes in zone 1, the layer of 2 mm in IIA and IIB."""
    area = projected_area_m2(0.014, 2.0)
    for epl, group in product(EPLS, GROUPS):
        limits = surface_limits(epl, group)
        assert limits.area_m2 is not None and limits.width_m is not None and limits.layer_m is not None
        assert area > limits.area_m2
        assert (limits.width_m >= 0.014) is (epl != "Ga")
        assert (limits.layer_m >= 0.002) is (group != "IIC")


@pytest.mark.parametrize(
    ("epl", "group", "area_mm2", "width_mm", "layer_mm"),
    [
        ("Ga", "IIA", 5000, 3, 2),
        ("Ga", "IIB", 2500, 3, 2),
        ("Ga", "IIC", 400, 1, 0.2),
        ("Gb", "IIA", 10000, 30, 2),
        ("Gb", "IIB", 10000, 30, 2),
        ("Gb", "IIC", 2000, 20, 0.2),
        ("Gc", "IIA", 10000, 30, 2),
        ("Gc", "IIB", 10000, 30, 2),
        ("Gc", "IIC", 2000, 20, 0.2),
    ],
)
def test_limits_of_surfaces(epl: str, group: str, area_mm2: float, width_mm: float, layer_mm: float) -> None:
    """From memory, copied a second time."""
    found = surface_limits(epl, group)
    close([found.area_m2], [area_mm2 * MM2], 1e-12, "rounding")
    close([found.width_m, found.layer_m], [width_mm * MM, layer_mm * MM], 1e-12, "rounding")
    assert (found.tag, found.reason) == ("from memory", "")


def numbers(epl: str, group: str) -> list[float]:
    found = surface_limits(epl, group)
    return [value for value in (found.area_m2, found.width_m, found.layer_m) if value is not None]


def test_a_harder_group_or_level_never_has_the_larger_surface() -> None:
    for epl in EPLS:
        for milder, harder in pairwise(GROUPS):
            assert all(a >= b for a, b in zip(numbers(epl, milder), numbers(epl, harder), strict=True))
    for group in GROUPS:
        for higher, lower in pairwise(EPLS):
            assert all(a <= b for a, b in zip(numbers(higher, group), numbers(lower, group), strict=True))


@pytest.mark.parametrize(
    ("epl", "group", "equipment_pF", "guidance_pF", "taken_pF"),
    [
        ("Ga", "IIA", 3, 3, 3),
        ("Ga", "IIB", 3, 3, 3),
        ("Ga", "IIC", 3, 3, 3),
        ("Gb", "IIA", 10, 6, 6),
        ("Gb", "IIB", 10, 6, 6),
        ("Gb", "IIC", 3, 6, 3),
        ("Gc", "IIA", None, 10, 10),
        ("Gc", "IIB", None, 10, None),
        ("Gc", "IIC", None, 10, None),
    ],
)
def test_of_two_limits_of_isolated_metal_the_smaller_is_taken(
    epl: str, group: str, equipment_pF: float | None, guidance_pF: float, taken_pF: float | None
) -> None:
    """Equipment from memory; guidance for IIA in zones 0, 1, 2 read second-hand, a bound for the other groups."""
    found = isolated_metal_limit(epl, group)
    assert found.guidance is not None
    close(found.guidance.capacitance_F / PF, guidance_pF, 1e-9, "rounding")
    assert found.guidance.tag == "read second-hand"
    assert (found.equipment is None) == (equipment_pF is None)
    if found.equipment is not None:
        close([found.equipment.capacitance_F / PF], [equipment_pF], 1e-9, "rounding")
        assert found.equipment.tag == "from memory"
    assert (found.capacitance_F is None) == (taken_pF is None) == bool(found.reason)
    if found.capacitance_F is not None:
        close([found.capacitance_F / PF], [taken_pF], 1e-9, "rounding")


def test_a_harder_group_or_level_never_has_the_larger_capacitance() -> None:
    known = {(e, g): isolated_metal_limit(e, g).capacitance_F for e, g in product(EPLS, GROUPS)}
    for (epl, group), limit in known.items():
        for (other_epl, other_group), other in known.items():
            harder = EPLS.index(other_epl) <= EPLS.index(epl) and GROUPS.index(other_group) >= GROUPS.index(group)
            assert not (harder and limit is not None and other is not None) or other <= limit


@pytest.mark.parametrize(
    ("epl", "group"), [*product(DUST_EPLS, DUST_GROUPS), *product(EPLS, DUST_GROUPS), *product(DUST_EPLS, GROUPS)]
)
def test_for_dust_no_limit_is_known_and_the_reason_is_given(epl: str, group: str) -> None:
    surface, metal = surface_limits(epl, group), isolated_metal_limit(epl, group)
    assert (surface.area_m2, surface.width_m, surface.layer_m) == (None, None, None)
    assert (metal.capacitance_F, metal.equipment, metal.guidance) == (None, None, None)
    assert surface.reason == metal.reason
    dust = epl in DUST_EPLS and group in DUST_GROUPS
    assert ("dust" in surface.reason) and ("not of one kind" in surface.reason) is not dust


@pytest.mark.parametrize("word", ["", "none", "ga", "II", None, 0, [], "Gd"])
def test_a_word_that_is_none_is_refused(word: Any) -> None:
    for call in (surface_limits, isolated_metal_limit):
        with pytest.raises(QuantityError, match="one of Ga, Gb, Gc, Da, Db, Dc"):
            call(word, "IIA")
        with pytest.raises(QuantityError, match="one of IIA, IIB, IIC, IIIA, IIIB, IIIC"):
            call("Ga", word)
    with pytest.raises(QuantityError, match="one of Ga"):
        light_metal_limits(word)


def test_bonding_and_breakdown() -> None:
    """1 Mohm by TRGS 727 and 4 kV, 6 kV woven, by the guidance; both read second-hand."""
    exact(bonding_limit().resistance_ohm, 1e6)
    exact([breakdown_limits().sheet_V, breakdown_limits().woven_V], [4000, 6000])
    assert {bonding_limit().tag, breakdown_limits().tag} == {"read second-hand"}


def test_light_metals() -> None:
    """IEC 60079-0, 8.3, read."""
    found = [light_metal_limits(epl) for epl in ("Ga", "Gb", "Gc", "Da")]
    assert [(row.with_aluminium, row.without_aluminium) for row in found] == [
        (0.10, 0.075),
        (None, 0.075),
        (None, None),
        (None, None),
    ]
    assert [row.reason for row in found] == ["", "", "no limit in this clause", "dust: not read"]
    assert all("yardstick" in row.note for row in found)


def test_facts_about_charge() -> None:
    texts = " ".join(fact.text for fact in charge_facts())
    for told in ("8 mm", "4 kV, 6 kV", "four times", "1 Mohm", "250 uC/m2", "brush discharge only", "projection"):
        assert told in texts
