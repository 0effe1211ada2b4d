"""The pictures of a probe: its field in the tank, and the chart of what it holds at every level."""

from __future__ import annotations

from onedatum.foundation.units import in_print, in_unit, show
from onedatum.paper.field.model import CurveDrawing, FieldDrawing, FieldLine, Mark, Rod
from onedatum.study.probe import AtLevel, FieldCurve, FieldPicture, ProbeChapter, drawn_curve, field_picture

HEAVY_V = 0.5
BY_FIELD, BY_FORM = "by the field", "by the closed form, ends not counted"
TITLE, CURVE_TITLE = "Field of the probe", "Capacitance by level"


def field_drawing(probe: ProbeChapter) -> FieldDrawing | None:
    """The field at the level now; None where none is worked, and where its flux does not bear out its capacitance."""
    if probe.field is None:
        return None
    picture = field_picture(probe.field)
    if not picture.holds:
        return None
    setup = probe.field.setup
    rod = Rod(
        setup.rod.core_radius_m,
        setup.rod.outer_radius_m,
        setup.rod.tip_height_m,
        setup.rod.end_height_m,
        setup.rod.ring_radius_m,
    )
    heights, radii, _ = setup.wall
    lines = tuple(
        FieldLine(
            f"{100 * line.potential_V:.0f} %",
            tuple(zip(line.radii_m.tolist(), line.heights_m.tolist(), strict=True)),
            line.potential_V == HEAVY_V,
        )
        for line in picture.lines
    )
    unit = probe.now.level.shown or "mm"
    return FieldDrawing(
        TITLE,
        rod,
        tuple(zip(radii, heights, strict=True)),
        lines,
        picture.level_m,
        in_print(f"level {show(picture.level_m, unit)}"),
        in_print(_caption(probe.field, picture)),
    )


def _caption(field: FieldCurve, picture: FieldPicture) -> str:
    """What the lines are, and whether the field bears out the capacitance."""
    first, second = (f"{flux:.5f}" for flux in picture.fluxes)
    loss = "; of what leaks, the part in phase" if field.setup.liquid.imag else ""
    return (
        f"Lines of equal potential every 10 % of the voltage of the rod{loss}; the heavy one is half of it, where two "
        f"would run together one is left out. Hatched: earth; tinted: liquid. Flux check: two closed surfaces about "
        f"the rod hold {first} and {second} of the capacitance (Gauss's law asks for 1, allowed 0.001). {field.words}"
    )


def curve_drawing(probe: ProbeChapter) -> CurveDrawing | None:
    """The chart; None while the capacitances are not known."""
    between = probe.setting or (probe.rows[0], probe.rows[-1])
    ends = (probe.rows[0], probe.rows[-1])
    known = [entry.known for point in (*between, *ends) for entry in (point.level, point.capacitance)]
    low, high = sorted(float(point.level.value or 0.0) for point in between)
    if not all(known) or low == high or probe.now.capacitance.value is None:
        return None
    return _by_field(probe, probe.field, ends) if probe.field is not None else _by_form(probe, between, ends)


def _by_field(probe: ProbeChapter, field: FieldCurve, ends: tuple[AtLevel, AtLevel]) -> CurveDrawing:
    curve = drawn_curve(field)
    levels, held = curve.levels_m.tolist(), curve.capacitances_F.tolist()
    line = [(level, held[levels.index(level)]) for level in (field.low_m, field.high_m)]
    caption = "The line is laid through the two points of setting; beneath, what it then reads too high by."
    return _drawn(probe, (levels, held, curve.errors_m.tolist()), line, ends, (BY_FIELD, caption))


def _by_form(probe: ProbeChapter, between: tuple[AtLevel, ...], ends: tuple[AtLevel, AtLevel]) -> CurveDrawing:
    """Straight by its law: from end to end of the active length."""
    dry, wet = probe.dry.value or 0.0, probe.regime.wet.value or 0.0
    low, high = probe.lower.value or 0.0, probe.upper.value or 0.0
    first = between[0]
    foot = (first.capacitance.value or 0.0) - (wet - dry) * (first.wetted.value or 0.0)
    levels, held = [low, high], [foot, foot + (wet - dry) * (high - low)]
    line = [(float(point.level.value or 0.0), float(point.capacitance.value or 0.0)) for point in between]
    caption = f"By the closed form the curve is straight, and the line lies on it: no error but {_unseen(probe)}."
    return _drawn(probe, (levels, held, [0.0, 0.0]), line, ends, (BY_FORM, caption))


def _unseen(probe: ProbeChapter) -> str:
    if not probe.no_field:
        return "by the ends"
    bend = probe.bend
    about = (
        ""
        if bend is None
        else f", about {show(abs(bend.worst.error.value or 0.0), 'mm')} at {show(bend.worst.level_m, 'mm')}"
    )
    return f"what the ends of the rod do{about}; no field is worked, for {probe.no_field}"


def _drawn(
    probe: ProbeChapter,
    curve: tuple[list[float], list[float], list[float]],
    line: list[tuple[float, float]],
    ends: tuple[AtLevel, AtLevel],
    words: tuple[str, str],
) -> CurveDrawing:
    """All of it in the units it is read in."""
    unit, held_unit = probe.now.level.shown or "mm", probe.now.capacitance.shown or "pF"
    levels, held, errors = curve
    first, second = ((in_unit(level, unit), in_unit(value, held_unit)) for level, value in line)
    return CurveDrawing(
        CURVE_TITLE,
        tuple(in_unit(level, unit) for level in levels),
        tuple(in_unit(value, held_unit) for value in held),
        tuple(in_unit(error, unit) for error in errors),
        (first, second),
        unit,
        held_unit,
        words[0],
        "straight line of the setting",
        tuple(Mark(in_unit(float(point.level.value or 0.0), unit), in_print(point.name)) for point in ends),
        in_print(words[1]),
    )
