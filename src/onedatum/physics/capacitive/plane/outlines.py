"""Charge on a circle or a strip in smooth waves, and the potential and its slope that each wave makes anywhere.

A wave is integrated as a whole against the logarithm. On the circle itself this is the quadrature of Kress, on the
strip that of Chebyshev with the infinite charge at its edges; for any other place it is exact for the wave as well, so
that a narrow gap needs many waves only as far as the charge itself is crowded there. The first column belongs to the
total charge on the outline. Lengths count in any one unit; the potential is that over charge/(2 pi epsilon_0).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np


class Outline(Protocol):
    """A closed or open line that carries charge, in `count` waves."""

    @property
    def count(self) -> int:
        """Number of waves, and of nodes."""

    @property
    def nodes(self) -> Any:
        """Where the conditions are to hold."""

    def potentials(self, places: Any) -> Any:
        """Potential of each wave, a row for each place."""

    def slopes(self, places: Any, normals: Any, inside: bool) -> Any:
        """Slope of the potential along normals; `inside` says on which side of the outline the places lie."""


@dataclass(frozen=True)
class CircleOutline:
    """Charge on a circle; with an `axis` only what is alike on both sides of the line through the centre."""

    centre: complex
    radius: Any
    orders: int
    axis: complex | None = None

    @property
    def count(self) -> int:
        """Number of waves, and of nodes."""
        return self.orders + 1 if self.axis else 2 * self.orders + 1

    @cached_property
    def normals(self) -> Any:
        """Outward, at the nodes."""
        steps = np.arange(self.count) + 0.5
        return np.exp(1j * np.pi * steps / self.count * (1 if self.axis else 2)) * (self.axis or 1.0)

    @property
    def nodes(self) -> Any:
        """Where the conditions are to hold."""
        return self.centre + self.radius * self.normals

    def potentials(self, places: Any) -> Any:
        """Potential of each wave, a row for each place."""
        at = self._at(places)
        inside = np.abs(at) < 1.0
        inward = np.where(inside, at, 1.0 / np.where(inside, 1.0, np.conj(at)))
        waves = _powers(inward, self.orders) / (2 * self._orders)
        return self._joined(-np.log(self.radius * np.maximum(np.abs(at), 1.0)), waves)

    def slopes(self, places: Any, normals: Any, inside: bool) -> Any:
        """Slope of the potential along normals; `inside` says on which side of the outline the places lie."""
        at, along = self._at(places), normals / (self.axis or 1.0)
        if inside:
            waves = _powers(at, self.orders, along / (2 * self.radius))
            return self._joined(np.zeros(len(at)), waves)
        waves = -np.conj(_powers(1 / at, self.orders, along / (2 * self.radius * at**2)))
        return self._joined(-np.real(along / at) / self.radius, waves)

    @cached_property
    def _orders(self) -> Any:
        return np.arange(1, self.orders + 1)

    def _at(self, places: Any) -> Any:
        """Places against the centre, in radii and turned with the axis."""
        return (places - self.centre) / (self.radius * (self.axis or 1.0))

    def _joined(self, total: Any, waves: Any) -> Any:
        parts = [total[:, None], waves.real] if self.axis else [total[:, None], waves.real, waves.imag]
        return np.hstack(parts)


@dataclass(frozen=True)
class StripOutline:
    """Charge on a flat strip, by the polynomials of Chebyshev; `even` for only what is alike on both halves."""

    middle: complex
    half: complex
    orders: int
    even: bool = False

    @property
    def count(self) -> int:
        """Number of waves, and of nodes."""
        return self.orders + 1

    @property
    def nodes(self) -> Any:
        """Where the conditions are to hold."""
        steps = (np.arange(self.count) + 0.5) / self.count
        return self.middle + self.half * np.cos(np.pi * steps / (2 if self.even else 1))

    def potentials(self, places: Any) -> Any:
        """Potential of each wave, a row for each place."""
        around = self._around(places)
        total = -np.log(np.abs(self.half * around) / 2)
        return np.hstack([total[:, None], self._falling(around, 1.0).real / self._orders])

    def slopes(self, places: Any, normals: Any, inside: bool) -> Any:
        """Slope of the potential along normals; nothing lies inside a strip."""
        around = self._around(places)
        turning = 2 * normals / (self.half * (around - 1 / around))
        return np.hstack([-turning.real[:, None], -self._falling(around, turning).real])

    @cached_property
    def _orders(self) -> Any:
        return np.arange(1.0, self.count) * (2 if self.even else 1)

    def _falling(self, around: Any, first: Any) -> Any:
        ratio = around ** (-2.0 if self.even else -1.0)
        return _powers(ratio, self.orders, ratio * first)

    def _around(self, places: Any) -> Any:
        """The plane round the strip, opened out to that round a circle of radius 1."""
        at = (places - self.middle) / self.half
        return at + np.sqrt(at - 1) * np.sqrt(at + 1)


def _powers(ratio: Any, count: int, first: Any = None) -> Any:
    """A row for each ratio: `first`, which is the ratio itself unless stated, and on from it by the ratio."""
    found = np.empty((len(ratio), count), dtype=complex)
    found[:] = ratio[:, None]
    found[:, 0] = ratio if first is None else first
    return np.multiply.accumulate(found, axis=1, out=found)
