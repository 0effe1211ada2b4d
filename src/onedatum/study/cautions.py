"""What must stand beside every result that touches safety or trade."""

from __future__ import annotations

DEFERENCE = "The check supports the competent person; it replaces neither certificate nor inspection."

TRADE = "Trade: quantities for duty or invoice need approved and verified equipment where the law asks for it."

CAUTIONS: tuple[str, ...] = (
    DEFERENCE,
    "Overfill: the alarm levels are computed from stated rates and times. They defer to local codes, the safety "
    "requirements of the site and licensed practice; one transmitter cannot be both the gauge that fills and the "
    "layer that stops the filling.",
    "Hazardous area: zone, group and temperature class are as stated. Whether the circuit may be there is decided by "
    "the certificates of its parts and a competent person.",
    "Pressure: a float left in during a pressure test may collapse; its rating is a requirement of the order.",
    TRADE,
    "Tank entry, static charge and dipping follow the rules of the site and its permits.",
)
"""Printed on every paper and held in every result."""
