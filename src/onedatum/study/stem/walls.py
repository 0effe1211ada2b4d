"""Whether the float bears the pressure: its rating or its walls, in every state in which it is fitted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, count

from onedatum.case.leaf import Value
from onedatum.case.model.liquid import FITTED, OperatingState
from onedatum.foundation.working import Entry
from onedatum.physics.pressure import gauge_Pa_gauge
from onedatum.study.apart import PRESSURES
from onedatum.study.desk import NONE, Desk, Want
from onedatum.study.pressure import gauge_pressure
from onedatum.study.stem.bearing import wall_parts, weakest_wall
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.float import Float

OPERATION, TEST = "operation", "pressure test"
AMBIENT_K = 323.15
"""Up to which figures of a material at ambient temperature are counted on: 50 degC."""


@dataclass(frozen=True)
class Acting:
    """A pressure that acts on the float, and where."""

    state: str
    pressure: Entry


@dataclass(frozen=True)
class WallsChapter:
    """What the float bears, and what acts on it."""

    allowed: Entry
    """By the rating, or by the walls where no rating is stated."""
    by_walls: Entry | None
    """None while the walls are not stated, or have no formula."""
    parts: tuple[tuple[str, Entry], ...]
    """Pressure that every part of the walls is allowed."""
    acting: tuple[Acting, ...]
    removed: tuple[str, ...]
    """States in which it is not fitted."""


def walls_chapter(desk: Desk, stem: StemChapter, float_: Float) -> WallsChapter:
    """Compare what acts with what is allowed, state by state."""
    hot = any((riding.condition.temperature.value or 0.0) > AMBIENT_K for riding in stem.ridings)
    parts = wall_parts(desk, float_, hot)
    by_walls = weakest_wall(desk, float_.name, parts) if parts else None
    rating = float_.stated.pressure_rating
    allowed = (
        by_walls
        if by_walls is not None and not rating.known
        else gauge_of(desk, rating, f"{float_.name}.pressure[rating]", "pressure rating above the atmosphere")
    )
    if by_walls is not None and rating.known:
        _rating_beside_walls(desk, float_, allowed, by_walls)
    if by_walls is not None and not rating.known:
        desk.want(rating, "whether the float bears the pressure: the maker's rating comes before a calculation")
    acting, removed = _acting(desk)
    for each in acting:
        _compare(desk, float_, each, allowed)
    return WallsChapter(allowed, by_walls, tuple(parts), tuple(acting), removed)


def _compare(desk: Desk, float_: Float, each: Acting, allowed: Entry) -> None:
    words = (
        f"the {float_.called} bears the pressure in the state {each.state}",
        f"The {float_.called} does not bear the pressure in the state {each.state}",
    )
    key, name = f"{_key(float_)}-pressure[{each.state}]", f"{float_.name}.pressure_margin[{each.state}]"
    left = f"pressure left to what the {float_.called} is allowed, {each.state}"
    desk.compare_apart(key, words, each.pressure, "at most", allowed, name, left, by=PRESSURES, safety=True)


def _rating_beside_walls(desk: Desk, float_: Float, rating: Entry, by_walls: Entry) -> None:
    """A rating far above what the walls bear by calculation is told; it does not stand against the order."""
    words = (
        f"the walls of the {float_.called} bear its rating by calculation",
        f"The rating of the {float_.called} is above what its walls bear by calculation: ask for the proof",
    )
    key, name = f"{_key(float_)}-rating", f"{float_.name}.rating_margin"
    left = "pressure by the walls less the rating"
    desk.compare_apart(key, words, rating, "at most", by_walls, name, left, by=PRESSURES, remark=True)


def _key(float_: Float) -> str:
    return float_.name.replace("_", "-")


# ---------------------------------------------------------------- what acts


def _acting(desk: Desk) -> tuple[list[Acting], tuple[str, ...]]:
    """Every pressure under which the float is fitted, and the states in which it is not."""
    names = {state.name.text for state in desk.case.states}
    found = [Acting(_unlike(names, OPERATION), each) for each in operating_pressures(desk)]
    removed: list[str] = []
    test = _test(desk)
    tested = False
    for state in desk.case.states:
        name = state.name.text or "normal"
        pressure = _of_state(desk, state, name)
        tested = tested or _covers(pressure, test)
        if state.instrument.word not in (FITTED, ""):
            removed.append(name)
        elif pressure is not None:
            found.append(Acting(name, pressure))
    if test is not None and not tested:
        found.append(Acting(_unlike(names, TEST), test))
        title = "whether the float is fitted or removed in the pressure test: a state with that pressure"
        desk.wants["states.pressure_test"] = Want(title, "process", "whether the float bears the test")
    return found, tuple(removed)


def _unlike(names: set[str], own: str) -> str:
    """Our word for what is no state, with a number behind it where a state bears it."""
    numbered = (f"{own} ({number})" for number in count(2))
    return next(word for word in chain((own,), numbered) if word not in names)


def _test(desk: Desk) -> Entry | None:
    """The test pressure above the atmosphere; None where none is spoken of, asked where it is said to be unknown."""
    stated = desk.case.pressure.test
    desk.read.add(stated.path)
    if stated.asked and not stated.known and stated.state != NONE:
        desk.want(stated, "whether the float bears the test")
    return gauge_of(desk, stated, "pressure.test_gauge", "test pressure above the atmosphere") if stated.known else None


def _of_state(desk: Desk, state: OperatingState, name: str) -> Entry | None:
    """The pressure of a state; asked where it is said to be unknown."""
    stated = state.pressure
    desk.read.add(stated.path)
    if stated.asked and not stated.known and stated.state != NONE:
        desk.want(stated, f"whether the float bears the pressure in the state {name}")
    meaning = f"pressure above the atmosphere, {name}"
    return gauge_of(desk, stated, f"states.pressure[{name}]", meaning) if stated.known else None


def _covers(pressure: Entry | None, test: Entry | None) -> bool:
    """Whether a state is that of the pressure test: it bears its pressure, or more, both above the atmosphere."""
    if pressure is None or test is None or pressure.value is None or test.value is None:
        return False
    return pressure.value >= test.value


def operating_pressures(desk: Desk) -> Iterator[Entry]:
    """The operating pressure at its highest; asked where it is said to be unknown, or nothing is said of pressure."""
    stated = desk.case.pressure.operating
    silent = not stated.known and stated.state != NONE
    if silent and (stated.asked or not desk.case.pressure.kind.known):
        desk.want(stated, "whether the float bears the pressure")
    base = gauge_pressure(desk)
    if stated.high is None:
        yield base
        return
    shown = "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)"
    high = desk.end(stated, "high", "highest", shown)
    yield _as_gauge(desk, high, "pressure.operating_gauge[highest]", "operating pressure above the atmosphere, highest")


def gauge_of(desk: Desk, stated: Value, name: str, meaning: str) -> Entry:
    """A stated pressure above the atmosphere, whatever it was stated from."""
    entry = desk.take(stated, "bar(a)" if stated.suffix == "Pa_abs" else "bar(g)")
    return _as_gauge(desk, entry, name, meaning)


def _as_gauge(desk: Desk, entry: Entry, name: str, meaning: str) -> Entry:
    if entry.suffix != "Pa_abs":
        return entry
    return desk.once(
        name,
        gauge_Pa_gauge,
        shown="bar(g)",
        meaning=meaning,
        pressure_Pa_abs=entry,
        atmosphere_Pa_abs=desk.take(desk.case.site.atmospheric_pressure, "bar(a)"),
    )
