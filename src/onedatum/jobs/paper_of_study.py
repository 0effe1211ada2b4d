"""A study as a paper: what the result says, put into the records that the paper room prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Leaf
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Place
from onedatum.foundation.sources import Citation, data_version
from onedatum.foundation.units import in_print
from onedatum.foundation.working import Entry, Typst, entry_method, formula_line, numbers_line
from onedatum.jobs.chamber_sheet import chamber_sheet
from onedatum.jobs.choosing.asked import FIRST_ASKED, deciding, others
from onedatum.jobs.legs_sheet import legs_sheet
from onedatum.jobs.probe_sheet import probe_sheet
from onedatum.jobs.ruler_of_study import ruler_of
from onedatum.jobs.safety_sheets import safety_sheets
from onedatum.jobs.stem_sheet import stem_sheet
from onedatum.jobs.vessel_of_study import vessel_of
from onedatum.paper import model as paper
from onedatum.study.cautions import CAUTIONS
from onedatum.study.findings import ALARM_NEVER_COMES
from onedatum.study.result import Question, Study
from onedatum.verdicts import Effect, Finding

CHAPTERS: tuple[tuple[str, str], ...] = (
    ("vessel", "Vessel"),
    ("nozzle", "Nozzle"),
    ("medium", "Liquid"),
    ("states", "States"),
    ("instrument", "Instrument as stated"),
    ("stem", "Stem"),
    ("float", "Float"),
    ("build", "Build"),
    ("chamber", "Bypass chamber"),
    ("legs", "Pressure legs"),
    ("probe", "Capacitive probe"),
    ("waveguide", "Wire"),
    ("accuracy", "Accuracy of the reading"),
    ("magnet", "Magnet"),
    ("interface", "Interface"),
    ("interface_float", "Interface"),
    ("range", "Range"),
    ("signal", "Signal"),
    ("level", "Level"),
    ("level_now", "Level"),
    ("datum_error", "Level"),
    ("table", "Tank table"),
    ("weighing", "Weighing"),
    ("pressure", "Liquid"),
    ("site", "Site"),
    ("gauge_scale_error", "Level"),
    ("thermometer_error", "Level"),
    ("quantity", "Quantity"),
    ("batch", "Batch"),
    ("loop", "Loop"),
    ("overfill", "Overfill"),
    ("zone", "Hazardous area"),
    ("circuit", "Intrinsically safe circuit"),
    ("charge", "Static charge"),
    ("filling", "Static charge"),
    ("safety", "Functional safety"),
    ("budget", "Uncertainty"),
    ("uncertainty", "Uncertainty"),
    ("tolerance", "Tolerance"),
    ("legal", "Limits of the law"),
    ("wanted", "What is wanted"),
    ("comparison", "For comparison: what a simpler sheet would say"),
)
"""The chapter an entry is printed in, by the first word of its name."""

BUDGET_LINES = ("budget.contribution[", "budget.share[", "budget.if_halved[")
"""Entries that the paper prints as the lines of a budget, with their method, and not a second time on the sheet."""

GREEK = {"alpha": "α", "beta": "β", "gamma": "γ", "rho": "ρ", "tau": "τ", "theta": "θ", "phi": "φ", "lambda": "λ"}

HEADLINES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Vessel and stem", ("vessel.inside_height", "vessel.full_volume", "nozzle.flange_face_height", "stem.length")),
    (
        "What can be measured",
        ("level.measurable_low", "level.measurable_high", "float.freeboard", "float.mean_density", "accuracy.expanded"),
    ),
    (
        "Chamber, legs, probe",
        (
            "chamber.level_uncorrected",
            "chamber.current_uncorrected",
            "chamber.set[4 mA]",
            "chamber.set[20 mA]",
            "chamber.level_uncertainty",
            "legs.range[4 mA]",
            "legs.range[20 mA]",
            "legs.level_uncertainty",
            "probe.capacitance[4 mA]",
            "probe.capacitance[20 mA]",
            "probe.sensitivity",
            "probe.level_uncertainty",
        ),
    ),
    (
        "Level now",
        (
            "level_now",
            "level.uncertainty",
            "signal.current_shown",
            "signal.test_voltage",
            "quantity.table_volume",
            "quantity.mass",
            "quantity.mass_in_air",
            "quantity.pure_alcohol",
            "quantity.gross_standard_volume",
            "budget.expanded_uncertainty",
            "budget.relative_uncertainty",
        ),
    ),
    (
        "Alarm and loop",
        (
            "overfill.high_high",
            "overfill.set_points.HH",
            "overfill.high_high_current",
            "overfill.critical_current",
            "loop.terminal_voltage_at_worst",
            "loop.last_good_current",
            "loop.last_good_level",
        ),
    ),
)
"""The numbers of the first view, by group."""


def paper_of(study: Study) -> paper.Paper:
    """Everything one document prints."""
    open_ = notes_of(study)
    return paper.Paper(
        head=head_of(study),
        answer=study.answer,
        blocking=study.blocking,
        ruler=ruler_of(study),
        findings=tuple(_finding(study, finding) for finding in study.findings),
        questions=open_.questions,
        requirements=tuple(paper.Note(r.title, r.note) for r in study.requirements),
        assumptions=open_.assumptions,
        not_read=tuple(paper.Note(in_print(f"{leaf.title}: {leaf.text}")) for leaf in study.not_read),
        faults=open_.faults,
        vessel=vessel_of(study),
        numbers=tuple(_groups(study)),
        stem=tuple(measuring_sheets(study)),
        safety=safety_sheets(study),
        sheet=tuple(_chapters(study)),
        cautions=CAUTIONS,
        sources=tuple(sources_of(study.entries.values())),
        data_files=tuple(paper.Note(name, "own data beside the case") for name in study.statement.own_files),
    )


def measuring_sheets(study: Study) -> Iterator[paper.TopicSheet]:
    """A sheet for each thing that measures: chamber, legs, probe, stem and float."""
    for sheet in (chamber_sheet(study), legs_sheet(study), probe_sheet(study)):
        if sheet is not None:
            yield sheet
    if study.detail is not None:
        yield stem_sheet(study)


@dataclass(frozen=True)
class Notes:
    """What is open, supposed or wrong, as every paper of a study prints it."""

    questions: tuple[paper.Note, ...]
    assumptions: tuple[paper.Note, ...]
    faults: tuple[paper.Note, ...]


def notes_of(study: Study) -> Notes:
    """The questions, assumptions and faults of a study."""
    return Notes(
        tuple(_asked(study)),
        tuple(paper.Note(in_print(f"{a.title}: {a.text}"), a.why) for a in study.assumptions),
        tuple(paper.Note(fault.sentence(), _place(fault.place)) for fault in study.faults),
    )


def _asked(study: Study) -> Iterator[paper.Note]:
    """The questions; where no instrument is chosen the first that decide on one, and how many stand on their sheet."""
    choosing = study.choosing
    if study.has_instrument or choosing is None:
        yield from map(_question, study.questions)
        return
    first = tuple(deciding(choosing))
    yield from map(_question, first[:FIRST_ASKED])
    more, beside = len(first[FIRST_ASKED:]), len(tuple(others(study, choosing)))
    if more + beside:
        told = f"{more} more that decide on a principle, {beside} for the numbers of the study"
        yield paper.Note("The rest stands on the sheet of questions", told)


def _question(question: Question) -> paper.Note:
    return paper.Note(question.title, f"decides: {'; '.join(question.decides[:4])}")


def head_of(study: Study) -> paper.Head:
    """Whose paper it is."""
    case = study.statement.case

    def said(leaf: Leaf) -> str:
        return leaf.text if leaf.known else paper.NOT_STATED

    return paper.Head(
        tag=said(case.tag),
        service=case.service.text,
        author=said(case.author),
        checker=said(case.checker),
        revision=said(case.revision),
        date=said(case.date),
        case_hash=study.statement.content_hash[:16],
        tool_version=f"{VERSION}, data {data_version()}",
        datum=case.vessel.datum.word,
        state=in_print(f"{study.now.name}, {study.now.temperature.text}"),
        invented=case.invented.word == "yes",
    )


def _finding(study: Study, finding: Finding) -> paper.Finding:
    return paper.Finding(
        title=finding.title,
        effect=finding.effect.value,
        chain=tuple(paper.Link(in_print(link.text), in_print(link.value)) for link in finding.chain),
        ways_out=tuple(in_print(" ".join(filter(None, (link.text, link.value)))) for link in finding.ways_out),
        blocks=finding.effect is Effect.BLOCKS,
        uncertainty_stated=finding.uncertainty_stated,
        detail=detail_of(study, finding),
    )


def detail_of(study: Study, finding: Finding) -> paper.Span | None:
    """The heights that are drawn enlarged beside a finding: those its chain names, where they lie close together."""
    named = [study.sheet[link.entry] for link in finding.chain if link.entry]
    heights = [entry.value for entry in named if entry.suffix == "m" and entry.value is not None]
    critical = study.value("overfill.CH")
    if finding.key != ALARM_NEVER_COMES or len(heights) < 2 or critical is None:
        return None
    return paper.Span(min(heights), max(*heights, critical))


def _groups(study: Study) -> Iterator[paper.Group]:
    for title, names in HEADLINES:
        found = [study.sheet[name] for name in names if name in study.sheet]
        if found:
            yield paper.Group(title, tuple(_number(entry) for entry in found))
    if study.budget:
        lines = [_number(line.share) for line in study.budget.lines]
        yield paper.Group("Shares of the variance", tuple(lines))


def _number(entry: Entry) -> paper.Number:
    return paper.Number(
        entry.name, in_print(entry.meaning), in_print(entry.text), state_of(entry), entry.rests_on_assumed
    )


def state_of(entry: Entry) -> paper.State:
    if not entry.known:
        return "unknown"
    match entry.state:
        case "stated" | "none":
            return "stated"
        case "assumed":
            return "assumed"
    return "computed"


def _chapters(study: Study) -> Iterator[paper.Chapter]:
    titles = dict(CHAPTERS)
    kept: dict[str, list[Entry]] = {}
    for entry in study.entries.values():
        if any(line in entry.name for line in BUDGET_LINES):
            continue
        first = entry.name.partition(".")[0].partition("[")[0]
        kept.setdefault(titles.get(first, "Other"), []).append(entry)
    for title in dict.fromkeys([*titles.values(), "Other"]):
        if title in kept:
            yield paper.Chapter(title, tuple(_entry(entry) for entry in kept[title]))


def _entry(entry: Entry) -> paper.Entry:
    style = Typst()
    return paper.Entry(
        name=entry.name,
        meaning=in_print(entry.meaning),
        value=in_print(entry.text),
        state=state_of(entry),
        formula=formula_line(entry, style),
        numbers=in_print(numbers_line(entry, style)),
        procedure=entry_method(entry),
        inputs=tuple(_inputs(entry)),
        source=entry.source.text if entry.source else "",
        source_tag=entry.source.source.tag if entry.source else "",
        place=_place(entry.place),
        note="; ".join(filter(None, (entry.uncertainty.text if entry.uncertainty else "", entry.note))),
        rests_on_assumed=entry.rests_on_assumed,
    )


def _inputs(entry: Entry) -> Iterator[paper.Input]:
    symbols = {symbol.parameter: symbol.symbol for symbol in entry.tag.symbols} if entry.tag else {}
    for key, below in entry.inputs.items():
        symbol = symbols.get(key, key if entry.relation is not None else "")
        yield paper.Input(_letters(symbol), in_print(below.meaning), below.name, in_print(below.text), state_of(below))


def _place(place: Place | None) -> str:
    """Where something was stated, by the name of its file."""
    return str(place.by_name) if place else ""


def _letters(symbol: str) -> str:
    """A symbol in letters: "rho_l" reads "ρ_l"; the paper sets what follows the underscore as an index."""
    head, underscore, index = symbol.partition("_")
    return GREEK.get(head, head) + underscore + index


def sources_of(entries: Iterable[Entry]) -> Iterator[paper.Note]:
    """Every source these entries rest on, once, with its tag."""
    seen: dict[str, Citation] = {}
    for entry in entries:
        if entry.source:
            seen.setdefault(entry.source.source.title, entry.source)
    for citation in seen.values():
        source = citation.source
        yield paper.Note(source.title, "; ".join(filter(None, (source.tag, source.note))))
