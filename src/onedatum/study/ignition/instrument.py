"""What the instrument has against what is asked: protection levels, group, class at process and ambient temperature."""

from __future__ import annotations

from collections.abc import Callable

from onedatum.case.leaf import Value, Word
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import (
    ZoneNeeds,
    class_limit_K,
    class_serves,
    epl_serves,
    group_serves,
    harder_zone,
    temperature_left_K,
)
from onedatum.study.desk import NONE, Desk, Sense, descending
from onedatum.study.ignition.kinds import ranked
from onedatum.study.ignition.place import Needs
from onedatum.study.temperatures import fitted_temperatures

PROCESS_FITS = (
    "the liquid is no hotter than the certificate allows for the class",
    "The liquid is hotter than the certificate allows for the class",
)
SURFACE_FITS = "the liquid is cooler than the limit of the class", "The liquid alone is hotter than the class allows"
AMBIENT_HIGH = "the head is no warmer than its certificate allows", "The head gets warmer than its certificate allows"
AMBIENT_LOW = "the head is no colder than its certificate allows", "The head gets colder than its certificate allows"
WALL = "a certified wall parts the zones", "No certified wall parts the zones"
ASKED_OF = "which instrument is ordered"
GROUP = "group"


def instrument_serves(desk: Desk, needs: Needs) -> None:
    """Check the instrument by its certificate; what it does not say becomes a requirement of the order."""
    stated = desk.case.instrument.protection
    for key, where, place, zone, leaf in (
        ("inside", "the part inside", desk.case.zone.inside, needs.inside, stated.epl_inside),
        ("head", "the head", desk.case.zone.at_head, needs.at_head, stated.epl_at_head),
    ):
        if zone is None and NONE in (place.state, place.word):
            desk.skip(leaf)
        if zone is not None:
            _level(desk, f"epl-{key}", where, zone, leaf)
    _word(desk, "instrument-group", GROUP, stated.group, needs.group, group_serves, "zone.group")
    if needs.gas:
        _word(
            desk,
            "instrument-class",
            "temperature class",
            stated.temperature_class,
            needs.temperature_class,
            class_serves,
            "zone.temperature_class",
        )
    _temperatures(desk, needs)
    _wall(desk, needs)


def _level(desk: Desk, key: str, where: str, zone: ZoneNeeds, leaf: Word) -> None:
    word = desk.said(leaf, f"{ASKED_OF}: {zone.least_epl} for zone {zone.zone}")
    holds = word != NONE and epl_serves(word, zone.zone) if word else None
    words = f"{where} serves zone {zone.zone}", f"The protection level of {where} is too low for zone {zone.zone}"
    words, sense = ranked(f"{where[:1].upper()}{where[1:]}", words, word, zone.least_epl)
    desk.judge(key, words, word or "unknown", sense, zone.least_epl, holds, waits_for=(leaf.path,))


def _word(
    desk: Desk, key: str, what: str, leaf: Word, needed: str, serves: Callable[[str, str], bool], asked: str
) -> None:
    word = desk.said(leaf, f"{ASKED_OF}: {what} {needed or 'not known yet'}")
    words = f"the {what} of the instrument serves the zone", f"The {what} of the instrument is too low for the zone"
    holds = word != NONE and serves(word, needed) if word and needed else None
    waits_for = tuple(path for path, known in ((leaf.path, word), (asked, needed)) if not known)
    sense = "at least"
    if what == GROUP:
        words, sense = ranked(f"The {what} of the instrument", words, word, needed)
    desk.judge(key, words, word or "unknown", sense, needed or "unknown", holds, waits_for=waits_for)


def _temperatures(desk: Desk, needs: Needs) -> None:
    """The hottest liquid against class and certificate, the ambient against the certificate."""
    stated, zone = desk.case.instrument.protection, desk.case.zone
    fitted = fitted_temperatures(desk)
    if fitted:
        hottest = desk.sheet.select("medium.hottest", "greatest", "hottest liquid with the instrument fitted", fitted)
        most = desk.take(stated.process_temperature_max)
        _compare(desk, "process-temperature", PROCESS_FITS, hottest, "at most", most)
        if needs.inside is not None and needs.temperature_class:
            limit = desk.sheet.give(
                "zone.class_limit",
                class_limit_K(needs.temperature_class),
                "K",
                f"highest surface temperature of {needs.temperature_class}",
                state="constant",
                shown="degC",
                source="iec-60079-0: maximum surface temperature by class",
            )
            _compare(desk, "process-class", SURFACE_FITS, hottest, "at most", limit)
    ambients: tuple[tuple[str, tuple[str, str], Value, Sense, Value], ...] = (
        ("ambient-high", AMBIENT_HIGH, zone.ambient_max, "at most", stated.ambient_max),
        ("ambient-low", AMBIENT_LOW, zone.ambient_min, "at least", stated.ambient_min),
    )
    for key, words, there, sense, allowed in ambients:
        _compare(desk, key, words, desk.take(there), sense, desk.take(allowed))


def _compare(desk: Desk, key: str, words: tuple[str, str], value: Entry, sense: Sense, limit: Entry) -> None:
    upper, lower = descending(value, sense, limit)
    margin = desk.calc(
        f"zone.{key.replace('-', '_')}_margin", temperature_left_K, shown="K", upper_K=upper, lower_K=lower
    )
    desk.compare(key, words, value, sense, limit, margin, safety=True)


def _wall(desk: Desk, needs: Needs) -> None:
    """Where the zone inside asks more than the one at the head, a wall in the instrument parts them."""
    if needs.inside is None:
        desk.skip(desk.case.instrument.protection.boundary_wall)
        return
    outside = needs.at_head.zone if needs.at_head else ""
    one_kind = needs.at_head is not None and needs.at_head.kind == needs.inside.kind
    if one_kind and harder_zone(needs.inside.zone, outside) == outside:
        desk.skip(desk.case.instrument.protection.boundary_wall)
        return
    leaf = desk.case.instrument.protection.boundary_wall
    word = desk.said(leaf, f"{ASKED_OF}: a wall between zone {needs.inside.zone} and {outside or 'no zone'}")
    desk.judge(
        "boundary-wall",
        WALL,
        word or "unknown",
        "",
        "certified",
        word == "certified" if word else None,
        waits_for=(leaf.path,),
    )
