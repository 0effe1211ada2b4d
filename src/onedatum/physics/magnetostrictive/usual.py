"""What is counted on where an instrument states nothing: speed, dead zones, accuracy. Common practice, no source.

None of it is put in the place of a figure that is missing; it is shown beside it, as what others count on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.foundation.sources import Figure


@dataclass(frozen=True)
class UsualSpeed:
    """Speed of the pulse, and between what limits a stated one is believed."""

    speed_m_per_s: Figure
    low_m_per_s: Figure
    high_m_per_s: Figure


@dataclass(frozen=True)
class UsualBudget:
    """Assumptions on the parts of an error, half widths where nothing else is said."""

    nonlinearity: Figure
    """Half width as a share of the range."""
    clock_Hz: Figure
    """Frequency of the clock that times the flight."""
    display_step_m: Figure
    """Whole step."""
    temperature_half_width_K: Figure
    stiction_m: Figure
    tilt_rad: Figure
    """Largest angle; the error lies to one side."""
    density_half_width_kg_per_m3: Figure


@cache
def usual_speed() -> UsualSpeed:
    """Speed that is counted on before the instrument's own is known.

    Formula
    -------
    read from waveguide.json

    Parameters
    ----------
    none

    Returns
    -------
    UsualSpeed
        usual, least and greatest speed [m/s], each with source and tag

    Validity
    --------
    wires of stems as they are usual; each instrument carries its own measured speed, which comes before it

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> usual = usual_speed()
    >>> usual.low_m_per_s.value, usual.speed_m_per_s.value, usual.high_m_per_s.value
    (2600.0, 2800.0, 3050.0)
    """
    return UsualSpeed(**_values(_table()["speed"]))


@cache
def usual_budget() -> UsualBudget:
    """Assumptions on the parts of an error that are usual for a stem.

    Formula
    -------
    read from waveguide.json

    Parameters
    ----------
    none

    Returns
    -------
    UsualBudget
        each part with value, source and tag, in the unit its name ends in

    Validity
    --------
    a stem in order, at a known density of the liquid; the height of the datum is no part of it

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> usual_budget().display_step_m.value, usual_budget().temperature_half_width_K.value
    (0.0001, 3.0)
    """
    return UsualBudget(**_values(_table()["budget"]))


@cache
def dead_share_limit() -> Figure:
    """Share of the height of a tank that both dead zones together may take.

    Formula
    -------
    read from waveguide.json

    Parameters
    ----------
    none

    Returns
    -------
    Figure
        share [1], source and tag

    Validity
    --------
    a rule of thumb: what of the tank must be measured decides

    Source
    ------
    Common practice of the trade [common practice, no source]

    Example
    -------
    >>> dead_share_limit().value
    0.3
    """
    return Figure(**_table()["dead_share_limit"])


def _values(rows: Mapping[str, Any]) -> dict[str, Figure]:
    return {name: Figure(**row) for name, row in rows.items()}


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("waveguide.json")
    return table
