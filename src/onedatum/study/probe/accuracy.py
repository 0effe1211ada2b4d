"""How well the probe tells the level: what liquid, layer, ends, wave and film leave, each with its distribution.

Each error is taken at its greatest over the range for the level, and at the level now for the quantity; none is
corrected, so that its mirror image counts as well. While nobody knows whether a film stays, the whole is not known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from onedatum.case.model.probe import YES
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry, Uncertainty
from onedatum.physics.capacitive import (
    changed_slope_error_m,
    film_low_m,
    probe_standard_m,
    slope_standard_m,
    wave_error_m,
)
from onedatum.physics.uncertainty import error_standard_m
from onedatum.study.budget import with_probe
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk
from onedatum.study.probe.changes import Change
from onedatum.study.probe.chapter import ProbeChapter, highest
from onedatum.study.probe.ends import ends_not_worked
from onedatum.study.probe.field import FieldCurve
from onedatum.study.probe.level import AtLevel
from onedatum.study.sensitivity import spread_of, uncertain_under

KEYS = ("permittivity", "conductivity", "liquid", "layer", "bend", "wave", "film")
TEXTS = {
    "permittivity": "permittivity, other than set",
    "conductivity": "conductivity, other than set",
    "liquid": "how well what is measured is known",
    "layer": "layer that insulates, on the rod",
    "bend": "ends of the rod, which bend the line",
    "wave": "wave on the rod",
    "film": "film that conducts, above the level",
}
FILM_OPEN = "the film on the rod, which is open until it is tested"
ENDS_OPEN = "what the ends of the rod add, which is open"
FELT = ("medium.permittivity",)
"""What is open where the probe does not feel the level at one end of the liquid."""
NOT_KNOWN = "what the probe itself adds, which is not known yet"


@dataclass(frozen=True)
class Part:
    """One error: over the range, and at the level now; both as standard uncertainty and, where it has one, as size."""

    key: str
    greatest: Entry | None
    """At its greatest over the range; None where it is a standard uncertainty from the start."""
    standard: Entry
    now: Entry
    """The error at the level now; a standard uncertainty where `greatest` is None."""

    @property
    def text(self) -> str:
        """What it comes from."""
        return TEXTS[self.key]


@dataclass(frozen=True)
class ProbeAccuracy:
    """The parts, and the errors that the budgets count."""

    parts: tuple[Part, ...]
    standard: Entry
    alarm_standard: Entry
    """Without what a film makes the level read too high: it makes an alarm come early."""
    errors: tuple[Entry, ...]
    """Of the level now: nothing as far as known, each with its uncertainty; none of a film that is open."""
    film_open: bool
    """Whether it is open if a film stays."""
    ends_open: bool = False
    """Whether it is open what the ends of the rod add."""

    @property
    def open_(self) -> tuple[str, ...]:
        """What must be known before the whole is, by path."""
        return () if self.standard.known else self.standard.waits_for or FELT

    @property
    def left_out(self) -> str:
        """What the errors do not hold; empty where they hold everything."""
        if not self.open_:
            return ""
        named = (*([FILM_OPEN] if self.film_open else []), *([ENDS_OPEN] if self.ends_open else []))
        return ", and ".join(named) or NOT_KNOWN

    def errors_over(self, desk: Desk, which: str) -> tuple[Entry, ...]:
        """The same of one reading anywhere in the range, at their greatest and of that reading alone."""
        return tuple(_error(desk, part, part.greatest or part.standard, f", {which}") for part in self._sized)

    @property
    def _sized(self) -> tuple[Part, ...]:
        return tuple(part for part in self.parts if part.standard.known)

    def level_u(self, desk: Desk, level_u: Entry) -> Entry:
        """The uncertainty of the level with all of it."""
        meaning = "expanded uncertainty of the level with what the probe adds over its range, k = 2"
        return with_probe(desk, "probe.level_uncertainty", level_u, self.standard, meaning)

    def alarm_u(self, desk: Desk, level_u: Entry) -> Entry:
        """The same for an alarm of a high level."""
        if self.alarm_standard is self.standard:
            return desk.sheet["probe.level_uncertainty"]
        meaning = "expanded uncertainty of the level for a high alarm, which a film makes come early, k = 2"
        return with_probe(desk, "probe.alarm_uncertainty", level_u, self.alarm_standard, meaning)


def accuracy_of(desk: Desk, probe: ProbeChapter) -> ProbeAccuracy:
    """Put together what the probe adds."""
    parts = tuple(_parts(desk, probe))
    film = next((part for part in parts if part.key == "film"), None)
    standard = _joined(desk, "probe.accuracy.standard", parts, "standard uncertainty of the level by the probe itself")
    alarm = standard
    if film is not None:
        low = _film_low(desk, probe)
        others = (*(part for part in parts if part is not film), low)
        meaning = "standard uncertainty of the level by the probe itself, for a high alarm"
        alarm = _joined(desk, "probe.accuracy.alarm_standard", others, meaning)
    errors = tuple(_error(desk, part, part.now) for part in parts if part.now.known)
    film_open = film is not None and not desk.case.probe.film.stays.known
    ends_open = any(part.key == "bend" and not part.standard.known for part in parts)
    return ProbeAccuracy(parts, standard, alarm, errors, film_open, ends_open)


def _parts(desk: Desk, probe: ProbeChapter) -> Iterator[Part]:
    for key in ("permittivity", "conductivity", "layer"):
        changes = [each for each in probe.changes if _key(each) == key and not each.set_in_it]
        if changes:
            yield _changed(desk, key, probe, changes)
    yield from _liquid(desk, probe)
    yield from _bend(desk, probe)
    yield _sized(desk, "wave", _wave(desk, probe, highest(probe.rows)), _wave(desk, probe, probe.now))
    yield from _film(desk, probe)


# ---------------------------------------------------------------- each of them


def _changed(desk: Desk, key: str, probe: ProbeChapter, changes: Sequence[Change]) -> Part:
    """The liquid or the rod otherwise than when it was set: the end that moves the level most."""
    worst = max(changes, key=lambda each: _size(_left(each)))
    if worst.left is not None or not worst.error.known:
        return _sized(desk, key, _left(worst), _left(worst))
    inputs = {"wetted_m": probe.now.wetted, "now_F_per_m": worst.slope, "set_F_per_m": probe.slope}
    meaning = f"the level now reads too high by, {worst.text}"
    name = f"probe.accuracy.{key}.now"
    return _sized(desk, key, worst.error, desk.worked(name, changed_slope_error_m, inputs, shown="mm", meaning=meaning))


def _key(change: Change) -> str:
    """Which part a change belongs to: what is neither conductivity nor layer moves the permittivity."""
    name = change.error.name
    return next((key for key in ("conductivity", "layer") if name.startswith(f"probe.{key}")), "permittivity")


def _size(error: Entry) -> float:
    """How far it moves the level; what is not known, or is no level any more, counts most."""
    return inf if error.value is None else abs(error.value)


def _left(change: Change) -> Entry:
    """The error, or what a reference section leaves of it."""
    return change.error if change.left is None else change.left


def _liquid(desk: Desk, probe: ProbeChapter) -> Iterator[Part]:
    """What is stated of the liquid with an uncertainty, through the slope, beside its permittivity.

    A setting at two levels takes in what does not move afterwards: all but the temperature.
    """
    slope, medium = probe.slope, desk.case.medium
    uncertain = [
        entry
        for entry in uncertain_under(slope)
        if entry.path.startswith("medium.") and entry.path != medium.permittivity.path
        if entry.path == medium.temperature.path or not probe.setting
    ]
    if not uncertain or not (slope.value or 0.0) > 0.0:
        return
    spread = spread_of(desk.sheet, [slope.name], uncertain, correlation_of(desk, uncertain))
    standard = desk.sheet.record(
        "probe.accuracy.slope_standard",
        spread.standard(slope.name),
        slope.suffix,
        "standard uncertainty of the change of capacitance per change of level by the liquid",
        method="it worked again with each uncertain number of the liquid at plus and minus its standard uncertainty",
        source="jcgm-100: 5.1.2",
        rests_on=[slope, *uncertain],
        shown="pF/m",
    )
    made = []
    for name, at in (("standard", highest(probe.rows)), ("now", probe.now)):
        inputs = {"wetted_m": at.wetted, "slope_u_F_per_m": standard, "slope_F_per_m": slope}
        meaning = f"standard uncertainty of the level by the liquid, {at.name}"
        entry = desk.worked(f"probe.accuracy.liquid.{name}", slope_standard_m, inputs, shown="mm", meaning=meaning)
        made.append(entry)
    yield Part("liquid", None, *made)


def _bend(desk: Desk, probe: ProbeChapter) -> Iterator[Part]:
    """The departure of the field's curve from the straight line, or what the table entered leaves of it."""
    entered, field = desk.case.probe.table_entered, probe.bend
    if probe.field is None:
        desk.skip(entered)
    elif desk.word(entered, "what the ends of the rod leave: until then the straight line counts") == YES:
        left = _left_by_table(desk, probe.field)
        yield _sized(desk, "bend", left, left)
        return
    if field is None:
        about = ends_not_worked(desk, probe)
        if about is not None:
            yield _sized(desk, "bend", about, about)
        return
    ends = [point.level.value or 0.0 for point in (*probe.rows, *probe.setting, probe.now)]
    inside = [row for row in field.rows if min(ends) <= row.level_m <= max(ends)]
    worst = max(inside, key=lambda row: abs(row.error.value or 0.0))
    yield _sized(desk, "bend", worst.error, field.at(probe.now.level.value or 0.0).error)


def _left_by_table(desk: Desk, field: FieldCurve) -> Entry:
    """Between the rows of the table entered, and what the mesh itself is open to."""
    span = field.high_m - field.low_m
    return desk.sheet.record(
        "probe.accuracy.left_by_table",
        span * (field.table.largest_left + (field.difference.value or 0.0)),
        "m",
        "what the table entered leaves between its rows, and a finer mesh moves",
        method="largest error between the rows, and the difference of the two meshes, on the span of the setting",
        source="derived",
        rests_on=[field.difference, *(row.capacitance for row in field.rows)],
        shown="mm",
    )


def _wave(desk: Desk, probe: ProbeChapter, at: AtLevel) -> Entry:
    inputs = {"share": probe.wave, "wetted_m": at.wetted}
    meaning = f"the wave on the rod makes the level read too high by at most, {at.name}"
    return desk.worked(f"probe.accuracy.wave[{at.name}]", wave_error_m, inputs, shown="mm", meaning=meaning)


def _film(desk: Desk, probe: ProbeChapter) -> Iterator[Part]:
    """As it was worked where it stays; asked for while nobody has tested whether it does."""
    film, stays = probe.film, desk.case.probe.film.stays
    if film is None:
        return
    if stays.word == YES:
        yield _sized(desk, "film", film.deciding, film.as_read(film.now))
        return
    open_ = desk.sheet.give(
        "probe.accuracy.film",
        None,
        "m",
        "what a film above the level adds, open until it is tested whether one stays",
        state="unknown",
        shown="mm",
        path=stays.path,
        place=stays.place,
    )
    yield _sized(desk, "film", open_, open_)


def _film_low(desk: Desk, probe: ProbeChapter) -> Part:
    """The film at its least: below nothing only where a loss is taken off."""
    film = probe.film
    if film is None:
        raise ValueError("there is a film where its part is worked")
    errors = [film.as_read(row) for row in film.rows]
    least = desk.sheet.select("probe.accuracy.film_least", "least", "what the film adds at its least", errors)
    meaning = "what the film makes the level read too low by, at most"
    low = desk.worked("probe.accuracy.film_low", film_low_m, {"error_m": least}, shown="mm", meaning=meaning)
    return _sized(desk, "film", low, low, name="film_low")


# ---------------------------------------------------------------- together


def _sized(desk: Desk, key: str, greatest: Entry, now: Entry, name: str = "") -> Part:
    """An error by its greatest size, any up to it as likely."""
    standard = desk.worked(
        f"probe.accuracy.{name or key}.standard",
        error_standard_m,
        {"error_m": greatest},
        shown="mm",
        meaning=f"standard uncertainty of the level by: {TEXTS[key]}",
    )
    return Part(key, greatest, standard, now)


def _joined(desk: Desk, name: str, parts: Sequence[Part], meaning: str) -> Entry:
    none = desk.constant(
        "probe.accuracy.none", 0.0, "m", "no such part of the uncertainty", shown="mm", note="none", source="derived"
    )
    by_key = {part.key: part.standard for part in parts}
    inputs = {f"{key}_m": by_key.get(key, none) for key in KEYS}
    return desk.worked(name, probe_standard_m, inputs, shown="mm", meaning=meaning)


def _error(desk: Desk, part: Part, worked: Entry, which: str = "") -> Entry:
    """An error of a level as the budgets count it: nothing as far as known, with its distribution."""
    size = abs(worked.value or 0.0)
    text = show(size, "mm")
    if part.greatest is None:
        uncertainty = Uncertainty(size, "normal", f"standard {text}")
    else:
        uncertainty = Uncertainty.within(size, f"within {text}")
    return desk.sheet.give(
        f"probe.error[{part.key}{which}]",
        0.0,
        "m",
        f"error of the level by: {part.text}{which}",
        state="constant",
        shown="mm",
        note=f"not corrected; its uncertainty counts in the budget, worked as {worked.name}",
        source="derived",
        uncertainty=uncertainty,
    )
