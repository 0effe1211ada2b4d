"""Movements against the stock by the gauge: what goes missing with time, with what meters count, or on one day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import DAY_s, YEAR_s, clock
from onedatum.foundation.numerics import Reals
from onedatum.foundation.sources import citation
from onedatum.foundation.wording import about, counted
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.beside import Movement
from onedatum.logs.review.causes import Cause, fitted
from onedatum.logs.review.detectors.ceiling import at_end
from onedatum.logs.review.detectors.rests import mean_of, rests_of
from onedatum.logs.review.finding import FalseAlarms, Finding, Judged, Size, Statistic, by_test
from onedatum.logs.review.limits import LATE, kinds, setting
from onedatum.physics.detection import (
    balance_residual_m3,
    balance_statistic,
    balance_u_m3,
    chi_squared_probability,
    false_alarms,
    least_told,
    shewhart_run_length,
    t_probability,
)
from onedatum.physics.detection.robust import MAD_TO_STANDARD

FEWEST = 8
CAUSES = ("time", "in", "out")
SUPPOSED = "independent balances of one spread, volumes at one temperature"
MOST_PLACES = 120
"""Begins that are tried."""
ALIKE = 1.1
"""Times the least scatter: causes that leave less are not told apart by the balances."""
LEAST_CHANCE = 1e-12
"""Below it no tail of a distribution is known well enough to be told."""
MOST_OPEN = 10
MISSED = 0.1
"""Of losses of the size that is told as the least that would have shown: so many do not show."""
OPEN = 6.0
"""Standard deviations by which one balance stands out."""
SPIRIT_LAW = "alkstv"
SPIRIT_LOSS = (0.01, 0.04)
"""Share of the mean stock in a year that is recognised as lost in store, in tanks and in casks without a coating."""


@dataclass(frozen=True)
class Balances:
    """One for each window between two cuts."""

    from_us: Reals
    to_us: Reals
    days: Reals
    in_m3: Reals
    out_m3: Reals
    missing_m3: Reals
    u_m3: Reals

    def kept(self, where: NDArray[np.bool_]) -> Balances:
        """Some of them."""
        return Balances(*(getattr(self, name)[where] for name in self.__dataclass_fields__))


def balance(bench: Bench, judged: Judged) -> None:
    """All of it, where movements and the tank table are known."""
    if not bench.has_movements or not bench.tank.has_table:
        lacks = "No movements" if not bench.has_movements else "No tank table"
        judged.cannot(f"{lacks}: the balance of the tank (leak, meters, movements not booked) cannot be judged.")
        return
    if judged.clock_until_us < bench.seen.last_us:
        judged.cannot(f"{LATE}balances are not judged.")
    found = _balances(bench, _cuts(bench, judged))
    found = found.kept(found.to_us <= judged.clock_until_us)
    if len(found.days) < FEWEST:
        many = counted(len(found.days), "whole balance")
        judged.cannot(f"{many}: {FEWEST} or more are needed for leak and meters.")
        return
    middle = float(np.median(found.missing_m3))
    spread = MAD_TO_STANDARD * float(np.median(np.abs(found.missing_m3 - middle)))
    u = np.maximum(found.u_m3, spread)
    opened = np.abs(found.missing_m3 - middle) > OPEN * u
    _open(bench, found, np.flatnonzero(opened).tolist(), middle, u, judged)
    rest = found.kept(~opened)
    if len(rest.days) >= FEWEST:
        _lasting(bench, rest, judged)
        if not any(judged.has(kind) for kind in ("leak", "gains", "meter")):
            _least_leak(bench, rest, judged)


def _open(bench: Bench, found: Balances, places: list[int], middle: float, u: Reals, judged: Judged) -> None:
    """The largest of those that do not close; two that are off by as much to opposite sides are one reading."""
    own: list[tuple[float, Finding]] = []
    while places:
        place = places.pop(0)
        off = float(found.missing_m3[place]) - middle
        finding = _unbooked(bench, found, place, middle, float(u[place]))
        if places and places[0] == place + 1 and found.from_us[place + 1] == found.to_us[place]:
            both = off + float(found.missing_m3[place + 1]) - middle
            if abs(both) <= OPEN * float(np.hypot(u[place], u[place + 1])):
                finding = _of_one_reading(bench, found, places.pop(0), finding, off)
        own.append((abs(off), finding))
    judged.findings += [each for _, each in sorted(own, key=lambda pair: -pair[0])[:MOST_OPEN]]
    if len(own) > MOST_OPEN:
        judged.notes.append(f"{len(own)} balances do not close; the {MOST_OPEN} largest are told.")


def _of_one_reading(bench: Bench, found: Balances, second: int, first: Finding, off_m3: float) -> Finding:
    """What the reading between two balances must have been off by, for both to close."""
    at = float(bench.level_at(int(found.from_us[second])))
    off_m = -off_m3 / bench.tank.area_m2(at)
    return replace(
        first,
        to_us=int(found.to_us[second]),
        said=f"{first.said}; and as much to the other side in the balance after it, as if the reading between them, "
        f"at {clock(int(found.from_us[second]))}, were off by {off_m * 1e3:+.0f} mm",
        sizes=(*first.sizes, Size("reading off", off_m, "m")),
        more=("a reading that was off for some hours: a film, a float held, an end of the signal", *first.more),
    )


@dataclass(frozen=True)
class Lasting:
    """What goes missing with one cause from a balance on."""

    place: int
    cause: Cause
    standard: float
    free: int
    tried: int


def _lasting(bench: Bench, rest: Balances, judged: Judged) -> None:
    """The cause that leaves least; where time and meters leave as much, rests say which it is."""
    found = {name: lasting for name in CAUSES if (lasting := _since(rest, name)) is not None}
    chance = kinds()["leak"].chance
    if not found:
        return
    best = min(found, key=lambda name: found[name].standard)
    alike = [name for name in found if found[name].standard < ALIKE * found[best].standard]
    if "time" in alike and len(alike) > 1:
        best = _by_rests(bench, rest, found["time"], [name for name in alike if name != "time"])
    lasting = found[best] if best == "time" else _beyond_its_class(bench, found[best])
    if lasting.cause.probability > chance:
        if found[best].cause.probability <= chance:
            judged.notes.append(_within_class(bench, rest, found[best].cause))
        return
    others = tuple(name for name in alike if name != best)
    own = rest.kept(np.arange(len(rest.days)) >= lasting.place)
    cause = replace(lasting.cause, together=others)
    judged.findings.append(_of_time(bench, own, cause) if best == "time" else _of_meter(bench, own, cause))


def _since(rest: Balances, name: str) -> Lasting | None:
    """A cause from the balance on from which it leaves least; every balance is tried, and counts."""
    column = {"time": rest.days, "in": rest.in_m3, "out": rest.out_m3}[name]
    if np.count_nonzero(column) < FEWEST // 2:
        return None
    count = len(rest.days)
    places = _places(count)
    best: Lasting | None = None
    for place in places:
        later = np.where(np.arange(count) >= place, column, 0.0)
        fit = fitted(rest.missing_m3, {name: later}, 1.0) if np.any(later) else None
        if fit is not None and (best is None or fit.standard < best.standard):
            best = Lasting(place, fit.causes[0], fit.standard, fit.free, len(places) * len(CAUSES))
    if best is None:
        return None
    return replace(best, cause=replace(best.cause, probability=min(best.cause.probability * best.tried, 1.0)))


def _by_rests(bench: Bench, rest: Balances, leak: Lasting, meters: list[str]) -> str:
    """Time, where the level at rest falls as it says; else the meter."""
    since_us = float(rest.from_us[leak.place])
    fall = mean_of(rests_of(bench), since_us)
    if fall is None:
        return "time"
    area = bench.tank.area_m2(float(np.nanmedian(bench.seen.series.mean_m)))
    due = -leak.cause.value / area
    return "time" if abs(fall.value - due) < abs(fall.value) else meters[0]


def _cuts(bench: Bench, judged: Judged) -> list[int]:
    """The cuts at which the gauge tells the stock: not those at which its reading stands at an end of the signal."""
    ends = [each for each in judged.findings if each.kind == "saturation" and each.sizes[0].suffix == "m"]
    cuts = [at for at in bench.cuts_us if not any(at_end(bench, each, at, bench.level_at(at)) for each in ends)]
    if len(cuts) < len(bench.cuts_us):
        judged.notes.append(
            f"Balances are not cut while the reading stands at the end of the signal: "
            f"{counted(len(bench.cuts_us) - len(cuts), 'time')} passed over."
        )
    return cuts


def _balances(bench: Bench, cuts_us: Sequence[int]) -> Balances:
    rows = []
    for begin, end in pairwise(cuts_us):
        before, after = bench.level_at(begin), bench.level_at(end)
        own = [each for each in bench.movements if begin <= each.from_us and each.to_us <= end]
        stock = bench.tank.volume_m3(np.array([before, after])) if np.isfinite(before + after) else np.full(2, np.nan)
        if not np.all(np.isfinite(stock)):
            continue
        into = sum(each.volume_m3 for each in own if each.volume_m3 > 0.0)
        out = -sum(each.volume_m3 for each in own if each.volume_m3 < 0.0)
        missing = float(balance_residual_m3(into, out, float(stock[1] - stock[0])))
        area = 0.5 * (bench.tank.area_m2(before) + bench.tank.area_m2(after))
        u = float(balance_u_m3(_u(own, 1.0), _u(own, -1.0), area * setting("stock_u_m")))
        rows.append((begin, end, (end - begin) / 1e6 / DAY_s, into, out, missing, u))
    return Balances(*np.array(rows, dtype=float).reshape(-1, 7).T)


def _u(own: list[Movement], sign: float) -> float:
    """Standard uncertainty of the movements of one sign, each even within its half-width."""
    share = setting("movement_half_width")
    halves = [each.half_width_m3 or share * abs(each.volume_m3) for each in own if np.sign(each.volume_m3) == sign]
    return float(np.sqrt(np.sum(np.square(halves)) / 3.0))


def _unbooked(bench: Bench, found: Balances, place: int, middle: float, u: float) -> Finding:
    missing = float(found.missing_m3[place])
    factor = min(OPEN, 6.0)
    length = float(shewhart_run_length(factor, 0.0))
    every_s = float(np.median(found.days)) * DAY_s
    statistic = float(balance_statistic(missing - middle, u))
    chance = float(chi_squared_probability(min(statistic, 1e7), 1.0))
    way = "missing" if missing > 0.0 else "too many"
    often = f"{chance:.1e}" if chance >= LEAST_CHANCE else f"below {LEAST_CHANCE:g}"
    return Finding(
        "unbooked",
        int(found.from_us[place]),
        int(found.to_us[place]),
        Statistic("chi-squared of the balance", statistic, OPEN**2),
        FalseAlarms(
            float(false_alarms(YEAR_s, every_s, length)),
            f"one balance in {about(length)}; supposes normal balances, whose spread is that of the middle ones",
            length * every_s,
        ),
        f"{abs(missing):.3g} m3 {way} (standard uncertainty {u:.2g}), probability by chance {often}",
        (Size("missing", missing, "m3"),),
    )


def _test(bench: Bench, cause: Cause, kind: str) -> tuple[Statistic, FalseAlarms]:
    chance = kinds()[kind].chance
    return Statistic("probability by chance", cause.probability, chance, True), by_test(
        chance,
        bench.seen.span_s,
        f"{SUPPOSED}; all begins and causes that were tried are counted",
    )


def _more(cause: Cause) -> tuple[str, ...]:
    names = {"time": "a loss with time", "in": "the meter of what comes in", "out": "the meter of what goes out"}
    return tuple(f"not told apart from {names[name]}: both went together" for name in cause.together)


def _of_time(bench: Bench, rest: Balances, cause: Cause) -> Finding:
    kind = "leak" if cause.value > 0.0 else "gains"
    statistic, rate = _test(bench, cause, kind)
    stock = float(np.nanmean(bench.tank.volume_m3(bench.seen.series.mean_m)))
    share = cause.value * 365.25 / stock if stock > 0.0 else np.nan
    more = _more(cause)
    if bench.tank.is_spirit and 0.0 < share <= SPIRIT_LOSS[1]:
        more = (
            f"loss in store: {SPIRIT_LOSS[0]:.0%} of the mean stock in a year is recognised for spirit in tanks, "
            f"{SPIRIT_LOSS[1]:.0%} in casks without a coating ({citation(SPIRIT_LAW)})",
            *more,
        )
    said = (
        f"{cause.value * 1e3:+.3g} L a day (standard uncertainty {cause.u * 1e3:.2g}), {share:.2%} of the mean stock "
        f"in a year; {len(rest.days)} balances, t = {cause.t:.1f}"
    )
    sizes = (Size("in a second", cause.value / DAY_s, "m3_per_s"), Size("share of the stock in a year", share, ""))
    return Finding(kind, int(rest.from_us[0]), int(rest.to_us[-1]), statistic, rate, said, sizes, more)


def _least_leak(bench: Bench, rest: Balances, judged: Judged) -> None:
    """What loss this tank, this sampling and these meters would have shown."""
    fit = fitted(rest.missing_m3, {"time": rest.days}, 1.0)
    if fit is None:
        return
    tried = len(_places(len(rest.days))) * len(CAUSES)
    least = least_told(fit.causes[0].u, float(fit.free), kinds()["leak"].chance / tried, MISSED) * 1e3
    of_meters = _class_of(bench) * float(np.sum(rest.in_m3 + rest.out_m3) / np.sum(rest.days)) * 1e3
    judged.notes.append(
        f"No loss with time is told, by {len(rest.days)} balances. One that went on through all of them would have "
        f"shown nine times in ten from {least:.3g} L a day on, where the movements do not go with the time; where they "
        f"do, less than {of_meters:.3g} L a day may as well be the meters, within what they may be off by."
    )


def _places(count: int) -> range:
    """Begins that are tried."""
    return range(0, count - FEWEST + 1, max(1, count // MOST_PLACES))


def _class_of(bench: Bench) -> float:
    """Share of a movement that its meter may be off by."""
    shares = [(each.half_width_m3 or 0.0) / abs(each.volume_m3) for each in bench.movements if each.volume_m3]
    stated = [share for share in shares if share > 0.0]
    return float(np.median(stated)) if stated else setting("movement_half_width")


def _beyond_its_class(bench: Bench, lasting: Lasting) -> Lasting:
    """A meter is off only where it is so by more than it may be: what is told by chance is that which is beyond."""
    cause = lasting.cause
    beyond = max(abs(cause.value) - _class_of(bench), 0.0)
    t = float(np.copysign(beyond / max(cause.u, 1e-300), cause.value))
    p = float(t_probability(float(np.clip(t, -1e6, 1e6)), max(float(lasting.free), 1.0))) if beyond else 1.0
    return replace(lasting, cause=replace(cause, t=t, probability=min(p * lasting.tried, 1.0)))


def _within_class(bench: Bench, rest: Balances, cause: Cause) -> str:
    """What is missing, yet no more than a meter may be off by: a leak of that size would not be told."""
    column = rest.in_m3 if cause.name == "in" else rest.out_m3
    daily = abs(cause.value) * float(np.sum(column) / np.sum(rest.days))
    way, own = "comes in" if cause.name == "in" else "goes out", _class_of(bench)
    held = "no more than a meter may be off by"
    if abs(cause.value) > own:
        held = f"not so far beyond the {own:.2%} that a meter may be off by that chance could not have made it"
    return (
        f"{abs(cause.value):.2%} of what {way} is {_lacks(cause)}, {daily * 1e3:.3g} L a day: {held}; a leak of that "
        "size is not told from it."
    )


def _lacks(cause: Cause) -> str:
    return "missing" if cause.value > 0.0 else "too many"


def _of_meter(bench: Bench, rest: Balances, cause: Cause) -> Finding:
    statistic, rate = _test(bench, cause, "meter")
    more = _more(cause)
    if {"in", "out"} <= {cause.name, *cause.together}:
        more = ("movements in and out go together: which of the meters, or the tank table, is not told apart", *more)
    way = "comes in" if cause.name == "in" else "goes out"
    is_more = (cause.value > 0.0) == (cause.name == "out")
    said = (
        f"{abs(cause.value):.2%} of what {way} is {_lacks(cause)} (standard uncertainty {cause.u:.2%}): as if so "
        f"much {'more' if is_more else 'less'} {way} than is counted; {len(rest.days)} balances, t = {cause.t:.1f} "
        f"for what is beyond the {_class_of(bench):.2%} that a meter may be off by"
    )
    sizes = (Size(f"share of what {way}", cause.value, ""),)
    return Finding("meter", int(rest.from_us[0]), int(rest.to_us[-1]), statistic, rate, said, sizes, more)
