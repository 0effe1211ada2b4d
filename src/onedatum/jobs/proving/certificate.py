"""The certificate of one visit from its records: what the pages print, what the XML holds, the files as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import StoreError
from onedatum.foundation.sources import data_version
from onedatum.foundation.units import in_print, show
from onedatum.jobs.proving.records import Calibration, calibrations, opened, pair_of
from onedatum.jobs.proving.told import limits, mm, per_cent, record_json
from onedatum.jobs.write import json_bytes, write_whole
from onedatum.paper.certificate.model import (
    Attached,
    Certificate,
    ErrorChart,
    PartRow,
    PointRow,
    RunSheet,
    Trace,
)
from onedatum.paper.model import Head, Note
from onedatum.paper.table.model import Line
from onedatum.paper.text import file_stem
from onedatum.proving import Judged

if TYPE_CHECKING:
    from onedatum.paper.certificate.dcc import DccData, DccRun
    from onedatum.store.record import Head as ChainHead
    from onedatum.store.record import Record

STATEMENT = (
    "This certificate tells what was read at the measuring point and how it was judged. It does not come from an "
    "accredited laboratory, and it replaces no accredited certificate, no verification and no proof test."
)
METHOD = (
    "Levels shown were compared with levels by the reference at planned points along the span, upwards and downwards "
    "in several cycles; the largest error of each point was judged with its uncertainty."
)
_DRAFT = "draft, not validated"
FIGURES = (
    ("greatest error", "greatest_error_share"),
    ("least error", "least_error_share"),
    ("hysteresis", "hysteresis_share"),
    ("non-repeatability", "non_repeatability_share"),
    ("linearity, terminal-based", "terminal_linearity_share"),
    ("linearity, zero-based", "zero_linearity_share"),
    ("linearity, independent", "independent_linearity_share"),
)


@dataclass(frozen=True)
class Made:
    """The files of one certificate by their names."""

    stem: str
    files: tuple[Attached, ...]
    """PDF first, then what is attached in it."""
    records: tuple[int, ...]


def certificate_files(records: Sequence[Record], head: ChainHead, tag: str, chosen: int | None = None) -> Made:
    """Make the certificate of the last visit, or of that of a chosen record; raises StoreError."""
    from onedatum.paper.certificate.as_pdf import certificate_pdf
    from onedatum.paper.certificate.dcc import dcc_xml

    runs = _runs(records, tag, chosen)
    stem = f"{file_stem(runs[0].run.tag)}-calibration-{runs[-1].record.id}"
    data = {"form": 1, "tag": runs[0].run.tag, "head": str(head), "records": [record_json(run) for run in runs]}
    attached = (
        Attached(f"{stem}.xml", dcc_xml(dcc_of(runs)), "application/xml", f"calibration as XML (DCC): {_DRAFT}"),
        Attached(f"{stem}.json", json_bytes(data), "application/json", "records as they were judged, SI, unrounded"),
    )
    pdf = certificate_pdf(certificate_of(runs, head, attached), attached)
    files = Attached(f"{stem}.pdf", pdf, "application/pdf", "certificate"), *attached
    return Made(stem, files, tuple(run.record.id for run in runs))


@dataclass(frozen=True)
class WrittenFiles:
    """The files of a certificate as they were written, and what they hold."""

    tag: str
    records: tuple[int, ...]
    paths: tuple[Path, ...]
    head: ChainHead


def write_certificate(where: str | Path, tag: str, chosen: int | None, out: Path) -> WrittenFiles:
    """Write the certificate of a tag into a folder; raises StoreError, OutputError."""
    with opened(where, existing=True) as store:
        records, head = store.by_tag(tag), store.head()
    made = certificate_files(records, head, tag, chosen)
    for each in made.files:
        write_whole(out / each.name, each.content)
    return WrittenFiles(tag, made.records, tuple(out / each.name for each in made.files), head)


def written_files_json(written: WrittenFiles) -> dict[str, Any]:
    """The same as data."""
    return {
        "tag": written.tag,
        "records": list(written.records),
        "written": [str(path) for path in written.paths],
        "head": {"id": written.head.id, "hash": written.head.hash},
    }


def _runs(records: Sequence[Record], tag: str, chosen: int | None) -> tuple[Calibration, ...]:
    found, left = pair_of(records, chosen)
    runs = tuple(run for run in (found, left) if run is not None)
    if not runs:
        raise StoreError("the tag", "one that is recorded", repr(tag), "there is no calibration of it")
    by_id = {run.record.id: run for run in calibrations(records)}
    return tuple(by_id[run.record.id] for run in runs)


# ---------------------------------------------------------------- what the pages print


def certificate_of(runs: Sequence[Calibration], head: ChainHead, attached: Sequence[Attached] = ()) -> Certificate:
    """The record that PDF and page print."""
    last = runs[-1]
    judged = last.judged
    return Certificate(
        head=Head(
            tag=last.run.tag,
            service=last.service,
            case_hash=last.record.case[:16],
            tool_version=f"{VERSION}, data {data_version()}",
            invented=last.invented,
        ),
        answer=answer_of(runs),
        rule=judged.rule.name[:1].upper() + judged.rule.name[1:],
        rule_said=in_print(judged.rule.said),
        decision=_decision(judged),
        what=tuple(_what(last)),
        reference=tuple(_reference(runs)),
        runs=tuple(_sheet(run, last) for run in runs),
        chart=chart_of(runs),
        records=tuple(_records(runs, head)),
        statement=STATEMENT,
        dated=last.record.written[:10],
        cautions=tuple(dict.fromkeys(words for run in runs for words in run.judged.cautions)),
        attached=tuple(Note(each.name, each.words) for each in attached),
    )


def answer_of(runs: Sequence[Calibration]) -> str:
    """The verdicts in one sentence."""
    said = "; ".join(
        f"{run.run.kind} on {run.run.when:%Y-%m-%d}: {run.judged.verdict}, "
        f"probability of conformity {per_cent(run.judged.probability)}"
        for run in runs
    )
    return f"{runs[0].run.tag} {said}."


def _decision(judged: Judged) -> tuple[Line, ...]:
    return (
        Line("error allowed", in_print(limits(judged))),
        Line("judged on", judged.judged_on),
        Line("expanded uncertainty of an error", f"U = {mm(judged.expanded_m, 2)} (k = 2)"),
        Line("tolerance over uncertainty", show(judged.ratio, "", 3)),
        Line("guard band", mm(judged.guard_m, 2)),
        Line("risk at the limit of acceptance", per_cent(judged.risk)),
    )


def _what(last: Calibration) -> Iterator[Line]:
    plan = last.plan
    yield Line("tag", last.run.tag)
    if last.service:
        yield Line("service", in_print(last.service))
    yield Line("level at 4 mA", mm(plan.lower_range_value_m, 5))
    yield Line("level at 20 mA", mm(plan.upper_range_value_m, 5))
    directions = " and ".join(plan.directions)
    yield Line("points", f"{len(plan.points)}, {plan.cycles} cycles, {directions}")
    yield Line("version of the case", last.record.case[:16])


def _reference(runs: Sequence[Calibration]) -> Iterator[Line]:
    """Each reference and each meter once, in the order of the runs."""
    for reference in dict.fromkeys(run.run.reference for run in runs):
        yield Line("levels compared with", in_print(f"{reference.name}, certificate {reference.certificate}"))
        yield Line("its uncertainty", f"U = {mm(reference.expanded_m, 2)} (k = {reference.k:g})")
        yield Line("read to", mm(reference.digit_m, 2))
    for meter in dict.fromkeys(run.run.meter for run in runs if run.run.meter is not None):
        yield Line("currents read with", in_print(f"{meter.name}, certificate {meter.certificate}"))
        yield Line("its uncertainty", in_print(f"U = {show(meter.expanded_A, 'uA', 2)} (k = {meter.k:g})"))
        yield Line("read to", in_print(show(meter.digit_A, "uA", 2)))


def _sheet(run: Calibration, last: Calibration) -> RunSheet:
    judged = run.judged
    u_m = judged.expanded_m
    return RunSheet(
        kind=run.run.kind[:1].upper() + run.run.kind[1:],
        verdict=judged.verdict,
        answer=(
            f"Probability of conformity {per_cent(judged.probability)}; every error has "
            f"U = {mm(judged.expanded_m, 2)} (k = 2)."
        ),
        lines=(*_decided_otherwise(run.judged, last.judged), *_lines(run)),
        points=tuple(
            PointRow(
                point.name,
                mm(point.level_m, 6, u_m),
                mm(point.least_error_m, 3, u_m),
                mm(point.greatest_error_m, 3, u_m),
                mm(point.average_error_m, 3, u_m),
                per_cent(point.probability),
                point.verdict,
            )
            for point in judged.points
        ),
        figures=tuple(_figures(judged)),
        parts=tuple(parts_of(run)),
        remarks=tuple(in_print(words) for words in _remarks(run)),
    )


def _decided_otherwise(judged: Judged, last: Judged) -> Iterator[Line]:
    """What a run was judged by, where it is not what stands at the head for the last one."""
    if judged.rule != last.rule:
        yield Line("decision rule of this run", in_print(f"{judged.rule.name}, factor {judged.rule.factor:g}"))
    if judged.tolerance != last.tolerance:
        yield Line("error allowed in this run", in_print(limits(judged)))
    if judged.judged_on != last.judged_on:
        yield Line("judged in this run on", judged.judged_on)


def _lines(run: Calibration) -> Iterator[Line]:
    ambient = run.run.ambient
    yield Line("read by", in_print(run.run.who))
    yield Line("checked by", in_print(run.checked_by) or "nobody stated")
    yield Line("begin", f"{run.run.when:%Y-%m-%d %H:%M %Z}".strip())
    yield Line("trims and adjustments made", in_print(run.trims) or "none stated")
    if ambient.temperature_K is not None:
        yield Line("temperature of the surroundings", in_print(show(ambient.temperature_K, "degC", 3)))
    if ambient.words:
        yield Line("surroundings", in_print(ambient.words))


def _figures(judged: Judged) -> Iterator[Line]:
    if judged.figures is None:
        yield Line("figures", "not stated: a reading tells no level")
        return
    for label, name in FIGURES:
        share = getattr(judged.figures, name)
        yield Line(label, "not judged" if share is None else f"{100.0 * share:.2f} %".replace("-", "−"))


def parts_of(run: Calibration) -> Iterator[PartRow]:
    """The whole error and its parts, each apart; a part that was not read says so."""
    judged = run.judged
    u_m = judged.expanded_m
    known = [e for p in judged.points for e in (p.least_error_m, p.greatest_error_m) if e is not None]
    ends = (mm(min(known), 3, u_m), mm(max(known), 3, u_m)) if known else ("–", "–")
    yield PartRow("what is judged: " + judged.judged_on, *ends, "whichever part below is off")
    read = {part.name: part for part in judged.parts}
    for name, how in (
        ("current output against the level shown", "both would have to be read"),
        ("level shown against the reference", "both would have to be read"),
        ("reference height of the tank", "it would have to be found with the tape"),
    ):
        part = read.get(name)
        if part is None:
            yield PartRow(name, "–", "–", f"not read: {how}")
        else:
            yield PartRow(name, mm(part.least_m, 3, u_m), mm(part.greatest_m, 3, u_m), part.set_by)


def _remarks(run: Calibration) -> Iterator[str]:
    yield from run.judged.remarks
    if run.run.remark:
        yield f"Remark: {run.run.remark}"
    if run.record.corrects is not None:
        yield f"This record puts right record {run.record.corrects}: {run.reason}"


def _records(runs: Sequence[Calibration], head: ChainHead) -> Iterator[Note]:
    for run in runs:
        record = run.record
        written = f"{record.written[:16].replace('T', ' ')} UTC"
        yield Note(
            f"Record {record.id}, {run.run.kind}, written {written} by onedatum {record.tool}: SHA-256",
            record.hash,
        )
    yield Note("Head of the chain of records when this was made", str(head))


def chart_of(runs: Sequence[Calibration]) -> ErrorChart:
    """Errors over the level in mm."""
    judged = runs[-1].judged
    low, high = judged.tolerance.low_m, judged.tolerance.high_m
    return ErrorChart(
        tuple(Trace(run.run.kind, tuple(_drawn(run.judged))) for run in runs),
        None if low is None else 1e3 * low,
        None if high is None else 1e3 * high,
        1e3 * judged.guard_m if judged.rule.inward > 0.0 else 0.0,
    )


def _drawn(judged: Judged) -> Iterator[tuple[float, float, float, float]]:
    for point in judged.points:
        errors = point.least_error_m, point.greatest_error_m, point.average_error_m
        if errors[0] is not None and errors[1] is not None:
            middle = 0.5 * (errors[0] + errors[1]) if errors[2] is None else errors[2]
            yield 1e3 * point.level_m, 1e3 * errors[0], 1e3 * errors[1], 1e3 * middle


# ---------------------------------------------------------------- what the XML holds


def dcc_of(runs: Sequence[Calibration]) -> DccData:
    """The certificate as the XML takes it."""
    from onedatum.paper.certificate.dcc import DccData

    last = runs[-1]
    return DccData(
        identifier=f"{last.run.tag}-{last.record.hash}",
        tag=last.run.tag,
        service=last.service,
        tool_version=last.record.tool,
        rule=last.judged.rule.name,
        rule_said=last.judged.rule.said,
        method=METHOD,
        statement=STATEMENT,
        checked_by=last.checked_by,
        runs=tuple(_dcc_run(run) for run in runs),
        invented=last.invented,
    )


def _dcc_run(run: Calibration) -> DccRun:
    from onedatum.paper.certificate.dcc import DccEquipment, DccPoint, DccRun

    reference, meter, judged = run.run.reference, run.run.meter, run.judged
    equipment = [
        DccEquipment(reference.name, reference.certificate, reference.expanded_m, reference.k, r"\metre"),
    ]
    if meter is not None:
        equipment.append(DccEquipment(meter.name, meter.certificate, meter.expanded_A, meter.k, r"\ampere"))
    times = [reading.at for reading in run.run.readings if reading.at is not None]
    return DccRun(
        kind=run.run.kind,
        begin=run.run.when,
        end=max([run.run.when, *times]),
        who=run.run.who,
        record_hash=run.record.hash,
        expanded_m=judged.expanded_m,
        coverage_factor=2.0,
        verdict=judged.verdict,
        points=tuple(
            DccPoint(
                point.name,
                point.level_m,
                (
                    ("least error", point.least_error_m),
                    ("greatest error", point.greatest_error_m),
                    ("average error", point.average_error_m),
                ),
                point.verdict,
            )
            for point in judged.points
        ),
        equipment=tuple(equipment),
        temperature_K=run.run.ambient.temperature_K,
    )
