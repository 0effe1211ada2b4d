"""The kept answers of pint are pint's answers, and a usual case is read without loading it."""

from __future__ import annotations

import subprocess
import sys
from decimal import Decimal

import pytest

from onedatum.foundation.units.registry import _usual, in_kelvin, in_kelvin_by_pint, vocabulary, worth, worth_by_pint


@pytest.mark.parametrize("unit", sorted(_usual()))
def test_each_kept_answer_is_pints(unit: str) -> None:
    assert worth(unit) == worth_by_pint(unit)


def test_no_name_that_people_write_is_left_out() -> None:
    left_out = vocabulary() - set(_usual())
    assert left_out <= {"delta_C", "delta_F"}, left_out
    assert {"mm", "m3/h", "kg/m3", "ohm/km", "1/K", "uS/cm", "mPa.s"} <= set(_usual())


@pytest.mark.parametrize("unit", ["K", "degC", "degF"])
@pytest.mark.parametrize("value", ["0", "20", "98.6", "-40", "-273.15", "1e3"])
def test_scales_of_temperature_agree_with_pint(unit: str, value: str) -> None:
    assert abs(in_kelvin(Decimal(value), unit) - in_kelvin_by_pint(Decimal(value), unit)) < Decimal("1e-20")


def loads_pint(text: str, dimension: str) -> bool:
    """Whether reading a quantity in a fresh interpreter loads pint."""
    code = (
        "import sys\nfrom onedatum.foundation.units import read_quantity\n"
        f"read_quantity({text!r}, {dimension!r})\nsys.exit('pint' in sys.modules)"
    )
    return bool(subprocess.run([sys.executable, "-c", code], timeout=60, check=False).returncode)


def test_a_usual_unit_is_read_without_pint_and_an_odd_one_with_it() -> None:
    assert not loads_pint("1850 mm", "length")
    assert loads_pint("3 g/mm3", "density")
