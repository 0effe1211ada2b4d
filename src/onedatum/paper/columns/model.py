"""What is drawn of a vessel with its chamber, or with the legs of a transmitter: heights in metres, words as said."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mark:
    """A height with its words."""

    height_m: float
    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class ChamberSketch:
    """A vessel, its chamber, the float in it and the stem beside it, heights above the lower tap to one scale."""

    title: str
    tap_distance_m: float
    bottom_m: float
    """Inside end of the chamber below."""
    top_m: float
    level_m: float | None = None
    in_chamber_m: float | None = None
    float_m: tuple[float, float] | None = None
    """Bottom and top of the float."""
    magnet_m: float | None = None
    stem_m: tuple[float, float] | None = None
    """Tip and upper end of the stem."""
    left: tuple[Mark, ...] = ()
    """Heights in the vessel."""
    right: tuple[Mark, ...] = ()
    """Heights in the chamber and on the stem."""
    caption: str = ""


@dataclass(frozen=True, slots=True)
class LegsSketch:
    """A vessel, its taps and the legs to a transmitter, heights above the lower tap to one scale."""

    title: str
    tap_distance_m: float | None
    """None with one tap."""
    below_m: float
    """How far the transmitter lies below the lower tap."""
    lower_filling: str
    upper_filling: str = ""
    high_at_lower: bool = True
    level_m: float | None = None
    interface: bool = False
    left: tuple[Mark, ...] = ()
    lines: tuple[str, ...] = ()
    """The sum of the columns, one line each with its sign."""
    caption: str = ""
