"""A review in words and as data."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Any

from onedatum.foundation.constants import VERSION
from onedatum.foundation.moments import clock
from onedatum.foundation.wording import counted
from onedatum.jobs.review import Reviewed
from onedatum.logs.review.finding import Finding, Size
from onedatum.logs.review.limits import kinds, simulated
from onedatum.paper.review.times import text_of
from onedatum.study.cautions import DEFERENCE
from onedatum.study.form import fault_json

FORM = 1
NO_CAUSE = (
    "A finding names what the log shows, never its cause: the log alone cannot tell which of the explanations holds. "
    "That nothing was found is no proof that the gauge is sound, and no proof of tightness."
)
SAFE = (
    "A gauge in doubt is no overfill protection until it is proved. Where a leak may be, the local rules say who is "
    "told and how soon; they come before any statistic. Dip only where and when static charge allows it; opening a "
    "loop, a chamber, a leg or a head is work by permit. Tell the control room before anything is trimmed or simulated."
)
CAUTIONS = (NO_CAUSE, SAFE, DEFERENCE)
_UNITS = {"m": ("mm", 1e3), "A": ("mA", 1e3), "s": ("h", 1.0 / 3600.0), "m3_per_s": ("L/day", 86.4e6)}
_PER_CENT = ("share",)


def title_of(found: Reviewed) -> str:
    """What was reviewed, in one line."""
    seen = found.bench.seen
    return f"{found.bench.tank.tag}: {many_words(found)} from {span_words(seen.first_us, seen.last_us)}"


def many_words(found: Reviewed) -> str:
    """How many findings in how many rows."""
    rows = counted(found.bench.seen.rows, "row")
    if not found.judged.is_whole:
        return f"{rows}, not judged,"
    return f"{counted(len(found.judged.findings), 'finding')} in {rows}"


def nothing_words(found: Reviewed) -> str:
    """What stands where no finding does."""
    return "Nothing stands out." if found.judged.is_whole else "Not judged: there are too few rows."


def span_words(from_us: int, to_us: int) -> str:
    """From when to when."""
    return f"{text_of(from_us)} to {text_of(to_us)} UTC"


def basis_of(found: Reviewed) -> str:
    """What the review rests on."""
    bench, seen = found.bench, found.bench.seen
    parts = [
        f"a row each {seen.usual_s:g} s",
        _step_words(seen.step_m),
        _noise_words(bench.noise_at_rest_m),
        f"{_share(bench.resting)} of the blocks of {seen.series.length_s:g} s at rest",
        f"{counted(len(bench.dips), 'dip')}, {counted(len(bench.movements), 'movement')}",
    ]
    return "; ".join(parts)


def _step_words(step_m: float | None) -> str:
    if step_m is None:
        return "readings that never change"
    return f"readings whole multiples of {step_m * 1e3:.2g} mm apart" if step_m else "readings in no common step"


def _noise_words(noise_m: float) -> str:
    if not isfinite(noise_m):
        return "no block at rest"
    return f"noise at rest {noise_m * 1e3:#.2g} mm" if noise_m else "most readings at rest repeat the one before"


def _share(where: Any) -> str:
    return f"{float(where.mean()) if len(where) else 0.0:.0%}"


def size_words(size: Size) -> str:
    """A size with its unit."""
    if not isfinite(size.value):
        return f"{size.name} unknown"
    if any(word in size.name for word in _PER_CENT):
        return f"{size.name} {size.value:+.3g}"
    unit, times = _UNITS.get(size.suffix, (size.suffix, 1.0))
    return f"{size.name} {size.value * times:.4g} {unit}".rstrip()


def alarms_words(each: Finding) -> str:
    """How often chance would show the same."""
    rate = each.false_alarms.per_year
    if rate == 0.0:
        return f"False alarms: {each.false_alarms.words}."
    often = f"{rate:.2g} a year" if rate > 1e-6 else "less than one in a million years"
    return f"False alarms by chance: {often} at this sampling; {each.false_alarms.words}."


def statistic_words(each: Finding) -> str:
    """The statistic with its limit."""
    own = each.statistic
    if not isfinite(own.limit):
        return f"{own.name} {own.value:.4g}"
    return f"{own.name} {own.value:.4g}, {'below' if own.is_below else 'beyond'} the limit of {own.limit:.4g}"


def review_text(found: Reviewed) -> str:
    """The review in words."""
    return "\n".join([*_lines(found), ""])


def _lines(found: Reviewed) -> Iterator[str]:
    yield title_of(found)
    yield basis_of(found)
    for number, each in enumerate(found.judged.findings, 1):
        yield ""
        yield f"{number}. {each.of.title}"
        yield f"   {span_words(each.from_us, each.to_us)}"
        yield f"   {each.said}"
        yield f"   {statistic_words(each)}"
        yield f"   {alarms_words(each)}"
        yield f"   May be: {'; '.join(each.competing)}."
        yield f"   Next: {each.of.next_check}"
    if not found.judged.findings:
        yield nothing_words(found)
    yield ""
    if found.judged.unjudged:
        yield "Not judged:"
        yield from (f"- {words}" for words in found.judged.unjudged)
    yield from (f"note: {words}" for words in (*found.judged.notes, *found.remarks))
    yield from CAUTIONS


def review_json(found: Reviewed) -> dict[str, Any]:
    """The review as data, in SI, unrounded; what has no value is null."""
    bench, seen = found.bench, found.bench.seen
    return {
        "form": FORM,
        "tool_version": VERSION,
        "tag": bench.tank.tag,
        "case_hash": found.study.statement.content_hash,
        "rows": seen.rows,
        "rejected": dict(sorted(seen.rejected.items())),
        "from": clock(seen.first_us),
        "to": clock(seen.last_us),
        "sampling_s": seen.usual_s,
        "step_m": seen.step_m,
        "least_change_m": seen.grain_m,
        "is_judged": found.judged.is_whole,
        "noise_at_rest_m": _number(bench.noise_at_rest_m),
        "block_s": seen.series.length_s,
        "dips": len(bench.dips),
        "movements": len(bench.movements),
        "findings": [_finding_json(each) for each in found.judged.findings],
        "not_judged": found.judged.unjudged,
        "notes": [*found.judged.notes, *found.remarks],
        "looked_for": {key: {"title": each.title, "size": each.size} for key, each in kinds().items()},
        "simulated_log": simulated(),
        "faults": [fault_json(fault) for fault in found.faults],
        "cautions": list(CAUTIONS),
    }


def _finding_json(each: Finding) -> dict[str, Any]:
    return {
        "kind": each.kind,
        "title": each.of.title,
        "from": clock(each.from_us),
        "to": clock(each.to_us),
        "said": each.said,
        "statistic": {
            "name": each.statistic.name,
            "value": _number(each.statistic.value),
            "limit": _number(each.statistic.limit),
            "finds_below": each.statistic.is_below,
        },
        "false_alarms": {
            "per_year": _number(each.false_alarms.per_year),
            "run_length_s": _number(each.false_alarms.run_length_s),
            "words": each.false_alarms.words,
        },
        "sizes": [_size_json(size) for size in each.sizes],
        "competing": list(each.competing),
        "next_check": each.of.next_check,
        "ceiling_per_year": each.of.ceiling_per_year,
        "delay_s": each.of.delay_s,
        "size_of_delay": each.of.size,
    }


def _size_json(size: Size) -> dict[str, Any]:
    return {"name": size.name, f"value_{size.suffix}" if size.suffix else "value": _number(size.value)}


def _number(value: float | None) -> float | None:
    return float(value) if value is not None and isfinite(value) else None
