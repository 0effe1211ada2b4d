"""What moves a float beside the level: density, friction, deposit, soaking, wetting, drag; state by state."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    deeper_m,
    displaced_volume_m3,
    gap_drag_N_s_per_m,
    gap_m,
    half_height_m,
    immersion_per_density_m4_per_kg,
    lifted_mass_kg,
    loaded_mass_kg,
    meniscus_shift_m,
    settling_time_s,
    soaked_mass_kg,
    stiffness_N_per_m,
    with_deposit_kg,
)
from onedatum.study.desk import Desk
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.float import Float
from onedatum.study.stem.riding import Riding


@dataclass(frozen=True)
class Response:
    """How the float answers in one state; None where nothing of it is stated."""

    riding: Riding
    waterplane: Entry
    displaced: Entry
    per_density: Entry
    """Change of immersion per density of the liquid."""
    stiffness: Entry
    band: Entry | None
    """Between rising and falling, by the friction stated."""
    by_deposit: Entry | None
    by_soaking: Entry | None
    by_wetting: Entry | None
    settling: Entry | None


def responses(desk: Desk, stem: StemChapter) -> tuple[Response, ...]:
    """How the float answers in every state in which the instrument measures."""
    return tuple(_response(desk, stem.float_, riding) for riding in stem.ridings)


def displaced_of(desk: Desk, float_: Float, state: str, below: Entry, above: Entry) -> Entry:
    """Volume below the surface, whatever the form."""
    return desk.calc(
        f"{float_.name}.displaced_volume[{state}]",
        displaced_volume_m3,
        shown="cm3",
        meaning=f"volume of the {float_.called} below the surface, {state}",
        mass_kg=float_.mass,
        volume_m3=float_.volume,
        liquid_density_kg_per_m3=below,
        gas_density_kg_per_m3=above,
    )


def stiffness_of(desk: Desk, float_: Float, state: str, below: Entry, above: Entry, waterplane: Entry) -> Entry:
    """Force that immerses the float deeper, per depth."""
    return desk.calc(
        f"{float_.name}.stiffness[{state}]",
        stiffness_N_per_m,
        meaning=f"force per depth of immersion of the {float_.called}, {state}",
        liquid_density_kg_per_m3=below,
        gas_density_kg_per_m3=above,
        waterplane_m2=waterplane,
        gravity_m_per_s2=desk.take(desk.case.site.g),
    )


def _response(desk: Desk, float_: Float, riding: Riding) -> Response:
    state, below, above = riding.state, riding.condition.density, riding.condition.gas
    waterplane = float_.waterplane(desk, state, riding.immersion)
    displaced = displaced_of(desk, float_, state, below, above)
    per_density = desk.calc(
        f"float.per_density[{state}]",
        immersion_per_density_m4_per_kg,
        meaning=f"change of immersion per density of the liquid, {state}",
        displaced_volume_m3=displaced,
        liquid_density_kg_per_m3=below,
        gas_density_kg_per_m3=above,
        waterplane_m2=waterplane,
    )
    stiffness = stiffness_of(desk, float_, state, below, above, waterplane)
    return Response(
        riding,
        waterplane,
        displaced,
        per_density,
        stiffness,
        band_of(desk, float_, state, below, above),
        _by_deposit(desk, float_, riding),
        _by_soaking(desk, float_, riding),
        _by_wetting(desk, float_, riding),
        _settling(desk, float_, stiffness, state),
    )


def band_of(desk: Desk, float_: Float, state: str, below: Entry, above: Entry) -> Entry | None:
    """Immersion with friction downwards less immersion with it upwards; None where no friction is stated."""
    stated = float_.stated.friction
    if not stated.known:
        return None
    force, gravity, name = desk.take(stated, "mN"), desk.take(desk.case.site.g), float_.name
    loaded = desk.once(
        f"{name}.mass_rising",
        loaded_mass_kg,
        shown="g",
        meaning="mass that counts while the level rises",
        mass_kg=float_.mass,
        load_N=force,
        gravity_m_per_s2=gravity,
    )
    lifted = desk.once(
        f"{name}.mass_falling",
        lifted_mass_kg,
        shown="g",
        meaning="mass that counts while the level falls",
        mass_kg=float_.mass,
        lift_N=force,
        gravity_m_per_s2=gravity,
    )
    rising, falling = (
        float_.rides(
            desk,
            f"{name}.immersion_{word}[{state}]",
            f"immersion of the {float_.called} while the level is {word}, {state}",
            mass,
            below,
            above,
        )
        for word, mass in (("rising", loaded), ("falling", lifted))
    )
    meaning = f"band between rising and falling of the {float_.called}, {state}"
    return _deeper(desk, f"{name}.friction_band[{state}]", meaning, rising, falling)


def _deeper(desk: Desk, name: str, meaning: str, immersion: Entry, other: Entry) -> Entry:
    return desk.calc(name, deeper_m, shown="mm", meaning=meaning, immersion_m=immersion, other_immersion_m=other)


def _heavier(desk: Desk, float_: Float, riding: Riding, word: str, mass: Entry) -> Entry:
    """How much deeper the float sits with another mass."""
    state = riding.state
    immersion = float_.rides(
        desk,
        f"float.immersion_{word}[{state}]",
        f"immersion of the float {word}, {state}",
        mass,
        riding.condition.density,
        riding.condition.gas,
    )
    meaning = f"reads low by, with the float {word}, {state}"
    return _deeper(desk, f"float.reads_low_{word}[{state}]", meaning, immersion, riding.immersion)


def _by_deposit(desk: Desk, float_: Float, riding: Riding) -> Entry | None:
    stated = float_.stated.deposit
    if not stated.known:
        return None
    mass = desk.once(
        "float.mass_fouled", with_deposit_kg, shown="g", mass_kg=float_.mass, deposit_kg=desk.take(stated, "g")
    )
    return _heavier(desk, float_, riding, "fouled", mass)


def _by_soaking(desk: Desk, float_: Float, riding: Riding) -> Entry | None:
    stated = float_.stated.soaking
    if not stated.known:
        return None
    mass = desk.once(
        "float.mass_soaked", soaked_mass_kg, shown="g", mass_kg=float_.mass, soaking_share=desk.take(stated, "%value")
    )
    return _heavier(desk, float_, riding, "soaked", mass)


def _by_wetting(desk: Desk, float_: Float, riding: Riding) -> Entry | None:
    stated = desk.case.medium.surface_tension
    if not stated.known:
        return None
    return desk.calc(
        f"float.wetting_shift[{riding.state}]",
        meniscus_shift_m,
        shown="mm",
        meaning=f"largest shift of the waterline by wetting, {riding.state}",
        surface_tension_N_per_m=desk.take(stated),
        liquid_density_kg_per_m3=riding.condition.density,
        gas_density_kg_per_m3=riding.condition.gas,
        diameter_m=desk.take(float_.stated.outside_diameter, "mm"),
        gravity_m_per_s2=desk.take(desk.case.site.g),
    )


def _settling(desk: Desk, float_: Float, stiffness: Entry, state: str) -> Entry | None:
    """Time in which the float follows a step through the film on the stem; None while no viscosity is stated."""
    stated = desk.case.medium.viscosity
    if not stated.known:
        return None
    stem = desk.take(desk.case.instrument.stem.outside_diameter, "mm")
    gap = desk.once(
        "float.gap",
        gap_m,
        shown="mm",
        bore_m=desk.take(float_.stated.bore, "mm"),
        stem_diameter_m=stem,
    )
    drag = desk.once(
        "float.gap_drag",
        gap_drag_N_s_per_m,
        viscosity_Pa_s=desk.take(stated),
        stem_radius_m=desk.once("stem.radius", half_height_m, shown="mm", meaning="radius of the stem", height_m=stem),
        bore_length_m=float_.height,
        gap_m=gap,
    )
    return desk.calc(
        f"float.settling_time[{state}]",
        settling_time_s,
        shown="ms",
        meaning=f"time in which the float follows 95 % of a step, {state}",
        drag_N_s_per_m=drag,
        stiffness_N_per_m=stiffness,
    )
