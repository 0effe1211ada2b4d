"""The sheet of a bypass chamber: its sketch, its setting, other states, other pressures, what it needs."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.case import US_CUSTOMARY
from onedatum.case.model.liquid import BOILING_WATER
from onedatum.foundation.units import in_print, show
from onedatum.foundation.working import Entry
from onedatum.jobs.safety_sheets.words import checked, named, present, said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.paper.columns.model import ChamberSketch, Mark
from onedatum.study.cautions import BOILER, DEFERENCE, PRESSURE
from onedatum.study.chamber import ChamberChapter, pressure_rows
from onedatum.study.chamber.stem import Outside
from onedatum.study.result import Study
from onedatum.verdicts import Verdict

KEYS = ("chamber-", "magnet-field", "reading-lean", "float-pressure", "float-floats", "float-reserve")
LEFT_OUT_M = 0.05
"""How far the sketch goes beyond a tap where the chamber's own length is not stated."""

SWELL = (
    "Swell and shrink: a chamber weighs its column and sees no bubbles. When the load rises the pressure falls, "
    "bubbles grow and the true surface rises while the water gets less; the reading lags and smooths. Do not "
    "correct for it: control by level, steam and feed water together."
)
PLUGGED = "A plugged lower tap leaves the float at a plausible level: blow the chamber down by the rules of the site."


def chamber_sheet(study: Study) -> paper.TopicSheet | None:
    """Everything of the chamber on one sheet; None where the case has none."""
    chamber, outside = study.measuring.chamber, study.measuring.outside
    if chamber is None:
        return None
    tables = (
        _setting(study, chamber),
        _states(chamber),
        _shown(outside) if outside is not None else None,
        checked(study, KEYS, "Does it fit, does it follow, does it bear"),
        _pressures(study, chamber),
        two_columns("Data of the order: chamber and stem", chamber_order_lines(study, chamber, outside)),
        _follows(chamber),
    )
    cautions = (BOILER, PRESSURE, DEFERENCE) if _boils(study) else (PRESSURE, DEFERENCE)
    return paper.TopicSheet(
        "Bypass chamber",
        _answer(study, chamber),
        cautions,
        present(tables),
        _sketch(study, chamber, outside),
        tuple(paper.Note(words, tag) for words, tag in _notes(study)),
    )


def _boils(study: Study) -> bool:
    return study.statement.case.medium.kind.word == BOILING_WATER


def _answer(study: Study, chamber: ChamberChapter) -> str:
    error = chamber.error.value
    if error is None:
        return "Not decided yet: what the chamber stands at waits for what is named among the questions."
    word = "lower" if error < 0.0 else "higher"
    found = [check.verdict for check in study.checks if check.key.startswith(KEYS) and not check.remark]
    verdict = max(found, key=lambda each: each.gravity) if found else None
    end = (
        {
            Verdict.DOES_NOT_SUIT: " Something of it does not hold, see below.",
            Verdict.UNDECIDED: " Something of it is not decided yet, see below.",
        }.get(verdict, "")
        if verdict is not None
        else ""
    )
    stands = show(abs(error), _length(study))
    return in_print(
        f"In the state {chamber.now.state} the chamber stands {stands} {word} than the vessel at the level now.{end}"
    )


def _length(study: Study) -> str:
    return "in" if study.statement.case.print_units.word == US_CUSTOMARY else "mm"


def _setting(study: Study, chamber: ChamberChapter) -> paper.SheetTable:
    """The quarters of the signal: level in the vessel, level in the chamber, what an uncorrected chamber is out by."""
    head = ("current", "level in the vessel", "level in the chamber", "chamber less vessel")
    rows = tuple((shown(r.current), shown(r.above), shown(r.in_chamber), shown(r.error)) for r in chamber.rows)
    note = f"Above the lower tap, in the state {chamber.now.state}: set 4 and 20 mA at the levels in the chamber."
    return paper.SheetTable("Setting", head, rows, (1.2, 2.0, 2.0, 2.0), note=in_print(note))


def _states(chamber: ChamberChapter) -> paper.SheetTable:
    """Densities and factor by state."""
    head = ("state", "liquid", "vapour or gas", "chamber at", "in the chamber", "chamber over vessel")
    rows = tuple(
        (
            each.state,
            shown(each.condition.density),
            shown(each.condition.gas),
            shown(each.temperature) if each.factor is not None else "by thermometers",
            shown(each.density),
            shown(each.factor) if each.factor is not None else "by its profile",
        )
        for each in (*chamber.standings, *chamber.stand_ins)
    )
    return paper.SheetTable("Densities", head, rows, (2.2, 1.5, 1.5, 1.4, 1.5, 1.5))


def _shown(outside: Outside) -> paper.SheetTable | None:
    """What the setting shows in the other states."""
    if not outside.shown:
        return None
    head = ("state", "shown by the column alone", "shown, float as it rides", "too high by")
    rows = tuple((each.state, shown(each.shown), shown(each.with_float), shown(each.error)) for each in outside.shown)
    note = "The level in the vessel is the level now; above the lower tap. A check cold needs its own offset."
    return paper.SheetTable("Set in the first state, shown in the others", head, rows, (2.4, 2.0, 2.0, 1.4), note=note)


def _pressures(study: Study, chamber: ChamberChapter) -> paper.SheetTable | None:
    """The level now as the setting shows it from start-up on."""
    found = pressure_rows(study.sheet, chamber)
    if len(found) < 2:
        return None
    unit, bar = _length(study), "psi(a)" if study.statement.case.print_units.word == US_CUSTOMARY else "bar(a)"
    rows = tuple(
        (show(each.pressure_Pa_abs, bar), show(each.shown_m, unit), show(each.error_m, unit)) for each in found
    )
    note = (
        "The level now, by the column alone, the chamber as warm as at the setting; pressures at which it would boil "
        "are left out. Worked by the same chain with the pressure put in."
    )
    head = ("pressure", "shown", "too high by")
    table = tuple(tuple(map(in_print, row)) for row in rows)
    return paper.SheetTable("From start-up to the set pressure", head, table, (1.0, 1.0, 1.0), note=note)


def chamber_order_lines(study: Study, chamber: ChamberChapter, outside: Outside | None) -> tuple[tuple[str, str], ...]:
    """Every line of the order of the chamber and its stem; what is not known says so."""
    stated = study.statement.case.chamber
    rows = [
        ("lower tap above the datum", shown(chamber.taps.lower)),
        ("distance of the taps", shown(chamber.taps.distance)),
        ("inside diameter, wall", f"{said(stated.inside_diameter)}, {said(stated.wall)}"),
        ("material", said(stated.metal)),
        ("relative permeability of the wall", said(stated.relative_permeability)),
        ("pressure rating", f"{said(stated.pressure_rating)} at {said(stated.rating_temperature)}"),
        ("connections", said(stated.connections)),
        ("insulation", said(stated.insulation)),
        ("vent, drain", f"{said(stated.vent)}, {said(stated.drain)}"),
    ]
    return (*rows, *(_of_stem(study, outside) if outside is not None else ()))


def _of_stem(study: Study, outside: Outside) -> list[tuple[str, str]]:
    return [
        ("room needed below the lower tap", shown(outside.room_below)),
        ("room needed above the upper tap", shown(outside.room_above)),
        ("gap around the float", shown(outside.side)),
        ("tip of the stem at or below", shown(outside.tip_needed)),
        ("upper end of the stem at or above", shown(outside.top_needed)),
        ("length of the stem, at least", shown(outside.length_needed)),
        ("stem from the axis of the chamber", named(study, "chamber.stem_distance")),
        ("field at the stem, float at the far wall", _field(study, outside)),
        ("steel and magnets keep off by", named(study, "chamber.clear_distance")),
        ("reading moves by a lean from wall to wall", named(study, "magnet.lean_shift")),
    ]


def _field(study: Study, outside: Outside) -> str:
    return named(study, f"magnet.strength_far[{outside.stem.now.state}]")


def _follows(chamber: ChamberChapter) -> paper.SheetTable | None:
    lag = chamber.lag
    rows: list[tuple[str, Entry | None]] = []
    if lag is not None:
        rows += [
            ("time constant, laminar", lag.time),
            ("period of the swinging column", lag.period),
            ("its damping, 1 creeps", lag.damping),
            ("number of Reynolds at that rate", lag.reynolds),
            ("lag at that rate", lag.lag),
        ]
    rows += [
        ("standard uncertainty in the chamber, by its temperature", chamber.standard_in_chamber),
        ("the same as a level in the vessel", chamber.standard),
        ("straight line of the setting out by", chamber.bent),
        ("level without the bubbles", chamber.collapsed),
        ("level with the lower liquid alone", chamber.layers),
    ]
    told = [(words, shown(entry)) for words, entry in rows if entry is not None]
    return two_columns("How it follows, how well it is known", told) if told else None


def _notes(study: Study) -> Iterator[tuple[str, str]]:
    if _boils(study):
        yield SWELL, "common practice, no source"
    yield PLUGGED, "common practice, no source"
    yield (
        "Measure the temperature of the chamber at two or three heights, or insulate around chamber and stem together.",
        "common practice, no source",
    )


def _sketch(study: Study, chamber: ChamberChapter, outside: Outside | None) -> ChamberSketch | None:
    """The picture; None while the taps are unknown."""
    distance, case = chamber.taps.distance.value, study.statement.case
    if distance is None:
        return None
    below, above = case.chamber.below_lower_tap.si, case.chamber.above_upper_tap.si
    level, inside, tap = chamber.level.value, chamber.in_chamber.value, chamber.taps.lower.value or 0.0
    sunk = study.value(f"float.immersion[{chamber.now.state}]")
    high = outside.stem.float_.height.value if outside is not None else None
    plane = outside.stem.float_.magnet_plane.value if outside is not None else None
    float_ = None if None in (inside, sunk, high) else (inside - sunk, inside - sunk + high)  # type: ignore[operator]
    stem = _stem(outside, tap)
    return ChamberSketch(
        title="Vessel and chamber at the level now",
        tap_distance_m=distance,
        bottom_m=-(below if below is not None else LEFT_OUT_M),
        top_m=distance + (above if above is not None else LEFT_OUT_M),
        level_m=level,
        in_chamber_m=inside,
        float_m=float_,
        magnet_m=float_[0] + plane if float_ is not None and plane is not None else None,
        stem_m=stem,
        left=tuple(_left(chamber)),
        right=tuple(_right(study, chamber, stem)),
        caption=in_print(
            f"State {chamber.now.state}. Heights to scale above the lower tap, widths not; the broken line carries the "
            "level of the vessel to the chamber."
        ),
    )


def _stem(outside: Outside | None, tap_m: float) -> tuple[float, float] | None:
    if outside is None or outside.stem.face.value is None or outside.stem.length.value is None:
        return None
    top = outside.stem.face.value - tap_m
    return top - outside.stem.length.value, top


def _left(chamber: ChamberChapter) -> Iterator[Mark]:
    yield Mark(0.0, "lower tap 0")
    if chamber.taps.distance.value is not None:
        yield Mark(chamber.taps.distance.value, in_print(f"upper tap {chamber.taps.distance.text}"))
    for words, entry in (("4 mA", chamber.rows[0].above), ("20 mA", chamber.rows[-1].above), ("level", chamber.level)):
        if entry.value is not None:
            told = show(entry.value, entry.shown or "mm")
            yield Mark(entry.value, in_print(f"{words} {told}"), strong=words == "level")


def _right(study: Study, chamber: ChamberChapter, stem: tuple[float, float] | None) -> Iterator[Mark]:
    pairs = (
        ("4 mA set at", chamber.lower_set),
        ("20 mA set at", chamber.upper_set),
        ("level in the chamber", chamber.in_chamber),
    )
    for words, entry in pairs:
        if entry.value is not None:
            yield Mark(entry.value, in_print(f"{words} {entry.text}"), strong=words.startswith("level"))
    if stem is not None:
        unit = _length(study)
        yield Mark(stem[0], in_print(f"tip of the stem {show(stem[0], unit)}"))
        yield Mark(stem[1], in_print(f"upper end of the stem {show(stem[1], unit)}"))
