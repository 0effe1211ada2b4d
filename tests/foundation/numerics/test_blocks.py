"""Working in blocks changes how a function is called, never what it gives."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from onedatum.foundation.numerics import in_blocks
from tests.closeness import exact


def sum_of(x: Any, y: Any) -> Any:
    return 2.0 * x + y


@pytest.mark.parametrize("count", [0, 1, 6, 7, 8, 13, 14, 15, 100])
def test_any_length_gives_what_one_call_gives(count: int) -> None:
    x, y = np.arange(count) / 3.0, np.arange(count)[::-1] / 7.0
    found = np.asarray(in_blocks(sum_of, x, y, size=7))
    assert found.tolist() == sum_of(x, y).tolist()
    assert found.shape == (count,)


def test_arrays_broadcast_and_keep_their_shape() -> None:
    down, along = np.arange(5.0)[:, None], np.arange(4.0)[None, :]
    exact(in_blocks(sum_of, down, along, size=3), sum_of(down, along))
    exact(in_blocks(sum_of, down, 0.5, size=3), sum_of(down, 0.5))
    exact(in_blocks(sum_of, [[1, 2], [3, 4]], 1, size=3), [[3.0, 5.0], [7.0, 9.0]])
    turned = np.arange(12.0).reshape(3, 4).T
    exact(in_blocks(sum_of, turned, np.ones((4, 1)), size=5), sum_of(turned, 1.0))


def test_blocks_are_no_longer_than_said_and_floats_stay_floats() -> None:
    seen: list[tuple[int, int]] = []

    def look(x: Any, y: Any) -> Any:
        seen.append((np.size(x), np.ndim(y)))
        return x

    in_blocks(look, np.zeros((2, 5)), 3, size=4)
    assert seen == [(4, 0), (4, 0), (2, 0)]


def test_floats_in_float_out() -> None:
    found = in_blocks(sum_of, 1, np.float64(0.25))
    assert isinstance(found, float)
    exact(found, 2.25)


def test_not_a_number_stays_alone() -> None:
    exact(in_blocks(sum_of, np.array([1.0, np.nan, 2.0]), 0.0, size=2), [2.0, np.nan, 4.0])


def test_an_element_that_overflows_is_infinite_without_a_warning() -> None:
    exact(in_blocks(np.exp, np.array([0.0, 1e4])), [1.0, np.inf])


def test_shapes_that_do_not_fit_are_refused() -> None:
    with pytest.raises(ValueError, match="shape mismatch"):
        in_blocks(sum_of, np.zeros(3), np.zeros(4))
