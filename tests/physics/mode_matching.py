"""A rod with a flat end in a closed tube without a mesh: Bessel series on both sides of the end, matched there."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros, y0, y1

EPS0 = 8.8541878188e-12
"""CODATA 2022, from memory."""
_PER_MODE = 8
"""Modes below the end per mode beside the rod, over what the widths ask for."""


def tip_capacitance_F(rod_m: float, tube_m: float, gap_m: float, length_m: float, modes: int) -> float:
    """Capacitance of a rod (radius) in an earthed tube (radius), its end above an earthed bottom, top a mirror.

    Derived: below the end u = sum A_n J0(k_n r) sinh(k_n z); beside the rod u = ln(R/r)/ln(R/a) + sum B_m Z_m(r)
    cosh(q_m (H - z)), Z_m of J0 and Y0, zero at a and R; Galerkin on the ring between, energy form of C.
    """
    width = tube_m - rod_m
    q = np.array([_root(rod_m, tube_m, m) for m in range(1, modes + 1)])
    k = jn_zeros(0, int(_PER_MODE * modes * tube_m / width)) / tube_m
    slope, norm = _ring_modes(q, rod_m, tube_m)
    overlap = -rod_m * j0(k * rod_m)[:, None] * slope[None, :] / (k[:, None] ** 2 - q[None, :] ** 2)
    even = j0(k * rod_m) / (k**2 * np.log(tube_m / rod_m))  # of 1 inside a and ln(R/r)/ln(R/a) outside, with J0
    own = 0.5 * tube_m**2 * j1(k * tube_m) ** 2
    stiff_low = k / np.tanh(k * gap_m) / own
    stiff_high = q * np.tanh(q * length_m) * norm
    matrix = (overlap.T * stiff_low) @ overlap + np.diag(stiff_high)
    amplitudes = np.linalg.solve(matrix, -(overlap.T @ (stiff_low * even)))
    low = even + overlap @ amplitudes
    energy = np.sum(stiff_low * low**2) + np.sum(stiff_high * amplitudes**2) + length_m / np.log(tube_m / rod_m)
    return float(2.0 * np.pi * EPS0 * energy)


def tip_limit_F(rod_m: float, tube_m: float, gap_m: float, length_m: float, modes: int) -> float:
    """The same for ever more modes, from `modes`, twice and four times as many.

    Derived: at the edge u goes as distance**(2/3) and distance**(4/3), so the error as modes**(-4/3) and modes**(-2).
    """
    found = np.array([tip_capacitance_F(rod_m, tube_m, gap_m, length_m, number * modes) for number in (1, 2, 4)])
    for power in (4.0 / 3.0, 2.0):
        found = found[1:] + np.diff(found) / (2.0**power - 1.0)
    return float(found[0])


def _root(rod_m: float, tube_m: float, number: int) -> float:
    """The wave number of a mode between rod and tube, near number*pi over the width."""
    near = number * np.pi / (tube_m - rod_m)
    step = 0.45 * np.pi / (tube_m - rod_m)
    found = brentq(lambda q: j0(q * rod_m) * y0(q * tube_m) - j0(q * tube_m) * y0(q * rod_m), near - step, near + step)
    return float(found)


def _ring_modes(q: NDArray[np.float64], rod_m: float, tube_m: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Slope at the rod, and the integral of Z**2*r, of Z = J0(qr)*Y0(qa) - J0(qa)*Y0(qr)."""

    def slope(r: float) -> NDArray[np.float64]:
        return np.asarray(-q * (j1(q * r) * y0(q * rod_m) - j0(q * rod_m) * y1(q * r)))

    return slope(rod_m), 0.5 * ((tube_m * slope(tube_m)) ** 2 - (rod_m * slope(rod_m)) ** 2) / q**2
