"""The charges of a section: every conductor at its potential, no free charge where two dielectrics meet."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.physics.capacitive.plane.checks import called
from onedatum.physics.capacitive.plane.orders import first_orders, narrowest, outlines
from onedatum.physics.capacitive.plane.outlines import CircleOutline, Outline
from onedatum.physics.capacitive.plane.parts import Interface, Part, Rod, Section

WITHIN = 1e-10
"""Change of the capacitance, as a share of it, at which the number of nodes is no longer doubled."""
MOST = 4000
"""Nodes on one outline at most."""
MOST_OTHERS = 1500
"""Nodes at most on all outlines but that with the most."""


def converged(section: Section) -> complex:
    """Capacitance per length over 2 pi epsilon_0, with twice the nodes until it no longer changes."""
    orders = first_orders(section)
    last = complex("nan")
    while _bearable(lines := outlines(section, orders)):
        found = charge(section, lines)
        if abs(found - last) <= WITHIN * abs(found):
            return found
        last, orders = found, [2 * count for count in orders]
    raise _too_narrow(section)


def _too_narrow(section: Section) -> ValidityError:
    part, other = (called(section, end) for end in narrowest(section))
    why = f"the charge is so crowded there that {MOST} nodes on an outline are too few"
    remedy = "Leave a wider gap, or take a wall so near for a flat one"
    allowed = f"further off {other}"
    return ValidityError("capacitive.section_capacitance", part, allowed, "a gap too narrow", f"{why}. {remedy}")


def _bearable(lines: list[Outline]) -> bool:
    counts = sorted(line.count for line in lines)
    return counts[-1] <= MOST and sum(counts[:-1]) <= MOST_OTHERS


def charge(section: Section, lines: list[Outline]) -> complex:
    """Free charge on what is live at 1 V against earth, over 2 pi epsilon_0, with so many nodes."""
    first = np.cumsum([0, *(line.count for line in lines)])[:-1]
    most = int(np.argmax([line.count for line in lines]))
    matrix, right = _equations(section, lines)
    found = _solved(matrix, right, slice(int(first[most]), int(first[most]) + lines[most].count))
    return sum(
        (
            complex(section.surrounding(part) * found[place])
            for part, place in zip(section.parts, first, strict=True)
            if isinstance(part, Rod) and part.live
        ),
        start=0j,
    )


def _solved(matrix: Any, right: Any, own: slice) -> Any:
    """The charges; one outline is taken out first: what its waves do to itself stands in columns square to each other.

    The outline with the most nodes then costs hardly anything.
    """
    rest = np.r_[: own.start, own.stop : len(right)]
    waves = matrix[own, own]
    back = waves.T / np.sum(waves * waves, axis=0)[:, None]
    across, down = back @ matrix[own, rest], matrix[rest, own]
    held = back @ right[own]
    found = np.empty(len(right), dtype=matrix.dtype)
    found[rest] = np.linalg.solve(matrix[np.ix_(rest, rest)] - down @ across, right[rest] - down @ held)
    found[own] = held - across @ found[rest]
    return found


def _equations(section: Section, lines: list[Outline]) -> tuple[Any, Any]:
    """A row for each node; the last for no charge in all, its column for the potential far away."""
    rows, right = [], []
    for number, part in enumerate(section.parts):
        rows.append(_conditions(section, part, number, lines))
        right.append(np.full(lines[number].count, 1.0 if isinstance(part, Rod) and part.live else 0.0))
    neutral = np.hstack([*(np.eye(1, line.count) for line in lines), np.zeros((1, 1))])
    return np.vstack([*rows, neutral]), np.append(np.concatenate(right), 0.0)


def _conditions(section: Section, part: Part, number: int, lines: list[Outline]) -> Any:
    own = lines[number]
    if not (isinstance(part, Interface) and isinstance(own, CircleOutline)):
        return np.hstack([*(line.potentials(own.nodes) for line in lines), np.ones((own.count, 1))])
    inner, outer = _kind(part.inside_permittivity), _kind(section.surrounding(part))
    columns = []
    for line, other in zip(lines, section.parts, strict=True):
        if other is part:
            jump = outer * line.slopes(own.nodes, own.normals, False) - inner * line.slopes(
                own.nodes, own.normals, True
            )
        else:
            within = isinstance(line, CircleOutline) and abs(own.nodes[0] - line.centre) < line.radius
            jump = (outer - inner) * line.slopes(own.nodes, own.normals, bool(within))
        columns.append(jump * own.radius / (outer + inner))
    return np.hstack([*columns, np.zeros((own.count, 1))])


def _kind(permittivity: complex) -> Any:
    """A real number where there is nothing imaginary: the equations then stay real."""
    number = complex(permittivity)
    return number if number.imag else number.real
