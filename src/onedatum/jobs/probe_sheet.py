"""The sheet of a capacitive probe: what it holds at every level, its regime, changes, film, and how it is set."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.instrument import CAPACITIVE
from onedatum.case.model.probe import BY_ROD, BY_STRIP, BY_TUBE
from onedatum.foundation.units import in_print, show
from onedatum.foundation.working import Entry
from onedatum.jobs.probe_build_tables import build_notes, build_order_lines, build_tables, lengths_table
from onedatum.jobs.probe_media_sheet import (
    changes_table,
    media_notes,
    permittivity_table,
    reference_lines,
    reference_table,
)
from onedatum.jobs.probe_pictures import curve_drawing, field_drawing
from onedatum.jobs.probe_uncertainty import probe_uncertainty
from onedatum.jobs.safety_sheets.words import checked, present, said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.study.cautions import CHARGE, DEFERENCE
from onedatum.study.probe import AtLevel, ProbeChapter, left_text
from onedatum.study.result import Study

KEYS = ("probe-",)
BY_FIELD = "In this tank, by the field"
ALIKE_M = 1e-6
"""Levels nearer than this are one."""
REGIMES = {
    "conductive": "The liquid conducts for this probe: the coating alone counts.",
    "insulating": "The liquid insulates for this probe: its permittivity counts.",
    "between the two": "Neither regime holds: a change of the conductivity reads as level.",
    "short-circuited": "The liquid shorts a bare rod: no level can be told.",
    "": "The regime waits for what is named among the questions.",
}


def probe_sheet(study: Study) -> paper.TopicSheet | None:
    """Everything of the probe on one sheet; None where the case has none."""
    probe = study.measuring.probe
    if probe is None:
        return None
    tables = (
        _levels(probe),
        _section(probe),
        _regime(study, probe),
        permittivity_table(study, probe),
        changes_table(probe),
        reference_table(probe),
        _film(probe),
        probe_uncertainty(study),
        checked(study, KEYS, "Does the probe measure it"),
        *build_tables(study, probe),
        _field(probe),
        _bent_back(probe),
        _setting(probe),
        lengths_table(probe),
        two_columns("Data of the order: probe", probe_order_lines(study, probe)),
    )
    return paper.TopicSheet(
        "Capacitive probe",
        _answer(study, probe),
        (CHARGE, DEFERENCE),
        present(tables),
        None,
        (*media_notes(study, probe), *_notes(probe), *build_notes(probe)),
        tuple(each for each in (curve_drawing(probe), field_drawing(probe)) if each is not None),
    )


def _answer(study: Study, probe: ProbeChapter) -> str:
    beside = "" if study.statement.case.instrument.principle.word == CAPACITIVE else "The alternative, by capacitance: "
    first, last = (_held(probe, row) for row in (probe.rows[0], probe.rows[-1]))
    if not first.known or not last.known:
        return f"{beside}{REGIMES['']}"
    regime = REGIMES[probe.regime.word].replace("coating", probe.section.keeps_off)
    return in_print(f"{beside}{first.text} at 4 mA, {last.text} at 20 mA; {probe.slope.text} of level. {regime}")


def _levels(probe: ProbeChapter) -> paper.SheetTable:
    rows = tuple(_row(row) for row in (*probe.rows, probe.now))
    note = "Levels above the datum, by closed forms: without what the ends of the rod add."
    return paper.SheetTable(
        "Capacitance by level",
        ("current", "level", "wetted length", "capacitance"),
        rows,
        (1.0, 1.4, 1.4, 1.6),
        note=note,
    )


def _row(row: AtLevel) -> tuple[str, ...]:
    current = "now" if row.current is None else shown(row.current)
    return current, shown(row.level), shown(row.wetted), shown(row.capacitance)


def _section(probe: ProbeChapter) -> paper.SheetTable:
    section = probe.section
    rows = [
        ("radius of the core", shown(section.core)),
        ("radius of the rod where it meets the liquid", shown(section.outside)),
        ("radius of the round tank with the same capacitance", shown(section.equivalent)),
        ("wetted, as it acts", shown(probe.regime.wet)),
        ("dry", shown(probe.dry)),
        ("change per change of level", shown(probe.slope)),
        ("seen above the true capacitance, by the wave on the rod", shown(probe.wave)),
    ]
    if section.coating is not None:
        rows.insert(3, ("coating alone", shown(section.coating)))
    if probe.section.behind is not None:
        rows.append(("wall before the strip outside", shown(probe.section.behind)))
    if probe.plastic.tank is not None:
        tank = probe.plastic.tank
        rows += [
            ("two rods alone, wetted", shown(tank.alone)),
            ("in this tank of plastic, wetted", shown(tank.held)),
            ("wall and outside move it by", shown(tank.takes)),
        ]
    if probe.through_wall is not None:
        rows.append(("through the wall alone it would read off by", shown(probe.through_wall.share)))
    return two_columns("Capacitance per length", rows)


def _regime(study: Study, probe: ProbeChapter) -> paper.SheetTable:
    medium, regime = study.statement.case.medium, probe.regime
    rows = [
        ("conductivity of the liquid", said(medium.conductivity)),
        ("relative permittivity of the liquid", shown(probe.permittivity)),
        ("as much leaks as is displaced at", shown(regime.stated.crossover)),
        ("loss tangent", shown(regime.stated.loss)),
    ]
    if regime.insulating_up_to is not None:
        rows.append(("the liquid insulates up to", shown(regime.insulating_up_to)))
    if regime.conductive_from is not None:
        rows.append((f"the {probe.section.keeps_off} alone counts from", shown(regime.conductive_from)))
    note = "For this rod, this vessel and this frequency; all of it shifts with the frequency."
    return two_columns("Regime", rows, note)


def _film(probe: ProbeChapter) -> paper.SheetTable | None:
    film = probe.film
    if film is None:
        return None
    rows = tuple(
        (shown(each.level), shown(each.length), shown(each.extra), _left(each.left)) for each in (*film.rows, film.now)
    )
    note = (
        f"A film {film.thickness.text} thick; a wave on it dies to 1/e over {film.depth.text}; the most it can add is "
        f"{film.greatest.text}. Taking the loss off helps from two of these lengths on, "
        "and where the liquid itself has no loss."
        if film.depth.known
        else "The film waits for its thickness and its conductivity."
    )
    head = ("level", "rod above it", "the film adds", "left with the loss taken off")
    return paper.SheetTable("A continuous film above the level", head, rows, (1.0, 1.0, 1.2, 1.6), note=in_print(note))


def _left(entry: Entry) -> str:
    return in_print(left_text(entry)) if entry.known else shown(entry)


def _field(probe: ProbeChapter) -> paper.SheetTable | None:
    """The curve by the field, and what the straight line makes of it."""
    field = probe.field
    if field is None:
        rows_of_none = [("not worked", probe.no_field), *_about(probe)]
        return two_columns(BY_FIELD, rows_of_none) if probe.no_field else None
    rows = tuple((in_print(show(row.level_m, "mm")), shown(row.capacitance), shown(row.error)) for row in field.rows)
    note = (
        f"Tip, bottom and roof counted. A finer mesh moved it by {field.difference.text} of the span. Read as set at "
        f"{show(field.low_m, 'mm')} and {show(field.high_m, 'mm')}. {field.words}"
    )
    head = ("level", "capacitance by the field", "reads too high by")
    return paper.SheetTable(BY_FIELD, head, rows, (1.0, 1.6, 1.4), note=in_print(note))


def _about(probe: ProbeChapter) -> Iterator[tuple[str, str]]:
    """How far the ends bend the line where there is no curve to hold to."""
    if probe.bend is not None:
        worst = probe.bend.worst
        yield "as though a level roof lay at the end of the active length: reads too high by", shown(worst.error)
        yield "there, at the level", in_print(show(worst.level_m, "mm"))


def _bent_back(probe: ProbeChapter) -> paper.SheetTable | None:
    """The table to be entered in the transmitter."""
    field = probe.field
    if field is None:
        return None
    table = field.table
    rows = tuple(
        (f"{100 * held:.2f} %", f"{100 * level:.2f} %")
        for held, level in zip(table.capacitance_fractions.tolist(), table.level_fractions.tolist(), strict=True)
    )
    note = (
        f"Between the two levels of the setting; straight between the rows it leaves {100 * table.largest_left:.3f} %."
    )
    head = ("capacitance", "level")
    return paper.SheetTable("Table that bends the line back", head, rows, (1.0, 1.0), note=note)


def _setting(probe: ProbeChapter) -> paper.SheetTable | None:
    if not probe.setting:
        return None
    rows = tuple(
        (which, shown(point.level), shown(_held(probe, point)))
        for which, point in zip(("lower point", "upper point"), probe.setting, strict=True)
    )
    note = (
        "Set with the tip already wetted, at two levels known by dip, in the liquid itself; an empty vessel shifts the "
        "zero. The capacitances serve to check the wiring, not to replace the dips."
    )
    return paper.SheetTable("Setting", ("point", "level", "capacitance to expect"), rows, (1.4, 1.2, 1.6), note=note)


def _held(probe: ProbeChapter, point: AtLevel) -> Entry:
    """What the probe holds at a level: by the field where that is worked."""
    if probe.field is None or point.level.value is None:
        return point.capacitance
    row = probe.field.at(point.level.value)
    return row.capacitance if abs(row.level_m - point.level.value) < ALIKE_M else point.capacitance


def probe_order_lines(study: Study, probe: ProbeChapter) -> tuple[tuple[str, str], ...]:
    """Every line of the order: what, and its value; what is not known says so."""
    stated = study.statement.case.probe
    rows = [
        ("rod", said(stated.rod)),
        ("diameter of the core", said(stated.core_diameter)),
        ("active length, from", said(stated.active_from)),
        ("to", said(stated.active_to)),
        ("frequency of the measurement", said(stated.frequency)),
        ("takes the loss off the capacitance", said(stated.takes_off_loss)),
        *(
            (("table that bends the line back, entered", said(stated.table_entered)),)
            if probe.field is not None
            else ()
        ),
        ("capacitance of gland, head and inactive length", said(stated.constant)),
        ("circuit closed by", said(stated.earth.kind)),
    ]
    if stated.earth.kind.word == BY_ROD:
        rows += [("diameter of the earthed rod", said(stated.earth.rod_diameter)), ("apart", said(stated.earth.apart))]
    if stated.earth.kind.word == BY_TUBE:
        rows.append(("bore of the earthed tube", said(stated.earth.tube_bore)))
    if stated.earth.kind.word in BY_STRIP:
        rows += [
            ("width of the earthed strip", said(stated.earth.strip_width)),
            ("axis of the probe from it", said(stated.earth.to_strip)),
        ]
    rows += reference_lines(study)
    if probe.section.coated or probe.section.sleeved:
        coated = (
            ("coating", said(stated.coating_material)),
            ("outside diameter of the coating", said(stated.coating_diameter)),
            ("relative permittivity of the coating", said(stated.coating_permittivity)),
            ("length confirmed by the drawing", said(stated.length_confirmed)),
        )
        rows[2:2] = coated
    return (*rows, *build_order_lines(study, probe))


def _notes(probe: ProbeChapter) -> Iterator[paper.Note]:
    if probe.section.coated or probe.section.sleeved:
        yield paper.Note(
            "The coating must stay whole: what is coated is never cut, and a scratch to the core ends its insulation.",
            "common practice, no source",
        )
    yield paper.Note(
        in_print("The core needs a way for its charge to earth of at most 1 Mohm, also with the head taken off."),
        "from memory",
    )
    yield paper.Note(
        "One rod in two liquids cannot tell two levels: the medium must be one, and even.", "common practice, no source"
    )
    ends = "" if probe.bend is not None else ", the ends of the rod only where the field is worked"
    yield paper.Note(
        f"The uncertainty of the level counts what liquid, layer, film, wave and bend add to the reading{ends}.",
        "derived",
    )
    yield paper.Note("Gland, head and cable add a constant: it moves the zero only.", "derived")
