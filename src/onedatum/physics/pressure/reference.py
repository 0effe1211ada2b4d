"""What a pressure counts from: vacuum or the atmosphere."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_ATMOSPHERE = ("p_0", "pressure of the atmosphere", "[40000, 120000]")


@formula(
    equation="p_a = p + p_0",
    gives=("p_a", "pressure above vacuum"),
    where={
        "pressure_Pa_gauge": ("p", "pressure above the atmosphere", "[-110000, 1e9]"),
        "atmosphere_Pa_abs": _ATMOSPHERE,
    },
    source="derived: definition of gauge pressure",
)
def absolute_Pa_abs(pressure_Pa_gauge: Real, atmosphere_Pa_abs: Real) -> Real:
    """Pressure above vacuum from a gauge pressure.

    Example
    -------
    >>> absolute_Pa_abs(600000.0, 101325.0)
    701325.0
    """
    return pressure_Pa_gauge + atmosphere_Pa_abs


@formula(
    equation="p = p_a - p_0",
    gives=("p", "pressure above the atmosphere"),
    where={
        "pressure_Pa_abs": ("p_a", "pressure above vacuum", "[0, 1e9]"),
        "atmosphere_Pa_abs": _ATMOSPHERE,
    },
    source="derived: definition of gauge pressure",
)
def gauge_Pa_gauge(pressure_Pa_abs: Real, atmosphere_Pa_abs: Real) -> Real:
    """Gauge pressure from a pressure above vacuum.

    Example
    -------
    >>> gauge_Pa_gauge(701325.0, 101325.0)
    600000.0
    """
    return pressure_Pa_abs - atmosphere_Pa_abs


@formula(
    equation="dp = p",
    gives=("dp", "pressure less that of the atmosphere"),
    where={"pressure_Pa_gauge": ("p", "pressure above the atmosphere", "[-110000, 1e9]")},
    source="derived: definition of gauge pressure",
)
def over_atmosphere_Pa(pressure_Pa_gauge: Real) -> Real:
    """A gauge pressure as what it is, a difference of pressures.

    Example
    -------
    >>> over_atmosphere_Pa(2000.0)
    2000.0
    """
    return pressure_Pa_gauge
