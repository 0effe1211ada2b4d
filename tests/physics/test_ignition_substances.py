"""Flammable substances against a second transcription of both tables, and against themselves."""

from __future__ import annotations

from typing import Any

import pytest

from onedatum.foundation.errors import QuantityError
from onedatum.physics.ignition import (
    Figures,
    aqueous_ethanol,
    class_limit_K,
    class_required,
    group_serves,
    substance,
    substance_names,
)
from tests.closeness import close

ZERO_K = 273.15
GAS = None

# By IS/IEC 60079-20-1:2010, copied a second time by hand: flash point and ignition temperature in degC, explosive
# limits in %; the ignition temperature by NFPA 497:2008; the class by the first ignition temperature.
ROWS: list[tuple[str, float | None, float, float, float | None, float | None, str]] = [
    ("ethanol", 12, 400, 3.1, 19, 363, "T2"),
    ("methanol", 9, 440, 6, 36, 385, "T2"),
    ("propan-1-ol", 15, 385, 2.1, 17.5, 413, "T2"),
    ("propan-2-ol", 12, 399, 2, 12.7, 399, "T2"),
    ("butan-1-ol", 35, 343, 1.4, 12, 343, "T2"),
    ("n-pentane", -40, 243, 1.1, 8.7, 243, "T3"),
    ("n-hexane", -22, 225, 1, 8.9, 225, "T3"),
    ("n-heptane", -7, 204, 0.85, 6.7, 204, "T3"),
    ("n-octane", 13, 206, 0.8, 6.5, 206, "T3"),
    ("cyclohexane", -17, 244, 1, 8, 245, "T3"),
    ("benzene", -11, 498, 1.2, 8.6, 498, "T1"),
    ("toluene", 4, 530, 1, 7.8, 480, "T1"),
    ("o-xylene", 30, 470, 1, 7.6, None, "T1"),
    ("styrene", 30, 490, 1, 8, 490, "T1"),
    ("acetone", -20, 539, 2.5, 14.3, 465, "T1"),
    ("butanone", -10, 404, 1.5, 13.4, 404, "T2"),
    ("ethyl acetate", -4, 470, 2, 12.8, 427, "T1"),
    ("vinyl acetate", -7, 385, 2.6, 13.4, 402, "T2"),
    ("acetic acid", 39, 510, 4, 19.9, 426, "T1"),
    ("diethyl ether", -45, 175, 1.7, 39.2, 160, "T4"),
    ("tetrahydrofuran", -14, 230, 1.5, 12.4, 321, "T3"),
    ("acetaldehyde", -38, 155, 4, 60, 175, "T4"),
    ("carbon disulphide", -30, 90, 0.6, 60, 90, "T6"),
    ("petrol", -46, 280, 1.4, 7.6, 280, "T3"),
    ("kerosene", 38, 210, 0.7, 5, 210, "T3"),
    ("fuel oil no. 2", 52, 254, 0.6, 6.5, None, "T3"),
    ("turpentine oil", 35, 253, 0.8, None, 253, "T3"),
    ("hydrogen", GAS, 560, 4, 77, 500, "T1"),
    ("ammonia", GAS, 630, 15, 33.6, 651, "T1"),
    ("hydrogen sulphide", GAS, 260, 4, 45.5, 260, "T3"),
    ("methane", GAS, 600, 4.4, 17, 600, "T1"),
    ("propane", GAS, 450, 1.7, 10.9, 450, "T2"),
    ("n-butane", GAS, 372, 1.4, 9.3, 288, "T2"),
    ("ethylene", GAS, 440, 2.3, 36, 490, "T2"),
    ("acetylene", GAS, 305, 2.3, 100, 305, "T2"),
]
NAMES = [row[0] for row in ROWS]


def same(found: float | None, expected: float | None, scale: float, zero: float = 0.0) -> None:
    assert (found is None) == (expected is None)
    if found is not None and expected is not None:
        close((found - zero) / scale + 1000, expected + 1000, 1e-9, "rounding of one conversion")


@pytest.mark.parametrize("row", ROWS, ids=NAMES)
def test_both_tables(row: tuple[Any, ...]) -> None:
    name, flash, ignition, lower, upper, nfpa, word = row
    found = substance(name)
    same(found.iec.flash_point_K, flash, 1.0, ZERO_K)
    same(found.iec.ignition_temperature_K, ignition, 1.0, ZERO_K)
    same(found.iec.lower_explosive_limit, lower, 0.01)
    same(found.iec.upper_explosive_limit, upper, 0.01)
    same(found.nfpa.ignition_temperature_K if found.nfpa else None, nfpa, 1.0, ZERO_K)
    assert class_required(found.iec.ignition_temperature_K) == word


def test_every_substance_is_copied_a_second_time() -> None:
    assert list(substance_names()) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_of_two_figures_the_one_on_the_safe_side_counts(name: str) -> None:
    found = substance(name)
    both = [figures for figures in (found.iec, found.nfpa) if figures]
    assert found.figures == tuple(both)
    assert found.ignition_temperature_K == min(figures.ignition_temperature_K for figures in both)
    assert found.deciding.ignition_temperature_K == found.ignition_temperature_K
    for figures in both:
        assert figures.flash_point_K is None or figures.flash_point_K >= (found.flash_point_K or 0)
        assert figures.lower_explosive_limit is None or figures.lower_explosive_limit >= (
            found.lower_explosive_limit or 1
        )
        assert figures.upper_explosive_limit is None or figures.upper_explosive_limit <= (
            found.upper_explosive_limit or 0
        )


@pytest.mark.parametrize("name", NAMES)
def test_figures_are_in_their_natural_order(name: str) -> None:
    """A flash point lies below the ignition temperature, the lower explosive limit below the upper."""
    found = substance(name)
    assert (found.flash_point_K or 0) < found.ignition_temperature_K
    assert 0 < (found.lower_explosive_limit or 0) < (found.upper_explosive_limit or 1.0) <= 1.0
    assert len(found.cas.split("-")) == 3
    first, second, check = found.cas.split("-")
    digits = [int(digit) for digit in reversed(first + second)]
    assert sum(place * digit for place, digit in enumerate(digits, 1)) % 10 == int(check), "check digit of the number"


@pytest.mark.parametrize("name", NAMES)
def test_group_and_safe_gap_agree(name: str) -> None:
    """IIA above 0.9 mm, IIB from 0.5 mm, IIC below; from memory, both."""
    found = substance(name)
    assert found.group_tag == "from memory"
    if found.safe_gap_m is not None:
        by_gap = "IIA" if found.safe_gap_m > 0.9e-3 else "IIB" if found.safe_gap_m >= 0.5e-3 else "IIC"
        assert by_gap == found.group


@pytest.mark.parametrize(
    ("name", "word"),
    [
        ("ethanol", "T2"),
        ("ethyl acetate", "T2"),
        ("acetic acid", "T2"),
        ("propane", "T2"),
        ("n-butane", "T3"),
        ("diethyl ether", "T4"),
        ("carbon disulphide", "T6"),
        ("hydrogen", "T1"),
    ],
)
def test_class_by_the_lower_figure(name: str, word: str) -> None:
    """Ethyl acetate and acetic acid are T1 by one table alone, n-butane T2; propane lies on a limit."""
    assert class_required(substance(name).ignition_temperature_K) == word


def test_propane_lies_on_the_limit_of_a_class() -> None:
    assert substance("propane").ignition_temperature_K == class_limit_K("T1")
    assert any("limit of class T1" in note for note in substance("propane").notes)


def test_ethanol_takes_the_harder_of_its_two_groups() -> None:
    ethanol = substance("ethanol")
    assert group_serves(ethanol.group, "IIB")
    assert any("older tables give IIA" in note for note in ethanol.notes)


def test_the_second_figure_of_butanone_is_told_not_used() -> None:
    close(substance("MEK").ignition_temperature_K - ZERO_K, 404, 1e-9, "rounding")
    assert any("475" in note for note in substance("MEK").notes)


# ---------------------------------------------------------------- names


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("MEK", "butanone"),
        ("mek", "butanone"),
        ("Ethanol", "ethanol"),
        ("  ETHYL   alcohol ", "ethanol"),
        ("isopropanol", "propan-2-ol"),
        ("IPA", "propan-2-ol"),
        ("THF", "tetrahydrofuran"),
        ("gasoline", "petrol"),
        ("hydrogen sulfide", "hydrogen sulphide"),
        ("hexane", "n-hexane"),
    ],
)
def test_names_of_the_trade(said: str, name: str) -> None:
    assert substance(said).name == name


@pytest.mark.parametrize(
    ("said", "near"),
    [("etanol", "ethanol"), ("acetonne", "acetone"), ("n hexane", "n-hexane"), ("tolulene", "toluene")],
)
def test_an_unknown_name_is_refused_with_the_nearest(said: str, near: str) -> None:
    with pytest.raises(QuantityError) as caught:
        substance(said)
    assert near in caught.value.allowed
    assert caught.value.got == said
    assert "safety data sheet" in caught.value.remedy


@pytest.mark.parametrize(
    ("said", "example"), [("xylene", "o-xylene"), ("Diesel", "fuel oil no. 2"), ("propanol", "propan-2-ol")]
)
def test_a_name_for_several_is_refused(said: str, example: str) -> None:
    with pytest.raises(QuantityError, match="stands for several") as caught:
        substance(said)
    assert example in caught.value.allowed


@pytest.mark.parametrize("said", ["", "   ", "water", "42", "ethanol; acetone", "x" * 10000, None, 3, ["ethanol"]])
def test_what_is_no_name_is_refused(said: Any) -> None:
    with pytest.raises(QuantityError, match="Not in the table of flammable substances") as caught:
        substance(said)
    assert len(str(caught.value)) < 300


def test_every_source_of_a_figure_is_its_own() -> None:
    ethanol = substance("ethanol")
    assert isinstance(ethanol.nfpa, Figures)
    assert (ethanol.iec.source, ethanol.nfpa.source) == ("iec-60079-20-1", "nfpa-497")


# ---------------------------------------------------------------- ethanol with water


def test_flash_points_of_ethanol_with_water() -> None:
    """A published list, read second-hand."""
    found = aqueous_ethanol()
    expected = {10: 49, 20: 36, 30: 29, 40: 26, 50: 24, 60: 22, 70: 21, 80: 20, 90: 17, 96: 17}
    close([100 * row.strength for row in found.rows], list(expected), 1e-12, "rounding")
    close([row.flash_point_K - ZERO_K for row in found.rows], list(expected.values()), 1e-9, "rounding")
    assert found.tag == "read second-hand"


def test_dilution_never_lowers_a_flash_point_and_never_declassifies() -> None:
    found = aqueous_ethanol()
    flashes = [row.flash_point_K for row in found.rows]
    assert flashes == sorted(flashes, reverse=True)
    assert min(flashes) > (substance("ethanol").flash_point_K or 1e9), "neat ethanol has the lowest"
    assert "never declassified" in found.rule
