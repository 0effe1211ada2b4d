"""The potential at every node for one level: eliminated line by line from below, and put back in from above."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.mesh import FREE, ROD, Mesh
from onedatum.physics.capacitive.field.sweep import product


def potentials(mesh: Mesh, matrices_m: Reals, line: int, liquid: Any, gas: Any, coating: Any) -> tuple[Any, Any]:
    """Potential at the nodes (heights x radii), the rod at 1 and the wall at 0; and the capacitance over eps0."""
    permittivity = permittivities(mesh, line, liquid, gas, coating)
    elements = permittivity[..., None, None] * matrices_m
    potential = (mesh.held == ROD).astype(elements.dtype)
    layers = [_Layer(elements[number], mesh.held[2 * number : 2 * number + 3]) for number in range(len(elements))]
    _fill(mesh, layers, potential)
    held = sum(layer.energy(potential[2 * number : 2 * number + 3].reshape(-1)) for number, layer in enumerate(layers))
    return potential, held


def permittivities(mesh: Mesh, line: int, liquid: Any, gas: Any, coating: Any) -> Any:
    """Relative permittivity of every element with the liquid up to a line: layers x columns."""
    fluid = np.where(np.arange(len(mesh.heights_m) - 1) < line, liquid, gas)[:, None]
    return np.where(mesh.coated, coating, fluid)


class _Layer:
    """One layer: its equations on three lines, of which the middle one concerns no other layer."""

    def __init__(self, elements: Any, held: Any) -> None:
        columns, nodes = len(elements), held.shape[1]
        whole = np.zeros((3, nodes, 3, nodes), dtype=elements.dtype)
        for column, element in enumerate(elements.reshape(columns, 3, 3, 3, 3)):
            place = slice(2 * column, 2 * column + 3)
            whole[:, place, :, place] += element
        self.whole = whole.reshape(3 * nodes, 3 * nodes)
        self.right = -(self.whole @ (held.reshape(-1) == ROD))
        first, middle, last = (nodes * row + np.flatnonzero(held[row] == FREE) for row in range(3))
        self.middle, self.ends, self.first = middle, np.concatenate([first, last]), len(first)
        given = np.column_stack([self.whole[np.ix_(middle, self.ends)], self.right[middle]])
        self.put_back = np.linalg.solve(self.whole[np.ix_(middle, middle)], given)
        rest = product(self.whole[np.ix_(self.ends, middle)], self.put_back)
        self.matrix = self.whole[np.ix_(self.ends, self.ends)] - rest[:, :-1]
        self.load = self.right[self.ends] - rest[:, -1]

    def energy(self, potential: Any) -> Any:
        """u.A.u of all its nodes: at 1 V the capacitance over eps0."""
        return potential @ self.whole @ potential


def _fill(mesh: Mesh, layers: list[_Layer], potential: Any) -> None:
    """Solve for the free nodes and write them in."""
    frees = [np.flatnonzero(held == FREE) for held in mesh.held[::2]]
    matrix, load = np.zeros((len(frees[0]),) * 2), np.zeros(len(frees[0]))
    back = []
    for layer in layers:
        near = layer.first
        given = np.column_stack([layer.matrix[:near, near:], load + layer.load[:near]])
        back.append(np.linalg.solve(matrix + layer.matrix[:near, :near], given))
        rest = product(layer.matrix[near:, :near], back[-1])
        matrix, load = layer.matrix[near:, near:] - rest[:, :-1], layer.load[near:] - rest[:, -1]
    found = np.linalg.solve(matrix, load) if len(load) else load
    potential[-1, frees[-1]] = found
    for number in range(len(layers) - 1, -1, -1):
        layer, above = layers[number], found
        found = back[number][:, -1] - back[number][:, :-1] @ above
        between = layer.put_back[:, -1] - layer.put_back[:, :-1] @ np.concatenate([found, above])
        potential[2 * number, frees[number]] = found
        middle = 2 * number + 1
        potential[middle, np.flatnonzero(mesh.held[middle] == FREE)] = between
