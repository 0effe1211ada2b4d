"""How a watch reads: a table for a terminal, a line for each change, an object for each sample."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from onedatum.foundation.moments import MICRO, DAY_s, HOUR_s, moment_of
from onedatum.logs.live.follower import View
from onedatum.logs.live.levelling import NO_CURRENT_HIGH, NO_CURRENT_LOW, VOLUME, Amount
from onedatum.logs.live.link import AGAIN
from onedatum.logs.live.outlook import COVERAGE, Outlook, Rate
from onedatum.logs.reasons import FLAGS

HEAD = ("tag", "standing", "level", "age", "volume", "rate", "forecast")
BEFORE = {"at or below": "<= ", "at or above": ">= "}
STATES = {
    "failure_low": "failure current, low",
    "failure_high": "failure current, high",
    "undefined_low": "neither failure nor measurement, low",
    "undefined_high": "neither failure nor measurement, high",
    NO_CURRENT_LOW: "no current of a loop, low",
    NO_CURRENT_HIGH: "no current of a loop, high",
}
LEAST_RATE_mm_per_min = 0.01
TENTHS_s, MINUTE_s = 10.0, 60.0
SUPPOSED = (
    "Forecasts suppose that the rate of the last {over} goes on, with 95 % of its scatter; nobody knows that it will."
)


@dataclass(frozen=True)
class Status:
    """What stands above the table."""

    now_us: int
    every_s: float
    over_s: float
    rows: int
    waiting: int
    notes: tuple[str, ...] = ()


def table_text(views: Sequence[View], status: Status) -> str:
    """The whole table, with what must be said of it."""
    lines = [HEAD, *(_cells(view) for view in views)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(HEAD))]
    table = ["  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in lines]
    remarks = [f"{view.tag}: {view.remark}" for view in views if view.remark]
    kept = f", {status.rows} rows kept, {status.waiting} waiting" if status.rows or status.waiting else ""
    top = f"{time_text(status.now_us)[:19]} UTC, read only, no alarm, every {_span(status.every_s)}{kept}"
    supposed = SUPPOSED.format(over=_span(status.over_s))
    return "\n".join([top, "", *table, "", *remarks, *status.notes, supposed, ""])


def _cells(view: View) -> tuple[str, ...]:
    age_s = view.age_s if view.amount is not None else view.last_age_s
    age = "" if age_s is None else _span(age_s)
    volume = view.amount.quantities.get(VOLUME) if view.amount is not None else None
    return (
        view.tag,
        standing_text(view),
        level_text(view),
        age,
        "" if volume is None else BEFORE.get(view.standing, "") + _volume_text(view, volume),
        rate_text(view.rate_m_per_s),
        "; ".join(outlook_text(each) for each in view.outlooks if each.earliest_s is not None) or _why_none(view),
    )


def standing_text(view: View) -> str:
    """The standing, of a failure current which one."""
    state = view.amount.state if view.amount is not None and view.standing == "no measurement" else None
    return STATES.get(state or "", view.standing)


def level_text(view: View) -> str:
    """The level with its expanded uncertainty; one that no longer holds in brackets."""
    amount, last = view.amount, view.last
    if amount is not None and amount.level_m is not None:
        half = amount.u_level_m
        if half is None or view.standing != "good":
            return f"{BEFORE.get(view.standing, '')}{amount.level_m:.4f} m"
        level, within = rounded(1e3 * amount.level_m, 1e3 * COVERAGE * half)
        return f"{float(level) / 1e3:.{min(3 + len(level.partition('.')[2]), 5)}f} m +-{within} mm"
    current = "" if amount is None or amount.current_A is None else f" at {1e3 * amount.current_A:.3f} mA"
    if last is None or last.level_m is None:
        return f"unknown{current}"
    bound = next((sign for name, sign in BEFORE.items() if last.flags & FLAGS[name.replace(" ", "_")]), "")
    ago = "" if view.last_age_s is None else f" {_span(view.last_age_s)} ago"
    return f"unknown{current} (was {bound}{last.level_m:.4f} m{ago})"


def rounded(value: float, half: float) -> tuple[str, str]:
    """A value to the place of the second digit of its half width, and that half width with its two digits."""
    places = min(max(1 - math.floor(math.log10(half)), 0), 6) if half > 0.0 and math.isfinite(half) else 4
    return f"{value:.{places}f}", f"{half:.{places}f}"


def _volume_text(view: View, volume_m3: float) -> str:
    """The volume, where it is no bound with its expanded uncertainty."""
    u_m3 = view.amount.quantities.get(f"u_{VOLUME}") if view.amount is not None else None
    if u_m3 is None or view.standing != "good":
        return f"{volume_m3:.3f} m3"
    told, within = rounded(volume_m3, COVERAGE * u_m3)
    return f"{told} +-{within} m3"


def rate_text(rate: Rate | None) -> str:
    """A rate of the level by the minute, with half of its interval."""
    if rate is None:
        return ""
    middle, half = (each * 1e3 * MINUTE_s for each in (rate.middle, 0.5 * (rate.high - rate.low)))
    told, within = rounded(middle, max(half, LEAST_RATE_mm_per_min))
    return f"{'+' * (middle > 0.0)}{told} +-{within} mm/min"


def outlook_text(found: Outlook) -> str:
    """An alarm and the span in which it is reached: rounded so that no more time is promised than there is."""
    if found.earliest_s is None or found.latest_s is None:
        return f"{found.name}: {found.why}"
    return f"{found.name} in {_least(found.earliest_s)} to {_most(found.latest_s)}"


def _why_none(view: View) -> str:
    """By reason, the alarms to which there is no forecast."""
    names: dict[str, list[str]] = {}
    for each in view.outlooks:
        if each.why and not each.why.startswith("none:"):
            names.setdefault(each.why, []).append(each.name)
    said = (f"{', '.join(own)}: {why}" for why, own in names.items())
    return "; ".join(said) if view.standing == "good" else ""


def change_key(view: View) -> tuple[str, str]:
    """What makes a line of its own: the standing and the remark, whatever its numbers."""
    return standing_text(view), re.sub(r"[\d.]+", "", view.remark.partition(AGAIN)[0])


def change_line(view: View, now_us: int) -> str:
    """One line of a change."""
    remark = f": {view.remark}" if view.remark else ""
    return f"{time_text(now_us)} {view.tag} {standing_text(view)}, level {level_text(view)}{remark}"


def view_json(view: View, now_us: int) -> dict[str, Any]:
    """A tag as it stands, for a program: what does not hold is null."""
    amount = view.amount or Amount()
    return {
        "time": time_text(now_us),
        "tag": view.tag,
        "standing": view.standing,
        "age_s": view.age_s,
        "state": amount.state,
        "flags": [name for name, bit in FLAGS.items() if amount.flags & bit],
        "current_A": amount.current_A,
        "level_m": amount.level_m,
        "u_level_m": amount.u_level_m,
        "quantities": dict(amount.quantities),
        "last": None if view.last is None else {"level_m": view.last.level_m, "age_s": view.last_age_s},
        "source_age_s": view.source_age_s,
        "rate_m_per_s": _rate_json(view.rate_m_per_s),
        "rate_m3_per_s": _rate_json(view.rate_m3_per_s),
        "forecast": [_outlook_json(each, now_us) for each in view.outlooks],
        "remark": view.remark,
    }


def _rate_json(rate: Rate | None) -> Mapping[str, float] | None:
    return None if rate is None else {"middle": rate.middle, "low": rate.low, "high": rate.high}


def _outlook_json(found: Outlook, now_us: int) -> dict[str, Any]:
    spans = {"earliest": found.earliest_s, "latest": found.latest_s}
    times = {key: None if each is None else time_text(now_us + int(each * MICRO)) for key, each in spans.items()}
    return {"name": found.name, "level_m": found.level_m, **times, "why_none": found.why}


def time_text(time_us: int) -> str:
    """A time in UTC, to the millisecond."""
    return moment_of(time_us).isoformat(sep=" ", timespec="milliseconds").replace("+00:00", "Z")


def _span(span_s: float) -> str:
    """A span of time, short."""
    if span_s < MINUTE_s:
        return f"{round(span_s, 1) if span_s < TENTHS_s else round(span_s):g} s"
    if span_s < HOUR_s:
        return f"{span_s / MINUTE_s:.0f} min"
    return f"{span_s / HOUR_s:.1f} h" if span_s < DAY_s else f"{span_s / DAY_s:.1f} d"


def _least(span_s: float) -> str:
    return f"{math.floor(span_s / MINUTE_s)} min" if span_s < HOUR_s else f"{math.floor(span_s / HOUR_s * 10) / 10} h"


def _most(span_s: float) -> str:
    return f"{math.ceil(span_s / MINUTE_s)} min" if span_s < HOUR_s else f"{math.ceil(span_s / HOUR_s * 10) / 10} h"
