"""The ranging sheet of a pressure transmitter: every column with its sign, the range, what else may happen."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD
from onedatum.foundation.units import in_print, show
from onedatum.jobs.safety_sheets.words import checked, present, said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.paper.columns.model import LegsSketch, Mark
from onedatum.study.cautions import DEFERENCE, LEGS
from onedatum.study.legs import LegsChapter
from onedatum.study.legs.pressures import pressure_rows_of_legs
from onedatum.study.result import Study

KEYS = ("legs-",)


def legs_sheet(study: Study) -> paper.TopicSheet | None:
    """Everything of the legs on one sheet; None where the case has none."""
    legs = study.measuring.legs
    if legs is None:
        return None
    tables = (
        _range(legs),
        _fillings(study, legs),
        _shown(legs),
        _what_if(study),
        checked(study, KEYS, "Does the transmitter measure it"),
        _pressures(study, legs),
        two_columns("Data of the order: transmitter and legs", legs_order_lines(study, legs)),
    )
    return paper.TopicSheet(
        "Pressure ranging",
        _answer(study, legs),
        (LEGS, DEFERENCE),
        present(tables),
        _sketch(study, legs),
        tuple(_notes(legs)),
    )


def _answer(study: Study, legs: LegsChapter) -> str:
    first, last = legs.rows[0], legs.rows[-1]
    chosen = study.statement.case.instrument.principle.word in (BY_DIFFERENCE, BY_HEAD)
    beside = "" if chosen else "The alternative, by pressure: "
    if not first.difference.known or not last.difference.known:
        return "The range waits for what is named among the questions."
    words = f"{beside}4 mA at {first.difference.text}, 20 mA at {last.difference.text}; span {legs.span.text}."
    return in_print(words)


def _range(legs: LegsChapter) -> paper.SheetTable:
    one = legs.taps is None
    head = ("current", "level", "pressure") if one else ("current", "level", "high side", "low side", "high less low")
    rows = []
    for row in legs.rows:
        low = () if one else (shown(row.low),)
        middle = () if one else (shown(row.high), *low)
        rows.append((shown(row.current), shown(row.level), *middle, shown(row.difference)))
    acts = "the pressure of the gas comes on top" if one else "the pressure of the gas acts on both sides"
    note = f"Levels above the datum, in the state {legs.set_for.state}; columns above the transmitter; {acts}."
    weights = (1.0, 1.4, 2.0) if one else (0.9, 1.3, 1.8, 1.8, 1.9)
    return paper.SheetTable("Range", head, tuple(rows), weights, note=in_print(note))


def _fillings(study: Study, legs: LegsChapter) -> paper.SheetTable:
    """What stands where, by state."""
    liquid, gas = ("lower liquid", "upper liquid") if legs.interface else ("liquid", "gas above")
    head = ("state", liquid, gas, "lower leg", "upper leg")
    rows = tuple(
        (
            each.state,
            shown(each.liquid),
            shown(each.gas),
            shown(each.lower_leg),
            "–" if each.upper_leg is None else shown(each.upper_leg),
        )
        for each in legs.columns
    )
    note = f"Change of the difference with the level: {legs.per_metre.text}." if legs.per_metre.known else ""
    return paper.SheetTable("Densities", head, rows, (2.2, 1.5, 1.5, 1.5, 1.5), note=in_print(note))


def _shown(legs: LegsChapter) -> paper.SheetTable | None:
    if not legs.shown:
        return None
    head = ("state", "difference", "shown", "too high by")
    rows = tuple((each.state, shown(each.difference), shown(each.shown), shown(each.error)) for each in legs.shown)
    note = "The level in the vessel is the level now; shown above the lower tap by the range of the first state."
    return paper.SheetTable("Set in the first state, shown in the others", head, rows, (2.2, 2.0, 1.4, 1.4), note=note)


def _what_if(study: Study) -> paper.SheetTable | None:
    changes = study.measuring.changes
    if not changes:
        return None
    rows = tuple((each.text[:1].upper() + each.text[1:], shown(each.shift)) for each in changes)
    return paper.SheetTable("What if", ("", "shown too high by"), rows, (3.0, 1.0))


def _pressures(study: Study, legs: LegsChapter) -> paper.SheetTable | None:
    found = pressure_rows_of_legs(study.sheet, legs)
    if len(found) < 2:
        return None
    rows = tuple(
        (show(each.pressure_Pa_abs, "bar(a)"), show(each.shown_m, "mm"), show(each.error_m, "mm")) for each in found
    )
    note = "The level now, worked by the same chain with the pressure put in; the legs as warm as at the setting."
    table = tuple(tuple(map(in_print, row)) for row in rows)
    return paper.SheetTable(
        "From start-up to the set pressure", ("pressure", "shown", "too high by"), table, (1.0, 1.0, 1.0), note=note
    )


def _high_side(legs: LegsChapter) -> str:
    if legs.taps is None:
        return "the only tap"
    return "lower tap" if legs.high_at_lower else "upper tap"


def legs_order_lines(study: Study, legs: LegsChapter) -> tuple[tuple[str, str], ...]:
    """Every line of the order: what, and its value; what is not known says so."""
    stated = study.statement.case.legs
    rows = [
        ("lower tap above the datum", shown(legs.tap)),
        ("distance of the taps", "one tap" if legs.taps is None else shown(legs.taps.distance)),
        ("transmitter below the lower tap", shown(legs.below)),
        ("high side at", _high_side(legs)),
        ("lower leg", said(stated.lower_leg.filling)),
        ("upper leg", "none" if legs.taps is None else said(stated.upper_leg.filling)),
        ("pressure at 4 mA (LRV)", shown(legs.rows[0].difference)),
        ("pressure at 20 mA (URV)", shown(legs.rows[-1].difference)),
        ("span", shown(legs.span)),
        ("smallest span of the transmitter", said(stated.smallest_span)),
        ("its cell measures from, to", f"{said(stated.sensor_low)}, {said(stated.sensor_high)}"),
    ]
    if legs.standard is not None:
        rows.append(("standard uncertainty by the densities", shown(legs.standard)))
    return tuple(rows)


def _notes(legs: LegsChapter) -> Iterator[paper.Note]:
    if legs.taps is not None:
        yield paper.Note(
            "The pressure of the gas acts on both sides and cancels; it does not for a single sensor.", "derived"
        )
        both = legs.upper is not None and "yes" == legs.upper.stated.capillary.word == legs.lower.stated.capillary.word
        if both:
            yield paper.Note(
                "With the same filling in both capillaries the height of the transmitter drops out.", "derived"
            )
            yield paper.Note(
                "Capillaries of unequal length, or one in the sun, drift: not worked here without their data.",
                "common practice, no source",
            )
    yield paper.Note(
        "A denser liquid reads high, whatever the legs: the transmitter weighs, it does not see.", "derived"
    )
    yield paper.Note(
        "inH2O(4 degC), (20 degC) and (60 degF) count 999.972, 998.207 and 999.016 kg/m3 at standard gravity.",
        "NIST SP 811, B.8, from memory",
    )


def _sketch(study: Study, legs: LegsChapter) -> LegsSketch | None:
    below = legs.below.value
    distance = None if legs.taps is None else legs.taps.distance.value
    if below is None or (legs.taps is not None and distance is None):
        return None
    return LegsSketch(
        title="Vessel, taps and legs",
        tap_distance_m=distance,
        below_m=below,
        lower_filling=legs.lower.word or "lower leg",
        upper_filling=(legs.upper.word or "upper leg") if legs.upper is not None else "",
        high_at_lower=legs.high_at_lower,
        level_m=legs.level.value,
        interface=legs.interface,
        left=tuple(_marks(study, legs)),
        lines=tuple(in_print(line) for line in _lines(legs)),
        caption=in_print(
            f"State {legs.set_for.state}. Heights to scale above the lower tap, widths not; every column is written "
            "out with its sign, at the level now."
        ),
    )


def _marks(study: Study, legs: LegsChapter) -> Iterator[Mark]:
    tap = legs.tap.value or 0.0
    yield Mark(0.0, "lower tap 0")
    if legs.taps is not None and legs.taps.distance.value is not None:
        yield Mark(legs.taps.distance.value, in_print(f"upper tap {legs.taps.distance.text}"))
    for words, row in (("4 mA", legs.rows[0]), ("20 mA", legs.rows[-1])):
        if row.level.value is not None:
            height = row.level.value - tap
            yield Mark(height, in_print(f"{words} {show(height, row.level.shown or 'mm')}"))
    if legs.level.value is not None:
        yield Mark(
            legs.level.value, in_print(f"{'interface' if legs.interface else 'level'} {legs.level.text}"), strong=True
        )
    if legs.below.value is not None and legs.below.value != 0.0:
        yield Mark(-legs.below.value, in_print(f"transmitter {show(-legs.below.value, legs.below.shown or 'mm')}"))


def _lines(legs: LegsChapter) -> Iterator[str]:
    """The sum, side by side."""
    row = _now(legs)
    if legs.taps is None:
        yield "One side, against the atmosphere:"
        yield f"{legs.set_for.liquid.text} over {legs.level.text} of level"
        yield f"{legs.set_for.lower_leg.text} over {legs.below.text} of leg"
        yield f"pressure now {legs.now.text}"
        return
    liquid, gas = ("lower liquid", "upper liquid") if legs.interface else ("liquid", "gas")
    upper = legs.set_for.upper_leg
    sides = ("high side", "low side") if legs.high_at_lower else ("low side", "high side")
    yield f"Side of the lower tap ({sides[0]}):"
    yield f"  + {liquid} {legs.set_for.liquid.text} over {legs.level.text}"
    yield f"  + {gas} {legs.set_for.gas.text} over the rest"
    yield f"  {_sign(legs)} leg {legs.set_for.lower_leg.text} over {legs.below.text}"
    yield f"  = {row[0]}"
    yield f"Side of the upper tap ({sides[1]}):"
    yield f"  + leg {upper.text if upper is not None else ''} from the upper tap down"
    yield f"  = {row[1]}"
    yield f"High side less low side now {legs.now.text}"


def _sign(legs: LegsChapter) -> str:
    return "−" if (legs.below.value or 0.0) < 0.0 else "+"


def _now(legs: LegsChapter) -> tuple[str, str]:
    """What stands on the side of the lower tap and on that of the upper one, now."""
    high, low = legs.now.inputs.get("high_Pa"), legs.now.inputs.get("low_Pa")
    texts = tuple(entry.text if entry is not None else "not known" for entry in (high, low))
    return (texts[0], texts[1]) if legs.high_at_lower else (texts[1], texts[0])
