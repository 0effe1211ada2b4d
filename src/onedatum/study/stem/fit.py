"""Does it go together and in: the float on the stem and through the nozzle, the stem beneath the roof, the reserve."""

from __future__ import annotations

from onedatum.case.model.instrument import FLEXIBLE
from onedatum.foundation.working import Entry
from onedatum.physics.floats import density_ratio
from onedatum.physics.mechanics import insertion_headroom_m, mechanics_rules
from onedatum.study.apart import SHARES
from onedatum.study.desk import Desk
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.stem.float import Float

HEADROOM = "the stem can be lifted in above the nozzle", "The stem cannot be lifted in above the nozzle"
RESERVE = "the float keeps its usual reserve", "The float has little reserve before it sinks"
FLOATS = "the float floats with some reserve", "The float is about to sink"
USUAL_RATIO, LARGEST_RATIO = 0.85, 0.95


def gas_above(desk: Desk) -> Entry:
    """Density of what stands above the liquid."""
    return desk.take(desk.case.medium.gas_above.density)


def fits(desk: Desk, length: Entry, float_: Float, states: StatesChapter) -> None:
    """Does it go together and in: the float on the stem and through the nozzle, the stem beneath the roof."""
    float_fits(desk, float_)
    room = desk.take(desk.case.nozzle.headroom_above_face, "m")
    need = _headroom(desk, length)
    desk.compare_apart(
        "headroom", HEADROOM, need, "at most", room, "stem.headroom_margin", "clear height beyond what the stem needs"
    )
    reserve(desk, float_, (*states.fitted, *states.stand_ins) or (states.now,))


def float_fits(desk: Desk, float_: Float) -> None:
    """A float on the stem and through the nozzle; one that passes only just is fitted from inside."""
    called, key, name = float_.called, float_.name.replace("_", "-"), float_.name
    stem = desk.take(desk.case.instrument.stem.outside_diameter, "mm")
    words = f"the {called} travels on the stem", f"The {called} does not go on the stem"
    bore = desk.take(float_.stated.bore, "mm")
    clearance = f"{name}.stem_clearance"
    desk.compare_apart(f"{key}-on-stem", words, stem, "at most", bore, clearance, "bore of the float less the stem")
    outside, opening = desk.take(float_.stated.outside_diameter, "mm"), desk.take(desk.case.nozzle.bore, "mm")
    words = f"the {called} passes the nozzle", f"The {called} does not pass the nozzle"
    gap = f"{name}.nozzle_gap"
    desk.compare_apart(f"{key}-in-nozzle", words, outside, "at most", opening, gap, "nozzle bore less the float")
    _usual_gap(desk, float_, desk.sheet[gap])


def _usual_gap(desk: Desk, float_: Float, gap: Entry) -> None:
    rule, name = mechanics_rules().nozzle_gap_m, "nozzle.usual_gap"
    meaning = "gap usually kept between nozzle and float"
    usual = desk.constant(name, rule.value, "m", meaning, shown="mm", source=rule.source)
    words = (
        f"the {float_.called} passes the nozzle with the usual gap",
        f"The {float_.called} passes the nozzle only just: fit it from inside, after the stem",
    )
    margin, key = f"{float_.name}.nozzle_gap_margin", f"{float_.name.replace('_', '-')}-gap"
    desk.compare_apart(key, words, gap, "at least", usual, margin, "gap beyond the usual one", remark=True)


def _headroom(desk: Desk, length: Entry) -> Entry:
    """Clear height that a rigid stem needs: its length and room for hands; a flexible one is bent in."""
    if desk.case.instrument.principle.word == FLEXIBLE:
        return desk.take(desk.case.instrument.build.bend_radius, "mm")
    handling = mechanics_rules().handling_m
    return desk.calc(
        "stem.headroom",
        insertion_headroom_m,
        shown="mm",
        length_m=length,
        handling_m=desk.sheet.give(
            "stem.handling",
            handling.value,
            "m",
            "room for handling over the length of the stem",
            state="constant",
            shown="mm",
            source=handling.source,
        ),
    )


def reserve(desk: Desk, float_: Float, fitted: tuple[Condition, ...], as_hot: tuple[Condition, ...] = ()) -> None:
    """How near the float is to sinking, state by state; its usual reserve is looked at in the lightest liquid.

    `as_hot`: the vessels of floats in a chamber, whose liquid is the lightest that the chamber can come to hold.
    """
    every = [(each, "", f"in the state {each.name}") for each in fitted]
    every += [(each, "_as_hot", f"in the state {each.name} with the chamber as hot as the vessel") for each in as_hot]
    desk.sheet.select(
        "medium.density_least",
        "least",
        "lightest liquid in which the instrument is fitted",
        [each.density for each, _, _ in every],
    )
    ratios = [_ratio(desk, float_, each, called) for each, called, _ in every]
    most = _limit(desk, "float-floats", LARGEST_RATIO)
    for (condition, called, where), ratio in zip(every, ratios, strict=True):
        words = f"{FLOATS[0]} {where}", f"{FLOATS[1]} {where}"
        key, name = (f"float-floats{called}{part}[{condition.name}]" for part in ("", ".margin"))
        desk.compare_apart(key, words, ratio, "at most", most, name, by=SHARES)
    worst = desk.sheet.select(
        "float.density_ratio", "greatest", "share of the float that the lightest liquid must carry", ratios
    )
    usual = _limit(desk, "float-reserve", USUAL_RATIO)
    desk.compare_apart(
        "float-reserve", RESERVE, worst, "at most", usual, "float-reserve.margin", by=SHARES, remark=True
    )


def _ratio(desk: Desk, float_: Float, condition: Condition, called: str) -> Entry:
    return desk.calc(
        f"float.density_ratio{called}[{condition.name}]",
        density_ratio,
        meaning=f"share of the float that the liquid must carry, {condition.name}",
        float_density_kg_per_m3=float_.heaviest_density,
        liquid_density_kg_per_m3=condition.density,
        gas_density_kg_per_m3=condition.gas,
    )


def _limit(desk: Desk, key: str, figure: float) -> Entry:
    return desk.sheet.give(
        f"{key}.limit",
        figure,
        "",
        "largest ratio of float to liquid density",
        state="constant",
        source="common-practice",
    )
