"""Drawing the scales: spine, ticks, numbers, heads, and the ruled field above the end of the loop."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, takewhile

from onedatum.paper.model import Ruler
from onedatum.paper.ruler.frame import HEAD_PX, Frame
from onedatum.paper.ruler.layout import NAME_REACH, TICK_REACH, Lane
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Anchor, Style, Svg, fit, number, text_width
from onedatum.paper.ruler.tables import usable
from onedatum.paper.ruler.ticks import Tick

TICK_PX = (9.0, 6.0, 3.5)
LINE_PX, RULE_PX = 12.0, 3.0
NUMBERS, ASKS = "gives-way", "asks"
"""Parts of the drawing by name: words that give way to the readouts, and what an unknown scale asks for."""
Shade = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Ground:
    """What lies beneath the numbers: lines and hatches to lift them off, tinted spans, the span the readouts cover."""

    lines_px: tuple[float, ...]
    hatched_px: tuple[Shade, ...]
    tinted_px: tuple[Shade, ...]
    covered_px: Shade

    def halo(self, y: float, look: Look) -> str:
        """Colour to lay beneath a number at y; none where nothing runs under it."""
        crossed = any(abs(y - line) < look.tick_size * 0.6 for line in self.lines_px)
        hatched = any(low - 4 < y < high + 4 for low, high in self.hatched_px)
        if not crossed and not hatched:
            return ""
        return look.tint if any(low < y < high for low, high in self.tinted_px) else look.sheet

    def covers(self, y: float) -> bool:
        """Whether the readouts cover this place."""
        return self.covered_px[0] < y < self.covered_px[1]


def draw_scales(svg: Svg, lanes: Sequence[Lane], ruler: Ruler, frame: Frame, ground: Ground, look: Look) -> None:
    """Heads, spines, ticks and numbers of every scale, then the fields where scales have stopped."""
    for lane in lanes:
        draw_name(svg, lane, look)
        if usable(lane.scale):
            draw_spine(svg, lane, frame, ground, look)
        else:
            draw_unknown(svg, lane, frame, ground, look)
    draw_group_names(svg, lanes, look)
    for run in stopped_runs(lanes):
        draw_stop_words(svg, run, ruler, frame, ground, look)


def draw_name(svg: Svg, lane: Lane, look: Look) -> None:
    """The unit over its scale; dashes under it where the scale rests on an assumed number."""
    style = Style(look.mark_size, look.assumed if lane.scale.assumed else look.ink, True)
    name = fit(lane.scale.name, style, lane.width_px - NAME_REACH - 1)
    x = lane.spine_px + lane.side * NAME_REACH
    svg.text(x, HEAD_PX - 9, name, style, anchor(lane))
    if lane.scale.assumed:
        svg.line(x, HEAD_PX - 6, x + lane.side * text_width(name, style), HEAD_PX - 6, look.assumed, 1.1, "3 2")


def anchor(lane: Lane) -> Anchor:
    """Words stand on the side their scale's ticks point to."""
    return "end" if lane.side < 0 else "start"


def draw_group_names(svg: Svg, lanes: Sequence[Lane], look: Look) -> None:
    """What a pair shows, over its units: centred on the spine, or with its single scale."""
    style = Style(look.tick_size, look.secondary)
    for (name, spine), members in groupby(lanes, key=lambda lane: (lane.scale.group, lane.spine_px)):
        pair = list(members)
        if len(pair) == 2:
            room = 2 * min(lane.width_px for lane in pair) - 4
            svg.text(spine, 15, fit(name, style, room), style, "middle")
        elif text_width(name, style) <= pair[0].width_px - NAME_REACH - 1:
            svg.text(spine + pair[0].side * NAME_REACH, 15, name, style, anchor(pair[0]))
        else:
            text = fit(name, style, pair[0].width_px - 2)
            svg.text(pair[0].left_px + pair[0].width_px / 2, 15, text, style, "middle")


def draw_spine(svg: Svg, lane: Lane, frame: Frame, ground: Ground, look: Look) -> None:
    """The line of a scale with its ticks in one path and its numbers; nothing half covered by the readouts."""
    x, data = lane.spine_px, []
    svg.line(x, frame.y(lane.high_m), x, frame.y(lane.low_m), look.ink, 0.9)
    svg.open_group(NUMBERS)
    last_y = float("inf")
    start, lengths = f"M{number(x)} ", [f"h{number(lane.side * reach)}" for reach in TICK_PX]
    for tick in sorted(lane.ticks, key=lambda t: t.height_m):
        y = frame.y(tick.height_m)
        if ground.covers(y) and not look.live:
            continue
        data.append(f"{start}{number(y)}{lengths[tick.rank]}")
        if tick.label and y > frame.top_px + 5 and last_y - y > look.tick_size:
            last_y = draw_number(svg, lane, tick, y, ground, look) or last_y
    svg.close_group()
    svg.path("".join(data), look.ink, 0.8)


def draw_number(svg: Svg, lane: Lane, tick: Tick, y: float, ground: Ground, look: Look) -> float | None:
    """The number of a tick, and where it stands; none where the readouts cover it.

    Where a reader moves the readouts, it is there but hidden, to be shown again.
    """
    style, x = Style(look.tick_size, look.ink), lane.spine_px + lane.side * TICK_REACH
    covered = ground.covers(y - 5) or ground.covers(y) or ground.covers(y + 5)
    if covered and not look.live:
        return None
    if covered:
        svg.open_hidden()
    svg.text(x, y + 3.7, tick.label, style, anchor(lane), ground.halo(y, look))
    if covered:
        svg.close_group()
    return y


def draw_unknown(svg: Svg, lane: Lane, frame: Frame, ground: Ground, look: Look) -> None:
    """A scale whose number is missing keeps its place: dashed spine and what to ask for, in the half without level."""
    x, style = lane.spine_px, Style(look.mark_size, look.blocks)
    svg.line(x + lane.side * 3, frame.top_px + 6, x + lane.side * 3, frame.bottom_px - 6, look.blocks, 1, "3 4")
    middle, covered = (frame.top_px + frame.bottom_px) / 2, sum(ground.covered_px) / 2
    y = frame.top_px + (frame.bottom_px - frame.top_px) * (0.27 if covered > middle else 0.73)
    words = f"unknown, ask: {lane.scale.unknown}" if lane.scale.unknown else "unknown"
    room = (frame.bottom_px - frame.top_px) * 0.42
    svg.open_group(ASKS)
    svg.upright_text(x + lane.side * (lane.width_px / 2 + 3), y, fit(words, style, room), style)
    svg.close_group()


def stopped_runs(lanes: Sequence[Lane]) -> list[list[Lane]]:
    """Neighbouring scales that stop before the vessel does."""
    runs = groupby(lanes, key=lambda lane: lane.scale.stops_at is not None and usable(lane.scale))
    return [list(members) for stopped, members in runs if stopped]


def draw_stop_fields(svg: Svg, lanes: Sequence[Lane], ruler: Ruler, frame: Frame, look: Look) -> None:
    """The ruled fields where scales have stopped, laid before the lines of the marks."""
    for run in stopped_runs(lanes):
        top, foot = stop_top(run, ruler, frame), min(frame.y(lane.high_m) for lane in run)
        left, right = run[0].left_px + 2, run[-1].left_px + run[-1].width_px - 2
        svg.rect(left, top, right - left, foot - top, look.sheet)
        rule_field(svg, left, right, top, foot, stop_colour(ruler, look))


def stop_top(run: list[Lane], ruler: Ruler, frame: Frame) -> float:
    """Upper edge of a ruled field: the flange face, or where the scales would have ended."""
    return frame.y(max(frame.held(max(lane.scale.heights_m[-1] for lane in run)), body_top(ruler, frame)))


def draw_stop_words(svg: Svg, run: list[Lane], ruler: Ruler, frame: Frame, ground: Ground, look: Look) -> None:
    """The words of a ruled field: what its scales share once across it, each scale's own word beneath."""
    top, foot = clear_span(stop_top(run, ruler, frame), min(frame.y(lane.high_m) for lane in run), ground)
    if foot - top < LINE_PX + 8:
        return
    shared, own = shared_words([lane.scale.stops_at.text if lane.scale.stops_at else "" for lane in run])
    left, right = run[0].left_px + 5, run[-1].left_px + run[-1].width_px - 5
    style = Style(look.tick_size, stop_colour(ruler, look))
    svg.open_group(NUMBERS)
    lines = wrap(shared, style, right - left - 4)[: max(0, int((foot - top - 8) / LINE_PX) - 1)]
    svg.rect(left, top + 3, right - left, LINE_PX * (len(lines) + any(own)) + 4, look.sheet)
    for i, line in enumerate(lines):
        svg.text((left + right) / 2, top + LINE_PX * (i + 1) + 1.5, line, style, "middle")
    bold, y = style._replace(bold=True), top + LINE_PX * (len(lines) + 1) + 1.5
    for lane, word in zip(run, own, strict=True):
        svg.text(lane.left_px + lane.width_px / 2, y, fit(word, bold, lane.width_px - 8), bold, "middle")
    svg.close_group()


def clear_span(top: float, foot: float, ground: Ground) -> tuple[float, float]:
    """The part of a field that the readouts leave free: above them where there is more room, else below."""
    above, below = min(ground.covered_px[0], foot), max(ground.covered_px[1], top)
    if ground.covered_px[1] <= top or ground.covered_px[0] >= foot:
        return top, foot
    return (top, above) if above - top > foot - below else (below, foot)


def rule_field(svg: Svg, left: float, right: float, top: float, foot: float, colour: str) -> None:
    """A field of level rules in one path."""
    count = int(min(max(foot - top, 0.0) / RULE_PX, 400))
    lines = (f"M{number(left)} {number(top + i * RULE_PX)}H{number(right)}" for i in range(count))
    svg.path("".join(lines), colour, 0.45)


def body_top(ruler: Ruler, frame: Frame) -> float:
    """Height of the flange face, else of the vessel, else of the frame."""
    if ruler.nozzle is not None:
        return frame.held(ruler.nozzle.face_m)
    return max((frame.held(h) for _, h in ruler.outline), default=frame.high_m)


def stop_colour(ruler: Ruler, look: Look) -> str:
    """Red only where the end of the loop blocks the order."""
    return look.blocks if any(m.kind == "loop end" and m.blocks for m in ruler.marks) else look.secondary


def shared_words(texts: list[str]) -> tuple[str, list[str]]:
    """The words all texts begin with, and what remains of each; a single text keeps its last word as its own."""
    split = [text.split() for text in texts]
    if len(split) == 1:
        return " ".join(split[0][:-1]), [" ".join(split[0][-1:])]
    same = list(takewhile(lambda words: len(set(words)) == 1, zip(*split, strict=False)))
    return " ".join(words[0] for words in same), [" ".join(words[len(same) :]) for words in split]


def wrap(text: str, style: Style, room: float) -> list[str]:
    """Words in as many lines as they need."""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", style) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(fit(word, style, room))
    return lines
