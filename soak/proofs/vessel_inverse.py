"""The level of a volume closes, whatever the vessel: vessels of every kind drawn at random, a volume in each."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import (
    Body,
    End,
    box,
    cone,
    conical_end,
    ellipsoidal_end,
    even_part,
    flat_end,
    hopper,
    leaning_cylinder,
    less_part,
    lying_cylinder,
    spheroid,
    stacked,
    tilted_box,
    tilted_cylinder,
    torispherical_end,
    upright_cylinder,
)
from soak.report import Report

NAME = "vessel_inverse"
SEED = 20260101
BLOCKS, BLOCK = 6, 1000
LEVELS = 400

VOLUME_CLOSES_TO = 1e-12
WAYS_AGREE_TO = 1e-11
SINGLE = 12
"""Vessels of each kind, without arrays, on which the fitted curves are compared with the integral."""

Draw = Callable[[float, float], Reals]


def drawn_end(draw: Draw, number: int, diameter_m: Reals) -> End:
    """An end of any form, from the flat to the hemisphere."""
    depth_m = diameter_m * draw(0.01, 0.6)
    if number == 0:
        return flat_end(diameter_m)
    if number == 1:
        return conical_end(diameter_m, depth_m)
    if number == 2:
        return ellipsoidal_end(diameter_m, depth_m)
    return torispherical_end(diameter_m, diameter_m * draw(0.5, 2.0), diameter_m * draw(0.0, 0.5))


def cylinder(draw: Draw, numbers: tuple[int, int], attitude: int) -> Body:
    """An upright, lying, tilted or leaning cylinder with two ends."""
    diameter_m = 0.05 * 400.0 ** draw(0.0, 1.0)
    length_m = diameter_m * draw(0.0, 5.0)
    first, last = (drawn_end(draw, number, diameter_m) for number in numbers)
    if attitude == 0:
        return upright_cylinder(length_m, first, last)
    if attitude == 1:
        return lying_cylinder(length_m, first, last)
    if attitude == 2:
        slope = np.sign(draw(-1.0, 1.0)) * 10.0 ** draw(-5.0, 1.0)
        return tilted_cylinder(length_m, first, last, slope, length_m * draw(0.0, 1.0))
    return leaning_cylinder(length_m, first, last, 10.0 ** draw(-4.0, -0.4), diameter_m * draw(-0.5, 0.5))


def other(draw: Draw, kind: int) -> Body:
    """A vessel that is no cylinder."""
    size_m, height_m = 0.1 * 100.0 ** draw(0.0, 1.0), 0.1 * 100.0 ** draw(0.0, 1.0)
    if kind == 0:
        return box(size_m, size_m * draw(0.2, 1.0), height_m)
    if kind == 1:
        return tilted_box(size_m, size_m * draw(0.2, 1.0), height_m, draw(-0.3, 0.3), size_m * draw(0.0, 1.0))
    if kind == 2:
        return cone(size_m * draw(0.0, 1.0), size_m, height_m)
    if kind == 3:
        return spheroid(size_m, height_m)
    whole = stacked(hopper(size_m * 0.1, size_m * 0.2, size_m, size_m, height_m), box(size_m, size_m, height_m))
    return whole if kind == 4 else less_part(whole, even_part(0.01 * size_m**2 * height_m, 0.5 * height_m), height_m)


def kinds() -> list[Callable[[Draw], Body]]:
    """Every kind of vessel, as something that draws one."""
    pairs = [(0, 1), (2, 3), (3, 3), (1, 2), (3, 0)]
    cylinders = [
        lambda draw, pair=pair, attitude=attitude: cylinder(draw, pair, attitude)
        for attitude in range(4)
        for pair in pairs
    ]
    return [*cylinders, *(lambda draw, kind=kind: other(draw, kind) for kind in range(6))]


def drawn_share(random: np.random.Generator) -> Reals:
    """How full: evenly, or crowded towards empty, or towards full."""
    near = 10.0 ** random.uniform(-12.0, -1.0, BLOCK)
    share = random.choice([0, 1, 2], BLOCK)
    return np.select([share == 0, share == 1], [near, 1.0 - near], random.uniform(0.0, 1.0, BLOCK))


def worst_of_arrays(random: np.random.Generator, kind: Callable[[Draw], Body]) -> tuple[float, bool]:
    """Of one block of vessels: how far volumes fail to come back, and whether every level lies in its vessel."""
    body = kind(lambda low, high: random.uniform(low, high, BLOCK))
    share = drawn_share(random)
    full = np.asarray(body.volume_m3)
    level = np.asarray(body.level_m(share * full))
    off = np.abs(np.asarray(body.volume_below_m3(level)) / full - share)
    slack = 1e-9 * np.asarray(body.high_m - body.low_m)
    inside = np.all((level >= body.low_m - slack) & (level <= body.high_m + slack))
    return float(np.max(off)), bool(inside)


def worst_of_curves(random: np.random.Generator, kind: Callable[[Draw], Body]) -> float:
    """Of one vessel: how far many levels at once differ from each level alone, as share of the capacity."""
    body = kind(lambda low, high: np.asarray(random.uniform(low, high)))
    levels = np.linspace(float(body.low_m), float(body.high_m), LEVELS)
    many = np.asarray(body.volume_below_m3(levels))
    alone = np.array([float(body.volume_below_m3(float(level))) for level in levels[::25]])
    return float(np.max(np.abs(many[::25] - alone)) / float(body.volume_m3))


def run() -> Report:
    """Draw the vessels kind by kind and keep the worst."""
    random = np.random.default_rng(SEED)
    blocks = [worst_of_arrays(random, kind) for kind in kinds() for _ in range(BLOCKS)]
    curves = [worst_of_curves(random, kind) for kind in kinds() for _ in range(SINGLE)]
    off, inside, apart = max(block[0] for block in blocks), all(block[1] for block in blocks), max(curves)
    return Report(
        title="The level of a volume closes in any vessel",
        statement=f"For every vessel and every volume from empty to full, the volume below the level found differs "
        f"from the one asked for by at most {VOLUME_CLOSES_TO:g} of the whole, and no level lies outside its vessel. "
        f"Many levels at once give what each level alone gives within {WAYS_AGREE_TO:g} of the whole.",
        method="Vessels drawn at random: upright, lying, tilted (slopes from 1e-5 to 10) and leaning cylinders of 0.05 "
        "m to 20 m with flat, conical, ellipsoidal and torispherical ends, no two alike; boxes, also with a falling "
        "floor; cones, spheroids, boxes on hoppers, with and without deadwood; each filled to a share drawn evenly or "
        "crowded towards empty and full. The claim is about the inverse and about the two ways alone; that the volumes "
        "are right is shown in the tests by quadrature, published cases, another library and points thrown at random.",
        numbers=(
            ("vessels tried, one volume in each", f"{len(blocks) * BLOCK}"),
            ("vessels on which the two ways were compared", f"{len(curves)}"),
            ("volumes come back within", f"{ceiling(off)} of the whole"),
            ("the two ways agree within", f"{ceiling(apart)} of the whole"),
            ("levels outside their vessel", "none" if inside else "some"),
        ),
        seeds=(SEED,),
        holds=inside and off <= VOLUME_CLOSES_TO and apart <= WAYS_AGREE_TO,
    )


def ceiling(value: float) -> str:
    """A power of ten that leaves room for the last digits in which machines differ."""
    return f"1e{int(np.ceil(np.log10(4.0 * value)))}" if value > 0.0 else "0"
