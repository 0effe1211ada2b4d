"""A conductive film above the level: what it seems to add, and what the loss tells of it."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.instrument import CAPACITIVE
from onedatum.case.model.probe import NO, YES
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    bare_length_m,
    drained_film_m,
    film_depth_m,
    film_extra_m,
    film_greatest_m,
    film_left_m,
    film_resistance_ohm_per_m,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.level import AtLevel
from onedatum.study.probe.regime import CONDUCTIVE, INSULATING, Regime
from onedatum.study.probe.section import ProbeSection

WORDS = "a film above the level keeps the error allowed", "A film above the level reads as level"


@dataclass(frozen=True)
class FilmAt:
    """The film at one level."""

    level: Entry
    length: Entry
    extra: Entry
    left: Entry


@dataclass(frozen=True)
class FilmChapter:
    """What a continuous film does."""

    thickness: Entry
    resistance: Entry
    depth: Entry
    greatest: Entry
    now: FilmAt
    rows: tuple[FilmAt, ...]
    takes_off_loss: bool

    @property
    def deciding(self) -> Entry:
        """The largest error over the range and at the level now, as this transmitter reads it."""
        errors = [self.as_read(row) for row in (self.now, *self.rows)]
        return max(errors, key=lambda entry: abs(entry.value or 0.0))

    def as_read(self, row: FilmAt) -> Entry:
        """The error at a level as this transmitter reads it."""
        return row.left if self.takes_off_loss else row.extra


@dataclass(frozen=True)
class Along:
    """The rod, the liquid on it, and the levels at which its film is asked for: the level now first."""

    active: Entry
    density: Entry
    levels: tuple[AtLevel, ...]


def film_of(desk: Desk, section: ProbeSection, regime: Regime, along: Along) -> FilmChapter | None:
    """Work the film; None for a bare rod, for a film that insulates, and where a test has shown that none stays."""
    film = desk.case.probe.film
    insulates = regime.word == INSULATING and not film.conductivity.known
    if not section.known:
        return None
    if section.coating is None or film.stays.word == NO or insulates:
        desk.skip(*film.leaves())
        return None
    desk.read.update(leaf.path for leaf in film.leaves())
    return _worked(desk, section.outside, section.coating, regime, along)


def _worked(desk: Desk, outside: Entry, coating: Entry, regime: Regime, along: Along) -> FilmChapter:
    """The film as a line from the surface up."""
    film, probe = desk.case.probe.film, desk.case.probe
    thickness = _thickness(desk, along.density)
    conductivity = desk.case.medium.conductivity
    own = film.conductivity if film.conductivity.known else conductivity
    if own is conductivity:
        desk.skip(film.conductivity)
    resistance = desk.calc(
        "probe.film_resistance",
        film_resistance_ohm_per_m,
        shown="ohm/m",
        meaning="resistance per length of the film",
        coating_radius_m=outside,
        thickness_m=thickness,
        conductivity_S_per_m=desk.end(own, "high", "greatest") if own.high is not None else desk.take(own, "uS/cm"),
    )
    depth = desk.calc(
        "probe.film_depth",
        film_depth_m,
        shown="mm",
        meaning="length over which a wave on the film dies to 1/e",
        frequency_Hz=desk.take(probe.frequency, "kHz"),
        resistance_ohm_per_m=resistance,
        coating_F_per_m=coating,
    )
    greatest = desk.calc(
        "probe.film_greatest", film_greatest_m, shown="mm", meaning="most that a film of any length adds", depth_m=depth
    )
    now, *rows = (_at(desk, at, along.active, depth) for at in along.levels)
    # Between the regimes the liquid has a loss of its own, and what is taken off is not that of the film.
    compensated = probe.takes_off_loss.word == YES and regime.word == CONDUCTIVE
    found = FilmChapter(thickness, resistance, depth, greatest, now, tuple(rows), compensated)
    _judge(desk, found)
    return found


def _at(desk: Desk, at: AtLevel, active: Entry, depth: Entry) -> FilmAt:
    name = at.name
    length = desk.calc(
        f"probe.film_length[{name}]",
        bare_length_m,
        shown="mm",
        meaning=f"length of the film, {name}",
        active_m=active,
        wetted_m=at.wetted,
    )
    inputs = {"length_m": length, "depth_m": depth}
    meaning = f"the film seems to add, {name}"
    extra = desk.worked(f"probe.film_extra[{name}]", film_extra_m, inputs, shown="mm", meaning=meaning)
    meaning = f"left of it once the loss is taken off, {name}"
    left = desk.worked(f"probe.film_left[{name}]", film_left_m, inputs, shown="mm", meaning=meaning)
    return FilmAt(at.level, length, extra, left)


def _thickness(desk: Desk, density: Entry) -> Entry:
    """As stated, or what drains off in the time."""
    film = desk.case.probe.film
    if film.thickness.known or not (film.drained_for.known or film.drained_height.known):
        desk.skip(film.drained_for, film.drained_height)
        return desk.take(film.thickness, "mm")
    desk.skip(film.thickness)
    return desk.calc(
        "probe.film_thickness",
        drained_film_m,
        shown="mm",
        meaning="thickness of the film that has drained",
        viscosity_Pa_s=desk.take(desk.case.medium.viscosity),
        drained_m=desk.take(film.drained_height, "mm"),
        density_kg_per_m3=density,
        gravity_m_per_s2=desk.take(desk.case.site.g),
        time_s=desk.take(film.drained_for, "s"),
    )


def _judge(desk: Desk, film: FilmChapter) -> None:
    """A film that stays is compared; whether one stays is asked."""
    stays = desk.case.probe.film.stays
    remark = desk.case.instrument.principle.word != CAPACITIVE
    limit = desk.take(desk.case.wanted.error_allowed_of_level, "mm")
    if stays.word == YES:
        worst = film.deciding
        holds = None if worst.value is None or limit.value is None else abs(worst.value) <= limit.value
        waits = tuple({*worst.waits_for, *limit.waits_for})
        desk.judge("probe-film", WORDS, worst.text, "at most", limit.text, holds, waits_for=waits, remark=remark)
        return
    desk.want(stays, "whether the reading stands: a film that stays reads as level")
    said = "not tested", "is", "no continuous film"
    desk.judge("probe-film", WORDS, *said, None, waits_for=(stays.path,), remark=remark)
