"""The axial integrator: what a body of revolution holds below a level when its axis is not plumb.

The liquid stands in every section across the axis as a disc filled up to v = offset - slope*x over its centre. Between
the stations where that line meets the wall the section is smooth, but for square roots at the stations themselves and
close behind them; a step that is very flat at both ends takes those away, and Gauss's rule does the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from onedatum.physics.vessels.pieces import Frustum, Piece, Turned
from onedatum.physics.vessels.segment import half_angle_rad, half_chord_m, segment_m2

NODES = 36
_AT, _WEIGHT = np.polynomial.legendre.leggauss(NODES)
_SHARE = 0.5 * (_AT + 1.0)
_STEP = _SHARE**4 * (35.0 - _SHARE * (84.0 - _SHARE * (70.0 - 20.0 * _SHARE)))
_STEP_WEIGHT = 70.0 * (_SHARE * (1.0 - _SHARE)) ** 3 * _WEIGHT

Section = Callable[[Piece, Any, Any], Any]
"""A piece, x and the height v of the level over the axis there: what is integrated along the axis."""


def filled_m3(pieces: Sequence[Piece], offset_m: Any, slope: Any) -> Any:
    """Volume below the level v = offset - slope*x, where x counts from the start of the first piece."""
    return _along(pieces, offset_m, slope, lambda piece, x, v: segment_m2(piece.radius_m(x), v), _lying_m3)


def surface_m2(pieces: Sequence[Piece], offset_m: Any, slope: Any) -> Any:
    """Area of the liquid surface as seen along the plane through the axis, square to it: twice the half chords."""
    return _along(pieces, offset_m, slope, lambda piece, x, v: 2.0 * half_chord_m(piece.radius_m(x), v), _lying_m2)


def wetted_wall_m2(pieces: Sequence[Piece], offset_m: Any, slope: Any) -> Any:
    """Wall that is wetted, flat ends and steps between pieces of different radius included."""

    def strip(piece: Piece, x: Any, v: Any) -> Any:
        return 2.0 * piece.girth_m(x) * half_angle_rad(piece.radius_m(x), v)

    return _along(pieces, offset_m, slope, strip) + _wetted_steps_m2(pieces, offset_m, slope)


def along_the_axis(piece: Piece, x_m: Any, integrand: Callable[[Piece, Any], Any]) -> Any:
    """The integral of a function of x over a piece up to x, flat steps at both ends."""
    width = np.asarray(x_m)[..., None, None]
    x = width * _STEP
    return np.sum(width * _STEP_WEIGHT * integrand(_opened(piece), x), axis=(-2, -1))


def _along(
    pieces: Sequence[Piece],
    offset_m: Any,
    slope: Any,
    section: Section,
    closed: Callable[[Piece, Any, Any], Any] | None = None,
) -> Any:
    """The integral over all pieces; `closed` may know a piece without integrating, or give None."""
    total: Any = 0.0
    for piece, count in _counted(pieces, slope):
        known = closed(piece, offset_m, slope) if closed else None
        total = total + count * (_integral(piece, offset_m, slope, section) if known is None else known)
        offset_m = offset_m - slope * piece.length_m
    return total


def _counted(pieces: Sequence[Piece], slope: Any) -> list[tuple[Piece, int]]:
    """Each piece once; where the axis is level, equal ones count together, whichever way they run."""
    if np.ndim(slope) or slope != 0.0 or any(np.ndim(piece.length_m) for piece in pieces):
        return [(piece, 1) for piece in pieces]
    straight = [piece.piece if isinstance(piece, Turned) else piece for piece in pieces]
    return [(piece, straight.count(piece)) for number, piece in enumerate(straight) if piece not in straight[:number]]


def _integral(piece: Piece, offset_m: Any, slope: Any, section: Section) -> Any:
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        found = piece.crossings(offset_m, slope)
        limits = np.broadcast_arrays(0.0 * offset_m, *found, piece.length_m + 0.0 * offset_m)
        stations = np.stack(np.broadcast_arrays(*limits), axis=-1)
        stations = np.where(np.isnan(stations), 0.0, stations)
        stations = np.sort(np.clip(stations, 0.0, stations[..., -1:]), axis=-1)
        start, width = stations[..., :-1, None], np.diff(stations, axis=-1)[..., None]
        x = start + width * _STEP
        thin = _opened(piece)
        height = np.asarray(offset_m)[..., None, None] - np.asarray(slope)[..., None, None] * x
        return np.sum(width * _STEP_WEIGHT * section(thin, x, height), axis=(-2, -1))


def _opened(piece: Any) -> Any:
    """A piece whose arrays have two axes more, for stations and nodes."""
    if isinstance(piece, Turned):
        return Turned(_opened(piece.piece))
    return type(piece)(*(np.asarray(number)[..., None, None] for number in piece.numbers()))


def _is_cylinder(piece: Piece) -> bool:
    return isinstance(piece, Frustum) and bool(np.all(piece.start_radius_m == piece.end_radius_m))


def _lying_m3(piece: Piece, offset_m: Any, slope: Any) -> Any:
    """A cylinder that lies level needs no integral."""
    if _is_cylinder(piece) and np.all(slope == 0.0):
        return piece.length_m * segment_m2(piece.start_radius_m, offset_m)
    return None


def _lying_m2(piece: Piece, offset_m: Any, slope: Any) -> Any:
    if _is_cylinder(piece) and np.all(slope == 0.0):
        return piece.length_m * 2.0 * half_chord_m(piece.start_radius_m, offset_m)
    return None


def _wetted_steps_m2(pieces: Sequence[Piece], offset_m: Any, slope: Any) -> Any:
    """The discs and rings square to the axis where the radius jumps, the two ends among them."""
    total: Any = 0.0
    before: Any = 0.0
    for piece in pieces:
        after = piece.start_radius_m
        total = total + np.abs(segment_m2(after, offset_m) - segment_m2(before, offset_m))
        offset_m = offset_m - slope * piece.length_m
        before = piece.end_radius_m
    return total + segment_m2(before, offset_m)
