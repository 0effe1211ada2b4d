"""Writing quantities for people, and reading them back."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.units import DIMENSIONS, SHOWN, Dimension, in_unit, number, read_quantity, show, show_with_u

SHOWN_TEXTS = [
    # arguments, text: rounded by hand
    ((1.85, "mm"), "1850 mm"),
    ((0.0525, "mm", 2), "52 mm"),
    ((0.0535, "mm", 2), "54 mm"),
    ((0.0525, "mm", 3), "52.5 mm"),
    ((293.15, "degC", 3), "20.0 degC"),
    ((273.15, "degF", 3), "32.0 degF"),
    ((0.0, "mm"), "0 mm"),
    ((-0.0, "mm"), "0 mm"),
    ((-1e-9, "m", 4, 0.1), "0.00 m"),
    ((-0.5, "m", 2), "\u22120.50 m"),
    ((None, "mm"), "unknown"),
    ((math.nan, "mm"), "unknown"),
    ((math.inf, "m"), "infinite m"),
    ((0.68, "%vol", 3), "68.0 %vol"),
    ((5.0, ""), "5.000"),
    ((999.96, "m"), "1000 m"),
    ((12345.0, "m", 3), "12300 m"),
    ((1.6e-7, "1/K", 3), "1.60 × 10⁻⁷ 1/K"),
    ((4.2e12, "ohm", 2), "4.2 × 10¹² ohm"),
    # by uncertainty: to its second digit
    ((1.85, "mm", 4, 0.0005), "1850.00 mm"),
    ((1.8536, "mm", 4, 0.012), "1854 mm"),
    ((123456.0, "m", 4, 123.0), "123460 m"),
    ((0.0996, "m", 4, 0.0996), "0.10 m"),
    ((1.0, "m", 4, 0.0), "1.000 m"),
]


@pytest.mark.parametrize(("arguments", "text"), SHOWN_TEXTS)
def test_a_value_is_written_for_people(arguments: tuple[Any, ...], text: str) -> None:
    assert show(*arguments) == text


@pytest.mark.parametrize(
    ("value", "u", "text"),
    # JCGM 100:2008, 7.2.2: 100.021 47 g with 0.35 mg, there to two digits of u
    [(100.02147e-3, 0.35e-6, "(100.02147 ± 0.00035) g")],
)
def test_a_value_with_its_uncertainty(value: float, u: float, text: str) -> None:
    assert show_with_u(value, "g", u) == text


def test_a_value_with_its_uncertainty_in_other_cases() -> None:
    assert show_with_u(1.85, "mm", 0.0005) == "(1850.00 ± 0.50) mm"
    assert show_with_u(293.15, "degC", 0.1) == "20.00 degC ± 0.10 K"
    assert show_with_u(0.68, "%vol", 0.001, decimal_comma=True) == "(68,00 ± 0,10) %vol"
    assert show_with_u(-1.5, "", 0.2) == "\u22121.50 ± 0.20"
    assert show_with_u(None, "mm", 0.1) == "unknown"
    assert show_with_u(1.85, "mm", None) == "1850 mm"


def test_the_decimal_comma_is_a_setting() -> None:
    assert show(0.0525, "mm", 3, decimal_comma=True) == "52,5 mm"
    assert number(7.5, 2, decimal_comma=True) == "7,5"


def test_scales_are_exact() -> None:
    assert in_unit(1.85, "mm") == 1850.0
    assert in_unit(0.0525, "mm") == 52.5
    assert in_unit(273.15, "degC") == 0.0
    assert in_unit(373.15, "degF") == 212.0


def test_an_unknown_unit_is_the_programmers_error() -> None:
    with pytest.raises(ValueError, match="furlong"):
        show(1.0, "furlong")


@pytest.mark.parametrize("kind", DIMENSIONS.values(), ids=lambda kind: kind.word)
def test_every_kind_can_be_shown_in_its_unit_and_in_si(kind: Dimension) -> None:
    assert kind.shown in SHOWN
    assert kind.si in SHOWN


ROUND_TRIPS = [(kind.word, unit) for kind in DIMENSIONS.values() for unit in kind.offered if unit in SHOWN]
ROUND_TRIPS = [(word, unit) for word, unit in ROUND_TRIPS if word != "pressure (either)" and unit != "degC"] + [
    ("temperature", "degC"),
    ("number", ""),
]


@given(st.floats(0.001, 99999.0), st.sampled_from(ROUND_TRIPS))
def test_what_is_written_is_read_back(shown: float, where: tuple[str, str]) -> None:
    """Twelve digits out, the same twelve digits in."""
    word, unit = where
    value = read_quantity(f"{shown:.3f} {unit}".strip(), word)
    difference = word == "temperature difference" and unit in ("degC", "degF")
    if difference:
        return
    text = show(value, unit, 12)
    again = read_quantity(text, word)
    assert show(again, unit, 12) == text
    assert again == pytest.approx(value, rel=1e-11, abs=1e-300)


@given(st.floats(allow_nan=True, allow_infinity=True), st.sampled_from(sorted(SHOWN)), st.integers(1, 12))
def test_any_float_is_written_without_a_negative_zero(value: float, unit: str, digits: int) -> None:
    text = show(value, unit, digits)
    assert text
    assert "-" not in text.replace(unit, "")
    figures = text.removesuffix(f" {unit}").partition(" × ")[0]
    assert not (figures.startswith("\u2212") and not figures.strip("\u22120."))
