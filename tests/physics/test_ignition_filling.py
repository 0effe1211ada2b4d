"""Filling with liquids that hold charge: worked velocities, continuity, decay of charge, and what is not known."""

from __future__ import annotations

from itertools import product
from math import inf, nan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from onedatum.foundation.errors import QuantityError, ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.ignition import (
    conductivity_classes,
    conductivity_word,
    filling_facts,
    filling_velocities,
    flow_m3_per_s,
    flow_velocity_m_per_s,
    largest_velocity_m_per_s,
    largest_velocity_upright_m_per_s,
    relaxation_time_s,
    size_factor,
    sized_velocity_diameter_m2_per_s,
    sulphur_bands,
    velocity_row,
    vessel_kinds,
)
from tests.closeness import close, exact, printed
from tests.reference import case

MM = 1e-3
PS_PER_M = 1e-12
ABOVE, AT_MOST = "above 50 ppm", "at most 50 ppm"
TANKER, DIP_PIPE, BOTTOM, RAIL = vessel_kinds()
PIPES_MM = (25, 50, 100, 200)


def test_relaxation_time() -> None:
    stated = case("loop-E01")
    stated.check(relaxation_time_s(stated.value("er"), stated.value("kappa") * PS_PER_M))


def test_charge_falls_to_its_share_in_the_relaxation_time() -> None:
    """The balance d(rho)/dt = -kappa*rho/eps stepped through, with the constant of another library."""
    permittivity, conductivity = 2.1 * constants.epsilon_0, 5 * PS_PER_M
    tau, steps = relaxation_time_s(2.1, conductivity), 100_000
    half_step = conductivity / permittivity * tau / steps / 2
    left = ((1 - half_step) / (1 + half_step)) ** steps
    close(left, np.exp(-1.0), 1e-8, "the trapezium rule in a hundred thousand steps, and the constant's last digits")


def test_velocity_by_bore() -> None:
    stated = case("loop-E02")
    bores = np.array(stated.value("d")) * MM
    stated.check(largest_velocity_m_per_s(stated.value("vd"), bores, filling_velocities().max_m_per_s))


@pytest.mark.parametrize(
    ("product_m2_per_s", "velocities"),
    [(0.50, (7, 7, 5, 2.5)), (0.38, (7, 7, 3.8, 1.9)), (0.25, (7, 5, 2.5, 1.25))],
)
def test_velocities_of_the_three_rows(product_m2_per_s: float, velocities: tuple[float, ...]) -> None:
    """Worked by hand: min(7, k/d)."""
    bores = np.array(PIPES_MM) * MM
    close(largest_velocity_m_per_s(product_m2_per_s, bores, 7.0), velocities, 1e-12, "rounding")


def test_flow_by_continuity() -> None:
    stated = case("loop-E03")
    stated.check(flow_m3_per_s(stated.value("v"), stated.value("d") * MM) * 3600)


@given(flow=st.floats(1e-6, 1.0), bore=st.floats(0.01, 1.0))
def test_flow_and_velocity_are_one(flow: float, bore: float) -> None:
    close(flow_m3_per_s(flow_velocity_m_per_s(flow, bore), bore), flow, 1e-14 * flow, "rounding")


def test_velocity_in_a_vertical_tank() -> None:
    """Worked by hand: D 3 m, d 80 mm."""
    assert largest_velocity_upright_m_per_s(3.0, 0.080) == printed("4.29")
    exact(largest_velocity_upright_m_per_s(10.0, 0.025), 7.0)


@pytest.mark.parametrize("diameter", [1.3, 10.01])
def test_a_tank_of_another_size_is_refused(diameter: float) -> None:
    with pytest.raises(ValidityError, match="vessel_diameter_m must be above 1300 mm up to 10000 mm"):
        apply(largest_velocity_upright_m_per_s, {"vessel_diameter_m": diameter, "diameter_m": 0.08})


# ---------------------------------------------------------------- size of the tank


def test_factor_by_size() -> None:
    """1 below 2 m, the root of half the diagonal to 4.5 m, 1.5 above: no step at either end."""
    exact(size_factor(np.array([0.0, 1.0, 2.0])), [1, 1, 1])
    exact(size_factor(np.array([4.5, 4.6, 50.0])), [1.5, 1.5, 1.5])
    close(size_factor(3.0) ** 2, 1.5, 1e-12, "rounding")
    factors = size_factor(np.linspace(0, 10, 10_001))
    assert (np.diff(factors) >= 0).all()
    assert np.max(np.diff(factors)) < 0.5e-3


@given(diagonal=st.floats(0, 50), bore=st.floats(0.01, 1.0))
def test_a_larger_tank_never_has_the_lower_velocity(diagonal: float, bore: float) -> None:
    row = velocity_row(BOTTOM, None, None).velocity_diameter_m2_per_s
    small, large = (sized_velocity_diameter_m2_per_s(row, float(size_factor(L))) for L in (diagonal, diagonal + 1))
    assert largest_velocity_m_per_s(small, bore, 7.0) <= largest_velocity_m_per_s(large, bore, 7.0)
    assert 0.38 <= small <= 0.57 * (1 + 1e-12)


# ---------------------------------------------------------------- rows


@pytest.mark.parametrize(
    ("kind", "sulphur", "conductivity", "expected"),
    [
        (TANKER, ABOVE, 11, 0.50),
        (TANKER, ABOVE, 10, 0.38),
        (TANKER, ABOVE, None, 0.38),
        (TANKER, AT_MOST, 51, 0.50),
        (TANKER, AT_MOST, 50, 0.38),
        (TANKER, AT_MOST, 11, 0.38),
        (TANKER, AT_MOST, 10, 0.25),
        (TANKER, AT_MOST, 0, 0.25),
        (TANKER, AT_MOST, None, 0.25),
        (TANKER, None, None, 0.25),
        (TANKER, None, 5, 0.25),
        (TANKER, None, 30, 0.38),
        (TANKER, None, 60, 0.50),
        (DIP_PIPE, None, None, 0.50),
        (DIP_PIPE, AT_MOST, 1, 0.50),
        (BOTTOM, None, None, 0.38),
        (BOTTOM, ABOVE, 60, 0.38),
        (RAIL, None, None, 0.80),
    ],
)
def test_row_by_what_is_known(kind: str, sulphur: str | None, conductivity: float | None, expected: float) -> None:
    """IEC TS 60079-32-1 as restated by a specialist, read second-hand; rail cars from memory."""
    row = velocity_row(kind, sulphur, None if conductivity is None else conductivity * PS_PER_M)
    exact(row.velocity_diameter_m2_per_s, expected)
    assert row.tag == ("from memory" if kind == RAIL else "read second-hand")
    assert row.sized is (kind in (DIP_PIPE, BOTTOM))


@given(
    kind=st.sampled_from(vessel_kinds()),
    sulphur=st.sampled_from(sulphur_bands()),
    conductivity=st.floats(0, 1e-9),
)
def test_knowing_less_never_raises_the_velocity(kind: str, sulphur: str, conductivity: float) -> None:
    full = velocity_row(kind, sulphur, conductivity).velocity_diameter_m2_per_s
    for less in product((sulphur, None), (conductivity, None)):
        assert velocity_row(kind, *less).velocity_diameter_m2_per_s <= full


@given(kind=st.sampled_from(vessel_kinds()), sulphur=st.sampled_from([*sulphur_bands(), None]))
def test_more_conductivity_never_lowers_the_velocity(kind: str, sulphur: str | None) -> None:
    rising = [velocity_row(kind, sulphur, k * 1e-12).velocity_diameter_m2_per_s for k in np.linspace(0, 100, 201)]
    assert rising == sorted(rising)


def test_what_is_not_known_and_would_decide_is_asked_for() -> None:
    assert velocity_row(TANKER, None, None).asks == ("sulphur", "conductivity")
    assert velocity_row(TANKER, ABOVE, None).asks == ("conductivity",)
    assert velocity_row(TANKER, None, 1e-12).asks == ("sulphur",)
    assert velocity_row(TANKER, ABOVE, 1e-12).asks == ()
    assert velocity_row(BOTTOM, None, None).asks == ()


# ---------------------------------------------------------------- conductivity


@pytest.mark.parametrize(
    ("pS_per_m", "word"),
    [(0, "low"), (49.9, "low"), (50, "medium"), (10_000, "medium"), (10_001, "high"), (1e12, "high")],
)
def test_word_for_a_conductivity(pS_per_m: float, word: str) -> None:
    """From memory."""
    assert conductivity_word(pS_per_m * PS_PER_M) == word
    assert conductivity_classes().tag == "from memory"


@pytest.mark.parametrize("value", [-1e-15, nan, inf, -inf, "5 pS/m", True, [], ()])
def test_a_conductivity_that_is_none_is_refused(value: Any) -> None:
    with pytest.raises(QuantityError, match="a conductivity of 0 S/m or more"):
        conductivity_word(value)
    with pytest.raises(QuantityError, match="a conductivity of 0 S/m or more"):
        velocity_row(TANKER, None, value)


@pytest.mark.parametrize("word", ["", "tank", "Road tanker", None, 1, []])
def test_a_word_that_is_none_is_refused(word: Any) -> None:
    with pytest.raises(QuantityError, match="one of road tanker"):
        velocity_row(word, None, None)
    if word is not None:
        with pytest.raises(QuantityError, match="one of above 50 ppm, at most 50 ppm"):
            velocity_row(TANKER, word, None)


def test_velocities_for_every_vessel_and_facts() -> None:
    """NFPA 77:2000, 7.6, and TRGS 727, 4.4.1, read."""
    found = filling_velocities()
    exact([found.start_m_per_s, found.max_m_per_s], [1.0, 7.0])
    assert found.tag == "read"
    facts = {fact.text: fact.tag for fact in filling_facts()}
    told = {
        "two diameters of the fill pipe": "read",
        "Never above 7 m/s": "read",
        "No splash filling": "from memory",
        "At least 30 s": "from memory",
        "Wait 30 min": "from memory",
        "below 1 ohm, earth below 10 ohm": "read",
        "central conductor only if": "read second-hand",
    }
    for words, tag in told.items():
        assert [facts[text] for text in facts if words in text] == [tag]
