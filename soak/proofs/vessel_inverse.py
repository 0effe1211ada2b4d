"""The level of a volume closes, whatever the vessel: a million vessels, a volume in each."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels import (
    inside_height_m,
    torispherical_depth_m,
    vertical_area_m2,
    vertical_level_m,
    vertical_volume_m3,
)
from soak.report import Report

NAME = "vessel_inverse"
SEED = 20260101
BLOCKS, BLOCK = 50, 20_000

VOLUME_CLOSES_TO = 1e-12
LEVEL_CLOSES_TO = 1e-9
SURFACE_FROM = 1e-5

Measures = tuple[Reals, ...]


def drawn_head(random: np.random.Generator, diameter_m: Reals) -> Measures:
    """Crown and knuckle radii from the hemisphere to the nearly flat and from the sharp edge to the widest knuckle."""
    crown_m = diameter_m * 0.5 * 20.0 ** random.uniform(0.0, 1.0, BLOCK)
    share = random.choice([0.0, 1.0, np.nan, np.nan, np.nan, np.nan], BLOCK)
    share = np.where(np.isnan(share), random.uniform(0.0, 1.0, BLOCK), share)
    return crown_m, share * 0.5 * diameter_m


def drawn_vessel(random: np.random.Generator) -> Measures:
    """Measures in the order of the formulas: from pipes of 50 mm to tanks of 20 m, some without a shell."""
    diameter_m = 0.05 * 400.0 ** random.uniform(0.0, 1.0, BLOCK)
    slenderness = np.maximum(10.0 ** random.uniform(-3.0, 1.0, BLOCK) - 2e-3, 0.0)
    return diameter_m, diameter_m * slenderness, *drawn_head(random, diameter_m), *drawn_head(random, diameter_m)


def drawn_share(random: np.random.Generator) -> Reals:
    """How full: evenly, or crowded towards empty, or towards full; the ends themselves are among them."""
    near = 10.0 ** random.uniform(-15.0, -1.0, BLOCK)
    share = random.choice([0, 1, 2, 3, 4], BLOCK)
    return np.select(
        [share == 0, share == 1, share == 2], [near, 1.0 - near, np.round(near)], random.uniform(0.0, 1.0, BLOCK)
    )


def height_m(vessel: Measures) -> Reals:
    """Inside heights of the vessels."""
    diameter_m, shell_length_m, bottom_crown_m, bottom_knuckle_m, top_crown_m, top_knuckle_m = vessel
    bottom_m = torispherical_depth_m(diameter_m, bottom_crown_m, bottom_knuckle_m)
    top_m = torispherical_depth_m(diameter_m, top_crown_m, top_knuckle_m)
    return np.asarray(inside_height_m(bottom_m, shell_length_m, top_m))


def worst(random: np.random.Generator) -> tuple[float, float, bool]:
    """Of one block: how far volumes and levels fail to come back, and whether every level lies in its vessel."""
    vessel, share = drawn_vessel(random), drawn_share(random)
    inside_m = height_m(vessel)
    full_m3 = vertical_volume_m3(inside_m, *vessel)
    level_m = np.asarray(vertical_level_m(share * full_m3, *vessel))
    volume_off = np.abs(vertical_volume_m3(level_m, *vessel) / full_m3 - share)
    area_m2 = np.asarray(vertical_area_m2(level_m, *vessel))
    back_m = vertical_level_m(vertical_volume_m3(level_m, *vessel), *vessel)
    level_off = (np.abs(back_m - level_m) / inside_m)[area_m2 > SURFACE_FROM * np.pi / 4.0 * vessel[0] ** 2]
    inside = bool(np.all((level_m >= 0.0) & (level_m <= inside_m)))
    return float(np.max(volume_off)), float(np.max(level_off)), inside


def run() -> Report:
    """Draw the vessels block by block and keep the worst."""
    random = np.random.default_rng(SEED)
    blocks = [worst(random) for _ in range(BLOCKS)]
    volume_off, level_off = max(block[0] for block in blocks), max(block[1] for block in blocks)
    inside = all(block[2] for block in blocks)
    return Report(
        title="The level of a volume closes in any upright vessel",
        statement=f"For every upright vessel with torispherical heads and every volume from empty to full, the volume "
        f"below the level found differs from the one asked for by at most {VOLUME_CLOSES_TO:g} of the whole; where the "
        f"surface is larger than {SURFACE_FROM:g} of the shell's section, a level comes back from its volume within "
        f"{LEVEL_CLOSES_TO:g} of the inside height. No level lies outside its vessel.",
        method="Vessels drawn at random: diameters from 0.05 m to 20 m, shells from none to ten diameters, crowns from "
        "half a diameter to ten, knuckles from none to half a diameter, the two heads independent of one another; each "
        "filled to a share drawn evenly or crowded towards empty and full. The claim is about the inverse alone; that "
        "the volumes are right is shown in the tests by quadrature, worked tanks and another library.",
        numbers=(
            ("vessels tried, one volume in each", f"{BLOCKS * BLOCK}"),
            ("volumes come back within", f"{ceiling(volume_off)} of the whole"),
            ("levels come back within", f"{ceiling(level_off)} of the inside height"),
            ("levels outside their vessel", "none" if inside else "some"),
        ),
        seeds=(SEED,),
        holds=inside and volume_off <= VOLUME_CLOSES_TO and level_off <= LEVEL_CLOSES_TO,
    )


def ceiling(value: float) -> str:
    """A power of ten that leaves room for the last digits in which machines differ."""
    return f"1e{int(np.ceil(np.log10(4.0 * value)))}" if value > 0.0 else "0"
