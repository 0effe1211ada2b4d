"""Make src/onedatum/data/water_density.json: the density of liquid water at 101.325 kPa, fitted.

Run it by hand with CoolProp installed, from the project folder; its output is kept in the project:

    python3 tools/make_water_table.py
"""

from __future__ import annotations

import json
from pathlib import Path

import CoolProp
import numpy as np
from CoolProp.CoolProp import PropsSI
from numpy.polynomial import Chebyshev, Polynomial
from numpy.typing import NDArray

TARGET = Path(__file__).resolve().parents[1] / "src" / "onedatum" / "data" / "water_density.json"
PRESSURE_PA_ABS = 101_325.0
LOW_K, HIGH_K = 273.16, 373.05
TERMS = 14
FIT_POINTS, CHECK_POINTS = 400, 20_011


def density_kg_per_m3(temperature_K: NDArray[np.float64]) -> NDArray[np.float64]:
    """IAPWS-95 as CoolProp evaluates it."""
    return np.asarray(PropsSI("D", "T", temperature_K, "P", PRESSURE_PA_ABS, "HEOS::Water"), dtype=np.float64)


def fitted() -> Polynomial:
    """The least-squares fit at Chebyshev's points, which keeps its largest error near the smallest possible."""
    angle = np.pi * (np.arange(FIT_POINTS) + 0.5) / FIT_POINTS
    temperature_K = 0.5 * (LOW_K + HIGH_K) + 0.5 * (HIGH_K - LOW_K) * np.cos(angle)
    fit = Chebyshev.fit(temperature_K, density_kg_per_m3(temperature_K), TERMS - 1, domain=[LOW_K, HIGH_K])
    return fit.convert(kind=Polynomial, domain=[LOW_K, HIGH_K], window=[-1.0, 1.0])


def head(error_kg_per_m3: float) -> dict[str, object]:
    """What the table is, where it comes from, how good it is and where it holds."""
    return {
        "about": "Density of liquid water at 101.325 kPa: sum of c_k u^k, k from 0, u from -1 at low_K to 1 at high_K",
        "source": "iapws-95",
        "tag": "derived and checked",
        "made_by": f"tools/make_water_table.py from CoolProp {CoolProp.__version__}, HEOS::Water",
        "largest_error_kg_per_m3": float(f"{1.05 * error_kg_per_m3:.1e}"),
        "error_found_at": f"{CHECK_POINTS} temperatures evenly over the range, against the same source",
        "validity": "0 degC to 99.9 degC; fitted from the triple point, the last 0.01 K below it is extrapolated",
        "pressure_Pa_abs": PRESSURE_PA_ABS,
    }


def main() -> None:
    """Fit, check, write; the error stated is the largest one found and 5 % more, for what lies between the points."""
    fit = fitted()
    temperature_K = np.linspace(LOW_K, HIGH_K, CHECK_POINTS)
    error = float(np.max(np.abs(fit(temperature_K) - density_kg_per_m3(temperature_K))))
    table = {"low_K": LOW_K, "high_K": HIGH_K, "coefficients_kg_per_m3": [float(c) for c in fit.coef]}
    text = json.dumps({"head": head(error)} | table, indent=1, ensure_ascii=False)
    TARGET.write_text(text + "\n", encoding="utf-8", newline="\n")
    print(f"{TARGET}: {TERMS} terms, largest error {error:.2e} kg/m3")


if __name__ == "__main__":
    main()
