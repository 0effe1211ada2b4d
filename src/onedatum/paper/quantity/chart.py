"""The pictures of a statement: shares of a budget as bars, and the histogram of a Monte Carlo with its intervals."""

from collections.abc import Iterator, Sequence
from math import isfinite

from onedatum.paper.quantity.model import Picture, Share
from onedatum.paper.ruler.look import PRINT
from onedatum.paper.ruler.svg import Style, Svg, fit, points
from onedatum.paper.table.chart import Axis
from onedatum.paper.table.words import figure

WIDE_PX = 370.0
NAME_PX, NUMBER_PX, ROW_PX, TOP_PX = 158.0, 50.0, 20.0, 8.0
MOST_BARS = 14
BAR_PX = 12.0
LEAST_BAR_PX = 0.8
HIGH_PX, FOOT_PX, SIDE_PX = 170.0, 42.0, 24.0
BRACKET_PX = 17.0
NEGATIVE = "cancels"
NAME = Style(11.0, PRINT.ink)
VALUE = Style(11.0, PRINT.ink, True)
QUIET = Style(10.5, PRINT.secondary)
GRID = "#C3CBCF"


def budget_svg(shares: Sequence[Share]) -> str:
    """A bar for each input, the longest first; one that cancels others stands left of the line, hatched."""
    shown = ordered(shares)
    if not shown:
        return sentence("No shares to draw.")
    low, high = min(0.0, *(s.share for s in shown)), max(*(s.share for s in shown), 0.0, 1e-12)
    svg = Svg(WIDE_PX, TOP_PX + ROW_PX * len(shown) + TOP_PX, budget_label(shown), PRINT.sheet)
    svg.hatch(NEGATIVE, 5, 45, PRINT.ink, 0.9)
    axis = Axis(low, high, NAME_PX, WIDE_PX - NUMBER_PX)
    for row, share in enumerate(shown):
        draw_bar(svg, axis, share, TOP_PX + row * ROW_PX)
    zero = axis.at(0.0)
    svg.line(zero, TOP_PX - 2, zero, TOP_PX + ROW_PX * len(shown), PRINT.ink)
    return svg.done()


def ordered(shares: Sequence[Share]) -> list[Share]:
    """The shares that are numbers, the largest first; of very many the rest is one bar."""
    known = sorted((s for s in shares if isfinite(s.share)), key=lambda s: -abs(s.share))
    if len(known) <= MOST_BARS:
        return known
    rest = known[MOST_BARS - 1 :]
    return [*known[: MOST_BARS - 1], Share(f"{len(rest)} further inputs", "", "", sum(s.share for s in rest), "")]


def draw_bar(svg: Svg, axis: Axis, share: Share, top: float) -> None:
    """Name, bar, per cent."""
    base, zero, end = top + BAR_PX - 1.5, axis.at(0.0), axis.at(share.share)
    svg.text(4, base, fit(share.label, NAME, NAME_PX - 14), NAME)
    left, wide = min(zero, end), max(abs(end - zero), LEAST_BAR_PX)
    svg.rect(left, top, wide, BAR_PX, PRINT.accent if share.share >= 0 else f"url(#{NEGATIVE})")
    if share.share < 0:
        right, foot = left + wide, top + BAR_PX
        svg.path(points([(right, top), (left, top), (left, foot), (right, foot)]), PRINT.ink, 0.9)
    svg.text(max(end, zero) + 5, base, per_cent(share.share), VALUE)


def per_cent(share: float) -> str:
    """A share as people say it."""
    return f"{figure(100 * share, 1 if abs(share) >= 0.001 else 2)} %".replace("-", "−")


def budget_label(shares: Sequence[Share]) -> str:
    """The bars in words."""
    return f"Shares of the variance: {', '.join(f'{s.label} {per_cent(s.share)}' for s in shares)}."


def histogram_svg(picture: Picture) -> str:
    """The histogram, the mean, and a bracket for each interval beneath it."""
    ends = [end for _, low, high in picture.intervals for end in (low, high)]
    every = [*picture.edges, *ends, picture.mean]
    if len(picture.edges) < 3 or not all(map(isfinite, every)) or not max(picture.densities, default=0.0) > 0.0:
        return sentence("No histogram: the results are all the same.")
    low, high = min(picture.edges[0], *ends), max(picture.edges[-1], *ends)
    svg = Svg(WIDE_PX, HIGH_PX + FOOT_PX + BRACKET_PX * len(picture.intervals), histogram_words(picture), PRINT.sheet)
    across = Axis(low, high, SIDE_PX, WIDE_PX - SIDE_PX)
    up = Axis(0.0, max(picture.densities), HIGH_PX, TOP_PX + 14)
    draw_ticks(svg, across, picture)
    svg.path(points(list(steps(picture, across, up))), PRINT.accent, 1.2, fill="#D6E6EE")
    mean = across.at(picture.mean)
    svg.line(mean, TOP_PX + 12, mean, HIGH_PX, PRINT.ink, 1.2)
    svg.text(mean, TOP_PX + 8, f"mean {figure(picture.mean, picture.decimals)} {picture.unit}".strip(), NAME, "middle")
    for row, interval in enumerate(picture.intervals):
        draw_interval(svg, across, interval, HIGH_PX + FOOT_PX - 8 + row * BRACKET_PX)
    return svg.done()


def steps(picture: Picture, across: Axis, up: Axis) -> Iterator[tuple[float, float]]:
    """The outline of the bars, from the base line and back to it."""
    yield across.at(picture.edges[0]), up.start
    for left, right, density in zip(picture.edges, picture.edges[1:], picture.densities, strict=False):
        yield across.at(left), up.at(density)
        yield across.at(right), up.at(density)
    yield across.at(picture.edges[-1]), up.start


def draw_ticks(svg: Svg, across: Axis, picture: Picture) -> None:
    """Values along the base line, and their unit."""
    for x, words in across.ticks(64.0):
        svg.line(x, TOP_PX + 14, x, HIGH_PX, GRID, 0.7)
        svg.text(x, HIGH_PX + 13, words, QUIET, "middle")
    svg.line(across.start, HIGH_PX, across.end, HIGH_PX, PRINT.ink)
    svg.text(WIDE_PX - 4, HIGH_PX + 25, picture.unit, QUIET, "end")


def draw_interval(svg: Svg, across: Axis, interval: tuple[str, float, float], y: float) -> None:
    """A bracket from end to end with its words beside or over it."""
    words, low, high = interval
    start, end = across.at(low), across.at(high)
    svg.path(points([(start, y - 4), (start, y), (end, y), (end, y - 4)]), PRINT.ink, 1.3)
    svg.text((start + end) / 2, y + 3.5, fit(words, QUIET, 300), QUIET, "middle", halo=PRINT.sheet)


def histogram_words(picture: Picture) -> str:
    """The histogram in words."""
    said = "; ".join(
        f"{words} from {figure(low, picture.decimals)} to {figure(high, picture.decimals)} {picture.unit}"
        for words, low, high in picture.intervals
    )
    return f"Distribution about a mean of {figure(picture.mean, picture.decimals)} {picture.unit}: {said}."


def sentence(words: str) -> str:
    """A sentence in place of a picture."""
    svg = Svg(WIDE_PX, 34, words, PRINT.sheet)
    svg.text(4, 22, words, NAME)
    return svg.done()
