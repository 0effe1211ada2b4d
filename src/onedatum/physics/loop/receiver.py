"""What the receiver adds: steps of its converter, error of the card, of its resistor and of its zero, as level.

The span of the level lies on 16 mA, so an error of current counts with the span over 16 mA. The span is taken without
its sign: which way the signal acts does not matter for how large an error is.
"""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_SPAN = ("S", "span of the level between 4 and 20 mA, without its sign", "(0, 1000]")
_BITS = ("n", "bits of the converter", "[1, 32]")
_LOW = ("I_l", "current at the lower end of the card's range", "[-0.1, 0.004]")
_HIGH = ("I_h", "current at the upper end of the card's range", "[0.02, 0.1]")
_RESISTOR = ("R", "input resistor", "(0, 100000]")
_ERROR = "[-1000, 1000]"


@formula(
    equation="N = 2**n*0.016/(I_h - I_l)",
    gives=("N", "steps of the converter between 4 and 20 mA"),
    where={"bits": _BITS, "range_low_A": _LOW, "range_high_A": _HIGH},
    source="derived: share of the steps that lies in the signal",
)
def counts_per_span(bits: Real, range_low_A: Real, range_high_A: Real) -> Real:
    """Steps that the converter of a card has between 4 and 20 mA.

    The range is what all 2**n steps stand for; a card may state more than it measures.

    Example
    -------
    >>> round(counts_per_span(12, 0.0, 0.020), 6)
    3276.8
    """
    return 2.0**bits * 0.016 / (range_high_A - range_low_A)


@formula(
    equation="q = S*(I_h - I_l)/(2**n*0.016)",
    gives=("q", "level that one step of the converter stands for"),
    where={"span_m": _SPAN, "bits": _BITS, "range_low_A": _LOW, "range_high_A": _HIGH},
    source="derived: span over the steps in it",
)
def level_per_count_m(span_m: Real, bits: Real, range_low_A: Real, range_high_A: Real) -> Real:
    """Level that one step of the converter stands for.

    Example
    -------
    >>> round(level_per_count_m(3.0, 12, 0.0, 0.020), 9)
    0.000915527
    """
    return span_m * (range_high_A - range_low_A) / (2.0**bits * 0.016)


@formula(
    equation="u_q = q/sqrt(12)",
    gives=("u_q", "standard uncertainty by the steps of the converter"),
    where={"level_per_count_m": ("q", "level that one step of the converter stands for", "[0, 1000]")},
    source="jcgm-100: F.2.2.1, resolution of a digital indication",
)
def quantisation_standard_m(level_per_count_m: Real) -> Real:
    """Standard uncertainty that the steps of the converter leave.

    Example
    -------
    >>> round(quantisation_standard_m(0.000915527), 9)
    0.00026429
    """
    return level_per_count_m / float(np.sqrt(12.0))


@formula(
    equation="dh = S*e*I_fs/0.016",
    gives=("dh", "error of level by the card"),
    where={
        "span_m": _SPAN,
        "full_scale_error": ("e", "error of the card as a share of its full scale", "[-1, 1]"),
        "full_scale_A": ("I_fs", "full scale that the share refers to", "(0, 0.1]"),
    },
    source="derived: error of current over 16 mA",
)
def card_error_m(span_m: Real, full_scale_error: Real, full_scale_A: Real) -> Real:
    """Error of level by a card that states its error as a share of full scale.

    Example
    -------
    >>> round(card_error_m(3.0, 0.001, 0.020), 9)
    0.00375
    """
    return span_m * full_scale_error * full_scale_A / 0.016


@formula(
    equation="dh = S*I/0.016*e_R",
    gives=("dh", "error of level by the resistor"),
    where={
        "span_m": _SPAN,
        "current_A": ("I", "loop current", "[0, 0.1]"),
        "resistance_share": ("e_R", "deviation of the resistor as a share of its value", "[-1, 1]"),
    },
    source="derived: the whole current is scaled, the live zero with it",
)
def resistor_error_m(span_m: Real, current_A: Real, resistance_share: Real) -> Real:
    """Error of level by an input resistor that is not what it should be.

    The live zero is scaled too: at 4 mA a quarter of the share is left, as a share of the span. A temperature
    coefficient times a change of temperature is such a share.

    Example
    -------
    >>> round(resistor_error_m(3.0, 0.0168, 0.001), 9)
    0.00315
    """
    return span_m * current_A / 0.016 * resistance_share


@formula(
    equation="dh = S*U_e/(0.016*R)",
    gives=("dh", "error of level by the offset"),
    where={
        "span_m": _SPAN,
        "offset_V": ("U_e", "offset voltage of the reading", "[-10, 10]"),
        "resistance_ohm": _RESISTOR,
    },
    source="derived: error of current over 16 mA",
)
def offset_error_m(span_m: Real, offset_V: Real, resistance_ohm: Real) -> Real:
    """Error of level by an offset of the voltage that is read on the resistor.

    Example
    -------
    >>> round(offset_error_m(3.0, 10e-6, 10.0), 9)
    0.0001875
    """
    return span_m * offset_V / (0.016 * resistance_ohm)


@formula(
    equation="u_r = sqrt(u_q**2 + (a_c**2 + a_R**2 + a_o**2)/3)",
    gives=("u_r", "standard uncertainty of the level by the receiver"),
    where={
        "quantisation_standard_m": ("u_q", "standard uncertainty by the steps of the converter", "[0, 1000]"),
        "card_error_m": ("a_c", "largest error by the card", _ERROR),
        "resistor_error_m": ("a_R", "largest error by the resistor", _ERROR),
        "offset_error_m": ("a_o", "largest error by the offset", _ERROR),
    },
    source="jcgm-100: 4.3.7, limits without a coverage factor are rectangular",
)
def combined_receiver_standard_m(
    quantisation_standard_m: Real, card_error_m: Real, resistor_error_m: Real, offset_error_m: Real
) -> Real:
    """Standard uncertainty of the level by the receiver, its parts independent of each other.

    Each error is the half width of a rectangular distribution; one whose coverage factor is stated has no place here.

    Example
    -------
    >>> round(float(combined_receiver_standard_m(0.00026429, 0.00375, 0.00315, 0.0)), 9)
    0.002839868
    """
    squares_m2 = card_error_m**2 + resistor_error_m**2 + offset_error_m**2
    result: Real = np.sqrt(quantisation_standard_m**2 + squares_m2 / 3)
    return result
