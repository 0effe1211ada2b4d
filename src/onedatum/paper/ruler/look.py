"""Colours and sizes of the drawing. Red is kept for what blocks; each colour goes with a texture or weight."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Look:
    """One palette with the text sizes that go with it, in px of the drawing."""

    sheet: str
    tint: str
    liquid: str
    ink: str
    secondary: str
    hairline: str
    accent: str
    on_accent: str
    blocks: str
    assumed: str
    tick_size: float = 11.0
    mark_size: float = 11.5
    readout_size: float = 12.5
    row_gap: float = 15.5
    band_height: float = 20.0
    air: float = 4.0
    """Least distance between the words of neighbouring scales."""
    elevation_share: float = 0.32
    """Of the width of the sheet: what the half section may take before it is broken off."""
    live: bool = False
    """Whether a reader moves the level line: room for every readout, halos around words, moving parts in groups."""


SCREEN = Look(
    sheet="var(--sheet)",
    tint="var(--tint)",
    liquid="var(--liquid)",
    ink="var(--ink)",
    secondary="var(--secondary)",
    hairline="var(--hairline)",
    accent="var(--accent)",
    on_accent="var(--on-accent)",
    blocks="var(--blocks)",
    assumed="var(--assumed)",
    band_height=24.0,
    air=2.0,
    live=True,
)
"""Colours by the custom properties of the page, so that light and dark need one drawing."""

PRINT = Look(
    sheet="#FFFFFF",
    tint="#EEF1F0",
    liquid="#D6E6EE",
    ink="#17212B",
    secondary="#4C5963",
    hairline="#7C8A93",
    accent="#0B4A68",
    on_accent="#FFFFFF",
    blocks="#962917",
    assumed="#5B3A86",
)
