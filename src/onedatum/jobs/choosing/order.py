"""The order: every line of what is ordered in our own order of blocks, what blocks it, what it must keep to.

The lines of stem, chamber, legs and probe are those of their own sheets, sorted into the blocks: each value comes from
the one case and its study, so the order cannot contradict them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from onedatum.case.leaf import Leaf
from onedatum.case.model.instrument import CAPACITIVE
from onedatum.foundation.units import in_print
from onedatum.jobs.chamber_sheet import chamber_order_lines
from onedatum.jobs.choosing.reason import reason_of
from onedatum.jobs.choosing.standing import blocking_notes
from onedatum.jobs.choosing.told import WAITS, capital, of_stated, requirement_lines, told_beside
from onedatum.jobs.cut import NOT_KNOWN
from onedatum.jobs.legs_sheet import legs_order_lines
from onedatum.jobs.paper_of_study import head_of, notes_of
from onedatum.jobs.probe_sheet import probe_order_lines
from onedatum.jobs.safety_sheets.words import named, said
from onedatum.jobs.stem_sheet import order_lines
from onedatum.paper.choosing import model as paper
from onedatum.paper.model import Note
from onedatum.study.cautions import AREA, DEFERENCE
from onedatum.study.result import Study
from onedatum.verdicts.rules.words import quantity_title

Lines = tuple[tuple[str, str], ...]
Printed = tuple[paper.Line, ...]

TERMS_FROM = (
    "Words in the last column are names of properties as IEC 61987 and ISA-20 use them, from memory. "
    "The order of the lines is our own; this is no form of either."
)
TERMS: Mapping[str, str] = {
    "tag": "tag name",
    "service": "service",
    "temperature of the air": "ambient temperature",
    "kind": "process fluid",
    "temperature of the medium": "process temperature",
    "operating pressure": "process pressure",
    "density of the liquid, least": "density",
    "viscosity": "dynamic viscosity",
    "conductivity": "electrical conductivity",
    "relative permittivity": "relative permittivity",
    "length of the stem, face to tip": "insertion length",
    "length below the sealing face": "insertion length",
    "principle": "measuring principle",
    "material of the float": "material of wetted parts",
    "level at 4 mA (LRV)": "lower range-value",
    "level at 20 mA (URV)": "upper range-value",
    "pressure at 4 mA (LRV)": "lower range-value",
    "pressure at 20 mA (URV)": "upper range-value",
    "span": "span",
    "output": "output signal",
    "supply": "supply voltage",
    "damping": "damping time",
    "type of protection": "type of protection",
    "protection level (EPL) inside": "equipment protection level",
    "protection level (EPL) of the head": "equipment protection level",
    "group of the instrument": "equipment group",
    "temperature class of the instrument": "temperature class",
}
IN_LIQUID = frozenset(
    {
        "density of the liquid, least",
        "density of the lower liquid",
        "least upper layer",
        "temperature of the medium",
        "operating pressure",
        "test pressure",
    }
)
IN_GEOMETRY = frozenset(
    {
        "datum",
        "flange face above the datum",
        "length of the stem, face to tip",
        "upper dead zone, face to magnet plane",
        "upper end of the stem above the datum",
        "length of the stem",
        "upper dead zone, upper end to magnet plane",
        "tip above the datum",
        "lower dead zone, tip to magnet plane",
        "bore of the nozzle",
        "clear height above the face",
        "lower tap above the datum",
        "distance of the taps",
        "transmitter below the lower tap",
        "length below the sealing face",
        "inactive part, down from the sealing face",
        "length confirmed by the drawing",
    }
)
IN_RANGE = frozenset(
    {
        "lowest level measured",
        "highest level measured",
        "level at 4 mA (LRV)",
        "level at 20 mA (URV)",
        "pressure at 4 mA (LRV)",
        "pressure at 20 mA (URV)",
        "span",
        "smallest span of the transmitter",
        "its cell measures from, to",
    }
)


def order_sheet(study: Study) -> paper.Order | None:
    """Everything the sheet prints; None while no instrument is chosen, for then there is nothing to order."""
    if not study.has_instrument:
        return None
    notes = notes_of(study)
    blocking = tuple(blocking_notes(study))
    return paper.Order(
        head=head_of(study),
        answer=_answer(study),
        blocking=blocking,
        waits=tuple(_waits(study)),
        blocks=order_blocks(study),
        requirements=tuple(_requirements(study)),
        beside=tuple(_beside(study)),
        assumptions=notes.assumptions,
        terms=TERMS_FROM,
        faults=notes.faults,
        cautions=(DEFERENCE, AREA),
    )


def _answer(study: Study) -> str:
    chosen = of_stated(study.choosing) if study.choosing is not None else ""
    if study.order == "blocked":
        return f"{chosen} {study.blocking}".strip()
    if study.order == "waits for answers":
        return f"{chosen} {WAITS}".strip()
    return f"{chosen} Nothing found that blocks the order.".strip()


# ---------------------------------------------------------------- what stands against it


def _waits(study: Study) -> Iterator[Note]:
    """What the order waits for: answers that decide on the principle, answers that numbers wait for."""
    stated = study.choosing.of_stated if study.choosing is not None else None
    for name in stated.questions if stated is not None else ():
        yield Note(capital(quantity_title(name)), "asked of the customer; the verdict on the principle reads it")
    for note in notes_of(study).questions:
        yield Note(capital(note.text), note.detail)


def _requirements(study: Study) -> Iterator[Note]:
    """What the order must keep to, of the case and of the verdict on its principle."""
    for each in study.requirements:
        yield Note(in_print(capital(each.title)), in_print(each.note))
    stated = study.choosing.of_stated if study.choosing is not None else None
    for line in requirement_lines(stated) if stated is not None else ():
        yield Note(line)


def _beside(study: Study) -> Iterator[Note]:
    """Conditions whose action is due, and what is warned of or belongs on a permit."""
    choosing = study.choosing
    stated = choosing.of_stated if choosing is not None else None
    if choosing is None or stated is None:
        return
    for each in stated.conditions:
        told = reason_of(choosing, each)
        yield Note(f"{capital(told.title)}: {told.action or told.reason}", told.reason if told.action else "")
    for words in told_beside(choosing, stated.principle, frozenset(each.rule.name for each in choosing.blocking)):
        yield Note(words)


# ---------------------------------------------------------------- lines


def measuring_lines(study: Study) -> Lines:
    """The lines of the order of what measures, as their own sheets and the elevation print them."""
    measuring = study.measuring
    if study.detail is not None:
        return order_lines(study)
    if measuring.probe is not None and study.statement.case.instrument.principle.word == CAPACITIVE:
        return probe_order_lines(study, measuring.probe)
    return () if measuring.legs is None else legs_order_lines(study, measuring.legs)


def order_blocks(study: Study) -> tuple[paper.Block, ...]:
    """Every line of the order, by block."""
    rows = measuring_lines(study)
    told = {label for label, _ in rows}
    chamber = study.measuring.chamber
    around = () if chamber is None else chamber_order_lines(study, chamber, study.measuring.outside)
    beside = tuple(_line(f"chamber, {label}", value) for label, value in around)
    blocks: tuple[tuple[str, Printed], ...] = (
        ("Place", _place(study)),
        ("Liquid", (*_new(_liquid(study), told), *_of(rows, IN_LIQUID))),
        ("Geometry", (*_of(rows, IN_GEOMETRY), *beside)),
        ("Instrument", (*_new(_instrument(study), told), *_of(rows, None))),
        ("Range", (*_new(_range(study), told), *_of(rows, IN_RANGE))),
        ("Signal", _signal(study)),
        ("Hazardous area", _area(study)),
        ("Papers", _papers(study)),
    )
    return tuple(paper.Block(title, lines) for title, lines in blocks if lines)


def _line(label: str, value: str, assumed: bool = False) -> paper.Line:
    return paper.Line(capital(label), value, TERMS.get(label, ""), NOT_KNOWN in value, assumed)


def _of(rows: Lines, labels: frozenset[str] | None) -> Printed:
    """The lines of a block; without labels, those of no other block."""
    others = IN_LIQUID | IN_GEOMETRY | IN_RANGE
    chosen = (row for row in rows if (row[0] not in others if labels is None else row[0] in labels))
    return tuple(_line(label, value) for label, value in chosen)


def _new(lines: Printed, told: set[str]) -> Printed:
    """Lines that what measures does not tell itself."""
    here = {capital(label) for label in told}
    return tuple(line for line in lines if line.label not in here)


def _stated(study: Study, *rows: tuple[str, Leaf]) -> Printed:
    """What the case states; what it leaves away stands only where something waits for it, or nothing is stated."""
    waited = {*(each.path for each in study.questions), *(each.path for each in study.requirements)}
    said_of = [row for row in rows if row[1].state != "unknown" or row[1].asked or row[1].path in waited]
    return tuple(_line(label, said(leaf), leaf.state == "assumed") for label, leaf in said_of or rows)


def _place(study: Study) -> Printed:
    case = study.statement.case
    return _stated(
        study,
        ("tag", case.tag),
        ("service", case.service),
        ("vessel", case.vessel.shape),
        ("nozzle", case.nozzle.place),
        ("temperature of the air", case.site.ambient_temperature),
    )


def _liquid(study: Study) -> Printed:
    medium, pressure = study.statement.case.medium, study.statement.case.pressure
    return _stated(
        study,
        ("kind", medium.kind),
        ("temperature of the medium", medium.temperature),
        ("operating pressure", pressure.operating),
        ("test pressure", pressure.test),
        ("viscosity", medium.viscosity),
        ("conductivity", medium.conductivity),
        ("relative permittivity", medium.permittivity),
        ("particles", medium.particles),
    )


def _instrument(study: Study) -> Printed:
    return _stated(study, ("principle", study.statement.case.instrument.principle))


def _range(study: Study) -> Printed:
    allowed = study.statement.case.wanted.error_allowed_of_level
    return (
        _line("level at 4 mA (LRV)", named(study, "range.4 mA")),
        _line("level at 20 mA (URV)", named(study, "range.20 mA")),
        *_stated(study, ("error allowed of the level", allowed)),
    )


def _signal(study: Study) -> Printed:
    case = study.statement.case
    loop, saturation = case.loop, case.range.saturation
    return (
        _line("output", "4 mA to 20 mA"),
        *_stated(
            study,
            ("lowest measuring current", saturation.low),
            ("highest measuring current", saturation.high),
            ("failure current, low", loop.transmitter.current_failure_low),
            ("HART", loop.hart.used),
            ("damping", case.instrument.damping_tau),
            ("supply", loop.supply),
            ("barrier", loop.barrier.kind),
            ("least voltage of the transmitter", loop.transmitter.voltage_min),
        ),
        _line("loop carries up to", named(study, "loop.last_good_current")),
    )


def _area(study: Study) -> Printed:
    zone, protection = study.statement.case.zone, study.statement.case.instrument.protection
    return _stated(
        study,
        ("zone inside the vessel", zone.inside),
        ("zone at the head", zone.at_head),
        ("group of the substance", zone.group),
        ("temperature class of the substance", zone.temperature_class),
        ("ambient, least", zone.ambient_min),
        ("ambient, greatest", zone.ambient_max),
        ("type of protection", protection.type),
        ("protection level (EPL) inside", protection.epl_inside),
        ("protection level (EPL) of the head", protection.epl_at_head),
        ("group of the instrument", protection.group),
        ("temperature class of the instrument", protection.temperature_class),
        ("wall between the zones", protection.boundary_wall),
    )


def _papers(study: Study) -> Printed:
    case = study.statement.case
    return _stated(
        study,
        ("drawing of the zones", case.zone.drawing),
        ("assessment of the area", case.zone.assessment),
        ("certificate of the instrument", case.instrument.protection.certificate),
        ("marking of the instrument", case.instrument.protection.marking),
        ("certificate of the source", case.circuit.source.certificate),
        ("tank table rests on", case.table.basis),
    )
