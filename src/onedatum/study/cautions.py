"""What must stand beside every result that touches safety or trade."""

from __future__ import annotations

DEFERENCE = "The check supports the competent person; it replaces neither certificate nor inspection."

TRADE = "Trade: quantities for duty or invoice need approved and verified equipment where the law asks for it."

DEFERS = "It defers to the certificates, to local codes and to licensed practice."

LOOP = (
    "Loop: voltages and currents follow from stated values. Work on a live loop, and every meter put on it, keeps to "
    f"the rules of the zone and the site. {DEFERS}"
)
OVERFILL = (
    "Overfill: the alarm levels are computed from stated rates and times; one transmitter cannot be both the gauge "
    "that fills and the layer that stops the filling. What must be fitted and tested is for local codes and the safety "
    f"requirements of the site. {DEFERS}"
)
AREA = (
    "Hazardous area: zone, group and temperature class are as stated. Whether instrument and circuit may be there is "
    f"decided by the certificates of their parts and a competent person. {DEFERS}"
)
CHARGE = (
    "Static charge: the limits shown are from memory or second hand; they serve to warn, never to pass. Bonding, "
    f"filling and dipping follow the rules of the site and its permits. {DEFERS}"
)
SAFETY = (
    "Functional safety: a probability of failure alone is no safety integrity level. Architecture, systematic "
    f"capability, proof tests as they are really done and a functional safety assessment belong to it. {DEFERS}"
)

PRESSURE = (
    "Pressure: a float left in during a pressure test may collapse; walls worked here are no rating. The rating of the "
    f"maker, the code of the vessel and its test decide. {DEFERS}"
)

BOILER = (
    "Boiler: an indication from a chamber or by pressure is no substitute for the direct water gauge, nor a level "
    f"limiter; gauges, limiters and their testing follow the boiler code in force and its inspector. {DEFERS}"
)
LEGS = (
    "Pressure legs: isolate, vent and drain by the procedure of the site; a leg opened hot or under pressure scalds, "
    f"and a leg refilled wrongly moves the zero. {DEFERS}"
)

CAUTIONS: tuple[str, ...] = (
    DEFERENCE,
    OVERFILL,
    AREA,
    LOOP,
    CHARGE,
    SAFETY,
    PRESSURE,
    TRADE,
    "Tank entry, static charge and dipping follow the rules of the site and its permits.",
)
"""Printed on every paper and held in every result."""
