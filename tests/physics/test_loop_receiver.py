"""Receiver and meters: steps, error of card, resistor and offset as level; what a meter across a resistor reads."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.physics.loop import (
    burden_voltage_V,
    card_error_m,
    combined_receiver_standard_m,
    counts_per_span,
    level_at_current_m,
    level_per_count_m,
    meter_loading,
    offset_error_m,
    quantisation_standard_m,
    read_voltage_V,
    resistor_error_m,
    shunted_current_A,
    signal_voltage_V,
)
from tests.closeness import close, exact, printed
from tests.reference import case

MM = MA = MV = 1e-3
SPAN_M = 3.0


# ---------------------------------------------------------------- receiver


def test_level_of_one_step() -> None:
    stated = case("loop-L17")
    low, high = (end * MA for end in stated.value("card_range"))
    span, bits = stated.value("span") * MM, stated.value("bits")
    stated.check(level_per_count_m(span, bits, low, high) / MM)
    close(span / counts_per_span(bits, low, high) / MM, stated.expected, 1e-12, "rounding")
    assert counts_per_span(bits, low, high) == printed("3276.8")


def test_a_card_of_the_signal_itself_has_all_its_steps_in_the_span() -> None:
    close(counts_per_span(16, 0.004, 0.020), 65536.0, 1e-9, "rounding")


def test_uncertainty_of_the_steps() -> None:
    stated = case("loop-L18")
    stated.check(quantisation_standard_m(stated.value("lsb") * MM) / MM)


def test_levels_read_in_steps_scatter_by_it() -> None:
    """Independent: a million levels rounded to whole steps."""
    levels = np.random.default_rng(20).uniform(0.0, SPAN_M, 1_000_000)
    step = float(level_per_count_m(SPAN_M, 12, 0.0, 0.020))
    scatter = np.std(np.round(levels / step) * step - levels)
    close(scatter, quantisation_standard_m(step), 0.003 * step, "ten standard errors of a million")


def test_error_of_a_card() -> None:
    stated = case("loop-L19")
    full_scale = stated.value("card_fs") * MA
    stated.check(card_error_m(stated.value("span") * MM, stated.value("err_fs"), full_scale) / MM)


def test_error_of_a_resistor() -> None:
    stated = case("loop-L09")
    span, current = stated.value("span") * MM, 0.004 + 0.016 * stated.value("level_fraction")
    stated.check(resistor_error_m(span, current, stated.value("dR_over_R")) / MM)
    zero = float(resistor_error_m(span, 0.004, stated.value("dR_over_R")))
    close(zero / span, 0.00025, 1e-12, "by hand: the live zero is scaled too, 0.025 % of span at 0 % level")


@pytest.mark.parametrize(("resistance", "error"), [(10.0, "0.1875"), (250.0, "0.0075")])
def test_error_of_an_offset(resistance: float, error: str) -> None:
    """Derived: 10 uV, span 3000 mm, printed in mm."""
    assert offset_error_m(SPAN_M, 10e-6, resistance) / MM == printed(error)


@given(
    current=st.floats(0.0038, 0.0205),
    share=st.floats(-0.01, 0.01),
    offset=st.floats(-1e-3, 1e-3),
    card=st.floats(-0.005, 0.005),
    resistance=st.floats(10.0, 500.0),
)
def test_the_errors_are_what_a_wrong_receiver_shows(
    current: float, share: float, offset: float, card: float, resistance: float
) -> None:
    """A receiver played through: true resistor and offset give the voltage, it divides by what it believes in."""
    voltage = float(signal_voltage_V(current, resistance * (1 + share))) + offset
    shown = float(level_at_current_m(voltage / resistance + card * 0.020, 0.2, 0.2 + SPAN_M))
    parts = (
        resistor_error_m(SPAN_M, current, share),
        offset_error_m(SPAN_M, offset, resistance),
        card_error_m(SPAN_M, card, 0.020),
    )
    off = shown - float(level_at_current_m(current, 0.2, 0.2 + SPAN_M))
    assert abs(off - sum(float(part) for part in parts)) <= 1e-13, "rounding of levels of some metres"


def test_the_receiver_as_a_whole_by_trials() -> None:
    """Independent: a million receivers, each error rectangular, the steps rectangular of half a step."""
    step = float(level_per_count_m(SPAN_M, 12, 0.0, 0.020))
    limits = (step / 2, 0.00375, 0.00315, 0.0001875)
    random = np.random.default_rng(21)
    scatter = float(np.std(sum(random.uniform(-limit, limit, 1_000_000) for limit in limits)))
    found = combined_receiver_standard_m(quantisation_standard_m(step), *limits[1:])
    close(found, scatter, 0.004 * scatter, "five standard errors of a million")


def test_parts_join_whatever_their_signs_and_order() -> None:
    one = combined_receiver_standard_m(0.0, 0.003, -0.002, 0.001)
    exact(combined_receiver_standard_m(0.0, -0.003, 0.002, 0.001), one)
    close(combined_receiver_standard_m(0.0, 0.001, 0.003, 0.002), one, 1e-17, "rounding")
    close(combined_receiver_standard_m(0.0, 0.003, 0.0, 0.0), 0.003 / np.sqrt(3), 1e-17, "rounding")
    exact(combined_receiver_standard_m(0.0025, 0.0, 0.0, 0.0), 0.0025)


# ---------------------------------------------------------------- meters


def test_a_milliammeter_across_the_resistor() -> None:
    stated = case("loop-L10")
    current, burden = stated.value("I") * MA, stated.value("R_ammeter")
    stated.check(shunted_current_A(current, stated.value("R"), burden) / MA)


def branch_currents_A(current_A: float, resistor_ohm: float, meter_ohm: float) -> tuple[float, float]:
    """Currents in a resistor and in the meter across it: their sum and the one voltage on both, solved."""
    solved = np.linalg.solve([[1.0, 1.0], [resistor_ohm, -meter_ohm]], [current_A, 0.0])
    return float(solved[0]), float(solved[1])


@pytest.mark.parametrize("meter", [1.0, 5.0, 1000.0, 1e6, 1e7])
@pytest.mark.parametrize("resistor", [10.0, 250.0])
def test_node_equations_give_what_the_meters_read(resistor: float, meter: float) -> None:
    through_resistor, through_meter = branch_currents_A(0.012, resistor, meter)
    close(shunted_current_A(0.012, resistor, meter), through_meter, 1e-13 * through_meter, "rounding")
    read = float(read_voltage_V(0.012, resistor, meter))
    close(read, through_resistor * resistor, 1e-12 * read, "rounding of the elimination")
    loading = float(meter_loading(resistor, meter))
    assert -1 < loading < 0
    close(read, float(signal_voltage_V(0.012, resistor)) * (1 + loading), 1e-9 * read, "rounding next to -1")


@pytest.mark.parametrize(("current_mA", "voltage_mV"), [(3.6, "36"), (4.0, "40"), (20.0, "200"), (21.0, "210")])
def test_a_good_voltmeter_reads_the_voltage_of_the_resistor(current_mA: float, voltage_mV: str) -> None:
    """Ohm: 10 ohm, printed in mV; a meter of 10 Mohm takes a millionth."""
    assert read_voltage_V(current_mA * MA, 10.0, 1e7) / MV == printed(voltage_mV)


def test_a_milliammeter_of_no_resistance_takes_the_whole_current() -> None:
    exact(shunted_current_A(0.012, 10.0, 0.0), 0.012)


def test_burden_of_a_meter_at_test_terminals() -> None:
    """Common practice, no source: below 0.2 V, that is below 10 ohm, up to 21.5 mA."""
    close(burden_voltage_V(0.0215, np.array([9.0, 9.3])), [0.1935, 0.19995], 1e-15, "by hand")
    assert burden_voltage_V(0.020, 10.0) == printed("0.200")
