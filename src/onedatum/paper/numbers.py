"""Numbers of a table that is asked for by the hundred while a drawing is laid out."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from onedatum.foundation.numerics import Reals


class Numbers(tuple[float, ...]):
    """A tuple of numbers whose hash and whose array are worked once, not each time they are asked for."""

    @classmethod
    def of(cls, numbers: tuple[float, ...]) -> Numbers:
        """These numbers, themselves where they are such a tuple already."""
        return numbers if isinstance(numbers, Numbers) else cls(numbers)

    @cached_property
    def array(self) -> Reals:
        """The numbers as an array that nobody can write into."""
        array = np.array(self, dtype=np.float64)
        array.flags.writeable = False
        return array

    @cached_property
    def _hash(self) -> int:
        return super().__hash__()

    def __hash__(self) -> int:
        return self._hash
