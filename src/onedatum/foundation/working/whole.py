"""A value made of several numbers that formulas hand on in one piece, such as the inside of a vessel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cached_property
from typing import Any, ClassVar, Self

import numpy as np


class Whole:
    """Base of such values: frozen dataclasses of numbers, of arrays broadcast against one another, and of other wholes.

    It has the shape of its numbers broadcast together, so that numpy takes it for an array of that shape.
    """

    called: ClassVar[str] = "whole"
    """What people call it, for the description of formulas."""
    own_axis: ClassVar[frozenset[str]] = frozenset()
    """Fields whose arrays have an axis of their own, such as the rows of a table, and no part in broadcasting."""

    def told(self, shown: str = "") -> str:
        """The whole in words, as it is printed beside its name; its lengths in the unit `shown`."""
        raise NotImplementedError

    @cached_property
    def shape(self) -> tuple[int, ...]:
        """The shape of its numbers, broadcast together."""
        shapes = {np.shape(number) for number in self.numbers() if not isinstance(number, float)}
        return np.broadcast_shapes(*shapes)

    @property
    def ndim(self) -> int:
        """The number of axes of `shape`."""
        return len(self.shape)

    @property
    def size(self) -> int:
        """The number of elements of `shape`."""
        return int(np.prod(self.shape))

    def numbers(self) -> Iterator[Any]:
        """Every number in it, those of the wholes in it as well."""
        for name, part in self._parts():
            if isinstance(part, Whole):
                yield from part.numbers()
            elif name not in self.own_axis and isinstance(part, int | float | np.ndarray):
                yield part

    def missing(self) -> Any:
        """Where one of its numbers is not a number."""
        found: Any = np.False_
        for number in self.numbers():
            found = found | np.isnan(number)
        return found

    def masked(self, inside: Any) -> Self:
        """The same where `inside` holds, not a number elsewhere."""
        if np.all(inside) or not is_dataclass(self):
            return self
        return replace(self, **{field.name: _masked(getattr(self, field.name), inside) for field in fields(self)})

    def _parts(self) -> Iterator[tuple[str, Any]]:
        for field in fields(self):  # type: ignore[arg-type]
            part = getattr(self, field.name)
            for each in part if isinstance(part, tuple) else (part,):
                yield field.name, each


def _masked(part: Any, inside: Any) -> Any:
    if isinstance(part, tuple):
        return tuple(_masked(each, inside) for each in part)
    if isinstance(part, Whole):
        return part.masked(inside)
    return np.where(inside, part, np.nan) if isinstance(part, int | float | np.ndarray) else part
