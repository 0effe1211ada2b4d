"""Longest cable, drop of a barrier and other resistances: the margin is nothing at the length that is found."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.loop import (
    cable_resistance_ohm,
    largest_barrier_ohm,
    largest_input_resistor_ohm,
    last_good_current_A,
    longest_cable_m,
    loop_resistance_ohm,
    terminal_voltage_V,
    voltage_after_drop_V,
    voltage_margin_V,
)
from tests.closeness import close
from tests.reference import case

MA = 1e-3
ALPHA_PER_K = 0.00393
RESISTANCES = st.floats(0.0, 2000.0)


def margin_V(
    length_m: float, source_V: float, least_V: float, current_A: float, rest_ohm: float, core: float, hot_K: float
) -> float:
    """Margin at a current with a cable of this length, by the functions of the supply."""
    cable = cable_resistance_ohm(length_m, core, hot_K, ALPHA_PER_K)
    resistance = loop_resistance_ohm(rest_ohm, 0.0, cable, 0.0)
    return float(voltage_margin_V(terminal_voltage_V(source_V, current_A, resistance), least_V))


def test_the_stated_loop_has_room_for_the_cable_of_its_largest_load() -> None:
    """L11 and L12, by Ohm's law: what the cable of 500 m takes is 500 m of cable."""
    load, laid = case("loop-L11"), case("loop-L12")
    rest = load.expected - laid.expected
    source, least, current = load.value("U_supply"), load.value("U_min"), load.value("I") * MA
    core = laid.value("rho20") / laid.value("area")
    found = longest_cable_m(source, least, current, rest, core, laid.value("T") + 273.15, laid.value("alpha"))
    close(found, laid.value("length"), 1e-6, "the loads are printed to 1e-9")


@given(
    least_V=st.floats(5.0, 15.0),
    spare_V=st.floats(0.5, 20.0),
    current_A=st.floats(0.0036, 0.025),
    rest_share=st.floats(0.0, 0.98),
    core_ohm_per_m=st.floats(0.005, 0.1),
    hot_K=st.floats(233.15, 373.15),
)
def test_at_the_longest_cable_nothing_is_left(
    least_V: float, spare_V: float, current_A: float, rest_share: float, core_ohm_per_m: float, hot_K: float
) -> None:
    source_V = least_V + spare_V
    rest_ohm = rest_share * spare_V / current_A
    stated = (source_V, least_V, current_A, rest_ohm, core_ohm_per_m, hot_K)
    length = float(longest_cable_m(*stated, ALPHA_PER_K))
    assert abs(margin_V(length, *stated)) <= 1e-12 * source_V
    assert margin_V(0.999 * length, *stated) > 0 > margin_V(1.001 * length, *stated)


def test_no_cable_fits_where_the_rest_takes_it_all() -> None:
    assert longest_cable_m(22.8, 12.0, 0.0215, 600.0, 0.0245, 313.15, ALPHA_PER_K) < 0
    assert longest_cable_m(11.0, 12.0, 0.0215, 0.0, 0.0245, 313.15, ALPHA_PER_K) < 0


def test_a_hot_cable_must_be_shorter_and_a_coefficient_of_nothing_leaves_it() -> None:
    at_K = np.array([273.15, 293.15, 333.15])
    lengths = np.asarray(longest_cable_m(22.8, 12.0, 0.0215, 250.0, 0.0245, at_K, ALPHA_PER_K))
    assert np.all(np.diff(lengths) < 0)
    close(lengths[1] / lengths[2], 1 + 40 * ALPHA_PER_K, 1e-12, "rounding")
    cold, hot = (longest_cable_m(22.8, 12.0, 0.0215, 250.0, 0.0245, kelvin, 0.0) for kelvin in (273.15, 333.15))
    close(cold, hot, 1e-9, "rounding")


@given(parts=st.tuples(*[RESISTANCES] * 4), more=RESISTANCES, which=st.integers(0, 3))
def test_more_resistance_anywhere_never_raises_the_last_good_current(
    parts: tuple[float, ...], more: float, which: int
) -> None:
    raised = [part + more * (place == which) for place, part in enumerate(parts)]
    before, after = (loop_resistance_ohm(*some) + 1.0 for some in (parts, raised))
    assert last_good_current_A(22.8, 12.0, after) <= last_good_current_A(22.8, 12.0, before)


@given(input_ohm=RESISTANCES, cable_ohm=RESISTANCES, other_ohm=RESISTANCES)
def test_with_the_largest_barrier_the_current_is_just_reached(
    input_ohm: float, cable_ohm: float, other_ohm: float
) -> None:
    barrier = largest_barrier_ohm(22.8, 12.0, 0.0215, input_ohm, cable_ohm, other_ohm)
    total = loop_resistance_ohm(input_ohm, barrier, cable_ohm, other_ohm)
    close(last_good_current_A(22.8, 12.0, total), 0.0215, 1e-13, "rounding of five additions")


@given(barrier_ohm=RESISTANCES, cable_ohm=RESISTANCES, other_ohm=RESISTANCES)
def test_with_the_largest_input_resistor_the_current_is_just_reached(
    barrier_ohm: float, cable_ohm: float, other_ohm: float
) -> None:
    resistor = largest_input_resistor_ohm(22.8, 12.0, 0.0215, barrier_ohm, cable_ohm, other_ohm)
    total = loop_resistance_ohm(resistor, barrier_ohm, cable_ohm, other_ohm)
    close(last_good_current_A(22.8, 12.0, total), 0.0215, 1e-13, "rounding of five additions")


def test_the_order_of_a_series_does_not_matter() -> None:
    close(loop_resistance_ohm(1.0, 2.0, 4.0, 8.0), 15.0, 1e-14, "rounding")
    close(loop_resistance_ohm(8.0, 4.0, 2.0, 1.0), 15.0, 1e-14, "rounding")


def test_a_drop_costs_the_same_voltage_at_every_current() -> None:
    """A diode of 0.9 V (common practice, no source) against the same loop without it."""
    currents = np.array([0.0036, 0.012, 0.0215])
    with_drop = terminal_voltage_V(voltage_after_drop_V(22.8, 0.9), currents, 556.342)
    close(terminal_voltage_V(22.8, currents, 556.342) - with_drop, [0.9, 0.9, 0.9], 1e-13, "rounding")


def test_a_drop_that_takes_all_is_refused() -> None:
    with pytest.raises(ValidityError, match="Nothing is left for the loop"):
        apply(voltage_after_drop_V, {"source_voltage_V": 12.0, "drop_V": 12.0})
