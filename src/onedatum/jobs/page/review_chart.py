"""The picture of a part of a reviewed log: from when to when, what is drawn, where the buttons lead; and it as data."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from math import isfinite
from pathlib import Path
from typing import Any, Literal

from onedatum.foundation.errors import Fault, LogError, NotRecorded
from onedatum.foundation.moments import us_of
from onedatum.foundation.units import in_print
from onedatum.foundation.units.grammar import quoted
from onedatum.jobs.page.picture import Picture, picture
from onedatum.jobs.page.review import Chosen, FindingView, Shown
from onedatum.paper.review.times import text_of
from onedatum.paper.review.zoom import Range, Shade, Zoom, plot_px, zoom_svg

Value = Literal["level", "current"]
LEAST_WIDE, USUAL_WIDE, MOST_WIDE = 280, 862, 2400
LONGEST = 60
CLOSEST_us = 2_000_000
CLOSEST_ROWS = 10
GONE = "they were kept for a while only"
JOINED = 3.5
"""Rows nearer than this, in usual times from row to row, are joined."""
ALLOWED = 'a time such as "2026-03-02 14:30", in UTC where it states no offset'
_DIGITS = re.compile(r"-?\d{12,19}")
_LEAST = {"level": 2.0, "current": 0.02}
_NAMES = {"level": "level, mm", "current": "current, mA"}
FAILED, LOW, HIGH = 0b0011110, 0b0100000, 0b1000000
"""Bits of the kinds of rows: failure information or neither, at the lower end, at the upper end."""


@dataclass(frozen=True)
class Asked:
    """What part is wanted, as it was typed."""

    begin: str = ""
    end: str = ""
    show: Value = "level"
    wide_px: int = USUAL_WIDE


@dataclass(frozen=True)
class Door:
    """A button: where it leads; "" where it leads nowhere."""

    key: str
    words: str
    query: str


@dataclass(frozen=True)
class ChartView:
    """The picture with its doors."""

    begin: str
    end: str
    span: str
    svg: Picture
    doors: tuple[Door, ...]
    faults: Mapping[str, str]
    typed: tuple[str, str]
    show: Value
    shows: tuple[Value, ...]
    from_us: int
    to_us: int
    first_us: int
    last_us: int
    closest_us: int
    plot_px: tuple[float, float]
    wide_px: int
    hrefs: Mapping[int, str]
    """Where each finding leads."""
    here: int
    """The finding whose time is shown; 0 for none."""


def span_of(shown: Shown, asked: Asked) -> tuple[int, int, dict[str, Fault]]:
    """From when to when, and what is wrong with what was typed: then the whole log."""
    faults: dict[str, Fault] = {}
    first, last = shown.first_us, max(shown.last_us, shown.first_us + 1)
    begin = _time(asked.begin, first, "from", faults)
    end = _time(asked.end, last, "to", faults)
    if not faults and end <= begin:
        faults["to"] = Fault("to", "a time after from", quoted(asked.end or text_of(end)))
    elif not faults and (begin >= last or end <= first):
        why = f"the log goes from {text_of(first)} to {text_of(last)}"
        faults["from"] = Fault("from and to", "times of the log", quoted(f"{asked.begin} to {asked.end}"), why)
    if faults:
        return first, last, faults
    return *_within(shown, begin, end), {}


def _time(text: str, usual: int, name: str, faults: dict[str, Fault]) -> int:
    typed = " ".join(text.replace("\u2212", "-").split())[:LONGEST]
    if not typed:
        return usual
    if _DIGITS.fullmatch(typed) and typed.isascii():
        return int(typed)
    try:
        moment = datetime.fromisoformat(typed)
        return us_of(moment if moment.tzinfo else moment.replace(tzinfo=UTC))
    except (ValueError, OverflowError):
        faults[name] = Fault(name, ALLOWED, quoted(typed))
        return usual


def _within(shown: Shown, begin: int, end: int) -> tuple[int, int]:
    """A span that lies in the log and is no shorter than rows can be told apart."""
    first, last = shown.first_us, max(shown.last_us, shown.first_us + 1)
    least = min(closest_us(shown), last - first)
    if end - begin < least:
        begin = (begin + end - least) // 2
        end = begin + least
    if begin < first:
        begin, end = first, max(first + least, min(end, last))
    if end > last:
        begin, end = max(first, min(begin, last - least)), last
    return begin, end


def closest_us(shown: Shown) -> int:
    """The shortest span that is drawn."""
    return max(CLOSEST_us, int(CLOSEST_ROWS * shown.usual_us))


def length_words(us: float) -> str:
    """How long a span is."""
    for unit_us, unit in ((86_400e6, "d"), (3600e6, "h"), (60e6, "min")):
        if us >= 2.0 * unit_us:
            return f"{us / unit_us:.3g} {unit}"
    return f"{us / 1e6:.3g} s"


def chart_view(shown: Shown, chosen: Chosen, place: Path, asked: Asked) -> ChartView:
    """The picture of the part that is asked for; raises NotRecorded where the rows are gone."""
    begin, end, wrong = span_of(shown, asked)
    faults = {key: in_print(fault.sentence()) for key, fault in wrong.items()}
    show: Value = asked.show if asked.show != "current" or shown.has_current else "level"
    hrefs = {each.number: f"?{_query(shown, chosen, show, *_around(shown, each))}" for each in shown.findings}
    wide = min(max(asked.wide_px, LEAST_WIDE), MOST_WIDE)
    svg = zoom_svg(_zoom(shown, place, begin, end, show, wide, hrefs))
    is_whole = (begin, end) == (shown.first_us, max(shown.last_us, shown.first_us + 1))
    here = (each.number for each in shown.findings if not is_whole and _around(shown, each) == (begin, end))
    typed = (asked.begin if faults else text_of(begin), asked.end if faults else text_of(end))
    return ChartView(
        text_of(begin), text_of(end), length_words(end - begin), picture(svg, "log"),
        tuple(_doors(shown, chosen, show, begin, end)), faults, typed, show,
        ("level", "current") if shown.has_current else ("level",),
        begin, end, shown.first_us, shown.last_us, closest_us(shown), plot_px(wide), wide, hrefs, next(here, 0),
    )  # fmt: skip


def columns_data(shown: Shown, place: Path, asked: Asked, columns: int) -> dict[str, Any]:
    """The same as data in SI; raises NotRecorded."""
    begin, end, faults = span_of(shown, asked)
    if faults:
        raise LogError(list(faults.values()))
    found = _strokes(shown, place, begin, end, asked.show, columns)
    name = "level_m" if asked.show == "level" else "current_A"
    numbers = ([each if isfinite(each) else None for each in part.tolist()] for part in (found.low, found.high))
    low, high = numbers
    times = [text_of(int(us)).replace(" ", "T") + "Z" for us in found.at_us.tolist()]
    return {"is_rows": found.is_rows, "time": times, f"low_{name}": low, f"high_{name}": high}


def _query(shown: Shown, chosen: Chosen, show: Value, begin: int, end: int) -> str:
    whole = (begin, end) == (shown.first_us, max(shown.last_us, shown.first_us + 1))
    times = [] if whole else [("from", text_of(begin)), ("to", text_of(end))]
    return chosen.query(*times, *([("show", show)] if show != "level" else []))


def _around(shown: Shown, each: FindingView) -> tuple[int, int]:
    """The time of a finding with something before and after, in whole seconds."""
    room = max((each.to_us - each.from_us) // 5, int(60 * shown.usual_us))
    begin, end = each.from_us - room, each.to_us + room
    return _within(shown, begin - begin % 1_000_000, end + -end % 1_000_000)


def _doors(shown: Shown, chosen: Chosen, show: Value, begin: int, end: int) -> Iterator[Door]:
    span, middle = end - begin, (begin + end) // 2
    wanted = (
        ("earlier", "Earlier", begin - span // 2, end - span // 2),
        ("later", "Later", begin + span // 2, end + span // 2),
        ("closer", "Closer", middle - span // 4, middle + span // 4),
        ("wider", "Wider", middle - span, middle + span),
        ("whole", "Whole log", shown.first_us, shown.last_us),
    )
    unit = 1_000_000 if span > 60_000_000 else 1000
    for key, words, low, high in wanted:
        if key != "whole":
            low, high = low - low % unit, high - high % unit
        to = _moved(shown, low, high) if key in ("earlier", "later") else _within(shown, low, high)
        yield Door(key, words, "" if to == (begin, end) else _query(shown, chosen, show, *to))


def _moved(shown: Shown, begin: int, end: int) -> tuple[int, int]:
    """A span of the same length, no farther than the ends of the log."""
    first, last = shown.first_us, max(shown.last_us, shown.first_us + 1)
    off = max(first - begin, 0) + min(last - end, 0)
    return max(begin + off, first), min(end + off, last)


# ---------------------------------------------------------------- what is drawn


def _strokes(shown: Shown, place: Path, begin: int, end: int, show: Value, columns: int) -> Any:
    from onedatum.logs.review.kept import Kept

    try:
        return Kept(place / shown.key).strokes("level_m" if show == "level" else "current_A", begin, end, columns)
    except (OSError, ValueError) as error:
        raise NotRecorded("the rows of the review", "held", "none", GONE, "Review the log again") from error


def _zoom(shown: Shown, place: Path, begin: int, end: int, show: Value, wide: int, hrefs: Mapping[int, str]) -> Zoom:
    left, right = plot_px(wide)
    columns = int(right - left)
    found = _strokes(shown, place, begin, end, show, columns)
    times = 1e3
    spans = _spans(found, end, (end - begin) / columns)
    return Zoom(
        begin, end, _NAMES[show],
        tuple(found.at_us.tolist()), tuple((found.low * times).tolist()), tuple((found.high * times).tolist()),
        max(JOINED * shown.usual_us, 1.5 * (end - begin) / columns), found.is_rows, _LEAST[show],
        gaps=tuple(Shade(a, b) for a, b in shown.gaps if b > begin and a < end),
        failed=tuple(Shade(a, b) for a, b in spans(FAILED)) if show == "level" else (),
        bounds=tuple(Shade(a, b, bit == HIGH) for bit in (LOW, HIGH) for a, b in spans(bit)) if show == "level" else (),
        ranges=tuple(Range(each.number, each.title, each.from_us, each.to_us, hrefs[each.number])
                     for each in shown.findings),
        dips=tuple((us, level * times) for us, level in shown.dips if begin <= us <= end) if show == "level" else (),
        wide_px=float(wide),
    )  # fmt: skip


def _spans(found: Any, end: int, wide_us: float) -> Any:
    """A function from bits to the spans in which some row has one of them."""
    at = found.at_us.tolist()
    kinds = found.kinds.tolist()
    if found.is_rows:
        edges = [*at, min(end, 2 * at[-1] - at[-2]) if len(at) > 1 else end]
    else:
        edges = [each - wide_us / 2.0 for each in at] + [float(end)]

    def spans(bits: int) -> Iterator[tuple[float, float]]:
        begin: float | None = None
        for place, kind in enumerate(kinds):
            if kind & bits and begin is None:
                begin = edges[place]
            elif not kind & bits and begin is not None:
                yield begin, edges[place]
                begin = None
        if begin is not None:
            yield begin, edges[-1]

    return spans
