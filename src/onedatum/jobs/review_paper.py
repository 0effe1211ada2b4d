"""A review as the paper prints it, and its files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from onedatum.foundation.sources import citation
from onedatum.foundation.units import in_print
from onedatum.foundation.working import tag_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.review import Reviewed
from onedatum.jobs.review_told import (
    CAUTIONS,
    alarms_words,
    basis_of,
    nothing_words,
    review_json,
    review_text,
    span_words,
    statistic_words,
    title_of,
)
from onedatum.jobs.write import json_bytes, write_whole
from onedatum.logs.review.limits import Kind, kinds, simulated
from onedatum.paper.review.model import Band, Dot, LogChart, LogReview, Marked, Stated, Worked
from onedatum.paper.review.times import text_of
from onedatum.paper.text import file_stem
from onedatum.physics import detection

DAY_us = 86_400e6
OF_CHARTS = ("cusum_run_length", "cusum_decision_interval", "false_alarms")
USED: Mapping[str, tuple[str, ...]] = {
    "stuck": ("repeat_runs_expected", "repeat_run_limit"),
    "spikes": ("shewhart_run_length", "false_alarms", "events_in_time"),
    "noise_up": OF_CHARTS,
    "noise_down": OF_CHARTS,
    "step": ("shewhart_run_length", "false_alarms"),
    "hum": ("alias_Hz",),
    "bias": ("bias_standard_m", "bias_t", "bias_degrees_of_freedom", "t_probability"),
    "leak": ("balance_residual_m3", "t_probability"),
    "gains": ("balance_residual_m3", "t_probability"),
    "meter": ("balance_residual_m3", "t_probability"),
    "unbooked": ("balance_residual_m3", "balance_u_m3", "balance_statistic", "chi_squared_probability"),
}
"""Formulas of each signature; of those that are not named, the probability of t."""
NO_FORMULA = (
    "saturation",
    "wire_break",
    "failure_current",
    "clock_back",
    "clock_forward",
    "clock_lag",
    "gaps",
    "far_dip",
)


def paper_of(found: Reviewed) -> LogReview:
    """Everything the paper prints."""
    return LogReview(
        head=head_of(found.study),
        title=title_of(found),
        basis=in_print(basis_of(found)) + ".",
        cautions=CAUTIONS,
        chart=chart_of(found),
        findings=tuple(_stated(found)),
        nothing_said=nothing_words(found),
        not_judged=tuple(found.judged.unjudged),
        notes=(*found.judged.notes, *found.remarks, *map(str, found.faults)),
        looked_said="Seen in nine of ten simulated logs or more, each so long after the fault began, and the most "
        f"false findings in a year of sound simulated logs. The log: {simulated()}. Another tank, another sampling "
        "and another noise have other delays.",
        looked_for=tuple(_row(each) for each in kinds().values()),
        formulas=tuple(_formulas(found)),
    )


def _stated(found: Reviewed) -> Iterator[Stated]:
    for number, each in enumerate(found.judged.findings, 1):
        yield Stated(
            str(number),
            each.of.title,
            span_words(each.from_us, each.to_us),
            in_print(each.said),
            in_print(statistic_words(each)),
            in_print(alarms_words(each)),
            each.competing,
            each.of.next_check,
        )


def _row(each: Kind) -> tuple[str, ...]:
    hours = each.delay_s / 3600.0
    delay = f"{hours / 24.0:g} d" if hours >= 24.0 else f"{hours:.2g} h" if hours >= 1.0 else f"{hours * 60.0:.0f} min"
    return each.title, in_print(each.size), delay, f"{each.ceiling_per_year:g}"


def chart_of(found: Reviewed) -> LogChart:
    """The picture of the log."""
    seen, picture = found.bench.seen, found.picture
    marks = tuple(
        Marked(number, (each.from_us - seen.first_us) / DAY_us, (each.to_us - seen.first_us) / DAY_us)
        for number, each in enumerate(found.judged.findings, 1)
    )
    bands = zip((picture.low_m * 1e3).tolist(), (picture.high_m * 1e3).tolist(), strict=True)
    return LogChart(
        (seen.last_us - seen.first_us) / DAY_us,
        f"{text_of(seen.first_us)} UTC",
        tuple(Band(low, high) for low, high in bands),
        marks,
        tuple(Dot((dip.time_us - seen.first_us) / DAY_us, dip.level_m * 1e3) for dip in found.bench.dips[:2000]),
    )


def _formulas(found: Reviewed) -> Iterator[Worked]:
    names: dict[str, None] = {}
    for each in found.judged.findings:
        own = () if each.kind in NO_FORMULA else USED.get(each.kind, ("t_probability",))
        names |= dict.fromkeys(own)
    for name in names:
        tag = tag_of(getattr(detection, name))
        yield Worked(tag.what.rstrip("."), tag.text, str(citation(tag.source)))


def write_review(found: Reviewed, out: Path) -> tuple[Path, ...]:
    """Write paper, text and data into a folder; raises OutputError."""
    from onedatum.paper.review.as_pdf import review_pdf

    stem = f"{file_stem(found.asked.case.stem)}-review"
    parts = {
        f"{stem}.pdf": review_pdf(paper_of(found)),
        f"{stem}.txt": in_print(review_text(found)).encode("utf-8", "replace"),
        f"{stem}.json": json_bytes(review_json(found)),
    }
    for name, content in parts.items():
        write_whole(out / name, content)
    return tuple(out / name for name in parts)
