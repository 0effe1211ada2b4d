"""A column whose temperature was measured at several heights: its weight is the integral of its density."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any, ClassVar

import numpy as np
from numpy.polynomial.legendre import leggauss, legint, legval

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals, monotone_root, same_kind
from onedatum.foundation.units import show
from onedatum.foundation.working import Whole, formula

NODES = 14
"""Points between two thermometers; of water the integral then rounds, no more."""
_POINTS, _WEIGHTS = leggauss(NODES)
_WITHIN_M = 1e-13


@dataclass(frozen=True)
class Thermometers(Whole):
    """Temperatures along a chamber by height above the lower tap, straight between, the same beyond the ends."""

    called: ClassVar[str] = "thermometers"
    own_axis: ClassVar[frozenset[str]] = frozenset({"heights_m", "temperatures_K"})

    heights_m: Reals
    temperatures_K: Reals

    def __post_init__(self) -> None:
        if len(self.heights_m) < 2:
            raise _refusal("two rows or more", f"{len(self.heights_m)}", "one thermometer shows no profile")
        if np.any(np.diff(self.heights_m) <= 0.0):
            got = ", ".join(show(height, "mm") for height in self.heights_m.tolist())
            raise _refusal("stated from the bottom up, each height once", got, "each is read between its neighbours")

    def told(self, shown: str = "") -> str:
        """Heights and temperatures in words."""
        rows = zip(self.heights_m.tolist(), self.temperatures_K.tolist(), strict=True)
        return ", ".join(f"{show(kelvin, 'degC')} at {show(height, shown or 'm')}" for height, kelvin in rows)

    def nodes(self) -> tuple[Reals, Reals]:
        """Heights and temperatures at which the density of the column is to be known, a row between two of them."""
        low, high = self.heights_m[:-1, None], self.heights_m[1:, None]
        share = 0.5 * (1.0 + _POINTS)
        heights = low + (high - low) * share
        return heights, np.interp(heights, self.heights_m, self.temperatures_K)


def _refusal(allowed: str, got: str, why: str) -> ValidityError:
    return ValidityError("bypass.profiled_chamber_level", "temperatures", allowed, got, why)


@dataclass(frozen=True)
class Column(Whole):
    """The density of a column at the nodes between its thermometers, and at both ends, which go on beyond."""

    called: ClassVar[str] = "column"
    own_axis: ClassVar[frozenset[str]] = frozenset({"heights_m", "densities_kg_per_m3", "ends_kg_per_m3"})

    heights_m: Reals
    """Of the thermometers."""
    densities_kg_per_m3: Reals
    """At the nodes, a row between two thermometers."""
    ends_kg_per_m3: Reals
    """At the lowest and the highest thermometer."""

    def told(self, shown: str = "") -> str:
        """Its ends in words."""
        low, high = (show(end, "kg/m3") for end in self.ends_kg_per_m3.tolist())
        return f"{low} at the lowest thermometer, {high} at the highest"

    def weight_kg_per_m2(self, height_m: Any) -> Any:
        """Mass above the lower tap on each area, up to a height; negative below the tap."""
        return self._from_lowest(np.asarray(height_m, dtype=np.float64)) - self._at_tap

    def density_kg_per_m3(self, height_m: Any) -> Any:
        """Density at a height."""
        at = np.asarray(height_m, dtype=np.float64)
        found = np.where(at <= self.heights_m[0], self.ends_kg_per_m3[0], self.ends_kg_per_m3[1])
        for row, (low, high) in enumerate(self._spans):
            inside = (at > low) & (at <= high)
            found = np.where(inside, legval(_place(at, low, high), self._series[row]), found)
        return found

    @cached_property
    def _spans(self) -> list[tuple[float, float]]:
        heights = self.heights_m.tolist()
        return list(pairwise(heights))

    @cached_property
    def _series(self) -> list[Reals]:
        """The density between two thermometers as a series of Legendre polynomials."""
        orders = np.arange(NODES)
        basis = legval(_POINTS, np.eye(NODES))
        return [(orders + 0.5) * ((basis * _WEIGHTS) @ row) for row in self.densities_kg_per_m3]

    @cached_property
    def _sums(self) -> list[Any]:
        """The integral of each series over its span, from its lower end."""
        return [
            0.5 * (high - low) * legint(s, lbnd=-1) for s, (low, high) in zip(self._series, self._spans, strict=True)
        ]

    def _from_lowest(self, at: Reals) -> Reals:
        lowest, highest = self.heights_m[0], self.heights_m[-1]
        found = self.ends_kg_per_m3[0] * np.minimum(at - lowest, 0.0)
        for total, (low, high) in zip(self._sums, self._spans, strict=True):
            found = found + legval(_place(np.clip(at, low, high), low, high), total)
        return np.asarray(found + self.ends_kg_per_m3[1] * np.maximum(at - highest, 0.0))

    @cached_property
    def _at_tap(self) -> Reals:
        return self._from_lowest(np.zeros(()))


def _place(at: Any, low: float, high: float) -> Any:
    return (2.0 * at - low - high) / (high - low)


_LIQUID = ("rho_w", "density of the liquid in the vessel", "(0, 20000]")
_GAS = ("rho_s", "density of the gas or vapour above", "[0, 1000]")
_METHOD = (
    "the height up to which the column weighs, less the gas it displaces, what the liquid in the vessel does: the"
    " density between two thermometers as a series of Legendre polynomials, integrated, its root by Newton's steps"
)


@formula(
    method="the least of the densities between the thermometers and at the ends",
    gives=("rho_m", "lightest part of the column"),
    where={"column": ("C", "densities along the chamber", Column)},
    source="derived",
)
def lightest_density_kg_per_m3(column: Column) -> Real:
    """Density of the lightest part of a column.

    Example
    -------
    >>> column = Column(np.array([0.0, 1.0]), np.full((1, NODES), 950.0), np.array([960.0, 940.0]))
    >>> float(lightest_density_kg_per_m3(column))
    940.0
    """
    return same_kind(np.minimum(np.min(column.densities_kg_per_m3), np.min(column.ends_kg_per_m3)))


@formula(
    method=_METHOD,
    gives=("h_c", "level in the chamber above the lower tap"),
    where={
        "level_m": ("h", "level in the vessel above the lower tap", "[-1, 100]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "column": ("C", "densities along the chamber", Column),
    },
    requires=(
        ("rho_s < rho_w", "the liquid is denser than the gas above it"),
        ("rho_s < 0.9*rho_m(C)", "every part of the column is clearly denser than the gas above it"),
    ),
    calls={"rho_m": lightest_density_kg_per_m3},
    source="derived: the same pressure at the lower tap from both columns",
)
def profiled_chamber_level_m(
    level_m: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real, column: Column
) -> Real:
    """Level in a chamber whose temperature was measured at several heights.

    Example
    -------
    >>> even = Column(np.array([0.0, 1.0]), np.full((1, NODES), 919.05), np.array([919.05, 919.05]))
    >>> float(round(profiled_chamber_level_m(0.350, 796.16, 20.608, even), 5))
    0.30213
    """
    gas = np.asarray(gas_density_kg_per_m3)
    wanted = level_m * (liquid_density_kg_per_m3 - gas)
    reach = 1.01 * np.abs(wanted) / (lightest_density_kg_per_m3(column) - gas) + 1e-3
    return same_kind(
        monotone_root(
            lambda at: column.weight_kg_per_m2(at) - gas * at,
            lambda at: column.density_kg_per_m3(at) - gas,
            wanted,
            -reach,
            reach,
            within=_WITHIN_M,
        )
    )


@formula(
    method="weight of the column up to its surface, less the gas it displaces, over that of the liquid in the vessel",
    gives=("h", "level in the vessel above the lower tap"),
    where={
        "chamber_level_m": ("h_c", "level in the chamber above the lower tap", "[-10, 100]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "column": ("C", "densities along the chamber", Column),
    },
    requires=(("rho_s < rho_w", "the liquid is denser than the gas above it"),),
    source="derived: the same pressure at the lower tap from both columns",
)
def profiled_vessel_level_m(
    chamber_level_m: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real, column: Column
) -> Real:
    """Level in the vessel from that in a chamber whose temperature was measured at several heights.

    Example
    -------
    >>> even = Column(np.array([0.0, 1.0]), np.full((1, NODES), 919.05), np.array([919.05, 919.05]))
    >>> float(round(profiled_vessel_level_m(0.30213, 796.16, 20.608, even), 4))
    0.35
    """
    weight = column.weight_kg_per_m2(chamber_level_m) - gas_density_kg_per_m3 * np.asarray(chamber_level_m)
    return same_kind(np.asarray(weight / (liquid_density_kg_per_m3 - np.asarray(gas_density_kg_per_m3))))


@formula(
    method="the series of the column at the height; beyond its ends that of the end",
    gives=("rho", "density of the column at a height"),
    where={
        "height_m": ("z", "height above the lower tap", "[-10, 100]"),
        "column": ("C", "densities along the chamber", Column),
    },
    source="derived",
)
def column_density_kg_per_m3(height_m: Real, column: Column) -> Real:
    """Density of the liquid in a chamber at a height: what a float there rides in.

    Example
    -------
    >>> even = Column(np.array([0.0, 1.0]), np.full((1, NODES), 919.05), np.array([919.05, 919.05]))
    >>> float(round(column_density_kg_per_m3(0.3, even), 6))
    919.05
    """
    return same_kind(np.asarray(column.density_kg_per_m3(height_m)))


@formula(
    method="straight between the thermometers, beyond them as the last one",
    gives=("T", "temperature of the column at a height"),
    where={
        "height_m": ("z", "height above the lower tap", "[-10, 100]"),
        "thermometers": ("P", "temperatures along the chamber", Thermometers),
    },
    source="derived",
)
def profile_temperature_K(height_m: Real, thermometers: Thermometers) -> Real:
    """Temperature of a column between its thermometers.

    Example
    -------
    >>> float(profile_temperature_K(0.5, Thermometers(np.array([0.0, 1.0]), np.array([300.0, 400.0]))))
    350.0
    """
    return same_kind(np.asarray(np.interp(height_m, thermometers.heights_m, thermometers.temperatures_K)))


@formula(
    equation="k = h_c/h",
    gives=("k", "level in the chamber over level in the vessel"),
    where={
        "chamber_level_m": ("h_c", "level in the chamber above the lower tap", "(0, 100]"),
        "level_m": ("h", "level in the vessel above the lower tap", "(0, 100]"),
    },
    source="derived",
)
def factor_of_levels(chamber_level_m: Real, level_m: Real) -> Real:
    """Factor that a chamber has at one level, where its temperature changes along it.

    Example
    -------
    >>> round(factor_of_levels(0.30213, 0.350), 5)
    0.86323
    """
    return chamber_level_m / level_m
