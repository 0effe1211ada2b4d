"""How long a million trials take from a level in a lying dished tank to pure alcohol, against plain array arithmetic.

Each peer draws the same inputs, works the same chain and takes its interval from the sorted results. *Plain numpy*
works on whole arrays: volume and mass fraction by interpolation in fine tables, the density by the sum of powers as the
document writes it. *metrolopy* works the same sums on its uncertain quantities, with volume and mass fraction by short
polynomials about the middle, which spares it most of their work. Below all of them lies what no Monte Carlo can be
without: drawing the inputs and sorting the results.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import metrolopy
import numpy as np

from bench.race import Race
from onedatum.case.reading import read_case_text
from onedatum.foundation.errors import Fault
from onedatum.foundation.numerics import Reals
from onedatum.physics.media import ethanol_mass_fraction
from onedatum.study.monte_carlo import Chosen, sampled
from onedatum.study.result import Study
from onedatum.study.study import study

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "lying_spirit_tank.yaml"
CHANGES = (
    ("u: 0.05 %vol, degrees_of_freedom: 9", "u: 0.05 %vol"),
    ("datum_error: {value: 0 mm, within: 2 mm,", "datum_error: {value: 0 mm,"),
    ("gauge_scale_error: {value: 0 %value, u: 0.01 %value}", "gauge_scale_error: {value: 0 %value}"),
)
"""Four inputs of the example stay uncertain: level, table, temperature, strength; none rests on few readings."""
TRIALS, FEW = 1_000_000, 100_000
"""Trials of a race, and of the comparison before it."""
FASTER, OVER_DRAWING = 30.0, 2.5
ROUNDS = 5
SEED = 7
COVERED = 0.95


def case() -> Study:
    """The example, studied."""
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in CHANGES:
        if old not in text:
            raise ValueError(f"the example must hold {old!r}")
        text = text.replace(old, new)
    return study(read_case_text(text, EXAMPLE.name, EXAMPLE.parent))


class Chain:
    """The same chain in plain arithmetic: tables of the vessel and of the strength, the sums of the density."""

    def __init__(self, found: Study) -> None:
        body: Any = found.vessel.body.whole if found.vessel is not None else None
        self.inputs = [line.entry for line in found.budget.lines] if found.budget else []
        self.levels = np.linspace(float(body.low_m), float(body.high_m), 2001)
        self.volumes = np.asarray(body.volume_below_m3(self.levels))
        self.strengths = np.linspace(0.9, 0.99, 2001)
        self.fractions = np.asarray(ethanol_mass_fraction(self.strengths))
        self.alpha = found.sheet["vessel.shell_expansion"].value or 0.0
        self.table = json.loads(files("onedatum.data").joinpath("oiml_r22.json").read_text(encoding="utf-8"))

    def volume(self, level: Any) -> Any:
        """By the table of the vessel."""
        return np.interp(level, self.levels, self.volumes)

    def fraction(self, strength: Any) -> Any:
        """By the table of the strength."""
        return np.interp(strength, self.strengths, self.fractions)

    def density(self, p: Any, t: Any) -> Any:
        """The general formula, term by term."""
        found = sum(a * p**k for k, a in enumerate(self.table["A"]))
        found = found + sum(b * (t - 20.0) ** k for k, b in enumerate(self.table["B"], 1))
        for i, row in enumerate(self.table["C"], 1):
            found = found + sum(c * p**k * (t - 20.0) ** i for k, c in enumerate(row, 1))
        return found

    def litres(self, by_name: dict[str, Any], volume: Callable[[Any], Any], fraction: Callable[[Any], Any]) -> Any:
        """Litres of pure alcohol, in m3, of one set of inputs or of arrays of them."""
        q, t = by_name["medium.strength"], by_name["medium.temperature"] - 273.15
        level = by_name["level_now"]
        p = fraction(q)
        shell = 1 + 3 * self.alpha * (t - 20.0)
        held = volume(level) * (1 + by_name["table.error"]) * shell
        return held * self.density(p, t) / self.density(p, 20.0) * q

    def drawn(self, count: int) -> dict[str, Reals]:
        """The inputs, drawn as a script would."""
        random = np.random.default_rng(SEED)
        found = {}
        for entry in self.inputs:
            u = entry.uncertainty
            if u is None or entry.value is None:
                continue
            half = 3**0.5 * u.standard
            normal = u.form == "normal"
            draw = random.normal(0.0, u.standard, count) if normal else random.uniform(-half, half, count)
            found[entry.name] = entry.value + draw
        return found


def plain(chain: Chain, count: int) -> tuple[float, float]:
    """Mean and standard deviation by whole arrays; the interval is worked, too, and thrown away."""
    found = np.sort(chain.litres(chain.drawn(count), chain.volume, chain.fraction))
    inside = int(COVERED * count)
    np.argmin(found[inside:] - found[: count - inside])
    return float(found.mean()), float(found.std())


def by_library(chain: Chain, count: int) -> tuple[float, float]:
    """The same by the library's own arithmetic and simulation."""
    given = {}
    for entry in chain.inputs:
        u, value = entry.uncertainty, entry.value or 0.0
        if u is not None:
            shape: Any = (
                u.standard if u.form == "normal" else metrolopy.UniformDist(center=0.0, half_width=3**0.5 * u.standard)
            )
            given[entry.name] = metrolopy.gummy(value, shape) if u.form == "normal" else value + metrolopy.gummy(shape)
    middle = {entry.name: entry.value or 0.0 for entry in chain.inputs}
    level, q = middle["level_now"], middle["medium.strength"]
    found = chain.litres(given, short(chain.volume, level, 0.01), short(chain.fraction, q, 0.002))
    metrolopy.gummy.simulate([found], n=count)
    return float(found.xsim), float(found.usim)


def short(function: Callable[[Any], Any], middle: float, reach: float) -> Callable[[Any], Any]:
    """A parabola through three points."""
    x = middle + reach * np.array([-1.0, 0.0, 1.0])
    c2, c1, c0 = np.polyfit(x - middle, function(x), 2)
    return lambda at: c0 + c1 * (at - middle) + c2 * (at - middle) ** 2


def draw_and_sort(chain: Chain) -> None:
    """The least any Monte Carlo must do: the inputs drawn in blocks, as many results sorted."""
    random = np.random.Generator(np.random.SFC64(SEED))
    held = np.empty(TRIALS)
    for start in range(0, TRIALS, 10_000):
        for entry in chain.inputs:
            normal = entry.uncertainty is not None and entry.uncertainty.form == "normal"
            held[start : start + 10_000] = random.standard_normal(10_000) if normal else random.random(10_000)
    np.sort(held)


def races() -> list[Race]:
    """A million trials against three peers; what they give is compared first."""
    found = case()
    chain = Chain(found)

    def ours() -> Any:
        outcome = sampled(found, Chosen(trials=TRIALS))
        if isinstance(outcome, Fault):
            raise ValueError(outcome.sentence())
        return outcome.outcome

    made = ours()
    for name, (mean, standard) in {"plain numpy": plain(chain, FEW), "metrolopy": by_library(chain, FEW)}.items():
        if abs(mean - made.mean) > 0.02 * made.standard or abs(standard / made.standard - 1.0) > 0.02:
            raise ValueError(f"{name} gives {mean}, {standard}; ours are {made.mean}, {made.standard}")
    title = f"{TRIALS} trials from level to pure alcohol"
    return [
        Race(title, ours, "plain numpy", lambda: plain(chain, TRIALS), goal=1.0 / FASTER, rounds=ROUNDS),
        Race(title, ours, "metrolopy", lambda: by_library(chain, TRIALS), goal=1.0 / FASTER, rounds=ROUNDS),
        Race(title, ours, "drawing and sorting", lambda: draw_and_sort(chain), goal=OVER_DRAWING, rounds=ROUNDS),
    ]
