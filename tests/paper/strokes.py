"""What a drawing of a vessel shows, read back from its SVG: lines, figures and words, turned ones too."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin
from xml.etree import ElementTree as Xml

from tests.paper.metrics import SVG, measured

Point = tuple[float, float]
Line = tuple[Point, Point]


@dataclass(frozen=True)
class Path:
    """One path: its points, whether it is closed, and how it is painted."""

    points: tuple[Point, ...]
    closed: bool
    stroke: str
    width: float
    dash: str
    fill: str

    def lines(self) -> list[Line]:
        """Its straight pieces."""
        return list(pairwise((*self.points, self.points[0]) if self.closed else self.points))

    def size(self) -> Point:
        """Width and height."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return max(xs) - min(xs), max(ys) - min(ys)

    def area(self) -> float:
        """Area by the sum of trapezia under its sides."""
        return abs(sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise((*self.points, self.points[0]))))


@dataclass(frozen=True)
class Word:
    """A line of text: where its left end stands on the base line, how it is turned, its size."""

    text: str
    at: Point
    angle_deg: float
    wide: float
    up: float
    down: float

    def local(self, point: Point) -> Point:
        """A point as seen from the text: along it, and down from its base line."""
        c, s = cos(radians(self.angle_deg)), sin(radians(self.angle_deg))
        dx, dy = point[0] - self.at[0], point[1] - self.at[1]
        return dx * c + dy * s, -dx * s + dy * c

    def corners(self) -> list[Point]:
        """Its four corners on the sheet."""
        c, s = cos(radians(self.angle_deg)), sin(radians(self.angle_deg))
        own = [(0.0, -self.up), (self.wide, -self.up), (self.wide, self.down), (0.0, self.down)]
        return [(self.at[0] + x * c - y * s, self.at[1] + x * s + y * c) for x, y in own]

    def box(self) -> tuple[Point, Point]:
        """The upright box around it, by its first and its last corner."""
        xs, ys = zip(*self.corners(), strict=True)
        return (min(xs), min(ys)), (max(xs), max(ys))

    def middle(self) -> Line:
        """The line through the middle of its letters."""
        a, b, c, d = self.corners()
        return ((a[0] + d[0]) / 2, (a[1] + d[1]) / 2), ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2)

    def crossed(self, line: Line) -> bool:
        """Whether a line runs through it: the part of the line within its upright strip must miss its height."""
        (xa, ya), (xb, yb) = map(self.local, line)
        low, high = 0.0, 1.0
        for start, end, least, most in ((xa, xb, 0.1, self.wide - 0.1), (ya, yb, -self.up + 0.1, self.down - 0.1)):
            if start == end:
                if not least < start < most:
                    return False
                continue
            near, far = sorted(((least - start) / (end - start), (most - start) / (end - start)))
            low, high = max(low, near), min(high, far)
        return low < high

    def overlaps(self, other: "Word") -> bool:
        """Whether a side or the middle line of either runs through the other."""
        sides = [(self, line) for line in pairwise((*other.corners(), other.corners()[0]))]
        sides += [(other, line) for line in pairwise((*self.corners(), self.corners()[0]))]
        sides += [(self, other.middle()), (other, self.middle())]
        return any(word.crossed(line) for word, line in sides)


def paths(svg: str) -> list[Path]:
    """All paths, which must be straight."""
    return [path_of(node) for node in Xml.fromstring(svg).iter(f"{SVG}path")]


def path_of(node: Xml.Element) -> Path:
    """One path."""
    data = node.attrib["d"]
    if re.search(r"[^-\d. MLZ]", data):
        raise ValueError(f"a path that is not straight: {data[:60]}")
    found = tuple((float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", data))
    width = float(node.attrib.get("stroke-width", "1"))
    dash = node.attrib.get("stroke-dasharray", "")
    return Path(found, data.endswith("Z"), node.attrib["stroke"], width, dash, node.attrib["fill"])


def rects(svg: str) -> Iterator[Line]:
    """The sides of all filled rectangles."""
    for node in Xml.fromstring(svg).iter(f"{SVG}rect"):
        x, y, wide, high = (float(node.attrib[name]) for name in ("x", "y", "width", "height"))
        yield from pairwise([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y)])


def words(svg: str) -> list[Word]:
    """All texts; heights from the top of capitals to just under the base line."""
    return [word_of(node) for node in Xml.fromstring(svg).iter(f"{SVG}text")]


def word_of(node: Xml.Element) -> Word:
    """One text."""
    text, size = node.text or "", float(node.attrib["font-size"])
    wide = measured(text, size, "font-weight" in node.attrib)
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[node.attrib.get("text-anchor", "start")] * wide
    turned = re.fullmatch(r"translate\((\S+) (\S+)\) rotate\((\S+)\)", node.attrib.get("transform", ""))
    x, y, angle = map(float, turned.groups()) if turned else (float(node.attrib["x"]), float(node.attrib["y"]), 0.0)
    start = x - shift * cos(radians(angle)), y - shift * sin(radians(angle))
    return Word(text, start, angle, wide, 0.72 * size, 0.18 * size)


def crossed_words(svg: str) -> list[tuple[str, Line]]:
    """Words through which a line runs."""
    lines = [line for path in paths(svg) for line in path.lines()] + list(rects(svg))
    return [(word.text, line) for word in words(svg) for line in lines if word.crossed(line)]


def overlapping_words(svg: str) -> list[tuple[str, str]]:
    """Pairs of words that overlap."""
    found = [(word, word.box()) for word in words(svg)]
    return [
        (a.text, b.text)
        for i, (a, box) in enumerate(found)
        for b, other in found[i + 1 :]
        if _boxes_meet(box, other) and a.overlaps(b)
    ]


def _boxes_meet(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two upright boxes share a place; words whose boxes do not cannot overlap."""
    (left, top), (right, foot) = one
    return left <= other[1][0] and other[0][0] <= right and top <= other[1][1] and other[0][1] <= foot
