"""The sheet of the hazardous area: zones, substance by both tables, what the instrument must have and has."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.sources import citation
from onedatum.foundation.units import in_print, show
from onedatum.jobs.cut import NOT_KNOWN
from onedatum.jobs.safety_sheets.words import checked, present, said, two_columns, verdict_of
from onedatum.paper import model as paper
from onedatum.physics.ignition import Figures, Substance, ZoneNeeds, aqueous_ethanol
from onedatum.study.cautions import AREA, DEFERENCE
from onedatum.study.ignition import IgnitionChapter
from onedatum.study.result import Study
from onedatum.verdicts import Verdict

KEYS = ("epl-", "instrument-", "process-", "ambient-", "boundary-wall")
ANSWERS = {
    Verdict.SUITS: "The instrument as certified serves the zones as stated.",
    Verdict.ON_CONDITIONS: "An instrument certified as below serves the zones as stated.",
    Verdict.UNDECIDED: "Whether the instrument serves the zones is not decided yet.",
    Verdict.DOES_NOT_SUIT: "The instrument does not serve the zones as stated.",
}
DUST = "Dust is not judged here; a competent person assesses it."
PLACE_BLOCKS = ("group-too-low", "class-too-low", "no-class-serves")
ETHANOL = "ethanol"
REFUSED = "The ratings do not hold inside the vessel: no simple check is valid, a competent person assesses it."


def area_sheet(study: Study) -> paper.TopicSheet | None:
    """The sheet of the hazardous area; None where there is no zone."""
    ignition = study.safe.ignition
    if ignition is None:
        return None
    return paper.TopicSheet(
        "Hazardous area",
        _answer(study, ignition),
        (AREA, DEFERENCE),
        present(
            (_place(study, ignition), _substance(ignition), checked(study, KEYS, "The instrument"), _protection(study))
        ),
        None,
        tuple(_notes(ignition)),
    )


def _answer(study: Study, ignition: IgnitionChapter) -> str:
    """The answer: refused, blocked, open, or what the checks say; never kinder than the findings."""
    if ignition.atmosphere:
        return REFUSED
    if ignition.needs.dust:
        return DUST
    verdict = verdict_of(study, KEYS) or Verdict.UNDECIDED
    if any(finding.key.startswith(PLACE_BLOCKS) for finding in study.findings):
        verdict = Verdict.DOES_NOT_SUIT
    if ignition.place_open and verdict is not Verdict.DOES_NOT_SUIT:
        verdict = Verdict.UNDECIDED
    return ANSWERS[verdict]


def _place(study: Study, ignition: IgnitionChapter) -> paper.SheetTable:
    zone, needs = study.statement.case.zone, ignition.needs
    rows = [
        ("inside the vessel", _asks(needs.inside, said(zone.inside))),
        ("at the head", _asks(needs.at_head, said(zone.at_head))),
        ("group", needs.group or NOT_KNOWN),
        ("temperature class asked for", needs.temperature_class or NOT_KNOWN),
        ("ambient at the head", f"{said(zone.ambient_min)} to {said(zone.ambient_max)}"),
        ("oxygen in the gas space", said(zone.gas_space)),
        ("drawing of the zones", said(zone.drawing)),
        ("assessment by a competent person", said(zone.assessment)),
    ]
    first = needs.inside or needs.at_head
    note = f"Protection levels by zone: IEC 60079-14, {first.tag if first else NOT_KNOWN}."
    return two_columns("The place", rows, note)


def _asks(needs: ZoneNeeds | None, stated: str) -> str:
    if needs is None:
        return "no zone" if stated == "none" else f"zone {stated}"
    return f"zone {needs.zone}: EPL {needs.least_epl}, level {needs.least_level} or better, category {needs.category}"


def _substance(ignition: IgnitionChapter) -> paper.SheetTable | None:
    kept = ignition.needs.substance
    if kept is None:
        return None
    columns = [("IEC 60079-20-1", kept.iec), *([("NFPA 497", kept.nfpa)] if kept.nfpa else [])]
    rows = (
        ("ignition temperature", *(_degC(each.ignition_temperature_K) for _, each in columns)),
        ("flash point", *(_degC(each.flash_point_K) for _, each in columns)),
        ("explosive limits in air", *(_limits(each) for _, each in columns)),
    )
    head = (kept.name, *(f"{name} ({each.tag})" for name, each in columns))
    note = f"The lower ignition temperature counts, {_degC(kept.ignition_temperature_K)}. {_group(kept)}"
    weights = (2.0, *(2.0 for _ in columns))
    return paper.SheetTable("The substance, by both tables", head, rows, weights, note=note)


def _group(kept: Substance) -> str:
    return f"Group {kept.group} ({kept.group_tag})." if kept.group else ""


def _degC(temperature_K: float | None) -> str:
    return "none: a gas" if temperature_K is None else in_print(show(temperature_K, "degC"))


def _limits(figures: Figures) -> str:
    ends = [figures.lower_explosive_limit, figures.upper_explosive_limit]
    low, high = (NOT_KNOWN if end is None else in_print(show(end, "%vol")) for end in ends)
    return f"{low} to {high}"


def _protection(study: Study) -> paper.SheetTable:
    stated = study.statement.case.instrument.protection
    rows = [
        (leaf.title, said(leaf)) for leaf in (stated.type, stated.certificate, stated.marking, stated.boundary_wall)
    ]
    return two_columns("The certificate of the instrument, as stated", rows)


def _notes(ignition: IgnitionChapter) -> Iterator[paper.Note]:
    for reason in ignition.atmosphere:
        yield paper.Note(in_print(f"{reason.text}: {reason.value}"), "outside the standard atmosphere no rating holds")
    if ignition.needs.substance is not None:
        for words in ignition.needs.substance.notes:
            yield paper.Note(in_print(words))
        if ignition.needs.substance.name == ETHANOL:
            yield _with_water()


def _with_water() -> paper.Note:
    """Flash points of ethanol with water, to be read and never to declassify by."""
    mixed = aqueous_ethanol()
    rows = ", ".join(f"{show(row.strength, '%vol', 2)}: {show(row.flash_point_K, 'degC', 2)}" for row in mixed.rows)
    return paper.Note(
        in_print(f"Flash point with water: {rows}. {mixed.rule}"), f"{citation(mixed.source).text}; {mixed.tag}"
    )
