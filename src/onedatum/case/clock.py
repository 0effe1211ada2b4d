"""Times of day as a case states them: hours and minutes."""

from __future__ import annotations

import re

_CLOCK = re.compile(r"([01]?\d|2[0-3]):[0-5]\d", re.ASCII)


def is_clock(text: str) -> bool:
    """Whether a text is a time of day, such as 14:30."""
    return _CLOCK.fullmatch(text) is not None
