"""States of the signal: every current has one word, limits stand where they are written, bands can be set."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, fields, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.sources import citation
from onedatum.physics.loop import Bands, Limit, clamped_current_A, signal_state, state_meanings, usual_bands
from tests.closeness import exact
from tests.reference import case

MA = 1e-3
ORDER = ["failure_low", "undefined_low", "measuring", "undefined_high", "failure_high"]
LIMITS = [field.name for field in fields(Bands)]


def stated(current_A: float) -> Limit:
    """A limit somebody states."""
    return Limit(current_A, "case", "read")


def test_currents_of_the_reference_word_for_word() -> None:
    given_case = case("loop-L06")
    currents = np.array(given_case.value("currents")) * MA
    assert signal_state(currents, usual_bands()).tolist() == given_case.expected
    assert [signal_state(float(current), usual_bands()) for current in currents] == given_case.expected


def test_the_usual_limits() -> None:
    exact(usual_bands().currents_A, [0.0036, 0.0038, 0.0205, 0.021])


EDGES = [
    ("3.6", "failure_low"),
    ("3.8", "measuring"),
    ("20.5", "measuring"),
    ("21.0", "failure_high"),
]


@pytest.mark.parametrize(("milliampere", "state"), EDGES)
def test_a_limit_read_in_milliampere_stands_on_itself(milliampere: str, state: str) -> None:
    """However the number was turned into ampere, and some units of the last digit to either side."""
    value = float(milliampere)
    ways = [value * 1e-3, value / 1000, float(f"{milliampere}e-3"), 0.004 + 0.016 * ((value - 4) / 16)]
    ways += [float(np.nextafter(way, way + sign)) for way in ways for sign in (-1, 1)]
    assert len(set(ways)) >= 3, "rounding would not be tried at all"
    assert [signal_state(way, usual_bands()) for way in ways] == [state] * len(ways)
    assert set(signal_state(np.array(ways), usual_bands()).tolist()) == {state}


@pytest.mark.parametrize(
    ("milliampere", "state"),
    [
        (3.6 + 1e-9, "undefined_low"),
        (3.8 - 1e-9, "undefined_low"),
        (20.5 + 1e-9, "undefined_high"),
        (21.0 - 1e-9, "undefined_high"),
    ],
)
def test_a_picoampere_beside_a_limit_is_beside_it(milliampere: float, state: str) -> None:
    assert signal_state(milliampere * MA, usual_bands()) == state


def test_20_8_mA_is_no_failure() -> None:
    """A pitfall of the reference: a current beyond the measurement information is not yet a failure."""
    assert signal_state(0.0208, usual_bands()) == "undefined_high"


def test_a_level_beyond_the_range_is_sent_as_a_measurement() -> None:
    _, low, high, _ = usual_bands().currents_A
    sent = clamped_current_A(np.array([-0.02, 0.003, 0.012, 0.0211, 0.05]), low, high)
    assert set(signal_state(np.asarray(sent), usual_bands()).tolist()) == {"measuring"}


def test_a_wire_break_is_low_whatever_is_configured() -> None:
    assert signal_state(0.0, usual_bands()) == "failure_low"
    assert "a wire break is always low" in state_meanings()["failure_low"].note


@pytest.mark.parametrize("missing", [np.nan, np.inf, -np.inf])
def test_what_is_no_number_is_unknown(missing: float) -> None:
    assert signal_state(missing, usual_bands()) == "unknown"
    assert signal_state(np.array([missing, 0.012]), usual_bands()).tolist() == ["unknown", "measuring"]


@given(currents=st.lists(st.floats(-0.01, 0.03), min_size=2, max_size=20))
def test_the_words_follow_the_current_upwards(currents: list[float]) -> None:
    words = signal_state(np.sort(currents), usual_bands()).tolist()
    places = [ORDER.index(word) for word in words]
    assert places == sorted(places)
    assert words == [signal_state(current, usual_bands()) for current in sorted(currents)]


def test_the_shape_of_an_array_is_kept() -> None:
    words = signal_state(np.full((3, 2), 0.012), usual_bands())
    assert words.shape == (3, 2)
    assert type(signal_state(0.012, usual_bands())) is str
    assert type(signal_state(np.float64(0.012), usual_bands())) is str


# ---------------------------------------------------------------- bands set otherwise


def test_a_receiver_set_otherwise_decides_otherwise() -> None:
    own = replace(usual_bands(), failure_high_A=stated(0.0215))
    assert signal_state(0.0212, own) == "undefined_high"
    assert signal_state(0.0212, usual_bands()) == "failure_high"
    assert own.failure_high_A.source == "case"


def test_bands_that_touch_leave_nothing_between_and_failure_goes_first() -> None:
    own = replace(usual_bands(), failure_low_A=stated(0.0038), failure_high_A=stated(0.0205))
    words = signal_state(np.array([0.00379, 0.0038, 0.00381, 0.02049, 0.0205, 0.02051]), own).tolist()
    assert words == ["failure_low"] * 2 + ["measuring"] * 2 + ["failure_high"] * 2


@pytest.mark.parametrize(
    ("name", "current"),
    [
        ("failure_low_A", 0.0039),
        ("failure_low_A", 0.0),
        ("information_low_A", 0.0035),
        ("information_low_A", 0.0205),
        ("information_high_A", 0.0211),
        ("failure_high_A", 0.0204),
        ("failure_high_A", np.nan),
        ("failure_high_A", np.inf),
    ],
)
def test_bands_out_of_order_are_refused(name: str, current: float) -> None:
    with pytest.raises(QuantityError, match="in the order failure, measurement from, measurement up to, failure"):
        replace(usual_bands(), **{name: stated(current)})


def test_bands_cannot_be_changed_in_place() -> None:
    with pytest.raises(FrozenInstanceError):
        usual_bands().failure_low_A = stated(0.0035)  # type: ignore[misc]


# ---------------------------------------------------------------- what the words mean


@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_names_its_source(name: str) -> None:
    limit = getattr(usual_bands(), name)
    assert limit.source.startswith("ne43:")
    assert limit.tag == citation(limit.source).source.tag == "read second-hand"


def test_every_word_has_its_meaning() -> None:
    assert list(state_meanings()) == [*ORDER, "unknown"]
    for state in state_meanings().values():
        assert state.meaning.strip()
        assert state.tag == citation(state.source).source.tag


def test_what_lies_between_is_said_to_be_neither_and_derived() -> None:
    for state in ("undefined_low", "undefined_high"):
        assert state_meanings()[state].meaning.startswith("neither failure nor measurement")
        assert state_meanings()[state].tag == "derived and checked"
