"""The expected signal: what a meter should show when a dip says where the level is, and what its reading tells."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.units import in_print, read_quantity, show
from onedatum.jobs.card import FORMS, card_of_study, usual_step
from onedatum.jobs.page.adjusting import AdjustingView, KnownLevels, adjusting_of
from onedatum.jobs.page.made import CaseText, Made, made_of
from onedatum.jobs.page.table import File
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.reading import Reading, for_sensors, reading_of
from onedatum.jobs.signal import expected, is_reliable, signal_json, signal_remarks, signal_text, signal_word
from onedatum.paper.model import Head
from onedatum.physics.loop import level_at_current_m
from onedatum.study.cautions import CHARGE, LOOP
from onedatum.study.result import Study

LEVEL = "level_now"
STEPS = (-10, -1, 1, 10)
"""Steps of the dip, in millimetres."""
NOTHING_KNOWN = KnownLevels()
CURRENT, VOLTAGE = "signal.current_shown", "signal.test_voltage"


@dataclass(frozen=True)
class ValueView:
    """One number that goes with the level."""

    label: str
    value: str


@dataclass(frozen=True)
class ReadingView:
    """What a reading of the meter tells beside the dip."""

    head: str
    text: str
    within: str = ""
    """Whether it keeps to the error allowed; empty where the case states none."""


@dataclass(frozen=True)
class SignalView:
    """The card: the dip, the current to expect, what goes with it, what the reading tells, the cautions."""

    head: Head
    dip: str
    dip_fault: str
    meter: str
    meter_fault: str
    on: str
    """The resistor that a voltage is read on; empty for that of the case."""
    steps: tuple[int, ...]
    current: str
    unit: str
    values: tuple[ValueView, ...]
    tells: str
    remarks: tuple[str, ...]
    reading: ReadingView | None
    known: AdjustingView
    card_step: str
    """The step of the card to print."""
    cautions: tuple[str, ...]


def signal_view(
    case: CaseText, dip: str, step: str, meter: str, on: str = "", known: KnownLevels = NOTHING_KNOWN
) -> SignalView:
    """The card of a case for a dip and a reading; an empty dip is the level the case states."""
    made, fault = _at(case, dip, step)
    return card_of(made, fault, dip if fault else "", meter, on, known)


def card_of(
    made: Made, fault: str = "", typed: str = "", meter: str = "", on: str = "", known: KnownLevels = NOTHING_KNOWN
) -> SignalView:
    """The card of a study that was made; `typed` is a dip that cannot be read, and `fault` says why."""
    study = made.study
    level = study.sheet[LEVEL]
    reading = _reading(study, meter, on)
    shown = in_print(signal_text(study, CURRENT)) if CURRENT in study.sheet else "unknown"
    number, _, unit = shown.partition(" ") if is_reliable(study) and _known(study, CURRENT) else (shown, "", "")
    return SignalView(
        head=head_of(study),
        dip=typed or (level.text if level.known else ""),
        dip_fault=fault,
        meter=meter,
        meter_fault=reading if isinstance(reading, str) else "",
        on=on,
        steps=STEPS,
        current=number,
        unit=unit,
        values=tuple(_values(study)),
        tells=signal_word(study),
        remarks=tuple(in_print(each[:1].upper() + each[1:]) for each in signal_remarks(study)),
        reading=reading if isinstance(reading, ReadingView) else None,
        known=adjusting_of(study, known),
        card_step=usual_step(study),
        cautions=tuple(_cautions(study)),
    )


def signal_data(case: CaseText, dip: str, step: str) -> dict[str, Any]:
    """The expected signal in SI, unrounded; `sentence` says what is wrong with the dip, where something is."""
    made, fault = _at(case, dip, step)
    return {**signal_json(made.study), "sentence": fault}


def signal_file(case: CaseText, step: str, ending: str) -> File | str:
    """The card to print as a file of that ending; a sentence says what stands against it."""
    study = made_of(case, {}).study
    found = for_sensors(study.statement, study)
    made = card_of_study(found, step.strip() or usual_step(found), "step")
    return made.sentence() if isinstance(made, Fault) else File(f"signal.{ending}", FORMS[ending](made))


# ---------------------------------------------------------------- the dip


def _at(case: CaseText, dip: str, step: str) -> tuple[Made, str]:
    """The study with the level that was dipped, a step further; the sentence of what cannot be read."""
    stated, wanted = made_of(case, {}), dip.strip()
    if step.strip():
        moved = _moved(stated, wanted, step)
        if moved.fault:
            return stated, moved.fault
        wanted = moved.level
    if not wanted:
        return stated, ""
    made = made_of(case, {LEVEL: wanted})
    refused = made.refused.get(LEVEL)
    return made, "" if refused is None else refused.sentence()


@dataclass(frozen=True)
class _Moved:
    level: str = ""
    fault: str = ""


def _moved(stated: Made, dip: str, step: str) -> _Moved:
    try:
        level_m = read_quantity(dip, "length") if dip else stated.study.value(LEVEL)
        step_m = read_quantity(step, "length")
    except QuantityError as error:
        return _Moved(fault=str(error))
    if level_m is None:
        return _Moved(fault="A dip must be known before it can be stepped; got none.")
    return _Moved(f"{1e3 * (level_m + step_m):.1f}".removesuffix(".0") + " mm")


# ---------------------------------------------------------------- what goes with the level


def _values(study: Study) -> Iterator[ValueView]:
    for name in expected(study):
        if name not in (LEVEL, CURRENT):
            meaning = in_print(study.sheet[name].meaning)
            value = in_print(signal_text(study, name)).replace(" %span", " %")
            yield ValueView(meaning[:1].upper() + meaning[1:].removesuffix(", level now"), value)


def _known(study: Study, name: str) -> bool:
    return name in study.sheet and study.sheet[name].known


def _cautions(study: Study) -> Iterator[str]:
    zone = study.statement.case.zone
    places = [
        f"zone {leaf.word} {where}"
        for leaf, where in ((zone.at_head, "at the head"), (zone.inside, "inside"))
        if leaf.known
    ]
    if places:
        told = ", ".join(places)
        yield f"{told[:1].upper()}{told[1:]}: meter and lamp must be certified for it, and the site's permit applies."
    elif not zone.at_head.state == zone.inside.state == "none":
        yield "The zones are not all stated: ask before a meter or a lamp is brought there."
    yield "Read the current on the test resistor without opening the loop."
    yield LOOP
    yield CHARGE


# ---------------------------------------------------------------- what the meter shows


def _reading(study: Study, meter: str, on: str) -> ReadingView | str | None:
    """What a reading tells; a sentence where it cannot be read; nothing where there is none."""
    if not meter.strip():
        return None
    read = reading_of(study, meter, on, "The reading")
    if isinstance(read, Fault):
        return in_print(read.sentence())
    wanted = study.value(CURRENT)
    if read.at_end_of_loop:
        return ReadingView("Loop is at its end", in_print(read.why))
    if read.current_A is None:
        return _of_sensor(study, read)
    if wanted is None:
        return ReadingView("Nothing to compare with", "the current of this level is not known")
    return _beside(study, read, wanted)


def _of_sensor(study: Study, read: Reading) -> ReadingView:
    """What the sensor itself tells, beside the dip."""
    level, dipped = read.level_m, study.value(LEVEL)
    if level is None or dipped is None:
        return ReadingView("Nothing to compare with", "no level is dipped")
    return ReadingView(f"Tells {show(level, 'mm')}", _apart(level - dipped), _within(study, level - dipped))


def _beside(study: Study, read: Reading, wanted_A: float) -> ReadingView:
    """A current beside the one of the dip; the levels are compared where the reading tells one."""
    current_A = read.current_A or 0.0
    apart_A = round(current_A - wanted_A, 9)
    side, milli = "high" if apart_A > 0 else "low", f"{abs(1e3 * apart_A):.2f}"
    head = f"{milli} mA {side}" if float(milli) else "As expected"
    lower, upper = study.value("range.4 mA"), study.value("range.20 mA")
    if read.level_m is None or lower is None or upper is None:
        return ReadingView(head, read.why)
    apart_m = read.level_m - float(level_at_current_m(wanted_A, lower, upper))
    return ReadingView(head, _apart(apart_m), _within(study, apart_m))


def _apart(apart_m: float) -> str:
    mm = f"{abs(1e3 * apart_m):.0f}"
    return "reads as the dip" if mm == "0" else f"reads {mm} mm {'above' if apart_m > 0 else 'below'} the dip"


def _within(study: Study, apart_m: float) -> str:
    """Whether a limit the case states is kept."""
    allowed = study.statement.case.wanted.error_allowed_of_level
    if not allowed.known or allowed.si is None:
        return ""
    kept = "within" if abs(apart_m) <= allowed.si else "outside"
    return in_print(f"{kept} the error allowed of {allowed.text}")
