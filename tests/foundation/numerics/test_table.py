"""Values of polynomials."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import polynomial
from tests.closeness import close, exact


def test_polynomial() -> None:
    """Against numpy's own."""
    x = np.linspace(-3.0, 5.0, 101)
    coefficients = [0.3, -1.0, 0.25, 2.0]
    wanted = np.polynomial.Polynomial(coefficients)(x)
    close(polynomial(coefficients, x), wanted, 1e-12, "rounding")
    exact(polynomial([2.0, 1.0], 3.0), 5.0)


def test_coefficients_may_be_arrays() -> None:
    x, shift = np.array([[1.0, 2.0]]), np.array([[0.0], [10.0], [np.nan]])
    exact(polynomial([shift, shift + 1.0], x), [[1.0, 2.0], [21.0, 32.0], [np.nan, np.nan]])
    exact(shift, [[0.0], [10.0], [np.nan]])
