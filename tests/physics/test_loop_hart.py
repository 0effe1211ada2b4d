"""Digital signal on the loop: the product of resistance and capacitance, the cable that follows, and the limits."""

from __future__ import annotations

from dataclasses import fields

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.sources import citation
from onedatum.foundation.units import unit_of_name
from onedatum.foundation.working import apply
from onedatum.physics.loop import (
    HartLimits,
    Limit,
    hart_cable_by_allowance_m,
    hart_limits,
    hart_longest_cable_m,
    hart_time_constant_s,
)
from tests.closeness import close, printed
from tests.reference import case

US, NF, PF = 1e-6, 1e-9, 1e-12


def test_longest_cable_without_its_resistance() -> None:
    stated = case("loop-L15")
    tau, capacitance = stated.value("tau_max") * US, stated.value("C_device") * NF
    stated.check(hart_longest_cable_m(tau, stated.value("R"), capacitance, 0.0, stated.value("C_cable") * PF))


def test_longest_cable_by_the_older_form() -> None:
    """From memory: 65e6/(R c) - (Cf + 10000)/c, in ohm and pF."""
    stated = case("loop-L16")
    allowance, tau = hart_limits().allowance_F.value, hart_limits().time_constant_s.value
    cable, device = stated.value("C") * PF, stated.value("Cf") * PF
    stated.check(hart_cable_by_allowance_m(tau, stated.value("R"), cable, device, allowance))


@pytest.mark.parametrize(
    ("resistance", "capacitance"), [(230, "282.6"), (250, "260"), (500, "130"), (600, "108.3"), (1000, "65")]
)
def test_largest_capacitance_by_resistance(resistance: float, capacitance: str) -> None:
    """Derived: 65 us over the resistance, as a table of it prints."""
    assert hart_limits().time_constant_s.value / resistance / NF == printed(capacitance)
    product = hart_time_constant_s(resistance, float(capacitance) * NF)
    close(product, 65 * US, 0.05 * NF * resistance, "capacitance printed to 0.1 nF")


@given(
    resistance=st.floats(200.0, 1100.0),
    share=st.floats(0.0, 0.999),
    per_m=st.floats(0.0, 0.2),
    capacitance_per_m=st.floats(30 * PF, 500 * PF),
)
def test_the_product_is_just_reached_and_a_root_finder_agrees(
    resistance: float, share: float, per_m: float, capacitance_per_m: float
) -> None:
    rest_F = share * 65 * US / resistance

    def beyond(length_m: float) -> float:
        loop_ohm, loop_F = resistance + per_m * length_m, rest_F + capacitance_per_m * length_m
        return float(hart_time_constant_s(loop_ohm, loop_F)) / (65 * US) - 1

    found = float(hart_longest_cable_m(65 * US, resistance, rest_F, per_m, capacitance_per_m))
    assert found >= 0
    assert abs(beyond(found)) <= 1e-12
    sought = brentq(beyond, 0.0, 65 * US / (resistance * capacitance_per_m) + 1.0, xtol=1e-9)
    assert abs(found - sought) <= 2e-9 + 1e-9 * sought


@pytest.mark.parametrize("per_m", [1e-15, 1e-9, 1e-4, 0.05, 5.0])
def test_no_digits_are_lost_however_little_the_cable_resists(per_m: float) -> None:
    """The quadratic in its textbook form, with sixty digits."""
    with mpmath.workdps(60):
        tau, rest, held, along, capacity = (mpmath.mpf(x) for x in (65 * US, 500.0, 5 * NF, per_m, 200 * PF))
        slope = rest * capacity + along * held
        root = mpmath.sqrt(slope**2 + 4 * along * capacity * (tau - rest * held))
        expected = float((root - slope) / (2 * along * capacity))
    close(hart_longest_cable_m(65 * US, 500.0, 5 * NF, per_m, 200 * PF), expected, 1e-12 * expected, "rounding")


def test_nothing_is_left_for_a_cable_where_the_rest_takes_it_all() -> None:
    held = np.array([0.0, 130 * NF])
    at_the_limit = np.asarray(hart_longest_cable_m(65 * US, 500.0, held, 0.05, 200 * PF))
    assert at_the_limit[0] > 0
    assert abs(at_the_limit[1]) < 1e-9
    values = {"time_constant_s": 65 * US, "rest_resistance_ohm": 500.0, "rest_capacitance_F": 131 * NF}
    cable = {"cable_resistance_ohm_per_m": 0.05, "cable_capacitance_F_per_m": 200 * PF}
    with pytest.raises(ValidityError, match="too slow for the signal"):
        apply(hart_longest_cable_m, values | cable)


@given(
    resistance=st.floats(230.0, 1000.0),
    device=st.floats(0.0, 20 * NF),
    per_m=st.floats(0.0, 0.1),
    capacitance_per_m=st.floats(50 * PF, 300 * PF),
)
def test_the_older_form_is_never_the_shorter_one(
    resistance: float, device: float, per_m: float, capacitance_per_m: float
) -> None:
    allowance = hart_limits().allowance_F.value
    exact_m = hart_longest_cable_m(65 * US, resistance, device + allowance, per_m, capacitance_per_m)
    older_m = hart_cable_by_allowance_m(65 * US, resistance, capacitance_per_m, device, allowance)
    assert exact_m <= older_m * (1 + 1e-12)


def test_the_older_form_is_negative_where_none_fits() -> None:
    assert hart_cable_by_allowance_m(65 * US, 1000.0, 100 * PF, 60 * NF, 10 * NF) < 0


def test_the_limits_are_those_of_the_reference() -> None:
    """65 us, 230 and 600 ohm read second-hand; the others from memory."""
    found = {field.name: getattr(hart_limits(), field.name) for field in fields(HartLimits)}
    assert {name: limit.value for name, limit in found.items()} == {
        "least_resistance_ohm": 230.0,
        "nominal_resistance_ohm": 250.0,
        "largest_resistance_current_input_ohm": 600.0,
        "largest_resistance_ohm": 1100.0,
        "time_constant_s": 65e-6,
        "single_pair_length_m": 3000.0,
        "multipair_length_m": 1500.0,
        "allowance_F": 10e-9,
        "modulation_A": 0.0005,
    }
    second_hand = {name for name, limit in found.items() if limit.tag == "read second-hand"}
    assert second_hand == {"time_constant_s", "least_resistance_ohm", "largest_resistance_current_input_ohm"}


@pytest.mark.parametrize("field", [field.name for field in fields(HartLimits)])
def test_a_limit_carries_its_unit_its_source_and_the_tag_of_that_source(field: str) -> None:
    limit = getattr(hart_limits(), field)
    assert isinstance(limit, Limit)
    assert unit_of_name(field)
    assert limit.tag == citation(limit.source).source.tag
    assert (limit.tag == "from memory") == limit.source.partition(":")[0].endswith("-memory")
