"""How long the temperature factor of a million petroleum densities takes, and as many densities back to 60 degF.

The peers are loops of plain Python over rows, as a sheet or a script would have them: the same equations, one row at a
time, Newton's steps with the slope of the document for the way back. They are given few rows, and the goal is scaled.
"""

from __future__ import annotations

from math import exp

import numpy as np

from bench.race import Race
from onedatum.foundation.numerics import Reals
from onedatum.physics.media import (
    PetroleumGroup,
    petroleum_base_density_kg_per_m3,
    petroleum_density_kg_per_m3,
    petroleum_group,
    petroleum_temperature_factor,
)

ROWS, FEW = 1_000_000, 10_000
FASTER, FASTER_BACK, OVER_FORWARD = 40.0, 35.0, 7.0
ROUNDS = 9
SEED = 111

SHIFT = (-0.148759, -0.267408, 1.08076, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296)
D60, T60 = 0.01374979547, 60.0068749


def shifted(kelvin: float) -> float:
    """degF on the scale of 1968."""
    degC = kelvin - 273.15
    x = degC / 630.0
    off = 0.0
    for a in reversed(SHIFT):
        off = (off + a) * x
    return 1.8 * (degC - off) + 32.0


def constants(word: str, base: float) -> tuple[float, float, float, float]:
    """K0, K1, K2 and the slope number of a density."""
    if word == "crude oil":
        return 341.0957, 0.0, 0.0, 2.0
    if base < 770.3520:
        return 192.4571, 0.2438, 0.0, 1.5
    if base < 787.5195:
        return 1489.0670, 0.0, -0.00186840, 8.5
    if base < 838.3127:
        return 330.3010, 0.0, 0.0, 2.0
    return 103.8720, 0.2701, 0.0, 1.3


def row_factor(base: float, degF: float, k: tuple[float, float, float, float]) -> tuple[float, float]:
    """Factor and expansion of one row."""
    k0, k1, k2, _ = k
    a = D60 / 2.0 * ((k0 / base + k1) / base + k2)
    b = (2.0 * k0 + k1 * base) / (k0 + (k1 + k2 * base) * base)
    star = base * (1.0 + (exp(a * (1.0 + 0.8 * a)) - 1.0) / (1.0 + a * (1.0 + 1.6 * a) * b))
    alpha = (k0 / star + k1) / star + k2
    warmer = degF - T60
    return exp(-alpha * warmer * (1.0 + 0.8 * alpha * (warmer + D60))), alpha


def factors_by_rows(word: str, base: list[float], kelvin: list[float]) -> list[float]:
    """The factor, row by row."""
    return [row_factor(b, shifted(t), constants(word, b))[0] for b, t in zip(base, kelvin, strict=True)]


def bases_by_rows(word: str, observed: list[float], kelvin: list[float]) -> list[float]:
    """The density at 60 degF, row by row."""
    found = []
    for rho_o, t in zip(observed, kelvin, strict=True):
        degF, rho = shifted(t), rho_o
        warmer = degF - 60.0
        for _ in range(15):
            k = constants(word, rho)
            factor, alpha = row_factor(rho, degF, k)
            off = rho_o / factor - rho
            rho += off / (1.0 + k[3] * alpha * warmer * (1.0 + 1.6 * alpha * warmer))
            if abs(off) < 1e-7:
                break
        found.append(rho)
    return found


def agree(ours: Reals, theirs: list[float], within: float, what: str) -> None:
    """Refuse to race what does not give the same."""
    if not np.all(np.abs(ours - np.array(theirs)) <= within):
        raise ValueError(f"{what} must agree")


def races_of(word: str) -> list[Race]:
    """Both ways for one group."""
    group: PetroleumGroup = petroleum_group(word)
    random = np.random.default_rng(SEED)
    base = random.uniform(group.least_kg_per_m3 + 1.0, group.most_kg_per_m3 - 1.0, ROWS)
    kelvin = random.uniform(250.0, 350.0, ROWS)
    observed = np.asarray(petroleum_density_kg_per_m3(base, kelvin, 0.0, group))
    few, few_K, few_o = (column[:FEW].tolist() for column in (base, kelvin, observed))
    near = np.any(np.abs(base[:FEW, None] - group.edges_kg_per_m3) < 1.0, axis=1)
    agree(
        np.asarray(petroleum_temperature_factor(base[:FEW], kelvin[:FEW], group)),
        factors_by_rows(word, few, few_K),
        1e-12,
        "factors",
    )
    back = np.asarray(petroleum_base_density_kg_per_m3(observed[:FEW], kelvin[:FEW], 0.0, group))
    rows = np.array(bases_by_rows(word, few_o, few_K))
    agree(back[~near], rows[~near].tolist(), 1e-6, "densities at 60 degF")

    def forward() -> object:
        return petroleum_temperature_factor(base, kelvin, group)

    def inverse() -> object:
        return petroleum_base_density_kg_per_m3(observed, kelvin, 0.0, group)

    scale, peer = ROWS / FEW, f"rows in Python, {FEW}"
    name = f"{ROWS} of {word}"
    return [
        Race(f"factors, {name}", forward, peer, lambda: factors_by_rows(word, few, few_K), scale / FASTER, ROUNDS),
        Race(f"back, {name}", inverse, peer, lambda: bases_by_rows(word, few_o, few_K), scale / FASTER_BACK, ROUNDS),
        Race(f"back, {name}", inverse, "the factors alone", forward, OVER_FORWARD, ROUNDS),
    ]


def races() -> list[Race]:
    """A group of one set of constants, and one whose constants follow the density."""
    return [*races_of("crude oil"), *races_of("refined product")]
