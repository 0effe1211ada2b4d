"""Lines of equal potential in the half plane beside the rod, for drawings: from below the rod up to the roof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.contours import Field
from onedatum.physics.capacitive.field.elements import radii_m, shapes

_STEPS = 4
"""Parts into which an element is cut either way: its own quadratic is followed, not only its nodes."""


@dataclass(frozen=True, eq=False)
class Equipotential:
    """One line, from its lowest point on the axis to the roof; of a field with a loss, by what is in phase."""

    potential_V: float
    radii_m: Reals
    heights_m: Reals


def equipotentials(field: Field, potentials_V: Sequence[float]) -> tuple[Equipotential, ...]:
    """A line for each potential between 0 and 1, the rod at 1 V; beside a rod it falls outwards at every height."""
    radii, heights, potential = _finer(field)
    lines = (_line(radii, heights, potential, level) for level in potentials_V)
    return tuple(line for line in lines if line is not None)


def _line(radii_m: Reals, heights_m: Reals, potential_V: Reals, level_V: float) -> Equipotential | None:
    """Where it crosses the lines of the grid, either way, in the order of the heights; closed on the axis below."""
    below = potential_V < level_V
    reached = below.any(axis=1) & ~below[:, 0]
    first = 0 if reached.all() else int(np.flatnonzero(~reached)[-1]) + 1
    rows = np.arange(first, len(heights_m))
    if not rows.size:
        return None
    outer = np.argmax(below[rows], axis=1)
    share = _share(potential_V[rows, outer - 1], potential_V[rows, outer], level_V)
    across = radii_m[rows, outer - 1] + share * (radii_m[rows, outer] - radii_m[rows, outer - 1])
    row, column = np.nonzero(below[:-1] != below[1:])
    row, column = row[row >= first - 1], column[row >= first - 1]
    share = _share(potential_V[row, column], potential_V[row + 1, column], level_V)
    along = heights_m[row] + share * (heights_m[row + 1] - heights_m[row])
    beside = radii_m[row, column] + share * (radii_m[row + 1, column] - radii_m[row, column])
    place, found = np.concatenate([heights_m[rows], along]), np.concatenate([across, beside])
    order = np.argsort(place, kind="stable")
    return Equipotential(level_V, found[order], place[order])


def _share(first_V: Reals, second_V: Reals, level_V: float) -> Reals:
    """How far from the first to the second of two potentials a level lies between them."""
    return np.asarray((first_V - level_V) / (first_V - second_V))


def _finer(field: Field) -> tuple[Reals, Reals, Reals]:
    """Radii (heights x radii), heights and potentials on every element cut into parts."""
    place = np.linspace(-1.0, 1.0, _STEPS + 1)
    own = radii_m(field.mesh, place, place)[0]
    value = shapes(place)[0]
    layers, columns = own.shape[:2]
    nodes = np.real(field.potentials_V)
    size = (_STEPS * layers + 1, _STEPS * columns + 1)
    radii, potential = np.empty(size), np.empty(size)
    for layer in range(layers):
        strip = value @ nodes[2 * layer : 2 * layer + 3]
        rows = slice(_STEPS * layer, _STEPS * layer + _STEPS + 1)
        for column in range(columns):
            part = slice(_STEPS * column, _STEPS * column + _STEPS + 1)
            radii[rows, part] = own[layer, column]
            potential[rows, part] = strip[:, 2 * column : 2 * column + 3] @ value.T
    lines = field.mesh.heights_m
    heights = np.interp(np.arange(size[0]) / _STEPS, np.arange(len(lines)), lines)
    return radii, heights, potential
