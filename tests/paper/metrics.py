"""Where the words of a drawing stand, measured by the font files themselves, not by the room's own table of widths."""

import re
from dataclasses import dataclass
from functools import cache
from itertools import islice
from math import isfinite
from operator import attrgetter
from pathlib import Path
from xml.etree import ElementTree as Xml

from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

import onedatum

FONTS = Path(onedatum.__file__).parent / "data" / "fonts"
SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Box:
    """The bounding box of one line of text."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        """Whether two boxes share more than a tenth of a px both ways."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.1 and down > 0.1


@cache
def font(name: str) -> tuple[dict[int, str], dict[str, tuple[int, int]], int]:
    """Characters, advances and unit of one shipped font."""
    read = TTFont(FONTS / name)
    return read.getBestCmap(), dict(read["hmtx"].metrics), read["head"].unitsPerEm


@cache
def measured(text: str, size: float, bold: bool) -> float:
    """Width of a line: in the main font if it holds all characters, else in the fallback."""
    cmap, advances, unit = font(f"SofiaSansSemiCondensed-{'Bold' if bold else 'Regular'}.ttf")
    if any(ord(c) not in cmap for c in text):
        cmap, advances, unit = font("DejaVuSans.ttf")
    return sum(advances[cmap[ord(c)]][0] for c in text) * size / unit


def text_boxes(svg: str) -> list[Box]:
    """Boxes of all texts; heights from the top of capitals to just under the base line."""
    return [box_of(node) for node in Xml.fromstring(svg).iter(f"{SVG}text")]


def box_of(node: Xml.Element) -> Box:
    """The box of one text, upright ones turned."""
    text, size = node.text or "", float(node.attrib["font-size"])
    wide = measured(text, size, "font-weight" in node.attrib)
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[node.attrib.get("text-anchor", "start")] * wide
    up, down = 0.72 * size, 0.18 * size
    if "transform" in node.attrib:
        x, y = map(float, re.findall(r"-?[\d.]+", node.attrib["transform"])[:2])
        return Box(text, x - up, y - wide + shift, x + down, y + shift)
    x, y = float(node.attrib["x"]), float(node.attrib["y"])
    return Box(text, x - shift, y - up, x - shift + wide, y + down)


def overlapping(svg: str) -> list[tuple[str, str]]:
    """Pairs of texts that overlap: each is held against those that begin before it ends."""
    boxes = sorted(text_boxes(svg), key=attrgetter("left"))
    assert all(isfinite(each.left) and isfinite(each.right) for each in boxes)
    found = []
    for number, one in enumerate(boxes, 1):
        for other in islice(boxes, number, None):
            if other.left >= one.right:
                break
            if one.overlaps(other):
                found.append((one.text, other.text))
    return found
