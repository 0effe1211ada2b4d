"""Numerical helpers that are no physics: the kind of numbers functions take, root finding, values of tables."""

from onedatum.foundation.numerics.blocks import in_blocks
from onedatum.foundation.numerics.curve import Curve
from onedatum.foundation.numerics.even_table import EvenTable
from onedatum.foundation.numerics.hermite import Hermite, fit_hermite, sample_points
from onedatum.foundation.numerics.kinds import Real, Reals, is_scalar, same_kind
from onedatum.foundation.numerics.roots import monotone_root
from onedatum.foundation.numerics.short import shortened
from onedatum.foundation.numerics.surface import Surface
from onedatum.foundation.numerics.table import polynomial

__all__ = [
    "Curve",
    "EvenTable",
    "Hermite",
    "Real",
    "Reals",
    "Surface",
    "fit_hermite",
    "in_blocks",
    "is_scalar",
    "monotone_root",
    "polynomial",
    "same_kind",
    "sample_points",
    "shortened",
]
