"""The meridian of a body of revolution as points, for drawings."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.pieces import Frustum, Piece

POINTS_PER_ARC = 33
"""Enough that a chord leaves its arc by less than 1/3000 of the arc's radius for any head."""


def half_profile(pieces: Sequence[Piece]) -> tuple[Reals, Reals]:
    """Distances along the axis from the start of the first piece, and the radii there; flat ends reach the axis."""
    along: list[Reals] = [np.zeros(1)]
    radius: list[Reals] = [np.zeros(1)]
    start = 0.0
    for piece in pieces:
        length = float(piece.length_m)
        x = _stations(piece, length)
        along.append(start + x)
        radius.append(np.asarray(piece.radius_m(x)))
        radius[-1][[0, -1]] = float(piece.start_radius_m), float(piece.end_radius_m)
        start += length
    points = np.column_stack([np.concatenate([*along, [start]]), np.concatenate([*radius, [0.0]])])
    new = np.concatenate([[True], np.any(np.abs(np.diff(points, axis=0)) > 0.0, axis=1)])
    return points[new, 0], points[new, 1]


def cylinder_ends(pieces: Sequence[Piece]) -> list[tuple[float, float]]:
    """Where cylinders meet heads: distances along the axis from the start, and the radius there."""
    ends: list[tuple[float, float]] = []
    start = 0.0
    for number, piece in enumerate(pieces):
        end = start + float(piece.length_m)
        if isinstance(piece, Frustum) and piece.start_radius_m == piece.end_radius_m and end > start:
            ends += [(start, float(piece.start_radius_m))] if number > 0 else []
            ends += [(end, float(piece.end_radius_m))] if number < len(pieces) - 1 else []
        start = end
    return ends


def _stations(piece: Piece, length_m: float) -> Reals:
    """The two ends of a straight piece; along an arc, close together where it is steep."""
    if isinstance(piece, Frustum):
        return np.array([0.0, length_m])
    return length_m * (1.0 - np.cos(np.linspace(0.0, np.pi, POINTS_PER_ARC))) / 2.0
