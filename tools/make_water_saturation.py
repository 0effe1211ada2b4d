"""Make src/onedatum/data/water_saturation.json: the densities of water and steam at the boiling point, fitted.

Run it by hand with CoolProp installed, from the project folder; its output is kept in the project:

    python3 tools/make_water_saturation.py
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import CoolProp
import numpy as np
from CoolProp.CoolProp import PropsSI
from numpy.polynomial import Chebyshev, Polynomial
from numpy.typing import NDArray

TARGET = Path(__file__).resolve().parents[1] / "src" / "onedatum" / "data" / "water_saturation.json"
LOW_K, HIGH_K = 273.16, 623.15
LIQUID_TERMS, STEAM_TERMS = 20, 22
FIT_POINTS, CHECK_POINTS = 4000, 20_011


def density_kg_per_m3(temperature_K: NDArray[np.float64], steam: float) -> NDArray[np.float64]:
    """Boiling liquid (0) or its steam (1) by IAPWS-95 as CoolProp evaluates it."""
    return np.asarray(PropsSI("D", "T", temperature_K, "Q", steam, "HEOS::Water"), dtype=np.float64)


def fitted(values: Callable[[NDArray[np.float64]], NDArray[np.float64]], terms: int) -> Polynomial:
    """The least-squares fit at Chebyshev's points, which keeps its largest error near the smallest possible."""
    angle = np.pi * (np.arange(FIT_POINTS) + 0.5) / FIT_POINTS
    temperature_K = 0.5 * (LOW_K + HIGH_K) + 0.5 * (HIGH_K - LOW_K) * np.cos(angle)
    fit = Chebyshev.fit(temperature_K, values(temperature_K), terms - 1, domain=[LOW_K, HIGH_K])
    return fit.convert(kind=Polynomial, domain=[LOW_K, HIGH_K], window=[-1.0, 1.0])


def stated_error(fit: NDArray[np.float64], wanted: NDArray[np.float64]) -> float:
    """The largest relative error found and 5 % more, for what lies between the points."""
    return float(f"{1.05 * np.max(np.abs(fit / wanted - 1.0)):.1e}")


def head(liquid_error: float, steam_error: float) -> dict[str, object]:
    """What the table is, where it comes from, how good it is and where it holds."""
    return {
        "about": "Densities of water and steam at the boiling point, in kg/m3: sum of c_k u^k, k from 0, u from -1 at "
        "low_K to 1 at high_K, for the density of the liquid and for the natural logarithm of that of steam",
        "source": "iapws-95",
        "tag": "derived and checked",
        "made_by": f"tools/make_water_saturation.py from CoolProp {CoolProp.__version__}, HEOS::Water",
        "largest_relative_error": liquid_error,
        "largest_relative_error_of_steam": steam_error,
        "error_found_at": f"{CHECK_POINTS} temperatures evenly over the range, against the same source",
        "validity": "0.01 degC to 350 degC",
    }


def main() -> None:
    """Fit, check, write."""
    liquid = fitted(lambda kelvin: density_kg_per_m3(kelvin, 0.0), LIQUID_TERMS)
    log_of_steam = fitted(lambda kelvin: np.log(density_kg_per_m3(kelvin, 1.0)), STEAM_TERMS)
    kelvin = np.linspace(LOW_K, HIGH_K, CHECK_POINTS)
    errors = (
        stated_error(liquid(kelvin), density_kg_per_m3(kelvin, 0.0)),
        stated_error(np.exp(log_of_steam(kelvin)), density_kg_per_m3(kelvin, 1.0)),
    )
    table = {
        "head": head(*errors),
        "low_K": LOW_K,
        "high_K": HIGH_K,
        "coefficients_kg_per_m3": [float(c) for c in liquid.coef],
        "coefficients_of_log_steam": [float(c) for c in log_of_steam.coef],
    }
    TARGET.write_text(json.dumps(table, indent=1, ensure_ascii=False) + "\n", encoding="utf-8", newline="\n")
    print(f"{TARGET.name}: largest relative errors {errors[0]:g} (liquid), {errors[1]:g} (steam)")


if __name__ == "__main__":
    main()
