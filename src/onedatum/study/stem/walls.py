"""Whether the float bears the pressure: its rating or its walls, in every state in which it is fitted."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.study.acting import Acting, acting_pressures, gauge_of
from onedatum.study.apart import PRESSURES
from onedatum.study.desk import Desk
from onedatum.study.stem.bearing import wall_parts, weakest_wall
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.float import Float

AMBIENT_K = 323.15
"""Up to which figures of a material at ambient temperature are counted on: 50 degC."""


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
    acting, removed = acting_pressures(desk, "the float")
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
