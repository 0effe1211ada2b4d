"""The field of a bare rod in an upright tank by a library of finite elements, on a grid of its own."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np

EPS0 = 8.8541878188e-12
"""CODATA 2022, from memory."""
_FINEST, _GROWTH = 0.04, 1.6


def twin_curve_F(
    rod_m: float, tip_m: float, ring_m: float, tank_m: tuple[float, float], levels_m: Any, eps: float
) -> Any:
    """Capacitance at levels; `tank_m` radius and height, flat bottom and roof; quadratic elements in r and z."""
    from skfem import Basis, BilinearForm, ElementQuad0, ElementQuad2, MeshQuad, condense, solve
    from skfem.helpers import dot, grad

    def energy(u: Any, v: Any, w: Any) -> Any:
        return 2.0 * np.pi * w.x[0] * w["eps"] * dot(grad(u), grad(v))

    form = BilinearForm(energy)
    radius, height = tank_m
    r = _graded([0.0, rod_m, 0.5 * (rod_m + ring_m), ring_m, radius], [rod_m, ring_m], _FINEST * rod_m)
    z = _graded([0.0, tip_m, 0.5 * (tip_m + height), height], [tip_m, height], _FINEST * rod_m)
    z = np.unique(np.concatenate([z, levels_m]))
    mesh = MeshQuad.init_tensor(r, z)
    basis, steps = Basis(mesh, ElementQuad2(), intorder=6), Basis(mesh, ElementQuad0(), intorder=6)
    at_r, at_z = basis.doflocs
    rod = np.flatnonzero((at_r < rod_m + 1e-9) & (at_z > tip_m - 1e-9))
    roof = (at_z > height - 1e-9) & (at_r > ring_m - 1e-9)
    earth = np.flatnonzero((at_z < 1e-9) | (at_r > radius - 1e-9) | roof)
    found = []
    for level in levels_m:
        filled = np.where(mesh.p[1, mesh.t].mean(axis=0) < level, eps, 1.0)
        matrix = form.assemble(basis, eps=steps.interpolate(filled))
        potential = np.zeros(basis.N)
        potential[rod] = 1.0
        potential = solve(*condense(matrix, x=potential, D=np.concatenate([rod, earth])))
        found.append(EPS0 * potential @ (matrix @ potential))
    return np.array(found)


def _graded(points: list[float], edges: list[float], least_m: float) -> Any:
    """Lines through points, growing by a ratio away from edges."""
    lines = [np.array(points)]
    for edge in edges:
        for low, high in pairwise(points):
            if edge in (low, high):
                count = int(np.log((high - low) * (_GROWTH - 1.0) / least_m + 1.0) / np.log(_GROWTH)) + 1
                steps = (_GROWTH ** np.arange(1, count) - 1.0) / (_GROWTH**count - 1.0) * (high - low)
                lines.append(low + steps if edge == low else high - steps)
    return np.unique(np.concatenate(lines))
