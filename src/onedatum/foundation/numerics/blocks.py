"""Long arrays worked block by block, so that what a function needs in between stays near the processor."""

from __future__ import annotations

from collections.abc import Callable
from math import prod
from typing import Any

import numpy as np

from onedatum.foundation.numerics.kinds import Real, same_kind

BLOCK = 16_384
"""Elements worked at once: a dozen such arrays fit into the second cache of any processor of today."""


def in_blocks(function: Callable[..., Any], *arrays: Any, size: int = BLOCK) -> Real:
    """A function of numbers, for floats and for arrays of any shape and length.

    function: takes as many arguments as there are `arrays` and works element by element. Where any argument is an
        array it gets flat arrays of one length, at most `size`, and gives one as long; where none is, it gets the
        floats. It must not write into what it gets.
    arrays: broadcast against one another; a float stays a float in every block.

    Elements outside the validity of a function pass through it before they are masked: where they overflow or divide by
    nothing, no warning is given.
    """
    given = [np.asarray(array, dtype=np.float64) for array in arrays]
    shape = np.broadcast_shapes(*(array.shape for array in given))
    if shape == ():
        return same_kind(function(*(array[()] for array in given)))
    flat = [np.broadcast_to(array, shape).reshape(-1) if array.ndim else array[()] for array in given]
    found = np.empty(prod(shape))
    with np.errstate(all="ignore"):
        for start in range(0, found.size, size):
            block = slice(start, start + size)
            found[block] = function(*(part[block] if part.ndim else part for part in flat))
    return found.reshape(shape)
