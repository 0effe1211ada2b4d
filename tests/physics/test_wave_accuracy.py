"""Parts of the error of a reading against worked cases, quadrature and a budget worked by hand."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import uniform

from onedatum.foundation.sources import citation
from onedatum.physics.magnetostrictive import (
    density_error_m,
    display_standard_m,
    nonlinearity_m,
    rectangular_standard_m,
    small_tilt_error_m,
    speed_coefficient_per_K,
    speed_error_m,
    tilt_error_m,
    tilt_mean_m,
    tilt_standard_m,
    usual_budget,
    usual_speed,
)
from onedatum.physics.uncertainty import combined_standard, expanded
from tests.closeness import close, exact, printed
from tests.reference import case

MM = 1e-3
RANGE_M, DISTANCE_M = 3.0, 2.5
ALLOY_PER_K = 7.6e-6


# ---------------------------------------------------------------- one part after the other


def test_limits_are_those_of_an_even_distribution() -> None:
    """SciPy's uniform distribution, as wide as its limits and as one step."""
    close(rectangular_standard_m(0.3), uniform(-0.3, 0.6).std(), 1e-15, "rounding")
    close(display_standard_m(0.1), uniform(0.0, 0.1).std(), 1e-15, "rounding")
    close(display_standard_m(0.1), rectangular_standard_m(0.05), 1e-16, "half a step either way")


@given(st.floats(0.0, 30.0), st.floats(0.0, 1e-3), st.floats(0.0, 100.0))
def test_the_sign_of_a_coefficient_does_not_shrink_an_error(distance: float, coefficient: float, half: float) -> None:
    exact(speed_error_m(distance, -coefficient, half), speed_error_m(distance, coefficient, half))
    exact(density_error_m(-coefficient, half), density_error_m(coefficient, half))


def test_temperature_that_is_not_corrected() -> None:
    """20 K at 2.5 m of the constant-modulus alloy, 0.57 mm; worked from the expansion, derived."""
    assert speed_error_m(DISTANCE_M, speed_coefficient_per_K(0.0, ALLOY_PER_K), 20.0) / MM == printed("0.57")


def test_nonlinearity_is_a_share_of_the_range() -> None:
    close(nonlinearity_m(np.array([1e-4, 5e-4]), RANGE_M), [0.3 * MM, 1.5 * MM], 1e-16, "by hand")


# ---------------------------------------------------------------- out of plumb


def test_stem_out_of_plumb() -> None:
    stated = case("floats-L03a")
    stated.check(tilt_error_m(stated.value("x"), np.radians(stated.value("theta"))))


def test_stem_slightly_out_of_plumb() -> None:
    stated = case("floats-L03b")
    stated.check(small_tilt_error_m(stated.value("x"), np.radians(stated.value("theta"))))


@given(st.floats(0.0, 0.5))
def test_the_small_angle_is_a_little_too_much(tilt: float) -> None:
    over = small_tilt_error_m(1.0, tilt) - tilt_error_m(1.0, tilt)
    assert -1e-16 <= over <= tilt**4 / 24 + 1e-16


def test_a_tilt_as_in_a_triangle() -> None:
    """A stem of 3 m whose tip hangs 4/5 of its length aside: straight down it spans 1.8 m."""
    angle = float(np.arcsin(0.28))
    close(tilt_error_m(3.0, angle), 3.0 * (1 - 0.96), 1e-15, "sides 0.28, 0.96 and 1")


@pytest.mark.parametrize("largest", [1e-6, 1e-4, 0.0087266463, 0.1, 0.3, 0.5])
def test_one_sided_part_by_quadrature(largest: float) -> None:
    """Mean and spread of x*(1 - cos) = 2*x*sin(half)**2 over angles evenly spread from 0, by quadrature."""

    def moment(power: int, about: float) -> float:
        def part(share: float) -> float:
            return float((2 * np.sin(share * largest / 2) ** 2 / largest**2 - about) ** power)

        return float(quad(part, 0.0, 1.0, epsabs=0.0, epsrel=1e-13)[0])

    mean = moment(1, 0.0)
    spread = float(np.sqrt(moment(2, mean)))
    close(tilt_mean_m(2.5, largest) / largest**2, 2.5 * mean, 1e-12, "quadrature to 1e-13")
    close(tilt_standard_m(2.5, largest) / largest**2, 2.5 * spread, 1e-12, "quadrature to 1e-13")


@pytest.mark.parametrize("largest", [0.1, 0.3, 0.5])
def test_one_sided_part_in_closed_form(largest: float) -> None:
    sine = np.sin(largest) / largest
    close(tilt_mean_m(1.0, largest), 1 - sine, 1e-15, "rounding of a difference from 1")
    variance = 0.5 + np.sin(2 * largest) / (4 * largest) - sine**2
    close(tilt_standard_m(1.0, largest) ** 2, variance, 4e-16, "rounding of terms near 1")


@given(st.floats(1e-6, 0.02))
def test_a_slight_tilt_has_a_third_of_its_largest_error_as_mean(largest: float) -> None:
    """E(a^2) = t^2/3 and var(a^2) = 4 t^4/45 for angles evenly spread from 0 to t; derived."""
    most = float(tilt_error_m(3.0, largest))
    close(tilt_mean_m(3.0, largest), most / 3, 1e-4 * most, "next order of the cosine, up to 0.02 rad")
    close(tilt_standard_m(3.0, largest), most * 2 / np.sqrt(45), 1e-4 * most, "next order of the cosine")


def test_a_plumb_stem_has_no_error() -> None:
    for part in (tilt_error_m, small_tilt_error_m, tilt_mean_m, tilt_standard_m):
        exact(part(3.0, 0.0), 0.0)


# ---------------------------------------------------------------- the whole budget


def electronics_m() -> list[float]:
    """Noise at its bound and steps of a clock of 100 MHz: worked elsewhere, 6 and 8 micrometres."""
    return [case(identity).expected * 1e-6 for identity in ("floats-F07", "floats-F06")]


def parts_m() -> dict[str, float]:
    """Standard uncertainties of a stem of 3 m in water with what is usual; the waterline is that of floats-H04."""
    usual = usual_budget()
    coefficient = speed_coefficient_per_K(0.0, ALLOY_PER_K)
    per_density = case("floats-H04").expected * MM
    half_widths = {
        "nonlinearity": nonlinearity_m(usual.nonlinearity.value, RANGE_M),
        "speed": speed_error_m(DISTANCE_M, coefficient, usual.temperature_half_width_K.value),
        "density": density_error_m(per_density, usual.density_half_width_kg_per_m3.value),
        "stiction": usual.stiction_m.value,
    }
    return {"display": float(display_standard_m(usual.display_step_m.value))} | {
        name: float(rectangular_standard_m(half)) for name, half in half_widths.items()
    }


@pytest.mark.parametrize(
    ("part", "text"),
    [("display", "0.029"), ("nonlinearity", "0.173"), ("speed", "0.049"), ("density", "0.065"), ("stiction", "0.144")],
)
def test_parts_of_the_usual_budget(part: str, text: str) -> None:
    """Illustrative budget with assumed half widths (common practice, no source)."""
    assert parts_m()[part] / MM == printed(text)


def test_out_of_plumb_taken_as_two_sided() -> None:
    """The illustrative budget: half width 0.114 mm, 0.066 mm as if it lay to both sides."""
    largest = tilt_error_m(RANGE_M, usual_budget().tilt_rad.value)
    assert largest / MM == printed("0.114")
    assert rectangular_standard_m(largest) / MM == printed("0.066")


def test_the_illustrative_budget() -> None:
    """0.25 mm, U (k = 2) 0.50 mm with the stem out of plumb to both sides, as that budget has it."""
    plumb = float(rectangular_standard_m(tilt_error_m(RANGE_M, usual_budget().tilt_rad.value)))
    combined = combined_standard([*electronics_m(), *parts_m().values(), plumb])
    assert combined / MM == printed("0.25")
    assert expanded(combined, 2.0) / MM == printed("0.50")


def test_the_budget_with_its_one_sided_part_corrected() -> None:
    """Common practice, no source: resolution 0.1 mm goes with an accuracy of about 0.5 mm; noise is far below it."""
    tilt = usual_budget().tilt_rad.value
    spread = float(tilt_standard_m(RANGE_M, tilt))
    combined = combined_standard([*electronics_m(), *parts_m().values(), spread])
    assert 0.45 <= expanded(combined, 2.0) / MM <= 0.55
    assert 20 * electronics_m()[0] < combined
    largest = float(tilt_error_m(RANGE_M, tilt))
    close(spread**2 + tilt_mean_m(RANGE_M, tilt) ** 2, largest**2 / 5, 1e-4 * largest**2, "mean of the fourth power")


def test_what_is_usual_says_that_it_has_no_source() -> None:
    usual, speed = usual_budget(), usual_speed()
    for record, count in ((usual, 7), (speed, 3)):
        figures = [getattr(record, field.name) for field in fields(record)]
        assert len(figures) == count
        for figure in figures:
            assert figure.tag == citation(figure.source).source.tag == "common practice, no source"


def test_what_is_usual() -> None:
    usual = usual_budget()
    exact(usual.clock_Hz.value, 100e6)
    close(usual.tilt_rad.value, np.radians(0.5), 1e-17, "half a degree")
