"""Which stroke and texture stands for what: marks differ by weight and dash, bands by hatch; grey prints still read."""

from typing import NamedTuple

from onedatum.paper.model import Mark
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Svg

DEAD_HATCH, RESPONSE_HATCH = "ruler-dead-zone", "ruler-response"


class Stroke(NamedTuple):
    """Colour, width and dash of a line."""

    colour: str
    width: float
    dash: str = ""


def mark_stroke(mark: Mark, look: Look) -> Stroke:
    """The line of a mark across all scales."""
    colour = look.blocks if mark.blocks else look.ink
    soft = look.blocks if mark.blocks else look.secondary
    return {
        "critical": Stroke(colour, 2.5),
        "range": Stroke(colour, 1.5),
        "alarm": Stroke(colour, 1.0, "7 3"),
        "dead zone": Stroke(soft, 1.0, "1.5 2.5"),
        "loop end": Stroke(colour, 1.25),
        "geometry": Stroke(look.hairline, 0.7),
        "datum": Stroke(look.hairline, 0.7),
    }[mark.kind]


def is_quiet(mark: Mark) -> bool:
    """Marks that are set lighter: what the vessel is, not what the order asks for."""
    return mark.kind in ("geometry", "dead zone", "datum") and not mark.blocks


def name_colour(mark: Mark, look: Look) -> str:
    """Colour of a mark's words."""
    if mark.blocks:
        return look.blocks
    if mark.assumed:
        return look.assumed
    return look.secondary if is_quiet(mark) else look.ink


def define_hatches(svg: Svg, look: Look) -> None:
    """The textures of the drawing."""
    svg.hatch(DEAD_HATCH, 6, 45, look.secondary, 1)
    svg.hatch(RESPONSE_HATCH, 3.5, -45, look.ink, 0.8)
