"""The potential at every node for one level: the whole sparse set of equations at once."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.mesh import FREE, ROD, Mesh


def potentials(mesh: Mesh, matrices_m: Reals, line: int, liquid: Any, gas: Any, coating: Any) -> tuple[Any, Any]:
    """Potential at the nodes (heights x radii), the rod at 1 and the wall at 0; and the capacitance over eps0."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.linalg import splu

    eps = permittivities(mesh, line, liquid, gas, coating)
    values = (eps[..., None, None] * matrices_m).reshape(-1, 81)
    places = _places(mesh)
    rows, columns = np.repeat(places, 9, axis=1), np.tile(places, (1, 9))
    whole = coo_matrix((values.ravel(), (rows.ravel(), columns.ravel())), shape=(mesh.held.size,) * 2).tocsr()
    held = mesh.held.ravel()
    potential = (held == ROD).astype(values.dtype)
    free = np.flatnonzero(held == FREE)
    right = -(whole @ potential)[free]
    potential[free] = splu(whole[free][:, free].tocsc()).solve(right)
    return potential.reshape(mesh.held.shape), potential @ (whole @ potential)


def permittivities(mesh: Mesh, line: int, liquid: Any, gas: Any, coating: Any) -> Any:
    """Relative permittivity of every element with the liquid up to a line: layers x columns."""
    fluid = np.where(np.arange(len(mesh.heights_m) - 1) < line, liquid, gas)[:, None]
    return np.where(mesh.coated, coating, fluid)


def _places(mesh: Mesh) -> Any:
    """Numbers of the nine nodes of every element, row by row."""
    layers, columns = mesh.coated.shape
    width = mesh.held.shape[1]
    first = (2 * np.arange(layers)[:, None] * width + 2 * np.arange(columns)[None, :]).reshape(-1, 1)
    within = (np.arange(3)[:, None] * width + np.arange(3)[None, :]).reshape(1, 9)
    return first + within
