"""How well the level is read: the parts of the error at known density, and beside them the datum on a line of its own.

What the instrument does not state is counted at the usual figure, marked as assumed. The resolution of the display and
the accuracy of the reading are two things, and both are shown.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.model.waveguide import DOUBLET
from onedatum.foundation.working import Entry
from onedatum.physics.echoes import (
    bound_m,
    clock_step_m,
    doublet_delay_bound_s,
    ricker_delay_bound_s,
    sample_interval_s,
    step_standard_m,
    usual_echo,
)
from onedatum.physics.magnetostrictive import (
    density_error_m,
    display_standard_m,
    error_size_m,
    expanded_reading_m,
    half_band_m,
    nonlinearity_m,
    reading_standard_m,
    rectangular_standard_m,
    speed_error_m,
    tilt_mean_m,
    tilt_standard_m,
    usual_budget,
)
from onedatum.study.desk import Desk
from onedatum.study.stem.response import Response
from onedatum.study.stem.waveguide import WaveguideChapter, assumed

COVERAGE = 2.0


@dataclass(frozen=True)
class Line:
    """One line of the budget: its half width, where it has one, and its standard uncertainty."""

    text: str
    half_width: Entry | None
    standard: Entry


@dataclass(frozen=True)
class AccuracyChapter:
    """The budget of the reading."""

    lines: tuple[Line, ...]
    standard: Entry
    expanded: Entry
    """At known density, without the datum."""
    resolution: Entry
    plumb_mean: Entry
    """Mean by which a stem out of plumb reads long: to be corrected."""
    datum: Entry


def accuracy_chapter(desk: Desk, wire: WaveguideChapter, answers: tuple[Response, ...]) -> AccuracyChapter:
    """Put the budget together at the greatest distance and in the worst state."""
    usual, stated = usual_budget(), desk.case.instrument.accuracy
    step = assumed(desk, stated.display_step, usual.display_step_m, "0.1 mm", "mm")
    tilt = assumed(desk, stated.out_of_plumb, usual.tilt_rad, "0.5 degree", "deg")
    plumb = {"distance_m": wire.distance, "tilt_max_rad": tilt}
    lines = (
        Line("noise of the echo", None, _timing(desk, wire)),
        Line("clock", None, _clock(desk, wire)),
        Line(
            "step of the display",
            None,
            desk.calc("accuracy.display", display_standard_m, shown="mm", display_step_m=step),
        ),
        _nonlinearity(desk, wire),
        _speed(desk, wire),
        _density(desk, answers),
        _stiction(desk, answers),
        Line("stem out of plumb", None, desk.worked("accuracy.plumb", tilt_standard_m, plumb, shown="mm")),
    )
    names = ("timing_m", "clock_m", "display_m", "nonlinearity_m", "speed_m", "density_m", "stiction_m", "plumb_m")
    parts = {name: line.standard for name, line in zip(names, lines, strict=True)}
    standard = desk.worked("accuracy.standard", reading_standard_m, parts, shown="mm")
    coverage = desk.sheet.give(
        "accuracy.coverage_factor", COVERAGE, "", "coverage factor", state="constant", source="jcgm-100: 6.3.3"
    )
    expanded = desk.calc(
        "accuracy.expanded",
        expanded_reading_m,
        shown="mm",
        meaning="expanded uncertainty (k = 2) of the reading at known density, without the datum",
        standard_m=standard,
        coverage_factor=coverage,
    )
    mean = desk.worked("accuracy.plumb_mean", tilt_mean_m, plumb, shown="mm")
    _against_allowed(desk, expanded)
    for key, words, error in _known_errors(desk, wire, answers):
        error_allowed(desk, key, words, error)
    return AccuracyChapter(lines, standard, expanded, step, mean, desk.take(desk.case.datum_error, "mm"))


def _against_allowed(desk: Desk, expanded: Entry) -> None:
    """The error allowed of the level, where the customer states one: the instrument alone must keep it."""
    allowed = desk.case.wanted.error_allowed_of_level
    if not allowed.known:
        return
    words = (
        "the reading alone keeps the error allowed of the level",
        "The reading alone does not keep the error allowed of the level",
    )
    desk.compare_apart(
        "reading-accuracy",
        words,
        expanded,
        "at most",
        desk.take(allowed, "mm"),
        "accuracy.margin",
        "error allowed of the level less the uncertainty of the reading",
    )


def _known_errors(
    desk: Desk, wire: WaveguideChapter, answers: tuple[Response, ...]
) -> Iterator[tuple[str, str, Entry]]:
    """Errors that follow from what is stated and that nobody corrects: by state, each with its words."""
    for state, entry in wire.by_gradient:
        yield f"gradient[{state}]", f"the warmth along the stem in the state {state}", entry
    for answer in answers:
        state = answer.riding.state
        for key, words, moved in (
            ("deposit", "the deposit", answer.by_deposit),
            ("soaking", "soaking", answer.by_soaking),
            ("wetting", "wetting", answer.by_wetting),
            ("friction", "the band of friction", answer.band),
        ):
            if moved is not None:
                yield f"{key}[{state}]", f"{words} in the state {state}", moved


def error_allowed(desk: Desk, key: str, words: str, error: Entry) -> None:
    """A known error against the error allowed of the level, where one is stated."""
    allowed = desk.case.wanted.error_allowed_of_level
    if not allowed.known:
        return
    size = desk.calc(
        f"accuracy.error_{key}", error_size_m, shown="mm", meaning=f"size of: {error.meaning}", error_m=error
    )
    told = f"{words} keeps the error allowed of the level", f"More than the error allowed of the level by {words}"
    name = f"accuracy.left_by_{key}"
    desk.compare_apart(
        f"reading-{key}", told, size, "at most", desk.take(allowed, "mm"), name, "error allowed less this one"
    )


def _rectangular(desk: Desk, name: str, half: Entry) -> Entry:
    return desk.calc(
        f"accuracy.{name}",
        rectangular_standard_m,
        shown="mm",
        meaning=f"standard uncertainty by {half.meaning}",
        half_width_m=half,
    )


def _timing(desk: Desk, wire: WaveguideChapter) -> Entry:
    """What the noise of the echo leaves at best."""
    echo, usual = desk.case.instrument.echo, usual_echo()
    desk.read.update(leaf.path for leaf in echo.leaves())
    interval = desk.calc(
        "accuracy.sample_interval",
        sample_interval_s,
        shown="us",
        rate_Hz=assumed(desk, echo.sampling, usual.rate_Hz, "10 MHz", "MHz"),
    )
    bound = doublet_delay_bound_s if echo.form.word == DOUBLET else ricker_delay_bound_s
    delay = desk.calc(
        "accuracy.delay_bound",
        bound,
        shown="ns",
        noise_share=assumed(desk, echo.noise, usual.noise_share, "one per cent", "%value"),
        width_s=assumed(desk, echo.pulse_width, usual.width_s, "1.5 us", "us"),
        interval_s=interval,
    )
    return desk.calc("accuracy.timing", bound_m, shown="um", delay_s=delay, speed_m_per_s=wire.speed)


def _clock(desk: Desk, wire: WaveguideChapter) -> Entry:
    clock = assumed(desk, desk.case.instrument.accuracy.clock, usual_budget().clock_Hz, "100 MHz", "MHz")
    tick = desk.calc("accuracy.clock_step", clock_step_m, shown="um", speed_m_per_s=wire.speed, clock_Hz=clock)
    return desk.calc("accuracy.clock", step_standard_m, shown="um", step_m=tick)


def _nonlinearity(desk: Desk, wire: WaveguideChapter) -> Line:
    share = assumed(
        desk, desk.case.instrument.accuracy.nonlinearity, usual_budget().nonlinearity, "0.01 %span", "%span"
    )
    half = desk.calc(
        "accuracy.nonlinearity_half_width", nonlinearity_m, shown="mm", share=share, range_m=wire.measuring_length
    )
    return Line("nonlinearity", half, _rectangular(desk, "nonlinearity", half))


def _speed(desk: Desk, wire: WaveguideChapter) -> Line:
    stated = desk.case.instrument.accuracy.temperature_known_to
    half = desk.calc(
        "accuracy.speed_half_width",
        speed_error_m,
        shown="mm",
        distance_m=wire.distance,
        speed_coefficient_per_K=wire.coefficient,
        temperature_half_width_K=assumed(desk, stated, usual_budget().temperature_half_width_K, "3 K", "K"),
    )
    return Line("temperature of the wire", half, _rectangular(desk, "speed", half))


def _density(desk: Desk, answers: tuple[Response, ...]) -> Line:
    """In the state in which the float answers most: the slope is negative, the least one is the steepest."""
    stated = desk.case.instrument.accuracy.density_known_to
    steepest = desk.sheet.select(
        "float.per_density_steepest",
        "least",
        "steepest change of immersion per density over the fitted states",
        [each.per_density for each in answers],
    )
    half = desk.calc(
        "accuracy.density_half_width",
        density_error_m,
        shown="mm",
        per_density_m4_per_kg=steepest,
        density_half_width_kg_per_m3=assumed(desk, stated, usual_budget().density_half_width_kg_per_m3, "5 kg/m3"),
    )
    return Line("density of the liquid", half, _rectangular(desk, "density", half))


def _stiction(desk: Desk, answers: tuple[Response, ...]) -> Line:
    """As the instrument states it; else by the friction stated; else the usual figure."""
    stated = desk.case.instrument.accuracy.stiction
    bands = [each.band for each in answers if each.band is not None]
    if bands and not stated.known:
        widest = desk.sheet.select(
            "float.friction_band_widest", "greatest", "widest band between rising and falling", bands
        )
        half = desk.calc("accuracy.stiction_half_width", half_band_m, shown="mm", band_m=widest)
    else:
        half = assumed(desk, stated, usual_budget().stiction_m, "0.25 mm", "mm")
    return Line("friction on the stem", half, _rectangular(desk, "stiction", half))
