"""What the wire takes from a pulse on its way, and how long it rings until the next one can be sent."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.working import formula

_FREQUENCY = ("f", "frequency of the pulse", "[1, 1e8]")
_QUALITY = ("Q", "quality factor of the wire", "[1, 1e7]")
_SPEED = ("v", "speed of the pulse", "[100, 10000]")
_LENGTH = ("L", "length of the wire", "[0.01, 100]")
_LOSS = ("a", "attenuation per length, in nepers", "[0, 100]")
_END = ("r_e", "share of the pulse that the end of the wire returns", "[-1, 1]")
_HEAD = ("r_h", "share of the pulse that the head returns", "[-1, 1]")
_THRESHOLD = ("q", "share of the first echo below which an image does no harm", "[1e-9, 1]")
_DIES = ("abs(r_e*r_h)*exp(-2*a*L) <= 0.999", "a wire that keeps its pulses never becomes still")
_EQUAL = 1e-11
"""Of the threshold: an image as high as it but for rounding counts as being at it."""


@formula(
    equation="a = pi*f/(Q*v)",
    gives=("a", "attenuation per length, in nepers"),
    where={"frequency_Hz": _FREQUENCY, "quality": _QUALITY, "speed_m_per_s": _SPEED},
    source="derived: small losses",
)
def attenuation_per_m(frequency_Hz: Real, quality: Real, speed_m_per_s: Real) -> Real:
    """Attenuation of a pulse by the inner friction of the wire.

    What touches the wire adds to it. The quality is to be fitted to echoes of the stem itself.

    Example
    -------
    >>> round(attenuation_per_m(100e3, 1000.0, 2800.0), 6)
    0.1122
    """
    return np.pi * frequency_Hz / (quality * speed_m_per_s)


@formula(
    equation="A = 20*a*L/ln(10)",
    gives=("A", "loss in decibels"),
    where={"attenuation_per_m": _LOSS, "length_m": _LENGTH},
    source="derived: nepers as decibels",
)
def loss_decibel(attenuation_per_m: Real, length_m: Real) -> Real:
    """Loss of a pulse over a length of wire, in decibels.

    Example
    -------
    >>> round(loss_decibel(0.1122, 6.0), 3)
    5.847
    """
    return 20 * attenuation_per_m * length_m / float(np.log(10.0))


@formula(
    equation="A = 40*pi*f*L/(ln(10)*v*Q*sqrt(2*(1 + 1/Q**2)*(1 + sqrt(1 + 1/Q**2))))",
    gives=("A", "loss in decibels"),
    where={
        "frequency_Hz": _FREQUENCY,
        "quality": _QUALITY,
        "speed_m_per_s": ("v", "root of shear modulus over density, the modulus without its loss", "[100, 10000]"),
        "length_m": _LENGTH,
    },
    source="derived: wave number of the complex modulus G*(1 + i/Q)",
)
def loss_decibel_exact(frequency_Hz: Real, quality: Real, speed_m_per_s: Real, length_m: Real) -> Real:
    """Loss of a pulse over a length of wire, in decibels, whatever the losses are.

    Example
    -------
    >>> round(float(loss_decibel_exact(100e3, 1000.0, 2797.51, 6.0)), 4)
    5.8525
    """
    square = 1 + 1 / np.asarray(quality) ** 2
    bent = np.sqrt(2 * square * (1 + np.sqrt(square)))
    result: Real = 40 * np.pi * frequency_Hz * length_m / (np.log(10.0) * speed_m_per_s * quality * bent)
    return result


@formula(
    method="greatest whole n with (|r_e*r_h|*exp(-2*a*L))**n at or above q",
    gives=("n", "round trips after which an image is still at or above the threshold"),
    where={
        "length_m": _LENGTH,
        "end_reflection": _END,
        "head_reflection": _HEAD,
        "attenuation_per_m": _LOSS,
        "threshold": _THRESHOLD,
    },
    requires=(_DIES,),
    source="derived: images of the pulse",
)
def round_trips(
    length_m: Real, end_reflection: Real, head_reflection: Real, attenuation_per_m: Real, threshold: Real
) -> Real:
    """Round trips that have to be waited for before the next pulse is sent.

    An image that is as high as the threshold but for rounding counts as being at it.

    Example
    -------
    >>> float(round_trips(6.0, 0.2, 0.9, 0.0112, 0.01))
    2.0
    """
    kept = np.abs(np.asarray(end_reflection) * head_reflection) * np.exp(-2 * np.asarray(attenuation_per_m) * length_m)
    return _last_image(kept, np.asarray(threshold))


def _last_image(share: Reals, at: Reals) -> Real:
    """Greatest whole n with share**n at or above `at`, for a share below 1."""
    some = np.maximum(share, 1e-300)
    count = np.floor(np.log(at) / np.log(some))
    one_more = some ** (count + 1) >= at * (1 - _EQUAL)
    result: Real = np.where(one_more, count + 1, count + 0.0)[()]
    return result


@formula(
    method="(2*n + 1)*L/v, n being the greatest whole number with (|r_e*r_h|*exp(-2*a*L))**n at or above q",
    gives=("t", "time until the last image at or above the threshold has come in"),
    where={
        "length_m": _LENGTH,
        "speed_m_per_s": _SPEED,
        "end_reflection": _END,
        "head_reflection": _HEAD,
        "attenuation_per_m": _LOSS,
        "threshold": _THRESHOLD,
    },
    requires=(_DIES,),
    source="derived: images of the pulse, the magnet at the end of the wire",
)
def reverberation_time_s(
    length_m: Real,
    speed_m_per_s: Real,
    end_reflection: Real,
    head_reflection: Real,
    attenuation_per_m: Real,
    threshold: Real,
) -> Real:
    """Time to wait from one pulse to the next, so that no image of the last one is taken for an echo.

    Example
    -------
    >>> round(float(reverberation_time_s(6.0, 2800.0, 0.2, 0.9, 0.0112, 0.01)) * 1000, 3)
    10.714
    """
    trips = round_trips(length_m, end_reflection, head_reflection, attenuation_per_m, threshold)
    return (2 * trips + 1) * length_m / speed_m_per_s


@formula(
    equation="f = v/(L*(2*n + 1))",
    gives=("f", "most readings per time"),
    where={
        "length_m": _LENGTH,
        "speed_m_per_s": _SPEED,
        "round_trips": ("n", "round trips that are waited for", "[0, 100000]"),
    },
    source="derived: one pass and the round trips",
)
def update_rate_Hz(length_m: Real, speed_m_per_s: Real, round_trips: Real) -> Real:
    """Readings that a wire allows per time; what the supply and averaging allow is less.

    Example
    -------
    >>> round(update_rate_Hz(6.0, 2800.0, 2.0), 2)
    93.33
    """
    return speed_m_per_s / (length_m * (2 * round_trips + 1))
