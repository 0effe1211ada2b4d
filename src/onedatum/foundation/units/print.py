"""Units as they stand on paper: m³ for m3, Ω for ohm, °C for degC. Files and JSON keep the plain spelling."""

from __future__ import annotations

import re
from functools import lru_cache

_RAISED = str.maketrans("23", "²³")
_SIGNS = ((re.compile(r"\bdegC\b"), "°C"), (re.compile(r"\bdegF\b"), "°F"), (re.compile(r"ohm\b"), "Ω"))
_POWER = re.compile(r"\b([kcm]?m|s)([23])\b")
_MICRO = re.compile(r"\bu(?=(?:S|F|H|s|A|J|C|m)\b)")


@lru_cache(maxsize=20_000)
def in_print(text: str) -> str:
    """The text with its units in their typographic form.

    >>> in_print("5.6362 m3 at 14.0 degC, 24.5 ohm/km, 5 uS/cm")
    '5.6362 m³ at 14.0 °C, 24.5 Ω/km, 5 µS/cm'
    """
    for pattern, sign in _SIGNS:
        text = pattern.sub(sign, text)
    text = _POWER.sub(lambda found: found[1] + found[2].translate(_RAISED), text)
    return _MICRO.sub("µ", text)
