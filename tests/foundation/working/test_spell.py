"""Numbers in words: enough digits to work them again, the unit people use, no minus in front of nothing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.units import DIMENSIONS, read_quantity
from onedatum.foundation.working import spell, spell_limit, spell_si, suffix_of_name, suffix_of_unit, unit_of_suffix
from tests.closeness import close

SUFFIXES = sorted({suffix_of_unit(dimension.si) for dimension in DIMENSIONS.values()})


@pytest.mark.parametrize(
    ("value", "suffix", "shown", "text"),
    [
        (1.85, "m", "", "1850.00 mm"),
        (1.85, "m", "m", "1.8500 m"),
        (287.15, "K", "", "14.00 degC"),
        (0.0143704, "A", "mA", "14.370 mA"),
        (3.5016, "m3", "m3", "3.5016 m3"),
        (0.68, "", "%vol", "68.00 %vol"),
        (10839e-3, "V", "", "10.839 V"),
        (130500.0, "Pa_gauge", "bar(g)", "1.305 bar(g)"),
        (None, "m", "", "unknown"),
    ],
)
def test_a_result_in_the_unit_that_people_read(value: float | None, suffix: str, shown: str, text: str) -> None:
    """The number before the unit is the value in it, converted by hand."""
    spelt = spell(value, suffix, shown)
    assert spelt == text


@pytest.mark.parametrize(
    ("value", "suffix", "text"),
    [(20.0, "m", "20000 mm"), (253.15, "K", "−20 degC"), (0.02, "A", "20 mA"), (0.0, "m", "0 mm"), (100.0, "", "100")],
)
def test_a_limit_is_as_short_as_it_is_exact(value: float, suffix: str, text: str) -> None:
    assert spell_limit(value, suffix) == text


@pytest.mark.parametrize(
    ("value", "suffix", "text"),
    [
        (1.6, "m", "1.6 m"),
        (100.0, "kg_per_m3", "100 kg/m3"),
        (-0.5, "", "−0.5"),
        (1.6e-5, "per_K", "1.6 × 10⁻⁵ 1/K"),
        (math.pi, "", "3.141593"),
        (None, "m", "unknown"),
    ],
)
def test_a_number_put_into_a_formula_is_in_si_with_seven_digits(value: float | None, suffix: str, text: str) -> None:
    assert spell_si(value, suffix) == text


@given(st.floats(-1e-3, 1e-3), st.sampled_from(["m", "kg", "V", "A", ""]))
def test_nothing_has_no_sign(value: float, suffix: str) -> None:
    for text in (spell(value, suffix), spell_limit(value, suffix), spell_si(value, suffix)):
        number = text.split(" ")[0]
        assert "-" not in number
        if number.startswith("−"):
            assert value < 0 and any(digit in number for digit in "123456789")


@given(st.floats(-1.0, 1.0))
def test_freezing_has_no_sign_either(off: float) -> None:
    """0 degC is no zero in SI; the signed number shown is on the side where the value lies."""
    for text in (spell(273.15 + off, "K"), spell_limit(273.15 + off, "K")):
        number = text.split(" ")[0]
        assert "-" not in number and text.endswith(" degC")
        assert number.startswith("−") <= (273.15 + off < 273.15 and any(digit in number for digit in "123456789"))


@given(st.floats(1e-6, 1e6).map(lambda x: float(f"{x:.7g}")))
def test_a_spelt_length_reads_back_as_what_it_says(value: float) -> None:
    """The reader of quantities is another piece of code than the writer."""
    text = spell(value, "m").replace(" × 10", "e").translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    close(read_quantity(text, "length"), value, 0.005 * value, "three digits are the least that are printed")


@given(st.floats(0.1, 1e4))
def test_seven_digits_are_enough_to_work_a_number_again(value: float) -> None:
    number = spell_si(value, "").replace(" × 10", "e").translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    close(float(number), value, 5.1e-7 * value, "half a unit of the seventh digit")


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_suffix_and_unit_are_each_others_inverse(suffix: str) -> None:
    assert suffix_of_unit(unit_of_suffix(suffix)) == suffix
    assert suffix_of_name(f"thing_{suffix}" if suffix else "thing") == suffix
