"""The magnet in the float: its field at the wire against the least that is needed, cold and hot, and its pull."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from onedatum.case.model.float import BARS
from onedatum.case.model.liquid import MAGNETIC
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.floats import radius_m
from onedatum.physics.magnetostrictive import warmer_K
from onedatum.physics.magnets import (
    MagnetMaterial,
    bars_field_on_axis_T,
    echo_length_s,
    field_margin_T,
    field_strength_T,
    magnet_material,
    main_lobe_width_m,
    remanence_at_T,
    ring_axial_field_T,
    ring_field_on_axis_T,
    ring_force_N,
    side_field_after_wall_T,
    snap_spacing_m,
    usual_least_field,
)
from onedatum.study.desk import Desk
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.waveguide import WaveguideChapter
from onedatum.verdicts import Effect, Finding, Link

REFERENCE_K = 293.15


@dataclass(frozen=True)
class Ring:
    """A ring magnet by its radii, its length and its remanence."""

    inner: Entry
    outer: Entry
    length: Entry
    remanence: Entry

    def shape(self) -> dict[str, Entry]:
        """As the formulas of its field take it."""
        return {"inner_radius_m": self.inner, "outer_radius_m": self.outer, "length_m": self.length}


@dataclass(frozen=True)
class Beside:
    """A stem beside the float, outside its chamber."""

    distance: Entry
    """From the axis of the float in the middle of its chamber."""
    farthest: Entry
    """The same with the float at the other wall."""
    reduction: Entry
    """What the wall of the chamber takes of the field; unknown while its permeability is."""


@dataclass(frozen=True)
class MagnetChapter:
    """What the magnet does at the wire."""

    ring: Ring | None
    """None where bars stand on a circle."""
    strengths: tuple[tuple[str, Entry], ...]
    """Strength of the field at the wire, in the middle of the float, by state."""
    least: Entry
    lobe: Entry | None
    echo: Entry | None
    strongest: Ring | None
    """The ring with its remanence where that is greatest: it decides how near two floats may come."""


def magnet_chapter(
    desk: Desk, stem: StemChapter, wire: WaveguideChapter, beside: Beside | None = None
) -> MagnetChapter | None:
    """Work it where a magnet is stated."""
    stated = desk.case.instrument.magnet
    if not any(leaf.known for leaf in stated.leaves()):
        return None
    bars = desk.word(stated.form, "which field the wire sees") == BARS
    ring = None if bars else _ring(desk)
    least = _least(desk)
    fields = _strengths(desk, stem, ring) if beside is None else _strengths_beside(desk, stem, ring, beside)
    strengths = tuple(fields)
    for state, strength in strengths:
        margin = desk.calc(
            f"magnet.field_margin[{state}]",
            field_margin_T,
            shown="mT",
            meaning=f"field at the wire beyond the least, {state}",
            strength_T=strength,
            least_T=least,
        )
        words = (
            f"the magnet reaches the wire in the state {state}",
            f"The field of the magnet is too weak at the wire in the state {state}",
        )
        desk.compare(f"magnet-field[{state}]", words, strength, "at least", least, margin)
    desk.findings.extend(_not_kept(desk))
    desk.findings.extend(_too_hot(desk, stem))
    desk.findings.extend(_magnetic_particles(desk))
    inside = ring is not None and beside is None
    lobe = (
        None
        if not inside or ring is None
        else desk.worked("magnet.lobe_width", main_lobe_width_m, ring.shape(), shown="mm")
    )
    echo = (
        None
        if lobe is None
        else desk.calc("magnet.echo_length", echo_length_s, shown="us", lobe_width_m=lobe, speed_m_per_s=wire.speed)
    )
    return MagnetChapter(ring, strengths, least, lobe, echo, _strongest(desk, stem, ring))


def _strongest(desk: Desk, stem: StemChapter, ring: Ring | None) -> Ring | None:
    """The ring at the temperature at which it is strongest."""
    if ring is None or _coefficient(desk) is None:
        return ring
    found = [desk.sheet[f"magnet.remanence[{riding.state}]"] for riding in stem.ridings]
    meaning = "greatest remanence of the magnet over the states"
    return replace(ring, remanence=desk.sheet.select("magnet.remanence_greatest", "greatest", meaning, found))


def _ring(desk: Desk) -> Ring:
    stated = desk.case.instrument.magnet
    return Ring(
        _radius(desk, "magnet.inner_radius", "inside radius of the magnet", desk.take(stated.inside_diameter, "mm")),
        _radius(desk, "magnet.outer_radius", "outside radius of the magnet", desk.take(stated.outside_diameter, "mm")),
        desk.take(stated.length, "mm"),
        desk.take(stated.remanence, "mT"),
    )


def _radius(desk: Desk, name: str, meaning: str, diameter: Entry) -> Entry:
    return desk.calc(name, radius_m, shown="mm", meaning=meaning, diameter_m=diameter)


def _least(desk: Desk) -> Entry:
    """The least field as the maker states it; the usual span has no source, so it is only told beside the question."""
    stated = desk.case.instrument.magnet.least_field
    usual = usual_least_field()
    desk.sheet.give(
        "magnet.usual_least_field",
        usual.low_T,
        "T",
        f"least field usually met with, up to {usual.high_T * 1e3:g} mT",
        state="constant",
        shown="mT",
        source=usual.source,
    )
    return desk.take(stated, "mT")


# ---------------------------------------------------------------- the field at the wire


def _strengths(desk: Desk, stem: StemChapter, ring: Ring | None) -> Iterator[tuple[str, Entry]]:
    """In the middle of the float, on its axis, with the remanence at the temperature of every state."""
    middle = desk.sheet.give(
        "magnet.middle",
        0.0,
        "m",
        "height over the middle of the magnet",
        state="constant",
        shown="mm",
        source="derived",
    )
    for riding in stem.ridings:
        state = riding.state
        remanence = _remanence(desk, state, riding.condition.temperature)
        name, meaning = f"magnet.field[{state}]", f"field along the wire in the middle of the float, {state}"
        if ring is not None:
            inputs = {"axial_m": middle, **ring.shape(), "remanence_T": remanence}
            field = desk.worked(name, ring_field_on_axis_T, inputs, shown="mT", meaning=meaning)
        else:
            inputs = {"axial_m": middle, **_bars(desk), "remanence_T": remanence}
            field = desk.worked(name, bars_field_on_axis_T, inputs, shown="mT", meaning=meaning)
        told = f"strength of the field at the wire, {state}"
        yield state, desk.calc(f"magnet.strength[{state}]", field_strength_T, shown="mT", meaning=told, field_T=field)


def _strengths_beside(desk: Desk, stem: StemChapter, ring: Ring | None, beside: Beside) -> Iterator[tuple[str, Entry]]:
    """In the mid-plane, through the wall: the float in the middle is told, the float at the far wall decides."""
    if ring is None:
        stated = desk.case.instrument.magnet.form
        why = "the field beside bars on a circle is not the same all around"
        desk.faults.append(Fault(stated.path, "ring, for a stem outside on a chamber", stated.text, why, stated.place))
        return
    middle = desk.constant(
        "magnet.middle", 0.0, "m", "height over the middle of the magnet", shown="mm", source="derived"
    )
    for riding in stem.ridings:
        state = riding.state
        remanence = _remanence(desk, state, riding.condition.temperature)
        for word, away, told in (
            ("", beside.distance, "the float in the middle"),
            ("_far", beside.farthest, "the float at the far wall"),
        ):
            meaning = f"field along the stem beside the magnet, {told}, {state}"
            inputs = {"axial_m": middle, "radial_m": away, **ring.shape(), "remanence_T": remanence}
            name = f"magnet.field{word}[{state}]"
            field = desk.worked(name, ring_axial_field_T, inputs, shown="mT", meaning=meaning)
            behind = {"field_T": field, "reduction": beside.reduction}
            name, meaning = f"magnet.field{word}_behind_wall[{state}]", f"{meaning}, behind the wall"
            field = desk.worked(name, side_field_after_wall_T, behind, shown="mT", meaning=meaning)
            meaning = f"strength of the field at the stem, {told}, {state}"
            strength = desk.worked(
                f"magnet.strength{word}[{state}]", field_strength_T, {"field_T": field}, shown="mT", meaning=meaning
            )
        yield state, strength


def _bars(desk: Desk) -> dict[str, Entry]:
    stated = desk.case.instrument.magnet
    name = "magnet.circle_radius"
    diameter = desk.take(stated.circle_diameter, "mm")
    radius = desk.sheet[name] if name in desk.sheet else _radius(desk, name, "radius of the circle of bars", diameter)
    return {
        "count": desk.take(stated.count),
        "bar_diameter_m": desk.take(stated.bar_diameter, "mm"),
        "bar_length_m": desk.take(stated.length, "mm"),
        "circle_radius_m": radius,
    }


def _material(desk: Desk) -> MagnetMaterial | None:
    """The figures kept of the material; None where none is stated or kept."""
    stated = desk.case.instrument.magnet.material
    desk.read.add(stated.path)
    try:
        return magnet_material(stated.text) if stated.known else None
    except QuantityError:
        return None


def _remanence(desk: Desk, state: str, temperature: Entry) -> Entry:
    """The remanence at the temperature of the liquid, where the material of the magnet is kept; else as stated."""
    remanence, coefficient = desk.take(desk.case.instrument.magnet.remanence, "mT"), _coefficient(desk)
    if coefficient is None:
        return remanence
    warmer = desk.calc(
        f"magnet.warmer[{state}]",
        warmer_K,
        shown="K",
        meaning=f"how much warmer the magnet is, {state}",
        temperature_K=temperature,
        reference_temperature_K=_reference(desk),
    )
    return desk.calc(
        f"magnet.remanence[{state}]",
        remanence_at_T,
        shown="mT",
        meaning=f"remanence of the magnet, {state}",
        remanence_T=remanence,
        coefficient_per_K=coefficient,
        temperature_difference_K=warmer,
    )


def _coefficient(desk: Desk) -> Entry | None:
    """Change of the remanence per kelvin as stated, else of the material kept, once on the sheet."""
    stated, material = desk.case.instrument.magnet.remanence_coefficient, _material(desk)
    if stated.known:
        return desk.take(stated)
    if material is None:
        return None
    kept = material.coefficient_per_K
    return desk.constant(
        "magnet.remanence_coefficient",
        kept.value,
        "per_K",
        "change of the remanence per kelvin",
        state="assumed",
        note=f"{desk.case.instrument.magnet.material.text}, {kept.tag}",
        source=kept.source,
    )


def _reference(desk: Desk) -> Entry:
    """The temperature at which the remanence holds, once on the sheet."""
    meaning = "temperature at which the remanence holds"
    return desk.constant("magnet.reference_temperature", REFERENCE_K, "K", meaning, source="derived")


def _not_kept(desk: Desk) -> Iterator[Finding]:
    """Without the figures of its material nothing says what heat does to the magnet: that is asked, or told."""
    stated = desk.case.instrument.magnet.material
    if not stated.known:
        desk.want(stated, "how the magnet weakens when it is warm, and how hot it may become")
        return
    try:
        magnet_material(stated.text)
    except QuantityError as error:
        yield Finding(
            "magnet-material",
            "What heat does to the magnet is not looked at: no figures are kept for its material",
            Effect.WARNING,
            (
                Link("Material of the magnet", stated.text),
                Link("Its field is worked with the remanence as stated, in every state"),
            ),
            (
                Link(f"State {error.allowed}, where it is one of these"),
                Link("Else state the remanence at the highest temperature, by the data sheet of the grade"),
            ),
        )


def _too_hot(desk: Desk, stem: StemChapter) -> Iterator[Finding]:
    """A magnet above its highest temperature loses its field for good; the usual limits are from memory.

    Above what the most delicate grade bears the grade decides: a warning. Above what any grade bears it blocks.
    """
    material = _material(desk)
    if material is None:
        return
    figure = material.temperature_max_K
    hot = [
        (riding.condition.temperature.value, riding)
        for riding in stem.ridings
        if riding.condition.temperature.value is not None and riding.condition.temperature.value > figure.value
    ]
    if not hot:
        return
    highest, riding = max(hot, key=lambda each: each[0])
    blocks = highest > figure.high
    limit, which = (figure.high, "any grade") if blocks else (figure.value, "the most delicate grade")
    temperature = riding.condition.temperature
    yield Finding(
        "magnet-too-hot",
        f"The magnet is hotter than {which} of its material usually bears in the state {riding.state}",
        Effect.BLOCKS if blocks else Effect.WARNING,
        (
            Link("Temperature of the medium", temperature.text, temperature.name),
            Link(f"{desk.case.instrument.magnet.material.text} bears ({figure.tag})", f"{limit - 273.15:g} degC"),
        ),
        (Link("SmCo or AlNiCo, by the data sheet of the grade"),),
    )


def _magnetic_particles(desk: Desk) -> Iterator[Finding]:
    if desk.case.medium.particles.word == MAGNETIC:
        yield Finding(
            "magnetic-particles",
            "Magnetic particles gather at the float: it grows heavy, then it jams",
            Effect.BLOCKS,
            (
                Link("Particles in the liquid", MAGNETIC),
                Link("The magnet holds a grain of 0.1 mm with many times its weight"),
            ),
            (Link("A magnetic trap or strainer, a weaker magnet, flushing; or another principle"),),
        )


# ---------------------------------------------------------------- two floats


def _pair(ring: Ring) -> dict[str, Entry]:
    """Two magnets alike."""
    sides = {
        "inner_radius_m": ring.inner,
        "outer_radius_m": ring.outer,
        "length_m": ring.length,
        "remanence_T": ring.remanence,
    }
    return {f"{which}_{key}": entry for which in ("first", "second") for key, entry in sides.items()}


def snap_spacing_of(desk: Desk, stiffness: Entry, ring: Ring) -> Entry:
    """Distance below which two floats with magnets alike snap together."""
    return desk.worked(
        "interface.snap_spacing",
        snap_spacing_m,
        {"combined_stiffness_N_per_m": stiffness, **_pair(ring)},
        shown="mm",
        meaning="distance of the magnets below which the floats snap together, both magnets alike",
    )


def force_between(desk: Desk, spacing: Entry, ring: Ring) -> Entry:
    """Force between two magnets alike at a distance; negative where they attract."""
    return desk.worked(
        "interface.pull",
        ring_force_N,
        {"spacing_m": spacing, **_pair(ring)},
        shown="mN",
        meaning="force between the two magnets at the least layer, negative where they attract",
    )
