"""Formulas of screening against independent ways: complex admittances, quadrature, laws written out, reference numbers.

`verdicts.json` holds numbers that an independent script worked from the same inputs.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from onedatum.physics import screening
from onedatum.physics.capacitive import line_capacitance_F_per_m
from onedatum.physics.media import wiener_lower_permittivity, wiener_upper_permittivity
from onedatum.physics.pressure import head_Pa_per_m, low_columns_Pa
from tests.closeness import close, exact

VERDICTS = Path(__file__).resolve().parents[1] / "reference" / "verdicts.json"
NUMBERS = {
    key: {name: row["value"] for name, row in scenario["numbers"].items() if row["how"] == "from the inputs"}
    for key, scenario in json.loads(VERDICTS.read_text(encoding="utf-8"))["scenarios"].items()
}
ROUNDED = 5e-7
"""Half of the last digit that the file prints."""


# ---------------------------------------------------------------- waves


@pytest.mark.parametrize("permittivity", [1.0, 1.9, 4.0, 44.0, 80.0])
def test_what_does_not_come_back_goes_on(permittivity: float) -> None:
    """Power that enters by the impedances of both sides: 4*n/(n + 1)**2; both together are the whole."""
    index = float(np.sqrt(permittivity))
    close(screening.reflected_power_share(permittivity) + 4 * index / (index + 1) ** 2, 1.0, 1e-12, "energy is kept")


def test_reflected_power_of_the_scenarios() -> None:
    for key, permittivity in (("A", 44.0), ("B", 30.0), ("C", 26.7)):
        found = 100 * float(screening.reflected_power_share(permittivity))
        close(found, NUMBERS[key]["radar.reflected_power"], ROUNDED, "worked independently")


@pytest.mark.parametrize(("upper", "lower"), [(2.1, 80.0), (80.0, 2.1)])
def test_reflection_between_liquids_by_impedances(upper: float, lower: float) -> None:
    above, below = 1 / np.sqrt(upper), 1 / np.sqrt(lower)
    by_impedance = (above - below) / (above + below)
    close(screening.interface_reflection(upper, lower), by_impedance, 1e-12, "wave impedances of both sides")
    exact(screening.interface_reflection(upper, upper), 0.0)


@pytest.mark.parametrize(("permittivity", "per_cent"), [(1.023, 1.2), (1.157, 7.6), (1.425, 19.4)])
def test_steam_lengthens_the_way(permittivity: float, per_cent: float) -> None:
    """Permittivities of saturated steam at 5, 41, 100 bar by IAPWS R8-97; per cents of the way as its root."""
    close(100 * screening.gas_path_error_m(permittivity, 1.0), per_cent, 0.06, "one digit in print")


def test_ways_of_the_scenarios() -> None:
    for key, permittivity, distance, allowed in (("A", 1.001, 3.07, 0.015), ("B", 1.0005, 2.55, 0.025)):
        error = screening.gas_path_error_m(permittivity, distance)
        close(screening.error_share(error, allowed), NUMBERS[key]["radar.path_share"], ROUNDED, "worked independently")
    for key, difference, distance, allowed in (("A", 15.0, 3.07, 0.015), ("B", 4.0, 2.55, 0.025)):
        error = screening.sound_path_error_m(difference, distance)
        close(screening.error_share(error, allowed), NUMBERS[key]["sound.gradient_share"], ROUNDED, "the same")


def test_sound_by_the_root_of_the_temperature() -> None:
    """Speed of sound in air with the root of the absolute temperature, about 20 degC."""
    exactly = np.sqrt((293.15 + 2.0) / 293.15) - 1
    close(screening.sound_path_error_m(2.0, 1.0), exactly, 0.01 * exactly, "0.0017 is 1/(2*293) to two digits")


# ---------------------------------------------------------------- heads


@pytest.mark.parametrize(("least", "greatest", "level"), [(877.8, 902.6, 2.85), (796.16, 915.28, 0.65)])
def test_a_head_set_at_the_mean_density(least: float, greatest: float, level: float) -> None:
    """Read back from the pressure at either end with the density of the setting."""
    mean = (least + greatest) / 2
    errors = [level * density / mean - level for density in (least, greatest)]
    found = screening.head_density_error_m(greatest, least, level)
    close(found, max(errors), 1e-12, "too high at the heavy end")
    close(found, -min(errors), 1e-12, "too low by as much at the light end")


def test_a_leg_against_the_span_by_pressures() -> None:
    """The leg of the drum by the columns of a transmitter, its span by the head per metre."""
    leg = low_columns_Pa(0.7, 0.0, 993.97, 9.80665)
    span = head_Pa_per_m(796.16, 20.608, 9.80665) * 0.6
    found = screening.leg_head_share(993.97, 0.7, 0.0, 796.16, 20.608, 0.6)
    close(found, leg / span, 1e-9, "pressures of both")
    close(found, NUMBERS["C"]["leg.head_to_span"], 2e-5, "worked independently, densities printed to 0.01")


# ---------------------------------------------------------------- capacitances


def test_a_range_of_permittivity_by_a_rod_in_a_tank() -> None:
    """A bare rod of 10 mm in a tank of 1 m, set at the middle of the range, read at both ends of it."""
    least, greatest, level = 26.7, 43.3, 0.65

    def per_length(permittivity: float) -> float:
        return float(line_capacitance_F_per_m(0.005, 0.5, permittivity))

    empty, middle = per_length(1.0), per_length((least + greatest) / 2)
    shown = [(per_length(each) - empty) / (middle - empty) * level for each in (least, greatest)]
    found = screening.permittivity_error_m(greatest, least, level)
    close(found, shown[1] - level, 1e-9, "too high at the greatest")
    close(screening.error_share(found, 0.015), NUMBERS["C"]["probe.slope_share"], ROUNDED, "worked independently")


def test_density_through_permittivity_by_the_law_itself() -> None:
    """Clausius and Mossotti solved for the permittivity at both densities, in small steps."""
    permittivity, mean, step = 2.1, 840.0, 4.0
    per_density = (permittivity - 1) / (permittivity + 2) / mean

    def by_law(density: float) -> float:
        part = per_density * density
        return (1 + 2 * part) / (1 - part)

    change = (by_law(mean + step) - by_law(mean - step)) / 2 / (permittivity - 1)
    found = screening.density_permittivity_error_m(permittivity, mean + step, mean - step, 1.0)
    close(found, change, 1e-4 * change, "the law made straight")


@pytest.mark.parametrize("conductivity", [1e-7, 5e-4, 1e-2])
def test_a_deficit_by_complex_admittances(conductivity: float) -> None:
    """Coating in series with a liquid that leaks: the part of the admittance that charges, by complex numbers."""
    omega, coating, liquid = 2 * np.pi * 1e5, 3.472e-10, 2.44e-9
    leak = liquid * conductivity / (8.8541878188e-12 * 44.0)
    inner = leak + 1j * omega * liquid
    acting = (1j * omega * coating * inner / (1j * omega * coating + inner)).imag / omega
    deficit = omega**2 * coating * (coating + liquid) / (leak**2 + omega**2 * (coating + liquid) ** 2)
    close(screening.regime_deficit_share(coating, acting), deficit, 1e-9, "the closed form of the deficit")


def test_a_span_of_the_tank_of_caustic() -> None:
    found = screening.span_capacitance_F(338.17e-12, 2.05) * 1e12
    close(found, NUMBERS["B"]["probe.span_capacitance"], 0.01, "worked independently, slope printed to 0.01")


def test_two_capacitances_read_as_level() -> None:
    """A level and what is read of it when the wetted part holds less: the difference of two straight lines."""
    wet, less, dry, level = 3.4e-10, 3.3e-10, 1.0e-11, 2.0
    read = (less - dry) * level / (wet - dry)
    close(screening.capacitance_error_m(wet, less, wet - dry, level), level - read, 1e-12, "both lines")


@pytest.mark.parametrize("share", [0.0, 0.02, 0.3, 1.0])
def test_a_foam_between_layers_along_and_across(share: float) -> None:
    """Whatever its build, a mixture lies between layers along the field and layers across it (Wiener 1912)."""
    found = float(screening.foam_permittivity(share, 44.0))
    low, high = (float(bound(share, 44.0, 1.0)) for bound in (wiener_lower_permittivity, wiener_upper_permittivity))
    assert low - 1e-12 <= found <= high + 1e-12
    exact(float(screening.foam_permittivity_share(found, 44.0)), (found - 1) / 43)


# ---------------------------------------------------------------- room and following


def test_what_is_not_covered_by_counting() -> None:
    """Millimetres wanted that no measurement reaches, one by one."""
    wanted = np.arange(100, 2800) + 0.5
    for low, high in ((130, 3000), (90, 2600), (130, 2600), (90, 3000)):
        counted = int(np.sum((wanted < low) | (wanted > high)))
        found = screening.uncovered_m(low / 1e3, high / 1e3, 0.1, 2.8)
        exact(round(float(found) * 1e3), counted)


def test_a_ramp_by_steps_in_time() -> None:
    """dx/dt = (level - x)/tau stepped until the start is forgotten: it then lags by the same."""
    tau, rate, step = 4.6, 0.005, 1e-3
    shown, time = 0.0, 0.0
    while time < 12 * tau:
        time += step
        shown += (rate * time - shown) / tau * step
    close(rate * time - shown, screening.ramp_lag_m(tau, rate), 2e-5, "first order behind a ramp")


def test_a_float_lifted_through_its_film() -> None:
    """Drag times velocity equals lift: what is left of a step falls to 1/e in the time constant."""
    drag, stiffness, step = 0.1, 17.2, 1e-7
    tau, left, time = float(screening.float_time_s(drag, stiffness)), 1.0, 0.0
    while time < tau:
        left -= stiffness / drag * left * step
        time += step
    close(left, 1 / np.e, 1e-4, "one time constant")


def test_margins_and_shares_of_the_scenarios() -> None:
    close(100 * screening.length_share(0.015, 2.7), NUMBERS["A"]["error.allowed_percent"], ROUNDED, "independent")
    close(100 * screening.length_share(0.015, 3.07), NUMBERS["A"]["error.distance_percent"], ROUNDED, "independent")
    close(100 * screening.gas_density_share(20.608, 796.16), NUMBERS["C"]["density.gas_ratio"], ROUNDED, "independent")
    close(100 * screening.surface_share(636.15, 308.15), NUMBERS["A"]["ex.surface_percent"], ROUNDED, "independent")
    close(screening.reduced_temperature(524.991, 647.096), NUMBERS["C"]["medium.reduced_temperature"], 1e-5, "IAPWS-95")
    close(screening.foam_reserve_m(2.9, 2.717, 0.0) * 1e3, NUMBERS["A"]["foam.reserve"], ROUNDED, "independent")


def test_a_pressure_that_is_none_counts_as_one_millibar() -> None:
    exact(screening.pressure_ratio(1e5, 0.0), 1000.0)
    exact(screening.pressure_ratio(1e5, -5e4), 1000.0)
    exact(screening.pressure_ratio(6e5, 4e5), 1.5)


def test_the_lesser_limit_of_a_deflection_counts() -> None:
    """10 mm at most, half of the clearance where that is less (common practice, no source)."""
    close(screening.deflection_share(0.005, 0.010, 0.100), 0.5, 1e-12, "10 mm")
    close(screening.deflection_share(0.005, 0.010, 0.004), 2.5, 1e-12, "half of 4 mm")


def test_a_pair_of_rods_is_as_wide_as_gap_and_both_rods() -> None:
    width, gap = screening.pair_width_m(0.15, 0.014, 0.016), screening.pair_gap_m(0.15, 0.014, 0.016)
    close(width, gap + 0.014 + 0.016, 1e-12, "side by side")


def test_what_is_known_and_not_corrected_adds_by_its_size() -> None:
    close(screening.uncorrected_m(2.4, -0.6, 0.1), 3.1, 1e-12, "known shares add by their size")


def test_halves_areas_fields_cells() -> None:
    exact(screening.half_layer_share(0.04, 0.02), 1.0)
    exact(screening.area_share(0.005, 0.0025), 2.0)
    exact(screening.field_ratio(0.006, 0.003), 2.0)
    exact(screening.cells_temperature_K(350.0, 290.0), 320.0)
