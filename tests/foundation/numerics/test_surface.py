"""A smooth function of two numbers as a short polynomial: as near as asked, as short as may be, within its field."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Surface
from tests.closeness import close

FIRST, SECOND = (0.9, 0.95), (280.0, 300.0)


def bent(x: Any, y: Any) -> Any:
    return np.exp(x) * np.sin(y / 50.0)


def surface(within: float) -> Surface:
    found = Surface.of(bent, FIRST, SECOND, within)
    assert found is not None
    return found


def field(count: int = 20_000) -> tuple[Any, Any]:
    random = np.random.default_rng(12)
    return random.uniform(*FIRST, count), random.uniform(*SECOND, count)


def test_it_keeps_within_what_was_asked_between_the_points_it_was_checked_at() -> None:
    x, y = field()
    for within in (1e-4, 1e-6, 1e-8):
        found = surface(within)
        assert found.off <= within
        assert np.max(np.abs(found(x, y) - bent(x, y))) <= 1.5 * within


def test_it_is_as_short_as_may_be() -> None:
    assert len(surface(1e-4).rows) < len(surface(1e-8).rows)


def test_a_polynomial_is_met_exactly() -> None:
    def plain(x: Any, y: Any) -> Any:
        return 2.0 + 3.0 * x - 0.5 * y + 0.25 * x * y

    found = Surface.of(plain, FIRST, SECOND, 1e-9)
    assert found is not None and len(found.rows) == 2
    x, y = field(100)
    close(found(x, y), plain(x, y), 1e-10, "rounding")


def test_what_is_too_crooked_or_ends_within_has_none() -> None:
    assert Surface.of(lambda x, y: np.sin(3000.0 * x) + y, FIRST, SECOND, 1e-6) is None
    with np.errstate(invalid="ignore"):
        assert Surface.of(lambda x, y: np.sqrt(x - 0.92) + 0.0 * y, FIRST, SECOND, 1e-6) is None


def test_it_holds_what_lies_in_its_field_and_no_number_that_is_none() -> None:
    found, inside = surface(1e-6), np.array([290.0])
    assert found.holds(np.array([0.9, 0.95]), inside)
    assert not found.holds(np.array([0.95001]), inside)
    assert not found.holds(np.array([0.93]), np.array([300.1]))
    assert not found.holds(np.array([np.nan]), inside)
