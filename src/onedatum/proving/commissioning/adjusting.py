"""What of a difference is to be adjusted where: range, output, datum and slope are kept apart.

A range is which levels stand at 4 and 20 mA; a trim of the output moves the current that is sent for a given digital
level; an offset moves the level itself. A difference is looked for first where it arose: whoever trims the sensor to
hide a wrong range has two errors afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from onedatum.case.model.instrument import CAPACITIVE
from onedatum.foundation.errors import Fault
from onedatum.foundation.working import Entry, Sheet
from onedatum.proving.commissioning.known import Known, Within
from onedatum.proving.commissioning.sheet import Line, Output, Point, Told, Worked, Working, worked
from onedatum.study.measuring import BY_PRESSURE
from onedatum.study.result import Study

TRIM_A = 1e-4
"""An error of the output up to this is of the size of a trim: common practice, no source."""
FLOAT, PROBE, LEGS, ANY = "float", "probe", "legs", ""

NEVER = (
    "Range and trim are two things: read the range set in the instrument before anything is moved, and never trim the "
    "sensor to hide a wrong range. Note what was found before what is left"
)
OFFSET = {
    FLOAT: "the height of the stem over the datum, the offset set in the instrument, or a float that swims deeper or "
    "higher by another density, water inside or a deposit; a float's density moves the offset and never the slope",
    PROBE: "a constant capacitance, such as the head, the cable or a film that stays, or the lower end of the probe",
    LEGS: "the zero of the transmitter: how it is mounted, and what fills the legs and stands in them",
    ANY: "the height of the instrument over the datum, or the offset set in it",
}
SLOPE = {
    FLOAT: "a speed of the wire that is set wrong, or a stem that leans; density moves no slope of a float",
    PROBE: "another permittivity or conductivity of the liquid, another coating, or a probe that is set on another "
    "liquid",
    LEGS: "another density of the liquid than the one the range is set for",
    ANY: "what the principle takes its slope from",
}


@dataclass(frozen=True)
class Adjusting:
    """The outcome: a title, what follows from it, and the sheet with every number."""

    tag: str
    sheet: Sheet
    key: str
    title: str
    said: tuple[str, ...]
    numbers: tuple[Entry, ...]
    open_: tuple[str, ...] = ()
    """What is not stated, and what that leaves open."""
    points: tuple[Point, ...] = ()
    line: Line | None = None
    kind: str = ANY
    faults: tuple[Fault, ...] = ()
    """What is wrong with the case itself."""


def adjusting(found: Study, known: Sequence[Known], within: Within) -> Adjusting:
    """Work known levels that were found sound, and say what is to be adjusted where."""
    working = Working(found, within)
    done = worked(working, known)
    kind = kind_of(found)
    key, title = _title(done, kind)
    said = tuple(each.replace(" %value", " %").replace(" %span", " % of the span") for each in _said(done, kind, key))
    return Adjusting(
        found.statement.case.tag.text,
        working.sheet,
        key,
        title,
        said,
        tuple(_numbers(done)),
        tuple(_open(done, within, known)),
        done.points,
        done.line,
        kind,
        found.faults,
    )


def kind_of(found: Study) -> str:
    """What measures: a float on a stem, a probe, legs; anything where no instrument is chosen."""
    word, measuring = found.statement.case.instrument.principle.word, found.measuring
    if measuring.levels is None:
        return ANY
    if word in BY_PRESSURE:
        return LEGS
    if word == CAPACITIVE:
        return PROBE
    return FLOAT if measuring.stem is not None else ANY


# ---------------------------------------------------------------- which difference it is


def _title(done: Worked, kind: str) -> tuple[str, str]:
    line, points = done.line, done.points
    if line is not None and line.against:
        return "against", "The readings run against the range: the direction of the signal is the other one"
    if behind_the_level(done):
        return "output", "Another range or a trim of the output: the level told digitally agrees with the dip"
    if line is None:
        return _of_one(points[0], kind)
    if line.slope.differs:
        of_output = line.range_ is not None and not output_agrees(done)
        tail = "another range, or the slope of the measurement itself" if of_output else "the measurement itself is off"
        return ("range" if of_output else "slope"), f"The slope differs: {tail}"
    if not any(point.error.differs for point in points):
        return "none", "No difference is told: what is off lies within what dip and meter are known to"
    if line.too_near:
        return "open", "The readings are off; whether in offset or slope these two levels do not tell"
    return "offset", "A pure offset: both readings are off alike, the slope is that of the case"


def behind_the_level(done: Worked) -> bool:
    """Whether every level told digitally agrees with its dip, and a current does not agree with it."""
    whole = bool(done.outputs) and len(done.outputs) == len(done.points)
    right = not any(each.level.differs for each in done.outputs)
    return whole and right and any(each.as_level.differs for each in done.outputs)


def output_agrees(done: Worked) -> bool:
    """Whether every current agrees with the level told digitally, so that the range set is that of the case."""
    whole = bool(done.outputs) and len(done.outputs) == len(done.points)
    return whole and not any(each.as_level.differs for each in done.outputs)


def _of_one(point: Point, kind: str) -> tuple[str, str]:
    if not point.error.differs:
        return "none", "No difference is told at this level: what is off lies within what dip and meter are known to"
    tail = "the slope follows from the stem" if kind == FLOAT else "one level tells no slope"
    return "offset of one", f"The reading is off at this level; {tail}"


def _said(done: Worked, kind: str, key: str) -> Iterator[str]:
    """What follows, each without its full stop."""
    if key == "against":
        yield (
            "The level rose and the signal fell, or the other way round. Look for a range set in reverse, for legs "
            "joined the wrong way round, or for readings noted at the wrong dip. Nothing else can be judged before"
        )
        yield from _lies_on(done)
        return
    line = done.line
    if line is not None and line.too_near and line.least_apart is not None:
        yield (
            f"The two levels are too near: {_size(line.apart)} apart, {line.least_apart.text} are needed to know the "
            "slope over the whole span as well as the error allowed. Take the slope for a hint only"
        )
    yield from _of_key(done, kind, key)
    yield from _of_output(done)
    yield from _allowed(done)
    if key != "none":
        yield NEVER
    if kind == PROBE:
        yield from _setting(done)


def _of_key(done: Worked, kind: str, key: str) -> Iterator[str]:
    line, points = done.line, done.points
    if key == "open":
        yield f"In the offset it is: {OFFSET[kind]}"
        yield f"In the slope it is: {SLOPE[kind]}; or another range"
    if key == "offset":
        if not output_agrees(done):
            yield from _lies_on(done)
        yield f"If the range set is that of the case, it is that of the datum: {OFFSET[kind]}"
        yield f"To be entered as offset: {_shift(points)}"
    if key == "offset of one":
        yield f"If the slope is that of the case, this is the offset. Look for: {OFFSET[kind]}"
        yield f"To be entered as offset: {_shift(points)}"
        if kind != FLOAT:
            yield "A second known level, far from this one, tells whether the slope is wrong instead"
    if key == "range" and line is not None:
        yield from _lies_on(done)
        yield f"If the range set is that of the case, the slope is off by {_with_u(line.slope)}: {SLOPE[kind]}"
    if key == "slope" and line is not None:
        yield f"The slope is off by {_with_u(line.slope)}: {SLOPE[kind]}. No range and no trim mends it at its cause"


def _size(entry: Entry) -> str:
    return entry.text.lstrip("-\u2212")


def _lies_on(done: Worked) -> Iterator[str]:
    line, working = done.line, done.working
    if line is None or line.range_ is None:
        return
    low, high = line.range_
    yield (
        f"The readings lie on 4 mA at {low.text} and 20 mA at {high.text}; the case states 4 mA at "
        f"{working.lower.text} and 20 mA at {working.upper.text}. If the instrument is set to the former, it is "
        "another range: set the range, and trim nothing"
    )


def _shift(points: Sequence[Point]) -> str:
    """By how much the level shown is to be moved, at each point."""
    return " and ".join(
        f"{_opposite(point.error.value)} by the dip at {point.dip.text} (known to {point.error.expanded.text}, k = 2)"
        for point in points
    )


def _opposite(error: Entry) -> str:
    return _size(error) if error.text.startswith(("-", "\u2212")) else f"\u2212{error.text}"


def _with_u(told: Told) -> str:
    return f"{told.value.text}, known to {told.expanded.text} (k = 2)"


# ---------------------------------------------------------------- the output


def _of_output(done: Worked) -> Iterator[str]:
    if not done.outputs:
        if any(point.current is not None and point.error.differs for point in done.points):
            yield "Whether the output is to be trimmed is not known: give the level told digitally beside each reading"
        return
    off = [each for each in done.outputs if each.as_level.differs]
    if not off:
        yield "The current agrees with the level told digitally: the output needs no trim"
    else:
        yield _output_off(done, off)
    wrong = [each for each in done.outputs if each.level.differs]
    if wrong:
        told = " and ".join(_with_u(each.level) for each in wrong)
        yield f"The level told digitally is off from the dip by {told}: that lies before the output, no range mends it"
    else:
        yield "The level told digitally agrees with the dip: sensor and datum are left as they are"


def _output_off(done: Worked, off: Sequence[Output]) -> str:
    errors = " and ".join(each.current.text for each in off)
    words = f"The current is off from the level told digitally by {errors}"
    line = done.line
    if line is not None and line.output_range is not None:
        low, high = line.output_range
        words += f": the output lies on 4 mA at {low.text} and 20 mA at {high.text}"
    small = all(abs(each.current.value or 0.0) <= TRIM_A for each in off)
    size = (
        "It is of the size of a trim (0.1 mA or less, common practice, no source)"
        if small
        else "It is more than a trim usually mends (0.1 mA, common practice, no source)"
    )
    return (
        f"{words}. {size}. Where the range set in the instrument is that of the case, trim the output against a meter "
        "in the loop; else set the range"
    )


# ---------------------------------------------------------------- what is allowed, what is set


def _allowed(done: Worked) -> Iterator[str]:
    """Whether the errors keep to what the case allows; then nothing need be adjusted."""
    allowed = done.working.found.statement.case.wanted.error_allowed_of_level
    if not allowed.known or allowed.si is None:
        return
    errors = [point.error for point in done.points] if done.line is None else list(done.line.ends)
    values = [(abs(each.value.value or 0.0), each.expanded.value or 0.0) for each in errors]
    where, within = ("at this level",) * 2 if done.line is None else ("over the whole range", "within the range")
    if all(error + width <= allowed.si for error, width in values):
        yield f"The error allowed of {allowed.text} is kept {where}: nothing need be adjusted"
    elif any(error - width > allowed.si for error, width in values):
        yield f"The error allowed of {allowed.text} is exceeded {within}"
    else:
        why = "dip and meter are not known well enough"
        yield f"Whether the error allowed of {allowed.text} is kept {where} is undecided: {why}"


def _setting(done: Worked) -> Iterator[str]:
    """A probe is set with two wetted levels: what to enter at each."""
    for point in done.points:
        yield f"To set the probe: enter {point.share.text} or {point.wanted.text} while the dip tells {point.dip.text}"
    if done.line is not None and done.line.set_to is not None:
        low, high = done.line.set_to
        yield (
            f"Or set {low.text} at 4 mA and {high.text} at 20 mA, so that {done.working.lower.text} and "
            f"{done.working.upper.text} lie there; it holds where the probe is even between"
        )
    yield "Both levels are to be wetted and at rest; drain the film off before a lower level is set"


def _numbers(done: Worked) -> Iterator[Entry]:
    for point in done.points:
        yield from (point.dip, point.shown, point.error.value, point.error.expanded, point.wanted, point.share)
    for output in done.outputs:
        yield from (output.current, output.level.value)
    line = done.line
    if line is None:
        return
    yield from (line.slope.value, line.slope.expanded)
    for end in line.ends:
        yield from (end.value, end.expanded)
    for pair in (line.range_, line.output_range, line.set_to):
        yield from pair or ()
    yield line.apart
    if line.least_apart is not None:
        yield line.least_apart


def _open(done: Worked, within: Within, known: Sequence[Known]) -> Iterator[str]:
    if within.dip_m is None:
        yield "How well the dip is known is not stated: only its digit counts, and the uncertainties are too small"
    if within.meter_A is None and any(each.current_A is not None for each in known):
        yield "How well the meter is known is not stated: only its digit counts, and the uncertainties are too small"
    if done.working.found.statement.case.datum_error.uncertainty is None:
        yield "How well the datum is known is not stated in the case: it counts as known"
    if done.line is not None and done.line.least_apart is None:
        yield "No error allowed is stated: whether the two levels lie far enough apart is not judged"
