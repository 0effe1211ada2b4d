"""Whether the stem goes in and stays where it is: clearance at the tip, flow across it, sag of a flexible one."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.build import YES
from onedatum.case.model.instrument import FLEXIBLE
from onedatum.foundation.sources import Figure
from onedatum.foundation.working import Entry
from onedatum.physics.floats import FloatMaterial
from onedatum.physics.mechanics import (
    allowed_stress_Pa,
    arc_excess_m,
    bending_frequency_Hz,
    bending_stiffness_N_m2,
    guided_bending_frequency_Hz,
    guided_deflection_m,
    guided_stress_Pa,
    least_clearance_m,
    line_mass_in_liquid_kg_per_m,
    mechanics_rules,
    resonance_velocity_m_per_s,
    root_stress_Pa,
    sag_m,
    side_load_N_per_m,
    stress_margin_Pa,
    tip_deflection_m,
    tube_second_moment_m4,
    velocity_share,
)
from onedatum.study.apart import SHARES
from onedatum.study.desk import NONE, Desk
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.materials import kept_material
from onedatum.study.stem.waveguide import growth_of_stem

STRENGTH_SHARE = 1.5
"""Factor of safety on the yield strength of the stem (a choice of the design)."""


@dataclass(frozen=True)
class MechanicsChapter:
    """What flow, warmth and length do to the stem; None where nothing of it is stated."""

    clearance: Entry | None = None
    load: Entry | None = None
    deflection: Entry | None = None
    stress: Entry | None = None
    frequency: Entry | None = None
    critical: Entry | None = None
    """Velocity at which the shedding meets the bending frequency."""
    sag: Entry | None = None
    excess: Entry | None = None
    """By how much a flexible stem reads long in the flow."""


def mechanics_chapter(desk: Desk, stem: StemChapter) -> MechanicsChapter:
    """Work clearance always, the flow where its velocity is stated."""
    metal = desk.case.instrument.stem.metal
    desk.read.add(metal.path)
    material = kept_material(metal.text if metal.known else "")
    clearance = _clearance(desk, stem, material)
    velocity, agitator = desk.case.medium.velocity_at_stem, desk.case.medium.agitator
    desk.read.add(agitator.path)
    if not velocity.known:
        if velocity.state != NONE and (velocity.asked or agitator.known):
            desk.want(velocity, "whether the flow bends the stem or makes it swing")
        return MechanicsChapter(clearance)
    load = _load(desk, stem)
    if desk.case.instrument.principle.word == FLEXIBLE:
        sag, excess = _flexible(desk, stem, load)
        return MechanicsChapter(clearance, load, sag=sag, excess=excess)
    return MechanicsChapter(clearance, load, *_rigid(desk, stem, material, load))


def _figure(desk: Desk, name: str, figure: Figure, suffix: str, meaning: str, shown: str = "") -> Entry:
    return desk.constant(name, figure.value, suffix, meaning, shown=shown, source=figure.source, note=figure.tag)


# ---------------------------------------------------------------- clearance at the tip


def _clearance(desk: Desk, stem: StemChapter, material: FloatMaterial | None) -> Entry | None:
    """Growth of the stem in the hottest state, and what sludge and bottom take, against the height of the tip."""
    stated = desk.case.instrument.stem.least_clearance
    growth = _growth(desk, stem, material)
    if growth is None and not stated.known:
        return None
    below = desk.absent(stated, "no sludge and no movement of the bottom are stated: counted as none", "mm")
    need = below
    if growth is not None:
        inputs = {"growth_m": growth, "clearance_m": below}
        need = desk.worked("stem.clearance_needed", least_clearance_m, inputs, shown="mm")
    else:
        desk.want(desk.case.instrument.stem.metal, "how much the stem grows")
    words = "the tip stays clear of the bottom", "The tip does not stay clear of the bottom"
    tip = desk.take(desk.case.instrument.stem.tip_above_datum, "mm")
    name, meaning = "stem.clearance_margin", "height of the tip beyond what growth and bottom take"
    desk.compare_apart("tip-clearance", words, tip, "at least", need, name, meaning)
    return need


def _growth(desk: Desk, stem: StemChapter, material: FloatMaterial | None) -> Entry | None:
    """Greatest growth of the stem; None while its material or the temperature it was set at is not stated."""
    if material is None or material.alpha_per_K is None or not desk.case.vessel.table_temperature.known:
        return None
    alpha = _figure(desk, "stem.alpha", material.alpha_per_K, "per_K", "expansion of the stem", "ppm/K")
    growths = [growth_of_stem(desk, stem, riding, alpha) for riding in stem.ridings]
    return desk.sheet.select("stem.growth_greatest", "greatest", "greatest growth of the stem", growths)


# ---------------------------------------------------------------- flow across the stem


def _heaviest(desk: Desk, stem: StemChapter) -> Entry:
    name = "stem.density_across"
    if name in desk.sheet:
        return desk.sheet[name]
    return desk.sheet.select(
        name,
        "greatest",
        "heaviest liquid that flows across the stem",
        [*(riding.condition.density for riding in stem.ridings), *_lower(desk)],
    )


def _lower(desk: Desk) -> list[Entry]:
    """The lower liquid at its heaviest, where there is one."""
    stated = desk.case.interface.lower_density
    heaviest = f"{stated.path}[heaviest lower liquid]"
    if heaviest in desk.sheet:
        return [desk.sheet[heaviest]]
    return [desk.take(stated)] if stated.known else []


def _load(desk: Desk, stem: StemChapter) -> Entry:
    rules = mechanics_rules()
    return desk.calc(
        "stem.side_load",
        side_load_N_per_m,
        density_kg_per_m3=_heaviest(desk, stem),
        drag_coefficient=_figure(
            desk, "stem.drag_coefficient", rules.drag_coefficient, "", "drag coefficient of a tube"
        ),
        diameter_m=desk.take(desk.case.instrument.stem.outside_diameter, "mm"),
        velocity_m_per_s=desk.take(desk.case.medium.velocity_at_stem),
    )


def _flexible(desk: Desk, stem: StemChapter, load: Entry) -> tuple[Entry, Entry]:
    """Sag of a stem that is held and pulled at both ends, and by how much it reads long."""
    inputs = {
        "load_N_per_m": load,
        "length_m": stem.length,
        "tension_N": desk.take(desk.case.instrument.stem.pull, "N"),
    }
    sag = desk.worked("stem.sag", sag_m, inputs, shown="mm")
    excess = desk.worked("stem.arc_excess", arc_excess_m, inputs, shown="mm")
    allowed = desk.case.wanted.error_allowed_of_level
    if allowed.known:
        words = "the sag keeps the error allowed of the level", "The sag does not keep the error allowed of the level"
        name, meaning = "stem.sag_margin", "error allowed of the level less what the sag makes"
        desk.compare_apart("stem-sag", words, excess, "at most", desk.take(allowed, "mm"), name, meaning)
    return sag, excess


def _rigid(
    desk: Desk, stem: StemChapter, material: FloatMaterial | None, load: Entry
) -> tuple[Entry | None, Entry | None, Entry | None, Entry | None]:
    """Deflection, stress, bending frequency in the liquid, and the velocity that meets it."""
    if material is None or material.elastic_modulus_Pa is None:
        desk.want(desk.case.instrument.stem.metal, "how far the flow bends the stem")
        return None, None, None, None
    stated = desk.case.instrument.stem
    guided = desk.word(stated.guided, "how far the flow bends the stem") == YES
    outer, inner = desk.take(stated.outside_diameter, "mm"), desk.take(stated.inside_diameter, "mm")
    tube = {"outside_diameter_m": outer, "inside_diameter_m": inner}
    second = desk.worked("stem.second_moment", tube_second_moment_m4, tube, shown="mm4")
    modulus = _figure(
        desk, "stem.elastic_modulus", material.elastic_modulus_Pa, "Pa", "elastic modulus of the stem", "GPa"
    )
    stiffness = desk.calc(
        "stem.bending_stiffness", bending_stiffness_N_m2, elastic_modulus_Pa=modulus, second_moment_m4=second
    )
    bent = {"load_N_per_m": load, "length_m": stem.length, "bending_stiffness_N_m2": stiffness}
    deflection = desk.worked("stem.deflection", guided_deflection_m if guided else tip_deflection_m, bent, shown="mm")
    strained = {"load_N_per_m": load, "length_m": stem.length, "second_moment_m4": second, "outside_diameter_m": outer}
    stress = desk.worked("stem.stress", guided_stress_Pa if guided else root_stress_Pa, strained, shown="MPa")
    _strong_enough(desk, material, stress)
    return deflection, stress, *_shedding(desk, stem, material, tube, stiffness, guided)


def _strong_enough(desk: Desk, material: FloatMaterial, stress: Entry) -> None:
    if material.yield_Pa is None:
        return
    factor = desk.sheet.give(
        "stem.safety", STRENGTH_SHARE, "", "factor of safety on yield", state="constant", source="common-practice"
    )
    strength = _figure(desk, "stem.yield_strength", material.yield_Pa, "Pa", "yield strength of the stem", "MPa")
    allowed = desk.calc(
        "stem.stress_allowed",
        allowed_stress_Pa,
        shown="MPa",
        yield_Pa=strength,
        safety=factor,
    )
    margin = desk.calc("stem.stress_margin", stress_margin_Pa, shown="MPa", allowed_Pa=allowed, acting_Pa=stress)
    words = "the stem bears the flow", "The flow strains the stem beyond what it is allowed"
    desk.compare("stem-stress", words, stress, "at most", allowed, margin)


def _shedding(
    desk: Desk,
    stem: StemChapter,
    material: FloatMaterial,
    tube: dict[str, Entry],
    stiffness: Entry,
    guided: bool,
) -> tuple[Entry | None, Entry | None]:
    """The bending frequency in the liquid; a velocity near the one that meets it makes the stem swing."""
    rules, density = mechanics_rules(), material.density_kg_per_m3
    if density is None:
        return None, None
    moving = {
        "metal_density_kg_per_m3": _figure(desk, "stem.density", density, "kg_per_m3", "density of the stem"),
        "liquid_density_kg_per_m3": _heaviest(desk, stem),
        **tube,
    }
    mass = desk.worked("stem.line_mass", line_mass_in_liquid_kg_per_m, moving)
    inputs = {"length_m": stem.length, "bending_stiffness_N_m2": stiffness, "line_mass_kg_per_m": mass}
    function = guided_bending_frequency_Hz if guided else bending_frequency_Hz
    frequency = desk.worked("stem.bending_frequency", function, inputs)
    critical = desk.calc(
        "stem.resonance_velocity",
        resonance_velocity_m_per_s,
        frequency_Hz=frequency,
        diameter_m=tube["outside_diameter_m"],
        strouhal=_figure(desk, "stem.strouhal", rules.strouhal, "", "Strouhal number of a tube"),
    )
    share = desk.calc(
        "stem.velocity_share",
        velocity_share,
        velocity_m_per_s=desk.take(desk.case.medium.velocity_at_stem),
        resonance_velocity_m_per_s=critical,
    )
    _off_resonance(desk, share)
    return frequency, critical


def _off_resonance(desk: Desk, share: Entry) -> None:
    """Eddies that beat in time with the stem make it swing: kept apart from below, or from above."""
    rules = mechanics_rules()
    low = _figure(desk, "stem.resonance_low", rules.resonance_low, "", "share of the velocity kept below")
    words = (
        "the flow is slow enough not to make the stem swing",
        "The flow makes the stem swing: guide it, or set it in a still pipe",
    )
    desk.compare_apart("stem-swing", words, share, "at most", low, "stem.resonance_margin", by=SHARES)
