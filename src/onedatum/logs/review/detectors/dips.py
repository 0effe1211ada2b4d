"""Gauge less dip: bias, drift, what goes with the level, what differs after emptying, a step on a day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.moments import DAY_s, clock
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import counted
from onedatum.logs.review.bench import Bench
from onedatum.logs.review.causes import Cause, Change, Fit, changed, fitted
from onedatum.logs.review.finding import Finding, Judged, Size, Statistic, by_limits, by_test
from onedatum.logs.review.limits import kinds, setting
from onedatum.physics.detection import (
    bias_degrees_of_freedom,
    bias_standard_m,
    bias_t,
    step_search,
    t_probability,
)
from onedatum.physics.detection.robust import MAD_TO_STANDARD

FEWEST, FEWEST_FOR_CAUSES = 4, 8
MOST_MOVING_m = 0.003
"""Change of the level within a minute about a dip, beyond which the dip says little."""
STRANGE, STRANGE_m = 8.0, 0.03
"""A dip so far from the others, in standard deviations and at least, is set aside."""
MOST_TOLD = 5
SHARE_OF_LEVELS = 0.1
"""Of the span: how far levels must vary to tell what goes with them."""
FEWEST_OF_A_WAY = 4
WORDS = {"time": "time", "level": "the level", "after emptying": "the way that the level came"}
EMPTIED = "after emptying"


@dataclass(frozen=True)
class Pairs:
    """Dips with the level that the gauge told at the same time."""

    at_us: Reals
    off_m: Reals
    level_m: Reals
    emptied: Reals
    """1 where the level last came from above, 0 from below."""

    def kept(self, where: NDArray[np.bool_]) -> Pairs:
        """Some of them."""
        return Pairs(self.at_us[where], self.off_m[where], self.level_m[where], self.emptied[where])


def against_dips(bench: Bench, judged: Judged) -> None:
    """All of it, where there are dips enough."""
    if not bench.has_dips:
        judged.cannot(
            "No dips: bias, drift, what goes with the level (density, permittivity), film and a float that takes "
            "liquid cannot be judged."
        )
        return
    pairs = _pairs(bench, judged)
    usable = counted(len(pairs.off_m), "usable dip")
    if len(pairs.off_m) < FEWEST:
        judged.cannot(f"{usable}: at least {FEWEST} are needed for bias, drift and film.")
        _told_alone(pairs, judged)
        return
    chance = kinds()["drift"].chance
    columns = _columns(bench, pairs, judged)
    fit = fitted(pairs.off_m, columns, chance, "1")
    if fit is None or len(pairs.off_m) < FEWEST_FOR_CAUSES:
        judged.cannot(f"{usable}: {FEWEST_FOR_CAUSES} or more are needed for drift, level and film.")
        _bias(bench, pairs, judged)
        return
    begins = {EMPTIED: pairs.emptied} if EMPTIED in columns else {}
    change = changed(pairs.at_us, pairs.off_m, columns, chance, begins)
    if change is None:
        _lasting(bench, pairs, fit, judged)
        if fit.of("level") is None:
            _bias(bench, pairs, judged)
        return
    if change.name == EMPTIED:
        judged.findings.append(_of_cause(bench, pairs, change.cause, "film", int(pairs.at_us[change.place])))
        return
    judged.findings.append(_step(bench, pairs, change) if change.name == "step" else _drift(bench, pairs, change))
    if change.name == "time":
        _lasting(bench, pairs, change.fit, judged)
        return
    later = pairs.kept(np.arange(len(pairs.off_m)) >= change.place)
    if len(later.off_m) >= FEWEST_FOR_CAUSES:
        own = {name: column[change.place :] for name, column in columns.items() if name != "time"}
        after = fitted(later.off_m, own, chance, "1")
        _lasting(bench, later, after or change.fit, judged)


def _told_alone(pairs: Pairs, judged: Judged) -> None:
    """What few dips show, without a claim."""
    if not len(pairs.off_m):
        return
    told = zip(pairs.at_us.tolist(), pairs.off_m.tolist(), strict=True)
    said = ", ".join(f"{off * 1e3:+.1f} mm at {clock(int(at))}" for at, off in told)
    judged.notes.append(
        f"Gauge less dip: {said}. No claim rests on so few: the dip, its reference point and the gauge are to be "
        "looked at alike."
    )


def _pairs(bench: Bench, judged: Judged) -> Pairs:
    rows, without, moving, other = [], 0, 0, 0
    for dip in bench.dips:
        level, slope = bench.level_at(dip.time_us), bench.slope_at(dip.time_us)
        if not np.isfinite(level):
            without += 1
        elif abs(slope) * 60.0 > MOST_MOVING_m:
            moving += 1
        elif dip.time_us > judged.clock_until_us and not _rests_about(bench, dip.time_us, judged.clock_off_us):
            other += 1
        else:
            rows.append((float(dip.time_us), level - dip.level_m, dip.level_m, _emptied(bench, dip.time_us)))
    if without:
        judged.notes.append(f"Dips without a level beside them in the log, left out: {without}.")
    if moving:
        judged.notes.append(f"Dips taken while the level moved, left out: {moving}.")
    if other:
        judged.notes.append(
            f"Dips left out, as the clock of the log is in doubt by then and the level moves within what it is off by: "
            f"{other}."
        )
    pairs = Pairs(*np.array(rows, dtype=float).reshape(-1, 4).T)
    if len(rows) < FEWEST:
        return pairs
    apart = np.abs(_around(pairs.off_m))
    most = max(STRANGE * MAD_TO_STANDARD * float(np.median(apart)), STRANGE_m)
    strange = apart > most
    if not strange.any():
        return pairs
    off = pairs.off_m - np.interp(pairs.at_us, pairs.at_us[~strange], pairs.off_m[~strange])
    strange &= np.abs(off) > most  # one that only lay between strangers is none
    if strange.any():
        judged.findings.append(_far(pairs.kept(strange), len(rows), off[strange], judged.clock_until_us))
    return pairs.kept(~strange)


def _rests_about(bench: Bench, at_us: int, off_us: int) -> bool:
    """Whether the level is the same for so long before and after a time, so that no clock off by that matters."""
    series = bench.seen.series
    ends = [(at_us - off_us) // series.length_us, (at_us + off_us) // series.length_us + 1]
    low, high = np.searchsorted(series.index, ends)
    return not bool(np.any(bench.moving[low:high]))


def _far(far: Pairs, count: int, apart: Reals, clock_until_us: float) -> Finding:
    """Dips far from those about them: set aside for all else, yet told, for it may be the gauge that was off."""
    told = list(zip(far.at_us.tolist(), apart.tolist(), strict=True))
    said = ", ".join(f"{clock(int(at))} {off * 1e3:+.0f} mm" for at, off in told[:MOST_TOLD])
    more = []
    if far.at_us[-1] > clock_until_us:
        more.append("the clock of the log, in doubt by then: the level may be that of another hour")
    if len(told) > 1 and np.all(far.emptied == 1.0):
        more.append("a film on the probe, or a float held: every one of these dips was taken after emptying")
    if len(told) > 1 and (np.all(apart < 0.0) or np.all(apart > 0.0)):
        way = "lower" if apart[0] < 0.0 else "higher"
        more.append(f"a gauge that was off for a while: it read {way} at every one of these dips")
    return Finding(
        "far_dip",
        int(far.at_us[0]),
        int(far.at_us[-1]),
        Statistic("gauge less dip, from those about it, m", float(np.max(np.abs(apart))), STRANGE_m),
        by_limits(f"{STRANGE:g} standard deviations and {STRANGE_m * 1e3:g} mm, more than dips that are right scatter"),
        f"{len(told)} of {counted(count, 'dip')} far from those about them, set aside for all else: {said}"
        + (f", and {len(told) - MOST_TOLD} more" if len(told) > MOST_TOLD else ""),
        (Size("largest", float(apart[np.argmax(np.abs(apart))]), "m"),),
        tuple(more),
    )


def _around(off: Reals) -> Reals:
    """Each less the median of the five about it: a step or a drift is no stranger."""
    padded = np.pad(off, 2, mode="reflect") if len(off) > 2 else off
    middle = np.median(np.lib.stride_tricks.sliding_window_view(padded, 5), axis=1)
    return np.asarray(off - middle)


def _emptied(bench: Bench, at_us: int) -> float:
    """1 where the last movement before went downward, 0 upward; NaN where none was seen."""
    series = bench.seen.series
    place = int(np.searchsorted(series.start_us, at_us, side="right")) - 1
    before = np.flatnonzero(bench.moving[: max(place + 1, 0)] & np.isfinite(series.slope_m_per_s[: max(place + 1, 0)]))
    if not len(before):
        return float("nan")
    last = before[-1]
    begin = last
    while begin > 0 and bench.moving[begin - 1] and last - begin < 8:
        begin -= 1
    change = series.columns["last_m"][last] - series.columns["first_m"][begin]
    return float(change < 0.0) if np.isfinite(change) else float("nan")


def _columns(bench: Bench, pairs: Pairs, judged: Judged) -> dict[str, Reals]:
    days = (pairs.at_us - pairs.at_us[0]) / 1e6 / DAY_s
    found = {"1": np.ones(len(days)), "time": days - np.mean(days)}
    span = abs(bench.tank.upper_m - bench.tank.lower_m)
    reach = float(np.ptp(pairs.level_m))
    if reach >= SHARE_OF_LEVELS * (span if np.isfinite(span) else 1.0):
        found["level"] = pairs.level_m - np.mean(pairs.level_m)
    else:
        judged.cannot(
            "The dips lie at nearly one level: what goes with the level (density, permittivity) is not judged."
        )
    way = pairs.emptied
    ways = [np.count_nonzero(way == each) for each in (0.0, 1.0)]
    if np.all(np.isfinite(way)) and min(ways) >= FEWEST_OF_A_WAY:
        found["after emptying"] = way - np.mean(way)
    else:
        judged.cannot("Too few dips after filling or after emptying: film and friction are not judged.")
    return found


def _lasting(bench: Bench, pairs: Pairs, fit: Fit, judged: Judged) -> None:
    """What goes with the level, and with the way that it came."""
    for name, kind in (("level", "gain"), ("after emptying", "film")):
        cause = fit.of(name)
        if cause is not None:
            judged.findings.append(_of_cause(bench, pairs, cause, kind))


def _step(bench: Bench, pairs: Pairs, change: Change) -> Finding:
    place, cause = change.place, change.cause
    chance = kinds()["step_against_dips"].chance
    off = pairs.off_m - np.median(pairs.off_m[:place])
    ratio, _, _ = step_search(off, max(change.fit.standard, 1e-6), len(off)).last
    return Finding(
        "step_against_dips",
        int(pairs.at_us[place - 1]),
        int(pairs.at_us[place]),
        Statistic("probability by chance, all days tried", cause.probability, chance, True),
        by_test(chance, bench.seen.span_s, "independent normal differences"),
        f"gauge less dip changes by {cause.value * 1e3:+.1f} mm between two dips, of {len(off)} dips; likelihood ratio "
        f"{ratio:.3g}",
        (Size("step", cause.value, "m"),),
        (f"a drift, which leaves {change.other * 1e3:.2g} mm of scatter, a step {change.fit.standard * 1e3:.2g} mm",),
    )


def _drift(bench: Bench, pairs: Pairs, change: Change) -> Finding:
    cause = change.cause
    is_sinking = bench.tank.is_float and cause.value < 0.0 and change.fit.of("level") is None
    since = int(pairs.at_us[change.place])
    days = (pairs.at_us[-1] - since) / 1e6 / DAY_s
    said = f"{cause.value * 1e3:+.3g} mm a day (standard uncertainty {cause.u * 1e3:.2g}) over {days:.3g} days"
    size = (Size("drift in a day", cause.value, "m"),)
    return _told(bench, pairs, cause, "sinking" if is_sinking else "drift", said, size, since)


def _of_cause(bench: Bench, pairs: Pairs, cause: Cause, kind: str, since_us: int | None = None) -> Finding:
    if kind == "gain":
        said = f"{cause.value:+.2%} of the level (standard uncertainty {cause.u:.2%})"
        return _told(bench, pairs, cause, kind, said, (Size("share of the level", cause.value, ""),))
    said = (
        f"after emptying {cause.value * 1e3:+.1f} mm more than after filling (standard uncertainty {cause.u * 1e3:.2g})"
    )
    return _told(bench, pairs, cause, kind, said, (Size("difference", cause.value, "m"),), since_us)


def _told(
    bench: Bench, pairs: Pairs, cause: Cause, kind: str, said: str, sizes: tuple[Size, ...], from_us: int | None = None
) -> Finding:
    chance = kinds()[kind].chance
    more = tuple(
        f"not told apart from {WORDS[name]}: both changed together" for name in cause.together if name in WORDS
    )
    return Finding(
        kind,
        int(pairs.at_us[0]) if from_us is None else from_us,
        int(pairs.at_us[-1]),
        Statistic("probability by chance", cause.probability, chance, True),
        by_test(
            chance, bench.seen.span_s, "independent normal differences of one spread, and causes on straight lines"
        ),
        f"{said}; {len(pairs.off_m)} dips, t = {cause.t:.1f}",
        sizes,
        more,
    )


def _bias(bench: Bench, pairs: Pairs, judged: Judged) -> None:
    count, chance = float(len(pairs.off_m)), kinds()["bias"].chance
    mean, scatter = float(np.mean(pairs.off_m)), max(float(np.std(pairs.off_m, ddof=1)), 1e-5)
    common = setting("dip_common_u_m")
    u = float(bias_standard_m(scatter, count, common))
    t = float(bias_t(mean, u))
    p = float(t_probability(t, min(float(bias_degrees_of_freedom(scatter, count, common)), 1e9)))
    if p > chance:
        return
    judged.findings.append(
        Finding(
            "bias",
            int(pairs.at_us[0]),
            int(pairs.at_us[-1]),
            Statistic("probability by chance", p, chance, True),
            by_test(chance, bench.seen.span_s, f"dips that share {common * 1e3:g} mm and else are independent"),
            f"{mean * 1e3:+.1f} mm on the average of {len(pairs.off_m)} dips (standard uncertainty {u * 1e3:.2g}), "
            f"t = {t:.1f}",
            (Size("bias", mean, "m"),),
        )
    )
