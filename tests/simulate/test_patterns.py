"""What each fault does to the reading, against the laws it follows: worked here by hand or by another method."""

from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from onedatum.foundation.errors import QuantityError
from onedatum.simulate import KINDS, kind
from tests.simulate.instruments import (
    CHAMBER,
    EVERY,
    FLOAT,
    LEGS,
    PROBE,
    instrument,
    levels,
    signal,
    signal_with,
    state,
)

SHARES = (0.1, 0.3, 0.5, 0.7, 0.9)


@pytest.mark.parametrize("example", EVERY)
def test_a_sound_instrument_tells_the_level_and_sends_the_line_of_the_signal(example: str) -> None:
    """4 to 20 mA over the range: IEC 60381-1, from memory; the voltage on the resistor by Ohm's law."""
    level_m = levels(example, *SHARES)
    found = signal(example, level_m)
    assert found.told_m == pytest.approx(level_m, abs=1e-12)
    assert found.current_A == pytest.approx(0.004 + 0.016 * np.array(SHARES), abs=1e-12)
    assert found.voltage_V == pytest.approx(10.0 * found.current_A, rel=1e-12)


@pytest.mark.parametrize("share", [-0.05, 0.08])
def test_a_float_in_a_liquid_of_another_density_is_off_by_the_change_of_its_immersion(share: float) -> None:
    """Archimedes: x = (m - rho_g A H)/((rho - rho_g) A), of the float of the example: 72 g, 52.5 and 16 mm, 60 mm."""
    section_m2 = np.pi / 4.0 * (0.0525**2 - 0.016**2)

    def immersion_m(density: float) -> float:
        return float((0.072 - 1.2 * section_m2 * 0.060) / ((density - 1.2) * section_m2))

    density = 895.39  # of 68 % vol at 14 degC, OIML R 22
    level_m = levels(FLOAT, *SHARES)
    off_m = signal(FLOAT, level_m, density=share).told_m - level_m
    expected = immersion_m(density) - immersion_m(density * (1.0 + share))
    assert off_m == pytest.approx(np.full(5, expected), abs=1e-6)


def test_a_float_that_takes_water_sinks_by_its_mass_over_density_and_section() -> None:
    """Archimedes: dx = dm/((rho - rho_g) A); 10 % of 72 g."""
    level_m = levels(FLOAT, *SHARES)
    off_m = signal(FLOAT, level_m, float_mass=0.1).told_m - level_m
    section_m2 = np.pi / 4.0 * (0.0525**2 - 0.016**2)
    assert off_m == pytest.approx(np.full(5, -0.0072 / ((895.39 - 1.2) * section_m2)), abs=1e-6)


def test_a_float_that_sinks_tells_nothing() -> None:
    """Mean density 611 kg/m3: at half as much again, above that of the liquid."""
    assert np.isnan(signal(FLOAT, levels(FLOAT, 0.5), float_mass=0.6).current_A).all()


@pytest.mark.parametrize("example", EVERY)
@pytest.mark.parametrize(("fault", "size"), [("lower", 0.03), ("upper", -0.02), ("zero", 2e-4), ("gain", 0.01)])
def test_setting_and_trim_make_an_error_that_is_a_straight_line_over_the_level(
    example: str, fault: str, size: float
) -> None:
    """Two straight lines of the signal differ by one: no curvature, and its value at both ends by hand."""
    level_m = levels(example, *SHARES)
    own = instrument(example)
    off_A = signal_with(example, level_m, {fault: size}).current_A - signal(example, level_m).current_A
    line = np.polyfit(level_m, off_A, 1)
    assert np.abs(off_A - np.polyval(line, level_m)).max() < 1e-12
    span_m = own.upper_m - own.lower_m
    at_4, at_20 = {
        "lower": (-0.016 * size / (span_m - size), 0.0),
        "upper": (0.0, 0.016 * (span_m / (span_m + size) - 1.0)),
        "zero": (size, size),
        "gain": (0.0, 0.016 * size),
    }[fault]
    assert np.polyval(line, [own.lower_m, own.upper_m]) == pytest.approx([at_4, at_20], abs=1e-12)


def test_legs_in_a_liquid_of_another_density_are_off_in_proportion_to_the_height_over_the_transmitter() -> None:
    """Pascal's law: 1020 kg/m3 under 2.9 kg/m3 of gas, the lower leg of 1.27 m filled with the liquid itself."""
    level_m = levels(LEGS, *SHARES)
    off_m = signal(LEGS, level_m, density=0.03).told_m - level_m
    assert off_m == pytest.approx(0.03 * 1020.0 * (level_m + 1.27) / (1020.0 - 2.9), rel=1e-9)


def test_a_wet_leg_that_runs_out_is_off_by_the_weight_that_is_missing() -> None:
    """Pascal's law: 0.3 m of 1110 kg/m3 at 20 degC, warmed by 5 K at 6.2e-4 1/K, against the gas."""
    level_m = levels(LEGS, *SHARES)
    off_m = signal(LEGS, level_m, leg=0.3).told_m - level_m
    leg = 1110.0 * (1.0 - 6.2e-4 * 5.0)
    assert off_m == pytest.approx(np.full(5, 0.3 * (leg - 2.9) / (1020.0 - 2.9)), rel=1e-9)


@pytest.mark.parametrize("warmer_K", [-40.0, 25.0])
def test_a_chamber_of_another_temperature_follows_the_balance_of_its_columns(warmer_K: float) -> None:
    """Densities by an independent implementation of IAPWS-95; 41 bar, chamber of 150 degC, float of 48 mm and 320 g."""

    def liquid(chamber_K: float) -> float:
        return float(PropsSI("D", "T", chamber_K, "P", 41e5, "Water"))

    boiling, steam = (float(PropsSI("D", "P", 41e5, "Q", quality, "Water")) for quality in (0, 1))
    section_m2 = np.pi / 4.0 * 0.048**2

    def magnet_m(level_m: np.ndarray, chamber: float) -> np.ndarray:
        immersion_m = (0.320 - steam * section_m2 * 0.260) / ((chamber - steam) * section_m2)
        return np.asarray((boiling - steam) / (chamber - steam) * level_m - immersion_m)

    set_, now = liquid(423.15), liquid(423.15 + warmer_K)
    low, high = magnet_m(np.array([0.05, 0.65]), set_)
    level_m = levels(CHAMBER, *SHARES)
    expected = 0.05 + (magnet_m(level_m, now) - low) / (high - low) * 0.60
    assert signal(CHAMBER, level_m, chamber=warmer_K).told_m == pytest.approx(expected, abs=2e-4)


def test_a_liquid_that_conducts_too_little_follows_the_admittance_of_the_coating_in_series() -> None:
    """Two lossy capacitors in series by complex numbers; the meter takes the loss off, at 100 kHz."""
    less = 5.0
    omega, eps0 = 2.0 * np.pi * 1e5, 8.8541878128e-12
    coating = 2.0 * np.pi * eps0 * 2.1 / np.log(7.0 / 5.0)
    # Two rods of 7 and 8 mm radius, 150 mm apart, in the field of a pair: log of the ratio for a rod in a tube.
    ratio = (0.150**2 - 0.007**2 - 0.008**2) / (2.0 * 0.007 * 0.008)
    geometry = 2.0 * np.pi * eps0 / np.arccosh(ratio)

    def per_metre(conductivity: float) -> float:
        liquid = 1j * omega * 30.0 * geometry + conductivity / eps0 * geometry
        whole = 1.0 / (1.0 / (1j * omega * coating) + 1.0 / liquid)
        return float((whole.imag - whole.real) / omega)

    dry = coating * geometry / (coating + geometry)
    level_m = levels(PROBE, *SHARES)
    # Set at 150 and 2200 mm; the active part begins at 50 mm.
    felt = (per_metre(20.0 * 10.0**-less) - dry) * (level_m - 0.05) / (per_metre(20.0) - dry)
    assert signal(PROBE, level_m, conductivity=less).told_m == pytest.approx(0.05 + felt, rel=2e-3)


def ladder_m(length_m: float, thickness_m: float, steps: int = 4000) -> float:
    """What a film seems to add with its loss taken off: a ladder of resistors and capacitors, from its open end down.

    50 % caustic of 20 S/m on a coated rod of 7 mm radius, core 5 mm, permittivity 2.1, at 100 kHz.
    """
    omega, eps0 = 2.0 * np.pi * 1e5, 8.8541878128e-12
    coating = 2.0 * np.pi * eps0 * 2.1 / np.log(7.0 / 5.0)
    resistance = 1.0 / (20.0 * np.pi * thickness_m * (0.014 + thickness_m))
    step_m, admittance = length_m / steps, 0.0 + 0.0j
    for _ in range(steps):
        admittance += 1j * omega * coating * step_m
        admittance = 1.0 / (1.0 / admittance + resistance * step_m)
    return float((admittance.imag - admittance.real) / omega / coating)


def test_a_film_adds_after_emptying_what_a_ladder_of_its_parts_adds_and_nothing_while_filling() -> None:
    level_m = levels(PROBE, 0.1, 0.5, 0.9)
    falling = signal(PROBE, level_m, rising=False, film=2e-4).told_m - level_m
    expected = [ladder_m(length, 2e-4) for length in level_m[-1] - level_m[:-1]]
    assert falling == pytest.approx([*expected, 0.0], rel=5e-3, abs=1e-9)
    assert signal(PROBE, level_m, rising=True, film=2e-4).told_m == pytest.approx(level_m, abs=1e-12)


def test_a_stuck_float_shows_one_level() -> None:
    assert signal(FLOAT, levels(FLOAT, *SHARES), stuck=1.2).told_m == pytest.approx(np.full(5, 1.2))


@pytest.mark.parametrize("example", EVERY)
def test_a_datum_that_differs_shifts_every_level_alike(example: str) -> None:
    level_m = levels(example, *SHARES)
    assert signal(example, level_m, datum=0.012).told_m - level_m == pytest.approx(np.full(5, 0.012))


def test_more_resistance_in_the_loop_caps_the_current_where_the_voltage_runs_out() -> None:
    """Kirchhoff: 24 V, 12 V at the transmitter, 250 ohm, barrier 300 ohm, 120 m of 24.5 ohm/km twice at 40 degC."""
    resistance = 250.0 + 300.0 + 2 * 120.0 * 0.0245 * (1.0 + 0.00393 * 20.0) + 200.0
    found = signal(FLOAT, levels(FLOAT, 0.2, 0.9), load=200.0)
    low_A, last_A = 0.0072, 12.0 / resistance
    assert found.current_A == pytest.approx([low_A, last_A], rel=1e-9)
    assert found.supply_V == pytest.approx([24.0 - low_A * resistance, 12.0], rel=1e-9)


def test_a_milliammeter_across_the_resistor_reads_its_share() -> None:
    """Current divider: 5 ohm across 10 ohm reads 8.0 of 12 mA, a third less."""
    found = signal(FLOAT, levels(FLOAT, 0.5), milliammeter=-5.0 / (10.0 + 5.0))
    assert found.current_A == pytest.approx([0.008])
    assert found.voltage_V == pytest.approx([0.12])


def test_beyond_the_range_the_signal_stops_at_its_saturation() -> None:
    """NE 43, read second-hand: measurement from 3.8 to 20.5 mA."""
    found = signal(FLOAT, levels(FLOAT, 0.5), lower=2.0)
    assert found.current_A == pytest.approx([0.0038])
    assert signal(FLOAT, levels(FLOAT, 0.5), upper=-2.0).current_A == pytest.approx([0.0205])


def test_a_receiver_for_another_range_and_a_table_that_is_off_touch_no_current() -> None:
    level_m = levels(FLOAT, *SHARES)
    sound = signal(FLOAT, level_m)
    receiver, table = signal(FLOAT, level_m, receiver=0.1), signal(FLOAT, level_m, table=0.02)
    assert receiver.shown_m - level_m == pytest.approx(0.1 * (level_m - 0.1))
    assert table.volume_m3 == pytest.approx(1.02 * sound.volume_m3)
    assert receiver.current_A == pytest.approx(sound.current_A, abs=1e-15)


@pytest.mark.parametrize(
    ("example", "faults", "words"),
    [
        (FLOAT, {"film": 1e-4}, "must be one of"),
        (FLOAT, {"leg": 0.1}, "This instrument cannot have it"),
        (PROBE, {"film": -1e-4}, "must be at least 0"),
        (PROBE, {"stuck": 1.0}, "must be one of"),
        (LEGS, {"load": 5.0, "nonsense": 1.0}, "'nonsense'"),
    ],
)
def test_a_fault_that_an_instrument_cannot_have_is_refused(example: str, faults: dict[str, float], words: str) -> None:
    with pytest.raises(QuantityError, match=words):
        signal_with(example, levels(example, 0.5), faults)


def test_every_fault_but_the_stuck_float_is_absent_at_size_zero() -> None:
    for example in EVERY:
        level_m = levels(example, *SHARES)
        sound = signal(example, level_m)
        for key in instrument(example).kinds:
            if key == "stuck":
                continue
            found = signal_with(example, level_m, {key: 0.0}, rising=False)
            assert found.current_A == pytest.approx(sound.current_A, abs=1e-12), key
            assert found.supply_V == pytest.approx(sound.supply_V, abs=1e-12), key


def test_an_unknown_fault_is_refused_by_name() -> None:
    with pytest.raises(QuantityError, match="must be one of density"):
        kind("gremlin")
    assert len({each.key for each in KINDS}) == len(KINDS)


def test_what_a_sound_instrument_tells_does_not_rest_on_the_constants_it_is_set_with() -> None:
    for example in EVERY:
        level_m = levels(example, *SHARES)
        of = {name: np.full(1, 1.04) for name in instrument(example).constants if not name.startswith("loop.")}
        told_m = instrument(example).signal(state(example, level_m), {}, of).told_m
        assert told_m == pytest.approx(level_m, abs=1e-9)
