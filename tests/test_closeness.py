"""The comparisons that every test rests on: each is shown to pass what it should and to fail what it should."""

from __future__ import annotations

import numpy as np
import pytest

from tests.closeness import ToleranceError, close, exact, printed


def test_exact_knows_the_last_digit() -> None:
    exact(0.1 + 0.2, 0.30000000000000004)
    exact(np.array([1.0, np.nan]), np.array([1.0, np.nan]))
    with pytest.raises(AssertionError, match="off by"):
        exact(0.1 + 0.2, 0.3)
    with pytest.raises(AssertionError, match=r"at \(1,\)"):
        exact(np.array([1.0, np.nan]), np.array([1.0, 2.0]))


def test_exact_knows_shapes() -> None:
    with pytest.raises(AssertionError, match="shape"):
        exact(np.ones(2), np.ones(3))
    with pytest.raises(AssertionError, match="shape"):
        exact(np.ones(2), 1.0)


def test_close_keeps_its_tolerance() -> None:
    close(100.4, 100.0, 0.5, "drawn for this test")
    close(np.array([0.0, 100.4]), np.array([0.1, 100.0]), 0.5, "drawn for this test")
    with pytest.raises(AssertionError, match="drawn for this test"):
        close(100.6, 100.0, 0.5, "drawn for this test")
    with pytest.raises(AssertionError, match="got"):
        close(np.array([0.0, np.nan]), np.array([0.0, 100.0]), 0.5, "drawn for this test")


@pytest.mark.parametrize("tol", [0.051, 1.0, np.inf, np.nan, -0.01])
def test_close_refuses_a_tolerance_that_compares_nothing(tol: float) -> None:
    with pytest.raises(ToleranceError):
        close(1.0, 1.0, tol, "too loose")


def test_close_refuses_nought_silence_and_emptiness() -> None:
    with pytest.raises(ToleranceError, match="within"):
        close(0.0, 0.0, 1e-12, "a tolerance about nought has no measure")
    with pytest.raises(ToleranceError, match="reason"):
        close(1.0, 1.0, 1e-12, " ")
    with pytest.raises(ToleranceError, match="nothing"):
        close(np.array([]), np.array([]), 1e-12, "no elements")


@pytest.mark.parametrize("value", [0.982065, 0.98207, 0.982075, np.array([0.982066, 0.982074])])
def test_printed_takes_what_rounds_to_it(value: float) -> None:
    assert value == printed("0.98207")


@pytest.mark.parametrize("value", [0.98206, 0.982076, np.nan, np.array([0.98207, 0.98208]), np.array([])])
def test_printed_refuses_what_does_not(value: float) -> None:
    assert not printed("0.98207") == value  # noqa: SIM201


def test_printed_counts_trailing_zeros_and_powers() -> None:
    assert printed("998.20") != 998.206
    assert printed("998.2") == 998.206
    assert printed("1.25e-3") == 0.0012549
    assert printed("1.25e-3") != 0.0012551


@pytest.mark.parametrize("text", ["0", "0.0", "7e2", "0.01"])
def test_printed_refuses_too_few_digits(text: str) -> None:
    with pytest.raises(ToleranceError):
        printed(text)
