"""Numbers of stem and float as ordered: where the float rides, how it answers, whether it fits and is read."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.probe import YES
from onedatum.foundation.working import Entry
from onedatum.physics.floats import gap_m
from onedatum.physics.magnetostrictive import tilt_mean_m
from onedatum.physics.screening import (
    deflection_share,
    float_time_s,
    length_share,
    pressure_ratio,
    ramp_lag_m,
    uncorrected_m,
)
from onedatum.study.acting import TEST
from onedatum.study.apart import HEIGHTS
from onedatum.study.choosing.bench import GREATEST, LEAST, Bench, Number, given, one
from onedatum.study.choosing.levels import highest_wanted
from onedatum.study.choosing.pressures import acting_in
from onedatum.study.choosing.principle import BYPASS, MAGNETOSTRICTIVE
from onedatum.study.desk import NONE
from onedatum.study.stem import StemChapter

MOST_DEFLECTION_M = 0.010
MOST_OUT_OF_PLUMB_RAD = 0.5
"""Beyond it a stem hangs no more, and no budget is worked."""


def stem_numbers(bench: Bench) -> Iterator[Number]:
    """All of them; nothing where no float is read by a stem."""
    stem = bench.measuring.stem
    if stem is None:
        return
    holds = (BYPASS if bench.measuring.outside is not None else MAGNETOSTRICTIVE,)
    yield from _rides(bench, stem, holds)
    yield from _bears(bench, holds)
    yield from _interface(bench, holds)
    if bench.measuring.outside is None:
        for part in (_fits, _around, _lags, _budget, _bends):
            yield from part(bench, stem)


# ---------------------------------------------------------------- where it rides


def _rides(bench: Bench, stem: StemChapter, holds: tuple[str, ...]) -> Iterator[Number]:
    """How near the float is to sinking; in a chamber also with the liquid as light as in the vessel."""
    ratios = bench.by_condition("float.density_ratio")
    yield from given("float.density_ratio", (*ratios, *bench.by_condition("float.density_ratio_as_hot")), holds)
    yield from bench.share("float.immersion_share", _change_of_immersion(bench, stem), holds)
    share = bench.at_hand("choosing.float.immersion_share")
    if bench.measuring.outside is None:
        yield from given("density.error_share", one(share), holds)
    for shift in bench.by_condition("float.reads_low_fouled")[:1]:
        yield from bench.share("float.deposit_share", shift, holds, bench.state)


def _change_of_immersion(bench: Bench, stem: StemChapter) -> Entry | None:
    """Between the lightest and the heaviest liquid over all states."""
    dips = [riding.immersion for riding in stem.ridings]
    deepest = bench.end_of("float.deepest", GREATEST, "deepest immersion over the states of the liquid", dips)
    least = bench.end_of("float.shallowest", LEAST, "least immersion over the states of the liquid", dips)
    meaning = "change of the immersion over the states of the liquid"
    return bench.work("float.change", HEIGHTS.margin, "", meaning, **_pair(deepest, least))


def _pair(upper: Entry | None, lower: Entry | None) -> dict[str, Entry | None]:
    return {HEIGHTS.upper: upper, HEIGHTS.lower: lower}


def _bears(bench: Bench, holds: tuple[str, ...]) -> Iterator[Number]:
    """What the float is allowed over what acts in this state, and in the test where it stays in."""
    if bench.detail is None or not bench.detail.walls.allowed.known:
        return
    allowed, acting = bench.detail.walls.allowed, bench.detail.walls.acting
    tests = [each.pressure for each in acting if each.state.startswith(TEST)]
    acts = [("float.pressure_margin", acting_in(bench)), *(("float.test_margin", test) for test in tests[:1])]
    for name, pressure in acts:
        yield from bench.number(
            name, pressure_ratio, holds, bench.state, allowed_Pa_gauge=allowed, acting_Pa_gauge=pressure
        )


def _interface(bench: Bench, holds: tuple[str, ...]) -> Iterator[Number]:
    yield from given("float.interface_window", one(bench.at_hand("interface.window_least")), holds)
    snap, layer = bench.at_hand("interface.snap_spacing"), bench.desk.case.interface.upper_layer_least
    if layer.known and snap is not None and (snap.value or 0.0) > 0.0:
        thinnest = bench.taken(layer, "low")
        yield from bench.number("interface.layer_to_snap", length_share, holds, part_m=thinnest, whole_m=snap)
    bands = bench.by_condition("interface_float.friction_band")
    for band in bands[:1]:
        yield from bench.share("float.friction_share", band, holds, bench.state)


# ---------------------------------------------------------------- whether it fits


def _fits(bench: Bench, stem: StemChapter) -> Iterator[Number]:
    holds = (MAGNETOSTRICTIVE,)
    yield from given("stem.length", one(stem.length if stem.length.known else None), holds)
    yield from given("stem.headroom_margin", one(bench.at_hand("stem.headroom_margin")), holds)
    yield from given("nozzle.float_gap", one(bench.at_hand("float.nozzle_gap")), holds)
    highest = highest_wanted(bench)
    for each in bench.conditions:
        below = bench.at_hand(f"level.highest_by_float[{each.name}]")
        yield from bench.apart("float.nozzle_margin", HEIGHTS, below, highest, holds, each.name)
    settled = bench.answer("solids.settled_height", "high")
    if settled is None:
        return
    for riding in stem.ridings[:1]:
        meaning = "bottom of the float at its lowest"
        bottom = bench.work(
            "settled.float_bottom", HEIGHTS.margin, "", meaning, **_pair(riding.lowest, riding.immersion)
        )
        yield from bench.apart("settled.margin", HEIGHTS, bottom, settled, holds)


def _clearance(bench: Bench) -> Entry | None:
    """Between float and stem, all around."""
    if (gap := bench.at_hand("float.gap")) is not None:
        return gap
    instrument = bench.desk.case.instrument
    bore, stem = bench.taken(instrument.float_.bore), bench.taken(instrument.stem.outside_diameter)
    if bore is None or stem is None or (bore.value or 0.0) <= (stem.value or 0.0):
        return None
    return bench.work(
        "float.clearance", gap_m, "", "clearance of the float, all around", bore_m=bore, stem_diameter_m=stem
    )


def _around(bench: Bench, _: StemChapter) -> Iterator[Number]:
    """Grains and layers beside the clearance."""
    gap, holds = _clearance(bench), (MAGNETOSTRICTIVE,)
    for name, of in (
        ("float.grain_to_clearance", "solids.grain_size"),
        ("float.film_to_clearance", "deposit.thickness"),
    ):
        yield from bench.number(name, length_share, holds, part_m=bench.answer(of, "high"), whole_m=gap)


# ---------------------------------------------------------------- how it follows and how well it is read


def _lags(bench: Bench, _: StemChapter) -> Iterator[Number]:
    """Behind the fastest change, through the film on the stem."""
    holds, rate = (MAGNETOSTRICTIVE,), bench.answer("rate.level", "high")
    for stiffness in bench.by_condition("float.stiffness")[:1]:
        time = bench.work(
            "float.time",
            float_time_s,
            bench.state,
            "time constant of the float in its film",
            drag_N_s_per_m=bench.at_hand("float.gap_drag"),
            stiffness_N_per_m=stiffness,
        )
        lag = bench.work("float.lag", ramp_lag_m, bench.state, "lag of the float", time_s=time, rate_m_per_s=rate)
        yield from bench.share("float.lag_share", lag, holds, bench.state)


def _budget(bench: Bench, stem: StemChapter) -> Iterator[Number]:
    """By the uncertainty that the case states of reading and datum; usual figures make no number known."""
    case, holds = bench.desk.case, (MAGNETOSTRICTIVE,)
    installed = bench.at_hand("level.uncertainty")
    if case.level_now.uncertainty is None or case.datum_error.uncertainty is None or installed is None:
        return
    yield from bench.share("budget.corrected_share", installed, holds)
    plumb, angle = None, bench.answer("mount.angle", "high")
    if bench.detail is not None and angle is not None and (angle.value or 0.0) <= MOST_OUT_OF_PLUMB_RAD:
        plumb = bench.work(
            "budget.plumb",
            tilt_mean_m,
            "",
            "by which a stem out of plumb reads long",
            distance_m=bench.detail.wire.distance,
            tilt_max_rad=angle,
        )
    whole = bench.work(
        "budget.uncorrected",
        uncorrected_m,
        "",
        "what the installed gauge may be off by, nothing corrected",
        uncertainty_m=installed,
        immersion_m=_change_of_immersion(bench, stem),
        plumb_m=plumb,
    )
    yield from bench.share("budget.share", whole, holds)


# ---------------------------------------------------------------- what the flow does


def _bends(bench: Bench, _: StemChapter) -> Iterator[Number]:
    """As its lower end is: free, or held as well."""
    desk = bench.desk
    if desk.case.medium.velocity_at_stem.state == NONE:
        return
    kind = "guided_" if desk.case.instrument.stem.guided.word == YES else ""
    most = desk.constant(
        "choosing.most_deflection",
        MOST_DEFLECTION_M,
        "m",
        "deflection of the tip allowed in any case",
        shown="mm",
        source="common-practice",
    )
    yield from bench.number(
        f"stem.{kind}deflection_share",
        deflection_share,
        (MAGNETOSTRICTIVE,),
        deflection_m=bench.at_hand("stem.deflection"),
        most_m=most,
        clearance_m=_clearance(bench),
    )
    yield from given(f"stem.{kind}shedding_ratio", one(bench.at_hand("stem.velocity_share")), (MAGNETOSTRICTIVE,))
