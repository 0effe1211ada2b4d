"""Matrices of the elements: nine nodes, two-dimensional in r and z, all of a mesh at once."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.mesh import Mesh

_POINTS_ACROSS, _POINTS_ALONG = 4, 3
_ON_AXIS_M = 1e-30
"""Stands for a radius of 0, where a wall meets the axis."""


def shapes(place: Reals) -> tuple[Reals, Reals]:
    """The three quadratic shape functions of a line at places in [-1, 1], and their slopes: places x 3."""
    x = np.asarray(place, dtype=np.float64)[..., None]
    value = np.concatenate([0.5 * x * (x - 1.0), 1.0 - x * x, 0.5 * x * (x + 1.0)], axis=-1)
    slope = np.concatenate([x - 0.5, -2.0 * x, x + 0.5], axis=-1)
    return value, slope


def radii_m(mesh: Mesh, across: Reals, along: Reals) -> tuple[Reals, Reals, Reals]:
    """Radius and its slopes across and along the element, at places in it: layers x columns x along x across."""
    value, slope = shapes(along)
    edge = np.maximum(np.einsum("pn,lnk->lpk", value, mesh.edges_m), _ON_AXIS_M)
    edge_slope = np.einsum("pn,lnk->lpk", slope, mesh.edges_m)
    width = 0.5 * (mesh.shares[:, 1] - mesh.shares[:, 0])[:, None]
    share = (mesh.shares[:, :1] + width * (1.0 + across[None, :]))[None, :, None, :]
    width = width[None, :, None, :]
    low, high, low_slope, high_slope = (
        np.moveaxis(table[..., column], 2, 1)[..., None]
        for table, column in (
            (edge, np.maximum(mesh.blocks - 1, 0)),
            (edge, mesh.blocks),
            (edge_slope, np.maximum(mesh.blocks - 1, 0)),
            (edge_slope, mesh.blocks),
        )
    )
    core = (mesh.blocks == 0)[None, :, None, None]
    stretch = np.log(np.where(core, np.e, high / low))
    radius = np.where(core, high * share, low * np.exp(share * stretch))
    over = np.where(core, high * width, radius * stretch * width)
    up = np.where(core, high_slope * share, radius * ((1.0 - share) * low_slope / low + share * high_slope / high))
    return radius, over, up


def element_matrices_m(mesh: Mesh) -> Reals:
    """Integral of grad u . grad v over each element and once round the axis, for a permittivity of one.

    Layers x columns x 9 x 9, nodes counted row by row from below. 2*pi*r*(u_r*v_r + u_z*v_z) by Gauss's points: four
    across, three along the element. Derived; times the permittivity in F/m it is a capacitance.
    """
    across, weight_across = np.polynomial.legendre.leggauss(_POINTS_ACROSS)
    along, weight_along = np.polynomial.legendre.leggauss(_POINTS_ALONG)
    radius, over, up = radii_m(mesh, across, along)
    half = 0.5 * np.diff(mesh.heights_m)[:, None, None, None]
    (value_x, slope_x), (value_y, slope_y) = shapes(across), shapes(along)
    slope_across = np.einsum("yn,xm->yxnm", value_y, slope_x).reshape(_POINTS_ALONG, _POINTS_ACROSS, 9)
    slope_along = np.einsum("yn,xm->yxnm", slope_y, value_x).reshape(_POINTS_ALONG, _POINTS_ACROSS, 9)
    weight = 2.0 * np.pi * weight_along[:, None] * weight_across[None, :]
    root = np.sqrt(weight * radius * over * half)
    by_r = (root / over)[..., None] * slope_across
    by_z = (root / half)[..., None] * slope_along - (root * up / (over * half))[..., None] * slope_across
    layers, columns = radius.shape[:2]
    both = np.concatenate([by_r.reshape(layers, columns, -1, 9), by_z.reshape(layers, columns, -1, 9)], axis=2)
    found = np.matmul(np.swapaxes(both, 2, 3), both)
    found[mesh.core] = 0.0
    return np.asarray(found)
