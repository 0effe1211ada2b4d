"""The build: which limit binds over its words, and whether length, temperature and pressure keep to it.

The weakest part decides. A limit that the case states comes before the usual one; states in which the instrument is
removed do not count.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from onedatum.case.builds import Build, build_of, least
from onedatum.case.leaf import Word
from onedatum.case.model.build import COATED, NO_CONNECTION, ON_CHAMBER, STILL_PIPE, YES
from onedatum.case.model.instrument import IN_CHAMBER
from onedatum.case.model.liquid import FREE
from onedatum.foundation.working import Entry
from onedatum.physics.overfill import margin_m
from onedatum.study.acting import gauge_of
from onedatum.study.apart import PRESSURES, TEMPERATURES
from onedatum.study.build_limits import limit_of
from onedatum.study.desk import Desk, Sense
from onedatum.study.states import StatesChapter
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.materials import kept_material
from onedatum.study.stem.walls import WallsChapter
from onedatum.verdicts import Effect, Finding, Link

SPOKEN_OF = "which limits the instrument has"


@dataclass(frozen=True)
class BuildChapter:
    """The words of the build with what they change, and the limits that bind."""

    chosen: tuple[Build, ...]
    temperature_max: Entry | None
    pressure_max: Entry | None
    length_max: Entry | None


def build_chapter(desk: Desk, stem: StemChapter, states: StatesChapter, walls: WallsChapter) -> BuildChapter:
    """Choose the words and compare with what binds."""
    chosen = tuple(_chosen(desk))
    hottest = _hottest(desk, chosen)
    coldest = _limit(desk, "temperature_min", "degC", chosen, lambda each: each.temperature_min_K)
    pressure = _pressure_limit(desk, chosen)
    length = _length_limit(desk, chosen)
    ends: tuple[tuple[str, Entry | None, Sense], ...] = (("hot", hottest, "at most"), ("cold", coldest, "at least"))
    met = [riding.condition for riding in stem.ridings] if states.fitted else []
    for condition in (*met, *states.stand_ins):
        for word, limit, sense in ends:
            if limit is not None:
                _temperature(desk, condition.name, word, condition.temperature, sense, limit)
    for each in walls.acting:
        if pressure is not None:
            _pressure(desk, each.state, each.pressure, pressure)
    if length is not None:
        words = "the stem is not longer than its build allows", "The stem is longer than its build allows"
        name, meaning = "stem.length_margin", "longest stem of the build less it"
        desk.compare_apart("stem-length", words, stem.length, "at most", length, name, meaning)
    _in_pipe(desk)
    _without_connection(desk, walls)
    desk.findings.extend(_particles(desk))
    return BuildChapter(chosen, hottest, pressure, length)


def _hottest(desk: Desk, chosen: tuple[Build, ...]) -> Entry:
    """The highest temperature that every part bears: as stated, else the least of build and materials.

    Where a part has no figure, such as the sleeve of a coated stem, the limit must be stated: it is to be ordered.
    """
    stated = desk.case.instrument.build.temperature_max
    if stated.known:
        return desk.take(stated, "degC")
    parts = list(_temperatures(desk, chosen))
    if not parts or desk.case.instrument.build.surface.word == COATED:
        desk.want(stated, "whether a part of the build is too hot")
        return desk.take(stated, "degC")
    desk.read.add(stated.path)
    figure, what, source, tag = min(parts)
    return desk.sheet.give(
        stated.path,
        figure,
        stated.suffix,
        "highest temperature of the medium that the weakest part bears",
        state="assumed",
        shown="degC",
        path=stated.path,
        note=f"{tag}, of: {what}; not stated for this instrument",
        source=source,
    )


def _temperatures(desk: Desk, chosen: tuple[Build, ...]) -> Iterator[tuple[float, str, str, str]]:
    """Highest temperature of every part that has one: words of the build, materials of floats and stem."""
    for build in chosen:
        if build.temperature_max_K is not None:
            yield build.temperature_max_K, build.word, build.source, build.tag
    instrument = desk.case.instrument
    for leaf in (instrument.float_.metal, instrument.interface_float.metal, instrument.stem.metal):
        desk.read.add(leaf.path)
        material = kept_material(leaf.text)
        if material is not None and material.temperature_max_K is not None:
            limit = material.temperature_max_K
            yield limit.value, material.name, limit.source, limit.tag


def _pressure_limit(desk: Desk, chosen: tuple[Build, ...]) -> Entry | None:
    """The pressure that the build bears, above the atmosphere; one that holds no pressure bears none."""
    stated = desk.case.instrument.build.pressure_max
    if outside(desk):
        desk.skip(stated)
        return None
    if stated.known:
        return gauge_of(desk, stated, "build.pressure_max", "highest pressure of the build above the atmosphere")
    return _limit(desk, "pressure_max", "bar(g)", chosen, lambda each: each.pressure_max_Pa_gauge)


def _chosen(desk: Desk) -> Iterator[Build]:
    """The record of every word that is stated; where nothing of the build is spoken of, only the float is wanted."""
    build = desk.case.instrument.build
    aspects: dict[str, Word] = {
        "surface": build.surface,
        "cartridge": build.cartridge,
        "float": build.float_,
        "fixing": build.fixing,
        "head": build.head,
        "place": build.place,
        "dead_zones": build.dead_zones,
        "hot_neck": build.hot_neck,
    }
    spoken = any(leaf.known for leaf in aspects.values())
    if (found := build_of("principle", desk.case.instrument.principle.word)) is not None:
        yield found
    for aspect, leaf in aspects.items():
        word = desk.word(leaf, SPOKEN_OF) if spoken or aspect == "float" else leaf.word
        if (found := build_of(aspect, word)) is not None:
            yield found


def _limit(
    desk: Desk, key: str, shown: str, chosen: tuple[Build, ...], figure: Callable[[Build], float | None]
) -> Entry | None:
    """The limit as stated; else the least over the words of the build, which is common practice and says of which."""
    return limit_of(desk, getattr(desk.case.instrument.build, key), least(chosen, figure), shown)


def _length_limit(desk: Desk, chosen: tuple[Build, ...]) -> Entry | None:
    guided = desk.case.instrument.stem.guided.word == YES
    desk.read.add(desk.case.instrument.stem.guided.path)

    def longest(build: Build) -> float | None:
        return build.guided_length_max_m or build.length_max_m if guided else build.length_max_m

    return _limit(desk, "length_max", "m", chosen, longest)


def _temperature(desk: Desk, state: str, word: str, value: Entry, sense: Sense, limit: Entry) -> None:
    words = (
        f"no part of the build is too {word} in the state {state}",
        f"The medium is too {word} for a part of the build in the state {state}",
    )
    name, meaning = f"build.{word}_margin[{state}]", f"temperature left to the limit of the build, {state}"
    desk.compare_apart(f"build-{word}[{state}]", words, value, sense, limit, name, meaning, by=TEMPERATURES)


def _pressure(desk: Desk, state: str, value: Entry, limit: Entry) -> None:
    words = (
        f"no part of the build bears too much pressure in the state {state}",
        f"The pressure is too high for a part of the build in the state {state}",
    )
    name, meaning = f"build.pressure_margin[{state}]", f"pressure left to the limit of the build, {state}"
    key = f"build-pressure[{state}]"
    desk.compare_apart(key, words, value, "at most", limit, name, meaning, by=PRESSURES, safety=True)


def _in_pipe(desk: Desk) -> None:
    """Inside a pipe the float needs its room all around."""
    build = desk.case.instrument.build
    record = build_of("place", build.place.word)
    if build.place.word != STILL_PIPE or record is None or record.pipe_over_float_m is None:
        return
    room = desk.sheet.give(
        "build.pipe_over_float",
        record.pipe_over_float_m,
        "m",
        "least difference between pipe and float",
        state="constant",
        shown="mm",
        source=record.source,
    )
    float_ = desk.take(desk.case.instrument.float_.outside_diameter, "mm")
    gap = desk.calc(
        "build.pipe_gap",
        margin_m,
        shown="mm",
        meaning="inside diameter of the pipe less the float",
        limit_m=desk.take(build.pipe_bore, "mm"),
        value_m=float_,
    )
    words = "the float has room in the pipe", "The float has too little room in the pipe"
    desk.compare_apart(
        "float-in-pipe", words, gap, "at least", room, "build.pipe_margin", "room in the pipe beyond what is usual"
    )


def outside(desk: Desk) -> bool:
    """Whether the stem is clamped to a chamber: it is not wetted, and no pressure acts on it."""
    build, principle = desk.case.instrument.build, desk.case.instrument.principle
    return build.place.word == ON_CHAMBER or principle.word == IN_CHAMBER


def _particles(desk: Desk) -> Iterator[Finding]:
    """A magnetostrictive float asks for a medium free of particles (common practice)."""
    stated = desk.case.medium.particles
    word = desk.word(stated, "whether the float runs free on its stem")
    if stated.known and word != FREE and not outside(desk):
        yield Finding(
            "particles",
            "The medium holds particles: the float may jam on its stem",
            Effect.WARNING,
            (
                Link("Particles in the liquid", word),
                Link("A float on a stem asks for a medium free of particles (common practice, no source)"),
            ),
            (Link("A larger gap, a strainer or a magnetic trap, flushing; or another principle"),),
        )


def _without_connection(desk: Desk, walls: WallsChapter) -> None:
    """Without process connection it holds no pressure and parts no zones: nothing above the atmosphere is borne."""
    if desk.case.instrument.build.fixing.word != NO_CONNECTION or outside(desk):
        return
    meaning = "pressure that a stem without process connection holds"
    none = desk.sheet.give(
        "build.connection_pressure",
        0.0,
        "Pa_gauge",
        meaning,
        state="constant",
        shown="bar(g)",
        source="common-practice",
    )
    for each in walls.acting:
        words = (
            f"no pressure acts on a stem without process connection in the state {each.state}",
            f"Without process connection it holds no pressure: not for the state {each.state}, but for a closed well",
        )
        name, left = f"build.connection_margin[{each.state}]", f"pressure left to none, {each.state}"
        key = f"build-connection[{each.state}]"
        desk.compare_apart(key, words, each.pressure, "at most", none, name, left, by=PRESSURES, safety=True)
