"""Where each scale stands: pairs back to back on one spine, as wide as their words, dropped by priority if too many."""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby

from onedatum.paper.model import Scale
from onedatum.paper.ruler.frame import Frame
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, text_width
from onedatum.paper.ruler.tables import usable, value_at
from onedatum.paper.ruler.ticks import Tick, decimal, scale_ticks

KEPT_FIRST = ("mm", "mA", "mV", "%", "m³", "m3", "US gal", "L", "t", "in", "kg", "lb", "L pure")
LEAST_PX, MOST_PX, LAST_GAP_PX = 36.0, 78.0, 8.0
TICK_REACH, NAME_REACH, READOUT_REACH = 11.5, 8.0, 7.0


@dataclass(frozen=True, slots=True)
class Lane:
    """One scale in its place: the spine, the side its ticks point to (-1 left, 1 right), its span and its ticks."""

    scale: Scale
    spine_px: float
    side: int
    left_px: float
    width_px: float
    low_m: float
    high_m: float
    ticks: tuple[Tick, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """A scale that has its ticks but no place yet."""

    scale: Scale
    low_m: float
    high_m: float
    ticks: tuple[Tick, ...]
    need_px: float


def lanes_of(
    scales: tuple[Scale, ...], frame: Frame, level_m: float | None, left_px: float, right_px: float, look: Look
) -> list[Lane]:
    """All scales that fit between two edges, in the order given."""
    drafts = kept([draft(s, frame, level_m, look) for s in scales], right_px - left_px - LAST_GAP_PX)
    spare = (right_px - left_px - LAST_GAP_PX - sum(d.need_px for d in drafts)) / max(len(drafts), 1)
    lanes: list[Lane] = []
    x = left_px
    pairs = [list(members) for _, members in groupby(drafts, key=lambda d: d.scale.group)]
    for pair in (two for run in pairs for two in twos(run)):
        last = pair[-1] is drafts[-1]
        widths = [min(d.need_px + spare, max(d.need_px, MOST_PX)) for d in pair]
        lanes += stand(pair, widths, x, last)
        x += sum(widths)
    return lanes


@lru_cache(maxsize=256)
def draft(scale: Scale, frame: Frame, level_m: float | None, look: Look) -> Draft:
    """Ticks of a scale inside the frame, and the width its words need."""
    if not usable(scale):
        return Draft(scale, frame.low_m, frame.high_m, (), max(LEAST_PX, unit_width(scale, look)))
    low, high = max(scale.heights_m[0], frame.low_m), min(scale.heights_m[-1], frame.high_m)
    if scale.stops_at is not None:
        high = min(high, scale.stops_at.height_m)
    ticks = ticks_of(replace(scale, name="", group="", decimals=0, stops_at=None), low, high, frame.px_per_m)
    labels = widest_px(tuple(t.label for t in ticks if t.label), Style(look.tick_size, look.ink)) + TICK_REACH
    shown = readout_width(scale, level_m, look) + READOUT_REACH
    words = max(labels, shown) + look.air
    return Draft(scale, low, high, ticks, max(LEAST_PX, words, unit_width(scale, look)))


@lru_cache(maxsize=64)
def ticks_of(scale: Scale, low_m: float, high_m: float, px_per_m: float) -> tuple[Tick, ...]:
    """The ticks of a scale, once for all layouts that are tried: they turn on its table, not on its words."""
    return tuple(scale_ticks(scale, low_m, high_m, px_per_m))


@lru_cache(maxsize=256)
def widest_px(labels: tuple[str, ...], style: Style) -> float:
    """Width of the widest of these words."""
    return max((text_width(label, style) for label in labels), default=0.0)


def unit_width(scale: Scale, look: Look) -> float:
    """Room for the name over the scale, and for its half of the words over that."""
    name = text_width(scale.name, Style(look.mark_size, look.ink, True)) + NAME_REACH
    group = text_width(scale.group, Style(look.tick_size, look.secondary)) / 2
    return min(max(name, group), MOST_PX) + look.air


def readout_width(scale: Scale, level_m: float | None, look: Look) -> float:
    """Room for the readout at the level, or for that at any level where the line is moved."""
    style = Style(look.readout_size, look.ink, True)
    if not look.live:
        return text_width(readout(scale, level_m), style)
    ends = (scale.values[0], scale.values[-1]) if usable(scale) else ()
    return max([text_width(decimal(v, scale.decimals), style) for v in ends] + [text_width("?", style)])


def readout(scale: Scale, level_m: float | None) -> str:
    """What the scale reads at the level: a dash where it has no value, a question mark where its number is unknown."""
    if level_m is None:
        return ""
    if not usable(scale):
        return "?"
    value = value_at(scale, level_m)
    return "–" if value is None else decimal(value, scale.decimals)


def kept(drafts: list[Draft], room_px: float) -> list[Draft]:
    """Drop the least needed scales until the rest fits."""
    chosen = list(drafts)
    while len(chosen) > 1 and sum(d.need_px for d in chosen) > room_px:
        chosen.remove(max(chosen, key=lambda d: rank(d.scale)))
    return chosen


def rank(scale: Scale) -> int:
    """Place in the order of keeping; a sensor's own signal stands before the inches."""
    return KEPT_FIRST.index(scale.name) if scale.name in KEPT_FIRST else KEPT_FIRST.index("in") - 1


def twos(run: list[Draft]) -> list[list[Draft]]:
    """Members of one group by twos."""
    return [run[i : i + 2] for i in range(0, len(run), 2)]


def stand(pair: list[Draft], widths: list[float], left_px: float, last: bool) -> list[Lane]:
    """One or two scales on their spine; a single one stands left of it, the last of the sheet right of it."""
    if len(pair) == 2:
        spine = left_px + widths[0]
        return [lane(pair[0], spine, -1, left_px, widths[0]), lane(pair[1], spine, 1, spine, widths[1])]
    if last:
        return [lane(pair[0], left_px + LAST_GAP_PX, 1, left_px + LAST_GAP_PX, widths[0])]
    return [lane(pair[0], left_px + widths[0], -1, left_px, widths[0])]


def lane(item: Draft, spine_px: float, side: int, left_px: float, width_px: float) -> Lane:
    """A scale given its place."""
    return Lane(item.scale, spine_px, side, left_px, width_px, item.low_m, item.high_m, item.ticks)
