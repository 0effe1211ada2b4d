"""What units are worth: legal definitions, printed tables, and the units library's own registry."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from CoolProp.CoolProp import PropsSI

from onedatum.foundation.units import SHOWN, in_unit, read_quantity
from onedatum.foundation.units.dimensions import SHARES
from onedatum.foundation.units.grammar import pressure_reference, spelled_out
from onedatum.foundation.units.registry import vocabulary, worth

INCH = Fraction("0.0254")
POUND_FORCE = Fraction("0.45359237") * Fraction("9.80665")

# Exact by definition: international yard and pound agreement (1959), 231 cubic inches, UK Units of Measurement
# Regulations, standard acceleration of free fall (CGPM 1901). Definitions from memory.
DEFINED = {
    "in": INCH,
    "ft": 12 * INCH,
    "lb": Fraction("0.45359237"),
    "US_gal": 231 * INCH**3,
    "UK_gal": Fraction("0.00454609"),
    "bbl": 42 * 231 * INCH**3,
    "lbf": POUND_FORCE,
    "psi": POUND_FORCE / INCH**2,
    "ft3": (12 * INCH) ** 3,
    "lb/ft3": Fraction("0.45359237") / (12 * INCH) ** 3,
    "m3/h": Fraction(1, 3600),
    "L/min": Fraction(1, 60_000),
    "mPa.s": Fraction(1, 1000),
    "uS/cm": Fraction(1, 10_000),
    "pF/m": Fraction(1, 10**12),
    "ohm/km": Fraction(1, 1000),
    "ohm.mm2/m": Fraction(1, 10**6),
    "1/degF": Fraction(9, 5),
    "W/(m.K)": Fraction(1),
    "kg/(m.s)": Fraction(1),
    "m/s/s": Fraction(1),
}


@pytest.mark.parametrize("unit", DEFINED)
def test_factors_are_the_definitions(unit: str) -> None:
    assert float(worth(unit).factor) == float(DEFINED[unit])


# NIST SP 811 (2008), appendix B.8, as printed there (values from memory).
PRINTED = [
    ("psi", "6894.757"), ("lb/ft3", "16.01846"), ("lbf", "4.448222"), ("ft3", "0.02831685"), ("US_gal", "0.003785412"),
    ("bbl", "0.1589873"), ("US_gal/min", "0.00006309020"), ("lb/US_gal", "119.8264"), ("ft/s", "0.3048"),
    ("in_water_cold", "249.082"), ("in_water_sixty", "248.84"), ("mm_water_cold", "9.80638"),
    ("ft_water_cold", "2988.98"),
]  # fmt: skip


@pytest.mark.parametrize(("unit", "printed"), PRINTED)
def test_factors_are_as_printed(unit: str, printed: str) -> None:
    half_of_last_digit = Decimal((0, (5,), int(Decimal(printed).as_tuple().exponent) - 1))
    assert abs(worth(unit).factor - Decimal(printed)) <= half_of_last_digit


@pytest.mark.parametrize(
    ("text", "kelvin"),
    # fixed points: SI brochure, 2.3.1 (0 degC is 273.15 K); degF by K = (F + 459.67) / 1.8
    [("0 degC", 273.15), ("-273.15 degC", 0.0), ("20 °C", 293.15), ("32 degF", 273.15), ("212 degF", 373.15),
     ("-40 degF", 233.15), ("60 degF", float(Fraction("519.67") / Fraction("1.8"))), ("300 K", 300.0)],
)  # fmt: skip
def test_temperatures(text: str, kelvin: float) -> None:
    assert read_quantity(text, "temperature") == kelvin


def test_a_temperature_difference_has_no_zero_point() -> None:
    assert read_quantity("0.5 K", "temperature difference") == 0.5
    assert read_quantity("0.5 degC", "temperature difference") == 0.5
    assert read_quantity("9 degF", "temperature difference") == 5.0


LIBRARY_NAMES = {
    "l": "liter", "L": "liter", "US_gal": "gallon", "UK_gal": "imperial_gallon", "kft": "kilofoot", "a": "julian_year",
    "h": "hour", "d": "day", "t": "metric_ton", "deg": "degree", "bbl": "oil_bbl", "lbf": "force_pound",
    "degC": "delta_degC", "degF": "delta_degF", "delta_C": "delta_degC", "delta_F": "delta_degF", "St": "stokes",
    "cSt": "centistokes", "cP": "centipoise", "mohm": "milliohm", "kohm": "kiloohm", "Mohm": "megaohm", "ml": "mL",
    "hL": "hectoliter", "F": "farad", "S": "siemens", "H": "henry", "in": "inch", "min": "minute",
}  # fmt: skip


def test_every_unit_is_worth_what_the_library_says_by_itself() -> None:
    library: pint.UnitRegistry[float] = pint.UnitRegistry()
    checked = 0
    for name in sorted(vocabulary() - {name for name in vocabulary() if "_water_" in name}):
        theirs = library.Quantity(1.0, LIBRARY_NAMES.get(name, name)).to_base_units()
        ours = worth(name).factor
        gram = theirs.dimensionality["[mass]"]
        assert float(ours) == pytest.approx(theirs.magnitude, rel=1e-14), (name, gram)
        checked += 1
    assert checked > 80


@pytest.mark.parametrize(("at", "kelvin"), [("4 degC", 277.15), ("20 degC", 293.15), ("60 degF", 288.70555555555555)])
def test_columns_of_water_by_the_density_of_water(at: str, kelvin: float) -> None:
    density = PropsSI("D", "T", kelvin, "P", 101325.0, "HEOS::Water")
    assert read_quantity(f"1 inH2O({at})", "pressure difference") == pytest.approx(density * 9.80665 * 0.0254, rel=5e-6)


def test_the_table_for_writing_agrees_with_the_reading() -> None:
    for unit in SHOWN:
        if unit in ("", "%") or unit in SHARES:
            continue
        bare, _ = pressure_reference(spelled_out(unit))
        difference = in_unit(1.0, unit) - in_unit(0.0, unit)
        assert difference * float(worth(bare).factor) == pytest.approx(1.0, rel=1e-12), unit
