"""How long the capacitance of a rod at fifty levels of its tank takes, by finite elements, with and without its check.

The peer is a library of finite elements on the very lines of our mesh, assembled and solved level by level, as a script
would do it; it is given few levels, and the goal is scaled. What both give is compared first, and so is the slope far
from the ends with the closed form. The times that a user waits, and the memory, are taken in a fresh process that
works on one thread; the load of the machine is said beside them.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from functools import cache, partial
from math import pi
from pathlib import Path
from typing import Any

import numpy as np

from bench.race import Figure, Race, duration_s
from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive import line_capacitance_F_per_m
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M
from onedatum.physics.capacitive.field import COARSE_RATIO, Probe, Vessel, capacitance_curve, checked_curve
from onedatum.physics.capacitive.field.mesh import EARTH, ROD, Mesh, make_mesh

RADIUS_M, HEIGHT_M, ROD_M, TIP_M, RING_M = 1.5, 4.0, 5e-3, 0.1, 20e-3
"""The tank of 3 m x 4 m with a rod of 10 mm."""
OIL = 2.3
LEVELS, FEW, FINEST = 50, 5, 1.15
ROUNDS, FASTER, WITH_CHECK = 5, 25.0, 4.5
CURVE_S, CHECKED_S, MEMORY_MB, SHARE = 0.5, 1.3, 200.0, 0.02
"""What a page may let wait, what it may hold, and per cent of the span by which a finer mesh may move it."""
MIDDLE_M = (1.8, 2.2)
"""More than a radius from tip and roof."""
ONE_THREAD = {f"{library}_NUM_THREADS": "1" for library in ("OMP", "OPENBLAS", "MKL")}


def tank() -> tuple[Probe, Vessel]:
    """The rod and its tank."""
    return Probe(ROD_M, TIP_M, ring_radius_m=RING_M), Vessel.upright(RADIUS_M, HEIGHT_M)


def levels_m(count: int = LEVELS) -> Reals:
    """Even steps along the rod."""
    return np.linspace(TIP_M + 0.05, HEIGHT_M - 0.05, count)


def curve(ratio: float = COARSE_RATIO) -> Any:
    """Fifty levels on one mesh."""
    return capacitance_curve(*tank(), levels_m(), OIL, ratio=ratio)


def checked() -> object:
    """The same on two meshes."""
    return checked_curve(*tank(), levels_m(), OIL)


# ---------------------------------------------------------------- the peer


def lines_m(mesh: Mesh) -> tuple[Reals, Reals]:
    """The lines of our mesh across and along; in this tank they run straight."""
    begins = [
        ROD_M * low if block == 0 else ROD_M * (RADIUS_M / ROD_M) ** low
        for block, low in zip(mesh.blocks.tolist(), mesh.shares[:, 0].tolist(), strict=True)
    ]
    return np.array([*begins, RADIUS_M]), mesh.heights_m


class Peer:
    """The same lines in scikit-fem, with its own elements of the same order."""

    def __init__(self) -> None:
        from skfem import Basis, BilinearForm, ElementQuad0, ElementQuad2, MeshQuad
        from skfem.helpers import dot, grad

        self.mesh = make_mesh(*tank(), levels_m(), COARSE_RATIO)
        self.quads = MeshQuad.init_tensor(*lines_m(self.mesh))
        self.basis = Basis(self.quads, ElementQuad2(), intorder=6)
        self.steps = Basis(self.quads, ElementQuad0(), intorder=6)
        self.form = BilinearForm(lambda u, v, w: 2.0 * pi * w.x[0] * w["eps"] * dot(grad(u), grad(v)))
        self.rod, self.earth = (self._held(as_held) for as_held in (ROD, EARTH))

    def _held(self, as_held: int) -> Any:
        at_r, at_z = self.basis.doflocs
        if as_held == ROD:
            return np.flatnonzero((at_r < ROD_M + 1e-9) & (at_z > TIP_M - 1e-9))
        roof = (at_z > HEIGHT_M - 1e-9) & (at_r > RING_M - 1e-9)
        return np.flatnonzero((at_z < 1e-9) | (at_r > RADIUS_M - 1e-9) | roof)

    def capacitances_F(self, levels: Reals) -> Reals:
        """Level by level."""
        return np.array([self._at(level) for level in levels.tolist()])

    def _at(self, level_m: float) -> float:
        from skfem import condense, solve

        filled = np.where(self.quads.p[1, self.quads.t].mean(axis=0) < level_m, OIL, 1.0)
        matrix = self.form.assemble(self.basis, eps=self.steps.interpolate(filled))
        potential = np.zeros(self.basis.N)
        potential[self.rod] = 1.0
        potential = solve(*condense(matrix, x=potential, D=np.concatenate([self.rod, self.earth])))
        return float(VACUUM_PERMITTIVITY_F_PER_M * potential @ (matrix @ potential))


# ---------------------------------------------------------------- compared, and measured


def off_of_span(found: Any, truth: Any) -> float:
    """The largest distance of two curves of the same levels, in per cent of the span."""
    return float(100.0 * np.max(np.abs(found - truth)) / (truth[-1] - truth[0]))


def off_the_finest() -> float:
    """Of the curve as a page shows it first."""
    return off_of_span(curve(), curve(FINEST))


def off_the_closed_form() -> float:
    """Of the slope far from tip and roof, in per cent: 2 pi epsilon_0 (epsilon - 1)/ln(R/a)."""
    low, high = capacitance_curve(*tank(), MIDDLE_M, OIL)
    slope = (high - low) / (MIDDLE_M[1] - MIDDLE_M[0])
    closed = line_capacitance_F_per_m(ROD_M, RADIUS_M, OIL) - line_capacitance_F_per_m(ROD_M, RADIUS_M, 1.0)
    return float(100.0 * abs(slope / closed - 1.0))


@cache
def fresh() -> dict[str, float]:
    """Times and memory of a process of its own, on one thread."""
    words = [sys.executable, "-c", "from bench.field import alone; alone()"]
    done = subprocess.run(words, env={**os.environ, **ONE_THREAD}, check=True, capture_output=True, text=True)
    found: dict[str, float] = json.loads(done.stdout)
    return found


def alone() -> None:
    """What that process does: the first call counts for the user, who makes but one."""
    found = {"curve": duration_s(curve), "checked": duration_s(checked), "memory": peak_MB()}
    print(json.dumps(found))


def peak_MB() -> float:
    """The most memory this process has held, all that it has loaded with it; as the system counts it."""
    status = Path("/proc/self/status")
    if status.exists():
        (line,) = (line for line in status.read_text(encoding="utf-8").splitlines() if line.startswith("VmHWM"))
        return float(line.split()[1]) * 1024 / 1e6
    from resource import RUSAGE_SELF, getrusage

    return getrusage(RUSAGE_SELF).ru_maxrss / 1e6


def quiet() -> str:
    """How busy the machine is, where it tells."""
    return f"load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "load not told"


def races() -> list[Race | Figure]:
    """The curve alone and with its check beside the peer; its distance from the truth, what a user waits for it."""
    peer, few = Peer(), levels_m()[:: LEVELS // FEW]
    off = off_of_span(curve()[:: LEVELS // FEW], peer.capacitances_F(few))
    if off > 5 * SHARE:
        raise ValueError(f"the two solutions are {off:g} % of the span apart, more than {5 * SHARE:g} %")
    title, waits = f"{LEVELS} levels of a rod in its tank", f"one thread, {quiet()}"
    return [
        Race(
            title, curve, f"scikit-fem, {FEW} levels", partial(peer.capacitances_F, few), LEVELS / FEW / FASTER, ROUNDS
        ),
        Race(f"{title}, with the check", checked, "the curve alone", curve, WITH_CHECK, ROUNDS),
        Figure(f"{title}, from the finest mesh", off_the_finest, SHARE, "% of the span"),
        Figure(f"{title}, slope far from the ends from the closed form", off_the_closed_form, 0.1, "%"),
        Figure(f"{title}, waited for ({waits})", lambda: fresh()["curve"], CURVE_S, "s"),
        Figure(f"{title}, with the check ({waits})", lambda: fresh()["checked"], CHECKED_S, "s"),
        Figure(f"{title}, peak of memory", lambda: fresh()["memory"], MEMORY_MB, "MB"),
    ]
