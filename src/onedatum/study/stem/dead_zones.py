"""The dead zones of a stem: by their parts where those are stated, and their share of the whole."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.floats import freeboard_m
from onedatum.physics.magnetostrictive import (
    dead_share,
    dead_share_limit,
    dead_zone_high_m,
    dead_zone_low_m,
    pulse_length_m,
    ring_down_length_m,
)
from onedatum.study.apart import SHARES
from onedatum.study.desk import Desk
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.float import Float


def share_of_dead_zones(desk: Desk, stem: StemChapter, low: Entry, high: Entry) -> Entry:
    share = desk.calc(
        "stem.dead_share",
        dead_share,
        meaning="share of the stem in which nothing is measured",
        dead_zone_low_m=low,
        dead_zone_high_m=high,
        height_m=stem.length,
    )
    limit = dead_share_limit()
    most = desk.sheet.give(
        "stem.dead_share_limit",
        limit.value,
        "",
        "largest share usually accepted",
        state="constant",
        source=limit.source,
    )
    words = "both dead zones leave most of the stem to measure", "The dead zones take a large share of the stem"
    desk.compare_apart("dead-zones", words, share, "at most", most, "stem.dead_share_margin", by=SHARES, remark=True)
    return share


def dead_zone_low(desk: Desk, lowest: Float, speed: Entry, stated_zone: Entry) -> Entry | None:
    """Lower dead zone by damper, stop, float and reflection; None while no damper is stated."""
    stated = desk.case.instrument.stem
    if not stated.damper.known:
        return None
    pulse = desk.calc(
        "waveguide.pulse_length",
        pulse_length_m,
        shown="mm",
        speed_m_per_s=speed,
        pulse_duration_s=desk.take(desk.case.instrument.echo.pulse_duration, "us"),
    )
    zone = desk.calc(
        "stem.dead_zone_low",
        dead_zone_low_m,
        shown="mm",
        meaning="lower dead zone by its parts",
        damper_m=desk.take(stated.damper, "mm"),
        stop_m=desk.absent(stated.stop_low, "no stop is stated: counted as none", "mm"),
        float_below_magnet_m=lowest.magnet_plane,
        pulse_length_m=pulse,
    )
    _zone_holds(desk, "low", zone, stated_zone)
    return zone


def dead_zone_high(desk: Desk, stem: StemChapter, speed: Entry, stated_zone: Entry) -> Entry | None:
    """Upper dead zone by stop, float and drive pulse; None while the drive pulse is not stated."""
    echo = desk.case.instrument.echo
    if not (echo.ring_down_ratio.known and echo.ring_down_decay.known):
        return None
    ring_down = desk.calc(
        "waveguide.ring_down_length",
        ring_down_length_m,
        shown="mm",
        speed_m_per_s=speed,
        decay_s=desk.take(echo.ring_down_decay, "us"),
        amplitude_ratio=desk.take(echo.ring_down_ratio),
    )
    above = desk.calc(
        "float.above_magnet",
        freeboard_m,
        shown="mm",
        meaning="part of the float above its magnet plane",
        height_m=stem.float_.height,
        immersion_m=stem.float_.magnet_plane,
    )
    zone = desk.calc(
        "stem.dead_zone_high",
        dead_zone_high_m,
        shown="mm",
        meaning="upper dead zone by its parts",
        stop_m=desk.absent(desk.case.instrument.stem.stop_high, "no stop is stated: counted as none", "mm"),
        float_above_magnet_m=above,
        ring_down_m=ring_down,
    )
    _zone_holds(desk, "high", zone, stated_zone)
    return zone


def _zone_holds(desk: Desk, which: str, by_parts: Entry, stated: Entry) -> None:
    called = "lower" if which == "low" else "upper"
    words = (
        f"the {called} dead zone as stated holds its parts",
        f"The {called} dead zone as stated is less than its parts take",
    )
    desk.compare_apart(
        f"dead-zone-{which}",
        words,
        by_parts,
        "at most",
        stated,
        f"stem.dead_zone_{which}_margin",
        f"{called} dead zone as stated less what its parts take",
    )
