"""Temperature classes: the hottest surface of equipment, and the class that an ignition temperature asks for.

The class depends on ambient and on process temperature: a hot stem can exceed it by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from onedatum import data
from onedatum.physics.ignition.words import above_zero, one_of

_ZERO_K = 273.15
_SAME_K = 1e-6
"""Nearer than this two temperatures are equal: degC and degF do not come back from kelvin to the last digit."""


@dataclass(frozen=True)
class SmallSurface:
    """Surface temperature that a small component of class T4 may have, by its surface."""

    area_min_m2: float
    area_max_m2: float
    limit_K: float
    source: str
    tag: str


@dataclass(frozen=True)
class SmallPower:
    """Power put into a small component up to which it needs no look at its temperature, by ambient temperature."""

    ambient_K: float
    power_W: float
    source: str
    tag: str


@dataclass(frozen=True)
class SmallComponents:
    """Relief for small components. Shown beside the class, never applied."""

    temperature_class: str
    surfaces: tuple[SmallSurface, ...]
    powers: tuple[SmallPower, ...]


def class_limit_K(word: str) -> float:
    """Highest surface temperature of equipment of a temperature class.

    Formula
    -------
    looked up

    Parameters
    ----------
    word : str
        "T1" to "T6"

    Returns
    -------
    float
        highest surface temperature [K]

    Validity
    --------
    the classes of group II; any other word is refused with the list of what there is

    Source
    ------
    IEC 60079-0 explosive atmospheres, general requirements, maximum surface temperature by class [read]

    Example
    -------
    >>> class_limit_K("T4")
    408.15
    """
    return _limits_K()[one_of(word, _limits_K(), "temperature class")]


def class_required(ignition_temperature_K: float) -> str:
    """Temperature class whose limit lies below an ignition temperature.

    An ignition temperature that equals a limit falls to the next class. Where not even the last class lies below, no
    class serves and the word is empty.

    Formula
    -------
    the first of T1 to T6 with T_class < T_ignition

    Parameters
    ----------
    ignition_temperature_K : float
        lowest ignition temperature known for the substance [K]

    Returns
    -------
    str
        class, "" where none serves

    Validity
    --------
    above 0 K; one temperature, no array

    Source
    ------
    IEC 60079-0 explosive atmospheres, general requirements, maximum surface temperature by class [read]

    Example
    -------
    >>> class_required(363.0 + 273.15), class_required(450.0 + 273.15), class_required(353.15)
    ('T2', 'T2', '')
    """
    value_K = above_zero(ignition_temperature_K, "a temperature above 0 K", "ignition temperature")
    serving = (word for word, limit_K in _limits_K().items() if limit_K < value_K - _SAME_K)
    return next(serving, "")


def class_serves(certified: str, needed: str) -> bool:
    """Whether equipment of one temperature class serves where another is needed: it must not become hotter."""
    return class_limit_K(certified) <= class_limit_K(needed)


def small_components() -> SmallComponents:
    """Relief for small components in class T4, as data to be shown; nothing here applies it.

    Formula
    -------
    read from ignition_zones.json

    Parameters
    ----------
    none

    Returns
    -------
    SmallComponents
        surfaces [m2] with their temperatures [K], ambient temperatures [K] with powers [W], each with source and tag

    Validity
    --------
    class T4; whether a component may use it is for its certificate

    Source
    ------
    IEC 60079-0 relief for small components in class T4 [each row has its tag]

    Example
    -------
    >>> [row.power_W for row in small_components().powers]
    [1.3, 1.25, 1.2, 1.1, 1.0]
    """
    table = _table()["small_components"]
    surfaces = tuple(SmallSurface(**_in_kelvin(row)) for row in table["surfaces"])
    powers = tuple(SmallPower(**_in_kelvin(row)) for row in table["powers"])
    return SmallComponents(table["temperature_class"], surfaces, powers)


def _in_kelvin(row: dict[str, Any]) -> dict[str, Any]:
    kelvin = {f"{key.removesuffix('_degC')}_K": row[key] + _ZERO_K for key in row if key.endswith("_degC")}
    return {key: row[key] for key in row if not key.endswith("_degC")} | kelvin


@cache
def _limits_K() -> dict[str, float]:
    """The classes with their limits, the hottest first."""
    falling: list[tuple[str, float]] = sorted(_table()["classes_degC"].items(), key=lambda row: -row[1])
    return {word: limit_degC + _ZERO_K for word, limit_degC in falling}


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = data.table("ignition_zones.json")
    return table
