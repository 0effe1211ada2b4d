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
    return _along(pieces, offset_m, slope, lambda piece, x, v: segment_m2(piece.radius_m(x), v))


def surface_m2(pieces: Sequence[Piece], offset_m: Any, slope: Any) -> Any:
    """Area of the liquid surface as seen along the plane through the axis, square to it: twice the half chords."""
    return _along(pieces, offset_m, slope, lambda piece, x, v: 2.0 * half_chord_m(piece.radius_m(x), v))


def wetted_wall_m2(pieces: Sequence[Piece], offset_m: Any, slope: Any) -> Any:
    """Wall that is wetted, flat ends and steps between pieces of different radius included."""

    def strip(piece: Piece, x: Any, v: Any) -> Any:
        return 2.0 * piece.girth_m(x) * half_angle_rad(piece.radius_m(x), v)

    return _along(pieces, offset_m, slope, strip) + _wetted_steps_m2(pieces, offset_m, slope)


def along_the_axis(piece: Piece, x_m: Any, integrand: Callable[[Piece, Any], Any]) -> Any:
    """The integral of a function of x over a piece up to x, flat steps at both ends."""
    width = np.asarray(x_m)[..., None]
    x = width * _STEP
    opened = _with_numbers(piece, lambda number: np.asarray(number)[..., None])
    return np.sum(width * _STEP_WEIGHT * integrand(opened, x), axis=-1)


def _along(pieces: Sequence[Piece], offset_m: Any, slope: Any, section: Section) -> Any:
    """The integral over all pieces; a cylinder that lies level has one section all along."""
    total: Any = 0.0
    level = bool(np.all(slope == 0.0))
    for piece, count in _counted(pieces, slope):
        even = level and _is_cylinder(piece)
        part = piece.length_m * section(piece, 0.0, offset_m) if even else _integral(piece, offset_m, slope, section)
        total = total + count * part
        offset_m = offset_m - slope * piece.length_m
    return total


def _counted(pieces: Sequence[Piece], slope: Any) -> list[tuple[Piece, int]]:
    """Each piece once; where the axis is level, equal ones count together, whichever way they run."""
    if np.ndim(slope) or slope != 0.0 or any(np.ndim(piece.volume_m3) for piece in pieces):
        return [(piece, 1) for piece in pieces]
    straight = [piece.piece if isinstance(piece, Turned) else piece for piece in pieces]
    return [(piece, straight.count(piece)) for number, piece in enumerate(straight) if piece not in straight[:number]]


def _integral(piece: Piece, offset_m: Any, slope: Any, section: Section) -> Any:
    """The integral over one piece, from station to station; stations that meet have nothing between them."""
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        found = piece.crossings(offset_m, slope)
        nothing = 0.0 * (offset_m + slope * piece.length_m)
        stations = np.stack(np.broadcast_arrays(nothing, *found, piece.length_m + nothing), axis=-1)
        stations = np.where(np.isnan(stations), 0.0, stations)
        stations = np.sort(np.clip(stations, 0.0, stations[..., -1:]), axis=-1)
        width = np.diff(stations, axis=-1)
        apart = width > 0.0

        def there(number: Any) -> Any:
            """One number for each stretch between stations, from one for each level or one for all."""
            if np.ndim(number) == 0:
                return number
            return np.broadcast_to(np.asarray(number)[..., None], apart.shape)[apart][:, None]

        start, wide = stations[..., :-1][apart][:, None], width[apart][:, None]
        x = start + wide * _STEP
        strip = section(_with_numbers(piece, there), x, there(offset_m) - there(slope) * x)
        parts = np.zeros(apart.shape)
        parts[apart] = np.sum(wide * _STEP_WEIGHT * strip, axis=-1)
        return np.sum(parts, axis=-1) + nothing


def _with_numbers(piece: Any, change: Callable[[Any], Any]) -> Any:
    """A piece with every number changed, such as to arrays with an axis more."""
    if isinstance(piece, Turned):
        return Turned(_with_numbers(piece.piece, change))
    return type(piece)(*(change(number) for number in piece.numbers()))


def _is_cylinder(piece: Piece) -> bool:
    return isinstance(piece, Frustum) and bool(np.all(piece.start_radius_m == piece.end_radius_m))


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
