"""The float between two liquids: window of density, friction, and the pull of the two magnets on each other.

The lower liquid carries the float, the medium stands above it: the formulas are those of a float under a heavy gas.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    combined_stiffness_N_per_m,
    density_window_kg_per_m3,
    moved_by_force_m,
    waterline_above_magnet_m,
    window_share,
)
from onedatum.physics.magnetostrictive import kept_spacing_m, least_spacing_m, plane_distance_m
from onedatum.study.apart import DENSITIES, SHARES
from onedatum.study.desk import Desk, Sense
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.fit import float_fits
from onedatum.study.stem.float import Float, interface_float_of
from onedatum.study.stem.magnet import Ring, force_between, snap_spacing_of
from onedatum.study.stem.response import Response, band_of, stiffness_of
from onedatum.study.stem.riding import Riding
from onedatum.study.stem.waveguide import WaveguideChapter

LEAST_WINDOW_KG_PER_M3, GOOD_WINDOW_KG_PER_M3 = 50.0, 100.0
LEAST_LAYER_M, GOOD_LAYER_M, SNAP_FACTOR = 0.15, 0.2, 1.5
MIDDLE = 0.5
USUAL = "common-practice"


@dataclass(frozen=True)
class AtInterface:
    """The interface float in one state and at one density of the lower liquid."""

    state: str
    window: Entry
    share: Entry
    immersion: Entry
    above_magnet: Entry
    """Interface above the magnet plane."""
    stiffness: Entry
    band: Entry | None
    distance: Entry
    """Of the two magnet planes, with the least upper layer."""


@dataclass(frozen=True)
class InterfaceChapter:
    """The float between two liquids, and the two floats against each other."""

    float_: Float
    states: tuple[AtInterface, ...]
    snap: Entry | None
    """Distance below which the magnets draw the floats together; None while the magnet is not stated."""
    spacing: Entry | None
    least_layer: Entry
    distance: Entry
    """Least distance of the magnet planes over the states, with the least upper layer."""
    pull: Entry | None
    """Attraction at the least layer."""
    moved: Entry | None
    """By how much it moves the interface float there."""


def interface_float(desk: Desk) -> Float | None:
    """The float between two liquids; None where no interface is spoken of."""
    leaves = (*desk.case.interface.leaves(), *desk.case.instrument.interface_float.leaves())
    return interface_float_of(desk) if any(leaf.known for leaf in leaves) else None


def interface_chapter(
    desk: Desk,
    stem: StemChapter,
    float_: Float,
    wire: WaveguideChapter,
    answers: tuple[Response, ...],
    magnet: Ring | None,
) -> InterfaceChapter:
    """Work the float between two liquids, and the two floats against each other."""
    stated = desk.case.interface
    float_fits(desk, float_)
    layer = desk.take(stated.upper_layer_least, "mm")
    found = tuple(
        _at(desk, float_, riding, layer, *lower) for riding in stem.ridings for lower in _lowers(desk, riding)
    )
    _good_window(desk, found)
    distance = desk.sheet.select(
        "interface.plane_distance_least",
        "least",
        "least distance of the magnet planes, with the least upper layer",
        [each.distance for each in found],
    )
    _layers(desk, layer)
    if magnet is None:
        desk.want(desk.case.instrument.magnet.remanence, "how near the two floats may come")
        return InterfaceChapter(float_, found, None, None, layer, distance, None, None)
    snap = snap_spacing_of(desk, _softest(desk, answers, found), magnet)
    spacing = _spacing(desk, stem, float_, wire, snap)
    _apart(desk, distance, spacing, snap)
    pull = force_between(desk, distance, magnet)
    moved = desk.calc(
        "interface_float.moved_by_pull",
        moved_by_force_m,
        shown="mm",
        meaning="by how much the pull of the upper magnet moves the interface float at the least distance",
        force_N=pull,
        stiffness_N_per_m=_least_stiffness(desk, found),
    )
    return InterfaceChapter(float_, found, snap, spacing, layer, distance, pull, moved)


def _lowers(desk: Desk, riding: Riding) -> Iterator[tuple[str, Entry]]:
    """The lower liquid as stated and at the ends of its range, each under the name of the state it stands in."""
    stated: Value = desk.case.interface.lower_density
    yield riding.state, desk.take(stated)
    for which, word in (("low", "lightest lower liquid"), ("high", "heaviest lower liquid")):
        if (stated.low if which == "low" else stated.high) is not None:
            yield f"{riding.state}, {word}", desk.end(stated, which, word)


def _at(desk: Desk, float_: Float, riding: Riding, layer: Entry, state: str, lower: Entry) -> AtInterface:
    upper = riding.condition.density
    window = desk.calc(
        f"interface.window[{state}]",
        density_window_kg_per_m3,
        meaning=f"lower liquid heavier than the upper one by, {state}",
        lower_density_kg_per_m3=lower,
        upper_density_kg_per_m3=upper,
    )
    _window(desk, state, window)
    share = _share(desk, float_, state, lower, upper)
    immersion = float_.immersion(desk, state, lower, upper)
    above = desk.calc(
        f"interface_float.interface_above_magnet[{state}]",
        waterline_above_magnet_m,
        shown="mm",
        meaning=f"interface above the magnet plane, {state}",
        immersion_m=immersion,
        magnet_height_m=float_.magnet_plane,
    )
    stiffness = stiffness_of(desk, float_, state, lower, upper, float_.waterplane(desk, state, immersion))
    distance = desk.calc(
        f"interface.plane_distance[{state}]",
        plane_distance_m,
        shown="mm",
        meaning=f"distance of the magnet planes with the least upper layer, {state}",
        layer_m=layer,
        upper_waterline_m=riding.waterline,
        interface_above_magnet_m=above,
    )
    band = band_of(desk, float_, state, lower, upper)
    return AtInterface(state, window, share, immersion, above, stiffness, band, distance)


def _share(desk: Desk, float_: Float, state: str, lower: Entry, upper: Entry) -> Entry:
    """Place of the float in the window: clean against rising, with all that weighs it down against sinking."""
    densities = {"upper_density_kg_per_m3": upper, "lower_density_kg_per_m3": lower}
    clean = desk.worked(
        f"interface_float.window_share[{state}]",
        window_share,
        {"float_density_kg_per_m3": float_.mean_density, **densities},
        meaning=f"place of the interface float in the window, {state}",
    )
    heavy = clean
    if float_.heaviest_density is not float_.mean_density:
        heavy = desk.worked(
            f"interface_float.window_share_heaviest[{state}]",
            window_share,
            {"float_density_kg_per_m3": float_.heaviest_density, **densities},
            meaning=f"place of the interface float in the window, soaked and fouled as stated, {state}",
        )
    if heavy.value is None or heavy.value > MIDDLE:
        _inside(desk, state, heavy, "sinks", 1.0, "at most", "sinks in the lower liquid")
    if clean.value is not None and clean.value <= MIDDLE:
        _inside(desk, state, clean, "rises", 0.0, "at least", "rises into the upper liquid")
    return clean


def _inside(desk: Desk, state: str, share: Entry, key: str, figure: float, sense: Sense, told: str) -> None:
    words = (
        f"the interface float stays between the liquids in the state {state}",
        f"The interface float {told} in the state {state}",
    )
    limit = desk.constant(f"interface_float.{key}_limit", figure, "", "end of the window", source=USUAL)
    name = f"interface_float.{key}_margin[{state}]"
    desk.compare_apart(f"interface-{key}[{state}]", words, share, sense, limit, name, by=SHARES)


def _window(desk: Desk, state: str, window: Entry) -> None:
    """Reversed liquids and too small a window stand against the order, named with the state they happen in."""
    if window.value is not None and window.value <= 0.0:
        key, figure, fails = "reversed", 0.0, f"The liquids are reversed in the state {state}: the lower is the lighter"
    else:
        key, figure = "window", LEAST_WINDOW_KG_PER_M3
        fails = f"The two liquids are too alike for a float in the state {state}"
    words = f"the lower liquid is heavy enough in the state {state}", fails
    _heavier(desk, f"interface-{key}[{state}]", words, window, figure, f"interface.{key}", state)


def _good_window(desk: Desk, found: tuple[AtInterface, ...]) -> None:
    """A window that a float can serve, but not well, is told once."""
    least = desk.sheet.select(
        "interface.window_least", "least", "least window over the states", [each.window for each in found]
    )
    words = "the two liquids differ enough for a good reading", "The two liquids are rather alike: friction counts much"
    _heavier(desk, "interface-good-window", words, least, GOOD_WINDOW_KG_PER_M3, "interface.good_window", "", True)


def _heavier(
    desk: Desk,
    key: str,
    words: tuple[str, str],
    window: Entry,
    figure: float,
    name: str,
    state: str,
    remark: bool = False,
) -> None:
    limit = desk.constant(f"{name}_limit", figure, "kg_per_m3", "least difference of the densities", source=USUAL)
    margin = f"{name}_margin[{state}]" if state else f"{name}_margin"
    meaning = f"difference of the densities beyond the least, {state}" if state else "least window beyond a good one"
    desk.compare_apart(key, words, window, "at least", limit, margin, meaning, by=DENSITIES, remark=remark)


# ---------------------------------------------------------------- the two magnets


def _least_stiffness(desk: Desk, found: tuple[AtInterface, ...]) -> Entry:
    name = "interface_float.stiffness_least"
    if name in desk.sheet:
        return desk.sheet[name]
    return desk.sheet.select(
        name,
        "least",
        "least force per depth of the interface float over the states",
        [each.stiffness for each in found],
    )


def _softest(desk: Desk, answers: tuple[Response, ...], found: tuple[AtInterface, ...]) -> Entry:
    """Stiffness of the two floats against their pull, where it is least."""
    upper = desk.sheet.select(
        "float.stiffness_least",
        "least",
        "least force per depth of the float at the surface over the states",
        [each.stiffness for each in answers],
    )
    return desk.calc(
        "interface.combined_stiffness",
        combined_stiffness_N_per_m,
        first_N_per_m=upper,
        second_N_per_m=_least_stiffness(desk, found),
    )


def _spacing(desk: Desk, stem: StemChapter, float_: Float, wire: WaveguideChapter, snap: Entry) -> Entry:
    return desk.calc(
        "interface.least_spacing",
        least_spacing_m,
        shown="mm",
        meaning="least distance of the two magnet planes",
        float_1_height_m=stem.float_.height,
        float_2_height_m=float_.height,
        speed_m_per_s=wire.speed,
        pulse_duration_s=desk.take(desk.case.instrument.echo.pulse_duration, "us"),
        coupling_m=snap,
    )


def _layers(desk: Desk, layer: Entry) -> None:
    """A layer thinner than the floats need is refused; a rather thin one is told."""
    least = desk.constant(
        "interface.least_layer", LEAST_LAYER_M, "m", "thinnest upper layer usually accepted", shown="mm", source=USUAL
    )
    good = desk.constant(
        "interface.good_layer", GOOD_LAYER_M, "m", "upper layer without a correction", shown="mm", source=USUAL
    )
    words = "the upper layer is thick enough for two floats", "The upper layer is too thin for two floats"
    desk.compare_apart(
        "layer", words, layer, "at least", least, "interface.layer_margin", "upper layer beyond the least usual"
    )
    words = "the upper layer needs no correction", "The upper layer is thin: the pull of the magnets must be corrected"
    desk.compare_apart(
        "thick-layer",
        words,
        layer,
        "at least",
        good,
        "interface.good_layer_margin",
        "upper layer beyond what needs a correction",
        remark=True,
    )


def _apart(desk: Desk, distance: Entry, spacing: Entry, snap: Entry) -> None:
    """The distance of the magnet planes against what the floats need, and against that of snapping together."""
    words = "the floats are as far apart as they need", "The floats come nearer than the distance they need"
    name, meaning = "interface.spacing_margin", "distance of the magnet planes beyond what is needed"
    desk.compare_apart("spacing", words, distance, "at least", spacing, name, meaning)
    kept = desk.calc(
        "interface.kept_from_snapping",
        kept_spacing_m,
        shown="mm",
        spacing_m=snap,
        factor=desk.constant(
            "interface.snap_factor", SNAP_FACTOR, "", "distance kept, over that of snapping", source=USUAL
        ),
    )
    words = "the floats are kept from snapping together", "The layer lets the floats come near to snapping together"
    name, meaning = "interface.snapping_margin", "distance of the magnet planes beyond the distance kept"
    desk.compare_apart("snapping", words, distance, "at least", kept, name, meaning)
