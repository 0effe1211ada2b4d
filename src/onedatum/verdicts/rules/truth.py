"""Four truth values: false, unknown, ours to choose, true; joined so that neither a no nor a gap is hidden.

`and` is the lowest of its parts, `or` the highest: a certain no ends an `and`, a certain yes an `or`; what is not known
outweighs a choice of ours where all must hold, and is outweighed by it where one is enough.
"""

from __future__ import annotations

from enum import IntEnum


class Truth(IntEnum):
    """What is known of a statement; in rising order, so that `and` is the least and `or` the greatest."""

    FALSE = 0
    UNKNOWN = 1
    OURS = 2
    TRUE = 3
