"""Cases as running tanks, each with its tag; and the level over the time as the command line states it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from onedatum.case.reading import read_case
from onedatum.foundation.errors import Fault, OnedatumError, QuantityError
from onedatum.foundation.units import read_one_of, read_quantity
from onedatum.jobs.reading import for_sensors
from onedatum.simulate import Instrument, Leg, Profile, Running, instrument_of, steady_cycle
from onedatum.study.result import Study
from onedatum.study.study import study

MOST_TAGS = 200
FILL, HOLD = "20 min", "5 min"
LOWEST, HIGHEST = "10 %", "90 %"


class StandinError(OnedatumError):
    """A stand-in cannot be started; `faults` says why and where."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


@dataclass(frozen=True)
class Course:
    """The level over the time as it was stated, in texts with units; "" for what was not."""

    begin: str = ""
    end: str = ""
    in_: str = ""
    hold: str = ""
    repeats: bool = True
    """Go back and begin again; else it rests at the end."""
    noise: str = "0.5 mm"
    interval: str = "0.5 s"


@dataclass(frozen=True)
class Tank:
    """One tag of the stand-in."""

    tag: str
    path: Path
    """The case."""
    running: Running
    case_tag: str = ""
    """Tag of the case itself, where it has another."""
    has_no_tag: bool = False
    """Whether the case states none."""


def tanks_of(cases: Sequence[str], course: Course, seed: int) -> list[Tank]:
    """Running tanks of cases, a case as its path or as TAG=path; raises StandinError with every fault."""
    if len(cases) > MOST_TAGS:
        raise StandinError([Fault("CASE", f"at most {MOST_TAGS} cases", f"{len(cases)}")])
    found: list[Tank] = []
    faults: list[Fault] = []
    studied = cache(_studied)
    for number, each in enumerate(cases):
        tag, path = _named(each)
        made = _tank(tag, path, studied(path), course, seed + number)
        if isinstance(made, Tank) and made.tag in [tank.tag for tank in found]:
            remedy = "Give it another: TAG=CASE"
            made = [Fault(str(path), "a case with a tag of its own", f"{made.tag!r} twice", remedy=remedy)]
        if isinstance(made, Tank):
            found.append(made)
        else:
            faults += made
    if faults:
        raise StandinError(faults)
    return found


def _named(text: str) -> tuple[str, Path]:
    """Tag and path of an argument."""
    tag, sign, rest = text.partition("=")
    return (tag.strip(), Path(rest)) if sign and tag.strip() and not Path(text).exists() else ("", Path(text))


def _studied(path: Path) -> Study | list[Fault]:
    """The study of a case, once for all tags that it stands for."""
    statement = read_case(path)
    return list(statement.faults) or for_sensors(statement, study(statement))


def _tank(tag: str, path: Path, found: Study | list[Fault], course: Course, seed: int) -> Tank | list[Fault]:
    if isinstance(found, list):
        return found
    statement = found.statement
    instrument = instrument_of(found)
    if instrument is None:
        why = "its range, its sensor or the temperature of its liquid is not known"
        return [
            Fault(
                str(path), "a case with an instrument", "one without", why, remedy="onedatum study tells what is open"
            )
        ]
    own = tag or statement.case.tag.text
    if not _is_plain(own):
        allowed = "of letters, digits and - _ . up to 32 of them"
        return [Fault(f"the tag of {path}", allowed, repr(own[:60]), "nodes are called by it", remedy="Give TAG=CASE")]
    profile = _profile(instrument, course)
    if isinstance(profile, Fault):
        return [profile]
    noise_m = _read("--noise", course.noise, "length")
    interval_s = _read("--interval", course.interval, "time")
    faults = [each for each in (noise_m, interval_s) if isinstance(each, Fault)]
    if faults or isinstance(noise_m, Fault) or isinstance(interval_s, Fault):
        return faults
    try:
        running = Running(instrument, profile, found.safe.bands, seed, noise_m, interval_s)
    except QuantityError as error:
        return [Fault(f"the course of {own}", error.allowed, error.got, error.why)]
    stated = statement.case.tag.text
    return Tank(own, path, running, stated if stated != own else "", not stated)


def _is_plain(tag: str) -> bool:
    return 0 < len(tag) <= 32 and tag.isascii() and all(sign.isalnum() or sign in "-_." for sign in tag)


def _profile(instrument: Instrument, course: Course) -> Profile | Fault:
    """As stated, else the usual cycle."""
    in_s, hold_s = _read("--in", course.in_ or FILL, "time"), _read("--hold", course.hold or HOLD, "time")
    begin_m, end_m = (
        _level_m(instrument, name, text)
        for name, text in (("--from", course.begin or LOWEST), ("--to", course.end or course.begin or HIGHEST))
    )
    if isinstance(in_s, Fault) or isinstance(hold_s, Fault) or isinstance(begin_m, Fault) or isinstance(end_m, Fault):
        return next(each for each in (in_s, hold_s, begin_m, end_m) if isinstance(each, Fault))
    if begin_m == end_m:
        return Profile(begin_m)
    try:
        if not course.begin and not course.end and course.repeats:
            return steady_cycle(instrument, in_s, hold_s)
        there = (Leg(in_s, end_m),)
        rest = (Leg(hold_s, end_m),) if hold_s > 0.0 else ()
        back = (Leg(in_s, begin_m), *((Leg(hold_s, begin_m),) if hold_s > 0.0 else ()))
        return Profile(begin_m, (*there, *rest, *back), True) if course.repeats else Profile(begin_m, there)
    except QuantityError as error:
        return Fault("--in and --hold", error.allowed, error.got)


def _level_m(instrument: Instrument, name: str, text: str) -> float | Fault:
    """A level, or a per cent of the span."""
    typed = " ".join(text.split())
    try:
        value, kind = read_one_of(f"{typed}span" if typed.endswith("%") else typed, ("length", "share of span"))
    except QuantityError as error:
        allowed = "a level with its unit or a per cent of the span, for example 0.5 m or 20 %"
        return Fault(name, allowed, error.got, error.why, remedy=error.remedy)
    return value if kind == "length" else instrument.lower_m + value * (instrument.upper_m - instrument.lower_m)


def _read(name: str, text: str, kind: str) -> float | Fault:
    try:
        return read_quantity(text, kind)
    except QuantityError as error:
        return Fault(name, error.allowed, error.got, error.why, remedy=error.remedy)
