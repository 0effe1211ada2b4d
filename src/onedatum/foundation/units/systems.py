"""Systems of units that results are printed in: for each unit of the metric one, the unit that stands in its place."""

from __future__ import annotations

from collections.abc import Mapping

METRIC: Mapping[str, str] = {}
US_CUSTOMARY: Mapping[str, str] = {
    "mm": "in",
    "m": "ft",
    "cm2": "in2",
    "m2": "ft2",
    "cm3": "in3",
    "m3": "US gal",
    "L": "US gal",
    "kg": "lb",
    "kg/m3": "lb/ft3",
    "degC": "degF",
    "bar(g)": "psi(g)",
    "bar(a)": "psi(a)",
    "m3/h": "US gal/min",
    "mm/min": "in/min",
    "m/s": "ft/s",
    "kPa/m": "psi/ft",
}
SYSTEMS: Mapping[str, Mapping[str, str]] = {"metric": METRIC, "US customary": US_CUSTOMARY}
"""Every system by the word a case states it with."""
