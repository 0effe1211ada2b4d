"""What the elevation is drawn from: the records of the ruler, and the lines of the order beside it."""

from dataclasses import dataclass

from onedatum.paper.model import Head, Ruler


@dataclass(frozen=True, slots=True)
class InterfaceFloat:
    """The float between two liquids, as near to the upper one as the case lets it come."""

    layer_m: float
    """Least thickness of the upper liquid."""
    diameter_m: float
    height_m: float
    immersion_m: float
    """In the lower liquid."""


@dataclass(frozen=True, slots=True)
class Elevation:
    """One elevation: the heights and sizes of the ruler, so that paper and drawing cannot differ."""

    head: Head
    ruler: Ruler
    order: tuple[tuple[str, str], ...] = ()
    """Lines of the order: what, and its value as text."""
    interface_float: InterfaceFloat | None = None
