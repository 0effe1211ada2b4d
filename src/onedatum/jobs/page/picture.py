"""A drawing of the papers inside a page: in the colours of the page, under names that no other drawing of it has."""

from __future__ import annotations

import re
from dataclasses import dataclass

from onedatum.paper.ruler.look import PRINT

COLOURS = {
    PRINT.sheet: "sheet",
    PRINT.tint: "tint",
    PRINT.liquid: "liquid",
    PRINT.ink: "ink",
    PRINT.secondary: "secondary",
    PRINT.hairline: "border",
    PRINT.accent: "accent",
    PRINT.blocks: "blocks",
    PRINT.assumed: "assumed",
    "#C3CBCF": "hairline",
    "#E4EDF2": "tint",
}
"""What each colour of the papers is called on the page, where light and dark give it its own value."""
_PAINTED = re.compile(r'(?<= )(fill|stroke)="(#[0-9A-Fa-f]{6})"')
_NAMED = re.compile(r'(?<= )id="([^"]+)"')
_SIZE = re.compile(r'^(<svg[^>]*?) width="[^"]*" height="[^"]*"')


@dataclass(frozen=True)
class Picture:
    """A drawing as SVG, and what is said beneath it."""

    svg: str
    caption: str = ""


def picture(svg: str, name: str, caption: str = "") -> Picture:
    """A drawing for a page; `name` tells its inner names apart from those of the other drawings there."""
    return Picture(_on_page(svg, name), caption)


def _on_page(svg: str, name: str) -> str:
    told = _PAINTED.sub(lambda found: f'{found[1]}="{_colour(found[2])}"', _SIZE.sub(r"\1", svg))
    for inner in _NAMED.findall(told):
        told = told.replace(f' id="{inner}"', f' id="{name}-{inner}"').replace(
            f"url(#{inner})", f"url(#{name}-{inner})"
        )
    return told


def _colour(written: str) -> str:
    known = COLOURS.get(written.upper())
    return written if known is None else f"var(--{known})"
