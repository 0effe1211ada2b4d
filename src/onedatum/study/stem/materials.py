"""The materials whose figures are kept, by the words of a case."""

from __future__ import annotations

from onedatum.foundation.errors import QuantityError
from onedatum.physics.floats import FloatMaterial, float_material


def kept_material(name: str) -> FloatMaterial | None:
    """The figures kept of a material; None for one that is not stated or not kept."""
    try:
        return float_material(name) if name else None
    except QuantityError:
        return None
