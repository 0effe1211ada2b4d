"""Capacitance at many levels for the price of two: the mesh is folded up from below with liquid, from above with gas.

All nodes of the rod are one unknown, held at 1. What lies below a line is then a matrix on the nodes of that line and
the rod, found layer by layer; so is what lies above it. At a level the two meet, and what is left when the line is
eliminated too is the capacitance. It equals the solution of the whole set of equations, up to rounding.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.mesh import FREE, ROD, Mesh

FLUID = 2
"""Block of the mesh that holds the fluid."""
_ALONE = 50_000
"""Multiplications up to which the linear algebra library keeps to one thread, tried."""
_TOGETHER = 16
"""Layers whose middle lines are eliminated at once."""


@dataclass(frozen=True)
class _Folded:
    """What lies to one side of a line: u.D.u + 2*d.u + e in the potentials u of its free nodes, the rod at 1."""

    D: Any
    d: Any
    e: Any


def capacitances_m(mesh: Mesh, matrices_m: Reals, lines: list[int], liquid: Any, gas: Any, coating: Any) -> Any:
    """Capacitance over eps0 with the liquid up to each of the lines, relative permittivities given."""
    plain = _Plain(mesh, matrices_m)
    below = _fold(mesh, _layers(plain, liquid, coating, upward=True), upward=True)
    above = _fold(mesh, _layers(plain, gas, coating, upward=False), upward=False)
    wanted = set(lines)
    low = {line: folded for line, folded in enumerate(below) if line in wanted}
    top = len(mesh.heights_m) - 1
    high = {top - number: folded for number, folded in enumerate(above) if top - number in wanted}
    return np.array([_meet(low[line], high[line]) for line in lines])


def _meet(low: _Folded, high: _Folded) -> Any:
    d = low.d + high.d
    return low.e + high.e - (d @ np.linalg.solve(low.D + high.D, d) if d.size else 0.0)


def _fold(mesh: Mesh, layers: Iterator[tuple[Any, Any, Any]], upward: bool) -> Iterator[_Folded]:
    """What lies behind each line in turn, from the first, behind which there is nothing."""
    lines = mesh.held[::2] if upward else mesh.held[::-2]
    frees = [np.flatnonzero(held == FREE) for held in lines]
    folded = _Folded(np.zeros((len(frees[0]),) * 2), np.zeros(len(frees[0])), 0.0)
    yield folded
    for (S, s, e), near, far in zip(layers, frees[:-1], frees[1:], strict=True):
        nodes = len(s) // 2
        here, there = _run(near - (lines.shape[1] - nodes)), _run(far - (lines.shape[1] - nodes) + nodes)
        of_here = S[here]
        D, d = of_here[:, here] + folded.D, s[here] + folded.d
        across = of_here[:, there]
        gone = np.linalg.solve(D, np.concatenate([across, d[:, None]], axis=1))
        rest = product(across.T, gone)
        folded = _Folded(S[there][:, there] - rest[:, :-1], s[there] - rest[:, -1], folded.e + e - d @ gone[:, -1])
        yield folded


def _run(nodes: Any) -> Any:
    """Nodes that follow one another as a slice, for which nothing is copied; others as they are."""
    follow = nodes.size and nodes[-1] - nodes[0] == nodes.size - 1
    return slice(int(nodes[0]), int(nodes[-1]) + 1) if follow else nodes


class _Plain:
    """Layers for a permittivity of one, the middle lines of the fluid eliminated: alike for liquid and gas, and real.

    Beyond the probe there is one permittivity at a time, and it only multiplies.
    """

    def __init__(self, mesh: Mesh, matrices_m: Reals) -> None:
        self.mesh, self.matrices_m = mesh, matrices_m
        self.inner = int(np.sum(mesh.blocks < FLUID))  # columns of core and coating
        nodes = mesh.held.shape[1] - 2 * self.inner
        line = np.arange(nodes - 1)
        # Of the three lines of the fluid: both ends, and the middle of the edge of the probe; the wall is earth.
        self.kept = np.concatenate([line, [nodes], 2 * nodes + line])
        between = nodes + line[1:]
        count = len(matrices_m)
        parts = [self._eliminated(slice(row, row + _TOGETHER), between) for row in range(0, count, _TOGETHER)]
        self.fluid_m = np.concatenate(parts)

    def _eliminated(self, part: slice, between: Any) -> Any:
        whole = _assembled(self.matrices_m[part, self.inner :])
        size = whole.shape[1] * whole.shape[2]
        flat = whole.reshape(len(whole), size, size)
        side = flat[:, between][:, :, self.kept]
        gone = np.linalg.solve(flat[:, between][:, :, between], side)
        return flat[:, self.kept][:, :, self.kept] - product(np.swapaxes(side, 1, 2), gone)

    def filled(self, part: Any, fluid: Any, coating: Any, first: int) -> Any:
        """Layers x 3 lines x nodes x 3 lines x nodes from the first column on, the fluid's middle lines gone."""
        nodes = self.mesh.held.shape[1] - 2 * first
        inner = slice(first, self.inner)
        permittivity = np.where(self.mesh.coated[part, inner], coating, fluid)[..., None, None]
        near = _assembled(permittivity * self.matrices_m[part, inner])
        whole = np.zeros((len(part), 3, nodes, 3, nodes), dtype=np.result_type(near.dtype, np.asarray(fluid).dtype))
        edge = 2 * (self.inner - first)
        whole[:, :, : edge + 1, :, : edge + 1] = near
        width = nodes - edge
        place = self.kept // width * nodes + edge + self.kept % width
        flat = whole.reshape(len(part), 3 * nodes, 3 * nodes)
        flat[:, place[:, None], place] += fluid * self.fluid_m[part]
        return whole


def _layers(plain: _Plain, fluid: Any, coating: Any, upward: bool) -> Iterator[tuple[Any, Any, Any]]:
    """Each layer on its first and last line and the rod, its middle line eliminated, in the order of the fold."""
    count = len(plain.matrices_m)
    order = np.arange(count) if upward else np.arange(count)[::-1]
    for start in range(0, count, _TOGETHER):
        yield from _condensed(plain, order[start : start + _TOGETHER], fluid, coating, upward)


def _condensed(plain: _Plain, part: Any, fluid: Any, coating: Any, upward: bool) -> Iterator[tuple[Any, Any, Any]]:
    held = np.stack([plain.mesh.held[2 * part + line] for line in range(3)], axis=1)
    first = min(_first_column(held), plain.inner)
    whole, held = plain.filled(part, fluid, coating, first), held[:, :, 2 * first :]
    nodes, left = held.shape[2], 2 * (plain.inner - first) + 1
    rod, free = (held == ROD).astype(float), (held == FREE).astype(float)
    free[:, 1, left:] = 0.0
    flat = whole.reshape(len(part), 3 * nodes, 3 * nodes)
    toward = np.einsum("lij,lj->li", flat, rod.reshape(len(part), -1)).reshape(held.shape)
    own = np.einsum("lan,lan->l", toward, rod)
    whole *= free[:, :, :, None, None]
    whole *= free[:, None, None, :, :]
    toward *= free
    middle = whole[:, 1, :left, 1, :left]
    middle[:, np.arange(left), np.arange(left)] += 1.0 - free[:, 1, :left]
    ends = [0, 2] if upward else [2, 0]
    side = whole[:, 1, :left][:, :, ends].reshape(len(part), left, 2 * nodes)
    gone = np.linalg.solve(middle, np.concatenate([side, toward[:, 1, :left, None]], axis=2))
    rest = product(np.swapaxes(side, 1, 2), gone)
    S = whole[:, ends][:, :, :, ends].reshape(len(part), 2 * nodes, 2 * nodes) - rest[:, :, :-1]
    s = toward[:, ends].reshape(len(part), 2 * nodes) - rest[:, :, -1]
    e = own - np.einsum("ln,ln->l", toward[:, 1, :left], gone[:, :, -1])
    yield from zip(S, s, e, strict=True)


def product(left: Any, right: Any) -> Any:
    """Matrix product in pieces too small to be shared out between threads, which would cost more than it saves."""
    rows = max(1, _ALONE // max(1, right.shape[-2] * right.shape[-1]))
    if left.shape[-2] <= rows:
        return left @ right
    pieces = [left[..., row : row + rows, :] @ right for row in range(0, left.shape[-2], rows)]
    return np.concatenate(pieces, axis=-2)


def _first_column(held: Any) -> int:
    """The first column with a free node in it, in layers that lie together: above the tip the core has none."""
    free = np.flatnonzero((held == FREE).any(axis=(0, 1)))
    return max(int(free[0] - 1) // 2, 0) if free.size else 0


def _assembled(matrices: Any) -> Any:
    """The columns of each layer put together: layers x 3 lines x nodes x 3 lines x nodes."""
    layers, columns = matrices.shape[:2]
    elements = matrices.reshape(layers, columns, 3, 3, 3, 3)
    whole = np.zeros((layers, 3, 2 * columns + 1, 3, 2 * columns + 1), dtype=matrices.dtype)
    for column in range(columns):
        place = slice(2 * column, 2 * column + 3)
        whole[:, :, place, :, place] += elements[:, column]
    return whole
