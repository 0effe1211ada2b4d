"""How long a filling may go on: the time until a level is reached at a steady rate."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_VOLUME = "[0, 1000000]"


@formula(
    equation="t = (V_2 - V_1)/Q",
    gives=("t", "time until the level is reached, negative where it is passed already"),
    where={
        "volume_to_m3": ("V_2", "volume at the level to be reached, from the table of the vessel", _VOLUME),
        "volume_from_m3": ("V_1", "volume in the vessel at the start", _VOLUME),
        "fill_rate_m3_per_s": ("Q", "filling rate", "(0, 100]"),
    },
    source="derived: volume over a steady rate",
)
def time_to_level_s(volume_to_m3: Real, volume_from_m3: Real, fill_rate_m3_per_s: Real) -> Real:
    """Time until a steady filling reaches a level.

    With the largest rate it is the shortest time that is left.

    Example
    -------
    >>> round(time_to_level_s(5.1, 2.7, 1.2 / 3600), 6)
    7200.0
    """
    return (volume_to_m3 - volume_from_m3) / fill_rate_m3_per_s
