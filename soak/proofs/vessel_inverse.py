"""The level of a volume closes and rises with it, whatever the vessel: vessels of every kind, drawn at random."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

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
    lying_pipe_part,
    round_part,
    spheroid,
    stacked,
    tilted_box,
    tilted_cylinder,
    torispherical_end,
    upright_cylinder,
    upside_down,
)
from soak.report import Report

NAME = "vessel_inverse"
SEED = 20260101
BLOCKS, BLOCK = 3, 1000
"""Arrays of vessels of each kind, and vessels in each array."""
SINGLE, MANY, EACH = 20, 400, 25
"""Vessels of each kind without arrays, levels and volumes of each at once, and every how many also alone."""

CLOSES_TO_M3 = 1e-9
WAYS_AGREE_TO = 1e-11
"""Of the whole."""

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


def signed(draw: Draw, low: float, high: float) -> Reals:
    """A slope to either side, its size between these powers of ten."""
    slope: Reals = np.where(draw(-1.0, 1.0) < 0.0, -1.0, 1.0) * 10.0 ** draw(low, high)
    return slope


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
        return tilted_cylinder(length_m, first, last, signed(draw, -5.0, 1.0), length_m * draw(0.0, 1.0))
    return leaning_cylinder(length_m, first, last, 10.0 ** draw(-4.0, -0.4), diameter_m * draw(-0.5, 0.5))


def other(draw: Draw, kind: int) -> Body:
    """A vessel of another section, or of one kind of body upon another."""
    wide_m, high_m = 0.1 * 100.0 ** draw(0.0, 1.0), 0.1 * 100.0 ** draw(0.0, 1.0)
    if kind == 0:
        return box(wide_m, wide_m * draw(0.2, 1.0), high_m)
    if kind == 1:
        return tilted_box(wide_m, wide_m * draw(0.2, 1.0), high_m, signed(draw, -5.0, -0.5), wide_m * draw(0.0, 1.0))
    if kind == 2:
        return cone(wide_m * draw(0.0, 1.0), wide_m, high_m)
    if kind == 3:
        return spheroid(wide_m, high_m)
    if kind == 4:
        return upside_down(hopper(wide_m * 0.1, wide_m * 0.2, wide_m, wide_m, high_m))
    if kind == 5:
        return stacked(hopper(wide_m * 0.1, wide_m * 0.2, wide_m, wide_m, high_m), box(wide_m, wide_m, high_m))
    courses = [upright_cylinder(high_m, flat_end(each), flat_end(each)) for each in (wide_m, wide_m * draw(0.9, 1.1))]
    return stacked(*courses)


def with_deadwood(draw: Draw, kind: int) -> Body:
    """A vessel with something in it, small enough to fit wherever it is put."""
    if kind == 0:
        wide_m, high_m = 0.1 * 100.0 ** draw(0.0, 1.0), 0.1 * 100.0 ** draw(0.0, 1.0)
        whole = stacked(hopper(wide_m * 0.1, wide_m * 0.2, wide_m, wide_m, high_m), box(wide_m, wide_m, high_m))
        return less_part(whole, even_part(0.1 * wide_m**2 * high_m * draw(0.0, 1.0), 0.5 * high_m), high_m)
    if kind == 1:
        vessel = cylinder(draw, (2, 0), 0)
        part_m = 0.2 * (vessel.high_m - vessel.low_m)
        return less_part(vessel, round_part(1e-4 * vessel.volume_m3 * draw(0.0, 1.0), part_m), part_m * draw(2.0, 3.0))
    vessel = cylinder(draw, (3, 1), 1)
    height_m = 0.1 * vessel.high_m
    return less_part(vessel, lying_pipe_part(1e-3 * vessel.volume_m3 * draw(0.0, 1.0), height_m), height_m)


def kinds() -> list[Callable[[Draw], Body]]:
    """Every kind of vessel, as something that draws one."""
    pairs = [(0, 1), (2, 3), (3, 3), (1, 2), (3, 0)]
    cylinders = [
        lambda draw, pair=pair, attitude=attitude: cylinder(draw, pair, attitude)
        for attitude in range(4)
        for pair in pairs
    ]
    others = [lambda draw, kind=kind: other(draw, kind) for kind in range(7)]
    return [*cylinders, *others, *(lambda draw, kind=kind: with_deadwood(draw, kind) for kind in range(3))]


@dataclass(frozen=True)
class Worst:
    """The worst of what was tried."""

    off_m3: float
    """How far a volume fails to come back, each by the way its level was found."""
    apart: float = 0.0
    """How far many at once differ from each alone, as share of the whole, there and back."""
    inside: bool = True
    """Whether every level lies in its vessel."""
    rises: bool = True
    """Whether no level lies below that of a smaller volume."""


def worst_of(found: list[Worst]) -> Worst:
    """The worst of them all."""
    return Worst(
        max(each.off_m3 for each in found),
        max(each.apart for each in found),
        all(each.inside for each in found),
        all(each.rises for each in found),
    )


def drawn_share(random: np.random.Generator, count: int) -> Reals:
    """How full: evenly, or crowded towards empty, or towards full."""
    near = 10.0 ** random.uniform(-12.0, -1.0, count)
    crowd = random.choice([0, 1, 2], count)
    return np.select([crowd == 0, crowd == 1], [near, 1.0 - near], random.uniform(0.0, 1.0, count))


def are_inside(body: Body, level_m: Any) -> bool:
    slack_m = 1e-12 * (body.high_m - body.low_m)
    return bool(np.all((level_m >= body.low_m - slack_m) & (level_m <= body.high_m + slack_m)))


def of_arrays(random: np.random.Generator, kind: Callable[[Draw], Body]) -> Worst:
    """An array of vessels, one volume in each."""
    body = kind(lambda low, high: random.uniform(low, high, BLOCK))
    volume = drawn_share(random, BLOCK) * body.volume_m3
    level = body.level_m(volume)
    off = np.abs(body.volume_below_m3(level) - volume)
    return Worst(float(np.max(off)), inside=are_inside(body, level))


def of_one(random: np.random.Generator, kind: Callable[[Draw], Body]) -> Worst:
    """One vessel with many levels and volumes at once, some of them also alone."""
    body = kind(lambda low, high: np.asarray(random.uniform(low, high)))
    whole = float(body.volume_m3)
    levels = np.linspace(float(body.low_m), float(body.high_m), MANY)
    there = body.volume_below_m3(levels)[::EACH] - alone(body.volume_below_m3, levels[::EACH])
    volumes = np.sort(drawn_share(random, MANY)) * whole
    level = np.asarray(body.level_m(volumes))
    back = alone(body.volume_below_m3, level[::EACH]) - volumes[::EACH]
    single = alone(body.volume_below_m3, alone(body.level_m, volumes[::EACH])) - volumes[::EACH]
    off = np.concatenate([body.volume_below_m3(level) - volumes, single])
    apart = np.concatenate([there, back]) / whole
    return Worst(
        float(np.max(np.abs(off))),
        float(np.max(np.abs(apart))),
        are_inside(body, level),
        bool(np.all(np.diff(level) >= 0.0)),
    )


def alone(function: Callable[[Any], Any], numbers: Reals) -> Reals:
    """A function of each number by itself, as a float."""
    return np.array([float(function(float(number))) for number in numbers])


def run() -> Report:
    """Draw the vessels kind by kind and keep the worst."""
    random = np.random.default_rng(SEED)
    arrays = worst_of([of_arrays(random, kind) for kind in kinds() for _ in range(BLOCKS)])
    ones = worst_of([of_one(random, kind) for kind in kinds() for _ in range(SINGLE)])
    worst = worst_of([arrays, ones])
    return Report(
        title="The level of a volume closes in any vessel",
        statement=f"For every vessel and every volume from empty to full, the volume below the level found differs "
        f"from the one asked for by at most {CLOSES_TO_M3:g} m3. No level lies outside its vessel, and none below that "
        f"of a smaller volume. Many levels or volumes at once give what each alone gives within {WAYS_AGREE_TO:g} of "
        "the whole.",
        method="Vessels drawn at random: upright, lying, tilted (slopes from 1e-5 to 10) and leaning cylinders of 0.05 "
        "m to 20 m with flat, conical, ellipsoidal and torispherical ends at either side; boxes, also with a falling "
        "floor; cones, spheroids, hoppers upside down and below boxes, courses upon one another; some with deadwood; "
        "each filled to a share drawn evenly or crowded towards empty and full. The claim is about the inverse and "
        "about the two ways alone; that the volumes are right is shown in the tests by quadrature, published cases, "
        "another library and points thrown at random.",
        numbers=(
            ("kinds of vessel", f"{len(kinds())}"),
            ("vessels in arrays, one volume in each", f"{len(kinds()) * BLOCKS * BLOCK}"),
            (f"vessels by themselves, {MANY} volumes and levels in each", f"{len(kinds()) * SINGLE}"),
            ("volumes come back within, vessels in arrays", f"{ceiling(arrays.off_m3)} m3"),
            ("volumes come back within, vessels by themselves", f"{ceiling(ones.off_m3)} m3"),
            ("many at once and each alone agree within", f"{ceiling(worst.apart)} of the whole"),
            ("levels outside their vessel", "none" if worst.inside else "some"),
            ("levels below that of a smaller volume", "none" if worst.rises else "some"),
        ),
        seeds=(SEED,),
        holds=worst.inside and worst.rises and worst.off_m3 <= CLOSES_TO_M3 and worst.apart <= WAYS_AGREE_TO,
    )


def ceiling(value: float) -> str:
    """A power of ten that leaves room for the last digits in which machines differ."""
    return f"1e{int(np.ceil(np.log10(4.0 * value)))}" if value > 0.0 else "0"
