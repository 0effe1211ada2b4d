"""Lines of text: wrapped to the room there is, cut only where nothing else is left."""

from itertools import pairwise
from typing import NamedTuple

from onedatum.paper.ruler.svg import Style, fit, text_width
from onedatum.paper.text import clusters, printable

BEFORE_NUMBERS = "±≤≥<>=≈"
UNIT_LENGTH = 6
"""Longest sign of a unit that stays on the line of its number."""


class Line(NamedTuple):
    """A line of text and how it is set."""

    text: str
    style: Style


def wrapped(text: str, style: Style, room_px: float, most: int) -> tuple[Line, ...]:
    """Text in lines no wider than the room; the last of them is cut with an ellipsis if more are needed."""
    left = clusters(printable(text).text)
    lines: list[Line] = []
    while left and len(lines) < most - 1 and text_width("".join(left), style) > room_px:
        count = head_of(left, style, room_px)
        lines.append(Line("".join(left[:count]).rstrip(" "), style))
        left = left[count:]
        while left and left[0] == " ":
            left = left[1:]
    if text_width("".join(left), style) > room_px:
        left = left[: held_by(left, style, room_px) + 2]
    rest = fit("".join(left), style, room_px)
    return (*lines, Line(rest, style)) if rest else tuple(lines)


def head_of(left: list[str], style: Style, room_px: float) -> int:
    """How many characters stand on the next line: up to a space if there is one, at least one in any case."""
    held = held_by(left, style, room_px)
    for may_end in (parts_at, is_space):
        places = [i for i in range(1, min(held + 1, len(left))) if may_end(left, i)]
        if places:
            return places[-1]
    return held


def held_by(left: list[str], style: Style, room_px: float) -> int:
    """How many characters the room holds, at least one, found by halving."""
    held, more = 1, len(left) + 1
    while more - held > 1:
        half = (held + more) // 2
        held, more = (half, more) if text_width("".join(left[:half]), style) <= room_px else (held, half)
    return held


def is_space(left: list[str], at: int) -> bool:
    """Whether a space stands at a place."""
    return left[at] == " "


def parts_at(left: list[str], at: int) -> bool:
    """Whether a line may end at a place: at a space, but not between a number and its unit or sign."""
    if not is_space(left, at) or left[at - 1] in BEFORE_NUMBERS:
        return False
    rest = left[at + 1 : at + 2 + UNIT_LENGTH]
    unit = rest[: rest.index(" ")] if " " in rest else rest
    return not (left[at - 1][-1:].isdigit() and len(unit) <= UNIT_LENGTH and not "".join(unit[:1]).isdigit())


def stands_whole(text: str, style: Style, room_px: float, most: int) -> bool:
    """Whether text stands in so many lines with no word broken, no number parted from its unit and nothing cut."""
    shown = clusters(printable(text).text)
    if text_width("".join(shown), style) > room_px * most:
        return False
    places = [i for i in range(1, len(shown)) if parts_at(shown, i)]
    words = ["".join(shown[a:b]).strip(" ") for a, b in pairwise([0, *places, len(shown)])]
    if any(text_width(word, style) > room_px for word in words):
        return False
    whole = "".join(shown)
    return " ".join(line.text for line in wrapped(whole, style, room_px, most)) == whole


def widest_px(lines: tuple[Line, ...]) -> float:
    """Width of the widest line."""
    return max((text_width(line.text, line.style) for line in lines), default=0.0)
